"""Checklists: questions in the order of the work, in TOML files that a shop may replace.

A file with the same `id` in the shop's folder replaces a packaged list. A file that cannot be read is reported by name,
and the packaged list is used.
"""

from __future__ import annotations

import tomllib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from typing import Any, Literal

Frequency = Literal["once", "each stage"]

FOLDER = "checklists"
LARGEST_FILE_BYTES = 1_000_000

_ACTS = ("Cc", "Cs", "Zl", "Zp")
_TURNS_DIRECTION = "\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistItem:
    """A question. `good` is the good answer (empty: either), `stop` the answer that stops the job."""

    id: str
    question: str
    label: str = ""
    """What its line is called; the words of its id where the list gives none."""
    good: Literal["yes", "no", ""] = "yes"
    stop: Literal["yes", "no", ""] = ""
    caution: str = ""
    why: str = ""
    not_fitted: bool = False
    """Whether "not fitted" is an answer, for parts that not every vehicle has."""
    note: str = ""
    """What to write down with any answer: a gap, a mark on a gauge."""

    @property
    def line_name(self) -> str:
        """What its line is called, in English."""
        return self.label or self.id.replace("-", " ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Checklist:
    """Questions that are asked together, once or at every stage."""

    id: str
    title: str
    asked: Frequency
    items: tuple[ChecklistItem, ...]

    def item(self, item_id: str) -> ChecklistItem | None:
        """The question of that id."""
        return next((item for item in self.items if item.id == item_id), None)


@dataclass(frozen=True, slots=True)
class RefusedChecklist:
    """A checklist file that was not used, and why."""

    name: str
    reason: str


@dataclass(frozen=True, slots=True)
class Checklists:
    """All lists in the order of the job, and the files that were refused."""

    lists: tuple[Checklist, ...]
    refused: tuple[RefusedChecklist, ...] = ()

    def __getitem__(self, list_id: str) -> Checklist:
        """The list of that id; KeyError if there is none."""
        for checklist in self.lists:
            if checklist.id == list_id:
                return checklist
        raise KeyError(list_id)


class ChecklistError(ValueError):
    """A checklist file is not valid; the message names the key."""


def parse_checklist(text: str) -> Checklist:
    """The checklist in a TOML text.

    Raises:
        ChecklistError: not TOML, a missing or unknown key, a value of the wrong kind, an id twice.
    """
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise ChecklistError(f"not TOML: {error}") from error
    unknown = set(table) - {"id", "title", "asked", "item"}
    if unknown:
        raise ChecklistError(f"unknown key {min(unknown)!r}")
    rows = table.get("item")
    if not isinstance(rows, list) or not rows:
        raise ChecklistError("no [[item]]")
    items = tuple(_item(row) for row in rows)
    ids = [item.id for item in items]
    twice = next((i for i in ids if ids.count(i) > 1), None)
    if twice is not None:
        raise ChecklistError(f"the id {twice!r} stands twice")
    asked: Frequency
    match table.get("asked", "once"):
        case "once":
            asked = "once"
        case "each stage":
            asked = "each stage"
        case other:
            raise ChecklistError(f"asked = {other!r}: must be 'once' or 'each stage'")
    return Checklist(id=_text(table, "id"), title=_text(table, "title"), asked=asked, items=items)


def _text(table: Mapping[str, Any], key: str) -> str:
    value = table.get(key)
    if not isinstance(value, str) or not value.strip():
        raise ChecklistError(f"{key!r} must be a text")
    if (hidden := _hidden(value)) is not None:
        raise ChecklistError(f"{key!r} holds a hidden character (U+{ord(hidden):04X})")
    return value


def _hidden(text: str) -> str | None:
    """The first invisible character that could affect a screen, line breaks and tabs excepted."""
    return next(
        (c for c in text if c in _TURNS_DIRECTION or (unicodedata.category(c) in _ACTS and c not in "\n\t")), None
    )


_CHOICES: dict[str, tuple[str, ...]] = {"good": ("yes", "no", ""), "stop": ("yes", "no", "")}


def _item(row: object) -> ChecklistItem:
    if not isinstance(row, dict):
        raise ChecklistError("an [[item]] must be a table")
    known = {field.name for field in fields(ChecklistItem)}
    for key, value in row.items():
        if key not in known:
            raise ChecklistError(f"unknown key {key!r} in [[item]]")
        if key == "not_fitted":
            if not isinstance(value, bool):
                raise ChecklistError("'not_fitted' must be true or false")
        elif not isinstance(value, str):
            raise ChecklistError(f"{key!r} must be a text")
        elif (hidden := _hidden(value)) is not None:
            raise ChecklistError(f"{key!r} holds a hidden character (U+{ord(hidden):04X})")
        elif key in _CHOICES and value not in _CHOICES[key]:
            raise ChecklistError(f"{key} = {value!r}: must be 'yes', 'no' or empty")
    _text(row, "id")
    _text(row, "question")
    return ChecklistItem(**row)


def load_checklists(shop_folder: Path | None = None) -> Checklists:
    """The packaged lists, or the shop's own of the same id; then the shop's other lists."""
    packaged = Path(__file__).with_name(FOLDER)
    names = sorted(entry.name for entry in packaged.iterdir() if entry.name.endswith(".toml"))
    lists = {c.id: c for c in (parse_checklist(packaged.joinpath(n).read_text("utf-8")) for n in names)}
    refused: list[RefusedChecklist] = []
    if shop_folder is not None and shop_folder.is_dir():
        for path in sorted(shop_folder.glob("*.toml")):
            try:
                own = parse_checklist(_small_text(path))
            except (ChecklistError, OSError, UnicodeDecodeError) as error:
                refused.append(RefusedChecklist(path.name, str(error)))
            else:
                lists[own.id] = own
    return Checklists(tuple(lists.values()), tuple(refused))


@cache
def packaged_checklists() -> Checklists:
    """The packaged lists, read once."""
    return load_checklists()


def _small_text(path: Path) -> str:
    if not path.is_file():
        raise ChecklistError("not a file")
    if path.stat().st_size > LARGEST_FILE_BYTES:
        raise ChecklistError("larger than a checklist can be")
    return path.read_text("utf-8")
