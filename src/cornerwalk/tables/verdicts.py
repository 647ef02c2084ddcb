"""Verdicts of a library: the overall verdict of every session, cached beside the files.

A verdict takes a whole session and the limits it is judged by, so it is not in the store's index. It is computed when
it is asked for, and cached for one version of the program and one set of limits.
"""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any, Literal, cast, get_args

from cornerwalk import __version__
from cornerwalk.assess import assess
from cornerwalk.assess.assessment import Overall
from cornerwalk.standards import Standards
from cornerwalk.store import Disk, Library, StoreError, file_signature
from cornerwalk.tables.session_cache import SessionCache

SessionVerdict = Overall | Literal["unreadable"]
"""The verdict of a session; "unreadable" of a file that is damaged, or of a newer program."""

CACHE = ".verdicts.json"
_FORMAT = "cornerwalk verdicts 2"
_VERDICTS: frozenset[str] = frozenset((*get_args(Overall), "unreadable"))


class Verdicts:
    """The verdicts of one library. One thread at a time uses them."""

    def __init__(self, library: Library, standards: Standards, *, disk: Disk | None = None) -> None:
        """Read what is cached, if anything can be."""
        self._library = library
        self._standards = standards
        self._disk = disk or Disk()
        self._cache = SessionCache[SessionVerdict](
            library.folder,
            CACHE,
            (_FORMAT, __version__, fingerprint(standards)),
            encode=str,
            decode=_decode,
            disk=self._disk,
        )

    def cached(self, path: Path) -> SessionVerdict | None:
        """The verdict of a session that has not changed since it was computed; None where it is to be computed."""
        try:
            return self._cache.get(path.name, file_signature(path, self._disk))
        except KeyError:
            return None

    def of(self, path: Path) -> SessionVerdict:
        """The verdict of a session, cached or computed."""
        signature = file_signature(path, self._disk)
        try:
            return self._cache.get(path.name, signature)
        except KeyError:
            verdict = self._compute(path)
        if signature is not None and path.parent == self._library.folder:
            self._cache.put(path.name, signature, verdict)
        return verdict

    def save(self) -> None:
        """Write down what was computed, if the disk allows it."""
        self._cache.save()

    def _compute(self, path: Path) -> SessionVerdict:
        try:
            stored = self._library.read(path)
        except StoreError:
            return "unreadable"
        if stored.damage is not None:
            return "unreadable"
        return assess(stored.session, self._standards).overall


def _decode(plain: Any) -> SessionVerdict:
    if plain not in _VERDICTS:
        raise ValueError("no verdict of ours")
    return cast("SessionVerdict", plain)


def fingerprint(standards: Standards) -> str:
    """Fingerprint of a set of rules and limits."""
    held = (standards.aim_rules, standards.limits, standards.restoration_rules, standards.tapes)
    text = repr([sorted(rules.items()) for rules in held])
    return hashlib.sha256(text.encode()).hexdigest()[:16]
