"""File names: safe on every system, always inside the right folder, and readable in a list.

- `2026-05-04-box-trailer-1a2b3c4d.json`: a session
- `.2026-05-04-box-trailer-1a2b3c4d.json.lock` and `.holder`: its lock, and the owner of the lock
- `.5e6f….4711-….part`: a file that process 4711 is writing
- `.index.json`: the index; can be deleted
- `set-aside/`: the quarantine of damaged files, each with a note
"""

from __future__ import annotations

import hashlib
import os
import re
import unicodedata
from pathlib import Path

from cornerwalk.store.lock_owner import ProgramId

SUFFIX = ".json"
INDEX = ".index.json"
QUARANTINE = "set-aside"

_LONGEST_SLUG = 40
_ID_SHOWN = 8
_NOT_IN_NAMES = re.compile(r"[^a-z0-9]+")
_OUR_NAME = re.compile(r"\d{4}-\d{2}-\d{2}-[a-z0-9-]+\.json")
_LOCKS = re.compile(r"\.(?P<session>.+\.json)\.(lock|holder)")
_PART = re.compile(
    r"\.[0-9a-f]{8}\.(?P<pid>\d{1,10})-(?P<machine>[0-9a-f]{16})-(?P<started>[0-9a-f]{0,16})-[0-9a-f]{8}\.part"
)


def session_name(*, opened_at: str, title: str, session: str) -> str:
    """The file name of a new session, without the suffix: its date, its title in plain letters, part of its id.

    The date in front avoids the names that Windows reserves, and keeps lists of files in order.

    >>> session_name(opened_at="2026-05-04T08:12:31-06:00", title="Box trailer, Tuesday", session="1a2b3c4d-…")
    '2026-05-04-box-trailer-tuesday-1a2b3c4d'
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    slug = _NOT_IN_NAMES.sub("-", plain)[:_LONGEST_SLUG].strip("-") or "job"
    short = _NOT_IN_NAMES.sub("", session.lower())[:_ID_SHOWN] or "0"
    return f"{opened_at[:10]}-{slug}-{short}"


def free_path(folder: Path, stem: str) -> Path:
    """A free path in `folder`: the stem as it is, or with a number."""
    path = folder / f"{stem}{SUFFIX}"
    number = 2
    while os.path.lexists(path):
        path = folder / f"{stem}-{number}{SUFFIX}"
        number += 1
    return path


def is_session_name(name: str) -> bool:
    """Whether a file may be a session by its name: not hidden, and with the right suffix."""
    return name.endswith(SUFFIX) and not name.startswith(".")


def is_our_name(name: str) -> bool:
    """Whether this program names a session like this."""
    return _OUR_NAME.fullmatch(name) is not None


def lock_path(path: Path) -> Path:
    """The file that carries the system's lock of a session."""
    return path.with_name(f".{path.name}.lock")


def owner_path(path: Path) -> Path:
    """The file that names the owner of the lock."""
    return path.with_name(f".{path.name}.holder")


def session_of_lock(path: Path) -> Path | None:
    """The session of a lock file or an owner's file; None for any other file."""
    match = _LOCKS.fullmatch(path.name)
    return path.with_name(match["session"]) if match else None


def temporary_path(path: Path, here: ProgramId) -> Path:
    """A new name beside `path`, from which a later start can tell whether its writer still runs."""
    mark = hashlib.sha256(path.name.encode("utf-8", "surrogateescape")).hexdigest()[:8]
    return path.with_name(f".{mark}.{here.pid}-{here.machine}-{here.started}-{os.urandom(4).hex()}.part")


def writer_of(name: str) -> ProgramId | None:
    """The program that writes this temporary file; None for any other file."""
    match = _PART.fullmatch(name)
    if match is None:
        return None
    return ProgramId(machine=match["machine"], host="", pid=int(match["pid"]), started=match["started"])
