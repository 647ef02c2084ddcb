"""The air page: trials begun with what the gauge shows, the what-if under the arrows, too much air refused."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from cornerwalk.assess.what_if import WhatIfChange, basis, what_if
from cornerwalk.session.events import Event
from cornerwalk.tui.screens.air import AirScreen
from cornerwalk.tui.widgets.air_plot import AirPlot
from cornerwalk.tui.widgets.rows import RowWidget
from cornerwalk.tui.widgets.side import Side
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards
from tests.support.units import LBF, PSI
from tests.tui.chapters import open_chapter, opened
from tests.tui.driving import TRIAL_15, Driver

TRIALS = WORKED_CASE.partition("[leak]")[0]
BEFORE_AIR = WORKED_CASE.partition('[[stage]]\nname = "fitted"')[0]
ONE_TRIAL = WORKED_CASE.partition('[[stage]]\nname = "fitted"\npressure = "25')[0]


@asynccontextmanager
async def on_the_air_page(
    folder: Path, sheet: str, *more: Event, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[Driver]:
    """The app on the page."""
    async with opened(folder, sheet, *more, size=size) as d:
        await open_chapter(d, "6")
        assert d.page == "AirScreen", d.text
        yield d


def drawn(d: Driver, selector: str) -> str:
    """What a part of the page says, in one line."""
    widget = d.app.screen.query_one(selector, RowWidget)
    return " ".join("".join(text for _, text in row) for row in widget.rows(widget.size.width))


def said(d: Driver, selector: str) -> str:
    """The same with single spaces."""
    return " ".join(drawn(d, selector).split())


def picture(d: Driver) -> tuple[str, str]:
    """The two drawings as they are painted."""
    plot, side = d.app.screen.query_one(AirPlot), d.app.screen.query_one(Side)
    return str(plot.rows(plot.size.width)), str(side.rows(side.size.width))


async def test_a_pressure_and_enter_begin_a_trial_and_the_walk_reads_it(tmp_path: Path) -> None:
    """Digits, Enter, four heights: the next trial is on the page."""
    async with on_the_air_page(tmp_path, TRIALS) as d:
        await d.key_in("20")
        assert d.page == "WalkScreen"
        assert d.session.trials[-1].pressure_entered == "20"
        await d.key_in(*TRIAL_15)
        await open_chapter(d, "6")
        assert said(d, "#trials") == "15 psi down 15/16 25 psi down 1/2 20 psi down 15/16"


async def test_over_the_kits_maximum_nothing_is_begun_and_it_is_said_loudly(tmp_path: Path) -> None:
    """41 psi on a kit of 40 is refused while it is typed and again at Enter; nothing of it is recorded."""
    async with on_the_air_page(tmp_path, TRIALS) as d:
        before = d.events
        await d.type("41")
        warned = d.app.screen.query_one("#refused", RowWidget).rows(80)
        assert warned[0][0][0] == "alarm"
        assert "41 is over the kit's maximum of 40 psi: let air out before anything else." in said(d, "#refused")
        await d.press("enter")
        assert d.page == "AirScreen"
        assert d.events == before
        assert "over the kit's maximum" in said(d, "#refused")


async def test_the_maximum_itself_is_no_too_much(tmp_path: Path) -> None:
    """40 psi on a kit of 40 begins a trial."""
    async with on_the_air_page(tmp_path, TRIALS) as d:
        await d.key_in("40")
        assert d.page == "WalkScreen"


async def test_enter_alone_begins_nothing(tmp_path: Path) -> None:
    """A trial is begun with what the gauge shows, never with what was recommended."""
    async with on_the_air_page(tmp_path, TRIALS) as d:
        before = d.events
        await d.press("right", "enter")
        assert d.events == before
        assert "Type what the gauge shows" in said(d, "#refused")


async def test_the_arrows_ask_what_would_be_and_record_nothing(tmp_path: Path) -> None:
    """Two steps of air, one of load: the figures are those of the reckoning, drawings move, the file does not."""
    async with on_the_air_page(tmp_path, TRIALS, size=(120, 40)) as d:
        before, still = d.events, picture(d)
        await d.press("right", "right", "up")
        job = job_of(TRIALS)
        expected = what_if(basis(job.session, standards()), WhatIfChange(pressure_kPa=27 * PSI, tongue_N=420 * LBF))
        assert d.app.job is not None
        wording = d.app.job.wording
        assert "what if: 27 psi, 420 lb on the tongue" in d.text
        assert f"rear {wording.change_pm(expected.rear_mm, expected.u_rear_mm)}" in said(d, "#would")
        assert wording.beam(expected.shift_mm, expected.u_shift_mm, 7620.0) in said(d, "#would")
        assert wording.gain(expected.rear_gain_N) in said(d, "#would")
        assert "nothing of whether the axles may carry that load" in said(d, "#would")
        moved = picture(d)
        assert moved[0] != still[0]
        assert moved[1] != still[1]
        assert d.events == before
        await d.press("escape")
        assert "as read: 25 psi, 410 lb on the tongue" in d.text
        assert picture(d) == still


async def test_the_arrows_move_both_sides_of_separate_lines(tmp_path: Path) -> None:
    """With a line to each bag a step is more air on both; the words name left and right, and the kit limits each."""
    async with on_the_air_page(tmp_path, SEPARATE_LINES, size=(120, 40)) as d:
        assert "as read: 180 kPa left, 150 kPa right" in d.text
        await d.press("right")
        assert "what if: 190 kPa left, 160 kPa right" in d.text
        await d.press(*["right"] * 7)
        assert "250 kPa is the kit's maximum" in said(d, "#refused")
        assert "what if: 250 kPa left, 220 kPa right" in d.text


async def test_a_typed_text_has_its_arrows_back(tmp_path: Path) -> None:
    """While something is typed, left and right move in it and ask nothing."""
    async with on_the_air_page(tmp_path, TRIALS) as d:
        await d.type("25")
        await d.press("left")
        await d.type("1")
        assert "as read" in d.text
        await d.press("escape")
        await d.press("right")
        assert "what if: 26 psi" in d.text


@pytest.mark.parametrize(
    ("key", "words"), [("right", "40 psi is the kit's maximum"), ("left", "8 psi is the kit's minimum")]
)
async def test_the_what_if_stops_at_the_kits_limits(tmp_path: Path, key: str, words: str) -> None:
    """Not even in thought is more air in than the kit allows, nor less; it stays at the limit and says so."""
    async with on_the_air_page(tmp_path, TRIALS) as d:
        await d.press(*[key] * 25)
        assert words in said(d, "#refused")
        assert f"what if: {words.partition(' is')[0]}" in d.text


async def test_what_was_read_is_told_as_read_whatever_the_line_says(tmp_path: Path) -> None:
    """With one trial there is no line; what stands there is the reading: rear down 0.90625 in, 0.556690 deg."""
    # By hand, as in the worked case: mean of 29 3/16 and 29 1/4 less mean of 28 1/4 and 28 3/8.
    async with on_the_air_page(tmp_path, ONE_TRIAL) as d:
        assert "rear down 0.91 in ± 0.07, nose up 0.56° ± 0.05" in said(d, "#would")
        await d.press("right")
        assert "once two pressures were tried" in said(d, "#refused")
        await d.press("up")
        assert "what if: no air, 420 lb on the tongue" in d.text


async def test_the_next_trial_is_told_with_its_reason(tmp_path: Path) -> None:
    """Before the first the kit's minimum; after two the one that narrows the answer most, and by how much."""
    (tmp_path / "first").mkdir()
    (tmp_path / "third").mkdir()
    async with on_the_air_page(tmp_path / "first", BEFORE_AIR) as d:
        assert "a trial at 8 psi: the kit's minimum comes first" in said(d, "#advice")
    async with on_the_air_page(tmp_path / "third", TRIALS) as d:
        told = said(d, "#advice")
        assert "a trial at 35 psi: it narrows the answer most" in told
        assert "sure to ± 3.0 psi now; it would be to ± 1.6 psi" in told


