"""Every typed quantity that is not a height: what is taken, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from cornerwalk.quantity import (
    Angle,
    Force,
    Length,
    Pressure,
    QuantityError,
    Temperature,
    Torque,
    read_altitude,
    read_angle,
    read_force,
    read_hours,
    read_length,
    read_percent,
    read_pressure,
    read_signed_length,
    read_temperature,
    read_torque,
)
from cornerwalk.quantity.errors import (
    AmbiguousComma,
    BelowZero,
    EmptyText,
    FractionWithoutUnit,
    ImproperFraction,
    MissingNumber,
    MissingUnit,
    MixedUnits,
    MoreThanOne,
    SignAndSide,
    StrangeCharacter,
    TooLarge,
    TooSmall,
    UnexpectedSign,
    UnknownUnit,
    UnreadableText,
)

# Exact definitions, written again here so that the readers are not their own witness.
IN, FT, M = Fraction(254, 10), Fraction(3048, 10), Fraction(1000)
LBF = Fraction("4.4482216152605")  # N, exact: 0.45359237 kg · 9.80665 m/s²
KGF = Fraction("9.80665")
PSI = LBF / Fraction("0.0254") ** 2 / 1000  # kPa
LBF_FT = Fraction("1.3558179483314004")  # N·m, exact

LENGTHS = [
    ("119 in", Length(119 * IN)),
    ("25 ft", Length(25 * FT)),
    ("25'", Length(25 * FT)),
    ("12 ft 3 in", Length(12 * FT + 3 * IN)),
    ("12' 3 1/4\"", Length(12 * FT + Fraction(13, 4) * IN)),
    ("7.62 m", Length(25 * FT)),
    ("7,62 m", Length(25 * FT)),
    ("3022.6 mm", Length(119 * IN)),
    ("0 in", Length(Fraction(0))),
    ("100 m", Length(100 * M)),
]
SIGNED_LENGTHS = [
    ("-2 1/8 in", Length(Fraction(-17, 8) * IN)),
    ("−2 1/8 in", Length(Fraction(-17, 8) * IN)),
    ("- 2 1/8 in", Length(Fraction(-17, 8) * IN)),
    ("+3 mm", Length(Fraction(3))),
    ("3 mm", Length(Fraction(3))),
    ("2 in below", Length(-2 * IN)),
    ("2 in Down", Length(-2 * IN)),
    ("1½ in above", Length(Fraction(3, 2) * IN)),
    ("1 in up", Length(IN)),
    ("0 mm below", Length(Fraction(0))),
    ("-1 ft 2 in", Length(-14 * IN)),
]
ALTITUDES = [
    ("0 ft", Length(Fraction(0))),
    ("5280 ft", Length(5280 * FT)),
    ("1609.344 m", Length(5280 * FT)),
    ("-430 m", Length(-430 * M)),
    ("+430 m", Length(430 * M)),
    ("9000 m", Length(9000 * M)),
    ("-500 m", Length(-500 * M)),
]
PRESSURES = [
    ("35", Pressure(35 * PSI)),
    ("35 psi", Pressure(35 * PSI)),
    ("35 PSIG", Pressure(35 * PSI)),
    ("2 1/2 psi", Pressure(Fraction(5, 2) * PSI)),
    ("240 kPa", Pressure(Fraction(240))),
    ("2.4 bar", Pressure(Fraction(240))),
    ("2,4 bar", Pressure(Fraction(240))),
    ("1013.25 mbar", Pressure(Fraction(101325, 1000))),
    ("0 psi", Pressure(Fraction(0))),
    ("2000 kPa", Pressure(Fraction(2000))),
]
FORCES = [
    ("410 lb", Force(410 * LBF)),
    ("410 lbs.", Force(410 * LBF)),
    ("410 lbf", Force(410 * LBF)),
    ("186 kg", Force(186 * KGF)),
    ("1824 N", Force(Fraction(1824))),
    ("1.824 kN", Force(Fraction(1824))),
    ("0 lb", Force(Fraction(0))),
    ("500 kN", Force(Fraction(500_000))),
]
TEMPERATURES = [
    ("72 °F", Temperature(Fraction(200, 9))),
    ("72F", Temperature(Fraction(200, 9))),
    ("72 degF", Temperature(Fraction(200, 9))),
    ("72 deg F", Temperature(Fraction(200, 9))),
    ("72 degrees F", Temperature(Fraction(200, 9))),
    ("72 ºF", Temperature(Fraction(200, 9))),
    ("72 ℉", Temperature(Fraction(200, 9))),
    ("-40 °F", Temperature(Fraction(-40))),
    ("−40 °C", Temperature(Fraction(-40))),
    ("32 fahrenheit", Temperature(Fraction(0))),
    ("22.5 C", Temperature(Fraction(45, 2))),
    ("+5 °C", Temperature(Fraction(5))),
    ("-60 °C", Temperature(Fraction(-60))),
    ("212 °F", Temperature(Fraction(100))),
]
TORQUES = [
    ("100 lbf·ft", Torque(100 * LBF_FT)),
    ("100 lbf ft", Torque(100 * LBF_FT)),
    ("100 ft-lb", Torque(100 * LBF_FT)),
    ("100 ft.-lbs.", Torque(100 * LBF_FT)),
    ("100 lb-ft", Torque(100 * LBF_FT)),
    ("60 in-lb", Torque(5 * LBF_FT)),
    ("60 lbf·in", Torque(5 * LBF_FT)),
    ("135 N·m", Torque(Fraction(135))),
    ("135 Nm", Torque(Fraction(135))),
    ("135 N m", Torque(Fraction(135))),
    ("2000 N*m", Torque(Fraction(2000))),
]
ANGLES = [
    ("-0.4", Angle(Fraction(-2, 5))),
    ("0.4° down", Angle(Fraction(-2, 5))),
    ("0,4 deg up", Angle(Fraction(2, 5))),
    ("+0.4°", Angle(Fraction(2, 5))),
    ("-90", Angle(Fraction(-90))),
]
PERCENTS = [
    ("-0.7", Fraction(-7, 10)),
    ("-0.7 %", Fraction(-7, 10)),
    ("−0,7%", Fraction(-7, 10)),
    ("0.7 % down", Fraction(-7, 10)),
    ("0.7 up", Fraction(7, 10)),
    ("1/2 %", Fraction(1, 2)),
]
HOURS = [
    ("14", Fraction(14)),
    ("14 h", Fraction(14)),
    ("14 hours", Fraction(14)),
    ("90 min", Fraction(3, 2)),
    ("1 day", Fraction(24)),
    ("1 1/2 days", Fraction(36)),
    ("1 h 30 min", Fraction(3, 2)),
    ("1 day 2 h 15 min", Fraction(105, 4)),
    ("0", Fraction(0)),
]
ALL_TAKEN: list[tuple[Callable[[str], object], str, object]] = [
    (read, text, value)
    for read, table in (
        (read_length, LENGTHS),
        (read_signed_length, SIGNED_LENGTHS),
        (read_altitude, ALTITUDES),
        (read_pressure, PRESSURES),
        (read_force, FORCES),
        (read_temperature, TEMPERATURES),
        (read_torque, TORQUES),
        (read_angle, ANGLES),
        (read_percent, PERCENTS),
        (read_hours, HOURS),
    )
    for text, value in table
]


@pytest.mark.parametrize(("read", "text", "value"), ALL_TAKEN)
def test_accepted_texts(read: Callable[[str], object], text: str, value: object) -> None:
    """Every form people use gives the exact value, by the definition of its unit."""
    assert read(text) == value


REFUSED: list[tuple[Callable[[str], object], str, type[QuantityError], str | None, str]] = [
    (read_length, "119", MissingUnit, None, "inches or millimetres: not guessed"),
    (read_length, "1/2", MissingUnit, "1/2 in", "a fraction is most likely inches"),
    (read_length, "101 m", TooLarge, None, "longer than any vehicle"),
    (read_length, "-1 in", BelowZero, "1 in", "no dimension is negative"),
    (read_length, "25 lb", UnknownUnit, None, "another kind"),
    (read_signed_length, "-2 in below", SignAndSide, None, "twice down, or up?"),
    (read_signed_length, "+2 in above", SignAndSide, None, "said twice"),
    (read_signed_length, "below", MissingNumber, None, "no length"),
    (read_angle, "up", MissingNumber, None, "no angle"),
    (read_signed_length, " ", EmptyText, None, "blank"),
    (read_signed_length, "2 below", MissingUnit, None, "no unit"),
    (read_signed_length, "-101 m", TooLarge, None, "no wall is so high"),
    (read_signed_length, "2 in left", UnknownUnit, None, "sideways is not told here"),
    (read_altitude, "9001 m", TooLarge, None, "higher than any road"),
    (read_altitude, "-501 m", TooSmall, None, "lower than any road"),
    (read_altitude, "5,280 ft", AmbiguousComma, None, "5.28 ft or 5280 ft"),
    (read_pressure, "-5 psi", BelowZero, "5 psi", "gauge pressures here are not below the atmosphere"),
    (read_pressure, "+5 psi", UnexpectedSign, "5 psi", "a plus"),
    (read_pressure, "35 pis", UnknownUnit, "35 psi", "swapped letters"),
    (read_pressure, "35 mm", UnknownUnit, None, "another kind"),
    (read_pressure, "30+8", UnreadableText, None, "sixteenths are for inches"),
    (read_pressure, "3-1-2", UnreadableText, None, "hyphens are for inches"),
    (read_pressure, "2 3/2", ImproperFraction, "3 1/2", "of a psi"),
    (read_pressure, "35 psi 5", MoreThanOne, None, "two numbers"),
    (read_pressure, "35 psi 5 kPa", MixedUnits, None, "two units"),
    (read_pressure, "5 psi - 35 psx", UnknownUnit, None, "a range with a slip"),
    (read_pressure, "300", TooLarge, "300 kPa", "over the limit in psi, and a pressure in kPa"),
    (read_pressure, "300 psi", TooLarge, None, "the unit was said"),
    (read_force, "410", MissingUnit, None, "lb or kg: not guessed"),
    (read_force, "2,900 lb", AmbiguousComma, None, "2.9 lb or 2900 lb"),
    (read_force, "501 kN", TooLarge, None, "heavier than any road train"),
    (read_force, "5 t", UnknownUnit, None, "which ton?"),
    (read_temperature, "72", MissingUnit, None, "°F or °C: not guessed"),
    (read_temperature, "72°", UnknownUnit, None, "degrees of what?"),
    (read_temperature, "72 deg", UnknownUnit, None, "as like °F as °C"),
    (read_temperature, "101 °C", TooLarge, None, "boiling"),
    (read_temperature, "-61 °C", TooSmall, None, "colder than a tape is read in"),
    (read_temperature, "5 °C down", UnknownUnit, None, "no side to a temperature"),
    (read_torque, "80", MissingUnit, None, "lbf·ft or N·m: not guessed"),
    (read_torque, "80 lb", UnknownUnit, None, "a force is no torque"),
    (read_torque, "2001 N·m", TooLarge, None, "beyond any wheel"),
    (read_angle, "91°", TooLarge, None, "beyond straight up"),
    (read_angle, "91° down", TooSmall, None, "beyond straight down"),
    (read_angle, "-0.4° down", SignAndSide, None, "twice down, or up?"),
    (read_percent, "101 %", TooLarge, None, "steeper than 45°"),
    (read_percent, "0.7 ° down", UnknownUnit, None, "degrees are not per cent"),
    (read_hours, "1 h 30", MissingUnit, "1 h 30 min", "minutes, most likely"),
    (read_hours, "1 2", MoreThanOne, None, "two numbers"),
    (read_hours, "30 min 1 h", MixedUnits, None, "upside down"),
    (read_hours, "1 h 2 h", MixedUnits, None, "hours twice"),
    (read_hours, "-1 h", BelowZero, "1 h", "back in time"),
    (read_hours, "+1 h", UnexpectedSign, "1 h", "a plus"),
    (read_hours, "14:30", StrangeCharacter, None, "a time of day, or 14 h 30 min"),
    (read_hours, "500 days", TooLarge, None, "more than a year"),
    (read_hours, "ten", MissingNumber, None, "a word"),
]


@pytest.mark.parametrize(("read", "text", "kind", "meant", "why"), REFUSED)
def test_refused_texts(
    read: Callable[[str], object], text: str, kind: type[QuantityError], meant: str | None, why: str
) -> None:
    """Every text that could be misread is refused with its reason and, where there is one, the likely meaning."""
    with pytest.raises(QuantityError) as caught:
        read(text)
    assert type(caught.value) is kind, why
    assert caught.value.suggestion == meant, why
    assert caught.value.text == text
    if meant is not None:
        read(meant)


BARE: list[tuple[Callable[..., object], str, str, object]] = [
    (read_length, "119", "inch", Length(119 * IN)),
    (read_length, "119", "in", Length(119 * IN)),
    (read_length, "2 1/2", "ft", Length(Fraction(5, 2) * FT)),
    (read_length, "30+8", "in", Length(Fraction(61, 2) * IN)),
    (read_signed_length, "2 below", "in", Length(-2 * IN)),
    (read_altitude, "1600", "m", Length(1600 * M)),
    (read_pressure, "240", "kPa", Pressure(Fraction(240))),
    (read_pressure, "240", "kpa", Pressure(Fraction(240))),
    (read_force, "410", "lb", Force(410 * LBF)),
    (read_force, "186", "kg", Force(186 * KGF)),
    (read_temperature, "72", "degF", Temperature(Fraction(200, 9))),
    (read_temperature, "22", "°C", Temperature(Fraction(22))),
    (read_torque, "100", "lbf_ft", Torque(100 * LBF_FT)),
    (read_hours, "90", "min", Fraction(3, 2)),
]


@pytest.mark.parametrize(("read", "text", "bare", "value"), BARE)
def test_bare_numbers(read: Callable[..., object], text: str, bare: str, value: object) -> None:
    """A number without a unit takes the unit the caller names."""
    assert read(text, bare=bare) == value


@pytest.mark.parametrize("read", [read_length, read_pressure, read_force, read_temperature, read_torque, read_hours])
def test_a_bare_unit_that_is_none_is_the_programs_mistake(read: Callable[..., object]) -> None:
    """A wrong unit for bare numbers is no error of the user's and is not told as one."""
    with pytest.raises(ValueError, match="furlong") as caught:
        read("30", bare="furlong")
    assert not isinstance(caught.value, QuantityError)


@pytest.mark.parametrize("text", ["0.4", "-0.4", "0.4 down"])
@pytest.mark.parametrize(("read", "example"), [(read_angle, "0.4° down"), (read_percent, "-0.7 %")])
def test_a_bare_number_where_its_unit_must_stand(read: Callable[..., object], text: str, example: str) -> None:
    """Where no unit may be assumed, a number without one is refused with an example, also where only one unit fits."""
    with pytest.raises(UnreadableText, match=f"write for example {example}"):
        read(text, bare=None)


def test_a_fraction_where_bare_is_metric() -> None:
    """A fraction without unit is not taken for millimetres, nor silently for inches."""
    with pytest.raises(FractionWithoutUnit, match="write 1/2 in or 1/2 mm; did you mean 1/2 in"):
        read_length("1/2", bare="mm")


def test_a_bare_length_in_another_unit() -> None:
    """A bare number that is too long in its unit is offered in the units that fit."""
    with pytest.raises(TooLarge) as caught:
        read_length("7620", bare="inch")
    assert caught.value.suggestion == "7620 mm"
