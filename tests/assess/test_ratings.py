"""Weights against ratings: placard arithmetic as printed, the worst weighing, and room for a tongue load."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.axles import LoadAt, axle_gains
from cornerwalk.assess.ratings import (
    Ratings,
    compare_to_ratings,
    payload_left,
    tongue_room,
)
from cornerwalk.assess.weighing import ScaleTicket, read_tickets
from tests.support.known import known
from tests.support.units import LBF

STEP_N = 20 * LBF

# Invented: the rear axle is heaviest hitched with the bars off, the front heaviest unhitched.
UNHITCHED = ScaleTicket(front_N=12000.0, rear_N=10500.0)
HITCHED = ScaleTicket(front_N=11300.0, rear_N=13000.0, trailer_N=15500.0)
DISTRIBUTED = ScaleTicket(front_N=11700.0, rear_N=12300.0, trailer_N=15800.0)
RATINGS = Ratings(
    front_axle_N=12900.0,
    rear_axle_N=13790.0,
    gross_N=25800.0,
    combined_N=42000.0,
    hitch_N=2200.0,
    trailer_N=17800.0,
)


# Source: the label's worked steps in an owner's manual (seen): capacity 1,000 lb; 2 × 150, 5 × 150, 5 × 200 lb aboard.
@pytest.mark.parametrize(("people", "each_lb", "left_lb"), [(2, 150, 700), (5, 150, 250), (5, 200, 0)])
def test_placard_examples(people: int, each_lb: float, left_lb: float) -> None:
    """The label's three examples come out exactly."""
    left_N = payload_left(1000 * LBF, [each_lb * LBF] * people)
    assert left_N == pytest.approx(left_lb * LBF, abs=1e-9)


def test_worst_weighing_for_each_rating() -> None:
    """Each rating meets the heaviest figure of any weighing, with the scale's u for as many figures as went into it."""
    tickets = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=DISTRIBUTED, step_N=STEP_N)
    found = {
        one.rating: one
        for one in compare_to_ratings(
            {"unhitched": UNHITCHED, "hitched": HITCHED, "distributed": DISTRIBUTED}, tickets, RATINGS, step_N=STEP_N
        )
    }
    worst = {name: (one.value_N, one.weighing) for name, one in found.items()}
    assert worst["front axle"] == (12000.0, "unhitched")
    assert worst["rear axle"] == (13000.0, "hitched")
    assert worst["gross"] == (24300.0, "hitched")
    assert worst["combined"] == (39800.0, "hitched")
    assert worst["hitch"] == (1800.0, "hitched")
    assert worst["trailer"] == (17300.0, "hitched")
    u_one = STEP_N / 12**0.5
    assert found["rear axle"].u_N == pytest.approx(u_one)
    assert found["combined"].u_N == pytest.approx(3**0.5 * u_one)
    assert found["hitch"].u_N == pytest.approx(2 * u_one)
    assert all(one.missing == () for one in found.values())


def test_nothing_missing_is_lost_from_sight() -> None:
    """Every rating is in the answer: one not stated has no limit, one not weighed no value, a missing pass is named."""
    found = {
        one.rating: one
        for one in compare_to_ratings(
            {"unhitched": UNHITCHED}, read_tickets(unhitched=UNHITCHED), Ratings(rear_axle_N=13790.0)
        )
    }
    assert len(found) == 8
    assert found["front axle"].limit_N is None
    assert found["rear axle"].value_N == 10500.0
    assert found["rear axle"].missing == ("hitched", "distributed")
    assert found["combined"].value_N is None
    assert found["rear axle"].u_N is None


# By hand: so many figures of the scale go into each: one axle; two; two and the trailer; two less two, and that and the
# trailer. u of their sum or difference is √n times one figure's.
FIGURES = {
    "front axle": 1, "rear axle": 1, "front tyres": 1, "rear tyres": 1,
    "gross": 2, "combined": 3, "hitch": 4, "trailer": 5,
}  # fmt: skip


