"""Unit conversion, exact. The only module that imports pint.

pint converts a number between two units named here; a user's text never reaches it (it reads "12,5 mm" as 125 mm).
pint takes a quarter of a second to import, so it is used on first need, once for each pair of units. The pairs that a
first screen may need are built in; the tests compare them with pint.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import pint


class Unit(NamedTuple):
    """A unit that people type: its name in `convert`, symbol, spellings, and its definition in pint's notation.

    Spellings are lower case, without spaces, dots, "-" and "*", and separated by spaces.
    """

    name: str
    symbol: str
    spellings: str
    definition: str


# Exact definitions: the international inch and pound, standard gravity, the bar, the Celsius zero. Only the units that
# this program reads; pint's full registry takes a hundred times as long to load.
_BASE_DEFINITIONS = """
metre = [length]
kilogram = [mass]
second = [time]
kelvin = [temperature]; offset: 0
mm = 0.001 * metre
cm = 0.01 * metre
inch = 25.4 * mm
foot = 12 * inch
Pa = N / metre ** 2
atm = 101.325 * kPa
"""

FORCES = (
    Unit("lbf", "lb", "lb lbs lbf pound pounds", "0.45359237 * kgf"),
    Unit("kgf", "kg", "kg kgs kgf kilogram kilograms", "9.80665 * N"),
    Unit("N", "N", "n newton newtons", "kilogram * metre / second ** 2"),
    Unit("kN", "kN", "kn", "1000 * N"),
)
PRESSURES = (
    Unit("psi", "psi", "psi psig", "lbf / inch ** 2"),
    Unit("kPa", "kPa", "kpa", "1000 * Pa"),
    Unit("bar", "bar", "bar bars", "100 * kPa"),
    Unit("mbar", "mbar", "mbar mb", "0.001 * bar"),
)
TEMPERATURES = (
    Unit("degF", "°F", "degf °f f fahrenheit degreesf", "5 / 9 * kelvin; offset: 233.15 + 200 / 9"),
    Unit("degC", "°C", "degc °c c celsius degreesc", "kelvin; offset: 273.15"),
)
TORQUES = (
    Unit("lbf_ft", "lbf·ft", "lbfft lbft ftlb ftlbs ftlbf lbsft", "lbf * foot"),
    Unit("N_m", "N·m", "nm", "N * metre"),
    Unit("lbf_in", "lbf·in", "lbfin lbin inlb inlbs inlbf", "lbf * inch"),
)
RATES = (
    Unit("lbf_per_inch", "lb/in", "lb/in lbs/in lbf/in lb/inch lbs/inch", "lbf / inch"),
    Unit("N_per_mm", "N/mm", "n/mm", "N / mm"),
    Unit("kgf_per_mm", "kg/mm", "kg/mm kgf/mm", "kgf / mm"),
)
VOLUMES = (
    Unit("cubic_inch", "cu in", "cuin cuins cubicinch cubicinches", "inch ** 3"),
    Unit("liter", "L", "l liter liters litre litres", "1000 * cm ** 3"),
    Unit("milliliter", "ml", "ml cc", "cm ** 3"),
)
TEMPERATURE_STEPS = (
    Unit("step_F", "°F", "degf °f f fahrenheit degreesf", "5 / 9 * kelvin"),
    Unit("step_C", "°C", "degc °c c celsius degreesc", "kelvin"),
    Unit("step_K", "K", "k kelvin kelvins", "kelvin"),
)
"""Differences of temperature, which have no zero."""
TYPED_UNITS = (*FORCES, *PRESSURES, *TEMPERATURES, *TORQUES, *RATES, *VOLUMES, *TEMPERATURE_STEPS)
"""In each kind, the first two are the most likely for a value without a unit."""


class _LinearRule(NamedTuple):
    """to = factor · from + offset."""

    factor: Fraction
    offset: Fraction = Fraction(0)


# 1 lbf = 0.45359237 · 9.80665 N; 1 psi = 1 lbf/in².
_LBF_N = Fraction(45359237, 10**8) * Fraction(980665, 10**5)
_PSI_KPA = _LBF_N / Fraction(127, 5) ** 2 * 1000

BUILT_IN_RULES: dict[tuple[str, str], _LinearRule] = {
    ("lbf", "N"): _LinearRule(_LBF_N),
    ("N", "lbf"): _LinearRule(1 / _LBF_N),
    ("kgf", "N"): _LinearRule(Fraction(980665, 10**5)),
    ("N", "kgf"): _LinearRule(Fraction(10**5, 980665)),
    ("psi", "kPa"): _LinearRule(_PSI_KPA),
    ("kPa", "psi"): _LinearRule(1 / _PSI_KPA),
    ("degF", "degC"): _LinearRule(Fraction(5, 9), Fraction(-160, 9)),
    ("degC", "degF"): _LinearRule(Fraction(9, 5), Fraction(32)),
    ("degC", "kelvin"): _LinearRule(Fraction(1), Fraction(27315, 100)),
}


def convert(number: int | Fraction, from_unit: str, to_unit: str) -> Fraction:
    """`number` of `from_unit` in `to_unit`, exactly.

    Units: metre mm cm inch foot, kelvin, Pa, atm, and `TYPED_UNITS`.

    Raises:
        ValueError: an unknown unit, or two of different kinds.

    >>> convert(1, "inch", "mm")
    Fraction(127, 5)
    """
    factor, offset = BUILT_IN_RULES.get((from_unit, to_unit)) or rule_from_pint(from_unit, to_unit)
    return number * factor + offset


@cache
def rule_from_pint(from_unit: str, to_unit: str) -> _LinearRule:
    """The conversion rule, from pint: every conversion here is linear, so two points determine it.

    Raises:
        ValueError: as `convert` does.
    """
    import pint

    try:
        offset = Fraction(_registry().convert(Fraction(0), from_unit, to_unit))
        one = Fraction(_registry().convert(Fraction(1), from_unit, to_unit))
    except (pint.UndefinedUnitError, pint.DimensionalityError):
        # pint's error cannot be shown: it formats exponents as floats, which a Fraction of Python 3.11 refuses.
        raise ValueError(f"no conversion from {from_unit!r} to {to_unit!r}") from None
    return _LinearRule(one - offset, offset)


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    typed = (f"{unit.name} = {unit.definition}" for unit in TYPED_UNITS)
    registry.load_definitions([*_BASE_DEFINITIONS.strip().splitlines(), *typed])
    return registry
