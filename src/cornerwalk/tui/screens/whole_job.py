"""Whole job: its chapters on one page, how far each is, and the one thing that comes next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from rich.cells import cell_len
from textual import events, on
from textual.app import ComposeResult
from textual.containers import Container
from textual.message import Message

from cornerwalk.job.chapters import CHAPTER_KINDS, chapter_state
from cornerwalk.job.checks import checklists_of
from cornerwalk.job.handover import stops
from cornerwalk.job.hints import asking, last_time, own_placing
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.session.chapters import chapters, next_chapter_of
from cornerwalk.session.stages import ChapterId
from cornerwalk.tui.keys import BY_ID, Places
from cornerwalk.tui.messages import OpenChapter, OpenPage
from cornerwalk.tui.own_keys import first_shown
from cornerwalk.tui.screens.chapter import to_walk
from cornerwalk.tui.screens.drawing import DrawingScreen, latest_scene
from cornerwalk.tui.screens.job_screen import JobScreen
from cornerwalk.tui.widgets.entry import ENTER_KEYS, NUMBER_PAD
from cornerwalk.tui.widgets.lists import MarkedList
from cornerwalk.tui.widgets.prose import Banner, Prose, Ruler
from cornerwalk.tui.widgets.rows import Row, Scroll, fitted
from cornerwalk.tui.widgets.side import Side
from cornerwalk.wording.names import job_name, overall_sentence
from cornerwalk.words import tr

_SIGNS = {"not begun": "·", "begun": "…", "done": "✓", "": " "}


@dataclass(frozen=True, slots=True)
class ChapterRow:
    """One line: its id, the digit that opens it ("" for none), name, state in a word and as told, whether it is next.

    `key` is shown at the right where a key of its own opens it.
    """

    id: str
    digit: str
    name: str
    state: str = ""
    told: str = ""
    next_word: str = ""
    key: str = ""


class ChapterList(MarkedList, can_focus=True):
    """A chapter a line; a digit or a click opens one at once, Enter the marked one."""

    class Taken(Message):
        """Sent when a line is to be opened."""

        def __init__(self, row_id: str) -> None:
            self.row_id = row_id
            super().__init__()

    class Marked(Message):
        """Sent when another line is marked."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._listed: tuple[ChapterRow, ...] = ()

    @property
    def marked(self) -> str:
        """The id of the marked line; "" while nothing is listed."""
        return self._listed[self._at].id if self._listed else ""

    def show_rows(self, rows: Sequence[ChapterRow], marked: str) -> None:
        """List these with this one marked."""
        self._listed = tuple(rows)
        self._spans = [(at, at + 1) for at in range(len(self._listed))]
        self._mark(next((at for at, row in enumerate(self._listed) if row.id == marked), 0))

    def rows(self, width: int) -> list[Row]:
        """A line a row: what is next stands out."""
        return [self._line_row(row, width, here=at == self._at) for at, row in enumerate(self._listed)]

    def _line_row(self, row: ChapterRow, width: int, *, here: bool) -> Row:
        name_part = "block" if here else ("due" if row.next_word else ("ink" if row.state == "done" else "strong"))
        right = row.told if not row.key else row.key
        next_word = f" ◂ {row.next_word}" if row.next_word else ""
        room = max(6, width - 9 - cell_len(right) - cell_len(next_word))
        name = fitted(row.name, min(room, cell_len(row.name)))
        gap = " " * max(1, room - cell_len(name) + 1)
        sign = "▸" if here else " "
        return [
            ("due", f" {sign} "),
            ("due", f"{row.digit or ' '} "),
            ("quiet", f"{_SIGNS[row.state]} "),
            (name_part, name),
            ("ink", gap),
            ("ink" if not row.key else "due", right),
            ("due", next_word),
        ]

    def on_key(self, event: events.Key) -> None:
        """Digits open at once, Enter the marked line."""
        digit = NUMBER_PAD.get(event.key) or (event.character or "")
        if event.key in ENTER_KEYS:
            event.stop()
            self.post_message(self.Taken(self.marked))
            return
        place = next((at for at, row in enumerate(self._listed) if digit and row.digit == digit), None)
        if place is not None:
            event.stop()
            self.clicked(place)

    def turn(self, step: int) -> None:
        """Mark the line so many after the marked one."""
        if self._listed:
            self._mark(max(0, min(len(self._listed) - 1, self._at + step)))

    def clicked(self, place: int) -> None:
        """Open it, as its digit and Enter do."""
        self._mark(place)
        self.post_message(self.Taken(self.marked))

    def _mark(self, place: int) -> None:
        self._at = place
        self.redraw()
        self.post_message(self.Marked())
        self.call_after_refresh(self.keep_in_sight)


LOOKS = ("job.stage", "job.side", "job.vehicle", "job.results", "job.sheet")
"""Pages that are looked at rather than gone through, by their keys."""

WALKED: tuple[ChapterId, ...] = ("unloaded", "loaded")
"""Chapters whose page is the walk."""


