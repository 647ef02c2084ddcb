"""Store: session files, on the disk before anyone is told that they are saved.

`library` is the folder of sessions, `session_file` an open one, `read_only` one that this program only reads. `format`
is the layout of a file, `loader` reads one, `check` verifies one. `locked_file` writes it, with `disk` for durability
and `lock` against other programs. `summary` and `cache` make the list fast; `quarantine` and `cleanup` look after what
was damaged or left behind.
"""

from cornerwalk.store.cache import file_signature, read_cache, write_cache
from cornerwalk.store.disk import Disk
from cornerwalk.store.errors import (
    ClosedSessionError,
    Damage,
    DamagedFileError,
    DiskError,
    FileConflictError,
    InvalidEventError,
    LockLostError,
    MissingFileError,
    NewerVersionError,
    NotAFileError,
    NotASessionError,
    ReadOnlySessionError,
    SessionLockedError,
    StoreError,
    TooLargeError,
    UnknownContentError,
    UnrecoverableFileError,
    WriteProtectedError,
)
from cornerwalk.store.library import Library
from cornerwalk.store.loader import StoredSession, read_session
from cornerwalk.store.lock_owner import LockOwner, owner_status, this_program
from cornerwalk.store.names import temporary_path, writer_of
from cornerwalk.store.safe_read import Signature
from cornerwalk.store.session_file import SavedState, SessionFile, UnsavedState
from cornerwalk.store.summary import Summary, parse_time

__all__ = [
    "ClosedSessionError",
    "Damage",
    "DamagedFileError",
    "Disk",
    "DiskError",
    "FileConflictError",
    "InvalidEventError",
    "Library",
    "LockLostError",
    "LockOwner",
    "MissingFileError",
    "NewerVersionError",
    "NotAFileError",
    "NotASessionError",
    "ReadOnlySessionError",
    "SavedState",
    "SessionFile",
    "SessionLockedError",
    "Signature",
    "StoreError",
    "StoredSession",
    "Summary",
    "TooLargeError",
    "UnknownContentError",
    "UnrecoverableFileError",
    "UnsavedState",
    "WriteProtectedError",
    "file_signature",
    "owner_status",
    "parse_time",
    "read_cache",
    "read_session",
    "temporary_path",
    "this_program",
    "write_cache",
    "writer_of",
]
