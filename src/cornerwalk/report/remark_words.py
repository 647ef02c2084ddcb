"""A remark on a typed height in a sentence, for whoever still has the tape in the hand."""

from __future__ import annotations

from cornerwalk.assess.remark import Remark
from cornerwalk.report.names import corner_name
from cornerwalk.report.wording import Wording, graduation_label
from cornerwalk.session.corners import SIBLING, Corner
from cornerwalk.words import tr

ONLY_TOLD = ("finer than the tape",)
"""Remarks that ask for no second look: the height is kept as typed."""


def remark_words(remark: Remark, corner: Corner, wording: Wording) -> str:
    """What is remarkable, and what the height was held against."""
    against = wording.height_with_unit(remark.against_mm)
    apart = wording.length(abs(remark.apart_mm)) if remark.apart_mm is not None else wording.length(None)
    match remark.code:
        case "finer than the tape":
            marks = graduation_label(remark.against_mm) if remark.against_mm is not None else against
            return tr("Finer than the tape's {marks}: kept as typed.", marks=marks)
        case "unlikely height":
            return tr("No arch of a road vehicle stands there.")
        case "looks like cm":
            likely = wording.height_with_unit(remark.likely_mm)
            return tr("Looks like centimetres: that would be {likely}.", likely=likely)
        case "looks like mm":
            likely = wording.height_with_unit(remark.likely_mm)
            return tr("Looks like millimetres: that would be {likely}.", likely=likely)
        case "repeats differ":
            return tr("{apart} from the reading that stands here, {against}.", apart=apart, against=against)
        case "far from its other side":
            other = corner_name(SIBLING[corner])
            return tr("{apart} from {corner}, {against}.", apart=apart, corner=other, against=against)
        case "side difference changed":
            return tr(
                "{apart} from where the other side's change would put it, {against}.", apart=apart, against=against
            )
        case "far from its earlier stage":
            return tr("{apart} from what stood here at the stage before, {against}.", apart=apart, against=against)
        case "off the other three":
            return tr("{apart} from where the other three corners put it, {against}.", apart=apart, against=against)
