"""Unit factors against the definitions and against two libraries that hold them independently of us."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
import scipy.constants

from cornerwalk.quantity import Force, Length, Pressure, Temperature, Torque, convert
from cornerwalk.quantity.units import BUILT_IN_RULES, rule_from_pint

# Source: exact definitions. Inch 25.4 mm and foot 0.3048 m (marked exact in published conversion tables, seen
# second-hand); pound 0.45359237 kg, standard gravity 9.80665 m/s², bar and atmosphere (as held in scipy.constants and
# pint, seen). The products are worked out from these.
EXACT = [
    ("inch", "mm", "25.4"),
    ("foot", "metre", "0.3048"),
    ("foot", "inch", "12"),
    ("cm", "mm", "10"),
    ("metre", "mm", "1000"),
    ("lbf", "N", "4.4482216152605"),
    ("kgf", "N", "9.80665"),
    ("kN", "N", "1000"),
    ("bar", "kPa", "100"),
    ("mbar", "kPa", "0.1"),
    ("atm", "kPa", "101.325"),
    ("lbf_ft", "N_m", "1.3558179483314004"),
    ("lbf_in", "N_m", "0.1129848290276167"),
]


@pytest.mark.parametrize(("from_unit", "to_unit", "factor"), EXACT)
def test_exact_factors(from_unit: str, to_unit: str, factor: str) -> None:
    """A factor that is a finite decimal is that decimal, exactly, and so is the way back."""
    assert convert(1, from_unit, to_unit) == Fraction(factor)
    assert convert(Fraction(factor), to_unit, from_unit) == 1


# Source: as above; not finite decimals, printed to the last digit of a float.
INEXACT = [
    ("psi", "kPa", 6.894757293168361),
    ("bar", "psi", 14.503773773020923),
    ("kPa", "psi", 0.14503773773020923),
    ("N_m", "lbf_ft", 0.7375621492772654),
    ("atm", "psi", 14.69594877551422),
]


@pytest.mark.parametrize(("from_unit", "to_unit", "factor"), INEXACT)
def test_factors_to_the_last_digit(from_unit: str, to_unit: str, factor: float) -> None:
    """A factor that is no finite decimal agrees with the definitions to the last digit of a float."""
    assert float(convert(1, from_unit, to_unit)) == pytest.approx(factor, rel=2e-16)


# Source: published rounded values: psi and lbf from a printed table of conversion factors, lbf·in from a naval training
# manual (all seen).
@pytest.mark.parametrize(
    ("from_unit", "to_unit", "printed"),
    [("psi", "kPa", "6.894757"), ("lbf", "N", "4.448222"), ("lbf_in", "N_m", "0.112985")],
)
def test_printed_roundings(from_unit: str, to_unit: str, printed: str) -> None:
    """The factor rounds to what conversion tables print."""
    assert f"{float(convert(1, from_unit, to_unit)):.6f}" == printed


FULL_PINT: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
THEIR_NAMES = {
    "metre": "metre", "mm": "millimetre", "cm": "centimetre", "inch": "inch", "foot": "foot",
    "N": "newton", "kN": "kilonewton", "kgf": "kilogram_force", "lbf": "pound_force",
    "Pa": "pascal", "kPa": "kilopascal", "bar": "bar", "mbar": "millibar", "atm": "standard_atmosphere", "psi": "psi",
    "N_m": "newton * metre", "lbf_ft": "pound_force * foot", "lbf_in": "pound_force * inch",
    "kelvin": "kelvin", "degC": "degree_Celsius", "degF": "degree_Fahrenheit",
}  # fmt: skip
KINDS = [
    ("metre", "mm", "cm", "inch", "foot"),
    ("N", "kN", "kgf", "lbf"),
    ("Pa", "kPa", "bar", "mbar", "atm", "psi"),
    ("N_m", "lbf_ft", "lbf_in"),
    ("kelvin", "degC", "degF"),
]
ALL_PAIRS = [(a, b) for kind in KINDS for a in kind for b in kind]


@pytest.mark.parametrize(("from_unit", "to_unit"), ALL_PAIRS)
def test_pints_full_registry_agrees_exactly(from_unit: str, to_unit: str) -> None:
    """Our few definitions give, as exact fractions, what pint's own full set gives, for every pair of units."""
    for number in (Fraction(0), Fraction(1), Fraction(-355, 113)):
        theirs = FULL_PINT.convert(number, THEIR_NAMES[from_unit], THEIR_NAMES[to_unit])
        assert convert(number, from_unit, to_unit) == theirs


