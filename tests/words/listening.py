"""Listening to which texts a running program asks for, to find those that no catalogue could hold."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from gettext import GNUTranslations
from pathlib import Path

from babel.messages import Catalog
from babel.messages.extract import DEFAULT_KEYWORDS, extract_from_dir

from cornerwalk.words import translation

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "src" / "cornerwalk"


def gathered() -> Catalog:
    """Every text of the program, as the documented command gathers them."""
    config = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    mappings = config["tool"]["babel"]["mappings"]
    methods = [(each["pattern"], each["method"]) for each in mappings]
    options = {each["pattern"]: {k: v for k, v in each.items() if k not in ("pattern", "method")} for each in mappings}
    found = Catalog()
    for _, _, text, _, context in extract_from_dir(HOUSE, methods, options, keywords=DEFAULT_KEYWORDS):
        found.add(text, context=context)
    return found


class Listener(GNUTranslations):
    """A catalogue that remembers what it was asked for. What it holds it marks, so that it is taken for translated."""

    def __init__(self, held: frozenset[str] = frozenset()) -> None:
        super().__init__()
        self.held = held
        self.asked: set[str] = set()

    def gettext(self, message: str) -> str:
        self.asked.add(message)
        return f"·{message}" if message in self.held else message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.asked.add(msgid1)
        return msgid1 if n == 1 else msgid2

    def pgettext(self, context: str, message: str) -> str:
        self.asked.add(message)
        return message


@contextmanager
def listening(held: frozenset[str] = frozenset()) -> Iterator[Listener]:
    """Everything that is asked for meanwhile."""
    spoken = translation._spoken
    listener = Listener(held)
    translation._spoken = translation._Language("xx", listener, ".")
    try:
        yield listener
    finally:
        translation._spoken = spoken
