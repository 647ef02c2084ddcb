"""What loads and scale tickets come to by hand: ratings, axles by lever, tongue, room left, the front restored."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from uncertainties import ufloat

from cornerwalk.assess.assessment import Assessment, StageEstimates
from cornerwalk.assess.estimate import estimate
from cornerwalk.assess.load_results import front_height, is_towing, rear_height, tongue_load
from cornerwalk.session import events as h
from cornerwalk.session.model import Hitch, Load, Session, Trailer, Vehicle
from cornerwalk.session.stages import CORNERS, Corner, StageName
from tests.assess.given import key_of
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of
from tests.support.known import known
from tests.support.units import IN, KGF, LBF

UNHITCHED_ONLY = SEPARATE_LINES[: SEPARATE_LINES.index('[[weighing]]\nname = "hitched"')]


def rated(name: str, kg: float) -> h.FactStated:
    return h.FactStated(name=name, entered=f"{kg} kg", value=kg * KGF)


# By hand from the tickets, kg: unhitched 1090 + 940, hitched 1050 + 1075, the trailer's axles 1205; so the tongue is
# 95, the trailer 1300, and all together 3330. Each rating is set just above, and just below, what it is held against.
@pytest.mark.parametrize(
    ("fact", "check", "code", "kg"),
    [
        ("vehicle.gawr_front", "front-axle-rating", "axle-over-rating", 1090),
        ("vehicle.gawr_rear", "rear-axle-rating", "axle-over-rating", 1075),
        ("vehicle.tyre_rating_front", "front-tires-rating", "tyres-over-rating", 1090),
        ("vehicle.tyre_rating_rear", "rear-tires-rating", "tyres-over-rating", 1075),
        ("vehicle.gvwr", "gross-rating", "over-gvwr", 2125),
        ("vehicle.gcwr", "combined-rating", "over-gcwr", 3330),
        ("hitch.rating", "hitch-rating", "hitch-over-rating", 95),
        ("trailer.gvwr", "trailer-rating", "trailer-over-rating", 1300),
    ],
)
def test_each_rating_against_the_tickets(fact: str, check: str, code: str, kg: float) -> None:
    """Each rating is held against its own weight, in newtons; over it is a stop, under it none."""
    for off_kg, over in ((60.0, False), (-60.0, True)):
        a = job_of(SEPARATE_LINES, rated(fact, kg + off_kg)).assessment
        made = next(c for c in a.verdicts if key_of(c) == check)
        assert (made.value, made.limit) == pytest.approx((kg * KGF, (kg + off_kg) * KGF), rel=1e-9)
        assert (made.verdict, made.unit, made.standing) == ("fail" if over else "pass", "N", "own")
        assert "helper springs do not raise it" in made.source
        assert "by lever" not in made.source
        told = [f for f in a.findings if f.code == code and f.fields["load_N"] == made.value]
        assert [(f.level, f.fields["rating_N"]) for f in told] == ([("stop", made.limit)] if over else [])


def test_the_hitched_axles_by_lever() -> None:
    """Weighed unhitched only, the hitched axles follow from the tongue's lever, and the source says so.

    By hand: the rear takes 95·(2843 + 1120)/2843 kg more; the front, which gives up 95·1120/2843, was heavier before.
    """
    made = {key_of(c): c for c in job_of(UNHITCHED_ONLY).assessment.verdicts}
    rear, front = made["rear-axle-rating"], made["front-axle-rating"]
    assert rear.value == pytest.approx((940 + 95 * (2843 + 1120) / 2843) * KGF, rel=1e-9)
    assert front.value == pytest.approx(1090 * KGF, rel=1e-9)
    assert made["gross-rating"].value == pytest.approx((1090 + 940 + 95) * KGF, rel=1e-9)
    assert all("by lever from the unhitched weighing" in c.source for c in (front, rear))


def test_stated_weights_stand_where_none_was_weighed() -> None:
    """A stated tongue of 95 kg under a stated trailer of 1300 kg is 7.3077 % by hand; 15 % of it is its u, guessed."""
    axles = job_of(UNHITCHED_ONLY).assessment.axles
    assert (axles.tongue_N, axles.trailer_N) == pytest.approx((95 * KGF, 1300 * KGF), rel=1e-9)
    assert axles.tongue_share_percent == pytest.approx(100 * 95 / 1300, rel=1e-9)
    assert axles.u_tongue_N == pytest.approx(0.15 * 95 * KGF, rel=1e-9)
    assert axles.u_tongue_share_percent == pytest.approx(0.15 * 100 * 95 / 1300, rel=1e-9)
    assert axles.rear_gain_N == pytest.approx(95 * KGF * (2843 + 1120) / 2843, rel=1e-9)
    assert axles.front_gain_N == pytest.approx(-95 * KGF * 1120 / 2843, rel=1e-9)


def _distributed(front_in: float, *more: h.Event) -> Any:
    """The worked case with a load-distributing hitch, its last front height so much at both corners, 1/32 in apart."""
    front: dict[Corner, float] = {"LF": front_in - 1 / 32, "RF": front_in + 1 / 32}
    heights = [
        h.HeightRead(stage="fitted", number=2, corner=corner, entered=str(inches), mm=inches * IN, how="instead")
        for corner, inches in front.items()
    ]
    hitch = h.FactStated(name="hitch.kind", entered="load-distributing", value="load-distributing")
    return job_of(WORKED_CASE, hitch, *heights, *more).assessment


# Oracle: automatic propagation. The front stands 28.65625 in unhitched and 28.90625 hitched; each is a mean of two.
@pytest.mark.parametrize("front_in", [28.90625, 28.78125, 28.65625])
def test_restoration_by_the_front_heights(front_in: float) -> None:
    """With a load-distributing hitch the front heights tell what the bars gave back, with the u of all six readings."""
    u_in = ((1 / 16) ** 2 / 12 + (1 / 32) ** 2) ** 0.5 / 2**0.5
    first, second, third = (ufloat(x, u_in) for x in (28.65625, 28.90625, front_in))
    theirs = 100 * (second - third) / (second - first)
    ours = _distributed(front_in).restoration
    assert ours.by == "heights"
    assert ours.percent == pytest.approx(theirs.nominal_value, abs=1e-6)
    assert ours.u_percent == pytest.approx(theirs.std_dev, rel=1e-6)


def test_each_front_height_counts_with_its_own_readings() -> None:
    """The front read once unhitched, twice hitched and four times with the bars on is as sure as each of these was."""
    again: list[tuple[StageName, int, float, int]] = [("loaded", 1, 28.90625, 1), ("fitted", 2, 28.78125, 3)]
    repeats = [
        h.HeightRead(stage=stage, number=number, corner=corner, entered="", mm=(inches + off) * IN, how="repeat")
        for stage, number, inches, times in again
        for corner, off in ((CORNERS[0], -1 / 32), (CORNERS[1], 1 / 32))
        for _ in range(times)
    ]
    u_in = [((1 / 16) ** 2 / 12 + (1 / 32) ** 2 / times) ** 0.5 / 2**0.5 for times in (1, 2, 4)]
    first, second, third = (ufloat(x, u) for x, u in zip((28.65625, 28.90625, 28.78125), u_in, strict=True))
    ours = _distributed(28.78125, *repeats).restoration
    assert ours.percent == pytest.approx(50.0, abs=1e-6)
    assert ours.u_percent == pytest.approx((100 * (second - third) / (second - first)).std_dev, rel=1e-6)


STAGES_ALONE = """
unit = "inch"
[hitch]
kind = "load-distributing"
"""


def _standing(*stages: tuple[str, str | None]) -> Any:
    """Stages of this name, the front at this height and the rear at 28 in; a front of None was not read."""
    parts = [STAGES_ALONE]
    for name, front in stages:
        air = 'pressure = "10 psi"\n' if name == "fitted" else ""
        fronts = "" if front is None else f'LF = "{front}"\nRF = "{front}"\n'
        parts.append(f'[[stage]]\nname = "{name}"\n{air}{fronts}RR = "28"\nLR = "28"\n')
    return job_of("".join(parts)).assessment.restoration


def test_three_times_the_front_was_read() -> None:
    """Unhitched, hitched and with the bars on are three stages, the last being what was given back; two do not do."""
    alone, hitched, bars = ("unloaded", "28"), ("loaded", "29"), ("fitted", "28 1/4")
    assert _standing(alone, hitched, bars).percent == pytest.approx(75.0, abs=1e-9)
    assert _standing(alone, hitched, ("fitted", "28 1/2"), bars).percent == pytest.approx(75.0, abs=1e-9)
    assert _standing(alone, hitched) is None
    assert _standing(alone, bars, bars) is None
    assert _standing(hitched, bars, bars) is None


@pytest.mark.parametrize("unread", range(3))
def test_a_front_not_read_tells_nothing(unread: int) -> None:
    """With the front unread at any of the three stages nothing is said to be given back."""
    fronts = [("unloaded", "28"), ("loaded", "29"), ("fitted", "28 1/4")]
    assert _standing(*((name, None if i == unread else front) for i, (name, front) in enumerate(fronts))) is None


@pytest.mark.parametrize(("left_mm", "right_mm", "u_mm"), [(3.0, 4.0, 2.5), (None, 4.0, None), (3.0, None, None)])
def test_the_u_of_a_mean_height(left_mm: float | None, right_mm: float | None, u_mm: float | None) -> None:
    """By hand, half the root of both squares; of one corner there is no mean, and of no stage none."""
    left, right = estimate(700.0, left_mm), estimate(702.0, right_mm)
    heights = StageEstimates(axle={"LF": left, "RF": right, "RR": right, "LR": left})
    stage = replace(job_of(WORKED_CASE).assessment.stages[0], estimates=heights)
    for found in (front_height(stage), rear_height(stage)):
        assert (None if found is None else (found.value, found.u)) == (None if u_mm is None else (701.0, u_mm))
    assert rear_height(None) is None


def test_without_a_load_distributing_hitch_heights_restore_nothing() -> None:
    """Without such a hitch a lower front is no restoration, and none is asked for."""
    a = job_of(WORKED_CASE).assessment
    assert a.restoration is None
    assert not any(key_of(m).startswith("front-axle-restored") for m in a.not_checked)


# Source: the rule of hitch makers' manuals (seen) that asks for half to all of it. By hand: the front, 1/4 in up when
# hitched, is at −100 % another quarter inch up with the bars on, and at 75 % with 3/16 in of it back.
@pytest.mark.parametrize(("front_in", "percent", "lower"), [(29.15625, -100.0, "fail"), (28.71875, 75.0, "pass")])
def test_restoration_against_its_rule(front_in: float, percent: float, lower: str) -> None:
    """Both limits of a maker's rule are held against the figure, and a front left high is told."""
    rule = h.FactStated(name="hitch.restoration_rule", entered="50-100", value="50-100")
    a = _distributed(front_in, rule)
    made = {key_of(c): c for c in a.verdicts if key_of(c).startswith("front-axle-restored")}
    low, high = made["front-axle-restored-lower"], made["front-axle-restored-upper"]
    assert (low.value, low.limit, high.value, high.limit) == pytest.approx((percent, 50.0, percent, 100.0), abs=1e-6)
    assert (low.unit, low.standing, low.U) == ("%", "seen", pytest.approx(2 * a.restoration.u_percent))
    assert low.verdict.endswith(lower)
    told = [f for f in a.findings if f.code == "restoration-outside-rule"]
    assert [f.level for f in told] == (["caution"] if lower == "fail" else [])


