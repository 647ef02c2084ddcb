"""The overall verdict of every session of a library, remembered beside the files.

A verdict takes a whole session and the limits it is judged by, so it is not in the store's index. It is computed when
it is asked for and kept in a file that can be thrown away: a row counts only while its session file is unchanged, and
all of them only for one version of the program and one set of limits.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any, Literal, get_args

from cornerwalk import __version__
from cornerwalk.assess import assess
from cornerwalk.assess.assessment import Overall
from cornerwalk.standards import Standards
from cornerwalk.store import Disk, Library, Signature, StoreError, file_signature, read_cache, write_cache

SessionVerdict = Overall | Literal["unreadable"]
"""The verdict of a session; "unreadable" of a file that is damaged, or of a newer program."""

INDEX = ".verdicts.json"
_FORMAT = "cornerwalk verdicts 1"
_WORDS: frozenset[str] = frozenset((*get_args(Overall), "unreadable"))


class Verdicts:
    """The verdicts of one library. One thread at a time uses them."""

    def __init__(self, library: Library, standards: Standards, *, disk: Disk | None = None) -> None:
        """Read what is remembered, if anything can be."""
        self._library = library
        self._standards = standards
        self._disk = disk or Disk()
        self._under = f"{__version__} {fingerprint(standards)}"
        self._rows = self._remembered()
        self._changed = False

    def remembered(self, path: Path) -> SessionVerdict | None:
        """The verdict of a session that has not changed since it was computed; None where it is to be computed."""
        row = self._rows.get(path.name)
        return row[1] if row is not None and row[0] == file_signature(path, self._disk) else None

    def of(self, path: Path) -> SessionVerdict:
        """The verdict of a session, remembered or computed."""
        looks = file_signature(path, self._disk)
        row = self._rows.get(path.name)
        if row is not None and row[0] == looks:
            return row[1]
        verdict = self._computed(path)
        if looks is not None and path.parent == self._library.folder:
            self._rows[path.name] = (looks, verdict)
            self._changed = True
        return verdict

    def keep(self) -> None:
        """Write down what was computed, if the disk will; what is gone from the library goes from here too."""
        if not self._changed:
            return
        rows = {
            name: [looks.number, looks.bytes, looks.changed_ns, verdict]
            for name, (looks, verdict) in self._rows.items()
            if (self._library.folder / name).exists()
        }
        text = json.dumps({"format": _FORMAT, "under": self._under, "rows": rows}, separators=(",", ":"))
        self._changed = not write_cache(self._library.folder, INDEX, text.encode(), self._disk)

    def _computed(self, path: Path) -> SessionVerdict:
        try:
            stored = self._library.read(path)
        except StoreError:
            return "unreadable"
        if stored.damage is not None:
            return "unreadable"
        return assess(stored.session, self._standards).overall

    def _remembered(self) -> dict[str, tuple[Signature, SessionVerdict]]:
        try:
            plain = json.loads(read_cache(self._library.folder, INDEX, self._disk))
            if plain["format"] != _FORMAT or plain["under"] != self._under:
                return {}
            return {str(name): _row(row) for name, row in plain["rows"].items()}
        except (ValueError, TypeError, LookupError, AttributeError, RecursionError):
            return {}


def _row(row: list[Any]) -> tuple[Signature, SessionVerdict]:
    *looks, verdict = row
    if verdict not in _WORDS or not all(type(each) is int for each in looks):
        raise TypeError("not a row of ours")
    return Signature(*looks), verdict


def fingerprint(standards: Standards) -> str:
    """What tells one set of rules and limits from another."""
    held = (standards.aim_rules, standards.limits, standards.restoration_rules, standards.tapes)
    text = repr([sorted(rules.items()) for rules in held])
    return hashlib.sha256(text.encode()).hexdigest()[:16]
