"""Session files, written down safely before anyone says they are kept.

Where a thing is: what a file looks like in `layout`, what it says and how far it can be trusted in `stored`, whether it
is exactly as written in `check`; the order of the calls that make it last in `disk`, the one file that is written in
`place`, who else may be writing it in `lock` and `holder`; a session under way in `session_file`, one that another
program writes in `following`, one looked back at in `past`; the folder of all of them in `library`, its list in
`summary` and `index`; what else is remembered beside the sessions in `beside`.
"""

from cornerwalk.store.cache import looks_of, remember, remembered
from cornerwalk.store.disk import Disk
from cornerwalk.store.errors import (
    ChangedElsewhere,
    Closed,
    Damage,
    Damaged,
    DiskProblem,
    Locked,
    Missing,
    NewerVersion,
    NotAFile,
    NotASession,
    NothingReadable,
    NotUnderstood,
    Protected,
    ReadOnly,
    StoreError,
    TakenOver,
    TooLarge,
    Unwritable,
)
from cornerwalk.store.library import Library
from cornerwalk.store.loader import StoredSession, read_session
from cornerwalk.store.lock_owner import LockInfo, standing, this_program
from cornerwalk.store.names import temporary_path, writer_of
from cornerwalk.store.safe_read import Signature
from cornerwalk.store.session_file import Kept, NotOnDisk, SessionFile
from cornerwalk.store.summary import Summary, moment

__all__ = [
    "ChangedElsewhere",
    "Closed",
    "Damage",
    "Damaged",
    "Disk",
    "DiskProblem",
    "Kept",
    "Library",
    "LockInfo",
    "Locked",
    "Missing",
    "NewerVersion",
    "NotAFile",
    "NotASession",
    "NotOnDisk",
    "NotUnderstood",
    "NothingReadable",
    "Protected",
    "ReadOnly",
    "SessionFile",
    "Signature",
    "StoreError",
    "StoredSession",
    "Summary",
    "TakenOver",
    "TooLarge",
    "Unwritable",
    "looks_of",
    "moment",
    "read_session",
    "remember",
    "remembered",
    "standing",
    "temporary_path",
    "this_program",
    "writer_of",
]
