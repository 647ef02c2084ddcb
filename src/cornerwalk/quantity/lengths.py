"""Length readers: typed heights at the wheels, dimensions, marks on a wall and altitudes. Exact, and without pint."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, NamedTuple

from cornerwalk.quantity.errors import (
    BelowZero,
    FractionWithoutUnit,
    InchesOnly,
    MissingUnit,
    MixedUnits,
    MoreThanOne,
    QuantityError,
    SignAndSide,
    TooHigh,
    TooLarge,
    TooManyInches,
    TooSmall,
    UnexpectedSign,
    UnknownTapeMark,
    UnknownUnit,
    ZeroHeight,
    read_with_suggestion,
    suggest_unit,
)
from cornerwalk.quantity.parser import INCH_FORMS, INCH_SPELLINGS, Expression, Term, format_mixed, normalize, parse
from cornerwalk.quantity.values import MM_PER_INCH, Length

BareUnit = Literal["inch", "mm", "cm"]
"""The unit of a height typed without one."""

LARGEST_HEIGHT = Length(Fraction(2500))
"""Higher than any arch lip, roof rack or lamp that a person measures with a tape; a plausibility limit, assumed."""
LARGEST_LENGTH = Length(Fraction(100_000))
"""100 m: longer than any vehicle with trailer or any aiming distance; a plausibility limit, assumed."""
LOWEST_ALTITUDE = Length(Fraction(-500_000))
HIGHEST_ALTITUDE = Length(Fraction(9_000_000))
"""−500 m to 9000 m: all land on Earth (Dead Sea shore to the highest summit, from memory)."""

_MM = {"inch": MM_PER_INCH, "ft": 12 * MM_PER_INCH, "mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
_SPELLINGS = {
    "inch": INCH_SPELLINGS,
    "ft": ("ft", "foot", "feet", "'"),
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
}
_UNITS = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}
_METRIC = ("mm", "cm", "m")
_SHOWN = {"inch": "in", "ft": "ft", "mm": "mm", "cm": "cm", "m": "m"}
_KNOWN = ", ".join(_SHOWN.values())
_SIDES = {
    **dict.fromkeys(("below", "down", "under", "low", "lower"), "-"),
    **dict.fromkeys(("above", "up", "over", "high", "higher"), "+"),
}
_HEIGHT_EXAMPLES = {"inch": "30 1/2", "mm": "774 mm", "cm": "77.4 cm"}
_TAPE_DENOMINATORS = frozenset({*range(1, 11), 12, 16, 20, 32, 50, 64, 100, 128})
"""Divisions of an inch that a tape may have; more than any made, so that only a slip is refused; assumed."""
# Heights in mm that a number in the wrong unit may have meant, most likely first: arch lips and lamps of road vehicles,
# then any height but the smallest. Used to rank suggestions only; assumed.
_LIKELY_HEIGHTS = (range(350, 1201), range(100, 2501))


class ParsedLength(NamedTuple):
    """A length without its sign: the expression, the unit of its last term, and the value."""

    expression: Expression
    unit: str
    value: Length


def read_height(text: str, bare: BareUnit) -> Length:
    """A height at a wheel: more than 0, at most 2.5 m. A number without a unit is in `bare`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.

    >>> read_height("30+8", "inch") == read_height("2' 6 1/2", "inch") == read_height("774,7 mm", "inch")
    True
    """
    return read_with_suggestion(text, lambda typed: _height(typed, bare))


def read_length(text: str, bare: str | None = None) -> Length:
    """A dimension from 0 to 100 m: `119 in`, `25 ft`, `12 ft 3 in`, `7.62 m`. Without `bare` the unit is required.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of length.
    """
    return read_with_suggestion(text, lambda typed: _unsigned_length(typed, bare))


def read_signed_length(text: str, bare: str | None = None) -> Length:
    """A mark relative to a line, up positive, within ±100 m: `-2 1/8 in`, `+ 3 mm`, `2 in below`, `1 in above`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of length.
    """
    return read_with_suggestion(text, lambda typed: _signed_length(typed, bare))


def read_altitude(text: str, bare: str | None = None) -> Length:
    """Height above sea level, −500 m to 9000 m: `0 ft`, `5280 ft`, `-20 m`.

    Raises:
        QuantityError: with the reason and, if there is one, a suggestion.
        ValueError: `bare` is not a unit of length.
    """
    return read_with_suggestion(text, lambda typed: _altitude(typed, bare))


def _height(text: str, bare: BareUnit) -> Length:
    typed = parse_length(text, bare, example=_HEIGHT_EXAMPLES.get(bare, "30 1/2"))
    for term in typed.expression.terms:
        if term.numeral.form == "fraction" and term.numeral.value.denominator not in _TAPE_DENOMINATORS:
            raise UnknownTapeMark(text, candidates=_shorten_denominator(typed.expression.text, term))
    height = unsigned_value(typed)
    if height > LARGEST_HEIGHT:
        raise TooHigh(text, candidates=_likely_heights(typed), most="2.5 m (98.4 in)")
    if height == Length(Fraction(0)):
        raise ZeroHeight(text)
    return height


def _unsigned_length(text: str, bare: str | None) -> Length:
    typed = parse_length(text, bare, example="119 in")
    length = unsigned_value(typed)
    if length > LARGEST_LENGTH:
        stated = typed.expression.terms[0].unit
        raise TooLarge(text, candidates=() if stated else tuple(_in_other_units(typed).values()), most="100 m (328 ft)")
    return length


def _signed_length(text: str, bare: str | None) -> Length:
    value, side = split_side(normalize(text, "2 in below"))
    typed = parse_length(value, bare, example="-2 1/8 in")
    if side and typed.expression.sign:
        raise SignAndSide(text)
    if typed.value > LARGEST_LENGTH:
        raise TooLarge(text, most="100 m (328 ft)")
    return -typed.value if "-" in (side, typed.expression.sign) else typed.value


def _altitude(text: str, bare: str | None) -> Length:
    typed = parse_length(text, bare, example="1600 m")
    altitude = -typed.value if typed.expression.sign == "-" else typed.value
    if altitude > HIGHEST_ALTITUDE:
        raise TooLarge(text, most="9000 m (29528 ft)")
    if altitude < LOWEST_ALTITUDE:
        raise TooSmall(text, least="−500 m (−1640 ft)")
    return altitude


def split_side(text: str) -> tuple[str, str]:
    """A normalized text without "below", "above", … at its end, and the sign that word stands for (or "")."""
    value, _, word = text.rpartition(" ")
    if not value or word.lower() not in _SIDES:
        return text, ""
    return value, _SIDES[word.lower()]


def unsigned_value(typed: ParsedLength) -> Length:
    """The value of a length that may not have a sign."""
    text, sign = typed.expression.text, typed.expression.sign
    if sign:
        raise (BelowZero if sign == "-" else UnexpectedSign)(text, candidates=(text[1:].lstrip(),))
    return typed.value


def parse_length(text: str, bare: str | None, example: str) -> ParsedLength:
    """Any length; its sign stays in the expression.

    Raises:
        QuantityError: the text is not a length.
        ValueError: `bare` is not a unit of length.
    """
    bare_unit = None if bare is None else _bare_unit(bare)
    expression = parse(normalize(text, example), example, bare_unit)
    for term in expression.terms:
        if term.unit and term.unit not in _UNITS:
            raise _unknown_unit_error(expression, term)
    first, *rest = expression.terms
    if not rest:
        unit = _UNITS.get(first.unit) or _unit_of_bare(expression, first, bare_unit)
        return ParsedLength(expression, unit, _length(expression, first, unit))
    if len(rest) == 1 and _UNITS.get(first.unit) == "ft" and _UNITS.get(rest[0].unit, "inch") == "inch":
        return ParsedLength(expression, "inch", _feet_and_inches(expression, first, rest[0]))
    raise _multiple_terms_error(expression)


def _bare_unit(bare: str) -> str:
    if bare not in _UNITS:
        raise ValueError(f"{bare!r} is no unit of length; use one of {_KNOWN}")
    return _UNITS[bare]


def _length(expression: Expression, term: Term, unit: str) -> Length:
    if term.numeral.form in INCH_FORMS and unit != "inch":
        raise InchesOnly(expression.text, candidates=(f"{expression.sign}{format_mixed(term.numeral.value)} in",))
    return Length(term.numeral.value * _MM[unit])


def _unit_of_bare(expression: Expression, term: Term, bare: str | None) -> str:
    """The unit of a term typed without one."""
    text = expression.text
    if term.numeral.form in INCH_FORMS:
        if bare in (None, "inch"):
            return "inch"
        raise InchesOnly(text, candidates=(f"{text} in",))
    if bare is None:
        inches = f"{text} in"
        raise MissingUnit(text, candidates=(inches,) * ("/" in text), first=inches, second=f"{text} mm")
    if term.numeral.form == "fraction" and bare in _METRIC:
        inches, metric = f"{text} in", f"{text} {bare}"
        raise FractionWithoutUnit(text, candidates=(inches, metric), as_inches=inches, as_metric=metric)
    return bare


def _feet_and_inches(expression: Expression, feet: Term, inches: Term) -> Length:
    length = _length(expression, feet, "ft") + _length(expression, inches, "inch")
    if feet.numeral.form == "fraction" or feet.numeral.value.denominator != 1:
        raise MixedUnits(expression.text, candidates=(f"{expression.sign}{format_mixed(length.exact_inches)} in",))
    if inches.numeral.value >= 12:
        whole, rest = divmod(length.exact_inches, 12)
        raise TooManyInches(expression.text, candidates=(f"{expression.sign}{whole} ft {format_mixed(rest)} in",))
    return length


def _multiple_terms_error(expression: Expression) -> QuantityError:
    """Why several terms are not a length, with their sum as the suggestion if it is clear what was meant."""
    units = [_UNITS.get(term.unit, "") for term in expression.terms]
    if "" in units[:-1] or len(units) > 2:
        return MoreThanOne(expression.text, example="30 1/2")
    (first, second), (unit, last) = (term.numeral for term in expression.terms), units
    if not last:
        joined = format_mixed(first.value + second.value)
        fits = first.value.denominator == 1 and second.value < 1 and second.form == "fraction"
        candidates = (f"{expression.sign}{joined} {expression.terms[0].unit}",) if fits else ()
        return MoreThanOne(expression.text, candidates=candidates, example="30 1/2")
    metric = unit in _METRIC and last in _METRIC and _MM[unit] > _MM[last]
    total = format_mixed((first.value * _MM[unit] + second.value * _MM[last]) / _MM[last])
    return MixedUnits(expression.text, candidates=(f"{expression.sign}{total} {last}",) if metric else ())


def _unknown_unit_error(expression: Expression, term: Term) -> UnknownUnit:
    meant = suggest_unit(term.unit, _UNITS) if len(expression.terms) == 1 else None
    candidates = (f"{expression.text[: term.numeral.end]} {_SHOWN[meant]}",) if meant else ()
    return UnknownUnit(expression.text, candidates=candidates, unit=term.unit, known=_KNOWN)


def _in_other_units(typed: ParsedLength) -> dict[Fraction, str]:
    """A single term in each unit that a tape may have: value in mm → text."""
    if len(typed.expression.terms) > 1:
        return {}
    numeral = typed.expression.terms[0].numeral
    shown = typed.expression.text[: numeral.end]
    units = ("mm", "cm", "inch") if numeral.form == "decimal" else ("inch",)
    return {numeral.value * _MM[unit]: f"{shown} {_SHOWN[unit]}" for unit in units}


def _shorten_denominator(text: str, term: Term) -> tuple[str, ...]:
    """A fraction without the digits of the next reading that ran into it: `30 7/831` → `30 7/8`."""
    before, _, below = text[: term.numeral.end].rpartition("/")
    after = text[term.numeral.end :]
    below = below.lstrip()
    shorter = (below[:count] for count in (2, 1))
    return tuple(
        f"{before.rstrip()}/{digits}{after}"
        for digits in shorter
        if digits != below and int(digits) in _TAPE_DENOMINATORS
    )


def _likely_heights(typed: ParsedLength) -> tuple[str, ...]:
    others = _in_other_units(typed)
    return tuple(text for likely in _LIKELY_HEIGHTS for mm, text in others.items() if likely[0] <= mm <= likely[-1])
