"""Session files, written down safely before anyone says they are kept.

Where a thing is: what a file looks like in `layout`, what it says and how far it can be trusted in `stored`, whether it
is exactly as written in `check`; the order of the calls that make it last in `disk`, the one file that is written in
`place`, who else may be writing it in `lock` and `holder`; a session under way in `session_file`, one that another
program writes in `following`, one looked back at in `past`; the folder of all of them in `library`, its list in
`summary` and `index`; what else is remembered beside the sessions in `beside`.
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
