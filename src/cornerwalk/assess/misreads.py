"""From a session to its misread readings: which stages are looked through together, and what is said of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cornerwalk.assess.assessment import Misread
from cornerwalk.assess.misread import Detected, Suspect, detect
from cornerwalk.assess.slips import Tape
from cornerwalk.assess.stage_results import StageReckoning
from cornerwalk.assess.walked_body import Walked
from cornerwalk.session.corners import CLOCKWISE, Corner
from cornerwalk.session.parts import Session, Stage, StageKey
from cornerwalk.session.stages import AIR_STAGES, LOADED_STAGES, REFERENCE


@dataclass(frozen=True, slots=True)
class Misreads:
    """`alarm`: the stages do not agree with one rigid body; `of_stage` what is said at each stage."""

    alarm: bool
    of_stage: tuple[Misread | None, ...]


def misreads(session: Session, reckoned: Sequence[StageReckoning]) -> Misreads:
    """The misread check over every stage with four heights, the unloaded one first."""
    silent = Misreads(alarm=False, of_stage=(None,) * len(reckoned))
    full = [each for each in reckoned if all(each.heights[corner] is not None for corner in CLOCKWISE)]
    if not full or full[0].result.name != REFERENCE:
        return silent
    keys = [each.result.key for each in full]
    found = detect([_walked(session, each) for each in full], _tape(session))
    if not found.alarm:
        return silent
    said = dict(_said(found, keys))
    return Misreads(alarm=True, of_stage=tuple(said.get(each.result.key) for each in reckoned))


def _tape(session: Session) -> Tape:
    return "inch" if session.job.unit == "inch" else "metric"


def _walked(session: Session, each: StageReckoning) -> Walked:
    stage = session.stage(each.result.key)
    texts = {c: r[-1].entered for c in CLOCKWISE if stage is not None and (r := stage.corner(c).readings)}
    return Walked(
        heights={corner: height for corner, height in each.heights.items() if height is not None},
        loaded=each.result.name in LOADED_STAGES,
        air_kPa=_air_kPa(stage) if each.result.name in AIR_STAGES else 0.0,
        entered=texts,
    )


def _air_kPa(stage: Stage | None) -> float | None:
    if stage is None:
        return None
    if stage.pressure_kPa is not None:
        return stage.pressure_kPa
    sides = [kPa for kPa in (stage.left_kPa, stage.right_kPa) if kPa is not None]
    return sum(sides) / len(sides) if sides else None


def _said(found: Detected, keys: Sequence[StageKey]) -> list[tuple[StageKey, Misread]]:
    """At the named reading's own stage; else at every stage whose warp stands out, or at the last."""
    suspects = tuple((keys[suspect.stage], suspect.corner) for suspect in found.suspects)
    named = found.named
    if named is not None:
        return [(keys[named.stage], _misread(keys[named.stage], named, suspects))]
    places = [key for key, beyond in zip(keys, found.beyond, strict=True) if beyond] or [keys[-1]]
    return [(key, Misread(stage=key, corner=None, slip=None, likely_mm=None, suspects=suspects)) for key in places]


def _misread(key: StageKey, named: Suspect, suspects: tuple[tuple[StageKey, Corner], ...]) -> Misread:
    return Misread(stage=key, corner=named.corner, slip=named.slip, likely_mm=named.likely_mm, suspects=suspects)


__all__ = ["Misreads", "misreads"]