STEP_N = 10 * KGF

VEHICLE = """
[vehicle]
wheelbase = "2800 mm"
gawr_front = "1200 kg"
gawr_rear = "1300 kg"
gvwr = "2400 kg"
"""

HITCH = '[hitch]\nrating = "120 kg"\n'
STEP = '[scale]\nstep = "10 kg"\n'
TONGUE = '[[load]]\nname = "tongue"\nweight = "95 kg"\nbehind_rear_axle = "1120 mm"\n'
TRAILER = '[trailer]\nweight = "1200 kg"\n'


def weighing(name: str, front: int | None, rear: int | None, trailer: int | None = None) -> str:
    figures = {"front": front, "rear": rear, "trailer": trailer}
    lines = [f'{axle} = "{kg} kg"' for axle, kg in figures.items() if kg is not None]
    return "\n".join(["[[weighing]]", f'name = "{name}"', *lines, ""])


UNHITCHED = weighing("unhitched", 1090, 940)
HITCHED = weighing("hitched", 1050, 1080, 1200)
BARS_ON = weighing("distributed", 1070, 1050, 1210)


def job(*parts: str) -> Assessment:
    return job_of('unit = "mm"\n' + "".join(parts)).assessment


def kg(value: float, step_N: float = STEP_N) -> Any:
    """A figure of the scale, in newtons."""
    return ufloat(value * KGF, step_N / 12**0.5)


