"""Goes through the chapters of a job in a test, keyboard only: which line is asked is read off the page."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractAsyncContextManager
from pathlib import Path

from textual.widget import Widget

from cornerwalk.context import WalkView
from cornerwalk.job.question import Question
from cornerwalk.session import RecordedEvent
from cornerwalk.session.checklist import Checklists, load_checklists
from cornerwalk.session.events import Event
from cornerwalk.session.log import event_to_json
from cornerwalk.store.format import event_line, file_bytes
from cornerwalk.tui.screens.chapter import ChapterScreen
from cornerwalk.tui.widgets.rows import RowWidget
from tests.support.clock import FrozenClock
from tests.support.jobs import WORKED_CASE, job_of
from tests.tui.driving import Driver, context_of, driven

LISTS: Checklists = load_checklists()
GOOD = {item.id: item.good or "yes" for group in LISTS.lists for item in group.items}
"""The answer hoped for to each question of the packaged lists."""

NUMBERS = {"yes": "1", "no": "2", "not checked": "3", "not fitted": "4", "referred": "5", "customer declined": "6"}

Answers = Mapping[str, Sequence[str]]
"""What is typed at each question of a line, by the line's id; a line not in it is passed over with Enter."""


def asked(d: Driver) -> Question | None:
    """The line that the open chapter asks; None at its end."""
    page = d.app.screen
    assert isinstance(page, ChapterScreen), d.text
    return page.course.line


async def fill(
    d: Driver, answers: Answers, *, otherwise: Callable[[Question], Sequence[str]] = lambda _line: ()
) -> None:
    """Go through the chapter from where it stands to its end."""
    for _ in range(400):
        page = d.app.screen
        if not isinstance(page, ChapterScreen) or page.course.line is None:
            return
        line, given = page.course.line, len(page.course.given)
        texts = answers.get(line.id, otherwise(line))
        text = texts[given] if given < len(texts) else ""
        part = page.course.part
        assert part is not None
        if text and part.options and len(part.options) <= 9:
            await d.press(*text)
        else:
            await d.key_in(text)
    raise AssertionError(f"the chapter never ended:\n{d.text}")


def as_hoped(line: Question) -> Sequence[str]:
    """The answer hoped for to a question of a checklist, with a note where one is asked for; nothing elsewhere."""
    if line.id not in GOOD:
        return ()
    return (NUMBERS[GOOD[line.id]], "1 in at the lower coil" if line.id.startswith("clearance") else "")


async def open_chapter(d: Driver, digit: str) -> None:
    """From wherever one is, by the page of the whole job."""
    await d.press("f9")
    await d.press(digit)


async def click(d: Driver, text: str, *, last: bool = False) -> None:
    """Click in the middle of these words, wherever they stand on the screen; on the last of them if asked."""
    found = [(line.index(text) + len(text) // 2, row) for row, line in enumerate(d.text.split("\n")) if text in line]
    assert found, f"{text!r} is not on the screen:\n{d.text}"
    await d.pilot.click(offset=found[-1 if last else 0])
    await d.pilot.pause(0.02)
    await d.pilot.pause()


def cut_off(folder: Path, events: tuple[RecordedEvent, ...]) -> Path:
    """The session file as it was on the disk after these events."""
    opened = events[0].payload
    session = getattr(opened, "session", "")
    path = folder / "sessions" / "2026-05-04-cut-off.json"
    path.parent.mkdir(parents=True)
    path.write_bytes(file_bytes(session, [event_line(event_to_json(event)) for event in events]))
    return path


NEW = '[job]\ntitle = "Just opened"\n'
UNLOADED_ONLY = WORKED_CASE.partition('[[stage]]\nname = "loaded"')[0]
BEFORE_AIR = WORKED_CASE.partition('[[stage]]\nname = "fitted"')[0]
ONE_TRIAL = WORKED_CASE.partition('[[stage]]\nname = "fitted"\npressure = "25')[0]
TRIALS = WORKED_CASE.partition("[leak]")[0]
"""Sheets: a job just opened; the worked case broken off after each stage."""


def opened(
    folder: Path, sheet: str, *more: Event, clock: FrozenClock | None = None, size: tuple[int, int] = (80, 24)
) -> AbstractAsyncContextManager[Driver]:
    """The app on the walk of a job."""
    return driven(context_of(folder, clock), WalkView(cut_off(folder, job_of(sheet, *more).events)), size=size)


def last(d: Driver) -> Event:
    """What was recorded last."""
    return d.events[-1].payload


def line(d: Driver) -> str:
    """The line that is asked."""
    page = d.app.screen
    assert isinstance(page, ChapterScreen)
    return page.course.line.id if page.course.line is not None else ""


async def ask(d: Driver, line_id: str) -> None:
    """Go down the chapter to this line."""
    page = d.app.screen
    assert isinstance(page, ChapterScreen)
    ids = [line.id for line in page.course.lines]
    assert line_id in ids, f"{line_id} is not in the chapter"
    here = ids.index(page.course.line.id) if page.course.line is not None else len(ids)
    steps = ids.index(line_id) - here
    await d.press(*["down" if steps > 0 else "up"] * abs(steps))
    assert line(d) == line_id


def words(d: Driver) -> str:
    """What is in sight, each part of the page in one line however it is wrapped."""
    seen = []
    for widget in d.app.screen.query(RowWidget):
        if widget.display and widget.size and isinstance(widget.parent, Widget):
            rows = ["".join(text for _, text in row) for row in widget.rows(widget.size.width)]
            shown = widget.region.intersection(widget.parent.region)
            first = shown.y - widget.region.y
            seen.append(" ".join(" ".join(rows[first : first + shown.height]).split()))
    return " | ".join(seen)
