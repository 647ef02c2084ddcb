"""What earlier jobs say to a new one: which of them, how it is told, and what it is never taken for."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from cornerwalk.assess.estimate import Estimate
from cornerwalk.tables.hints import Hint, hint_brief, hint_for, hint_lines
from cornerwalk.tables.lessons import Air
from cornerwalk.wording.figures import Wording
from tests.support.jobs import separate_lines, worked_case
from tests.support.units import PSI
from tests.tables.shop import write_job
from tests.tables.taught import INCH, lesson, lessons

BEFORE = [
    lesson("old", opened_at="2025-03-01T08:00:00-07:00", registration="INV 123", slope=Estimate(0.16, 0.01),
           rate=Estimate(60.0, 2.0), began=100.0, left=150.0),
    lesson("new", opened_at="2026-05-04T08:00:00-06:00", registration="inv-123", slope=Estimate(0.18, 0.02),
           rate=Estimate(66.0, 3.0), began=20 * PSI, left=27 * PSI),
    lesson("van 2", registration="INV 999", slope=Estimate(0.11, 0.01), began=70.0),
    lesson("no plate", vehicle="Van", kit="kit B", slope=Estimate(0.2, 0.01), rate=Estimate(40.0, 1.0), began=50.0),
]  # fmt: skip


def hinted(**what: str) -> Hint:
    found = hint_for(BEFORE, **what)
    assert found is not None
    return found


def test_a_known_registration_says_what_was_last_time() -> None:
    """However it is written; the last job's figure and day, and all of them weighed by how sure they are."""
    hint = hinted(registration="Inv123", vehicle="something else", kit="KIT A")
    assert (hint.by, hint.jobs, hint.last_on, hint.air_on) == ("license plate", 2, "2026-05-04", "2026-05-04")
    assert (hint.began, hint.left) == (Air(20 * PSI, None, None), Air(27 * PSI, None, None))
    slope = hint.slopes["rear"]
    assert (slope.last, slope.last_on) == (Estimate(0.18, 0.02), "2026-05-04")
    assert slope.all.count == 2
    assert slope.all.mean.value == pytest.approx((4 * 0.16 + 0.18) / 5)
    assert slope.all.spread == pytest.approx(0.02 / math.sqrt(2))
    assert hint.ride_rate is not None
    assert hint.ride_rate.last == Estimate(66.0, 3.0)


def test_another_registration_is_another_vehicle() -> None:
    """The same description does not make it the same van; only the kit is left to go by."""
    hint = hinted(registration="NEW 1", vehicle="van", kit="kit A")
    assert hint.by == "kit"
    assert hint.ride_rate is None
    assert hint.slopes["rear"].all.count == 3
    assert hint_for(BEFORE, registration="NEW 1", vehicle="van", kit="kit X") is None


def test_a_description_goes_where_there_is_no_registration() -> None:
    """On both sides: a van that has a registration is not the one without."""
    hint = hinted(vehicle=" VAN ")
    assert (hint.by, hint.jobs) == ("description", 1)
    assert hint.began == Air(50.0, None, None)


def test_slopes_are_of_the_same_kit_and_rates_of_the_vehicle() -> None:
    """Another kit on the same vehicle says nothing of the new one's slope, but the vehicle's springs are the same."""
    hint = hinted(registration="INV 123", kit="kit B")
    assert hint.slopes == {}
    assert (hint.began, hint.air_on) == (None, "")
    assert hint.ride_rate is not None


def test_the_new_job_is_no_hint_to_itself() -> None:
    """Its own trials are readings, and are shown as such."""
    hint = hint_for(BEFORE, registration="INV 123", kit="kit A", excluding="new")
    assert hint is not None
    assert (hint.jobs, hint.last_on) == (1, "2025-03-01")
    assert hint.slopes["rear"].all.spread is None


def test_no_pressure_above_the_new_kits_maximum_is_shown() -> None:
    """What was in the old bags is no hint for bags that do not bear it."""
    hint = hinted(registration="INV 123")
    assert hint.within(None) == hint
    assert hint.within(27 * PSI) == hint
    lower = hint.within(25 * PSI)
    assert (lower.began, lower.left) == (Air(20 * PSI, None, None), None)
    assert hint.within(10 * PSI).began is None
    assert "left at" not in hint_brief(lower, INCH)


