"""Quantity types: Length, Pressure, Force, Temperature, Torque, Angle. Immutable, exact, ordered within a type.

Each holds one exact Fraction in the unit of its field's name, and gives floats in the units that people read.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isfinite
from typing import ClassVar, Literal, Self

from cornerwalk.quantity.errors import InvalidNumber
from cornerwalk.quantity.units import convert

# ruff: noqa: N802 -- units keep their spelling: kPa, N, °C

MM_PER_INCH = Fraction(127, 5)
"""Exact by definition: 1 in = 25.4 mm."""

UnitSystem = Literal["inch", "metric"]

Number = int | Fraction | float | str
"""A float stands for the shortest decimal that names it, so 701.675 is 701675/1000."""

_LARGEST = 10**12
_MAX_LENGTH = 40
_DIGITS = frozenset("0123456789")


def to_fraction(number: Number) -> Fraction:
    """The exact value of a number. A text may be `701.675`, `-0.5`, `2` or `4490/3`, and nothing more liberal.

    Raises:
        InvalidNumber: not finite, larger than 1e12 in magnitude, a bool, or text of another form.
    """
    if isinstance(number, str):
        value = _parse_fraction(number)
    elif isinstance(number, float):
        if not isfinite(number):
            raise InvalidNumber(repr(number))
        value = Fraction(repr(number))
    elif isinstance(number, bool):
        raise InvalidNumber(repr(number))
    else:
        value = Fraction(number)
    if abs(value) > _LARGEST:
        raise InvalidNumber(number if isinstance(number, str) else "")
    return value


def _parse_fraction(text: str) -> Fraction:
    unsigned = text.removeprefix("-")
    plain = len(text) <= _MAX_LENGTH and set(unsigned) <= _DIGITS | {".", "/"}
    if not plain or not unsigned[:1].isdigit() or not unsigned[-1:].isdigit():
        raise InvalidNumber(text)
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError):
        raise InvalidNumber(text) from None


class _Ordered:
    """Comparison by exact value, within one type only. Six dataclasses with `order=True` were slower to import."""

    __slots__: ClassVar[tuple[str, ...]] = ()

    @property
    def _exact(self) -> Fraction:
        """The value of the type's only field."""
        value: Fraction = getattr(self, self.__slots__[0])
        return value

    def __lt__(self, other: Self) -> bool:
        return self._exact < other._exact if type(other) is type(self) else NotImplemented

    def __le__(self, other: Self) -> bool:
        return self._exact <= other._exact if type(other) is type(self) else NotImplemented

    def __gt__(self, other: Self) -> bool:
        return self._exact > other._exact if type(other) is type(self) else NotImplemented

    def __ge__(self, other: Self) -> bool:
        return self._exact >= other._exact if type(other) is type(self) else NotImplemented


@dataclass(frozen=True, slots=True)
class Length(_Ordered):
    """A length, or a signed change of one, in millimetres."""

    exact_mm: Fraction

    @classmethod
    def from_mm(cls, number: Number) -> Length:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(to_fraction(number))

    @classmethod
    def from_inches(cls, number: Number) -> Length:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(to_fraction(number) * MM_PER_INCH)

    @property
    def exact_inches(self) -> Fraction:
        """The exact value in inches."""
        return self.exact_mm / MM_PER_INCH

    @property
    def mm(self) -> float:
        """In millimetres."""
        return float(self.exact_mm)

    @property
    def inches(self) -> float:
        """In inches."""
        return float(self.exact_inches)

    def __add__(self, other: Length) -> Length:
        return Length(self.exact_mm + other.exact_mm) if type(other) is Length else NotImplemented

    def __sub__(self, other: Length) -> Length:
        return Length(self.exact_mm - other.exact_mm) if type(other) is Length else NotImplemented

    def __neg__(self) -> Length:
        return Length(-self.exact_mm)

    def __abs__(self) -> Length:
        return Length(abs(self.exact_mm))


@dataclass(frozen=True, slots=True)
class Pressure(_Ordered):
    """A gauge pressure (above the local atmosphere), in kilopascals."""

    exact_kPa: Fraction

    @classmethod
    def from_kPa(cls, number: Number) -> Pressure:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(to_fraction(number))

    @classmethod
    def from_psi(cls, number: Number) -> Pressure:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(convert(to_fraction(number), "psi", "kPa"))

    @property
    def kPa(self) -> float:
        """In kilopascals."""
        return float(self.exact_kPa)

    @property
    def psi(self) -> float:
        """In pounds-force per square inch."""
        return float(convert(self.exact_kPa, "kPa", "psi"))


@dataclass(frozen=True, slots=True)
class Force(_Ordered):
    """A force in newtons. A weight in pounds or kilograms is its force under standard gravity, 9.80665 m/s²."""

    exact_N: Fraction

    @classmethod
    def from_N(cls, number: Number) -> Force:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(to_fraction(number))

    @classmethod
    def from_lbf(cls, number: Number) -> Force:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(convert(to_fraction(number), "lbf", "N"))

    @property
    def N(self) -> float:
        """In newtons."""
        return float(self.exact_N)

    @property
    def lbf(self) -> float:
        """In pounds-force; also what a scale in pounds shows."""
        return float(convert(self.exact_N, "N", "lbf"))

    @property
    def kgf(self) -> float:
        """In kilograms-force: what a scale in kilograms shows."""
        return float(convert(self.exact_N, "N", "kgf"))


@dataclass(frozen=True, slots=True)
class Temperature(_Ordered):
    """A temperature in degrees Celsius."""

    exact_C: Fraction

    @classmethod
    def from_C(cls, number: Number) -> Temperature:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(to_fraction(number))

    @classmethod
    def from_F(cls, number: Number) -> Temperature:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(convert(to_fraction(number), "degF", "degC"))

    @property
    def C(self) -> float:
        """In degrees Celsius."""
        return float(self.exact_C)

    @property
    def F(self) -> float:
        """In degrees Fahrenheit."""
        return float(convert(self.exact_C, "degC", "degF"))

    @property
    def K(self) -> float:
        """Thermodynamic temperature in kelvins, for gas laws."""
        return float(convert(self.exact_C, "degC", "kelvin"))


@dataclass(frozen=True, slots=True)
class Torque(_Ordered):
    """A tightening torque in newton meters."""

    exact_Nm: Fraction

    @classmethod
    def from_Nm(cls, number: Number) -> Torque:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(to_fraction(number))

    @classmethod
    def from_lbf_ft(cls, number: Number) -> Torque:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(convert(to_fraction(number), "lbf_ft", "N_m"))

    @property
    def Nm(self) -> float:
        """In newton meters."""
        return float(self.exact_Nm)

    @property
    def lbf_ft(self) -> float:
        """In pound-force feet."""
        return float(convert(self.exact_Nm, "N_m", "lbf_ft"))


@dataclass(frozen=True, slots=True)
class Angle(_Ordered):
    """A plane angle in degrees."""

    exact_deg: Fraction

    @classmethod
    def from_deg(cls, number: Number) -> Angle:
        """Exactly `number`; see `to_fraction`, also for the errors."""
        return cls(to_fraction(number))

    @property
    def deg(self) -> float:
        """In degrees."""
        return float(self.exact_deg)
