"""Which two stages of a job are compared: those usually wanted first, then whichever a key turns to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import AIR_STAGES

Pair = tuple[StageKey, StageKey]


def usual_pair(stages: Sequence[StageKey]) -> Pair | None:
    """Loaded and the last stage with air; else the first and the last; None where there are no two."""
    if len(stages) < 2:
        return None
    one = next((key for key in stages if key[0] == "loaded"), stages[0])
    other = next((key for key in reversed(stages) if key[0] in AIR_STAGES), stages[-1])
    return (one, other) if one != other else (stages[0], stages[-1])


def turned(stages: Sequence[StageKey], pair: Pair, which: Literal[0, 1]) -> Pair:
    """The pair with the next stage in place of one of the two; it never becomes the other one."""
    free = [key for key in stages if key != pair[1 - which]]
    following = free[(free.index(pair[which]) + 1) % len(free)]
    return (following, pair[1]) if which == 0 else (pair[0], following)
