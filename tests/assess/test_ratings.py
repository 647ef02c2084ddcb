"""Weights against ratings: placard arithmetic as printed, the worst weighing, and room for a tongue load."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.axles import LoadAt, axle_gains
from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.ratings import (
    Ratings,
    compare_to_ratings,
    payload_left,
    tongue_room,
)
from cornerwalk.assess.weighing import ScaleTicket, read_tickets
from cornerwalk.session.events import Weighing
from tests.support.known import known
from tests.support.units import LBF

STEP_N = 20 * LBF

# Invented: the rear axle is heaviest hitched with the bars off, the front heaviest unhitched.
UNHITCHED = ScaleTicket(front_N=12000.0, rear_N=10500.0)
HITCHED = ScaleTicket(front_N=11300.0, rear_N=13000.0, trailer_N=15500.0)
DISTRIBUTED = ScaleTicket(front_N=11700.0, rear_N=12300.0, trailer_N=15800.0)

WEIGHED: dict[Weighing, ScaleTicket] = {"unhitched": UNHITCHED, "hitched": HITCHED, "distributed": DISTRIBUTED}
U_ONE_N = STEP_N / 12**0.5
"""The u of one figure of the scale."""


# Source: the label's worked steps in an owner's manual (seen): capacity 1,000 lb; 2 × 150, 5 × 150, 5 × 200 lb aboard.
@pytest.mark.parametrize(("people", "each_lb", "left_lb"), [(2, 150, 700), (5, 150, 250), (5, 200, 0)])
def test_placard_examples(people: int, each_lb: float, left_lb: float) -> None:
    """The label's three examples come out exactly."""
    left_N = payload_left(1000 * LBF, [each_lb * LBF] * people)
    assert left_N == pytest.approx(left_lb * LBF, abs=1e-9)


def test_nothing_missing_is_lost_from_sight() -> None:
    """Every rating is in the answer: one not stated has no limit, one not weighed no value, a missing pass is named."""
    ratings = Ratings(rear_axle_N=13790.0)
    made = compare_to_ratings({"unhitched": UNHITCHED}, read_tickets(unhitched=UNHITCHED), ratings)
    found = {one.rating: one for one in made}
    rear = found["rear axle"]
    assert len(found) == 8
    assert (found["front axle"].limit_N, found["combined"].value_N) == (None, None)
    assert (rear.value_N, rear.u_N, rear.missing) == (10500.0, None, ("hitched", "distributed"))


# By hand: so many figures of the scale go into each: one axle; two; two and the trailer; two less two, and that and the
# trailer. u of their sum or difference is √n times one figure's.
FIGURES = {
    "front axle": 1, "rear axle": 1, "front tyres": 1, "rear tyres": 1,
    "gross": 2, "combined": 3, "hitch": 4, "trailer": 5,
}  # fmt: skip


def test_every_rating_meets_its_worst_weighing() -> None:
    """Each of the eight has its own limit, the heaviest figure of any weighing, and the u of the figures in it."""
    limits = {name: float(limit) for limit, name in enumerate(Ratings.__dataclass_fields__, start=1)}
    tickets = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=DISTRIBUTED, step_N=STEP_N)
    found = compare_to_ratings(WEIGHED, tickets, Ratings(**limits), step_N=STEP_N)
    assert [(one.rating, one.limit_N) for one in found] == list(zip(FIGURES, range(1, 9), strict=True))
    assert [one.u_N for one in found] == pytest.approx([U_ONE_N * n**0.5 for n in FIGURES.values()], rel=1e-12)
    values = (12000.0, 13000.0, 12000.0, 13000.0, 24300.0, 39800.0, 1800.0, 17300.0)
    assert tuple(one.value_N for one in found) == values
    assert [one.weighing == "unhitched" for one in found] == [name.startswith("front") for name in FIGURES]
    assert {one.weighing for one in found} == {"unhitched", "hitched"}
    assert all(one.missing == () for one in found)


@pytest.mark.parametrize("limit_N", [float("nan"), float("inf"), None])
def test_a_limit_that_is_no_number_is_not_stated(limit_N: float | None) -> None:
    """A rating that cannot be reckoned with is as good as none, though the weight stands."""
    first = compare_to_ratings({"unhitched": UNHITCHED}, read_tickets(), Ratings(front_axle_N=limit_N))[0]
    assert (first.limit_N, first.value_N) == (None, 12000.0)


# Invented limits 500 N above what stands there. By hand on 3000 mm, the ball 1200 mm behind: the rear takes 1.4 of the
# tongue, 500/1.4; ahead of the rear axle by 600 mm the rear takes 0.8 and the front 0.2 of it.
@pytest.mark.parametrize(
    ("overhang_mm", "rooms"),
    [
        (1200.0, {"rear axle": (500 / 1.4, 1 / 1.4), "rear tyres": (600 / 1.4, 1 / 1.4)}),
        (-600.0, {"rear axle": (500 / 0.8, 1 / 0.8), "rear tyres": (600 / 0.8, 1 / 0.8),
                  "front axle": (500 / 0.2, 1 / 0.2), "front tyres": (600 / 0.2, 1 / 0.2)}),
        (None, {}),
    ],
)  # fmt: skip
def test_the_room_under_every_rating(overhang_mm: float | None, rooms: dict[str, tuple[float, float]]) -> None:
    """Axles and tyres leave what the lever makes of their margin; gross and hitch the margin itself, lever or not."""
    axles = {"front_axle_N": 12500.0, "rear_axle_N": 11000.0, "front_tyres_N": 12600.0, "rear_tyres_N": 11100.0}
    ratings = Ratings(**axles, gross_N=22500.0 + 700.0, hitch_N=2200.0)
    found = tongue_room(UNHITCHED, ratings, wheelbase_mm=3000.0, overhang_mm=overhang_mm, step_N=STEP_N)
    wanted = {name: (largest, U_ONE_N * per) for name, (largest, per) in rooms.items()}
    wanted |= {"gross": (700.0, U_ONE_N * 2**0.5), "hitch": (2200.0, 0.0)}
    assert {room.rating for room in found} == set(wanted)
    for room in found:
        assert (room.largest_N, room.u_N) == pytest.approx(wanted[room.rating], rel=1e-12)
        assert room.over_already is False
    assert [room.largest_N for room in found] == sorted(room.largest_N for room in found)


