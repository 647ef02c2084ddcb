"""Every key of the app in one table: its id, keys, what it does, where it works.

Help, footer and README are made from it. A key is remapped by its id. One line here makes a key; one line with `opens`
and one file in `screens/` make a page.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from textual.binding import Binding

Place = Literal["everywhere", "job", "walk", "new", "form", "results", "replay", "list", "library", "help"]

PLACES: dict[Place, str] = {
    "everywhere": "Everywhere",
    "job": "In a job",
    "walk": "On the walk",
    "new": "On the page for a new job",
    "form": "In a form",
    "results": "In the results",
    "replay": "In a replay",
    "list": "In a list",
    "library": "In the list of jobs",
    "help": "In the help",
}
"""Headings of the help page, in its order; "job" keys work on every page of a job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One command.

    Attributes:
        id: what a remapping names.
        keys: comma-separated names of the screen library, the one to show first; empty: palette only.
        label: a word or two for the footer.
        what: a sentence for help and palette.
        place: where it works.
        action: what runs; by default the part of the id after the point.
        rank: place in the footer, 0 not there. Lower ranks stay when the footer is narrow.
        opens: the page it opens, as `module:Class` under `screens`.
        badge: what help and footer show in place of the first key, where it stands for two.
    """

    id: str
    keys: str
    label: str
    what: str
    place: Place
    action: str = ""
    rank: int = 0
    opens: str = ""
    badge: str = ""

    @property
    def does(self) -> str:
        """The action as the screen library calls it."""
        if self.opens:
            return f"app.open_page('{self.id}')"
        return self.action or self.id.partition(".")[2].replace("-", "_")

    @property
    def first(self) -> str:
        """The key that help and footer show."""
        return self.keys.split(",")[0]


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
    Key(id="walk.note", keys="f3", label="note", what="write a note about this corner", rank=8, place="walk"),
    Key(
        id="job.vehicle",
        keys="f4",
        label="vehicle",
        what="facts of vehicle, kit, lamps, loads",
        rank=6,
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
    Key(id="replay.later", keys="right", label="step", what="the next event", place="replay", rank=1, badge="← →"),
    Key(id="replay.earlier", keys="left", label="step", what="the event before", place="replay"),
    Key(id="replay.play", keys="space", label="play", what="play, or stop playing", place="replay", rank=2),
    Key(id="replay.faster", keys="plus,equals_sign", label="faster", what="play faster", place="replay"),
    Key(id="replay.slower", keys="minus", label="slower", what="play slower", place="replay"),
    Key(id="replay.true-pace", keys="t", label="true pace", what="play as fast as it happened", place="replay"),
    Key(
        id="replay.later-stage",
        keys="pagedown",
        label="stage",
        what="where the next stage begins",
        place="replay",
        rank=3,
        badge="PgUp PgDn",
    ),
    Key(id="replay.earlier-stage", keys="pageup", label="stage", what="where the stage before begins", place="replay"),
    Key(id="replay.first", keys="home", label="first", what="the first event", place="replay"),
    Key(id="replay.last", keys="end", label="last", what="the last event", place="replay"),
    Key(
        id="replay.search",
        keys="slash,f3",
        label="search",
        what="every event in a list, to search in",
        place="replay",
        rank=4,
        badge="/",
    ),
    Key(
        id="replay.next-match",
        keys="n",
        label="next match",
        what="the next event that was searched for",
        place="replay",
    ),
    Key(id="replay.match-before", keys="p", label="match before", what="the one before it", place="replay"),
    Key(
        id="replay.today",
        keys="f6,v",
        label="then and now",
        what="what this program makes of what was handed over",
        place="replay",
        rank=5,
    ),
    Key(id="replay.scroll-down", keys="down", label="scroll", what="read on in a small window", place="replay"),
    Key(id="replay.scroll-up", keys="up", label="scroll", what="read back", place="replay"),
    Key(id="list.enter", keys="enter", label="open", what="take the marked line", place="list", rank=1),
    Key(id="list.earlier", keys="up", label="mark", what="the line above", place="list", rank=2, badge="↑↓"),
    Key(id="list.later", keys="down", label="mark", what="the line below", place="list"),
    Key(id="list.earlier-page", keys="pageup", label="page", what="a page up", place="list"),
    Key(id="list.later-page", keys="pagedown", label="page", what="a page down", place="list"),
    Key(id="list.first", keys="ctrl+home", label="first", what="the first line", place="list"),
    Key(id="list.last", keys="ctrl+end", label="last", what="the last line", place="list"),
    Key(id="library.replay", keys="f6", label="replay", what="replay the marked job", place="library", rank=3),
    Key(id="library.report", keys="f5", label="report", what="the report of the marked job", place="library", rank=4),
    Key(
        id="library.order",
        keys="f7",
        label="order",
        what="order by: worked on last, opened, vehicle, technician, verdict",
        place="library",
        rank=5,
    ),
    Key(id="library.state", keys="f8", label="which", what="all, unfinished, or handed over", place="library", rank=6),
    Key(
        id="library.compare",
        keys="f9",
        label="compare",
        what="choose the marked job; with another one, compare the two",
        place="library",
        rank=8,
    ),
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
)

BY_ID: dict[str, Key] = {key.id: key for key in TABLE}


def keys_of(*places: Place) -> tuple[Key, ...]:
    """The keys that work in these places, in the order of the table."""
    return tuple(key for key in TABLE if key.place in places)


def bindings(*places: Place) -> list[Binding]:
    """The table as the screen library wants it. Enter belongs to the entry and is only told."""
    from textual.binding import Binding

    return [
        Binding(key.keys, key.does, key.label, show=False, id=key.id, priority=key.id == "app.quit")
        for key in keys_of(*places)
        if key.keys and not key.id.endswith(".enter")
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
}


def shown(name: str) -> str:
    """A key's name as people write it: `ctrl+p` → Ctrl+P.

    >>> shown("shift+f2")
    'Shift+F2'
    """
    if name in SHOWN_AS:
        return SHOWN_AS[name]
    return "+".join(SHOWN_AS.get(part, part.capitalize()) for part in name.split("+"))