# The limit of a public weighbridge that the program takes where none is stated: 20 lb, common practice, no source.
@pytest.mark.parametrize(("stated", "step_N"), [(STEP, STEP_N), ("", 20 * LBF)])
def test_the_tongue_and_its_share(stated: str, step_N: float) -> None:
    """Tongue load, trailer and share with the u of the scale's step, stated or usual, in place of what is typed."""
    axles = job(VEHICLE, stated, TONGUE, TRAILER, UNHITCHED, HITCHED).axles
    f1, r1, f2, r2, t2 = (kg(x, step_N) for x in (1090, 940, 1050, 1080, 1200))
    tongue = f2 + r2 - f1 - r1
    share = 100 * tongue / (tongue + t2)
    assert (axles.tongue_N, axles.u_tongue_N) == pytest.approx((tongue.nominal_value, tongue.std_dev), rel=1e-9)
    assert axles.trailer_N == pytest.approx(1300 * KGF, rel=1e-9)
    assert axles.tongue_share_percent == pytest.approx(share.nominal_value, rel=1e-9)
    assert axles.u_tongue_share_percent == pytest.approx(share.std_dev, rel=1e-9)


def test_a_weighed_tongue_under_a_stated_trailer() -> None:
    """Where the trailer's own axles were not weighed its stated weight counts, and the share's u is the tongue's."""
    rated = TRAILER + 'gvwr = "1500 kg"\n'
    a = job(VEHICLE, STEP, TONGUE, rated, HITCH, UNHITCHED, weighing("hitched", 1050, 1080))
    u_N = 2 * STEP_N / 12**0.5
    assert (a.axles.tongue_N, a.axles.u_tongue_N) == pytest.approx((100 * KGF, u_N), rel=1e-9)
    assert a.axles.tongue_share_percent == pytest.approx(100 * 100 / 1200, rel=1e-9)
    assert a.axles.u_tongue_share_percent == pytest.approx(100 * u_N / (1200 * KGF), rel=1e-9)
    made = {key_of(c): c for c in a.verdicts}
    assert made["hitch-rating"].value == pytest.approx(100 * KGF, rel=1e-9)
    assert made["trailer-rating"].value == pytest.approx(1200 * KGF, rel=1e-9)


