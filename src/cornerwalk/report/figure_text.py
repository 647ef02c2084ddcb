"""A number as text: its digits, its unit, and ± U to the same decimals (k = 2)."""

from __future__ import annotations

from fractions import Fraction

from cornerwalk.assess.uncertainty import COVERAGE
from cornerwalk.quantity import format_uncertain
from cornerwalk.quantity.exact import fixed
from cornerwalk.report.scales import Scale
from cornerwalk.report.sides import Sides
from cornerwalk.words import number, tr

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
    return fixed(Fraction(repr(value)), decimals)


def trimmed(value: float, decimals: int) -> str:
    """With at most that many decimals."""
    text = fixed_text(value, decimals)
    return text.rstrip("0").rstrip(".") if "." in text else text
