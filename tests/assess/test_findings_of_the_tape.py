"""Findings on how the tape was read, from readings given to them: repeats apart, between the marks, an assumed u."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cornerwalk.assess.assessment import Finding
from cornerwalk.session.model import CornerRecord, Reading, Stage
from tests.assess.given_findings import RULED, codes, found
from tests.support.jobs import standards, worked_case
from tests.support.units import IN


def read(*heights_mm: float) -> Stage:
    """An unloaded stage with one corner read so often."""
    readings = tuple(Reading(entered="", mm=mm, seq=1, at="") for mm in heights_mm)
    corners = {"LF": CornerRecord(), "RR": CornerRecord(readings=readings)}
    return Stage(name="unloaded", number=1, begun_seq=1, begun_at="", corners=corners)  # type: ignore[arg-type]


def test_how_the_tape_was_read() -> None:
    """Repeats further apart than the limit, a text finer than the marks (once a job), an assumed uncertainty."""
    limit_mm = standards().limits["repeat-spread"].value
    step_mm = worked_case().assessment.reading.graduation_mm
    steps = 400 * step_mm
    assert found(replace(RULED, stages=(read(steps, steps + limit_mm),))) == []
    apart = found(replace(RULED, stages=(read(steps, steps + limit_mm + step_mm),)))
    assert codes(apart) == ["repeat-spread"]
    assert apart[0].fields == {"corner": "RR", "spread_mm": pytest.approx(limit_mm + step_mm)}
    assert (apart[0].level, apart[0].stage) == ("caution", ("unloaded", 1))
    fine = found(replace(RULED, stages=(read(steps + step_mm / 2), replace(read(steps + step_mm / 2), number=2))))
    assert fine == [Finding(code="finer-than-tape", level="note", fields={"corner": "RR"}, stage=("unloaded", 1))]
    assumed = replace(worked_case().assessment.reading, assumed=("place",))
    told = Finding(code="assumed-uncertainty", level="note", fields={"u_place_mm": assumed.u_place_mm})
    assert found(reading=assumed) == [told]


@pytest.mark.parametrize("graduation_mm", [0.0, -1.0])
def test_a_tape_without_marks_has_nothing_between_them(graduation_mm: float) -> None:
    """As something other than a file may hand it over: heights are then held against no marks."""
    reading = replace(worked_case().assessment.reading, graduation_mm=graduation_mm, assumed=())
    assert found(replace(RULED, stages=(read(700.3),)), reading=reading) == []


# The bound of 1/8 in is from memory; that it is meant as "more than" is the program's own.
@pytest.mark.parametrize(("sixteenths", "told"), [(1, []), (2, []), (3, ["repeat-spread"])])
def test_repeats_an_eighth_apart_agree_anywhere_on_the_tape(sixteenths: int, told: list[str]) -> None:
    """From 20 to 40 in by sixteenths, in either order, however the heights come out in binary millimetres."""
    for first in range(16 * 20, 16 * 40):
        heights = (first / 16 * IN, (first + sixteenths) / 16 * IN)
        for order in (heights, heights[::-1]):
            assert codes(found(replace(RULED, stages=(read(*order),)))) == told, first / 16


# 1/8 in is 3.175 mm exactly (the inch is 25.4 mm by definition): whole millimetres pass it between 3 and 4.
@pytest.mark.parametrize(
    ("heights_mm", "told"),
    [((700.0, 703.0), []), ((700.0, 704.0), ["repeat-spread"]), ((700.5,), ["finer-than-tape"])],
)
def test_a_tape_marked_in_millimetres_is_held_to_its_own_marks(heights_mm: tuple[float, ...], told: list[str]) -> None:
    """Repeats 4 mm apart are told, 3 mm are not; half a millimetre lies between its marks, a whole one does not."""
    reading = replace(worked_case().assessment.reading, graduation_mm=1.0, assumed=())
    assert codes(found(replace(RULED, stages=(read(*heights_mm),)), reading=reading)) == told
