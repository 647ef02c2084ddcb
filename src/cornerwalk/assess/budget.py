"""What a figure's uncertainty is made of, and what reading again would do to it.

Rows are independent sources; u = √(Σ (sensitivity · u)²) (JCGM 100, 5.1.2).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from cornerwalk.assess.usable import root_sum_square
from cornerwalk.session.corners import CLOCKWISE, Corner

GRADUATION = "graduation"
PLACING = "placing"


@dataclass(frozen=True, slots=True)
class Part:
    """One source of uncertainty in a result: `source` is a code, `sensitivity` result per unit of the source."""

    source: str
    sensitivity: float
    u: float

    @property
    def contribution(self) -> float:
        """What it adds to the result's u, in the result's unit."""
        return abs(self.sensitivity) * self.u


@dataclass(frozen=True, slots=True)
class Budget:
    """Independent sources of uncertainty and what they come to."""

    parts: tuple[Part, ...]

    @property
    def u(self) -> float:
        """√(Σ contribution²), in the unit of the result."""
        return root_sum_square(*(part.contribution for part in self.parts))

    def contributions(self) -> dict[str, float]:
        """What each source adds, in the result's unit, the greatest first; one pass over the parts."""
        squares: dict[str, float] = {}
        for part in self.parts:
            squares[part.source] = squares.get(part.source, 0.0) + part.contribution**2
        return {source: math.sqrt(square) for source, square in sorted(squares.items(), key=lambda row: -row[1])}

    def with_repeats(self, times: int) -> Budget:
        """The budget if every reading were taken `times` as often and averaged: only the placing shrinks, by √times."""
        return Budget(
            tuple(replace(part, u=part.u / math.sqrt(times)) if part.source == PLACING else part for part in self.parts)
        )


@dataclass(frozen=True, slots=True)
class ReadingParts:
    """The two parts of one reading's u: the tape's graduation, and putting it on the same point (over √n of n)."""

    graduation_u_mm: float
    place_u_mm: float


def by_reading(budget: Budget, now: Mapping[Corner, ReadingParts], unloaded: Mapping[Corner, ReadingParts]) -> Budget:
    """A budget with rows "front" and "rear", these two taken apart into graduation and placing of the eight readings.

    Each axle's change is the mean of two corners, so a reading enters with half its axle's sensitivity.
    """
    axle = {"front": CLOCKWISE[:2], "rear": CLOCKWISE[2:]}
    parts: list[Part] = []
    for part in budget.parts:
        if part.source not in axle:
            parts.append(part)
            continue
        for corner in axle[part.source]:
            for reading in (now[corner], unloaded[corner]):
                parts.append(Part(GRADUATION, part.sensitivity / 2, reading.graduation_u_mm))
                parts.append(Part(PLACING, part.sensitivity / 2, reading.place_u_mm))
    return Budget(tuple(parts))
