"""The code on the screen, photographed and read by a decoder of other people's: the figures of the report."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from rich.color import Color
from textual.widgets import Static

from cornerwalk.context import WalkView
from cornerwalk.report.qr import key_figures
from cornerwalk.tui.app import CornerwalkApp
from cornerwalk.tui.screens.sheet import codes_that_fit, size_needed
from cornerwalk.wording.figures import Wording
from tests.support.jobs import WORKED_CASE, job_of
from tests.tui.chapters import cut_off
from tests.tui.driving import Driver, context_of, driven

np = pytest.importorskip("numpy")
zxingcpp = pytest.importorskip("zxingcpp")

HALVES = {" ": (0, 0), "▀": (1, 0), "▄": (0, 1), "█": (1, 1)}
SCALE = 4


def photographed(app: CornerwalkApp) -> object:
    """The code view as a camera sees it: each cell two squares, of the colours it is painted in."""
    view = app.screen.query_one("#code", Static)
    rows = []
    for y in range(view.size.height):
        upper, lower = [], []
        for segment in view.render_line(y):
            style = segment.style
            assert style is not None
            ink, ground = brightness(style.color), brightness(style.bgcolor)
            for character in segment.text:
                above, below = HALVES.get(character, (0, 0))
                upper.append(ink if above else ground)
                lower.append(ink if below else ground)
        rows += [upper, lower]
    picture = np.array(rows, dtype=np.uint8)
    return np.kron(picture, np.ones((SCALE, SCALE), dtype=np.uint8))


def brightness(colour: Color | None) -> int:
    """How bright a colour of the screen is, from 0 to 255."""
    if colour is None:
        return 0
    seen = colour.get_truecolor()
    return round(0.299 * seen.red + 0.587 * seen.green + 0.114 * seen.blue)


def read_off(app: CornerwalkApp) -> str:
    """What the decoder reads."""
    found = zxingcpp.read_barcodes(photographed(app))
    assert len(found) == 1, "the decoder found no code, or several"
    return str(found[0].text)


def shown(folder: Path, size: tuple[int, int], theme: str) -> tuple[list[str], str]:
    """The texts of all codes in a window of this size, and the figures the report has."""
    texts: list[str] = []
    figures: list[str] = []

    async def run() -> None:
        context = context_of(folder, theme=theme)
        async with driven(context, WalkView(cut_off(folder, job_of(WORKED_CASE).events)), size=size) as d:
            await to_the_sheet(d)
            await d.press("f6")
            job = d.app.job
            assert job is not None
            figures.append(key_figures(job.session, job.assessment, job.wording))
            for _ in range(20):
                texts.append(read_off(d.app))
                await d.press("right")
                if read_off(d.app) == texts[0]:
                    return

    asyncio.run(run())
    return texts, figures[0]


async def to_the_sheet(d: Driver) -> None:
    """By the page of the whole job."""
    await d.press("f9")
    for _ in range(15):
        await d.press("down")
    await d.press("enter")
    assert d.page == "SheetScreen", d.text


@pytest.mark.parametrize("theme", ["day", "shop", "night"])
def test_one_code_reads_back_the_figures_of_the_report(tmp_path: Path, theme: str) -> None:
    """In a large window a single code holds all of it, and a decoder reads it in every look."""
    texts, figures = shown(tmp_path, (120, 50), theme)
    assert texts == [figures]


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
def test_several_codes_read_back_the_same_figures_together(tmp_path: Path, size: tuple[int, int]) -> None:
    """In a small window the codes, in their order, say word for word what the one would."""
    texts, figures = shown(tmp_path, size, "day")
    assert len(texts) > 1
    assert " ".join(" ".join(texts).split()) == " ".join(figures.split())


def test_no_figure_is_cut_from_its_uncertainty() -> None:
    """Wherever a text is cut into codes, a number keeps its unit and its ±."""
    figures = key_figures(job_of(WORKED_CASE).session, job_of(WORKED_CASE).assessment, Wording("inch"))
    for rows in range(20, 40):
        for code in codes_that_fit(figures, 80, rows):
            assert not code.text.lstrip().startswith(("±", "in", "psi", "°"))
            assert not code.text.rstrip().endswith(("±", "up", "down"))
            assert code.columns <= 80
            assert code.rows <= rows


async def test_a_window_that_is_too_small_says_what_it_would_take(tmp_path: Path) -> None:
    """No half of a code is shown: the sheet stays, and the size that is needed is told."""
    context = context_of(tmp_path)
    async with driven(context, WalkView(cut_off(tmp_path, job_of(WORKED_CASE).events)), size=(60, 20)) as d:
        await to_the_sheet(d)
        await d.press("f6")
        assert d.app.job is not None
        text = key_figures(d.app.job.session, d.app.job.assessment, d.app.job.wording)
        columns, rows = size_needed(text)
        assert f"{columns} × {rows + 1}" in " ".join(d.text.split())
        assert not d.app.screen.query_one("#codes").display
