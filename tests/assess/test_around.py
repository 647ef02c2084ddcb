"""What a typed height is held beside, taken from a session as it stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cornerwalk.assess.plausibility import Remark, neighbors, remark
from cornerwalk.session.events import ReadingMode
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import Corner
from tests.support.jobs import WORKED_CASE, InventedJob, half_done, job_of, separate_lines, standards, worked_case
from tests.support.units import IN

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
    """Marks of the tape come from the session, else from its unit."""
    assert neighbors(separate_lines().session, standards(), LOADED, "LF").graduation_mm == 1.0
    assert neighbors(half_done().session, standards(), ("unloaded", 1), "RR").graduation_mm == pytest.approx(IN / 16)


def test_the_first_stage_is_the_plane_itself() -> None:
    """Unloaded heights are held beside no plane, nor any where no unloaded stage was read."""
    assert neighbors(job_of(WORKED_CASE).session, standards(), ("unloaded", 1), "RR").from_other_three is None
    sheet = WORKED_CASE.replace('name = "unloaded"', 'name = "follow-up"')
    assert neighbors(job_of(sheet).session, standards(), LOADED, "RR").from_other_three is None
