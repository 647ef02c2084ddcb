"""Remarks on a height while it is typed: what is worth a second look, and that ordinary heights are let through."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.attitude import expected_fourth_mm
from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.plausibility import Neighbors, Remark, neighbors, remark
from cornerwalk.session.events import ReadingMode
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import CORNERS, SIBLING, Corner
from tests.assess.simulated_jobs import TAPES, honest_job
from tests.support.jobs import WORKED_CASE, InventedJob, half_done, job_of, separate_lines, standards, worked_case
from tests.support.units import IN

EIGHTH_MM = IN / 8


def _off(against_mm: float, apart_mm: float) -> dict[str, float]:
    return {"against_mm": against_mm, "apart_mm": apart_mm}


def codes(height_mm: float, around: Neighbors) -> list[str]:
    return [found.code for found in remark(height_mm, around)]


_LEANT = Neighbors(other_side_mm=700.0, earlier_mm=735.0, earlier_other_side_mm=730.0)
"""A side that stood 5 mm higher than the other at the stage before."""


# Source: a service manual's widest side-to-side limit (seen), 20 mm; 1/8 in between repeats (memory); the other bounds
# are judgement, no source. Each side of a bound is a step of the tape or less away.
@pytest.mark.parametrize(
    ("height_mm", "around", "expected"),
    [
        (701.0, Neighbors(other_side_mm=705.0, earlier_mm=740.0, graduation_mm=1.0), []),
        (27.625 * IN, Neighbors(graduation_mm=IN / 16), []),
        (float("nan"), Neighbors(other_side_mm=705.0), []),
        (725.0, Neighbors(other_side_mm=705.0), []),
        (725.1, Neighbors(other_side_mm=705.0), ["far from its other side"]),
        (725.0, _LEANT, []),
        (725.1, _LEANT, ["side difference changed"]),
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


_EARLIER = Neighbors(other_side_mm=705.0, earlier_mm=750.0, earlier_other_side_mm=730.0)


@pytest.mark.parametrize(
    ("height_mm", "around", "code", "figures"),
    [
        (77.4, Neighbors(other_side_mm=770.0), "looks like cm", {"against_mm": 770.0, "likely_mm": 774.0}),
        (7740.0, Neighbors(earlier_mm=770.0), "looks like mm", {"against_mm": 770.0, "likely_mm": 774.0}),
        (701.0, Neighbors(same_corner_mm=705.0, repeats_apart_mm=EIGHTH_MM), "repeats differ", _off(705.0, -4.0)),
        (730.0, Neighbors(other_side_mm=705.0), "far from its other side", _off(705.0, 25.0)),
        (760.0, _EARLIER, "side difference changed", _off(725.0, 35.0)),
        (601.0, Neighbors(earlier_mm=740.0), "far from its earlier stage", _off(740.0, -139.0)),
        (727.0, Neighbors(from_other_three=Estimate(701.0, 2.6)), "off the other three", _off(701.0, 26.0)),
        (701.3, Neighbors(graduation_mm=1.0), "finer than the tape", {"against_mm": 1.0}),
        (77.4, Neighbors(), "unlikely height", {}),
    ],
)
def test_a_remark_tells_what_it_was_held_against(
    height_mm: float, around: Neighbors, code: Any, figures: dict[str, float]
) -> None:
    """The neighbour, how far off the height is, up positive, and in another unit what it may have been."""
    assert remark(height_mm, around) == (Remark(code=code, **figures),)


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


@given(st.lists(st.none() | st.floats(), min_size=6, max_size=6))
def test_anything_may_be_missing_or_absurd(anything: list[float | None]) -> None:
    """Whatever stands around a height, or is missing, nothing is raised."""
    height, a, b, c, d, g = anything
    three = None if a is None or b is None else Estimate(a, b)
    around = Neighbors(
        graduation_mm=g, other_side_mm=a, earlier_mm=b, earlier_other_side_mm=c, same_corner_mm=d, repeats_apart_mm=g,
        from_other_three=three,
    )  # fmt: skip
    remark(700.0 if height is None else height, around)


LOADED: StageKey = ("loaded", 1)


def remarks(job: InventedJob, mm: float, stage: StageKey, corner: Corner, how: ReadingMode = "first") -> list[Remark]:
    return list(remark(mm, neighbors(job.session, standards(), stage, corner, how)))


def test_a_stage_is_held_beside_the_one_before_it() -> None:
    """The earlier heights are those of the stage before, not of a later one; the other side's belong to both."""
    found = neighbors(worked_case().session, standards(), LOADED, "RR")
    assert found.earlier_mm == pytest.approx(29.1875 * IN)
    assert found.earlier_other_side_mm == pytest.approx(29.25 * IN)
    assert found.other_side_mm == pytest.approx(27.75 * IN)


