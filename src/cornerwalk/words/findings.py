"""The words of every finding, read once from `findings.toml`; how they are written stands at its head."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

_TEXTS = ("heading", "reason", "action")


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingWords:
    """English templates of one finding with {named} fields; each is the key of its own translation."""

    code: str
    heading: str
    text: tuple[str, ...]
    """Sentences; all but the first are left out where one of their figures is not known."""
    reason: str
    action: str
    source: str


@cache
def finding_words() -> Mapping[str, FindingWords]:
    """Every finding's words by its code, in the order of the file."""
    import tomllib

    table = tomllib.loads(Path(__file__).with_name("findings.toml").read_text("utf-8"))
    return {code: _words(code, row) for code, row in table.items()}


def _words(code: str, row: Mapping[str, Any]) -> FindingWords:
    return FindingWords(
        code=code,
        text=tuple(row["text"]),
        source=row.get("source", ""),
        **{name: row[name] for name in _TEXTS},
    )
