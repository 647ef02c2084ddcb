"""Figures in words: every number a user reads, with its unit, its side in words and its ± U (U = 2u, k = 2).

None as a value is said as "not known". None as an uncertainty leaves the ± away: the value was stated, or the text
around it says why it has none. A direction is a word, never a bare sign.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, LiteralString, Self

from cornerwalk.assess.uncertainty import COVERAGE
from cornerwalk.quantity import (
    MILLIMETER,
    SIXTEENTH_INCH,
    Force,
    Graduation,
    Length,
    Pressure,
    Temperature,
    UnitSystem,
    format_height,
    format_temperature,
    format_uncertain,
    sign_and_magnitude,
)
from cornerwalk.quantity.formats import format_fixed
from cornerwalk.words import number, tr, tr_n

Units = Literal["inch", "metric", "both"]
"""Both: inches, pounds and psi first, then the metric figure in parentheses."""

SYSTEMS: dict[Units, tuple[UnitSystem, ...]] = {
    "inch": ("inch",),
    "metric": ("metric",),
    "both": ("inch", "metric"),
}

FigureText = Callable[[float, float | None], str]
"""A figure and its standard uncertainty in words."""

Kind = Literal["length", "distance", "pressure", "weight", "rate", "slope", "torque"]


@dataclass(frozen=True, slots=True)
class Scale:
    """One unit: what is shown = what is stored · `factor`; `decimals` where nothing is known of the uncertainty."""

    factor: float
    unit: str
    decimals: int


_IN_PER_MM = Length.from_mm(1).inches
_PSI_PER_KPA = Pressure.from_kPa(1).psi
_LB_PER_N = Force.from_N(1).lbf

SCALES: dict[Kind, dict[UnitSystem, Scale]] = {
    # stored in mm
    "length": {"inch": Scale(_IN_PER_MM, "in", 2), "metric": Scale(1.0, "mm", 1)},
    # stored in mm, for distances on the road or to a wall
    "distance": {"inch": Scale(_IN_PER_MM / 12, "ft", 0), "metric": Scale(0.001, "m", 0)},
    # stored in kPa
    "pressure": {"inch": Scale(_PSI_PER_KPA, "psi", 1), "metric": Scale(1.0, "kPa", 0)},
    # stored in N; shown as scales and rating labels show it
    "weight": {"inch": Scale(_LB_PER_N, "lb", 0), "metric": Scale(Force.from_N(1).kgf, "kg", 0)},
    # stored in N/mm
    "rate": {"inch": Scale(_LB_PER_N / _IN_PER_MM, "lb/in", 0), "metric": Scale(1.0, "N/mm", 1)},
    # stored in mm/kPa
    "slope": {"inch": Scale(_IN_PER_MM / _PSI_PER_KPA, "in/psi", 4), "metric": Scale(1.0, "mm/kPa", 3)},
    # stored in N·m
    "torque": {"inch": Scale(_LB_PER_N * _IN_PER_MM * 1000 / 12, "lbf·ft", 1), "metric": Scale(1.0, "N·m", 1)},
}


# ---- figures with ± ----

DEGREES = Scale(1.0, "°", 2)
_WHOLE_WITHIN = 1e-9


def not_known() -> str:
    """In place of a figure."""
    return tr("not known")


def scaled(scale: Scale, value: float, u: float | None) -> str:
    """A stored value in the unit of a scale."""
    return figure_text(value * scale.factor, None if u is None else u * scale.factor, f" {scale.unit}", scale.decimals)


def figure_text(value: float, u: float | None, unit: str, decimals: int) -> str:
    """A value with its unit and, where u is known and not zero, ± U to the same decimals."""
    if not u:
        whole = abs(value - round(value)) < _WHOLE_WITHIN
        return f"{number(fixed_text(value, 0 if whole else decimals))}{unit}"
    figure, U = format_uncertain(value, COVERAGE * u)
    return f"{number(figure)}{unit} ± {number(U)}"


def rounds_to_nothing(scale: Scale, value: float, u: float | None) -> bool:
    """Whether only zeros would be shown, so that no side can be named."""
    if not u:
        return float(fixed_text(abs(value) * scale.factor, max(scale.decimals, 2))) == 0
    return float(format_uncertain(abs(value) * scale.factor, COVERAGE * u * scale.factor)[0]) == 0


def plus_minus(scale: Scale, u: float | None) -> str:
    """`± 0.07 in` alone; empty where u is not known."""
    return "" if not u else f"± {number(format_uncertain(0.0, COVERAGE * u * scale.factor)[1])} {scale.unit}"


def angle_text(deg: float | None, u: float | None, sides: SignTemplates) -> str:
    """An angle on its side: `nose up 0.86° ± 0.05`."""
    if deg is None:
        return not_known()
    if rounds_to_nothing(DEGREES, deg, u):
        bounds = "" if not u else f"± {number(format_uncertain(0.0, COVERAGE * u)[1])}°"
        return sides.even(bounds)
    figure = figure_text(abs(deg), u, "°", DEGREES.decimals)
    return sides.side(deg, figure)


def bracketed(figures: list[str]) -> str:
    """One figure, or the first with the others in parentheses."""
    return figures[0] if len(figures) == 1 else f"{figures[0]} ({', '.join(figures[1:])})"


def fixed_text(value: float, decimals: int) -> str:
    """With that many decimals, midway to the even digit."""
    return format_fixed(Fraction(repr(value)), decimals)


def trimmed(value: float, decimals: int) -> str:
    """With at most that many decimals."""
    text = fixed_text(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


# ---- sides ----


@dataclass(frozen=True, slots=True)
class SignTemplates:
    """Templates for a figure that is above zero, below zero, or rounds to zero (then ± U, or nothing)."""

    above: LiteralString
    below: LiteralString
    neither: LiteralString

    def side(self, value: float, figure: str) -> str:
        """The figure, without its sign, on its side of zero."""
        return tr(self.above if value > 0 else self.below, figure=figure)

    def even(self, bounds: str) -> str:
        """No side, with its bounds if there are any."""
        return tr(self.neither, figure=bounds).rstrip()


CHANGE = SignTemplates("up {figure}", "down {figure}", "unchanged {figure}")
TILT = SignTemplates("nose up {figure}", "nose down {figure}", "level {figure}")
LEAN = SignTemplates("leans right {figure}", "leans left {figure}", "upright {figure}")
MOVED = SignTemplates("{figure} higher", "{figure} lower", "unchanged {figure}")
MARK = SignTemplates(
    "{figure} above the unloaded mark", "{figure} below the unloaded mark", "on the unloaded mark {figure}"
)
AIM = SignTemplates("points {figure} above level", "points {figure} below level", "points level {figure}")
GAIN = SignTemplates("{figure} more", "{figure} less", "unchanged {figure}")
SIDES = SignTemplates("left {figure} higher", "right {figure} higher", "even {figure}")


# ---- one wording for one choice of units ----

_USUAL_TAPE: dict[UnitSystem, Graduation] = {"inch": SIXTEENTH_INCH, "metric": MILLIMETER}


class Wording:
    """Figures in words for one choice of units: a method for each kind of figure. Pure."""

    def __init__(self, units: Units, graduation: Graduation | None = None) -> None:
        """Choose the units; heights are rounded to the tape's graduation, or to the usual one of the other system."""
        self.units: Units = units
        self._systems = SYSTEMS[units]
        self._tape = dict(_USUAL_TAPE)
        if graduation is not None:
            self._tape[graduation.system] = graduation

    @classmethod
    def for_tape(cls, units: Units, graduation_mm: float | None) -> Self:
        """The wording for a tape whose marks are this far apart; for the usual tapes where that is not stated."""
        return cls(units, None if graduation_mm is None else _graduation(graduation_mm))

    # ---- heights and lengths ----

    def height(self, mm: float | None) -> str:
        """To the tape's graduation, without unit: `27 5/8`, `702`; in the first unit where both are shown."""
        if mm is None:
            return not_known()
        return self._height(mm, self._systems[0])

    def height_with_unit(self, mm: float | None) -> str:
        """`27 5/8 in`, `702 mm`, `27 5/8 in (702 mm)`."""
        if mm is None:
            return not_known()
        return bracketed([f"{self._height(mm, s)} {SCALES['length'][s].unit}" for s in self._systems])

    def exact(self, mm: float | None) -> str:
        """The value in both systems, as decimals: `27.625 in · 701.7 mm`, the chosen system first."""
        if mm is None:
            return not_known()
        inches = f"{number(trimmed(Length.from_mm(mm).inches, 4))} in"
        metric = f"{number(trimmed(mm, 1))} mm"
        return " · ".join((inches, metric) if self._systems[0] == "inch" else (metric, inches))

    def length(self, mm: float | None, u: float | None = None) -> str:
        """A length without direction: `4.49 in ± 0.26`, `12 mm`."""
        return self._with_unit("length", mm, u)

    def fine(self, mm: float | None) -> str:
        """A very small length, such as a standard uncertainty: `0.0361 in`, `0.917 mm`."""
        if mm is None:
            return not_known()
        scales = [(SCALES["length"][system], 4 if system == "inch" else 3) for system in self._systems]
        return bracketed([f"{number(trimmed(mm * scale.factor, places))} {scale.unit}" for scale, places in scales])

    def change(self, mm: float | None) -> str:
        """To the tape's graduation: `down 1 9/16`, `up 1/4`, `unchanged`."""
        if mm is None:
            return not_known()
        system = self._systems[0]
        sign, figure = sign_and_magnitude(Length.from_mm(mm), self._tape[system])
        return CHANGE.side(sign, number(figure)) if sign else tr("unchanged")

    def change_pm(self, mm: float | None, u: float | None) -> str:
        """`down 1.56 in ± 0.05`, `unchanged ± 0.05 in`."""
        return self._sided("length", mm, u, CHANGE)

    def rake(self, mm: float | None, u: float | None) -> str:
        """Front height against rear height: `0.56 in ± 0.07 higher`, `… lower`."""
        return self.moved(mm, u)

    def sides(self, left_minus_right_mm: float | None, u: float | None) -> str:
        """Which side of an axle stands higher: `left 0.06 in ± 0.10 higher`, `right …`, `even ± 0.10 in`."""
        return self._sided("length", left_minus_right_mm, u, SIDES)

    def _height(self, mm: float, system: UnitSystem) -> str:
        return number(format_height(Length.from_mm(mm), self._tape[system]))

    # ---- the body ----

    def tilt(self, nose_up_deg: float | None, u: float | None) -> str:
        """`nose up 0.87° ± 0.05`, `nose down …`, `level ± 0.05°`."""
        return angle_text(nose_up_deg, u, TILT)

    def lean(self, left_up_deg: float | None, u: float | None) -> str:
        """`leans right 0.03° ± 0.06`, `leans left …`, `upright ± 0.06°`."""
        return angle_text(left_up_deg, u, LEAN)

    # ---- the lamps ----

    def beam(self, mm: float | None, u: float | None, screen_mm: float) -> str:
        """Movement of the beam against the lamp: `4.49 in ± 0.26 higher at 25 ft`."""
        return self._at(self.moved(mm, u), mm, screen_mm)

    def wall(self, mm: float | None, u: float | None, screen_mm: float) -> str:
        """Where the cut-off is on the wall: `5.20 in ± 0.26 above the unloaded mark at 25 ft`."""
        return self._at(self.above_mark(mm, u), mm, screen_mm)

    def moved(self, mm: float | None, u: float | None) -> str:
        """`4.49 in ± 0.26 higher`, `… lower`, `unchanged ± 0.26 in`."""
        return self._sided("length", mm, u, MOVED)

    def above_mark(self, mm: float | None, u: float | None) -> str:
        """`5.20 in ± 0.26 above the unloaded mark`, `… below …`, `on the unloaded mark ± 0.26 in`."""
        return self._sided("length", mm, u, MARK)

    def _at(self, moved: str, mm: float | None, screen_mm: float) -> str:
        return moved if mm is None else tr("{moved} at {distance}", moved=moved, distance=self.screen(screen_mm))

    def aim(self, deg: float | None, u: float | None, percent: float | None) -> str:
        """`points 0.46° ± 0.05 above level (0.80 % up)`."""
        text = angle_text(deg, u, AIM)
        if deg is None or percent is None:
            return text
        figure = f"{number(fixed_text(abs(percent), 2))} %"
        side = tr("{figure} up", figure=figure) if percent > 0 else tr("{figure} down", figure=figure)
        return f"{text} ({side})"

    def reach(self, m: float | None, nearest_m: float | None = None, *, above_level: bool) -> str:
        """Where the cut-off meets a level road: `2561 ft ahead, perhaps only 1220 ft`, or why it never does."""
        if above_level:
            text = tr("never: it points above level")
        elif m is None:
            return not_known()
        else:
            text = tr("{distance} ahead", distance=self.distance_m(m))
        if nearest_m is None:
            return text
        return tr("{reach}, perhaps only {nearest}", reach=text, nearest=self.distance_m(nearest_m))

    def screen(self, mm: float) -> str:
        """The distance of the wall, as stated: `25 ft`, `7.62 m`."""
        scales = [SCALES["distance"][system] for system in self._systems]
        return bracketed([f"{number(trimmed(mm * scale.factor, 2))} {scale.unit}" for scale in scales])

    # ---- everything else ----

    def distance_m(self, m: float | None) -> str:
        """A distance on the road: `340 ft`, `104 m`."""
        return self._with_unit("distance", None if m is None else m * 1000, None)

    def pressure(self, kPa: float | None, u: float | None = None) -> str:
        """`15 psi`, `35.7 psi ± 3.0`, `246 kPa ± 20`."""
        return self._with_unit("pressure", kPa, u)

    def rounded_pressure(self, kPa: float) -> str:
        """To a tenth of a psi or a whole kPa, for a rule of thumb: `0.6 psi`, `4 kPa`."""
        scales = [SCALES["pressure"][system] for system in self._systems]
        return bracketed([f"{number(trimmed(kPa * scale.factor, scale.decimals))} {scale.unit}" for scale in scales])

    def weight(self, N: float | None, u: float | None = None) -> str:
        """A load or rating as scales and labels show it: `410 lb`, `186 kg`."""
        return self._with_unit("weight", N, u)

    def gain(self, N: float | None, u: float | None = None) -> str:
        """What an axle carries more or less than before: `568 lb more`, `158 lb less`."""
        return self._sided("weight", N, u, GAIN)

    def rate(self, N_per_mm: float | None, u: float | None = None) -> str:
        """A spring rate: `371 lb/in`, `65.0 N/mm`."""
        return self._with_unit("rate", N_per_mm, u)

    def slope(self, mm_per_kPa: float | None, u: float | None = None) -> str:
        """Height gained with pressure: `0.044 in/psi ± 0.007`."""
        return self._with_unit("slope", mm_per_kPa, u)

    def torque(self, Nm: float | None) -> str:
        """`80 lbf·ft`, `108.5 N·m`."""
        return self._with_unit("torque", Nm, None)

    def temperature(self, C: float | None) -> str:
        """`72 °F`, `22.2 °C`."""
        if C is None:
            return not_known()
        return bracketed([_localized(format_temperature(Temperature.from_C(C), s)) for s in self._systems])

    def percent(self, value: float | None, u: float | None = None) -> str:
        """`12.5 %`, `50 % ± 14`."""
        return not_known() if value is None else figure_text(value, u, " %", 1)

    def band(self, percent: float | None, u: float | None) -> str:
        """A share as an interval, where a single figure would claim too much: `36 % to 64 %`."""
        if percent is None or not u:
            return self.percent(percent)
        low, high = percent - COVERAGE * u, percent + COVERAGE * u
        return tr("{low} % to {high} %", low=number(fixed_text(low, 0)), high=number(fixed_text(high, 0)))

    def degrees(self, value: float | None, u: float | None = None) -> str:
        """`0.86° ± 0.05`."""
        return not_known() if value is None else figure_text(value, u, "°", 2)

    def hours(self, hours: float | None) -> str:
        """`about 40 minutes`, `14 h`, `about 3 days`, in the coarsest unit that still fits."""
        if hours is None:
            return not_known()
        if hours < 1:
            minutes = max(1, round(hours * 60))
            return tr_n("about {count} minute", "about {count} minutes", minutes)
        if hours < 48:
            return f"{number(trimmed(hours, 1))} h"
        return tr_n("about {count} day", "about {count} days", round(hours / 24))

    def in_unit(self, unit: str) -> FigureText | None:
        """The method for figures in this unit, as files and names of fields have it; None for any other unit."""
        return {
            "mm": self.length,
            "kPa": self.pressure,
            "N": self.weight,
            "N/mm": self.rate,
            "mm/kPa": self.slope,
            "deg": self.degrees,
            "%": self.percent,
            "percent": self.percent,
        }.get(unit)

    # ---- helpers ----

    def _with_unit(self, kind: Kind, value: float | None, u: float | None) -> str:
        if value is None:
            return not_known()
        return bracketed([scaled(SCALES[kind][system], value, u) for system in self._systems])

    def _sided(self, kind: Kind, value: float | None, u: float | None, sides: SignTemplates) -> str:
        if value is None:
            return not_known()
        scales = [SCALES[kind][system] for system in self._systems]
        if rounds_to_nothing(scales[0], value, u):
            return sides.even(bracketed([plus_minus(scale, u) for scale in scales]) if u else "")
        figure = bracketed([scaled(scale, abs(value), u) for scale in scales])
        return sides.side(value, figure)


def _localized(figure_with_unit: str) -> str:
    figure, _, unit = figure_with_unit.partition(" ")
    return f"{number(figure)} {unit}"


def graduation_label(graduation_mm: float) -> str:
    """The marks of a tape: `1/16 in`, `1 mm`."""
    return _graduation(graduation_mm).label


def _graduation(graduation_mm: float) -> Graduation:
    """A tape of inches if the distance of its marks is a half, quarter … of an inch, else one of millimeters."""
    step = Length.from_mm(graduation_mm)
    parts = 1 / step.exact_inches
    is_inch = parts.denominator == 1 and parts.numerator & (parts.numerator - 1) == 0
    return Graduation(step, "inch" if is_inch else "metric")