def test_a_weighed_tongue_under_no_trailer() -> None:
    """Nobody weighed or stated the trailer: the tongue load stands, and there is no share of it."""
    axles = job(VEHICLE, STEP, TONGUE, UNHITCHED, weighing("hitched", 1050, 1080)).axles
    assert axles.tongue_N == pytest.approx(100 * KGF, rel=1e-9)
    assert (axles.trailer_N, axles.tongue_share_percent, axles.u_tongue_share_percent) == (None, None, None)


def test_stated_weights_meet_their_ratings() -> None:
    """A stated tongue and trailer are held against hitch and trailer ratings where no ticket tells them."""
    rated = '[trailer]\nweight = "1200 kg"\ngvwr = "1500 kg"\n'
    made = {key_of(c): c for c in job(VEHICLE, STEP, TONGUE, rated, HITCH).verdicts}
    assert made["hitch-rating"].value == pytest.approx(95 * KGF, rel=1e-9)
    assert made["trailer-rating"].value == pytest.approx(1200 * KGF, rel=1e-9)


# By hand: of 95 kg 1120 mm behind, the rear takes 1.4; 360 kg are left on the rear axle, 370 on all, 120 on the hitch.
@pytest.mark.parametrize(
    ("facts", "limit", "room_kg"),
    [
        (TONGUE + HITCH, "hitch", 120.0),
        (TONGUE, "rear axle", 360 / 1.4),
        (TONGUE.replace("1120", "560"), "rear axle", 360 / 1.2),
        ("", "gross", 370.0),
    ],
)
def test_which_rating_is_reached_first(facts: str, limit: str, room_kg: float) -> None:
    """The least room under any rating is told with its rating; without a place for the load no axle is judged."""
    axles = job(VEHICLE, facts, UNHITCHED).axles
    assert axles.first_limit == limit
    assert axles.load_until_first_limit_N == pytest.approx(room_kg * KGF, rel=1e-9)