def test_a_hint_in_one_sentence_has_its_spread() -> None:
    """For the start of a job: slope with ±, how far the jobs lie apart, where it began, and that it is a hint."""
    assert hint_brief(hinted(registration="INV 123", kit="kit A"), INCH) == (
        "0.049 in/psi ± 0.011 (2 jobs scatter by 0.0038 in/psi), began at 20 psi, left at 27 psi. "
        "A hint of 2026-05-04, this vehicle."
    )
    assert "a vehicle described so" in hint_brief(hinted(vehicle="van"), INCH)
    assert "this kit on another vehicle" in hint_brief(hinted(kit="kit A"), INCH)


@pytest.mark.parametrize("what", [{}, {"vehicle": "  "}, {"license plate": " - "}, {"kit": "kit"}])
def test_nothing_known_is_no_hint(what: dict[str, str]) -> None:
    """A new vehicle, or one that nobody described."""
    assert hint_for(BEFORE, **what) is None
    assert hint_for([], registration="INV 123", kit="kit A") is None


def test_a_hint_is_told_as_one() -> None:
    """Last time and its spread, in the units asked for, and that nothing of it was read today."""
    lines = hint_lines(hinted(registration="INV 123", kit="kit A"), INCH)
    assert lines[0] == "last time on this vehicle, 2026-05-04: began at 20 psi, left at 27 psi"
    assert "0.049 in/psi ± 0.011 last time" in lines[1]
    assert "over 2 jobs, which scatter by" in lines[1]
    assert lines[-1] == "This is a hint from past jobs; none of it was read today."
    assert "reading" not in " ".join(lines)


def test_two_lines_are_told_apart(tmp_path: Path) -> None:
    """A line to each bag has a slope and a pressure of its own."""
    write_job(tmp_path, "2026-05-05-horse-11111111", separate_lines())
    (taught,) = lessons(tmp_path)
    assert set(taught.slopes) == {"LR", "RR"}
    assert taught.began == Air(None, 120.0, 100.0)
    assert taught.left == Air(None, 180.0, 150.0)
    hint = hint_for([taught], vehicle=taught.vehicle, kit=taught.kit)
    assert hint is not None
    assert "120 kPa left, 100 kPa right" in hint_lines(hint, Wording.for_tape("metric", 1.0))[0]


# The worked case: c1 0.04375 in/psi, u 0.0036084; K 65.0171 N/mm; trials at 15 and 25 psi (derived apart).
def test_a_lesson_is_what_the_job_says(tmp_path: Path) -> None:
    """Slope, ride rate and pressures of the worked case, to the digits it was reckoned to by hand."""
    write_job(tmp_path, "2026-05-04-job-11111111", worked_case())
    (taught,) = lessons(tmp_path)
    assert taught.slopes["rear"].value == pytest.approx(0.04375 * 25.4 / PSI)
    assert taught.slopes["rear"].u == pytest.approx(0.0036084 * 25.4 / PSI, rel=1e-4)
    assert taught.ride_rate is not None
    assert taught.ride_rate.value == pytest.approx(65.0171, rel=1e-6)
    assert taught.began is not None
    assert taught.began.both_kPa == pytest.approx(15 * PSI)
    assert taught.left is not None
    assert taught.left.both_kPa == pytest.approx(25 * PSI)
    assert (taught.vehicle, taught.registration, taught.kit) == (
        "mid-size people carrier, invented",
        "INV 123",
        "invented kit",
    )


def test_a_job_begun_before_another_is_earlier_whatever_its_clock_says() -> None:
    """Days are told as recorded, and put in order as moments: 23:00 in the west is after 06:00 in the east next day."""
    west = lesson("west", opened_at="2026-05-04T23:00:00-07:00", registration="A", began=100.0)
    east = lesson("east", opened_at="2026-05-05T06:00:00+02:00", registration="A", began=200.0)
    hint = hint_for([east, west], registration="a")
    assert hint is not None
    assert hint.began == Air(100.0, None, None)
