"""Help page: what to do on the page below, and every key of the app, from the one table of keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import VerticalScroll

from cornerwalk.job.notice import Notice
from cornerwalk.tui.keys import PLACES, Key, Places, keys_of, shown
from cornerwalk.tui.own_keys import names_of
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.words import tr

if TYPE_CHECKING:
    from textual.screen import Screen


_SHIFTED = ("f14",)
"""What some terminals send for Shift and an F key; nobody looks for it."""


class HelpScreen(PageScreen):
    """Help for the page it was opened from, then the keys by place, those of that page first."""

    CSS_PATH = "help.tcss"
    AUTO_FOCUS = "VerticalScroll"
    places: Places = ("help", "everywhere")

    def __init__(self, below: Screen[object]) -> None:
        super().__init__()
        self._below = below

    def compose_page(self) -> ComposeResult:
        """Words first, keys after."""
        yield Prose((Notice(tr("Help"), part="strong"),), id="name")
        yield Ruler()
        with VerticalScroll(id="help"):
            below = self._below
            if isinstance(below, PageScreen) and below.help_text:
                yield Prose(tuple(Notice(text) for text in below.help_text), id="words")
            places = below.places if isinstance(below, PageScreen) else ("everywhere",)
            for place in (*reversed(places), *(p for p in PLACES if p not in places)):
                yield Prose((Notice(tr(PLACES[place]), part="due"),), classes="place")
                yield Prose(tuple(_line(key) for key in keys_of(place)))
            yield Prose((Notice(tr("Typing"), part="due"),), classes="place")
            yield Prose(_typing())


def _line(key: Key) -> Notice:
    names = " ".join(shown(name) for name in names_of(key) if name not in _SHIFTED)
    return Notice(tr(key.what), names, label_part="strong")


def _typing() -> tuple[Notice, ...]:
    rows = (
        ("← → Home End", tr("move in the text")),
        ("Backspace Delete", tr("take a character out")),
        ("Ctrl+W Ctrl+U", tr("take out the last word, or all of it")),
        (tr("+ on the number pad"), tr("sixteenths of an inch: 28+10 is 28 5/8")),
    )
    return tuple(Notice(text, keys, label_part="strong") for keys, text in rows)
