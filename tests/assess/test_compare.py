"""Two stages of one job: differences whose shared readings drop out, held against automatic propagation."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from uncertainties import ufloat, umath

from cornerwalk.assess.compare import AssessedJob, Difference, compare_stages
from cornerwalk.session.events import MarkRead
from tests.support.jobs import WORKED_CASE, InventedJob, half_done, job_of, separate_lines, worked_case
from tests.support.units import IN

L, T, A, D, B = 119 * IN, 66 * IN, 31 * IN, 300 * IN, 46 * IN
U_READ_MM = math.hypot(IN / 16 / math.sqrt(12), IN / 32)
AIM_DEG = -0.4
"""The worked case's facts, in inches on its sheet; the aim is its rule's nominal."""

Corners = dict[str, Any]


def assessed(job: InventedJob) -> AssessedJob:
    return AssessedJob(job.session, job.assessment)


def by_figure(job: AssessedJob, one: Any, other: Any) -> dict[str, Difference]:
    (pair,) = compare_stages(job, one, other).pairs
    return {each.figure: each for each in pair.differences}


def readings(lf: float, rf: float, rr: float, lr: float) -> Corners:
    """Four independent readings, in mm, each with its own u."""
    values = {"LF": lf, "RF": rf, "RR": rr, "LR": lr}
    return {corner: ufloat(inches * IN, U_READ_MM) for corner, inches in values.items()}


def figures(unloaded: Corners, now: Corners) -> dict[str, Any]:
    """What a stage says, reckoned by propagating every reading through every formula."""
    moved = {corner: now[corner] - unloaded[corner] for corner in now}
    front, rear = (moved["LF"] + moved["RF"]) / 2, (moved["RR"] + moved["LR"]) / 2
    left, right = (moved["LF"] + moved["LR"]) / 2, (moved["RF"] + moved["RR"]) / 2
    pitch = umath.atan((front - rear) / L)
    aim = math.radians(AIM_DEG)
    shift = D * (umath.tan(aim + pitch) - math.tan(aim))
    return {
        "nose up": pitch * 180 / math.pi,
        "left up": umath.atan((left - right) / T) * 180 / math.pi,
        "ball": rear - (front - rear) * B / L,
        "beam": shift,
        "wall": shift + front + A * (front - rear) / L,
    }


UNLOADED = readings(28 + 5 / 8, 28 + 11 / 16, 29 + 3 / 16, 29 + 1 / 4)
LOADED = readings(28 + 7 / 8, 28 + 15 / 16, 27 + 5 / 8, 27 + 3 / 4)
FITTED = readings(28 + 7 / 8, 28 + 15 / 16, 28 + 11 / 16, 28 + 13 / 16)


@pytest.mark.parametrize("name", ["nose up", "left up", "ball", "beam", "wall"])
def test_shared_readings_drop_out(name: str) -> None:
    """Twelve readings propagated through both stages: the difference and its u are those of `uncertainties`.

    It knows which readings both stages share. A tilt from stage to stage and the difference of two tilts agree to
    third order, a few parts in ten thousand here.
    """
    expected = figures(UNLOADED, FITTED)[name] - figures(UNLOADED, LOADED)[name]
    found = by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 2))[name].difference
    assert found is not None
    assert found.value == pytest.approx(expected.nominal_value, rel=3e-3, abs=1e-9)
    assert found.u == pytest.approx(expected.std_dev, rel=1e-3)


def test_the_difference_of_two_results_would_be_less_sure() -> None:
    """Taken for independent, the two pitches would have √2 times the u; that would hide real differences."""
    found = by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 2))["nose up"]
    assert found.one is not None
    assert found.other is not None
    assert found.difference is not None
    assert math.hypot(found.one.u, found.other.u) == pytest.approx(math.sqrt(2) * found.difference.u, rel=1e-3)


# By hand: right rear 27 5/8 -> 28 11/16, left rear 27 3/4 -> 28 13/16, both up 1 1/16 in; the front did not move.
def test_heights_by_hand() -> None:
    """Each corner, each axle and front against rear, in exact sixteenths."""
    found = by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 2))
    sixteenths = {
        name: round(each.difference.value / IN * 16, 6) for name, each in found.items() if each.difference is not None
    }
    assert {name: sixteenths[name] for name in ("height LF", "height RF", "height RR", "height LR")} == {
        "height LF": 0,
        "height RF": 0,
        "height RR": 17,
        "height LR": 17,
    }
    assert (sixteenths["front height"], sixteenths["rear height"], sixteenths["rake"]) == (0, 17, -17)
    assert {name: each.means_something for name, each in found.items()} == {
        name: name not in ("height LF", "height RF", "front height", "left up") for name in found
    }


def test_what_lies_within_its_U_means_nothing() -> None:
    """At U exactly nothing is claimed; one step of the tape further something is."""
    (difference,) = (
        each
        for each in by_figure(assessed(worked_case()), ("loaded", 1), ("fitted", 1)).values()
        if each.figure == "height RR"
    )
    assert difference.difference is not None
    U = difference.difference.U
    assert pytest.approx(2 * math.sqrt(2) * U_READ_MM) == U
    at = replace(difference, difference=replace(difference.difference, value=U))
    beyond = replace(difference, difference=replace(difference.difference, value=-U * 1.0001))
    assert (at.means_something, beyond.means_something) == (False, True)


def test_back_is_the_same_way() -> None:
    """From B to A every height and tilt is that from A to B with the other sign and the same u."""
    job = assessed(worked_case())
    there = by_figure(job, ("loaded", 1), ("fitted", 2))
    back = by_figure(job, ("fitted", 2), ("loaded", 1))
    assert set(there) == set(back)
    for name, each in there.items():
        other = back[name].difference
        assert each.difference is not None
        assert other is not None
        assert other.value == pytest.approx(-each.difference.value, abs=1e-9, rel=1e-2 if name == "beam" else 1e-3)
        assert other.u == pytest.approx(each.difference.u, rel=1e-3)


def test_from_unloaded_it_is_what_the_stage_says() -> None:
    """Beside the unloaded stage a stage differs by its own results, value and u."""
    job = assessed(worked_case())
    found = by_figure(job, ("unloaded", 1), ("loaded", 1))
    result = job.stage(("loaded", 1))
    assert result.lamp is not None
    for name, value, u in (
        ("nose up", result.nose_up_deg, result.u_nose_up_deg),
        ("ball", result.ball_mm, result.u_ball_mm),
        ("beam", result.lamp.shift_mm, result.lamp.u_shift_mm),
        ("wall", result.lamp.wall_mm, result.lamp.u_wall_mm),
    ):
        difference = found[name].difference
        assert difference is not None
        assert difference.value == pytest.approx(value)
        assert difference.u == pytest.approx(u, rel=1e-6)


def test_without_an_unloaded_stage_two_stages_still_compare() -> None:
    """Nothing can be counted from unloaded, and yet the body is seen to pitch from one stage to the other."""
    sheet = WORKED_CASE.replace('name = "unloaded"', 'name = "follow-up"')
    job = assessed(job_of(sheet))
    assert job.stage(("loaded", 1)).nose_up_deg is None
    found = by_figure(job, ("loaded", 1), ("fitted", 2))["nose up"]
    assert found.one is None
    assert found.difference is not None
    assert found.difference.value == pytest.approx(-math.degrees(math.atan(1.0625 / 119)))


def test_marks_on_the_wall_are_compared_as_read() -> None:
    """4 in above and 1 in above: down 3 in, with both readings' u."""
    marks = [
        MarkRead(stage="loaded", entered="4 in above", above_mm=4 * IN),
        MarkRead(stage="fitted", number=2, entered="1 in above", above_mm=IN),
    ]
    found = by_figure(assessed(job_of(WORKED_CASE, *marks)), ("loaded", 1), ("fitted", 2))["mark"]
    assert found.difference is not None
    assert found.one is not None
    assert found.other is not None
    assert (found.one.value, found.other.value) == (4 * IN, IN)
    assert found.difference.value == pytest.approx(-3 * IN)
    assert found.difference.u == pytest.approx(math.sqrt(2) * U_READ_MM)


