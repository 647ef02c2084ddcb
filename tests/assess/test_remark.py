"""Remarks on a height while it is typed: what is worth a second look, and that ordinary heights are let through."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.attitude import expected_fourth_mm
from cornerwalk.assess.remark import Around, remark
from cornerwalk.assess.uncertainty import Estimate
from cornerwalk.session.corners import CLOCKWISE, SIBLING
from tests.assess.simulated_jobs import INCH, TAPES, honest_job


def codes(height_mm: float, around: Around) -> list[str]:
    return [found.code for found in remark(height_mm, around)]


# Source: a service manual's widest side-to-side limit (seen), 20 mm; 1/8 in between repeats (memory); the other bounds
# are judgement, no source.
@pytest.mark.parametrize(
    ("height_mm", "around", "expected"),
    [
        (701.0, Around(other_side_mm=705.0, earlier_mm=740.0, graduation_mm=1.0), []),
        (727.0, Around(other_side_mm=705.0), ["far from its other side"]),
        (727.0, Around(other_side_mm=705.0, earlier_mm=752.0, earlier_other_side_mm=730.0), []),
        (
            727.0,
            Around(other_side_mm=705.0, earlier_mm=730.0, earlier_other_side_mm=730.0),
            ["side difference changed"],
        ),
        (601.0, Around(earlier_mm=740.0), ["far from its earlier stage"]),
        (701.0, Around(same_corner_mm=705.0), ["repeats differ"]),
        (701.0, Around(same_corner_mm=703.0), []),
        (77.4, Around(other_side_mm=770.0), ["looks like cm"]),
        (7740.0, Around(earlier_mm=770.0), ["looks like mm"]),
        (77.4, Around(), ["unlikely height"]),
        (701.3, Around(graduation_mm=1.0), ["finer than the tape"]),
        (27.625 * INCH, Around(graduation_mm=INCH / 16), []),
        (727.0, Around(from_other_three=Estimate(701.0, 2.6)), ["off the other three"]),
        (706.0, Around(from_other_three=Estimate(701.0, 2.6)), []),
        (float("nan"), Around(other_side_mm=705.0), []),
    ],
)
def test_remarks(height_mm: float, around: Around, expected: list[str]) -> None:
    """Each remark is made where it should be, and not just below its bound."""
    assert codes(height_mm, around) == expected


def test_a_height_in_another_unit_is_told_with_what_it_may_have_been() -> None:
    """A height a tenth of its neighbour's is taken for centimetres, and the millimetres are offered."""
    (found,) = remark(77.4, Around(other_side_mm=770.0))
    assert found.likely_mm == pytest.approx(774.0)


def test_honest_walks_are_hardly_ever_held_up() -> None:
    """One in a hundred of 4000 honest readings is remarked on at most, and nearly every slip of an inch at the last."""
    rng = random.Random(7)
    held, slipped = 0, 0
    for _ in range(1000):
        job = honest_job(rng, TAPES[0], 0)
        before, now = (stage.heights for stage in job.walked())
        for corner in CLOCKWISE:
            around = Around(
                graduation_mm=INCH / 16,
                other_side_mm=now[SIBLING[corner]].value,
                earlier_mm=before[corner].value,
                earlier_other_side_mm=before[SIBLING[corner]].value,
                from_other_three=expected_fourth_mm(corner, now, before) if corner == "LR" else None,
            )
            height_mm = now[corner].value
            held += bool(set(codes(height_mm, around)) - {"far from its earlier stage"})
            slipped += corner == "LR" and "off the other three" in codes(height_mm + rng.choice((-INCH, INCH)), around)
    assert held < 40
    assert slipped > 990


@given(*[st.one_of(st.none(), st.floats(allow_nan=True, allow_infinity=True))] * 6)
def test_anything_may_be_missing_or_absurd(
    height: float | None, a: float | None, b: float | None, c: float | None, d: float | None, g: float | None
) -> None:
    """Whatever stands around a height, or is missing, nothing is raised."""
    around = Around(
        graduation_mm=g,
        other_side_mm=a,
        earlier_mm=b,
        earlier_other_side_mm=c,
        same_corner_mm=d,
        from_other_three=None if a is None or b is None else Estimate(a, b),
    )
    remark(700.0 if height is None else height, around)
