"""Session files, written down safely before anyone says they are kept."""