def test_a_mark_read_at_one_stage_only_is_not_compared() -> None:
    """Without a mark to count from there is no movement of it."""
    for mark in (
        MarkRead(stage="loaded", entered="4 in above", above_mm=4 * IN),
        MarkRead(stage="fitted", number=2, entered="4 in above", above_mm=4 * IN),
    ):
        assert "mark" not in by_figure(assessed(job_of(WORKED_CASE, mark)), ("loaded", 1), ("fitted", 2))


# By hand: means of 28 7/8 and 28 15/16, of 27 5/8 and 27 3/4, of 28 11/16 and 28 13/16.
def test_each_axle_is_shown_as_it_stood_at_both_stages() -> None:
    """Which stages, how high each axle stood at either with the u of a mean of two, and for which wall it is told."""
    comparison = compare_stages(assessed(job_of(WORKED_CASE)), ("loaded", 1), ("fitted", 2))
    (pair,) = comparison.pairs
    assert (pair.one.key, pair.other.key) == (("loaded", 1), ("fitted", 2))
    assert comparison.screen_mm == pytest.approx(D)
    told = {each.figure: (each.one, each.other) for each in pair.differences}
    by_hand_in = (28.90625, 28.90625, 27.6875, 28.75)
    for estimate, inches in zip((*told["front height"], *told["rear height"]), by_hand_in, strict=True):
        assert estimate is not None
        assert estimate.value == pytest.approx(inches * IN)
        assert estimate.u == pytest.approx(U_READ_MM / math.sqrt(2))


