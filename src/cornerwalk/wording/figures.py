"""The units figures are told in: for each kind of figure, the stored unit's size in the unit shown and its name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from cornerwalk.assess.uncertainty import COVERAGE
from cornerwalk.quantity import Force, Length, Pressure, UnitSystem, format_uncertain
from cornerwalk.quantity.exact import format_fixed
from cornerwalk.words import number, tr

Units = Literal["inch", "metric", "both"]
"""Both: inches, pounds and psi first, the metric figure in brackets after it."""

SYSTEMS: dict[Units, tuple[UnitSystem, ...]] = {
    "inch": ("inch",),
    "metric": ("metric",),
    "both": ("inch", "metric"),
}

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
    # stored in mm, told over the road or to a wall
    "distance": {"inch": Scale(_IN_PER_MM / 12, "ft", 0), "metric": Scale(0.001, "m", 0)},
    # stored in kPa
    "pressure": {"inch": Scale(_PSI_PER_KPA, "psi", 1), "metric": Scale(1.0, "kPa", 0)},
    # stored in N; told as scales and rating labels do
    "weight": {"inch": Scale(_LB_PER_N, "lb", 0), "metric": Scale(Force.from_N(1).kgf, "kg", 0)},
    # stored in N/mm
    "rate": {"inch": Scale(_LB_PER_N / _IN_PER_MM, "lb/in", 0), "metric": Scale(1.0, "N/mm", 1)},
    # stored in mm/kPa
    "slope": {"inch": Scale(_IN_PER_MM / _PSI_PER_KPA, "in/psi", 4), "metric": Scale(1.0, "mm/kPa", 3)},
    # stored in N·m
    "torque": {"inch": Scale(_LB_PER_N * _IN_PER_MM * 1000 / 12, "lbf·ft", 1), "metric": Scale(1.0, "N·m", 1)},
}


# ---- figure with ± ----


DEGREES = Scale(1.0, "°", 2)
_WHOLE_WITHIN = 1e-9


def not_known() -> str:
    """What stands where a figure would."""
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
    """Whether nothing but noughts would be shown, so that a side would be told of no figure."""
    if not u:
        return float(fixed_text(abs(value) * scale.factor, max(scale.decimals, 2))) == 0
    return float(format_uncertain(abs(value) * scale.factor, COVERAGE * u * scale.factor)[0]) == 0


def plus_minus(scale: Scale, u: float | None) -> str:
    """`± 0.07 in` alone; empty where u is not known."""
    return "" if not u else f"± {number(format_uncertain(0.0, COVERAGE * u * scale.factor)[1])} {scale.unit}"


def angle_text(deg: float | None, u: float | None, sides: Sides) -> str:
    """An angle on its side: `nose up 0.86° ± 0.05`."""
    if deg is None:
        return not_known()
    if rounds_to_nothing(DEGREES, deg, u):
        bounds = "" if not u else f"± {number(format_uncertain(0.0, COVERAGE * u)[1])}°"
        return sides.neither(bounds).rstrip()
    figure = figure_text(abs(deg), u, "°", DEGREES.decimals)
    return sides.above(figure) if deg > 0 else sides.below(figure)


def bracketed(figures: list[str]) -> str:
    """One figure, or the first with the others in brackets."""
    return figures[0] if len(figures) == 1 else f"{figures[0]} ({', '.join(figures[1:])})"


def fixed_text(value: float, decimals: int) -> str:
    """With that many decimals, midway to the even digit."""
    return format_fixed(Fraction(repr(value)), decimals)


def trimmed(value: float, decimals: int) -> str:
    """With at most that many decimals."""
    text = fixed_text(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text


# ---- sides in words ----


@dataclass(frozen=True, slots=True)
class Sides:
    """How a figure is said when it is above nought, below it, and when it rounds to nought (then ± U, or nothing)."""

    above: Callable[[str], str]
    below: Callable[[str], str]
    neither: Callable[[str], str]


CHANGE = Sides(
    lambda figure: tr("up {figure}", figure=figure),
    lambda figure: tr("down {figure}", figure=figure),
    lambda figure: tr("unchanged {figure}", figure=figure),
)
TILT = Sides(
    lambda figure: tr("nose up {figure}", figure=figure),
    lambda figure: tr("nose down {figure}", figure=figure),
    lambda figure: tr("level {figure}", figure=figure),
)
LEAN = Sides(
    lambda figure: tr("leans right {figure}", figure=figure),
    lambda figure: tr("leans left {figure}", figure=figure),
    lambda figure: tr("upright {figure}", figure=figure),
)
MOVED = Sides(
    lambda figure: tr("{figure} higher", figure=figure),
    lambda figure: tr("{figure} lower", figure=figure),
    lambda figure: tr("unchanged {figure}", figure=figure),
)
MARK = Sides(
    lambda figure: tr("{figure} above the unloaded mark", figure=figure),
    lambda figure: tr("{figure} below the unloaded mark", figure=figure),
    lambda figure: tr("on the unloaded mark {figure}", figure=figure),
)
AIM = Sides(
    lambda figure: tr("points {figure} above level", figure=figure),
    lambda figure: tr("points {figure} below level", figure=figure),
    lambda figure: tr("points level {figure}", figure=figure),
)
GAIN = Sides(
    lambda figure: tr("{figure} more", figure=figure),
    lambda figure: tr("{figure} less", figure=figure),
    lambda figure: tr("unchanged {figure}", figure=figure),
)
SIDES = Sides(
    lambda figure: tr("left {figure} higher", figure=figure),
    lambda figure: tr("right {figure} higher", figure=figure),
    lambda figure: tr("even {figure}", figure=figure),
)
