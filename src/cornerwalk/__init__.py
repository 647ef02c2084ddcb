"""cornerwalk: walk round a vehicle, read its corner heights, and know at once what they mean."""

__version__ = "0.1.0"
