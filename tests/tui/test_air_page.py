"""The air page: trials begun with what the gauge shows, the what-if under the arrows, too much air refused."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from cornerwalk.assess.what_if import WhatIfChange, basis, what_if
from cornerwalk.context import WalkView
from cornerwalk.session.events import Event
from cornerwalk.tui.screens.air import AirScreen
from cornerwalk.tui.widgets.air_plot import AirPlot
from cornerwalk.tui.widgets.rows import RowWidget
from cornerwalk.tui.widgets.side import Side
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards
from tests.support.units import LBF, PSI
from tests.tui.chapters import cut_off, open_chapter
from tests.tui.driving import TRIAL_15, Act, Driver, context_of, driven

TRIALS = WORKED_CASE.partition("[leak]")[0]
BEFORE_AIR = WORKED_CASE.partition('[[stage]]\nname = "fitted"')[0]
ONE_TRIAL = WORKED_CASE.partition('[[stage]]\nname = "fitted"\npressure = "25')[0]


def on_the_air_page(folder: Path, sheet: str, act: Act, *more: Event, size: tuple[int, int] = (80, 24)) -> None:
    """Open the page and do something."""

    async def run() -> None:
        async with driven(context_of(folder), WalkView(cut_off(folder, job_of(sheet, *more).events)), size=size) as d:
            await open_chapter(d, "6")
            assert d.page == "AirScreen", d.text
            await act(d)

    asyncio.run(run())


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


def test_a_pressure_and_enter_begin_a_trial_and_the_walk_reads_it(tmp_path: Path) -> None:
    """Digits, Enter, four heights: the next trial is on the page."""

    async def act(d: Driver) -> None:
        await d.key_in("20")
        assert d.page == "WalkScreen"
        assert d.session.trials[-1].pressure_entered == "20"
        await d.key_in(*TRIAL_15)
        await open_chapter(d, "6")
        assert said(d, "#trials") == "15 psi down 15/16 25 psi down 1/2 20 psi down 15/16"

    on_the_air_page(tmp_path, TRIALS, act)


def test_over_the_kits_maximum_nothing_is_begun_and_it_is_said_loudly(tmp_path: Path) -> None:
    """41 psi on a kit of 40 is refused while it is typed and again at Enter; nothing of it is recorded."""

    async def act(d: Driver) -> None:
        before = d.events
        await d.type("41")
        warned = d.app.screen.query_one("#refused", RowWidget).rows(80)
        assert warned[0][0][0] == "alarm"
        assert "41 is over the kit maximum of 40 psi: bleed down before anything else." in said(d, "#refused")
        await d.press("enter")
        assert d.page == "AirScreen"
        assert d.events == before
        assert "over the kit maximum" in said(d, "#refused")

    on_the_air_page(tmp_path, TRIALS, act)


def test_the_maximum_itself_is_no_too_much(tmp_path: Path) -> None:
    """40 psi on a kit of 40 begins a trial."""

    async def act(d: Driver) -> None:
        await d.key_in("40")
        assert d.page == "WalkScreen"

    on_the_air_page(tmp_path, TRIALS, act)


def test_enter_alone_begins_nothing(tmp_path: Path) -> None:
    """A trial is begun with what the gauge shows, never with what was recommended."""

    async def act(d: Driver) -> None:
        before = d.events
        await d.press("right", "enter")
        assert d.events == before
        assert "Type what the gauge shows" in said(d, "#refused")

    on_the_air_page(tmp_path, TRIALS, act)


def test_the_arrows_ask_what_would_be_and_record_nothing(tmp_path: Path) -> None:
    """Two steps of air, one of load: the figures are those of the reckoning, drawings move, the file does not."""

    async def act(d: Driver) -> None:
        before, still = d.events, picture(d)
        await d.press("right", "right", "up")
        job = job_of(TRIALS)
        expected = what_if(basis(job.session, standards()), WhatIfChange(pressure_kPa=27 * PSI, tongue_N=420 * LBF))
        assert d.app.job is not None
        wording = d.app.job.wording
        assert "what if: 27 psi, 420 lb tongue weight" in d.text
        assert f"rear {wording.change_pm(expected.rear_mm, expected.u_rear_mm)}" in said(d, "#would")
        assert wording.beam(expected.shift_mm, expected.u_shift_mm, 7620.0) in said(d, "#would")
        assert wording.gain(expected.rear_gain_N) in said(d, "#would")
        assert "nothing of whether the axles may carry that load" in said(d, "#would")
        moved = picture(d)
        assert moved[0] != still[0]
        assert moved[1] != still[1]
        assert d.events == before
        await d.press("escape")
        assert "as read: 25 psi, 410 lb tongue weight" in d.text
        assert picture(d) == still

    on_the_air_page(tmp_path, TRIALS, act, size=(120, 40))


def test_the_arrows_move_both_sides_of_separate_lines(tmp_path: Path) -> None:
    """With a line to each bag a step is more air on both; the words name left and right, and the kit limits each."""

    async def act(d: Driver) -> None:
        assert "as read: 180 kPa left, 150 kPa right" in d.text
        await d.press("right")
        assert "what if: 190 kPa left, 160 kPa right" in d.text
        await d.press(*["right"] * 7)
        assert "250 kPa is the kit's maximum" in said(d, "#refused")
        assert "what if: 250 kPa left, 220 kPa right" in d.text

    on_the_air_page(tmp_path, SEPARATE_LINES, act, size=(120, 40))


def test_a_typed_text_has_its_arrows_back(tmp_path: Path) -> None:
    """While something is typed, left and right move in it and ask nothing."""

    async def act(d: Driver) -> None:
        await d.type("25")
        await d.press("left")
        await d.type("1")
        assert "as read" in d.text
        await d.press("escape")
        await d.press("right")
        assert "what if: 26 psi" in d.text

    on_the_air_page(tmp_path, TRIALS, act)


@pytest.mark.parametrize(
    ("key", "words"), [("right", "40 psi is the kit's maximum"), ("left", "8 psi is the kit's minimum")]
)
def test_the_what_if_stops_at_the_kits_limits(tmp_path: Path, key: str, words: str) -> None:
    """Not even in thought is more air in than the kit allows, nor less; it stays at the limit and says so."""

    async def act(d: Driver) -> None:
        await d.press(*[key] * 25)
        assert words in said(d, "#refused")
        assert f"what if: {words.partition(' is')[0]}" in d.text

    on_the_air_page(tmp_path, TRIALS, act)


def test_what_was_read_is_told_as_read_whatever_the_line_says(tmp_path: Path) -> None:
    """With one trial there is no line; what stands there is the reading: rear down 0.90625 in, 0.556690 deg."""

    # By hand, as in the worked case: mean of 29 3/16 and 29 1/4 less mean of 28 1/4 and 28 3/8.
    async def act(d: Driver) -> None:
        assert "rear down 0.91 in ± 0.21, nose up 0.56° ± 0.11" in said(d, "#would")
        await d.press("right")
        assert "once two pressures were tried" in said(d, "#refused")
        await d.press("up")
        assert "what if: no air, 420 lb tongue weight" in d.text

    on_the_air_page(tmp_path, ONE_TRIAL, act)


def test_the_next_trial_is_told_with_its_reason(tmp_path: Path) -> None:
    """Before the first the kit's minimum; after two the one that narrows the answer most, and by how much."""

    async def first(d: Driver) -> None:
        assert "a trial at 8 psi: the kit minimum comes first" in said(d, "#advice")

    async def third(d: Driver) -> None:
        told = said(d, "#advice")
        assert "a trial at 35 psi: it narrows the answer most" in told
        assert "sure to ± 8.6 psi now; it would be to ± 4.6 psi" in told

    (tmp_path / "first").mkdir()
    (tmp_path / "third").mkdir()
    on_the_air_page(tmp_path / "first", BEFORE_AIR, first)
    on_the_air_page(tmp_path / "third", TRIALS, third)