def test_the_balls_own_place_comes_before_a_loads() -> None:
    """Where the ball's overhang is stated the room is for a load there, wherever the tongue was put."""
    vehicle = VEHICLE + 'ball_overhang = "700 mm"\n'
    assert job(vehicle, TONGUE, UNHITCHED).axles.load_until_first_limit_N == pytest.approx(360 / 1.25 * KGF, rel=1e-9)


@pytest.mark.parametrize("weighings", ["", HITCHED])
def test_no_room_is_told_without_the_unhitched_weighing(weighings: str) -> None:
    """What is left is counted from the vehicle without its trailer; the hitch's rating alone says nothing of it."""
    axles = job(VEHICLE, TONGUE, HITCH, weighings).axles
    assert (axles.first_limit, axles.load_until_first_limit_N) == (None, None)


@pytest.mark.parametrize(("front", "rear"), [(None, 940), (1090, None)])
def test_half_a_ticket_gives_no_hitched_axles(front: int | None, rear: int | None) -> None:
    """With one axle of the unhitched weighing missing, the hitched axles are not reckoned by lever."""
    a = job(VEHICLE, TONGUE, weighing("unhitched", front, rear))
    values = {key_of(c): c.value for c in a.verdicts if key_of(c).endswith("axle-rating")}
    assert set(values.values()) <= {(front or 0) * KGF, (rear or 0) * KGF}
    assert not any("by lever" in c.source for c in a.verdicts)


def test_what_the_bars_gave_back_by_weight() -> None:
    """Three weighings: 40 kg lost to the front and 20 regained is half, with the u of the three front figures."""
    a = job(VEHICLE, STEP, UNHITCHED, HITCHED, BARS_ON)
    f1, f2, f3 = kg(1090), kg(1050), kg(1070)
    restored = 100 * (f3 - f2) / (f1 - f2)
    found = known(a.restoration)
    assert found.by == "weights"
    assert found.percent == pytest.approx(50.0, rel=1e-9)
    assert found.u_percent == pytest.approx(restored.std_dev, rel=1e-9)


@pytest.mark.parametrize("left_out", range(3))
def test_two_weighings_do_not_tell_what_came_back(left_out: int) -> None:
    """Without any one of the three weighings there is no restoration by weight."""
    made = [UNHITCHED, HITCHED, BARS_ON]
    del made[left_out]
    assert job(VEHICLE, STEP, *made).restoration is None


