"""Scale tickets: what three weighings say, and how sure a scale of that step makes it."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.axles import LoadAt, axle_gains
from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.weighing import NO_TICKET, ScaleTicket, read_tickets, u_of_scale
from tests.support.known import known
from tests.support.units import LBF

STEP_N = 20 * LBF

# An invented tow: unhitched, hitched, hitched with distribution, as a 20 lb scale would print it.
UNHITCHED = ScaleTicket(front_N=2640 * LBF, rear_N=2380 * LBF)
HITCHED = ScaleTicket(front_N=2480 * LBF, rear_N=2940 * LBF, trailer_N=3520 * LBF)
DISTRIBUTED = ScaleTicket(front_N=2580 * LBF, rear_N=2780 * LBF, trailer_N=3580 * LBF)


def test_an_invented_tow_by_hand() -> None:
    """Each figure is the sum or difference that the module's table says, worked here in whole pounds."""
    tickets = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=DISTRIBUTED, step_N=STEP_N)
    assert tickets.tongue_N == pytest.approx(400 * LBF)
    assert tickets.front_lost_N == pytest.approx(160 * LBF)
    assert tickets.front_regained_N == pytest.approx(100 * LBF)
    assert tickets.trailer_N == pytest.approx(3920 * LBF)
    assert tickets.tongue_share_percent == pytest.approx(100 * 400 / 3920)
    assert tickets.combined_change_N == pytest.approx(0.0, abs=1e-9)
    assert tickets.combined_agrees is True


def test_uncertainty_agrees_with_independent_propagation() -> None:
    """The u of every figure is what the `uncertainties` package derives, shared figures counted once."""
    u = STEP_N / 12**0.5

    def independent(value: float | None) -> Any:
        return ufloat(value, u)

    f1, r1 = independent(UNHITCHED.front_N), independent(UNHITCHED.rear_N)
    f2, r2, t2 = (independent(v) for v in (HITCHED.front_N, HITCHED.rear_N, HITCHED.trailer_N))
    f3, r3, t3 = (independent(v) for v in (DISTRIBUTED.front_N, DISTRIBUTED.rear_N, DISTRIBUTED.trailer_N))
    tongue = (f2 + r2) - (f1 + r1)
    tickets = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=DISTRIBUTED, step_N=STEP_N)
    pairs = [
        (tickets.u_tongue_N, tongue),
        (tickets.u_front_lost_N, f1 - f2),
        (tickets.u_front_regained_N, f3 - f2),
        (tickets.u_trailer_N, t2 + tongue),
        (tickets.u_tongue_share_percent, 100 * tongue / (t2 + tongue)),
        (tickets.u_combined_change_N, f3 + r3 + t3 - f2 - r2 - t2),
    ]
    assert [ours for ours, _ in pairs] == pytest.approx([theirs.s for _, theirs in pairs], rel=1e-9)


def test_statics_gives_the_tickets_back() -> None:
    """Tickets made from a known tongue load by the lever give that tongue load and front loss back."""
    tongue_N, wheelbase_mm, overhang_mm = 1823.8, 3022.6, 1168.4
    gains = known(axle_gains([LoadAt(Estimate(tongue_N), Estimate(-overhang_mm))], Estimate(wheelbase_mm)))
    front_N, rear_N = 11000.0, 10000.0
    hitched = ScaleTicket(front_N=front_N + gains.front.value, rear_N=rear_N + gains.rear.value)
    tickets = read_tickets(unhitched=ScaleTicket(front_N=front_N, rear_N=rear_N), hitched=hitched)
    assert tickets.tongue_N == pytest.approx(tongue_N, rel=1e-12)
    assert tickets.front_lost_N == pytest.approx(tongue_N * overhang_mm / wheelbase_mm, rel=1e-12)


# Source: the trade's own self-check (seen): front + rear + trailer is the same with the bars off and on. Entry errors,
# transposed digits among them, are the usual ones.
def test_transposed_digits_are_caught() -> None:
    """Any two unlike neighbouring digits swapped in one figure of the third weighing break the agreement."""
    figures = {"front_N": 2580, "rear_N": 2780, "trailer_N": 3580}
    caught = tried = 0
    for field, pounds in figures.items():
        text = str(pounds)
        for place in range(len(text) - 1):
            if text[place] == text[place + 1]:
                continue
            swapped = int(text[:place] + text[place + 1] + text[place] + text[place + 2 :])
            mistyped = ScaleTicket(**{name: (swapped if name == field else lb) * LBF for name, lb in figures.items()})
            tickets = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=mistyped, step_N=STEP_N)
            tried += 1
            caught += tickets.combined_agrees is False
    assert tried == caught == 9


def test_honest_tickets_seldom_disagree() -> None:
    """At least 95 of 100 sound pairs of weighings, rounded to the scale's step, agree (sums move by whole steps)."""
    chance = random.Random(20260504)
    agreed, runs = 0, 4000
    for _ in range(runs):
        moved, total = chance.uniform(0, 1000), 40000 + chance.uniform(0, 1000)
        front, rear = chance.uniform(9000, 12000), chance.uniform(9000, 12000)
        true = [(front, rear, total - front - rear), (front + moved, rear - 2 * moved, total - front - rear + moved)]
        shown = [[round(value / STEP_N) * STEP_N for value in weighing] for weighing in true]
        second, third = (ScaleTicket(front_N=f, rear_N=r, trailer_N=t) for f, r, t in shown)
        agreed += read_tickets(hitched=second, distributed=third, step_N=STEP_N).combined_agrees is True
    assert 0.95 <= agreed / runs < 1


