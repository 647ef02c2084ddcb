"""Store errors: everything that can go wrong with a session file, one exception each.

    StoreError
    ├── MissingFileError            there is no such file
    ├── NotAFileError               it is a folder, a link, a device or a pipe
    ├── TooLargeError               larger than any job
    ├── NotASessionError            a file of some other kind
    ├── NewerVersionError           written by a later version of the program
    ├── UnknownContentError         intact, but with content that this version does not know
    ├── DamagedFileError            changed or cut short since it was written; `damage` holds what can still be read
    ├── UnrecoverableFileError      so damaged that there is nothing to continue from
    ├── SessionLockedError          another program has it open
    ├── WriteProtectedError         its permissions allow no writing
    ├── InvalidEventError           an event cannot be stored
    ├── ReadOnlySessionError        it was opened read only
    ├── ClosedSessionError          it was closed
    └── DiskError                   the disk failed; `reason` and `errno` say how
        ├── LockLostError           another program took it over
        └── FileConflictError       something else changed the file

Each has an English template with {named} `fields`, translated where it is shown.
"""

from __future__ import annotations

import errno
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal, LiteralString

from cornerwalk.session.log import VERSION, RecordedEvent
from cornerwalk.session.model import Session
from cornerwalk.store.lock_owner import LockOwner, OwnerStatus

LONGEST_FIELD = 200
"""Characters of a foreign text that a message repeats."""


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
    """There is something that is not a regular file; nothing was read from it."""


class TooLargeError(StoreError):
    """The file is larger than any job, or would become so."""


class NotASessionError(StoreError):
    """The file is not a session."""


class NewerVersionError(StoreError):
    """The file was written by a later version of the program."""

    def __init__(self, version: int) -> None:
        super().__init__(
            template="this file is of version {version}; this program reads versions up to {known}. Nothing was "
            "changed: open it with a newer cornerwalk.",
            version=version,
            known=VERSION,
        )
        self.version = version


class UnknownContentError(StoreError):
    """The chain is intact, so the file is as it was written, but it holds something that this version does not know."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Damage:
    """The damage of a file: the first thing that is wrong, and the events before it.

    Attributes:
        path: the file, which was left as it is.
        template, fields: what is wrong.
        events, session: up to the damage. Their chain is intact: a new file can continue from them.
        lost: how many events, or lines, from the damage on.
        chain_broken: whether it is an event that does not follow from the one before it.
        quarantine_path: the untouched copy in the library, None if there is none.
        lines: the events as lines of a file.
    """

    path: Path
    template: LiteralString
    fields: Mapping[str, object]
    events: tuple[RecordedEvent, ...]
    session: Session
    lost: int
    chain_broken: bool
    quarantine_path: Path | None = None
    lines: tuple[str, ...] = field(repr=False)


class DamagedFileError(StoreError):
    """The file is not as it was written. It was left as it is; a copy is in quarantine if the disk allowed it."""

    def __init__(self, damage: Damage) -> None:
        super().__init__(damage.template, **damage.fields)
        self.damage = damage


class UnrecoverableFileError(StoreError):
    """Not even the first event of a damaged file can be read, so there is nothing to continue from."""


class SessionLockedError(StoreError):
    """Another program has the session open: `owner` says who, `status` whether that program still runs.

    If `breakable` is true, `Library.open(path, break_stale=error.owner)` takes the session over. Ask the user first:
    on another machine the other program may be running, and its readings may not be here yet.
    """

    def __init__(self, owner: LockOwner, status: OwnerStatus) -> None:
        templates: dict[OwnerStatus, LiteralString] = {
            "alive": "it is open in another program here, since {since} ({by}, process {pid})",
            "elsewhere": "it is open on {host}, since {since} ({by}); nobody here can tell whether that machine is "
            "still at it",
            "gone": "another program holds it",
            "unknown": "another program holds it",
        }
        super().__init__(templates[status], by=owner.by, host=owner.host, pid=owner.pid, since=owner.since)
        self.owner = owner
        self.status = status
        self.breakable = status == "elsewhere"


class WriteProtectedError(StoreError):
    """The file's permissions allow no one to write it."""


class InvalidEventError(StoreError):
    """An event cannot be stored: a lone surrogate, or a number that is not finite. Nothing was recorded."""


class ReadOnlySessionError(StoreError):
    """The session was opened read only."""


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
    """The disk failed; `errno` is the system's error number, if there is one."""

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
        """The error for a system error."""
        reason = _REASONS.get(error.errno, "failing")
        return DiskError(reason, error.errno, detail=error.strerror or str(error))


class LockLostError(DiskError):
    """Another program took the session over with its user's consent, perhaps while this machine was asleep."""

    def __init__(self, owner: LockOwner) -> None:
        super().__init__(
            "taken over",
            template="{by} on {host} took this session over at {since}; the readings held here go into a file of "
            "their own if you choose a folder",
            by=owner.by,
            host=owner.host,
            since=owner.since,
        )
        self.owner = owner


class FileConflictError(DiskError):
    """The file was changed by something else. It was left as it is."""

    def __init__(self) -> None:
        super().__init__(
            "changed",
            template="the file was changed by something else while it was open here, and was left as it is; the "
            "readings held here go into a file of their own if you choose a folder",
        )