def test_the_combined_weight_is_the_same_with_bars_on() -> None:
    """Weighed again with the bars on, the whole must weigh the same within the step: a digit out is told."""
    named, digit_out = "weighings-agree", weighing("distributed", 1070, 1050, 2110)
    for bars_on, value_N, verdict in ((BARS_ON, 0.0, "pass"), (digit_out, 900 * KGF, "fail")):
        made = {key_of(c): c for c in job(VEHICLE, STEP, UNHITCHED, HITCHED, bars_on).verdicts}[named]
        assert made.verdict == verdict
        assert made.value == pytest.approx(value_N, rel=1e-9, abs=1e-6)
        assert made.limit == pytest.approx(2 * 6**0.5 * STEP_N / 12**0.5, rel=1e-9)


def load(name: str, ahead_mm: float) -> Load:
    return Load(name=name, weight_N=900.0, ahead_mm=ahead_mm)


KITCHEN, BALL, NOSE = load("kitchen", -600.0), load("rack", -1000.0), load("Nose weight", -900.0)


# Common practice, no source: what the trailer puts on the ball is the tongue load, whatever it is called.
@pytest.mark.parametrize(
    ("loads", "overhang_mm", "tongue"),
    [
        ((KITCHEN, BALL, NOSE), 1000.0, NOSE),
        ((KITCHEN, BALL), 1000.0, BALL),
        ((KITCHEN, BALL), 1000.9, BALL),
        ((KITCHEN, BALL), 1001.0, KITCHEN),
        ((KITCHEN, BALL), None, KITCHEN),
        ((load("tongue", 0.0), load("tongue too", 0.5), KITCHEN), None, KITCHEN),
        ((load("cargo", 800.0),), 1000.0, None),
        ((), 1000.0, None),
    ],
)
def test_which_load_is_the_tongue(loads: tuple[Load, ...], overhang_mm: float | None, tongue: Load | None) -> None:
    """The named one, else the one on the ball to a millimetre, else the first behind the rear axle, none ahead."""
    assert tongue_load(Session(loads=loads, vehicle=Vehicle(ball_overhang_mm=overhang_mm))) is tongue


@pytest.mark.parametrize(
    ("session", "towing"),
    [
        (Session(hitch=Hitch(kind="load-distributing")), "yes"),
        (Session(hitch=Hitch(rating_N=1000.0)), "yes"),
        (Session(trailer=Trailer(weight_N=9000.0)), "yes"),
        (Session(loads=(NOSE,)), "yes"),
        (Session(loads=(BALL,), vehicle=Vehicle(ball_overhang_mm=1000.9)), "yes"),
        (Session(loads=(BALL,), vehicle=Vehicle(ball_overhang_mm=1001.0)), "no"),
        (Session(loads=(KITCHEN,)), "no"),
        (Session(vehicle=Vehicle(ball_overhang_mm=1000.0)), "no"),
        (Session(), "no"),
    ],
)
def test_whether_a_trailer_is_spoken_of(session: Session, towing: str) -> None:
    """A hitch, a trailer, a tongue by name or a load on the ball speak of a trailer; a kitchen at the back does not."""
    assert is_towing(session) is (towing == "yes")


# The gross weight falls from 2030 kg to 203 kg when hitched: the tongue would pull up more than the trailer weighs.
def test_a_trailer_of_less_than_nothing_has_no_tongue_share() -> None:
    """A share of a negative weight would have a negative uncertainty; the check is named as not made instead."""
    found = job_of(WORKED_CASE + UNHITCHED + weighing("hitched", 105, 98, 1205)).assessment
    assert known(found.axles.trailer_N) < 0
    assert (found.axles.tongue_share_percent, found.axles.u_tongue_share_percent) == (None, None)
    assert "tongue-share" in {key_of(missing) for missing in found.not_checked}
    assert "tongue-share" not in {key_of(check) for check in found.verdicts}
