"""From one unit to another, exactly. The only module that knows pint.

pint converts a number between two units named here; no text of a user's ever reaches it ("12,5 mm" would be 125 mm
to it). It takes about a quarter of a second to import, so it is asked on first need only, once for each pair of units,
and the few pairs a first screen may need are written out below: the tests hold them to pint's own answer.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    import pint

# Exact definitions: the international inch and pound, standard gravity, the bar, the Celsius zero. Only what this
# program reads; pint's own full set costs a hundred times as long to load.
_DEFINITIONS = """
metre = [length]
kilogram = [mass]
second = [time]
kelvin = [temperature]; offset: 0
mm = 0.001 * metre
cm = 0.01 * metre
inch = 25.4 * mm
foot = 12 * inch
N = kilogram * metre / second ** 2
kN = 1000 * N
kgf = 9.80665 * N
lbf = 0.45359237 * kgf
Pa = N / metre ** 2
kPa = 1000 * Pa
bar = 100 * kPa
mbar = 0.001 * bar
atm = 101.325 * kPa
psi = lbf / inch ** 2
N_m = N * metre
lbf_ft = lbf * foot
lbf_in = lbf * inch
degC = kelvin; offset: 273.15
degF = 5 / 9 * kelvin; offset: 233.15 + 200 / 9
"""


class _Rule(NamedTuple):
    """to = factor · from + offset."""

    factor: Fraction
    offset: Fraction = Fraction(0)


# 1 lbf = 0.45359237 · 9.80665 N; 1 psi = 1 lbf/in².
_LBF_N = Fraction(45359237, 10**8) * Fraction(980665, 10**5)
_PSI_KPA = _LBF_N / Fraction(127, 5) ** 2 * 1000

WRITTEN_OUT: dict[tuple[str, str], _Rule] = {
    ("lbf", "N"): _Rule(_LBF_N),
    ("N", "lbf"): _Rule(1 / _LBF_N),
    ("kgf", "N"): _Rule(Fraction(980665, 10**5)),
    ("N", "kgf"): _Rule(Fraction(10**5, 980665)),
    ("psi", "kPa"): _Rule(_PSI_KPA),
    ("kPa", "psi"): _Rule(1 / _PSI_KPA),
    ("degF", "degC"): _Rule(Fraction(5, 9), Fraction(-160, 9)),
    ("degC", "degF"): _Rule(Fraction(9, 5), Fraction(32)),
    ("degC", "kelvin"): _Rule(Fraction(1), Fraction(27315, 100)),
}


def convert(number: int | Fraction, from_unit: str, to_unit: str) -> Fraction:
    """`number` of `from_unit` in `to_unit`, exactly.

    Units: metre mm cm inch foot; N kN kgf lbf; Pa kPa bar mbar atm psi; N_m lbf_ft lbf_in; kelvin degC degF.

    Raises:
        ValueError: a unit that is not among these, or two that measure different things.

    >>> convert(1, "inch", "mm")
    Fraction(127, 5)
    """
    factor, offset = WRITTEN_OUT.get((from_unit, to_unit)) or rule_from_pint(from_unit, to_unit)
    return number * factor + offset


@cache
def rule_from_pint(from_unit: str, to_unit: str) -> _Rule:
    """What pint makes of the pair: every conversion here is a straight line, so two points settle it.

    Raises:
        ValueError: as `convert`.
    """
    import pint

    try:
        offset = Fraction(_registry().convert(Fraction(0), from_unit, to_unit))
        one = Fraction(_registry().convert(Fraction(1), from_unit, to_unit))
    except (pint.UndefinedUnitError, pint.DimensionalityError):
        # pint's own error cannot be shown: it formats exponents as floats, which a Fraction of Python 3.11 refuses.
        raise ValueError(f"no conversion from {from_unit!r} to {to_unit!r}") from None
    return _Rule(one - offset, offset)


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    import pint

    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(_DEFINITIONS.strip().splitlines())
    return registry