_amounts = st.none() | st.floats(allow_nan=True, allow_infinity=True)
_weighed = st.builds(ScaleTicket, front_N=_amounts, rear_N=_amounts, trailer_N=_amounts)


@given(unhitched=_weighed, hitched=_weighed, distributed=_weighed, step_N=_amounts)
def test_any_figures_any_of_them_missing(
    unhitched: ScaleTicket, hitched: ScaleTicket, distributed: ScaleTicket, step_N: float | None
) -> None:
    """Whatever is typed or left out, no figure is NaN or infinite, and none has a u without a value."""
    tickets = read_tickets(unhitched=unhitched, hitched=hitched, distributed=distributed, step_N=step_N)
    for name in tickets.__slots__:
        value = getattr(tickets, name)
        assert value is None or abs(value) < 1e300
        if name.startswith("u_") and value is not None:
            assert getattr(tickets, name.removeprefix("u_")) is not None


@pytest.mark.parametrize("without", list(itertools.product([False, True], repeat=3)))
def test_what_is_missing_is_not_guessed(without: tuple[bool, bool, bool]) -> None:
    """A figure is there exactly when the weighings it needs are."""
    unhitched, hitched, distributed = (
        NO_TICKET if gone else weighed for gone, weighed in zip(without, (UNHITCHED, HITCHED, DISTRIBUTED), strict=True)
    )
    tickets = read_tickets(unhitched=unhitched, hitched=hitched, distributed=distributed, step_N=STEP_N)
    first, second, third = (not gone for gone in without)
    assert (tickets.tongue_N is not None) == (first and second)
    assert (tickets.front_regained_N is not None) == (second and third)
    assert (tickets.combined_agrees is not None) == (second and third)


def test_without_a_step_every_figure_is_there_and_none_has_a_u() -> None:
    """The same figures as with a step, not one of them with an uncertainty, and no word on agreement."""
    sure = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=DISTRIBUTED, step_N=STEP_N)
    bare = read_tickets(unhitched=UNHITCHED, hitched=HITCHED, distributed=DISTRIBUTED)
    for name in sure.__slots__:
        unsure = name.startswith("u_") or name == "combined_agrees"
        assert getattr(sure, name) is not None
        assert getattr(bare, name) == (None if unsure else getattr(sure, name))


@pytest.mark.parametrize("step_N", [0.0, -5.0, float("nan"), float("inf"), None])
def test_a_step_that_is_none(step_N: float | None) -> None:
    """A scale has a step above nought; whatever else is typed says nothing of how sure it is."""
    assert u_of_scale(step_N) is None


def test_a_step_is_a_rectangle() -> None:
    """Any weight within one step shows the same figure: u is the step over √12 (JCGM 100:2008, 4.3.7)."""
    assert u_of_scale(120.0) == pytest.approx(120.0 / 12**0.5, rel=1e-12)
    assert u_of_scale(0.5) == pytest.approx(0.5 / 12**0.5, rel=1e-12)


@pytest.mark.parametrize("gone", ["front_N", "rear_N", "trailer_N"])
def test_sums_of_half_a_ticket(gone: str) -> None:
    """The vehicle's weight needs both its axles, the combined one the trailer's as well; a blank is not nought."""
    weighed = replace(HITCHED, **{gone: None})
    assert weighed.combined_N is None
    assert (weighed.gross_N is None) == (gone != "trailer_N")
    assert replace(HITCHED, **{gone: float("nan")}).combined_N is None


# By hand: the tongue is 400 N, and the trailer axles are set so that both together come to nought, below it or above.
@pytest.mark.parametrize(("over_N", "told"), [(0.0, "no"), (-1.0, "no"), (1.0, "yes")])
def test_a_share_of_nothing(over_N: float, told: str) -> None:
    """A tongue is no share of a trailer that weighs nothing or less; the trailer's weight itself is still told."""
    unhitched, hitched = ScaleTicket(front_N=1000.0, rear_N=1000.0), ScaleTicket(front_N=1000.0, rear_N=1400.0)
    tickets = read_tickets(unhitched=unhitched, hitched=replace(hitched, trailer_N=over_N - 400.0), step_N=10.0)
    assert tickets.trailer_N == over_N
    assert (tickets.tongue_share_percent is not None) == (told == "yes")
    assert (tickets.u_tongue_share_percent is not None) == (told == "yes")


# By hand: u of the change is √6 figures, 2u = 2·√(6/12) = √2 steps.
@pytest.mark.parametrize(
    ("steps", "agrees"), [(1.0, "yes"), (1.4142, "yes"), (1.4143, "no"), (-1.4142, "yes"), (-2.0, "no")]
)
def test_how_far_two_weighings_may_differ(steps: float, agrees: str) -> None:
    """The combined weight agrees within U of its change, heavier or lighter, and beyond it does not."""
    second = ScaleTicket(front_N=10000.0, rear_N=12000.0, trailer_N=15000.0)
    third = replace(second, trailer_N=15000.0 + steps * STEP_N)
    tickets = read_tickets(hitched=second, distributed=third, step_N=STEP_N)
    assert tickets.combined_change_N == pytest.approx(steps * STEP_N, rel=1e-9)
    assert tickets.combined_agrees is (agrees == "yes")
