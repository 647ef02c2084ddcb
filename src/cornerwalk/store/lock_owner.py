"""Which program holds a session: how it is written beside the file, and what can be told of it later."""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import asdict, dataclass, fields
from functools import lru_cache
from pathlib import Path
from typing import Literal

OwnerStatus = Literal["alive", "gone", "elsewhere", "unknown"]
"""Of a holder: it runs on this machine; it ran here and has ended; it is on another machine; nothing can be told."""

PROCESSES = Path("/proc")
MACHINE = Path("/etc/machine-id")
"""Where Linux keeps what it knows of its processes, and its own number."""

_NUMBERS_BEFORE_START = 19
"""Fields of Linux's process status between the closing bracket of its name and the time it was started."""


@dataclass(frozen=True, slots=True)
class ProgramId:
    """A running program: `machine` tells machines of one name apart, `started` programs that were given one number.

    Both are opaque (hexadecimal); `started` is empty where the system does not say.
    """

    machine: str
    host: str
    pid: int
    started: str


@dataclass(frozen=True, slots=True)
class LockOwner:
    """Who holds a session: the program as in `ProgramId`, its user's initials, and since when (ISO 8601)."""

    machine: str
    host: str
    pid: int
    started: str
    by: str
    since: str

    @property
    def program(self) -> ProgramId:
        """The program alone."""
        return ProgramId(self.machine, self.host, self.pid, self.started)

    @classmethod
    def of(cls, here: ProgramId, *, by: str, since: str) -> LockOwner:
        """A program with its user and time."""
        return cls(here.machine, here.host, here.pid, here.started, by, since)

    def text(self) -> str:
        """One line of JSON."""
        return json.dumps(asdict(self), ensure_ascii=True) + "\n"

    @classmethod
    def from_text(cls, text: str) -> LockOwner:
        """What a line says; `UNKNOWN_OWNER` where it cannot be read."""
        try:
            plain = json.loads(text)
        except (ValueError, RecursionError):
            return UNKNOWN_OWNER
        wanted = {field.name: int if field.name == "pid" else str for field in fields(cls)}
        if not isinstance(plain, dict) or plain.keys() != wanted.keys():
            return UNKNOWN_OWNER
        if any(type(plain[name]) is not kind for name, kind in wanted.items()):
            return UNKNOWN_OWNER
        return cls(**plain)


UNKNOWN_OWNER = LockOwner(machine="", host="", pid=0, started="", by="", since="")
"""A holder of whom nothing is written, or nothing that can be read."""


def this_program() -> ProgramId:
    """The program that is running."""
    return _program(os.getpid())


@lru_cache(maxsize=1)
def _program(pid: int) -> ProgramId:
    import platform

    return ProgramId(machine=_machine(), host=platform.node(), pid=pid, started=_start_mark(pid) or "")


def owner_status(holder: ProgramId, here: ProgramId) -> OwnerStatus:
    """What can be told, from here, of the program that holds a session."""
    if not holder.machine or holder.pid <= 0:
        return "unknown"
    if holder.machine != here.machine:
        return "elsewhere"
    if (PROCESSES / "self/stat").exists():
        return "alive" if _start_mark(holder.pid) == holder.started else "gone"
    if os.name == "nt":  # signal 0 would not ask there but act
        return "alive" if holder.pid == here.pid else "unknown"
    return "gone" if _has_ended(holder.pid) else "alive"


def _has_ended(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except (ProcessLookupError, OverflowError):
        return True
    except PermissionError:  # it runs, under another account
        return False
    return False


def _start_mark(pid: int) -> str | None:
    """The machine's start and the process's within it, as Linux counts them; None where no such process is known."""
    try:
        status = (PROCESSES / str(pid) / "stat").read_text()
        boot = (PROCESSES / "sys/kernel/random/boot_id").read_text().strip()
    except (OSError, ValueError):
        return None
    return _hash(f"{boot} {status.rpartition(')')[2].split()[_NUMBERS_BEFORE_START]}")


def _machine() -> str:
    try:
        known = MACHINE.read_text().strip()
    except (OSError, ValueError):
        known = ""
    if not known:
        import uuid

        known = f"{uuid.getnode():x}"
    return _hash(f"cornerwalk {known}")  # systems ask that their number be kept from other people's eyes


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]