def test_separate_lines_are_asked_left_then_right(tmp_path: Path) -> None:
    """Each side has its own gauge; the trial begins when both were typed."""

    async def act(d: Driver) -> None:
        before = len(d.events)
        await d.key_in("200")
        assert d.page == "AirScreen"
        assert len(d.events) == before
        assert "the right gauge's pressure" in d.text
        await d.key_in("170")
        assert d.page == "WalkScreen"
        trial = d.session.trials[-1]
        assert (trial.left_entered, trial.right_entered) == ("200", "170")

    on_the_air_page(tmp_path, SEPARATE_LINES, act)


def test_one_key_draws_in_blocks_on_every_page(tmp_path: Path) -> None:
    """A terminal without braille shows drawings after one key, and they stay so on the next page."""

    async def act(d: Driver) -> None:
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

    on_the_air_page(tmp_path, TRIALS, act)


def test_without_a_stated_maximum_the_page_says_that_nothing_stops_too_much_air(tmp_path: Path) -> None:
    """A limit that is not known is no limit that is kept."""

    async def act(d: Driver) -> None:
        assert "nothing stops too much air" in d.text
        assert isinstance(d.app.screen, AirScreen)

    on_the_air_page(tmp_path, BEFORE_AIR.replace('max = "40 psi"\n', ""), act)
