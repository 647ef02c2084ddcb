"""Goes through the chapters of a job in a test, keyboard only: which line is asked is read off the page."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from cornerwalk.session.checklist import Checklists, load_checklists
from cornerwalk.tui.lines.line import Line
from cornerwalk.tui.screens.chapter import ChapterScreen
from tests.tui.driving import Driver

LISTS: Checklists = load_checklists()
GOOD = {item.id: item.good or "yes" for group in LISTS.lists for item in group.items}
"""The answer hoped for to each question of the packaged lists."""

NUMBERS = {"yes": "1", "no": "2", "not checked": "3", "not fitted": "4", "referred": "5", "customer declined": "6"}

Answers = Mapping[str, Sequence[str]]
"""What is typed at each question of a line, by the line's id; a line not in it is passed over with Enter."""


def asked(d: Driver) -> Line | None:
    """The line that the open chapter asks; None at its end."""
    page = d.app.screen
    assert isinstance(page, ChapterScreen), d.text
    return page.course.line


async def fill(d: Driver, answers: Answers, *, otherwise: Callable[[Line], Sequence[str]] = lambda _line: ()) -> None:
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


def as_hoped(line: Line) -> Sequence[str]:
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