def test_a_stage_not_begun_yet_is_held_beside_the_last() -> None:
    """While the first height of a new stage is typed, the last stage read is the one before."""
    found = neighbors(worked_case().session, standards(), ("fitted", 3), "LR")
    assert found.earlier_mm == pytest.approx(28.8125 * IN)
    assert found.other_side_mm is None


def test_a_skipped_corner_is_looked_for_further_back() -> None:
    """Where the stage before has no reading of the corner, the latest one that has it counts."""
    job = job_of(
        'unit = "mm"\n[job]\ntitle = "One corner skipped"\n'
        '[[stage]]\nname = "unloaded"\nLF = "700"\nRF = "702"\nRR = "720"\nLR = "721"\n'
        '[[stage]]\nname = "loaded"\nLF = "705"\nRF = "707"\nRR = "690"\n'
    )
    assert neighbors(job.session, standards(), ("fitted", 1), "LR").earlier_mm == 721.0


def test_a_repeat_is_held_beside_what_it_joins_and_a_new_reading_is_not() -> None:
    """Two readings of one corner that are averaged should agree; one that takes the other's place need not."""
    job = worked_case()
    assert "repeats differ" in [r.code for r in remarks(job, 28.125 * IN, LOADED, "RR", "repeat")]
    assert "repeats differ" not in [r.code for r in remarks(job, 28.125 * IN, LOADED, "RR", "instead")]


def test_how_far_repeats_may_lie_apart_is_the_shops_own() -> None:
    """The limit that the findings use: a shop that allows more, or less, is asked by that at the wheel too."""
    job, given = worked_case(), standards()
    for limit_mm, told in ((12.6, True), (12.8, False)):  # the reading that stands there is 1/2 in lower
        own = replace(given.limits["repeat-spread"], value=limit_mm)
        shop = replace(given, limits={**given.limits, "repeat-spread": own})
        found = remark(28.125 * IN, neighbors(job.session, shop, LOADED, "RR", "repeat"))
        assert ("repeats differ" in [each.code for each in found]) is told


def test_the_fourth_corner_is_held_beside_the_plane_of_the_others() -> None:
    """A corner an inch off is told from the other three; the reading that stands there is not."""
    job = worked_case()
    assert "off the other three" in [r.code for r in remarks(job, 28.625 * IN, LOADED, "RR")]
    assert remarks(job, 27.625 * IN, LOADED, "RR") == []


def test_the_tape_in_use_is_the_stated_one_or_the_usual() -> None:
    """Tape graduation comes from the session, else from its unit."""
    assert neighbors(separate_lines().session, standards(), LOADED, "LF").graduation_mm == 1.0
    assert neighbors(half_done().session, standards(), ("unloaded", 1), "RR").graduation_mm == pytest.approx(IN / 16)


def test_the_first_stage_is_the_plane_itself() -> None:
    """Unloaded heights are held beside no plane, nor any where no unloaded stage was read."""
    assert neighbors(job_of(WORKED_CASE).session, standards(), ("unloaded", 1), "RR").from_other_three is None
    sheet = WORKED_CASE.replace('name = "unloaded"', 'name = "follow-up"')
    assert neighbors(job_of(sheet).session, standards(), LOADED, "RR").from_other_three is None


# That the bound is meant as "more than" is the module's own.
@pytest.mark.parametrize(("sixteenths", "expected"), [(2, []), (-2, []), (3, ["repeats differ"])])
def test_an_eighth_apart_is_within_the_bound_anywhere_on_the_tape(sixteenths: int, expected: list[str]) -> None:
    """From 20 to 40 in by eighths, however the heights come out in binary millimetres, the answer is the same."""
    for eighths in range(8 * 20, 8 * 40):
        first_mm = eighths / 8 * IN
        again_mm = (eighths / 8 + sixteenths / 16) * IN
        found = [each.code for each in remark(again_mm, Neighbors(same_corner_mm=first_mm, repeats_apart_mm=IN / 8))]
        assert found == expected, eighths / 8