def test_every_rating_has_its_limit_and_the_u_of_what_is_held_against_it() -> None:
    """Each of the eight meets its own limit, and its u is that of the figures of the scale which went into it."""
    ratings = Ratings(
        front_axle_N=1.0,
        rear_axle_N=2.0,
        front_tyres_N=3.0,
        rear_tyres_N=4.0,
        gross_N=5.0,
        combined_N=6.0,
        hitch_N=7.0,
        trailer_N=8.0,
    )
    tickets = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=DISTRIBUTED, step_N=STEP_N)
    made = {"unhitched": UNHITCHED, "hitched": HITCHED, "distributed": DISTRIBUTED}
    found = compare_to_ratings(made, tickets, ratings, step_N=STEP_N)  # type: ignore[arg-type]
    assert [(one.rating, one.limit_N) for one in found] == list(zip(FIGURES, range(1, 9), strict=True))
    u_one = STEP_N / 12**0.5
    assert [one.u_N for one in found] == pytest.approx([u_one * n**0.5 for n in FIGURES.values()], rel=1e-12)
    values = (12000.0, 13000.0, 12000.0, 13000.0, 24300.0, 39800.0, 1800.0, 17300.0)
    assert tuple(one.value_N for one in found) == values


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
        (
            -600.0,
            {
                "rear axle": (500 / 0.8, 1 / 0.8),
                "rear tyres": (600 / 0.8, 1 / 0.8),
                "front axle": (500 / 0.2, 1 / 0.2),
                "front tyres": (600 / 0.2, 1 / 0.2),
            },
        ),
        (None, {}),
    ],
)
def test_the_room_under_every_rating(overhang_mm: float | None, rooms: dict[str, tuple[float, float]]) -> None:
    """Axles and tyres leave what the lever makes of their margin; gross and hitch the margin itself, lever or not."""
    ratings = Ratings(
        front_axle_N=12500.0,
        rear_axle_N=11000.0,
        front_tyres_N=12600.0,
        rear_tyres_N=11100.0,
        gross_N=22500.0 + 700.0,
        hitch_N=2200.0,
    )
    found = tongue_room(UNHITCHED, ratings, wheelbase_mm=3000.0, overhang_mm=overhang_mm, step_N=STEP_N)
    u_one = STEP_N / 12**0.5
    wanted = {name: (largest, u_one * per) for name, (largest, per) in rooms.items()}
    wanted |= {"gross": (700.0, u_one * 2**0.5), "hitch": (2200.0, 0.0)}
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
    gains = known(axle_gains([LoadAt(weight_N=first.largest_N, ahead_mm=-overhang_mm)], wheelbase_mm))
    loads = {"rear axle": rear_N + gains.rear_N, "gross": front_N + rear_N + first.largest_N}
    limits = {"rear axle": rear_N + margin_N, "gross": front_N + rear_N + 2 * margin_N}
    assert loads[first.rating] == pytest.approx(limits[first.rating], rel=1e-9)
    assert all(loads[name] <= limits[name] * (1 + 1e-9) for name in loads)


def test_first_limit_of_the_invented_tow() -> None:
    """The first limit is the smallest room; the rear axle's is worked by hand."""
    rooms = tongue_room(UNHITCHED, RATINGS, wheelbase_mm=3000.0, overhang_mm=1200.0, step_N=STEP_N)
    assert [room.rating for room in rooms] == ["hitch", "rear axle", "gross"]
    rear = rooms[1]
    assert rear.largest_N == pytest.approx((13790.0 - 10500.0) * 3000 / 4200)
    assert rear.u_N == pytest.approx(STEP_N / 12**0.5 * 3000 / 4200)
    assert rooms[0].u_N == 0.0


def test_over_already_is_no_room() -> None:
    """A rating passed before the trailer is attached leaves nought and says so, the front axle's included."""
    over = Ratings(front_axle_N=11000.0, rear_axle_N=13790.0)
    first = tongue_room(UNHITCHED, over, wheelbase_mm=3000.0, overhang_mm=1200.0)[0]
    assert (first.rating, first.largest_N, first.over_already) == ("front axle", 0.0, True)


def test_load_ahead_of_the_rear_axle_can_meet_the_front_rating() -> None:
    """A load in the bed (a negative overhang) weighs on the front axle too, and its rating may be the first."""
    rooms = tongue_room(
        UNHITCHED, Ratings(front_axle_N=12100.0, rear_axle_N=30000.0), wheelbase_mm=3000.0, overhang_mm=-600.0
    )
    assert rooms[0].rating == "front axle"
    assert rooms[0].largest_N == pytest.approx(100.0 * 3000 / 600)


_amounts = st.none() | st.floats(allow_nan=True, allow_infinity=True)


@given(st.lists(_amounts, min_size=16, max_size=16))
def test_any_figures_any_of_them_missing(values: list[float | None]) -> None:
    """No figure of a ticket or label makes a NaN, an infinity or a crash."""
    weighed = ScaleTicket(front_N=values[0], rear_N=values[1], trailer_N=values[2])
    other = ScaleTicket(front_N=values[3], rear_N=values[4], trailer_N=values[5])
    ratings = Ratings(
        front_axle_N=values[6],
        rear_axle_N=values[7],
        front_tyres_N=values[8],
        rear_tyres_N=values[9],
        gross_N=values[10],
        combined_N=values[11],
        hitch_N=values[12],
    )
    step_N = values[13]
    tickets = read_tickets(unhitched=weighed, hitched=other, step_N=step_N)
    checks = compare_to_ratings({"unhitched": weighed, "hitched": other}, tickets, ratings, step_N=step_N)
    rooms = tongue_room(weighed, ratings, wheelbase_mm=values[14], overhang_mm=values[15], step_N=step_N)
    figures = [figure for one in checks for figure in (one.limit_N, one.value_N, one.u_N)]
    figures += [figure for room in rooms for figure in (room.largest_N, room.u_N)]
    assert all(figure is None or abs(figure) < 1e300 for figure in figures)
    assert [room.largest_N for room in rooms] == sorted(room.largest_N for room in rooms)
