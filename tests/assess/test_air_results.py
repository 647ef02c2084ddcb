"""What the air of a whole job comes to: every figure of trials, targets and sides, and the job's missing facts.

Oracle: automatic propagation, and Fieller's equation solved as a plain quadratic. The vehicle is invented.
"""

from __future__ import annotations

import math
from typing import Any

import pytest
from uncertainties import covariance_matrix, ufloat

from cornerwalk.assess.assessment import AirResult, Assessment
from cornerwalk.session import events as h
from tests.support.jobs import job_of

MIN_kPa, MAX_kPa = 40.0, 260.0
KIT = f'[kit]\nmin = "{MIN_kPa} kPa"\nmax = "{MAX_kPa} kPa"'
LEVEL = KIT + '\ntarget = "beam level"'
U_MM = math.sqrt(1.0**2 / 12 + 0.6**2)
"""A 1 mm tape put on the same point to 0.6 mm."""

Four = tuple[float, float, float, float]
UNLOADED: Four = (700, 702, 720, 724)
LOADED: Four = (704, 708, 690, 692)
AT_100: Four = (705, 707, 704, 700)
AT_180: Four = (703, 709, 712, 716)


def stage(name: str, heights: Four | tuple[float | None, ...], *air: str) -> str:
    """A stage of a job sheet, LF RF RR LR; a corner without a height is left out."""
    named = zip(("LF", "RF", "RR", "LR"), heights, strict=True)
    lines = [f'{corner} = "{mm}"' for corner, mm in named if mm is not None]
    return "\n".join(["[[stage]]", f'name = "{name}"', *air, *lines, ""])


def tee(kPa: float) -> str:
    return f'pressure = "{kPa} kPa"'


def pair(left_kPa: float, right_kPa: float) -> str:
    return f'pressure_left = "{left_kPa} kPa"\npressure_right = "{right_kPa} kPa"'


BEFORE = (stage("unloaded", UNLOADED), stage("loaded", LOADED))
TRIALS = (stage("fitted", AT_100, tee(100)), stage("fitted", AT_180, tee(180)))


SEPARATE = h.FactStated(name="kit.lines", entered="separate", value="separate")
LINES: dict[str, tuple[h.Event, ...]] = {"tee": (), "separate": (SEPARATE,)}


def assessed(*stages: str, kit: str = KIT, more: tuple[h.Event, ...] = ()) -> Assessment:
    head = f'unit = "mm"\n[tape]\ngraduation = "1 mm"\nplace = "0.6 mm"\n[vehicle]\nwheelbase = "2800 mm"\n{kit}\n'
    return job_of(head + "".join(stages), *more).assessment


def one(a: Assessment) -> AirResult:
    (air,) = a.air
    return air


def read(*mm: float) -> Any:
    """The mean of single readings, each with its own u."""
    return sum(ufloat(each, U_MM) for each in mm) / len(mm)


def same(value: float | None, u: float | None, oracle: Any) -> None:
    assert value == pytest.approx(oracle.nominal_value, rel=1e-9, abs=1e-9)
    assert u == pytest.approx(oracle.std_dev, rel=1e-9)


def fieller(low: Any, high: Any, target: Any, p1: float, p2: float) -> list[float]:
    """Where the line through two trials and the target differ by just 2u: the two roots of a quadratic in P."""
    slope = (high - low) / (p2 - p1)
    start = low - slope * p1
    ((v0, c01), (_, v1)) = covariance_matrix([start, slope])
    miss = target.nominal_value - start.nominal_value
    a = slope.nominal_value**2 - 4 * v1
    b = -2 * miss * slope.nominal_value - 8 * c01
    c = miss**2 - 4 * (v0 + target.std_dev**2)
    root = math.sqrt(b * b - 4 * a * c)
    return [(-b - root) / (2 * a), (-b + root) / (2 * a)]


def holds_line(air: AirResult, low: Any, high: Any, target: Any, p1: float, p2: float) -> None:
    """Two trials' line, the pressure for the target and its bounds, all from the two heights and the target."""
    slope = (high - low) / (p2 - p1)
    start = low - slope * p1
    same(air.c0_mm, air.u_c0_mm, start)
    same(air.c1_mm_per_kPa, air.u_c1_mm_per_kPa, slope)
    assert air.cov_c0_c1 == pytest.approx(covariance_matrix([start, slope])[0][1], rel=1e-9)
    same(air.target_mm, air.u_target_mm, target)
    same(air.pressure_kPa, air.u_pressure_kPa, (target - start) / slope)
    assert [air.low_kPa, air.high_kPa] == pytest.approx(fieller(low, high, target, p1, p2), rel=1e-9)
    held = min(max((target - start).nominal_value / slope.nominal_value, MIN_kPa), MAX_kPa)
    assert air.recommended_kPa == pytest.approx(held, rel=1e-9)
    same(air.left_mm, air.u_left_mm, target - (start + slope * held))
    assert (air.off_line, air.reason) == (False, None)


