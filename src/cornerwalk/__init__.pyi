# ruff: noqa: A004 - `cornerwalk.open` opens a session
from cornerwalk.api import Job, JobLibrary, judge, library, open, read_tables

__version__: str
__all__ = ["Job", "JobLibrary", "__version__", "judge", "library", "open", "read_tables"]
