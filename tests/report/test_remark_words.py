"""Remarks on a typed height, in words."""

from __future__ import annotations

from typing import get_args

import pytest

from cornerwalk.assess.plausibility import Remark, RemarkCode
from cornerwalk.wording.checks import ONLY_TOLD, remark_words
from cornerwalk.wording.figures import Wording
from tests.support.units import IN


@pytest.mark.parametrize("code", get_args(RemarkCode))
def test_every_remark_has_its_words(code: RemarkCode) -> None:
    """A remark is told in a whole sentence, with its figures where it has any and without a gap where it has none."""
    full = Remark(code=code, against_mm=27.75 * IN, apart_mm=-1.0 * IN, likely_mm=30.5 * IN)
    for remark in (full, Remark(code=code)):
        told = remark_words(remark, "RR", Wording("inch"))
        assert told[0].isupper() or told[0].isdigit() or told.startswith("not known")
        assert told.endswith(".")
        assert "{" not in told
        assert "None" not in told


def test_a_remark_names_the_other_side_and_the_distance() -> None:
    """The words say how far off, from what, and what stands there."""
    remark = Remark(code="far from its other side", against_mm=27.75 * IN, apart_mm=-1.0 * IN)
    assert remark_words(remark, "RR", Wording("inch")) == "1 in from left rear, 27 3/4 in."


def test_only_what_is_kept_as_typed_asks_for_no_second_look() -> None:
    """Every remark but that on the tape's marks is worth a second Enter."""
    assert set(ONLY_TOLD) < set(get_args(RemarkCode))
    assert ONLY_TOLD == ("finer than the tape",)