@pytest.mark.parametrize(("pair", "rule"), BUILT_IN_RULES.items())
def test_pairs_written_out_are_pints(pair: tuple[str, str], rule: tuple[Fraction, Fraction]) -> None:
    """The pairs written out for the first screen's sake are pint's answers, exactly."""
    assert rule_from_pint(*pair) == rule


SCIPY = [
    ("inch", "metre", scipy.constants.inch),
    ("foot", "metre", scipy.constants.foot),
    ("lbf", "N", scipy.constants.lbf),
    ("kgf", "N", scipy.constants.kgf),
    ("psi", "Pa", scipy.constants.psi),
    ("bar", "Pa", scipy.constants.bar),
    ("atm", "Pa", scipy.constants.atm),
    ("lbf_ft", "N_m", scipy.constants.lbf * scipy.constants.foot),
]


@pytest.mark.parametrize(("from_unit", "to_unit", "factor"), SCIPY)
def test_scipy_agrees(from_unit: str, to_unit: str, factor: float) -> None:
    """scipy.constants holds the same factors, to the last digits of a float."""
    assert float(convert(1, from_unit, to_unit)) == pytest.approx(factor, rel=4e-16)


@pytest.mark.parametrize("celsius", [-60.0, -40.0, 0.0, 22.2, 37.0, 100.0])
def test_scipy_agrees_on_temperatures(celsius: float) -> None:
    """Fahrenheit and kelvin agree with scipy's converter."""
    temperature = Temperature.from_C(celsius)
    assert pytest.approx(scipy.constants.convert_temperature(celsius, "C", "F"), abs=1e-12) == temperature.F
    assert pytest.approx(scipy.constants.convert_temperature(celsius, "C", "K"), abs=1e-12) == temperature.K


# Source: fixed points of the scales: ice, equal readings, steam, body heat as once defined (common knowledge).
@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (-40, -40), (100, 212), (37, Fraction(986, 10))])
def test_fixed_points(celsius: int, fahrenheit: Fraction) -> None:
    """The fixed points of the two scales coincide exactly."""
    assert Temperature.from_F(fahrenheit) == Temperature.from_C(celsius)


# Source: products of the exact definitions.
def test_torques_of_a_wheel() -> None:
    """80 and 100 lbf·ft are the N·m that torque charts print."""
    assert Torque.from_lbf_ft(80).Nm == pytest.approx(108.46544, abs=5e-6)
    assert Torque.from_lbf_ft(100).Nm == pytest.approx(135.58179, abs=5e-6)
    assert Torque.from_Nm(Fraction("135.58179483314004")).lbf_ft == 100


def test_both_units_of_every_quantity() -> None:
    """Each quantity tells the same value in every unit it offers."""
    assert Length.from_inches(Fraction(61, 2)).mm == 774.7
    assert Length.from_mm("774.7").inches == 30.5
    assert Pressure.from_psi(35).psi == 35
    assert Pressure.from_kPa(100).psi == pytest.approx(14.503773773020923, rel=1e-15)
    assert Force.from_lbf(410).lbf == 410
    assert Force.from_lbf(1).N == 4.4482216152605
    assert Force.from_N("9.80665").kgf == 1


@pytest.mark.parametrize(("from_unit", "to_unit"), [("psi", "inch"), ("furlong", "mm"), ("mm", "furlong")])
def test_units_that_do_not_fit(from_unit: str, to_unit: str) -> None:
    """Units that measure different things, or that are not ours, are a plain ValueError naming both."""
    with pytest.raises(ValueError, match=f"no conversion from '{from_unit}' to '{to_unit}'"):
        convert(1, from_unit, to_unit)
