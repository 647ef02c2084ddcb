"""What a job's scale tickets come to: the tongue and its share, the room left, what the bars gave back, by hand.

Oracle: automatic propagation over the figures of the tickets, each with u = step/√12. The tow is invented.
"""

from __future__ import annotations

from typing import Any

import pytest
from uncertainties import ufloat

from cornerwalk.assess.assessment import Assessment
from cornerwalk.assess.load_results import is_towing, tongue_load
from cornerwalk.session.model import Hitch, Load, Session, Trailer, Vehicle
from tests.support.jobs import job_of
from tests.support.units import KGF, LBF

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
    made = {c.check: c for c in a.verdicts}
    assert made["tongue load against the hitch rating"].value == pytest.approx(100 * KGF, rel=1e-9)
    assert made["trailer against its gross rating"].value == pytest.approx(1200 * KGF, rel=1e-9)


def test_a_weighed_tongue_under_no_trailer() -> None:
    """Nobody weighed or stated the trailer: the tongue load stands, and there is no share of it."""
    axles = job(VEHICLE, STEP, TONGUE, UNHITCHED, weighing("hitched", 1050, 1080)).axles
    assert axles.tongue_N == pytest.approx(100 * KGF, rel=1e-9)
    assert (axles.trailer_N, axles.tongue_share_percent, axles.u_tongue_share_percent) == (None, None, None)


def test_stated_weights_meet_their_ratings() -> None:
    """A stated tongue and trailer are held against hitch and trailer ratings where no ticket tells them."""
    rated = '[trailer]\nweight = "1200 kg"\ngvwr = "1500 kg"\n'
    made = {c.check: c for c in job(VEHICLE, STEP, TONGUE, rated, HITCH).verdicts}
    assert made["tongue load against the hitch rating"].value == pytest.approx(95 * KGF, rel=1e-9)
    assert made["trailer against its gross rating"].value == pytest.approx(1200 * KGF, rel=1e-9)


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


def test_each_weight_carries_the_u_of_its_scale() -> None:
    """Every weight against its rating has ± twice the step's u, once for an axle and √2 times for both."""
    made = {c.check: c for c in job(VEHICLE, STEP, UNHITCHED, HITCHED).verdicts}
    u_N = STEP_N / 12**0.5
    expanded_N = [made[check].U for check in ("rear axle against its rating", "vehicle against its gross rating")]
    assert expanded_N == pytest.approx([2 * u_N, 2 * u_N * 2**0.5], rel=1e-9)


@pytest.mark.parametrize(("front", "rear"), [(None, 940), (1090, None)])
def test_half_a_ticket_gives_no_hitched_axles(front: int | None, rear: int | None) -> None:
    """With one axle of the unhitched weighing missing, the hitched axles are not reckoned by lever."""
    a = job(VEHICLE, TONGUE, weighing("unhitched", front, rear))
    values = {c.check: c.value for c in a.verdicts if c.check.endswith("axle against its rating")}
    assert set(values.values()) <= {(front or 0) * KGF, (rear or 0) * KGF}
    assert not any("by lever" in c.source for c in a.verdicts)


def test_what_the_bars_gave_back_by_weight() -> None:
    """Three weighings: 40 kg lost to the front and 20 regained is half, with the u of the three front figures."""
    a = job(VEHICLE, STEP, UNHITCHED, HITCHED, BARS_ON)
    f1, f2, f3 = kg(1090), kg(1050), kg(1070)
    restored = 100 * (f3 - f2) / (f1 - f2)
    assert a.restoration is not None
    assert a.restoration.by == "weights"
    assert a.restoration.percent == pytest.approx(50.0, rel=1e-9)
    assert a.restoration.u_percent == pytest.approx(restored.std_dev, rel=1e-9)


@pytest.mark.parametrize("left_out", range(3))
def test_two_weighings_do_not_tell_what_came_back(left_out: int) -> None:
    """Without any one of the three weighings there is no restoration by weight."""
    made = [UNHITCHED, HITCHED, BARS_ON]
    del made[left_out]
    assert job(VEHICLE, STEP, *made).restoration is None


def test_the_combined_weight_is_the_same_with_bars_on() -> None:
    """Weighed again with the bars on, the whole must weigh the same within the step: a digit out is told."""
    named = "combined weight agrees between weighings"
    sound = {c.check: c for c in job(VEHICLE, STEP, UNHITCHED, HITCHED, BARS_ON).verdicts}
    wrong = {
        c.check: c for c in job(VEHICLE, STEP, UNHITCHED, HITCHED, weighing("distributed", 1070, 1050, 2110)).verdicts
    }
    assert sound[named].value == pytest.approx(0.0, abs=1e-6)
    assert sound[named].limit == pytest.approx(2 * 6**0.5 * STEP_N / 12**0.5, rel=1e-9)
    assert wrong[named].value == pytest.approx(900 * KGF, rel=1e-9)
    assert (sound[named].verdict, wrong[named].verdict) == ("pass", "fail")


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
