"""Texts kept in files, so that a change of what the user reads is seen and agreed to.

A kept text lies in `snapshots/` beside the test that compares it. `pytest --update-snapshots` writes the files anew;
look at the difference before committing it. On the build machine nothing can be updated.
"""

from __future__ import annotations

import difflib
import re
from pathlib import Path
from typing import Self

import pytest

UPDATE = "--update-snapshots"


class SnapshotText:
    """Compares texts with the ones kept for a test: call it with the text, and with a name if there are several."""

    def __init__(self, folder: Path, stem: str, *, updating: bool) -> None:
        self._folder = folder
        self._stem = stem
        self._updating = updating
        self._seen: set[str] = set()

    @classmethod
    def of_test(cls, request: pytest.FixtureRequest) -> Self:
        """The texts kept for the test that asks."""
        node = request.node
        stem = re.sub(r"[^\w.-]+", "-", f"{node.path.stem}.{node.name}").strip("-")
        return cls(node.path.parent / "snapshots", stem, updating=bool(request.config.getoption(UPDATE)))

    def __call__(self, text: str, name: str = "") -> None:
        """Fail unless this text is the one kept.

        Spaces at the ends of lines, and empty lines at the end, do not count: a screen is full of them.

        Args:
            text: what the user would read.
            name: tells this text from others of the same test.
        """
        file = self._file(name)
        actual_file = file.with_suffix(".actual.txt")
        actual = tidied(text)
        if self._updating:
            file.parent.mkdir(exist_ok=True)
            file.write_text(actual, encoding="utf-8", newline="\n")
        elif not file.exists() or file.read_text(encoding="utf-8") != actual:
            file.parent.mkdir(exist_ok=True)
            actual_file.write_text(actual, encoding="utf-8", newline="\n")
            pytest.fail(_explanation(file, actual_file, actual), pytrace=False)
        actual_file.unlink(missing_ok=True)

    def _file(self, name: str) -> Path:
        if name in self._seen:
            raise ValueError(f"two texts of one test share the name {name!r}: give each its own")
        self._seen.add(name)
        return self._folder / f"{self._stem}{'.' if name else ''}{name}.txt"


def tidied(text: str) -> str:
    """The text without spaces at the ends of its lines and with exactly one line end at its own end."""
    return "\n".join(line.rstrip() for line in text.splitlines()).rstrip("\n") + "\n"


def _explanation(file: Path, actual_file: Path, actual: str) -> str:
    if not file.exists():
        return f"no text is kept yet as {file}: look at {actual_file.name}, then keep it with {UPDATE}\n\n{actual}"
    expected = file.read_text(encoding="utf-8")
    difference = difflib.unified_diff(
        expected.splitlines(), actual.splitlines(), f"kept: {file.name}", f"now: {actual_file.name}", lineterm="", n=2
    )
    return "\n".join([f"the text differs from the one kept in {file}", *difference])