@pytest.mark.parametrize("margin_N", [0.0, 0.5, -0.5])
def test_a_rating_just_met_is_not_over(margin_N: float) -> None:
    """At its rating an axle has no room and is not over it; half a newton beyond it is."""
    (room,) = tongue_room(
        UNHITCHED, Ratings(rear_axle_N=10500.0 + margin_N), wheelbase_mm=3000.0, overhang_mm=1200.0, step_N=STEP_N
    )
    assert room.largest_N == pytest.approx(max(0.0, margin_N / 1.4), rel=1e-9)
    over = margin_N < 0
    assert (room.over_already, room.u_N is None) == (over, over)


@pytest.mark.parametrize(
    ("capacity_N", "aboard_N"),
    [(None, [100.0]), (float("nan"), [100.0]), (1000.0, [float("nan")]), (None, [float("inf")])],
)
def test_payload_with_a_figure_missing(capacity_N: float | None, aboard_N: list[float]) -> None:
    """Nothing is said to be left where the label or one of the weights is not known."""
    assert payload_left(capacity_N, aboard_N) is None


@given(
    front_N=st.floats(5000, 15000),
    rear_N=st.floats(5000, 15000),
    margin_N=st.floats(100, 5000),
    wheelbase_mm=st.floats(2000, 4500),
    overhang_mm=st.floats(200, 2500),
)
def test_room_is_exactly_what_the_lever_leaves(
    front_N: float, rear_N: float, margin_N: float, wheelbase_mm: float, overhang_mm: float
) -> None:
    """With the room found put on the ball, that rating is met exactly and every rating with more room still holds."""
    ratings = Ratings(front_axle_N=front_N, rear_axle_N=rear_N + margin_N, gross_N=front_N + rear_N + 2 * margin_N)
    rooms = tongue_room(
        ScaleTicket(front_N=front_N, rear_N=rear_N), ratings, wheelbase_mm=wheelbase_mm, overhang_mm=overhang_mm
    )
    assert [room.rating for room in rooms] != []
    assert "front axle" not in [room.rating for room in rooms]
    first = rooms[0]
    gains = known(axle_gains([LoadAt(Estimate(first.largest_N), Estimate(-overhang_mm))], Estimate(wheelbase_mm)))
    loads = {"rear axle": rear_N + gains.rear.value, "gross": front_N + rear_N + first.largest_N}
    limits = {"rear axle": rear_N + margin_N, "gross": front_N + rear_N + 2 * margin_N}
    assert loads[first.rating] == pytest.approx(limits[first.rating], rel=1e-9)
    assert all(loads[name] <= limits[name] * (1 + 1e-9) for name in loads)


def test_over_already_is_no_room() -> None:
    """A rating passed before the trailer is attached leaves nought and says so, the front axle's included."""
    over = Ratings(front_axle_N=11000.0, rear_axle_N=13790.0)
    first = tongue_room(UNHITCHED, over, wheelbase_mm=3000.0, overhang_mm=1200.0)[0]
    assert (first.rating, first.largest_N, first.over_already) == ("front axle", 0.0, True)


_amounts = st.none() | st.floats(allow_nan=True, allow_infinity=True)


@given(st.lists(_amounts, min_size=16, max_size=16))
def test_any_figures_any_of_them_missing(values: list[float | None]) -> None:
    """No figure of a ticket or label makes a NaN, an infinity or a crash."""
    weighed = ScaleTicket(front_N=values[0], rear_N=values[1], trailer_N=values[2])
    other = ScaleTicket(front_N=values[3], rear_N=values[4], trailer_N=values[5])
    ratings = Ratings(**dict(zip(Ratings.__dataclass_fields__, values[6:13], strict=False)))
    step_N = values[13]
    tickets = read_tickets(unhitched=weighed, hitched=other, step_N=step_N)
    checks = compare_to_ratings({"unhitched": weighed, "hitched": other}, tickets, ratings, step_N=step_N)
    rooms = tongue_room(weighed, ratings, wheelbase_mm=values[14], overhang_mm=values[15], step_N=step_N)
    figures = [figure for one in checks for figure in (one.limit_N, one.value_N, one.u_N)]
    figures += [figure for room in rooms for figure in (room.largest_N, room.u_N)]
    assert all(figure is None or abs(figure) < 1e300 for figure in figures)
    assert [room.largest_N for room in rooms] == sorted(room.largest_N for room in rooms)
