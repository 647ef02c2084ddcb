"""What the air of a whole job comes to: trials, targets, sides, the pressure table, and each line's hold test."""

from __future__ import annotations

import math
from typing import Any, Literal

import pytest
from uncertainties import covariance_matrix, ufloat

from cornerwalk.assess.assessment import AirResult, Assessment, LeakResult
from cornerwalk.session import events as h
from tests.assess.given import key_of
from tests.support.jobs import EXACT, job_of
from tests.support.known import known
from tests.support.units import KGF

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
    return job_of(head + EXACT + "".join(stages), *more).assessment


def one(a: Assessment) -> AirResult:
    (air,) = a.air
    return air


def read(*mm: float) -> Any:
    """The mean of single readings, each with its own u."""
    return sum(ufloat(each, U_MM) for each in mm) / len(mm)


def read_again(height: Any) -> Any:
    """Another reading, no less sure."""
    return ufloat(height.nominal_value, height.std_dev)


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
    # The next reading is as sure as the last: U of its change from unloaded is 2·√(u² + u²), half a mark besides.
    guard_mm = 2 * math.hypot(high.std_dev, read_again(high).std_dev) + 0.5
    assert air.guard_mm == pytest.approx(guard_mm, rel=1e-9)
    aimed_kPa = (target.nominal_value - guard_mm - start.nominal_value) / slope.nominal_value
    assert air.aimed_kPa == pytest.approx(aimed_kPa, rel=1e-9)
    set_kPa = max(math.floor(min(aimed_kPa, MAX_kPa) / 10) * 10, MIN_kPa)  # the gauge is marked in 10 kPa
    assert air.recommended_kPa == pytest.approx(set_kPa, rel=1e-9)
    same(air.left_mm, air.u_left_mm, target - (start + slope * set_kPa))
    assert (air.off_line, air.reason) == (False, None)


def test_a_shared_line_in_full() -> None:
    """Line, target, pressure, bounds and what is left of a tee's rear mean follow from its six readings."""
    air = one(assessed(*BEFORE, *TRIALS))
    low, high, target = read(704, 700), read(712, 716), read(720, 724)
    assert (air.where, air.target, air.short_of_level_mm, air.extrapolated) == ("rear", "unloaded height", 0.0, False)
    assert [(t.stage, t.pressure_kPa, t.height_mm) for t in air.trials] == [
        (("fitted", 1), 100.0, 702.0),
        (("fitted", 2), 180.0, 714.0),
    ]
    assert [t.u_height_mm for t in air.trials] == pytest.approx([U_MM / 2**0.5] * 2, rel=1e-12)
    holds_line(air, low, high, target, 100.0, 180.0)


def test_the_next_trial_and_how_sure_it_would_make() -> None:
    """The next trial lies on a mark below the answer, and its u is that of a third trial that changes nothing.

    By hand: 12 mm for 80 kPa is 0.15 mm/kPa, so the answer is 100 + 20/0.15 = 233.33 kPa; 230 kPa is the mark below.
    """
    air = one(assessed(*BEFORE, *TRIALS))
    at = (100.0, 180.0, 230.0)
    assert air.try_next_kPa == pytest.approx(at[2], rel=1e-9)
    heights = [ufloat(702 + 0.15 * (p - 100), U_MM / 2**0.5) for p in at]
    middle, centre = sum(at) / 3, sum(heights) / 3
    rise = sum((p - middle) * height for p, height in zip(at, heights, strict=True))
    slope = rise / sum((p - middle) ** 2 for p in at)
    assert air.u_after_next_kPa == pytest.approx((middle + (read(720, 724) - centre) / slope).std_dev, rel=1e-9)


def test_separate_lines_have_each_their_own() -> None:
    """With a line to each bag every side is fitted to its own corner at its own pressure, for its own height."""
    trials = (stage("fitted", AT_100, pair(100, 90)), stage("fitted", AT_180, pair(180, 150)))
    a = assessed(*BEFORE, *trials, more=(SEPARATE,))
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
    assert air.try_next_kPa == pytest.approx(180.0, rel=1e-9)


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
# 724 mm the left needs 100 + 24/0.2 = 220 kPa; the right would need 100 + 16/0.1 = 260 kPa. U of one corner's change is
# 2·√2·u = 1.885 mm, of the mean of two 1.333, and half a mark makes the guards 2.385 and 1.833 mm: aimed at are 208.1,
# 236.2 and 221.1 kPa, and the marks below are 200, 230 and 220.
def test_what_a_line_to_each_bag_would_do() -> None:
    """A shared line's own trials tell each side's pressure, and the lean that is left with one line and with two."""
    sides = known(assessed(*BEFORE, *TRIALS).sides)
    assert (sides.left_kPa, sides.right_kPa) == pytest.approx((200.0, 230.0), rel=1e-9)
    left = (read(700), read(716), read(724))
    right = (read(704), read(712), read(720))

    def over(side: tuple[Any, Any, Any], kPa: float) -> Any:
        low, high, own = side
        return low + (high - low) * (kPa - 100) / 80 - own

    both_kPa = 220.0
    same(sides.tee_mm, sides.u_tee_mm, over(left, both_kPa) - over(right, both_kPa))
    same(sides.separate_mm, sides.u_separate_mm, over(left, 200.0) - over(right, 230.0))


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