class WholeJobScreen(JobScreen):
    """Opens on what comes next: Enter goes there."""

    CSS_PATH = "whole_job.tcss"
    AUTO_FOCUS = "ChapterList"
    places: Places = ("everywhere", "job", "chapters")

    def __init__(self, job: OpenJob) -> None:
        super().__init__(job)
        self._next: ChapterId | None = None
        self._seen = -1

    @property
    def help_text(self) -> tuple[str, ...]:
        """How the page is used."""
        return (
            tr("The chapters of the job in their order. The one that comes next is marked: Enter opens it."),
            tr("Its number opens any other one, and so does a click. Only the heights are required; anything else "
                "may be skipped and then shows as not checked."),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """Chapters, what the marked one is, and how the vehicle stands where there is room."""
        yield Ruler(id="where")
        yield Banner(id="stops")
        with Container(id="bench"):
            with Scroll(id="left"):
                yield ChapterList(id="chapters")
            with Scroll(id="right"):
                yield Prose(id="about")
                yield Prose(id="earlier")
        yield Side(id="view")

    def show(self) -> None:
        """Draw all of it; where something happened since, what comes next is marked."""
        super().show()
        listed = chapters(self.job.session, checklists_of(self.job))
        self._next = next_chapter_of(listed, self.job.session)
        now = self.job.context.clock()
        rows = [
            ChapterRow(
                id=chapter.id,
                digit=str((place + 1) % 10),
                name=tr(CHAPTER_KINDS[chapter.id].title),
                state=chapter.state,
                told=chapter_state(self.job, chapter, now),
                next_word=tr("next") if chapter.id == self._next else "",
            )
            for place, chapter in enumerate(listed)
        ]
        rows += [ChapterRow(id=key_id, digit="", name=_look_name(key_id), key=_key(key_id)) for key_id in LOOKS]
        standing = "; ".join(stops(self.job))
        stopped = (
            tr("STOP: {what}. {key} tells why, and what to do.", what=standing, key=_key("job.results"))
            if standing
            else ""
        )
        self.query_one("#stops", Banner).say(stopped, loud=True)
        kind = job_name(self.job.session.job.kind)
        self.query_one("#where", Ruler).say(("due", tr("the whole job")), ("quiet", kind))
        shown_list = self.query_one(ChapterList)
        stays = self._seen == self.job.session.last_seq and shown_list.marked
        self._seen = self.job.session.last_seq
        shown_list.show_rows(rows, shown_list.marked if stays else self._next or listed[-1].id)
        self.query_one(Side).show_scene(latest_scene(self.job), DrawingScreen.alphabet)
        self._show_about()
        self.show_earlier()

    def show_earlier(self) -> None:
        """Below what the marked chapter is."""
        told = (*asking(self.job), *last_time(self.job), *own_placing(self.job))
        self.query_one("#earlier", Prose).paragraphs = told

    @on(ChapterList.Marked)
    def marked(self, message: ChapterList.Marked) -> None:
        """Say what the marked one is."""
        message.stop()
        self._show_about()

    def _show_about(self) -> None:
        row_id = self.query_one(ChapterList).marked
        told: list[Notice] = []
        if row_id in BY_ID or not row_id:
            told.append(Notice(overall_sentence(self.job.assessment.overall), tr("Checks")))
        else:
            chapter = CHAPTER_KINDS[cast("ChapterId", row_id)]
            told.append(Notice(tr(chapter.about), tr(chapter.title), "ink", "due"))
            told.append(Notice(tr(chapter.cost), tr("Skip"), "quiet"))
            if chapter.id in WALKED:
                keys = tr("{key}: conditions, wall mark and leveling dial for this stage.", key=_key("job.stage"))
                told.append(Notice(keys, part="quiet"))
        self.query_one("#about", Prose).paragraphs = tuple(told)

    @on(ChapterList.Taken)
    def taken(self, message: ChapterList.Taken) -> None:
        """Open the page of the chapter."""
        message.stop()
        if message.row_id in WALKED:
            to_walk(self.app)
        elif message.row_id in BY_ID:
            self.post_message(OpenPage(message.row_id))
        elif message.row_id == "air":
            self.post_message(OpenPage("job.air"))
        else:
            self.post_message(OpenChapter(message.row_id))

    def action_earlier(self) -> None:
        """Mark the line above."""
        self.query_one(ChapterList).turn(-1)

    def action_later(self) -> None:
        """Mark the line below."""
        self.query_one(ChapterList).turn(1)


def _key(key_id: str) -> str:
    return first_shown(BY_ID[key_id])


def _look_name(key_id: str) -> str:
    """A page that is looked at, by its key."""
    return {
        "job.stage": tr("this stage's conditions and marks"),
        "job.side": tr("from the side and from above"),
        "job.vehicle": tr("all facts, page by page"),
        "job.results": tr("what all readings mean"),
        "job.sheet": tr("customer copy, its code"),
    }[key_id]
