"""One published or assumed figure, and the rules that are figures too: front-load restoration, tapes' own errors."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Standing = Literal["seen", "second-hand", "memory", "common practice", "own"]
"""How well a figure is known: its text read; read in a copy or quotation; not read; no source at all; the project's."""

Side = Literal["upper", "lower", "figure"]
"""The side of the limit on which a value is bad is above an upper one; nothing is held against a figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit or a figure, in the unit it is reckoned in: mm, kPa, N, %, deg, h or km.

    Attributes:
        as_published: the value with the unit it was published in.
        setting: the program's default, which the user may replace with a measured or agreed value.
        instead_of: the id of the default that this one may be chosen in place of.
        within_h: the time the limit is meant for.
    """

    id: str
    title: str
    value: float
    unit: str
    as_published: str
    side: Side
    source: str
    standing: Standing
    clause: str = ""
    datum: str = ""
    load_state: str = ""
    note: str = ""
    setting: bool = False
    instead_of: str = ""
    within_h: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RestorationRule:
    """How much of its lost load the front axle is to get back, in per cent; None where the rule says nothing."""

    id: str
    title: str
    target_percent: float | None
    low_percent: float | None
    high_percent: float | None
    source: str
    standing: Standing
    clause: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class TapeStep:
    """The limit of error of a tape for readings up to `at_most_mm`."""

    at_most_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeRule:
    """The limit of error of a tape: `fixed_mm + per_metre_mm · L + end_mm`, or in steps.

    L is the reading in metres *rounded up to the next whole one*; `end_mm` is added where the tape is read from its
    end or the floor, as heights are.
    """

    id: str
    title: str
    source: str
    standing: Standing
    clause: str = ""
    note: str = ""
    fixed_mm: float = 0.0
    per_metre_mm: float = 0.0
    end_mm: float = 0.0
    steps: tuple[TapeStep, ...] = ()

    def limit_of_error_mm(self, reading_mm: float, *, from_end: bool = True) -> float | None:
        """How far a reading may be off, either way; None beyond the rule's last step.

        >>> rule = TapeRule(id="", title="", source="", standing="seen", fixed_mm=0.3, per_metre_mm=0.2, end_mm=0.2)
        >>> round(rule.limit_of_error_mm(700.0), 9), round(rule.limit_of_error_mm(1010.0, from_end=False), 9)
        (0.7, 0.7)
        """
        if self.steps:
            return next((step.limit_mm for step in self.steps if reading_mm <= step.at_most_mm), None)
        whole_metres = max(1, math.ceil(reading_mm / 1000))
        return self.fixed_mm + self.per_metre_mm * whole_metres + (self.end_mm if from_end else 0.0)