# ---- the pressure table of a job: what another tongue load asks for with everything else aboard as it was ----

WITH_LOADS = f"""{KIT}
[[load]]
name = "cargo"
weight = "100 kg"
ahead_of_rear_axle = "700 mm"
[[load]]
name = "tongue"
weight = "80 kg"
behind_rear_axle = "1000 mm"
[table]
loads = ["60 kg"]
"""


@pytest.mark.parametrize(("allowed", "drop_mm"), [("", 0.0), ('drop_allowed = "6 mm"\n', 6.0)])
def test_the_table_keeps_the_other_loads_aboard(allowed: str, drop_mm: float) -> None:
    """A row for another tongue load: the drop goes with the rear's gain, cargo and all, and the line gives the air.

    By hand: with drop D and gains G, G' the pressure is where the line stands D·G'/G − d above the loaded height.
    """
    row, today = assessed(*BEFORE, *TRIALS, kit=WITH_LOADS + allowed).pressure_table
    gain, other = (100 * (2800 - 700) / 2800 + kg * (2800 + 1000) / 2800 for kg in (80, 60))
    unloaded, loaded, first, second = read(720, 724), read(690, 692), read(704, 700), read(712, 716)
    below_mm = max(drop_mm, 2 * U_MM + 0.5)  # the guard: U of a change of two means of two, and half a mark
    needed = loaded + (unloaded - loaded) * (other / gain) - below_mm
    assert row.load_N == pytest.approx(60 * KGF, rel=1e-9)
    same(row.pressure_kPa, row.u_pressure_kPa, 100 + (needed - first) * 80 / (second - first))
    assert (row.recommended_kPa, row.beyond) == (math.floor(known(row.pressure_kPa) / 10) * 10, None)
    assert today.load_N == pytest.approx(80 * KGF, rel=1e-9)
    assert today.pressure_kPa == pytest.approx(100 + (20 - below_mm) / 0.15, rel=1e-9)


@pytest.mark.parametrize("stages", [(BEFORE[0], *TRIALS), (BEFORE[1], *TRIALS), BEFORE])
def test_no_row_without_what_it_rests_on(stages: tuple[str, ...]) -> None:
    """Without the rear's height unloaded, loaded without air, or the trials, no row is made up."""
    assert assessed(*stages, kit=WITH_LOADS).pressure_table == ()


# ---- the hold test of a job: each line by itself, the air where it stands, its own gauge ----

SEA_LEVEL_kPa = 101.325

JOB = """
[job]
title = "Held overnight, invented"
[kit]
min = "40 kPa"
max = "250 kPa"
[uncertainty]
temperature = "0 K"
weather = "0 kPa"
bag = "rigid"
"""
START_C, END_C = 25.0, 5.0
RATIO = (END_C + 273.15) / (START_C + 273.15)


def gauge(moment: Literal["start", "end"], kPa: float, at: str, **more: Any) -> h.LeakRead:
    warm = START_C if moment == "start" else END_C
    typed = {"pressure_entered": f"{kPa} kPa", "temperature_entered": f"{warm} °C"}
    known_of = {"line": "both", "hours": None, "pressure_kPa": kPa, "temperature_C": warm, "read_at": at} | typed
    return h.LeakRead(moment=moment, **(known_of | more))


EVENING, MORNING = "2026-05-04T20:00:00-06:00", "2026-05-05T08:00:00-06:00"
START, END = gauge("start", 200.0, EVENING), gauge("end", 120.0, MORNING)


def held(*what: h.Event) -> Assessment:
    return job_of(JOB, *what).assessment


def only(*what: h.Event) -> LeakResult:
    (leak,) = held(*what).leak
    return leak


def stated(name: str, value: float) -> h.FactStated:
    return h.FactStated(name=name, entered=str(value), value=value)


