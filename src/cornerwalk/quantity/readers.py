"""Readers of typed pressures, forces, temperatures, torques, angles, percents and times, with plausibility limits.

Their units are rows of the tables in `units`.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from cornerwalk.quantity.errors import (
    BelowZero,
    MissingUnit,
    MixedUnits,
    MoreThanOne,
    SignAndSide,
    TooLarge,
    TooSmall,
    UnexpectedSign,
    UnknownUnit,
    UnreadableText,
    read_with_suggestion,
    suggest_unit,
)
from cornerwalk.quantity.lengths import split_side
from cornerwalk.quantity.parser import INCH_FORMS, Expression, normalize, parse
from cornerwalk.quantity.units import (
    FORCES,
    PRESSURES,
    RATES,
    TEMPERATURE_STEPS,
    TEMPERATURES,
    TORQUES,
    VOLUMES,
    Unit,
    convert,
)
from cornerwalk.quantity.values import Angle, Force, Pressure, Temperature, Torque


class _Kind(NamedTuple):
    """A kind of quantity: its units and limits. The limits are plausibility limits, assumed."""

    typed: Sequence[Unit]
    base: str
    example: str
    most: tuple[Fraction, str]
    least: tuple[Fraction, str] = (Fraction(0), "0")
    sides: bool = False
    """Whether "down" or "up" may replace the sign."""

    @property
    def units(self) -> dict[str, str]:
        """Spelling → unit of `convert`."""
        return {spelling: unit.name for unit in self.typed for spelling in unit.spellings.split()}

    @property
    def shown(self) -> dict[str, str]:
        """Unit of `convert` → its symbol."""
        return {unit.name: unit.symbol for unit in self.typed}

    @property
    def known(self) -> str:
        return ", ".join(self.shown.values())


_PRESSURE = _Kind(
    typed=PRESSURES,
    base="kPa",
    example="35 psi",
    most=(Fraction(2000), "2000 kPa (290 psi)"),
)
_FORCE = _Kind(
    typed=FORCES,
    base="N",
    example="410 lb",
    most=(Fraction(500_000), "500 kN (112404 lb)"),
)
_TEMPERATURE = _Kind(
    typed=TEMPERATURES,
    base="degC",
    example="72 °F",
    least=(Fraction(-60), "−60 °C (−76 °F)"),
    most=(Fraction(100), "100 °C (212 °F)"),
)
_TORQUE = _Kind(
    typed=TORQUES,
    base="N_m",
    example="100 lbf·ft",
    most=(Fraction(2000), "2000 N·m (1475 lbf·ft)"),
)
_ANGLE = _Kind(
    typed=(Unit("deg", "°", "deg ° degree degrees", ""),),
    base="deg",
    example="0.4° down",
    least=(Fraction(-90), "−90°"),
    most=(Fraction(90), "90°"),
    sides=True,
)
_PERCENT = _Kind(
    typed=(Unit("percent", "%", "%", ""),),
    base="percent",
    example="-0.7 %",
    least=(Fraction(-100), "−100 %"),
    most=(Fraction(100), "100 %"),
    sides=True,
)
_RATE = _Kind(
    typed=RATES,
    base="N_per_mm",
    example="1450 lb/in",
    most=(Fraction(5000), "5000 N/mm (28550 lb/in)"),
)
_VOLUME = _Kind(
    typed=VOLUMES,
    base="liter",
    example="120 cu in",
    most=(Fraction(200), "200 L (12205 cu in)"),
)
_TEMPERATURE_STEP = _Kind(
    typed=TEMPERATURE_STEPS,
    base="step_K",
    example="2 K",
    most=(Fraction(100), "100 K (180 °F)"),
)
_HOURS_IN = {"min": Fraction(1, 60), "h": Fraction(1), "day": Fraction(24)}
_HOURS = _Kind(
    typed=(
        Unit("h", "h", "h hr hrs hour hours", ""),
        Unit("min", "min", "min mins minute minutes", "h / 60"),
        Unit("day", "days", "d day days", "24 * h"),
    ),
    base="h",
    example="14 h",
    most=(Fraction(10_000), "10000 h"),
)


def read_pressure(text: str, bare: str | None = "psi") -> Pressure:
    """A gauge pressure from 0 to 2000 kPa, in psi (or psig), kPa, bar or mbar.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of pressure.
    """
    return Pressure(_read(text, _PRESSURE, bare))


def read_force(text: str, bare: str | None = None) -> Force:
    """A force or weight from 0 to 500 kN, in lb, kg, N or kN. lb and kg are weights under 9.80665 m/s².

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of force.
    """
    return Force(_read(text, _FORCE, bare))


def read_temperature(text: str, bare: str | None = None) -> Temperature:
    """A temperature of air or metal outdoors, −60 to 100 °C, in °F or °C: `72 °F`, `72 degF`, `-5 C`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of temperature.
    """
    return Temperature(_read(text, _TEMPERATURE, bare))


def read_torque(text: str, bare: str | None = None) -> Torque:
    """A tightening torque from 0 to 2000 N·m: `100 lbf·ft`, `100 ft-lb`, `60 lbf in`, `135 N·m`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of torque.
    """
    return Torque(_read(text, _TORQUE, bare))


def read_angle(text: str, bare: str | None = "deg") -> Angle:
    """An angle within ±90°, up positive: `-0.4`, `-0.4°`, `0.4 deg down`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
    """
    return Angle(_read(text, _ANGLE, bare))


def read_percent(text: str, bare: str | None = "%") -> Fraction:
    """A slope in percent within ±100, up positive: `-0.7`, `-0.7 %` and `0.7 % down` are −7/10.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
    """
    return _read(text, _PERCENT, bare)


def read_rate(text: str, bare: str | None = None) -> Fraction:
    """A vertical rate from 0 to 5000 N/mm, in N/mm: `1450 lb/in`, `250 N/mm`.

    Raises:
        QuantityError: with the reason and, where there is one, the likely meaning.
        ValueError: `bare` is no unit of a rate.
    """
    return _read(text, _RATE, bare)


def read_volume(text: str, bare: str | None = None) -> Fraction:
    """A volume from 0 to 200 L, in liters: `120 cu in`, `120 in³`, `2 L`, `900 ml`.

    Raises:
        QuantityError: with the reason and, where there is one, the likely meaning.
        ValueError: `bare` is no unit of volume.
    """
    return read_with_suggestion(text, lambda typed: _parse_one(_cubed(typed), _VOLUME, bare))


def read_temperature_step(text: str, bare: str | None = "K") -> Fraction:
    """A difference of temperature from 0 to 100 K, in kelvins: `2 K`, `4 °F`.

    Raises:
        QuantityError: with the reason and, where there is one, the likely meaning.
        ValueError: `bare` is no unit of a difference of temperature.
    """
    return _read(text, _TEMPERATURE_STEP, bare)


def read_hours(text: str, bare: str | None = "h") -> Fraction:
    """A duration from 0 to 10000 h, in hours: `14`, `14 h`, `90 min`, `1 day`, `1 h 30 min`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of time.
    """
    return read_with_suggestion(text, lambda typed: _hours(typed, bare))


def _read(text: str, kind: _Kind, bare: str | None) -> Fraction:
    return read_with_suggestion(text, lambda typed: _parse_one(typed, kind, bare))


def _parse_one(text: str, kind: _Kind, bare: str | None) -> Fraction:
    """One number in the unit `kind.base`, within the limits."""
    bare_unit = _bare_unit(kind, bare)
    typed, side = normalize(text, kind.example), ""
    if kind.sides:
        typed, side = split_side(typed)
    expression = _parse(typed, kind)
    if len(expression.terms) > 1:
        raise (MixedUnits if expression.terms[1].unit else MoreThanOne)(text, example="2 1/2")
    (term,) = expression.terms
    unit = kind.units.get(term.unit, bare_unit)
    if unit is None:
        written = [f"{typed} {name}" for name in kind.shown.values()]
        if len(written) == 1:  # there is no choice of units to name
            raise UnreadableText(text, example=kind.example)
        raise MissingUnit(text, first=written[0], second=written[1])
    if side and expression.sign:
        raise SignAndSide(text)
    magnitude = -term.numeral.value if "-" in (side, expression.sign) else term.numeral.value
    return _within_limits(expression, kind, magnitude if unit == kind.base else convert(magnitude, unit, kind.base))


def _hours(text: str, bare: str | None) -> Fraction:
    bare_unit = _bare_unit(_HOURS, bare)
    expression = _parse(normalize(text, _HOURS.example), _HOURS)
    total, larger = Fraction(0), Fraction(10**6)
    for term in expression.terms:
        unit = _HOURS.units.get(term.unit, bare_unit if len(expression.terms) == 1 else None)
        if unit is None:
            minutes = f"{expression.text} min"
            raise MissingUnit(
                text, candidates=(minutes,) if total else (), first=f"{expression.text} h", second=minutes
            )
        if _HOURS_IN[unit] >= larger:
            raise MixedUnits(text)
        larger = _HOURS_IN[unit]
        total += term.numeral.value * larger
    return _within_limits(expression, _HOURS, -total if expression.sign == "-" else total)


def _cubed(text: str) -> str:
    """`in³` and `cm3` as units without a digit in them."""
    bare = text.rstrip()
    for written, spelled in (("in", " cu in"), ("cm", " ml")):
        for power in ("3", "³", "^3"):
            if bare.lower().endswith(written + power):
                return bare[: -len(written + power)] + spelled
    return text


def _bare_unit(kind: _Kind, bare: str | None) -> str | None:
    if bare is None or bare in kind.units.values():
        return bare
    spelled = bare.lower().replace(" ", "")
    if spelled in kind.units:
        return kind.units[spelled]
    raise ValueError(f"{bare!r} does not fit here; use one of {kind.known}")


def _parse(typed: str, kind: _Kind) -> Expression:
    """The parsed text, if this kind knows its units and it has no notation that only inches have."""
    expression = parse(typed, kind.example)
    for term in expression.terms:
        if term.unit and term.unit not in kind.units:
            raise _unknown_unit_error(expression, term.unit, kind)
        if term.numeral.form in INCH_FORMS:
            raise UnreadableText(typed, example=kind.example)
    return expression


def _unknown_unit_error(expression: Expression, typed: str, kind: _Kind) -> UnknownUnit:
    meant = suggest_unit(typed, kind.units) if len(expression.terms) == 1 else None
    figure = expression.text[: expression.terms[0].numeral.end]
    candidates = (f"{figure} {kind.shown[meant]}",) if meant else ()
    return UnknownUnit(expression.text, candidates=candidates, unit=typed, known=kind.known)


def _within_limits(expression: Expression, kind: _Kind, value: Fraction) -> Fraction:
    (least, least_shown), (most, most_shown) = kind.least, kind.most
    if expression.sign and least == 0:
        raise (BelowZero if expression.sign == "-" else UnexpectedSign)(
            expression.text, candidates=(expression.text[1:].lstrip(),)
        )
    if value > most:
        others = tuple(f"{expression.text} {written}" for written in kind.shown.values())
        raise TooLarge(expression.text, candidates=others if not expression.terms[0].unit else (), most=most_shown)
    if value < least:
        raise TooSmall(expression.text, least=least_shown)
    return value
