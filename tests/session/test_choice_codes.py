"""Codes of choices: what files hold is listed once, and is what the model takes."""

from __future__ import annotations

from typing import get_args

import pytest

from cornerwalk.quantity import BareUnit
from cornerwalk.session.facts import FACTS
from cornerwalk.session.model import (
    AirLines,
    AirTarget,
    BagStiffness,
    HeightDatum,
    HitchKind,
    Levelling,
    RearSprings,
)
from cornerwalk.session.stages import CORNERS, Direction, JobKind

CODES = {
    "job.kind": get_args(JobKind),
    "job.unit": get_args(BareUnit),
    "job.datum": get_args(HeightDatum),
    "job.start_corner": CORNERS,
    "job.direction": get_args(Direction),
    "vehicle.levelling": get_args(Levelling),
    "vehicle.rear_springs": get_args(RearSprings),
    "kit.lines": get_args(AirLines),
    "kit.target": get_args(AirTarget),
    "hitch.kind": get_args(HitchKind),
    "uncertainty.bag": get_args(BagStiffness),
}


@pytest.mark.parametrize("name", CODES)
def test_the_choices_of_a_fact_are_the_codes_of_the_model(name: str) -> None:
    """In its order, each with a label of its own: a label may be worded anew, a code may not."""
    assert FACTS[name].choices == CODES[name]
    assert len(set(FACTS[name].labels.values())) == len(CODES[name])


def test_no_other_fact_has_choices() -> None:
    """Every fact of that kind is compared above."""
    assert {name for name, fact in FACTS.items() if fact.choices or fact.kind == "choice"} == set(CODES)
