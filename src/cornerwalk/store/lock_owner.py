"""Lock owner: which program has a session open, as written beside the file, and whether it still runs."""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import asdict, dataclass, fields
from functools import lru_cache
from pathlib import Path
from typing import Literal

OwnerStatus = Literal["alive", "gone", "elsewhere", "unknown"]
"""The owner runs on this machine; it ran here and has ended; it is on another machine; unknown."""

PROCESSES = Path("/proc")
MACHINE = Path("/etc/machine-id")
"""Where Linux keeps its processes and the machine's id."""

_NUMBERS_BEFORE_START = 19
"""Fields of Linux's process status between the closing bracket of the name and the start time."""


@dataclass(frozen=True, slots=True)
class ProgramId:
    """A running program. `machine` identifies the machine, since names repeat; `started` the start, since pids repeat.

    Both are hexadecimal hashes; `started` is empty if the system does not say.
    """

    machine: str
    host: str
    pid: int
    started: str


@dataclass(frozen=True, slots=True)
class LockOwner:
    """The owner of a lock: the program as in `ProgramId`, its user's initials, and since when (ISO 8601)."""

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
    def of(cls, program: ProgramId, *, by: str, since: str) -> LockOwner:
        """A program with its user and time."""
        return cls(program.machine, program.host, program.pid, program.started, by, since)

    def text(self) -> str:
        """One line of JSON."""
        return json.dumps(asdict(self), ensure_ascii=True) + "\n"

    @classmethod
    def from_text(cls, text: str) -> LockOwner:
        """The owner in a line of JSON; `UNKNOWN_OWNER` if it cannot be read."""
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
"""An owner whose file is missing or cannot be read."""


def this_program() -> ProgramId:
    """This running program."""
    return _program(os.getpid())


@lru_cache(maxsize=1)
def _program(pid: int) -> ProgramId:
    import platform

    return ProgramId(machine=_machine(), host=platform.node(), pid=pid, started=_start_mark(pid) or "")


def owner_status(owner: ProgramId, here: ProgramId) -> OwnerStatus:
    """Whether the owner's program still runs, as far as this program can tell."""
    if not owner.machine or owner.pid <= 0:
        return "unknown"
    if owner.machine != here.machine:
        return "elsewhere"
    if (PROCESSES / "self/stat").exists():
        return "alive" if _start_mark(owner.pid) == owner.started else "gone"
    if os.name == "nt":  # there, signal 0 would end the process
        return "alive" if owner.pid == here.pid else "unknown"
    return "gone" if _has_ended(owner.pid) else "alive"


def _has_ended(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except (ProcessLookupError, OverflowError):
        return True
    except PermissionError:  # it runs, under another account
        return False
    return False


def _start_mark(pid: int) -> str | None:
    """A hash of the boot and the start time of a process on Linux; None if there is no such process."""
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
    return _hash(f"cornerwalk {known}")  # systems ask that their id be kept confidential


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]