async def test_separate_lines_are_asked_left_then_right(tmp_path: Path) -> None:
    """Each side has its own gauge; the trial begins when both were typed."""
    async with on_the_air_page(tmp_path, SEPARATE_LINES) as d:
        before = len(d.events)
        await d.key_in("200")
        assert d.page == "AirScreen"
        assert len(d.events) == before
        assert "the right gauge's pressure" in d.text
        await d.key_in("170")
        assert d.page == "WalkScreen"
        trial = d.session.trials[-1]
        assert (trial.left_entered, trial.right_entered) == ("200", "170")


async def test_one_key_draws_in_blocks_on_every_page(tmp_path: Path) -> None:
    """A terminal without braille shows drawings after one key, and they stay so on the next page."""
    async with on_the_air_page(tmp_path, TRIALS) as d:

        def braille() -> bool:
            return any("\u2801" <= character <= "\u28ff" for character in d.text)

        assert braille()
        await d.press("f6")
        assert not braille()
        await d.press("f12")
        assert d.page == "SideScreen"
        assert not braille()
        await d.press("f6")
        assert braille()


async def test_without_a_stated_maximum_the_page_says_that_nothing_stops_too_much_air(tmp_path: Path) -> None:
    """A limit that is not known is no limit that is kept."""
    async with on_the_air_page(tmp_path, BEFORE_AIR.replace('max = "40 psi"\n', "")) as d:
        assert "nothing stops too much air" in d.text
        assert isinstance(d.app.screen, AirScreen)
