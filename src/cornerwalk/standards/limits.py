"""Limits: published or assumed figures, rules for front-load restoration, and the limits of error of tapes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Standing = Literal["seen", "second-hand", "memory", "common practice", "own"]
"""How well a figure is known: its text was read; a copy or quotation was; not read; no source at all; the project's."""

Side = Literal["upper", "lower", "figure"]
"""A value is bad above an upper limit and below a lower one; nothing is judged against a figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit or a figure, in the unit of calculation: mm, kPa, N, %, deg, h, km, K or N/mm.

    Attributes:
        as_published: the value with the unit it was published in.
        setting: whether it is a default that the user may replace with a measured or agreed value.
        instead_of: the id of the default that it is an alternative to.
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
    """How much of its lost load the front axle should get back, in percent; None if the rule does not say."""

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
    """The limit of error of a tape for readings of at most `at_most_mm`."""

    at_most_mm: float
    limit_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeRule:
    """The limit of error of a tape: `fixed_mm + per_metre_mm · L + end_mm`, or in steps.

    L is the reading in meters, *rounded up to a whole number*; `end_mm` is added if the tape is read from its end or
    from the floor, as heights are.
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
        """The largest error of a reading, either way; None beyond the rule's last step.

        >>> rule = TapeRule(id="", title="", source="", standing="seen", fixed_mm=0.3, per_metre_mm=0.2, end_mm=0.2)
        >>> round(rule.limit_of_error_mm(700.0), 9), round(rule.limit_of_error_mm(1010.0, from_end=False), 9)
        (0.7, 0.7)
        """
        if self.steps:
            return next((step.limit_mm for step in self.steps if reading_mm <= step.at_most_mm), None)
        whole_metres = max(1, math.ceil(reading_mm / 1000))
        return self.fixed_mm + self.per_metre_mm * whole_metres + (self.end_mm if from_end else 0.0)
