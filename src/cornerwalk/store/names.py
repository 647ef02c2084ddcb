"""What files are called: safe on every system, never outside the folder they belong in, and readable in a list.

- `2026-05-04-box-trailer-1a2b3c4d.json`: a session
- `.2026-05-04-box-trailer-1a2b3c4d.json.lock` and `.holder`: it is open somewhere; by whom
- `.5e6f….4711-….part`: a file being written by process 4711
- `.index.json`: what the list shows; can be thrown away
- `set-aside/`: damaged files, untouched, each with a note of why
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
    """The file name of a new session, without its ending: its date, its title in plain letters, part of its id.

    The date in front keeps it clear of the names Windows reserves, and lists of files in order.

    >>> session_name(opened_at="2026-05-04T08:12:31-06:00", title="Box trailer, Tuesday", session="1a2b3c4d-…")
    '2026-05-04-box-trailer-tuesday-1a2b3c4d'
    """
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    slug = _NOT_IN_NAMES.sub("-", plain)[:_LONGEST_SLUG].strip("-") or "job"
    short = _NOT_IN_NAMES.sub("", session.lower())[:_ID_SHOWN] or "0"
    return f"{opened_at[:10]}-{slug}-{short}"


def free_path(folder: Path, stem: str) -> Path:
    """A path in `folder` at which nothing stands: the stem as it is, or numbered."""
    path = folder / f"{stem}{SUFFIX}"
    number = 2
    while os.path.lexists(path):
        path = folder / f"{stem}-{number}{SUFFIX}"
        number += 1
    return path


def is_session_name(name: str) -> bool:
    """Whether a file may be a session by its name: hidden files and other endings are not."""
    return name.endswith(SUFFIX) and not name.startswith(".")


def is_our_name(name: str) -> bool:
    """Whether this program would call a session so."""
    return _OUR_NAME.fullmatch(name) is not None


def lock_path(path: Path) -> Path:
    """The file whose lock says that a session is open."""
    return path.with_name(f".{path.name}.lock")


def owner_path(path: Path) -> Path:
    """The file that says by whom."""
    return path.with_name(f".{path.name}.holder")


def session_of_lock(path: Path) -> Path | None:
    """The session of such a file, or of its lock; None for a file of any other name."""
    match = _LOCKS.fullmatch(path.name)
    return path.with_name(match["session"]) if match else None


def temporary_path(path: Path, here: ProgramId) -> Path:
    """A new name beside `path`, from which a later start can tell whether its writer is still at it."""
    mark = hashlib.sha256(path.name.encode("utf-8", "surrogateescape")).hexdigest()[:8]
    return path.with_name(f".{mark}.{here.pid}-{here.machine}-{here.started}-{os.urandom(4).hex()}.part")


def writer_of(name: str) -> ProgramId | None:
    """Who writes a temporary file of ours; None for a file of any other name."""
    match = _PART.fullmatch(name)
    if match is None:
        return None
    return ProgramId(machine=match["machine"], host="", pid=int(match["pid"]), started=match["started"])
