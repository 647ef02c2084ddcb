"""Everything that can go wrong with a session file, one exception for each.

    StoreError
    ├── MissingFileError            there is no such file
    ├── NotAFileError           a folder, a link, a device or a pipe stands there
    ├── TooLargeError           more than any job can be
    ├── NotASessionError        a file of some other kind
    ├── NewerVersionError       written by a later version of the program
    ├── UnknownContentError      intact, but it says what this version does not know
    ├── DamagedFileError            changed or cut short since it was written; `damage` holds what can still be read
    ├── UnrecoverableFileError    so damaged that there is nothing to go on from
    ├── SessionLockedError             another program has it open
    ├── WriteProtectedError          its owner marked it as not to be changed
    ├── InvalidEventError         what was to be recorded cannot be written down
    ├── ReadOnlySessionError           it was opened to be followed, not to be written
    ├── ClosedSessionError             it was closed
    └── DiskError        the disk did not do what was asked; `reason` and `errno` say why
        ├── LockLostError      another program took the file over while this one had it
        └── FileConflictError   somebody wrote the file while this program had it

Each keeps an English template with {named} `fields`; whoever shows it words it.
"""

from __future__ import annotations

import errno
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Literal, LiteralString

if TYPE_CHECKING:
    from cornerwalk.session import RecordedEvent, Session
    from cornerwalk.store.lock_owner import LockOwner, OwnerStatus

LONGEST_FIELD = 200
"""Characters of a foreign text that a message repeats; the rest could be a gigabyte."""


class StoreError(Exception):
    """A session could not be read or written; `template` is English with {named} `fields`."""

    def __init__(self, template: LiteralString, **fields: object) -> None:
        super().__init__(template, fields)
        self.template = template
        self.fields = {name: _short(value) for name, value in fields.items()}

    def __str__(self) -> str:
        """The English text."""
        return self.template.format(**self.fields)


def _short(value: object) -> object:
    if isinstance(value, str) and len(value) > LONGEST_FIELD:
        return value[: LONGEST_FIELD - 1] + "…"
    return value


class MissingFileError(StoreError):
    """There is no file of that name."""


class NotAFileError(StoreError):
    """Something stands there that is no regular file; nothing was read from it."""


class TooLargeError(StoreError):
    """The file, or what it would become, is larger than any job."""


class NotASessionError(StoreError):
    """The file holds something else."""


class NewerVersionError(StoreError):
    """The file was written by a later version, which this one would not do justice to."""

    def __init__(self, version: int) -> None:
        super().__init__(
            template="this file is of version {version}; this program reads versions up to {known}. Nothing was "
            "changed: open it with a newer cornerwalk.",
            version=version,
            known=_known_version(),
        )
        self.version = version


def _known_version() -> int:
    from cornerwalk.session.log import VERSION

    return VERSION


class UnknownContentError(StoreError):
    """The chain is intact, so the file is as it was written; but it says what this version does not know."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Damage:
    """A file that is not as it was written: what is wrong first, and what stands before it and verifies.

    Attributes:
        path: the file, which was left as it is.
        template, fields: what is wrong.
        events, session: what verifies up to there. Their chain is intact: a new file can go on from them.
        lost: events, or lines, from the damage on.
        set_aside: the untouched copy in the library, once one was made.
        lines: the events as they stand in a file.
    """

    path: Path
    template: LiteralString
    fields: Mapping[str, object]
    events: tuple[RecordedEvent, ...]
    session: Session
    lost: int
    quarantine_path: Path | None = None
    lines: tuple[str, ...] = field(repr=False)


class DamagedFileError(StoreError):
    """The file is not as it was written. It was left where it is, and copied aside if that was possible."""

    def __init__(self, damage: Damage) -> None:
        super().__init__(damage.template, **damage.fields)
        self.damage = damage


class UnrecoverableFileError(StoreError):
    """Of a damaged file not even the first event can be read, so there is nothing to go on from."""


class SessionLockedError(StoreError):
    """Another program has the session open; `by` says who, `standing` what is known of that program.

    Where `breakable` is true, `Library.open(path, break_stale=error.owner)` takes the session over. Ask first: on
    another machine the other program may be alive and its readings not yet here.
    """

    def __init__(self, by: LockOwner, standing: OwnerStatus) -> None:
        templates: dict[OwnerStatus, LiteralString] = {
            "alive": "it is open in another program here, since {since} ({by}, process {pid})",
            "elsewhere": "it is open on {host}, since {since} ({by}); nobody here can tell whether that machine is "
            "still at it",
            "gone": "another program holds it",
            "unknown": "another program holds it",
        }
        super().__init__(templates[standing], by=by.by, host=by.host, pid=by.pid, since=by.since)
        self.owner = by
        self.status = standing
        self.breakable = standing == "elsewhere"


class WriteProtectedError(StoreError):
    """The file's permissions say that nobody may write it."""


class InvalidEventError(StoreError):
    """An event holds what no session file can: half a character, or a number that is none. Nothing was recorded."""


class ReadOnlySessionError(StoreError):
    """The session was opened to be followed."""


class ClosedSessionError(StoreError):
    """The session was closed."""


DiskErrorReason = Literal["full", "read-only", "not allowed", "gone", "too many", "failing", "taken over", "changed"]

_REASONS: dict[int | None, DiskErrorReason] = {
    errno.ENOSPC: "full",
    errno.EDQUOT: "full",
    errno.EFBIG: "full",
    errno.EROFS: "read-only",
    errno.EACCES: "not allowed",
    errno.EPERM: "not allowed",
    errno.ENOENT: "gone",
    errno.ENOTDIR: "gone",
    errno.ENODEV: "gone",
    errno.ENXIO: "gone",
    errno.ESTALE: "gone",
    errno.EMFILE: "too many",
    errno.ENFILE: "too many",
}

_TEMPLATES: dict[DiskErrorReason, LiteralString] = {
    "full": "the disk is full, or the share of it that you may use",
    "read-only": "the disk can only be read",
    "not allowed": "this account has no right to that file or folder",
    "gone": "the folder is gone: unplugged, or moved",
    "too many": "too many files are open on this machine",
    "failing": "the disk answers with an error ({detail})",
}


class DiskError(StoreError):
    """The disk did not do what was asked; `errno` is the system's number for it, where there is one."""

    def __init__(
        self,
        reason: DiskErrorReason,
        number: int | None = None,
        *,
        template: LiteralString | None = None,
        **fields: object,
    ) -> None:
        super().__init__(template or _TEMPLATES[reason], **fields)
        self.reason: DiskErrorReason = reason
        self.errno = number

    @classmethod
    def of(cls, error: OSError) -> DiskError:
        """The problem behind an error of the system."""
        reason = _REASONS.get(error.errno, "failing")
        return DiskError(reason, error.errno, detail=error.strerror or str(error))


class LockLostError(DiskError):
    """Another program took the session over with its user's consent, perhaps while this machine slept."""

    def __init__(self, by: LockOwner) -> None:
        super().__init__(
            "taken over",
            template="{by} on {host} took this session over at {since}; the readings held here go into a file of "
            "their own if you choose a folder",
            by=by.by,
            host=by.host,
            since=by.since,
        )
        self.owner = by


class FileConflictError(DiskError):
    """The file holds what this program did not write. It was left as it is."""

    def __init__(self) -> None:
        super().__init__(
            "changed",
            template="the file was changed by something else while it was open here, and was left as it is; the "
            "readings held here go into a file of their own if you choose a folder",
        )
