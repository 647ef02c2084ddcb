"""Every key of the app in one table: its id, keys, what it does, where it works.

Help, footer and README are made from it. A key is remapped by its id. One line here makes a key; one line with `opens`
and one file in `screens/` make a page.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cornerwalk.tui.chapter_keys import CHAPTER_KEYS
from cornerwalk.tui.key import PLACES, Key, Place
from cornerwalk.tui.review_keys import REVIEW_KEYS
from cornerwalk.tui.settings_keys import SETTINGS_KEYS

if TYPE_CHECKING:
    from textual.binding import Binding

TABLE: tuple[Key, ...] = (
    Key(
        id="app.help",
        keys="f1",
        label="help",
        what="what to do here, and every key",
        rank=3,
        place="everywhere",
        action="app.open_help",
    ),
    Key(
        id="app.palette",
        keys="ctrl+p",
        label="all",
        what="every command by name",
        rank=7,
        place="everywhere",
        action="app.command_palette",
    ),
    Key(id="app.back", keys="escape", label="back", what="back to the page before", rank=9, place="everywhere"),
    Key(
        id="app.look",
        keys="ctrl+t",
        label="look",
        what="next look: day, shop, night",
        place="everywhere",
        action="app.next_look",
    ),
    Key(
        id="app.settings",
        keys="f11,ctrl+g",
        label="settings",
        what="units, tape, walk, limits, look, language, keys",
        place="everywhere",
        action="app.open_settings",
    ),
    Key(
        id="app.quit",
        keys="ctrl+q,ctrl+c",
        label="quit",
        what="leave; everything kept stays kept",
        place="everywhere",
        action="app.quit",
    ),
    Key(id="job.undo", keys="f2,ctrl+z", label="undo", what="take back what was recorded last", rank=4, place="job"),
    Key(
        id="job.redo",
        keys="shift+f2,f14,ctrl+y",
        label="redo",
        what="bring back what undo took",
        place="job",
    ),
    Key(
        id="job.placing",
        keys="ctrl+o",
        label="own placing",
        what="take the placing of the tape that your own repeats show",
        place="job",
    ),
    Key(
        id="job.retry",
        keys="ctrl+s",
        label="write again",
        what="try again to write what is not on disk",
        place="job",
    ),
    Key(
        id="walk.enter", keys="enter", label="keep", what="keep what is typed, or begin the stage", rank=1, place="walk"
    ),
    Key(
        id="walk.earlier-corner",
        keys="up",
        label="corner",
        what="the corner before",
        rank=2,
        place="walk",
        badge="↑↓",
    ),
    Key(id="walk.later-corner", keys="down", label="corner", what="the corner after", place="walk"),
    Key(id="walk.earlier-stage", keys="pageup", label="stage", what="the stage before", place="walk"),
    Key(id="walk.later-stage", keys="pagedown", label="stage", what="the stage after", place="walk"),
    Key(
        id="walk.read-on",
        keys="shift+down,ctrl+down",
        label="read on",
        what="scroll down in a small window",
        place="walk",
    ),
    Key(
        id="walk.read-back",
        keys="shift+up,ctrl+up",
        label="read back",
        what="scroll up in a small window",
        place="walk",
    ),
    Key(id="walk.note", keys="f3", label="note", what="write a note about this corner", rank=8, place="walk"),
    Key(
        id="job.vehicle",
        keys="f4",
        label="vehicle",
        what="facts of vehicle, kit, lamps, loads",
        rank=8,
        place="job",
        opens="facts:FactsScreen",
    ),
    Key(
        id="job.results",
        keys="f5",
        label="results",
        what="what all readings mean",
        rank=5,
        place="job",
        opens="results:ResultsScreen",
    ),
    Key(
        id="walk.average",
        keys="f6",
        label="average",
        what="read this corner again and average, or replace",
        rank=10,
        place="walk",
    ),
    Key(id="walk.skip", keys="f7", label="skip", what="skip this corner, with a reason", rank=11, place="walk"),
    Key(
        id="walk.suggestion",
        keys="tab",
        label="suggestion",
        what="write the likely meaning of a refused text",
        place="walk",
    ),
    Key(
        id="walk.stage",
        keys="f8",
        label="another stage",
        what="begin another stage: trial, road test, follow-up",
        place="walk",
    ),
    *(
        Key(
            id=f"results.page-{number}",
            keys=str(number),
            label="page",
            what=f"page {number}",
            place="results",
            action=f"page({number})",
            rank=1 if number == 1 else 0,
            badge="1–5" if number == 1 else "",
        )
        for number in range(1, 6)
    ),
    Key(
        id="form.enter",
        keys="enter",
        label="keep, next",
        what="keep what is typed, go to the next line",
        place="form",
        rank=1,
    ),
    Key(id="form.earlier-field", keys="up", label="line", what="the line above", place="form", rank=2, badge="↑↓"),
    Key(id="form.later-field", keys="down", label="line", what="the line below", place="form"),
    Key(
        id="form.earlier-page",
        keys="pageup",
        label="page",
        what="the page before",
        place="form",
        rank=3,
        badge="PgUp PgDn",
    ),
    Key(id="form.later-page", keys="pagedown", label="page", what="the page after", place="form"),
    Key(
        id="form.take-back", keys="f7", label="take back", what="take the value of this line back", place="form", rank=5
    ),
    Key(id="results.earlier-page", keys="left", label="page", what="the page to the left", place="results"),
    Key(id="results.later-page", keys="right", label="page", what="the page to the right", place="results"),
    *REVIEW_KEYS,
    Key(id="help.scroll", keys="up", label="scroll", what="read on", place="help", rank=1, badge="↑↓ PgUp PgDn"),
    Key(id="new.enter", keys="enter", label="make the job", what="make the job", place="new", rank=1),
    Key(
        id="new.earlier-kind",
        keys="up",
        label="kind of job",
        what="the kind of job above",
        place="new",
        rank=2,
        badge="↑↓",
    ),
    Key(id="new.later-kind", keys="down", label="kind of job", what="the kind of job below", place="new"),
    Key(id="new.earlier-preset", keys="pageup", label="preset", what="the preset above", place="new"),
    Key(
        id="new.later-preset",
        keys="pagedown",
        label="preset",
        what="the preset below",
        place="new",
        rank=3,
        badge="PgUp PgDn",
    ),
    *CHAPTER_KEYS,
    *SETTINGS_KEYS,
)

BY_ID: dict[str, Key] = {key.id: key for key in TABLE}


def keys_of(*places: Place) -> tuple[Key, ...]:
    """The keys that work in these places, in the order of the table."""
    return tuple(key for key in TABLE if key.place in places)


def bindings(*places: Place) -> list[Binding]:
    """The table as the screen library wants it. Enter belongs to the entry and is only told.

    A command without a key has one that no keyboard sends, for a user's own to take its place.
    """
    from textual.binding import Binding

    return [
        Binding(
            key.keys or f"no-key-{key.id}", key.does, key.label, show=False, id=key.id, priority=key.id == "app.quit"
        )
        for key in keys_of(*places)
        if not key.id.endswith(".enter")
    ]


def app_bindings() -> list[Binding]:
    """The keys that work under the palette too, whatever page is below it."""
    return [binding for binding in bindings("everywhere") if binding.action.startswith("app.")]


SHOWN_AS: dict[str, str] = {
    "enter": "Enter",
    "escape": "Esc",
    "up": "↑",
    "down": "↓",
    "left": "←",
    "right": "→",
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "space": "Space",
    "tab": "Tab",
    "plus": "+",
    "minus": "-",
    "equals_sign": "=",
    "slash": "/",
}


def shown(name: str) -> str:
    """A key's name as people write it: `ctrl+p` → Ctrl+P.

    >>> shown("shift+f2")
    'Shift+F2'
    """
    if name in SHOWN_AS:
        return SHOWN_AS[name]
    return "+".join(SHOWN_AS.get(part, part.capitalize()) for part in name.split("+"))


__all__ = ["BY_ID", "PLACES", "SHOWN_AS", "TABLE", "Key", "Place", "app_bindings", "bindings", "keys_of", "shown"]
