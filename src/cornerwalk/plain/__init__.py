"""The walk line by line, for a serial console or a screen reader."""