def test_a_shared_line_in_full() -> None:
    """Line, target, pressure, bounds and what is left of a tee's rear mean follow from its six readings."""
    air = one(assessed(*BEFORE, *TRIALS))
    low, high, target = read(704, 700), read(712, 716), read(720, 724)
    assert (air.where, air.target, air.short_of_level_mm, air.extrapolated) == ("rear", "unloaded height", 0.0, True)
    assert [(t.stage, t.pressure_kPa, t.height_mm) for t in air.trials] == [
        (("fitted", 1), 100.0, 702.0),
        (("fitted", 2), 180.0, 714.0),
    ]
    assert [t.u_height_mm for t in air.trials] == pytest.approx([U_MM / 2**0.5] * 2, rel=1e-12)
    holds_line(air, low, high, target, 100.0, 180.0)


def test_the_next_trial_and_how_sure_it_would_make() -> None:
    """The next trial lies on a whole psi below the answer, and its u is that of a third trial that changes nothing.

    By hand: 12 mm for 80 kPa is 0.15 mm/kPa, so the answer is 100 + 20/0.15 = 233.33 kPa; 33 psi is the step below.
    """
    air = one(assessed(*BEFORE, *TRIALS))
    at = (100.0, 180.0, 33 * 6.894757293168361)
    assert air.try_next_kPa == pytest.approx(at[2], rel=1e-9)
    heights = [ufloat(702 + 0.15 * (p - 100), U_MM / 2**0.5) for p in at]
    middle, centre = sum(at) / 3, sum(heights) / 3
    slope = sum((p - middle) * height for p, height in zip(at, heights, strict=True)) / sum(
        (p - middle) ** 2 for p in at
    )
    assert air.u_after_next_kPa == pytest.approx((middle + (read(720, 724) - centre) / slope).std_dev, rel=1e-9)


def test_separate_lines_have_each_their_own() -> None:
    """With a line to each bag every side is fitted to its own corner at its own pressure, for its own height."""
    a = assessed(
        *BEFORE,
        stage("fitted", AT_100, pair(100, 90)),
        stage("fitted", AT_180, pair(180, 150)),
        more=(SEPARATE,),
    )
    left, right = a.air
    assert (left.where, right.where) == ("LR", "RR")
    holds_line(left, read(700), read(716), read(724), 100.0, 180.0)
    holds_line(right, read(704), read(712), read(720), 90.0, 150.0)
    assert [t.stage for t in left.trials] == [t.stage for t in right.trials] == [("fitted", 1), ("fitted", 2)]
    assert (a.sides, a.pressure_table) == (None, ())


def test_separate_lines_filled_together() -> None:
    """One pressure stated for separate lines is each side's; a side's own stands before it."""
    left, right = assessed(
        *BEFORE, stage("fitted", AT_100, tee(100)), stage("fitted", AT_180, pair(180, 150)), more=(SEPARATE,)
    ).air
    assert [t.pressure_kPa for t in left.trials] == [100.0, 180.0]
    assert [t.pressure_kPa for t in right.trials] == [100.0, 150.0]


@pytest.mark.parametrize("lines", ["tee", "separate"])
def test_without_an_unloaded_height_there_is_a_line_and_no_target(lines: str) -> None:
    """Trials still show what air does; what it should reach is missing, and no pressure is named."""
    for air in assessed(*TRIALS, more=LINES[lines]).air:
        assert air.c1_mm_per_kPa is not None
        assert (air.target_mm, air.u_target_mm, air.short_of_level_mm) == (None, None, None)
        assert (air.recommended_kPa, air.reason) == (None, "target missing")


@pytest.mark.parametrize("lines", ["tee", "separate"])
def test_a_trial_without_rear_heights_is_no_trial(lines: str) -> None:
    """A stage whose rear was not read, or whose pressure nobody stated, puts no point on the line."""
    unread = stage("fitted", (705, 707, None, None), tee(140))
    without_air = stage("fitted", AT_100)
    for air in assessed(*BEFORE, unread, without_air, *TRIALS, more=LINES[lines]).air:
        assert [t.stage for t in air.trials] == [("fitted", 3), ("fitted", 4)]


def test_no_line_through_one_trial() -> None:
    """One trial gives no line and says so, keeps the target, and the next trial is half-way to the maximum."""
    air = one(assessed(*BEFORE, TRIALS[0]))
    assert (air.c0_mm, air.u_c0_mm, air.c1_mm_per_kPa, air.u_c1_mm_per_kPa, air.cov_c0_c1) == (None,) * 5
    assert (air.off_line, air.reason, air.u_after_next_kPa) == (False, "one trial", None)
    assert air.target_mm == 722.0
    assert air.try_next_kPa == pytest.approx(math.ceil(180 / 6.894757293168361) * 6.894757293168361, rel=1e-9)


# Kit limits 40 to 260 kPa: trials over less than a quarter of that, 55 kPa, are too close to tell.
@pytest.mark.parametrize(
    ("second_kPa", "reason"), [(180, "more air did not raise the rear"), (150, "pressures too close")]
)
def test_air_that_does_not_raise_the_rear(second_kPa: float, reason: str) -> None:
    """A rear that more air left where it was is no line to go by; nor are two pressures next to each other."""
    air = one(assessed(*BEFORE, TRIALS[0], stage("fitted", AT_100, tee(second_kPa))))
    assert (air.reason, air.recommended_kPa, air.off_line) == (reason, None, False)


