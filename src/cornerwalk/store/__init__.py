"""Session files, written down safely before anyone says they are kept."""

from cornerwalk.store.check import CheckFinding, FileCheck, check_file
from cornerwalk.store.disk import Disk
from cornerwalk.store.errors import (
    ChangedElsewhere,
    Closed,
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
from cornerwalk.store.holder import LockInfo
from cornerwalk.store.library import Library
from cornerwalk.store.session_file import Kept, NotOnDisk, SessionFile
from cornerwalk.store.stored import Damage, StoredSession
from cornerwalk.store.summary import Summary

__all__ = [
    "ChangedElsewhere",
    "CheckFinding",
    "Closed",
    "Damage",
    "Damaged",
    "Disk",
    "DiskProblem",
    "FileCheck",
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
    "StoreError",
    "StoredSession",
    "Summary",
    "TakenOver",
    "TooLarge",
    "Unwritable",
    "check_file",
]
