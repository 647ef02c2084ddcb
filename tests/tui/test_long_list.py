"""A list of any length makes only the rows that are seen."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

import pytest
from textual.app import App, ComposeResult

from cornerwalk.tui.themes import DAY, PARTS
from cornerwalk.tui.widgets.long_list import LongList
from cornerwalk.tui.widgets.rows import Row
from tests.support.screens import screen_text

COUNT = 10_000


class ListApp(App[None]):
    """A list alone; `made` are the places of the rows that were made."""

    def __init__(self) -> None:
        super().__init__()
        self.made: list[int] = []

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return {part: DAY.part(part) for part in PARTS}

    def compose(self) -> ComposeResult:
        yield LongList(self.row, empty="nothing")

    def row(self, place: int, _width: int) -> Row:
        self.made.append(place)
        return [("ink", f"row {place}")]

    @property
    def listing(self) -> LongList:
        return self.query_one(LongList)


def look_at(look: Callable[[ListApp], object], *, height: int = 20) -> list[str]:
    """Do something with the list; what it shows then."""
    shown: list[str] = []

    async def running() -> None:
        app = ListApp()
        async with app.run_test(size=(40, height)) as pilot:
            await pilot.pause()
            look(app)
            await pilot.pause()
            await pilot.pause()
            shown.extend(screen_text(app).splitlines())

    asyncio.run(running())
    return shown


def test_only_rows_in_sight_are_made() -> None:
    """Of ten thousand rows, as many as the window has, wherever in them it stands."""
    made: list[int] = []

    def look(app: ListApp) -> None:
        app.listing.show(COUNT)
        app.made.clear()
        app.listing.move_to(COUNT - 1)
        made.extend(app.made)

    shown = look_at(look)
    assert set(made) <= set(range(COUNT - 21, COUNT))
    assert shown[-1] == f" ▸ row {COUNT - 1}"
    assert shown[0] == f"   row {COUNT - 20}"


@pytest.mark.parametrize(
    ("moves", "mark", "first"),
    [
        ([("move", 1)], 1, 0),
        ([("move", -1)], 0, 0),
        ([("move", 19)], 19, 0),
        ([("move", 20)], 20, 1),
        ([("move_page", 1)], 19, 0),
        ([("move_page", 2)], 38, 19),
        ([("move_to", COUNT)], COUNT - 1, COUNT - 20),
        ([("move_to", COUNT), ("move_page", -1)], COUNT - 20, COUNT - 20),
        ([("move_to", COUNT), ("move", -20)], COUNT - 21, COUNT - 21),
        ([("move_to", -5)], 0, 0),
    ],
)
def test_the_mark_stays_in_sight(moves: list[tuple[str, int]], mark: int, first: int) -> None:
    """Moving by row, by page and to the ends; beyond them it stays at them."""

    def look(app: ListApp) -> None:
        app.listing.show(COUNT)
        for name, by in moves:
            getattr(app.listing, name)(by)

    shown = look_at(look)
    assert shown[mark - first] == f" ▸ row {mark}"
    assert sum("▸" in line for line in shown) == 1


def test_an_empty_list_says_so() -> None:
    """And nothing is marked."""

    def look(app: ListApp) -> None:
        app.listing.show(0)
        app.listing.move(1)
        assert app.listing.mark is None

    assert look_at(look)[0].strip() == "nothing"


def test_a_shorter_list_marks_its_last_row() -> None:
    """A search that leaves less than the mark's place."""

    def look(app: ListApp) -> None:
        app.listing.show(COUNT, mark=500)
        app.listing.show(3, mark=500)

    assert look_at(look)[2] == " ▸ row 2"
