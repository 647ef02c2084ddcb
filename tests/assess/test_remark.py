"""Remarks on a height while it is typed: what is worth a second look, and that ordinary heights are let through."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.attitude import expected_fourth_mm
from cornerwalk.assess.plausibility import Neighbors, Remark, remark
from cornerwalk.assess.uncertainty import Estimate
from cornerwalk.session.stages import CORNERS, SIBLING
from tests.assess.simulated_jobs import TAPES, honest_job
from tests.support.units import IN

EIGHTH_MM = IN / 8


def codes(height_mm: float, around: Neighbors) -> list[str]:
    return [found.code for found in remark(height_mm, around)]


# Source: a service manual's widest side-to-side limit (seen), 20 mm; 1/8 in between repeats (memory); the other bounds
# are judgement, no source.
@pytest.mark.parametrize(
    ("height_mm", "around", "expected"),
    [
        (701.0, Neighbors(other_side_mm=705.0, earlier_mm=740.0, graduation_mm=1.0), []),
        (727.0, Neighbors(other_side_mm=705.0), ["far from its other side"]),
        (727.0, Neighbors(other_side_mm=705.0, earlier_mm=752.0, earlier_other_side_mm=730.0), []),
        (
            727.0,
            Neighbors(other_side_mm=705.0, earlier_mm=730.0, earlier_other_side_mm=730.0),
            ["side difference changed"],
        ),
        (601.0, Neighbors(earlier_mm=740.0), ["far from its earlier stage"]),
        (701.0, Neighbors(same_corner_mm=705.0, repeats_apart_mm=EIGHTH_MM), ["repeats differ"]),
        (701.0, Neighbors(same_corner_mm=703.0, repeats_apart_mm=EIGHTH_MM), []),
        (77.4, Neighbors(other_side_mm=770.0), ["looks like cm"]),
        (7740.0, Neighbors(earlier_mm=770.0), ["looks like mm"]),
        (77.4, Neighbors(), ["unlikely height"]),
        (701.3, Neighbors(graduation_mm=1.0), ["finer than the tape"]),
        (27.625 * IN, Neighbors(graduation_mm=IN / 16), []),
        (727.0, Neighbors(from_other_three=Estimate(701.0, 2.6)), ["off the other three"]),
        (706.0, Neighbors(from_other_three=Estimate(701.0, 2.6)), []),
        (float("nan"), Neighbors(other_side_mm=705.0), []),
    ],
)
def test_remarks(height_mm: float, around: Neighbors, expected: list[str]) -> None:
    """Each remark is made where it should be, and not just below its bound."""
    assert codes(height_mm, around) == expected


# The bounds are the module's own figures, their standing above; each side of them is a step of the tape or less away.
@pytest.mark.parametrize(
    ("height_mm", "around", "expected"),
    [
        (725.0, Neighbors(other_side_mm=705.0), []),
        (725.1, Neighbors(other_side_mm=705.0), ["far from its other side"]),
        (725.0, Neighbors(other_side_mm=700.0, earlier_mm=735.0, earlier_other_side_mm=730.0), []),
        (
            725.1,
            Neighbors(other_side_mm=700.0, earlier_mm=735.0, earlier_other_side_mm=730.0),
            ["side difference changed"],
        ),
        (703.175, Neighbors(same_corner_mm=700.0, repeats_apart_mm=EIGHTH_MM), []),
        (703.2, Neighbors(same_corner_mm=700.0, repeats_apart_mm=EIGHTH_MM), ["repeats differ"]),
        (575.0, Neighbors(earlier_mm=700.0), []),
        (574.9, Neighbors(earlier_mm=700.0), ["far from its earlier stage"]),
        (706.0, Neighbors(from_other_three=Estimate(700.0, 2.0)), []),
        (706.1, Neighbors(from_other_three=Estimate(700.0, 2.0)), ["off the other three"]),
        (300.0, Neighbors(), []),
        (299.9, Neighbors(), ["unlikely height"]),
        (1300.0, Neighbors(), []),
        (1300.1, Neighbors(), ["unlikely height"]),
        (70.0, Neighbors(other_side_mm=780.0), ["far from its other side", "unlikely height"]),
        (70.1, Neighbors(other_side_mm=780.0), ["looks like cm"]),
        (7000.0, Neighbors(other_side_mm=780.0), ["far from its other side", "unlikely height"]),
        (7001.0, Neighbors(other_side_mm=780.0), ["looks like mm"]),
        (8599.0, Neighbors(other_side_mm=780.0), ["looks like mm"]),
        (8600.0, Neighbors(other_side_mm=780.0), ["far from its other side", "unlikely height"]),
    ],
)
def test_each_bound_from_both_sides(height_mm: float, around: Neighbors, expected: list[str]) -> None:
    """At its bound a height is let through; the least step beyond is remarked on."""
    assert codes(height_mm, around) == expected


# A height of a few centimetres from hub to lip, say: ten times it, and a tenth, both lie near a small neighbour.
@pytest.mark.parametrize(("height_mm", "neighbour_mm"), [(8.0, 60.0), (8.0, 88.0), (60.0, 8.0), (88.0, 8.0)])
def test_a_near_neighbour_is_no_other_unit(height_mm: float, neighbour_mm: float) -> None:
    """What lies within 80 mm of its neighbour is not another unit, whatever ten times it would be."""
    assert not {"looks like cm", "looks like mm"} & set(codes(height_mm, Neighbors(other_side_mm=neighbour_mm)))


@pytest.mark.parametrize(
    ("height_mm", "around", "told"),
    [
        (77.4, Neighbors(other_side_mm=770.0), Remark(code="looks like cm", against_mm=770.0, likely_mm=774.0)),
        (7740.0, Neighbors(earlier_mm=770.0), Remark(code="looks like mm", against_mm=770.0, likely_mm=774.0)),
        (
            701.0,
            Neighbors(same_corner_mm=705.0, repeats_apart_mm=EIGHTH_MM),
            Remark(code="repeats differ", against_mm=705.0, apart_mm=-4.0),
        ),
        (
            730.0,
            Neighbors(other_side_mm=705.0),
            Remark(code="far from its other side", against_mm=705.0, apart_mm=25.0),
        ),
        (
            760.0,
            Neighbors(other_side_mm=705.0, earlier_mm=750.0, earlier_other_side_mm=730.0),
            Remark(code="side difference changed", against_mm=725.0, apart_mm=35.0),
        ),
        (
            601.0,
            Neighbors(earlier_mm=740.0),
            Remark(code="far from its earlier stage", against_mm=740.0, apart_mm=-139.0),
        ),
        (
            727.0,
            Neighbors(from_other_three=Estimate(701.0, 2.6)),
            Remark(code="off the other three", against_mm=701.0, apart_mm=26.0),
        ),
        (701.3, Neighbors(graduation_mm=1.0), Remark(code="finer than the tape", against_mm=1.0)),
        (77.4, Neighbors(), Remark(code="unlikely height")),
    ],
)
def test_a_remark_tells_what_it_was_held_against(height_mm: float, around: Neighbors, told: Remark) -> None:
    """The neighbour, how far off the height is, up positive, and in another unit what it may have been."""
    assert remark(height_mm, around) == (told,)


def test_honest_walks_are_hardly_ever_held_up() -> None:
    """One in a hundred of 4000 honest readings is remarked on at most, and nearly every slip of an inch at the last."""
    rng = random.Random(7)
    held, slipped = 0, 0
    for _ in range(1000):
        job = honest_job(rng, TAPES[0], 0)
        before, now = (stage.heights for stage in job.walked())
        for corner in CORNERS:
            around = Neighbors(
                graduation_mm=IN / 16,
                other_side_mm=now[SIBLING[corner]].value,
                earlier_mm=before[corner].value,
                earlier_other_side_mm=before[SIBLING[corner]].value,
                from_other_three=expected_fourth_mm(corner, now, before) if corner == "LR" else None,
            )
            height_mm = now[corner].value
            held += bool(set(codes(height_mm, around)) - {"far from its earlier stage"})
            slipped += corner == "LR" and "off the other three" in codes(height_mm + rng.choice((-IN, IN)), around)
    assert held < 40
    assert slipped > 990


@given(*[st.one_of(st.none(), st.floats(allow_nan=True, allow_infinity=True))] * 6)
def test_anything_may_be_missing_or_absurd(
    height: float | None, a: float | None, b: float | None, c: float | None, d: float | None, g: float | None
) -> None:
    """Whatever stands around a height, or is missing, nothing is raised."""
    around = Neighbors(
        graduation_mm=g,
        other_side_mm=a,
        earlier_mm=b,
        earlier_other_side_mm=c,
        same_corner_mm=d,
        repeats_apart_mm=g,
        from_other_three=None if a is None or b is None else Estimate(a, b),
    )
    remark(700.0 if height is None else height, around)
