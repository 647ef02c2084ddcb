"""Keys: every command of the app, one row each. Footer, help, palette, settings and the guide's page of keys read it.

A new key is one row here and an action of the page it works on: `walk.read-on` is `action_read_on` of the walk. A row
with `opens` is a page of the job. A user's own keys are in `own_keys`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, LiteralString, cast

from cornerwalk.words import tr

if TYPE_CHECKING:
    from textual.binding import Binding

Place = Literal[
    "everywhere", "job", "walk", "new", "form", "results", "replay", "list", "library", "report", "comparison",
    "chapters", "chapter", "air", "side", "sheet", "settings", "help",
]  # fmt: skip
Places = tuple[Place, ...]

PLACES: dict[Place, LiteralString] = {
    "everywhere": "Everywhere",
    "job": "In a job",
    "walk": "On the walk",
    "new": "On the page for a new job",
    "form": "In a form",
    "results": "In the results",
    "replay": "In a replay",
    "list": "In a list",
    "library": "In the list of jobs",
    "report": "In a report",
    "comparison": "In a comparison",
    "chapters": "On the page of the whole job",
    "chapter": "In a chapter of the job",
    "air": "On the air page",
    "side": "In the side view",
    "sheet": "On the customer copy",
    "settings": "In the settings",
    "help": "In the help",
}
"""Headings of the help page, in its order; "job" keys work on every page of a job."""

ON_JOB_PAGES: frozenset[Place] = frozenset(
    ("walk", "form", "results", "chapters", "chapter", "air", "side", "sheet", "comparison")
)
WITHOUT_ENTRY: frozenset[Place] = frozenset(("results", "replay", "report", "comparison", "side", "sheet", "help"))
"""Places where nothing is typed, so that a letter may be a command."""


@dataclass(frozen=True, slots=True)
class Key:
    """One command.

    Attributes:
        id: what a remapping names: its place ("app" for everywhere) and, after the point, its action.
        keys: comma-separated names of the screen library, the one to show first; empty: palette only.
        label: a word or two for the footer.
        what: a sentence for help and palette.
        rank: place in the footer, 0 not there. Lower ranks stay when the footer is narrow.
        badge: what the footer shows in place of the first key, where it stands for two.
        action: what runs, where it is not named by the id.
        opens: the page it opens, as `module:Class` under `screens`, or `module:Class:what` of it.
    """

    id: str
    keys: str
    label: LiteralString
    what: LiteralString
    rank: int = 0
    badge: str = ""
    action: str = ""
    opens: str = ""

    @property
    def place(self) -> Place:
        """Where it works."""
        place = self.id.partition(".")[0]
        return "everywhere" if place == "app" else cast("Place", place)

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


def chapter_page(chapter: str) -> str:
    """The page of a chapter that is asked line by line, as a key opens it."""
    return f"chapter:OneChapterScreen:{chapter}"


TABLE: tuple[Key, ...] = (
    Key("app.help", "f1", "help", "what to do here, and every key", rank=3, action="app.open_help"),
    Key("app.palette", "ctrl+p", "all", "every command by name", rank=7, action="app.command_palette"),
    Key("app.back", "escape", "back", "back to the page before", rank=9),
    Key("app.look", "ctrl+t", "theme", "next look: day, shop, night", action="app.next_look"),
    Key("app.settings", "f11,ctrl+g", "settings", "units, tape, walk, limits, theme, language, keys",
        action="app.open_settings"),
    Key("app.quit", "ctrl+q,ctrl+c", "quit", "leave; everything saved stays saved", action="app.quit"),
    Key("app.pad", "ctrl+k", "pad", "a number pad on the screen, for a mouse or a finger", rank=6, badge="▦"),
    Key("walk.enter", "enter", "save", "save the entry, or start the stage", rank=1),
    Key("walk.earlier-corner", "up", "corner", "the corner before", rank=2, badge="↑↓"),
    Key("walk.later-corner", "down", "corner", "the corner after"),
    Key("walk.earlier-stage", "pageup", "stage", "the stage before"),
    Key("walk.later-stage", "pagedown", "stage", "the stage after"),
    Key("walk.read-on", "shift+down,ctrl+down", "read on", "scroll down in a small window"),
    Key("walk.read-back", "shift+up,ctrl+up", "read back", "scroll up in a small window"),
    Key("walk.note", "f3", "note", "write a note about this corner", rank=8),
    Key("walk.average", "f6", "average", "read this corner again and average, or replace", rank=10),
    Key("walk.skip", "f7", "skip", "skip this corner, with a reason", rank=11),
    Key("walk.suggestion", "tab", "suggestion", "write the likely meaning of a refused text"),
    Key("walk.stage", "f8", "another stage", "start another stage: trial, road test, follow-up"),
    Key("form.enter", "enter", "save, next", "save and go to the next line", rank=1),
    Key("form.earlier-field", "up", "line", "the line above", rank=2, badge="↑↓"),
    Key("form.later-field", "down", "line", "the line below"),
    Key("form.earlier-page", "pageup", "page", "the page before", rank=3, badge="PgUp PgDn"),
    Key("form.later-page", "pagedown", "page", "the page after"),
    Key("form.take-back", "f7", "undo", "take the value of this line back", rank=5),
    Key("job.undo", "f2,ctrl+z", "undo", "undo the last entry", rank=4),
    Key("job.redo", "shift+f2,f14,ctrl+y", "redo", "redo"),
    Key("job.placing", "ctrl+o", "own repeatability", "use your own tape repeatability, from repeat readings"),
    Key("job.retry", "ctrl+s", "write again", "try again to write what is not on disk"),
    Key("job.vehicle", "f4", "vehicle", "facts on vehicle, kit, headlights, loads", rank=8, opens="facts:FactsScreen"),
    Key("job.results", "f5", "results", "what all readings mean", rank=4, opens="results:ResultsScreen"),
    Key("job.compare", "", "compare stages", "two stages of this job side by side, and what differs",
        opens="comparison:StagesScreen"),
    Key("job.chapters", "f9", "job", "the whole job: how far each chapter is, what comes next", rank=5,
        opens="whole_job:WholeJobScreen"),
    Key("job.stage", "f10", "conditions", "conditions, wall mark and leveling dial of the current stage", rank=12,
        opens="chapter:StageScreen"),
    Key("job.side", "f12", "side view", "the vehicle from the side and from above, before and now", rank=13,
        opens="side:SideScreen"),
    Key("job.air", "", "air", "trials, the next pressure, and what another pressure or load would do",
        opens="air:AirScreen"),
    Key("job.sheet", "", "sheet", "customer copy, and its code for a phone", opens="sheet:SheetScreen"),
    Key("job.chapter-intake", "", "intake", "who and why, vehicle, kit, loads, scale, presets",
        opens=chapter_page("intake")),
    Key("job.chapter-before", "", "before", "what is found, and what the height touches",
        opens=chapter_page("before")),
    Key("job.chapter-fitting", "", "fitting", "the work in its order, and the torques",
        opens=chapter_page("fitting")),
    Key("job.chapter-leak", "", "leak", "leak-down test and soap test",
        opens=chapter_page("leak")),
    Key("job.chapter-road", "", "road", "after the road test",
        opens=chapter_page("road")),
    Key("job.chapter-handover", "", "handover", "what is told, and the end of the job",
        opens=chapter_page("handover")),
    Key("job.chapter-follow-up", "", "follow-up", "when it comes back",
        opens=chapter_page("follow-up")),
    Key("results.page-1", "1", "page", "page 1", rank=1, badge="1–5", action="page(1)"),
    Key("results.page-2", "2", "page", "page 2", action="page(2)"),
    Key("results.page-3", "3", "page", "page 3", action="page(3)"),
    Key("results.page-4", "4", "page", "page 4", action="page(4)"),
    Key("results.page-5", "5", "page", "page 5", action="page(5)"),
    Key("results.earlier-page", "left", "page", "the page to the left"),
    Key("results.later-page", "right", "page", "the page to the right"),
    Key("replay.later", "right", "step", "the next event", rank=1, badge="← →"),
    Key("replay.earlier", "left", "step", "the event before"),
    Key("replay.play", "space", "play", "play, or stop playing", rank=2),
    Key("replay.faster", "plus,equals_sign", "faster", "play faster"),
    Key("replay.slower", "minus", "slower", "play slower"),
    Key("replay.true-pace", "t", "true pace", "play as fast as it happened"),
    Key("replay.later-stage", "pagedown", "stage", "where the next stage starts", rank=3, badge="PgUp PgDn"),
    Key("replay.earlier-stage", "pageup", "stage", "where the previous stage starts"),
    Key("replay.first", "home", "first", "the first event"),
    Key("replay.last", "end", "last", "the last event"),
    Key("replay.search", "slash,f3", "search", "every event in a list, to search in", rank=4, badge="/"),
    Key("replay.next-match", "n", "next match", "the next event that was searched for"),
    Key("replay.match-before", "p", "match before", "the one before it"),
    Key("replay.today", "f6,v", "then and now", "what this program makes of what was handed over", rank=5),
    Key("replay.scroll-down", "down", "scroll", "read on in a small window"),
    Key("replay.scroll-up", "up", "scroll", "read back"),
    Key("list.enter", "enter", "open", "take the marked line", rank=1),
    Key("list.earlier", "up", "mark", "the line above", rank=2, badge="↑↓"),
    Key("list.later", "down", "mark", "the line below"),
    Key("list.earlier-page", "pageup", "page", "a page up"),
    Key("list.later-page", "pagedown", "page", "a page down"),
    Key("list.first", "ctrl+home", "first", "the first line"),
    Key("list.last", "ctrl+end", "last", "the last line"),
    Key("library.replay", "f6", "replay", "replay the marked job", rank=3),
    Key("library.report", "f5", "report", "the report of the marked job", rank=4),
    Key("library.order", "f7", "order", "sort by: most recent, opened, vehicle, technician, verdict", rank=5),
    Key("library.state", "f8", "which", "all, unfinished, or handed over", rank=5),
    Key("library.compare", "f9", "compare", "choose the marked job; with another one, compare the two", rank=8),
    Key("report.turn", "right,left", "for whom", "for the file, or for the customer", rank=1, badge="← →"),
    Key("report.pdf", "p,f6", "PDF", "write it as a file to print", rank=2),
    Key("report.html", "h,f7", "web page", "write it as one web page", rank=4),
    Key("report.text", "t,f8", "text", "write it as a text", rank=5),
    Key("comparison.first", "1,right", "first stage", "another stage to compare from", rank=1, badge="1"),
    Key("comparison.second", "2,left", "second stage", "another stage to compare with", rank=2, badge="2"),
    Key("help.scroll", "up", "scroll", "read on", rank=1, badge="↑↓ PgUp PgDn"),
    Key("new.enter", "enter", "create the job", "create the job", rank=1),
    Key("new.earlier-kind", "up", "kind of job", "the kind of job above", rank=2, badge="↑↓"),
    Key("new.later-kind", "down", "kind of job", "the kind of job below"),
    Key("new.earlier-preset", "pageup", "preset", "the preset above"),
    Key("new.later-preset", "pagedown", "preset", "the preset below", rank=3, badge="PgUp PgDn"),
    Key("chapters.enter", "enter", "open", "open the marked chapter", rank=1),
    Key("chapters.earlier", "up", "chapter", "the line above", rank=2, badge="↑↓"),
    Key("chapters.later", "down", "chapter", "the line below"),
    Key("chapter.enter", "enter", "save, next", "save and go to the next question", rank=1),
    Key("chapter.earlier-line", "up", "question", "the question above", rank=2, badge="↑↓"),
    Key("chapter.later-line", "down", "question", "the question below"),
    Key("chapter.earlier-group", "pageup", "heading", "the heading above"),
    Key("chapter.later-group", "pagedown", "heading", "the heading below"),
    Key("chapter.read-on", "shift+down", "read on", "scroll down"),
    Key("chapter.read-back", "shift+up", "read back", "scroll up"),
    Key("chapter.note", "f3", "note", "write a note about this question", rank=6),
    Key("chapter.take-out", "f7", "take out", "take the answer out", rank=8),
    Key("air.enter", "enter", "trial", "start a trial at the typed pressure", rank=1),
    Key("air.less-air", "left", "air", "a little less air", rank=2, badge="←→"),
    Key("air.more-air", "right", "air", "a little more air"),
    Key("air.more-load", "up", "load", "a little more load", rank=3, badge="↑↓"),
    Key("air.less-load", "down", "load", "a little less load"),
    Key("air.dots", "f6", "dots", "draw in braille, or in blocks", rank=9),
    Key("side.earlier", "left", "stage", "the stage before", rank=1, badge="←→"),
    Key("side.later", "right", "stage", "the stage after"),
    Key("side.scroll-up", "up", "scroll", "read back"),
    Key("side.scroll-down", "down", "scroll", "read on"),
    Key("side.dots", "f6", "dots", "draw in braille, or in blocks", rank=2),
    Key("sheet.code", "f6,enter", "code", "the code for a telephone", rank=1),
    Key("sheet.earlier", "left", "code", "the code before"),
    Key("sheet.later", "right", "code", "the code after"),
    Key("settings.enter", "enter", "save, next", "save and go to the next setting", rank=1),
    Key("settings.earlier", "up", "setting", "the setting above", rank=2, badge="↑↓"),
    Key("settings.later", "down", "setting", "the setting below"),
    Key("settings.earlier-group", "pageup", "heading", "the heading above", rank=6, badge="PgUp PgDn"),
    Key("settings.later-group", "pagedown", "heading", "the heading below"),
    Key("settings.read-on", "shift+down,ctrl+down", "read on", "scroll down in a small window"),
    Key("settings.read-back", "shift+up,ctrl+up", "read back", "scroll up in a small window"),
    Key("settings.undo", "f2,ctrl+z", "undo", "take the last change of a setting back", rank=4),
    Key("settings.redo", "shift+f2,f14,ctrl+y", "redo", "redo the change that was undone"),
    Key("settings.default", "f7", "default", "reset this setting", rank=5),
)  # fmt: skip

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


def all_shown(key: Key) -> str:
    """Every key of a command as people write them: `F2, Ctrl+Z`."""
    return ", ".join(shown(name) for name in key.keys.split(",") if name)


def as_markdown() -> str:
    """The table as the guide shows it: every key by place, with its id for a remapping."""
    lines: list[str] = []
    for place, heading in PLACES.items():
        lines += ["", f"**{tr(heading)}**", "", f"| {tr('key')} | {tr('does')} | {tr('id')} |", "|---|---|---|"]
        for key in keys_of(place):
            lines.append(f"| {all_shown(key) or tr('by its name, Ctrl+P')} | {tr(key.what)} | `{key.id}` |")
    return "\n".join(lines[1:]) + "\n"