def test_a_hold_test_in_full() -> None:
    """Every figure of twelve hours at sea level with the usual gauge in kPa: a loss that the cold does not explain."""
    leak = only(START, END)
    expected = (200.0 + SEA_LEVEL_kPa) * RATIO - SEA_LEVEL_kPa
    loss, u_loss = expected - 120.0, 10 / 12**0.5 * (1 + RATIO**2) ** 0.5
    assert (leak.line, leak.hours, leak.read_kPa, leak.raw_loss_kPa, leak.shorter) == ("both", 12.0, 120.0, 80.0, True)
    assert leak.expected_kPa == pytest.approx(expected, rel=1e-12)
    assert (leak.loss_kPa, leak.u_loss_kPa) == pytest.approx((loss, u_loss), rel=1e-9)
    assert (leak.rate_kPa_per_h, leak.u_rate_kPa_per_h) == pytest.approx((loss / 12, u_loss / 12), rel=1e-9)
    # The allowed loss is meant for a day of 24 h; the kit's minimum is 80 kPa below what is left.
    assert (leak.per_day_kPa, leak.u_per_day_kPa) == pytest.approx((2 * loss, 2 * u_loss), rel=1e-9)
    assert leak.hours_to_minimum == pytest.approx(80.0 / (loss / 12), rel=1e-9)
    assert leak.reason is None


# Source: U.S. Standard Atmosphere 1976, geometric altitude (seen, recomputed with two libraries): 1500 m, 84.55968 kPa.
@pytest.mark.parametrize(
    ("facts", "air_kPa"),
    [
        ({"leak.altitude": 1500.0}, 84.55968),
        ({"leak.barometer": 90.0}, 90.0),
        ({"leak.altitude": 1500.0, "leak.barometer": 90.0}, 90.0),
    ],
)
def test_the_air_where_the_gauge_is_read(facts: dict[str, float], air_kPa: float) -> None:
    """The altitude stands in for the barometer, and a barometer for the altitude: cold costs less where air is thin."""
    leak = only(*(stated(name, value) for name, value in facts.items()), START, END)
    assert leak.expected_kPa == pytest.approx((200.0 + air_kPa) * RATIO - air_kPa, abs=1e-5)


def test_the_gauges_own_marks() -> None:
    """A gauge marked every 10 kPa counts by its marks, whatever the pressures were typed in."""
    leak = only(stated("leak.gauge_graduation", 10.0), START, END)
    assert leak.u_loss_kPa == pytest.approx(10.0 / 12**0.5 * (1 + RATIO**2) ** 0.5, rel=1e-9)


def test_a_test_that_has_only_begun() -> None:
    """Before the second reading there is a line under test and no figure, and nothing is called held or lost."""
    a = held(START)
    (leak,) = a.leak
    assert (leak.line, leak.reason) == ("both", "readings missing")
    assert (leak.hours, leak.read_kPa, leak.expected_kPa, leak.loss_kPa, leak.raw_loss_kPa) == (None,) * 5
    assert not any(key_of(check).startswith("pressure-held") for check in a.verdicts)


def test_each_line_has_its_own_test() -> None:
    """Left and right are begun together and read one after the other: neither ends the other's test."""
    leaks = held(
        gauge("start", 200.0, EVENING, line="left"),
        gauge("start", 180.0, EVENING, line="right"),
        gauge("end", 120.0, MORNING, line="right"),
    ).leak
    assert [(leak.line, leak.read_kPa, leak.raw_loss_kPa) for leak in leaks] == [
        ("left", None, None),
        ("right", 120.0, 60.0),
    ]


@pytest.mark.parametrize(
    ("at", "on_paper", "hours"),
    [
        ("2026-05-04T20:30:00-06:00", None, 0.5),
        ("2026-05-05T04:00:00+01:00", None, 1.0),
        (MORNING, 14.0, 14.0),
        (EVENING, None, None),
        ("2026-05-04T19:00:00-06:00", None, None),
        ("yesterday", None, None),
        ("2026-05-05T08:00:00", None, None),
    ],
)
def test_how_long_it_was_held(at: str, on_paper: float | None, hours: float | None) -> None:
    """Hours on paper come first, else the two times of day; times that cannot be give no rate, but still the loss."""
    leak = only(START, gauge("end", 120.0, at, hours=on_paper))
    assert leak.hours == (None if hours is None else pytest.approx(hours, rel=1e-12))
    rates = (leak.rate_kPa_per_h, leak.per_day_kPa, leak.hours_to_minimum)
    assert [rate is None for rate in rates] == [hours is None] * 3
    assert leak.loss_kPa is not None