def test_without_a_wheelbase_heights_and_lean_still_compare() -> None:
    """Pitch, ball and beam need it and are left out; the corners, the axles and the lean do not."""
    sheet = WORKED_CASE.replace('wheelbase = "119 in"\n', "")
    found = by_figure(assessed(job_of(sheet)), ("loaded", 1), ("fitted", 2))
    assert not {"nose up", "ball", "beam", "wall"} & set(found)
    assert {"height RR", "rear height", "rake", "left up"} <= set(found)


def test_levelling_and_an_assumed_placing_are_said() -> None:
    """The worked case has fixed lamps and a stated placing; the metric one states neither."""
    assert compare_stages(assessed(worked_case()), ("loaded", 1), ("fitted", 1)).cautions == ()
    bare = WORKED_CASE.replace('place = "1/32 in"', "").replace('levelling = "none"', 'levelling = "automatic"')
    found = compare_stages(assessed(job_of(bare)), ("loaded", 1), ("fitted", 1))
    assert set(found.cautions) == {"levelling", "place assumed"}
    assert "place assumed" in compare_stages(assessed(separate_lines()), ("loaded", 1), ("fitted", 1)).cautions


def test_a_stage_half_read_compares_as_far_as_it_goes() -> None:
    """Corners that were not read have no difference, and what needs them is left out."""
    job = half_done()
    begun = job_of(
        'unit = "inch"\n[[stage]]\nname = "unloaded"\nLF = "30 1/2"\nRF = "30 9/16"\n'
        '[[stage]]\nname = "loaded"\nLF = "30"\n'
    )
    assert set(by_figure(assessed(begun), ("unloaded", 1), ("loaded", 1))) == {"height LF"}
    with pytest.raises(KeyError, match="loaded"):
        compare_stages(assessed(job), ("unloaded", 1), ("loaded", 1))
    with pytest.raises(ValueError, match="itself"):
        compare_stages(assessed(job), ("unloaded", 1), ("unloaded", 1))
