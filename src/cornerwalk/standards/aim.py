"""Aim rules: where the cut-off of a low beam must be, and the band that a rule gives for a lamp's height.

Percent is 100 times the tangent of the angle, up positive: a beam 1 % down falls 10 mm in every meter.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from cornerwalk.standards.limits import Standing

Datum = Literal["lamp centre", "lower edge"]
"""What a lamp's height is measured to: its center, or the lower edge of its lit surface."""

NoBand = Literal["no limits", "height needed", "height outside the rule"]
"""Why a rule gives no band."""

SCREEN_MM = 7620.0
"""25 ft, the distance of the screen if a rule states none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Limits of the cut-off in percent; None is no limit on that side. Up is positive, so upper > lower."""

    upper_percent: float | None
    lower_percent: float | None
    standing: Standing
    clause: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class LinearLimit:
    """A limit in percent that may change with the lamp's height h: at_zero + per_metre · h."""

    at_zero: float
    per_metre: float = 0.0

    def at(self, height_mm: float) -> float:
        """The limit at this height, in percent."""
        return self.at_zero + self.per_metre * height_mm / 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class BandPiece:
    """The part of a rule for a range of lamp heights, each end of which may be included or not."""

    upper: LinearLimit | None
    lower: LinearLimit | None
    from_mm: float = 0.0
    from_included: bool = True
    to_mm: float = math.inf
    to_included: bool = False
    standing: Standing
    clause: str = ""
    note: str = ""

    def holds_for(self, height_mm: float) -> bool:
        """Whether it applies to a lamp of this height."""
        above = height_mm >= self.from_mm if self.from_included else height_mm > self.from_mm
        below = height_mm <= self.to_mm if self.to_included else height_mm < self.to_mm
        return above and below

    def band(self, height_mm: float) -> Band:
        """Its limits at a height that it applies to."""
        return Band(
            upper_percent=None if self.upper is None else self.upper.at(height_mm),
            lower_percent=None if self.lower is None else self.lower.at(height_mm),
            standing=self.standing,
            clause=self.clause,
            note=self.note,
        )

    @property
    def for_any_height(self) -> bool:
        """Whether neither its limits nor its range depend on the height."""
        sloped = any(line is not None and line.per_metre for line in (self.upper, self.lower))
        return self.from_mm == 0.0 and self.to_mm == math.inf and not sloped


@dataclass(frozen=True, slots=True, kw_only=True)
class AimRule:
    """An aim rule. `nominal_deg` is the aim it requires (None: none, or left to the vehicle's maker).

    Limits are `pieces` by lamp height, or `deviation_mm` either way from the nominal at `distance_mm`, or none.
    `lowest_lamp` and `highest_lamp` are the ids of the limits of a lamp's mounting height, "" if there are none.
    """

    id: str
    title: str
    source: str
    standing: Standing
    datum: Datum
    clause: str = ""
    nominal_deg: float | None = None
    load_state: str = ""
    distance_mm: float = SCREEN_MM
    note: str = ""
    pieces: tuple[BandPiece, ...] = ()
    deviation_mm: float | None = None
    lowest_lamp: str = ""
    highest_lamp: str = ""

    @property
    def nominal_percent(self) -> float | None:
        """The nominal aim as 100 times its tangent."""
        return None if self.nominal_deg is None else 100 * math.tan(math.radians(self.nominal_deg))

    @property
    def needs_height(self) -> bool:
        """Whether its limits depend on the lamp's height."""
        return any(not piece.for_any_height for piece in self.pieces)

    def band_percent(self, height_mm: float | None = None) -> Band | None:
        """The limits for a lamp whose `datum` is at this height, vehicle unladen; `why_no_band` explains None.

        >>> square = LinearLimit(at_zero=1.45, per_metre=-2.17)
        >>> piece = BandPiece(upper=square, lower=None, from_mm=900, to_mm=1200, to_included=True, standing="own")
        >>> rule = AimRule(id="x", title="", source="", standing="own", datum="lower edge", pieces=(piece,))
        >>> round(rule.band_percent(1000.0).upper_percent, 9)
        -0.72
        """
        nominal_percent = self.nominal_percent
        if self.deviation_mm is not None and nominal_percent is not None:
            deviation_percent = 100 * self.deviation_mm / self.distance_mm
            return Band(
                upper_percent=nominal_percent + deviation_percent,
                lower_percent=nominal_percent - deviation_percent,
                standing=self.standing,
                clause=self.clause,
            )
        if height_mm is None:
            return self.pieces[0].band(0.0) if self.pieces and not self.needs_height else None
        piece = next((piece for piece in self.pieces if piece.holds_for(height_mm)), None)
        return None if piece is None else piece.band(height_mm)

    def why_no_band(self, height_mm: float | None = None) -> NoBand | None:
        """Why there is no band; None if there is one."""
        if self.band_percent(height_mm) is not None:
            return None
        if not self.pieces:
            return "no limits"
        return "height needed" if height_mm is None else "height outside the rule"
