"""What stands around a corner in a session: the heights that a new one is held beside."""

from __future__ import annotations

from cornerwalk.assess.attitude import expected_fourth_mm
from cornerwalk.assess.remark import Around
from cornerwalk.assess.stage_results import heights_of, reading_terms
from cornerwalk.assess.uncertainty import Estimate
from cornerwalk.session.corners import SIBLING, Corner
from cornerwalk.session.happenings import How
from cornerwalk.session.parts import Session, Stage, StageKey
from cornerwalk.session.stages import REFERENCE
from cornerwalk.standards import Standards


def around(session: Session, standards: Standards, stage: StageKey, corner: Corner, how: How = "first") -> Around:
    """Everything a height at this corner of this stage can be held beside.

    A repeat is held beside the readings it joins; a reading that takes their place is not.
    """
    now, before = session.stage(stage), _latest_before(session, stage, corner)
    other = SIBLING[corner]
    return Around(
        graduation_mm=reading_terms(session, standards).graduation_mm,
        other_side_mm=_mean(now, other),
        earlier_mm=_mean(before, corner),
        earlier_other_side_mm=_mean(before, other),
        same_corner_mm=_mean(now, corner) if how == "repeat" else None,
        repeats_apart_mm=standards.limits["repeat-spread"].value,
        from_other_three=_from_other_three(session, standards, now, corner),
    )


def _latest_before(session: Session, stage: StageKey, corner: Corner) -> Stage | None:
    """The latest stage begun before this one (before now, if it was not begun yet) with a reading at the corner."""
    keys = [each.key for each in session.stages]
    earlier = session.stages[: keys.index(stage)] if stage in keys else session.stages
    return next((each for each in reversed(earlier) if each.corner(corner).readings), None)


def _mean(stage: Stage | None, corner: Corner) -> float | None:
    return None if stage is None else stage.corner(corner).mean_mm


def _from_other_three(session: Session, standards: Standards, now: Stage | None, corner: Corner) -> Estimate | None:
    """What the plane through the other three makes of the corner; None at the unloaded stage, which is the plane."""
    reference = session.first(REFERENCE)
    if now is None or reference is None or now.key == reference.key:
        return None
    terms = reading_terms(session, standards)
    return expected_fourth_mm(corner, heights_of(now, terms), heights_of(reference, terms))


__all__ = ["around"]