def test_trials_off_the_line() -> None:
    """Three trials of which the middle one stands 8 mm high, ten times its u, are not on a line."""
    a = assessed(*BEFORE, TRIALS[0], stage("fitted", (705, 707, 716, 716), tee(140)), TRIALS[1])
    assert one(a).off_line is True


# By hand: rises and falls of the front's mean against 701 mm unloaded.
@pytest.mark.parametrize(
    ("last_front", "short_mm", "target"),
    [((703, 709), 5.0, read(720, 724)), ((690, 700), 0.0, read(720, 724) + read(690, 700) - read(700, 702))],
)
def test_a_level_beam_as_the_target(last_front: tuple[float, float], short_mm: float, target: Any) -> None:
    """A lifted front is not followed above the unloaded height, and what is missing is told; a sunk one is followed."""
    last = stage("fitted", (*last_front, 712, 716), tee(180))
    later = stage("follow-up", (600, 600, 700, 700), tee(180))
    air = one(assessed(*BEFORE, TRIALS[0], last, later, kit=LEVEL))
    assert air.target == "beam level"
    assert air.short_of_level_mm == short_mm
    holds_line(air, read(704, 700), read(712, 716), target, 100.0, 180.0)


def test_a_level_beam_takes_the_last_front_that_was_read() -> None:
    """Where the trials' fronts were not read, the loaded stage's is taken; without that either there is no target."""
    blind = (stage("fitted", (None, None, 704, 700), tee(100)), stage("fitted", (None, None, 712, 716), tee(180)))
    assert one(assessed(*BEFORE, *blind, kit=LEVEL)).short_of_level_mm == 5.0
    unknown = one(assessed(BEFORE[0], *blind, kit=LEVEL))
    assert (unknown.target_mm, unknown.reason) == (None, "target missing")


@pytest.mark.parametrize(
    ("air", "kPa"),
    [
        (pair(100, 100), 100.0),
        ('pressure_left = "100 kPa"', 100.0),
        ('pressure_right = "100 kPa"', 100.0),
        (pair(100, 110), None),
    ],
)
def test_both_gauges_of_a_shared_line(air: str, kPa: float | None) -> None:
    """A tee holds one pressure: read at either bag, or the same at both, it counts; two unlike ones tell nothing."""
    points = one(assessed(*BEFORE, stage("fitted", AT_100, air), TRIALS[1])).trials
    assert [t.pressure_kPa for t in points] == ([] if kPa is None else [kPa]) + [180.0]


# By hand: the left rises 16 mm, the right 8 mm in 80 kPa; the rear's mean 12 mm, which asks for 233.33 kPa. For its own
# 724 mm the left needs 100 + 24/0.2 = 220 kPa; the right would need 100 + 16/0.1 = 260 kPa, the most the kit allows.
def test_what_a_line_to_each_bag_would_do() -> None:
    """A shared line's own trials tell each side's pressure, and the lean that is left with one line and with two."""
    sides = assessed(*BEFORE, *TRIALS).sides
    assert sides is not None
    assert (sides.left_kPa, sides.right_kPa) == pytest.approx((220.0, 260.0), rel=1e-9)
    left = (read(700), read(716), read(724))
    right = (read(704), read(712), read(720))

    def over(side: tuple[Any, Any, Any], kPa: float) -> Any:
        low, high, own = side
        return low + (high - low) * (kPa - 100) / 80 - own

    both_kPa = 100 + 20 / 0.15
    same(sides.tee_mm, sides.u_tee_mm, over(left, both_kPa) - over(right, both_kPa))
    same(sides.separate_mm, sides.u_separate_mm, over(left, 220.0) - over(right, 260.0))


@pytest.mark.parametrize(
    ("heights", "unloaded"),
    [
        ((703, 709, 722, 700), UNLOADED),
        ((703, 709, 704, 722), UNLOADED),
        ((703, 709, 712, 716), (700, 702, None, None)),
    ],
)
def test_nothing_is_said_of_sides_that_are_not_known(heights: Four, unloaded: tuple[float | None, ...]) -> None:
    """One side that air did not raise, or no unloaded height to go to, and there is no pair of pressures to give."""
    a = assessed(stage("unloaded", unloaded), BEFORE[1], TRIALS[0], stage("fitted", heights, tee(180)))
    assert one(a).c1_mm_per_kPa is not None
    assert a.sides is None


def test_without_the_kits_limits_no_pressure_and_no_sides() -> None:
    """The line and its answer stand, but nothing is recommended while the kit's limits are not stated."""
    a = assessed(*BEFORE, *TRIALS, kit="")
    air = one(a)
    assert air.pressure_kPa == pytest.approx(100 + 20 / 0.15, rel=1e-9)
    assert (air.recommended_kPa, air.reason, air.try_next_kPa, a.sides) == (None, "kit limits missing", None, None)
