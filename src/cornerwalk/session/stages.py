"""The stages at which the four heights are read, and which of them a kind of job asks for."""

from __future__ import annotations

from typing import Literal

StageName = Literal["unloaded", "loaded", "fitted", "fitted-unloaded", "road-test", "follow-up"]
JobKind = Literal["fit", "adjust", "load check"]

STAGE_NAMES: tuple[StageName, ...] = ("unloaded", "loaded", "fitted", "fitted-unloaded", "road-test", "follow-up")

REFERENCE: StageName = "unloaded"
"""The stage every change is counted from."""

AIR_STAGES: frozenset[StageName] = frozenset(("fitted", "fitted-unloaded", "road-test", "follow-up"))
"""Stages at which the helper springs hold a pressure that belongs to the reading."""

ASKED: dict[JobKind, tuple[StageName, ...]] = {
    "fit": ("unloaded", "loaded", "fitted"),
    "adjust": ("unloaded", "fitted"),
    "load check": ("unloaded", "loaded"),
}
"""Stages without which a job of this kind is unfinished, in their order. Every other stage may be added."""


def stages_on_offer(kind: JobKind) -> tuple[StageName, ...]:
    """Stages that make sense for this kind of job, in their usual order."""
    if kind == "load check":
        return ("unloaded", "loaded", "follow-up")
    return STAGE_NAMES
