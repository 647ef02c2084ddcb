"""Stages and corners: the states in which heights are read, which of them a kind of job requires, the corners."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, LiteralString

StageName = Literal["unloaded", "loaded", "fitted", "fitted-unloaded", "road-test", "follow-up"]
JobKind = Literal["fit", "adjust", "load check"]
ChapterId = Literal[
    "intake",
    "before",
    "unloaded",
    "loaded",
    "fitting",
    "air",
    "leak",
    "road",
    "handover",
    "follow-up",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class StageKind:
    """A kind of stage: the vehicle loaded (and hitched) or not, air in the springs or not, and its chapter.

    `label` is English and the key of its translation.
    """

    name: StageName
    label: LiteralString
    loaded: bool
    with_air: bool
    chapter: ChapterId


_STAGE_KINDS: dict[StageName, StageKind] = {
    stage.name: stage
    for stage in (
        StageKind(name="unloaded", label="unloaded", loaded=False, with_air=False, chapter="unloaded"),
        StageKind(name="loaded", label="loaded, no air", loaded=True, with_air=False, chapter="loaded"),
        StageKind(name="fitted", label="fitted", loaded=True, with_air=True, chapter="air"),
        StageKind(name="fitted-unloaded", label="fitted, unloaded", loaded=False, with_air=True, chapter="road"),
        StageKind(name="road-test", label="after the road test", loaded=True, with_air=True, chapter="road"),
        StageKind(name="follow-up", label="follow-up", loaded=True, with_air=True, chapter="follow-up"),
    )
}
"""Every stage by name, in the usual order of a job."""

STAGE_NAMES: tuple[StageName, ...] = tuple(_STAGE_KINDS)

REFERENCE_STAGE: StageName = "unloaded"
"""The stage that changes are measured from."""

LOADED_STAGES: frozenset[StageName] = frozenset(stage.name for stage in _STAGE_KINDS.values() if stage.loaded)
"""Stages with the load aboard and the trailer hitched."""

AIR_STAGES: frozenset[StageName] = frozenset(stage.name for stage in _STAGE_KINDS.values() if stage.with_air)
"""Stages with a pressure in the helper springs."""

LOADED_WITH_AIR = LOADED_STAGES & AIR_STAGES
"""Stages with the vehicle loaded on its helper springs."""

REQUIRED_STAGES: dict[JobKind, tuple[StageName, ...]] = {
    "fit": ("unloaded", "loaded", "fitted"),
    "adjust": ("unloaded", "fitted"),
    "load check": ("unloaded", "loaded"),
}
"""Stages without which a job of this kind is unfinished, in order. Other stages are optional."""


def available_stages(kind: JobKind) -> tuple[StageName, ...]:
    """Stages that make sense for this kind of job, in their usual order."""
    if kind == "load check":
        return ("unloaded", "loaded", "follow-up")
    return STAGE_NAMES


# ---- corners ----
#
# Left and right are as seen from the driver's seat, looking ahead; the driver's side is not always the left.

Corner = Literal["LF", "RF", "RR", "LR"]
Direction = Literal["clockwise", "anticlockwise"]

CORNERS: tuple[Corner, ...] = ("LF", "RF", "RR", "LR")
"""Clockwise as seen from above, so that nobody has to cross the vehicle with a tape."""

SIBLING: dict[Corner, Corner] = {"LF": "RF", "RF": "LF", "RR": "LR", "LR": "RR"}
"""The other corner of the same axle."""


def walking_order(start: Corner, direction: Direction) -> tuple[Corner, ...]:
    """The four corners in the order they are read, beginning at `start`.

    >>> walking_order("RR", "anticlockwise")
    ('RR', 'RF', 'LF', 'LR')
    """
    ring = CORNERS if direction == "clockwise" else tuple(reversed(CORNERS))
    first = ring.index(start)
    return ring[first:] + ring[:first]
