"""The parts screens are put together from; one file, one widget."""
