"""Heights as people say and type them: what is taken, and what is refused with which words."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cornerwalk.quantity import BareUnit, Length, QuantityError, read_height
from cornerwalk.quantity.errors import (
    AmbiguousComma,
    BelowZero,
    DecimalWithFraction,
    EmptyText,
    FractionWithoutUnit,
    HiddenCharacter,
    ImproperFraction,
    ImproperInchFraction,
    InchesOnly,
    IncompleteText,
    MissingNumber,
    MixedUnits,
    MoreThanOne,
    PowerOfTen,
    StrangeCharacter,
    TooHigh,
    TooLong,
    TooManyDigits,
    TooManyInches,
    TooManySixteenths,
    TwoDecimalMarks,
    UnexpectedSign,
    UnknownTapeMark,
    UnknownUnit,
    UnreadableText,
    ZeroDenominator,
    ZeroHeight,
)

IN = Fraction(254, 10)
"""Millimetres in an inch, by definition; written again here so that the readers are not their own witness."""

TAKEN = [
    # text, unit of a bare number, millimetres, why
    ("30 1/2", "inch", Fraction(61, 2) * IN, "as a tape is read"),
    ("30-1/2", "inch", Fraction(61, 2) * IN, "as a drawing writes it"),
    ("30+1/2", "inch", Fraction(61, 2) * IN, "a number pad has no space"),
    ("30+8", "inch", Fraction(61, 2) * IN, "sixteenths on a number pad"),
    ("30+0", "inch", 30 * IN, "no sixteenths"),
    ("30+15", "inch", Fraction(495, 16) * IN, "the last sixteenth"),
    ("30 + 8", "inch", Fraction(61, 2) * IN, "spaces around the plus"),
    ("30.5", "inch", Fraction(61, 2) * IN, "decimal point"),
    ("30,5", "inch", Fraction(61, 2) * IN, "decimal comma"),
    ("33-7-16", "inch", Fraction(535, 16) * IN, "hyphens for want of a slash; only tape denominators"),
    ("30", "inch", 30 * IN, "whole inches"),
    ("030", "inch", 30 * IN, "a leading zero does no harm"),
    ("30 8/16", "inch", Fraction(61, 2) * IN, "unreduced"),
    ("30 1 / 2", "inch", Fraction(61, 2) * IN, "spaces around the line"),
    ("  30   1/2 ", "inch", Fraction(61, 2) * IN, "spaces before, between and after"),
    ("30\t1/2\r\n", "inch", Fraction(61, 2) * IN, "a tape with a keyboard wedge ends its line"),
    ("7/8", "inch", Fraction(7, 8) * IN, "a fraction alone"),
    (".5", "inch", Fraction(1, 2) * IN, "no zero before the point"),
    ("30 1/3", "inch", Fraction(91, 3) * IN, "thirds are exact"),
    ("30 3/100", "inch", Fraction(3003, 100) * IN, "a decimal scale, written as a fraction"),
    ("30 127/128", "inch", Fraction(3967, 128) * IN, "the finest scale"),
    ("30 1/2 in", "inch", Fraction(61, 2) * IN, "unit after a space"),
    ("30 1/2in.", "inch", Fraction(61, 2) * IN, "abbreviated with a full stop"),
    ("30.5 Inches", "inch", Fraction(61, 2) * IN, "written out, capital letter"),
    ('30"', "inch", 30 * IN, "inch mark"),
    ('30 1/2"', "inch", Fraction(61, 2) * IN, "inch mark after a fraction"),
    ("30 1/2''", "inch", Fraction(61, 2) * IN, "two apostrophes for an inch mark"),
    ("30 1/2″", "inch", Fraction(61, 2) * IN, "double prime"),
    ("30 1/2”", "inch", Fraction(61, 2) * IN, "typographic quotation mark"),
    ("30 1/2 in", "mm", Fraction(61, 2) * IN, "a stated unit overrides the bare one"),
    ("30+8 in", "mm", Fraction(61, 2) * IN, "sixteenths with their unit"),
    ("2' 6 1/2\"", "inch", Fraction(61, 2) * IN, "feet and inches, marks"),
    ("2'6 1/2", "inch", Fraction(61, 2) * IN, "after feet a bare number is inches"),
    ("2'6 1/2", "mm", Fraction(61, 2) * IN, "whatever bare numbers are"),
    ("2'-6 1/2\"", "inch", Fraction(61, 2) * IN, "joined with a hyphen, as on drawings"),
    ("2 ft 6 1/2 in", "inch", Fraction(61, 2) * IN, "feet and inches, words"),
    ("2 feet 6.5 inches", "inch", Fraction(61, 2) * IN, "written out"),
    ("2’ 6½”", "inch", Fraction(61, 2) * IN, "typographic throughout"),
    ("2′ 6″", "inch", 30 * IN, "primes"),
    ("2' 0\"", "inch", 24 * IN, "no inches"),
    ("2.5 ft", "inch", 30 * IN, "decimal feet"),
    ("2 1/2 ft", "inch", 30 * IN, "a fraction of a foot"),
    ("30½", "inch", Fraction(61, 2) * IN, "vulgar fraction, joined"),
    ("30 ½", "inch", Fraction(61, 2) * IN, "vulgar fraction, apart"),
    ("30-½", "inch", Fraction(61, 2) * IN, "vulgar fraction, hyphen"),
    ("30 1⁄2", "inch", Fraction(61, 2) * IN, "fraction slash"),
    ("30 1∕2", "inch", Fraction(61, 2) * IN, "division slash"),
    ("30⅟16", "inch", Fraction(481, 16) * IN, "the numerator-one sign"),
    ("½ in", "mm", Fraction(1, 2) * IN, "vulgar fraction alone"),
    ("３０ １／２", "inch", Fraction(61, 2) * IN, "full-width"),
    ("３０．５ ｉｎ", "mm", Fraction(61, 2) * IN, "full-width point and letters"),
    ("٣٠", "inch", 30 * IN, "digits of another script"),
    ("30\u00a01/2", "inch", Fraction(61, 2) * IN, "no-break space"),
    ("30\u202f1/2", "inch", Fraction(61, 2) * IN, "narrow no-break space"),
    ("30–1/2", "inch", Fraction(61, 2) * IN, "en dash for a hyphen"),
    ("774", "mm", Fraction(774), "bare millimetres"),
    ("774 mm", "inch", Fraction(774), "millimetres"),
    ("774mm", "inch", Fraction(774), "no space before the unit"),
    ("774 MM", "inch", Fraction(774), "capitals"),
    ("774.5 mm", "inch", Fraction(1549, 2), "half a millimetre"),
    ("774 1/2 mm", "inch", Fraction(1549, 2), "a fraction with its unit"),
    ("774,5", "mm", Fraction(1549, 2), "decimal comma, one digit"),
    ("774,25", "mm", Fraction(3097, 4), "decimal comma, two digits"),
    ("774,1234", "mm", Fraction(7741234, 10000), "decimal comma, four digits"),
    ("0,774 m", "inch", Fraction(774), "a zero before the comma: no thousands"),
    ("1774,125 mm", "inch", Fraction(1774125, 1000), "four digits before the comma: no thousands"),
    ("1.234 mm", "inch", Fraction(1234, 1000), "a point is always decimal"),
    ("77.4 cm", "inch", Fraction(774), "centimetres"),
    ("77,4", "cm", Fraction(774), "bare centimetres"),
    ("0.774 m", "inch", Fraction(774), "metres"),
    ("774 millimetres", "inch", Fraction(774), "written out"),
    ("774 millimeters", "inch", Fraction(774), "and the other way"),
    ("2.5 m", "inch", Fraction(2500), "the highest height"),
    ("2500", "mm", Fraction(2500), "the highest, bare"),
]


@pytest.mark.parametrize(("text", "bare", "mm", "why"), TAKEN)
def test_accepted_texts(text: str, bare: BareUnit, mm: Fraction, why: str) -> None:
    """Every form people use gives the exact height."""
    assert read_height(text, bare) == Length(mm), why


@pytest.mark.parametrize("code", [*range(0xBC, 0xBF), *range(0x2150, 0x215F)])
def test_every_vulgar_fraction(code: int) -> None:
    """Every vulgar fraction of Unicode is read, by the numeric value Unicode gives it."""
    import unicodedata

    expected = Fraction(unicodedata.numeric(chr(code))).limit_denominator(10)
    assert read_height(f"30{chr(code)}", "inch").exact_inches == 30 + expected


REFUSED = [
    # text, unit of a bare number, kind, likely meaning, why
    ("", "inch", EmptyText, None, "empty"),
    (" \t ", "inch", EmptyText, None, "blank"),
    ("9" * 61, "inch", TooLong, None, "longer than any value"),
    ("30." + "3" * 30, "inch", TooManyDigits, None, "a calculator's third"),
    ("30 1/12345", "inch", TooManyDigits, None, "finer than any scale"),
    ("30 7/831", "inch", UnknownTapeMark, "30 7/8", "30 7/8 and the next 31, without Enter between"),
    ("30 7 / 831", "inch", UnknownTapeMark, "30 7/8", "the same, with spaces about the stroke"),
    ("30 15/1628", "inch", UnknownTapeMark, "30 15/16", "the same with sixteenths"),
    ("30 1/231", "inch", UnknownTapeMark, "30 1/2", "the same with halves"),
    ("2' 6 7/828", "mm", UnknownTapeMark, "2' 6 7/8", "the same after feet"),
    ("1/231 m", "mm", UnknownTapeMark, "1/2 m", "in any unit; what follows stays"),
    ("30 \u200f1/2", "inch", HiddenCharacter, "30 1/2", "a right-to-left mark"),
    ("30\x00", "inch", HiddenCharacter, "30", "a null character"),
    ("30\u200b.5", "inch", HiddenCharacter, "30.5", "a zero-width space"),
    ("\ud800", "inch", HiddenCharacter, None, "half a character"),
    ("30 $", "inch", StrangeCharacter, None, "no value has it"),
    ("30 in = 2", "inch", StrangeCharacter, None, "no value has it"),
    ("abc", "inch", MissingNumber, None, "no number"),
    ("mm 774", "inch", MissingNumber, None, "unit first"),
    ("inf", "inch", MissingNumber, None, "not finite"),
    ("nan", "mm", MissingNumber, None, "not a number"),
    ("/2", "inch", UnreadableText, None, "begins with the line"),
    ("30 1/2/2", "inch", UnreadableText, None, "two lines"),
    ("--30", "inch", UnreadableText, None, "two signs"),
    ("30 1/2 +", "inch", UnreadableText, None, "a plus after the fraction"),
    ("30.", "inch", IncompleteText, "30", "the point may have lost its digits: not taken for 30"),
    ("30 1/2.", "inch", IncompleteText, "30 1/2", "full stop"),
    ("30,", "inch", IncompleteText, "30", "comma"),
    ("30./2", "inch", IncompleteText, None, "a point and nothing"),
    ("30 1/", "inch", IncompleteText, None, "no denominator yet"),
    ("30/", "inch", IncompleteText, None, "no denominator yet"),
    ("30-1/", "inch", IncompleteText, None, "no denominator yet"),
    ("30+", "inch", IncompleteText, None, "no sixteenths yet"),
    ("30-", "inch", IncompleteText, None, "no fraction yet"),
    ("2' -", "inch", IncompleteText, "2'", "no inches yet"),
    ("-", "inch", IncompleteText, None, "nothing after the sign"),
    ("28 5/8, 28 11/16", "inch", MoreThanOne, None, "a list"),
    ("28\n29", "inch", MoreThanOne, None, "two lines of text"),
    ("30\u20281/2", "inch", MoreThanOne, None, "two lines by Unicode's own separator"),
    ("30 8", "inch", MoreThanOne, None, "eighths, sixteenths or a decimal: not guessed"),
    ("30-8", "inch", MoreThanOne, None, "not guessed either"),
    ("33 7 16", "inch", MoreThanOne, "33 7/16", "the line left out"),
    ("33-7-15", "inch", MoreThanOne, None, "no tape is divided by 15"),
    ("33.5-7-16", "inch", MoreThanOne, None, "a decimal before hyphens"),
    ("1 000 mm", "inch", MoreThanOne, "1000 mm", "space for thousands"),
    ("½½", "inch", MoreThanOne, None, "two fractions"),
    ("½5", "inch", MoreThanOne, None, "the digit must not join the denominator: not 1/25"),
    ("30 1/2 1/2", "inch", MoreThanOne, None, "two fractions"),
    ("30 in 1/2", "inch", MoreThanOne, "30 1/2 in", "unit in the middle"),
    ("30.5 in 1/2", "inch", MoreThanOne, None, "unit in the middle of a contradiction"),
    ("2 ft 6 in 3 in", "inch", MoreThanOne, None, "inches twice"),
    ("1,234 mm", "inch", AmbiguousComma, None, "1.234 or 1234: both are heights"),
    ("1,234", "mm", AmbiguousComma, None, "the same, bare"),
    ("1,234", "inch", AmbiguousComma, None, "1.234 in or, from a metric tape, 1234 mm"),
    ("30,125", "inch", AmbiguousComma, "30.125", "30125 in is no height"),
    ("1,234.5 mm", "inch", TwoDecimalMarks, "1234.5 mm", "English grouping"),
    ("1.234,5 mm", "inch", TwoDecimalMarks, "1234.5 mm", "continental grouping"),
    ("1,234,5", "mm", TwoDecimalMarks, None, "no grouping at all"),
    ("1_000", "mm", TwoDecimalMarks, "1000", "a programmer's grouping"),
    ("1_000", "inch", TwoDecimalMarks, "1000 mm", "and then only millimetres make a height"),
    ("1_0/2", "inch", TwoDecimalMarks, None, "above the line"),
    ("30.5.1", "inch", TwoDecimalMarks, None, "two points"),
    ("1e3", "mm", PowerOfTen, None, "scientific"),
    ("1E+3 mm", "inch", PowerOfTen, None, "scientific, signed"),
    ("30.5 1/2", "inch", DecimalWithFraction, "30 1/2", "the same half twice"),
    ("30.0 1/2", "inch", DecimalWithFraction, "30 1/2", "a decimal of nothing"),
    ("30.5 1/4", "inch", DecimalWithFraction, None, "a contradiction"),
    ("33.7/16", "inch", DecimalWithFraction, "33 7/16", "a point for the space, on a number pad"),
    ("30 1.5/2", "inch", DecimalWithFraction, None, "above the line"),
    ("30 1/2.5", "inch", DecimalWithFraction, None, "below the line"),
    ("30+8.5", "inch", DecimalWithFraction, "30 17/32", "half a sixteenth"),
    ("30.5+8", "inch", DecimalWithFraction, "31", "a decimal before sixteenths"),
    ("30 1/2", "mm", FractionWithoutUnit, "30 1/2 in", "surely not 30.5 mm, but not surely inches"),
    ("30 1/2", "cm", FractionWithoutUnit, "30 1/2 in", "the same"),
    ("774 1/2", "mm", FractionWithoutUnit, "774 1/2 mm", "too high in inches"),
    ("30 1/0", "inch", ZeroDenominator, None, "division by zero"),
    ("1/0", "inch", ZeroDenominator, None, "division by zero"),
    ("29 17/16", "inch", ImproperInchFraction, "30 1/16", "more than an inch of sixteenths"),
    ("29 16/16 in", "mm", ImproperInchFraction, "30 in", "exactly an inch of sixteenths"),
    ('17/16"', "mm", ImproperInchFraction, '1 1/16"', "alone"),
    ("29-17-16", "inch", ImproperInchFraction, "30 1/16", "with hyphens"),
    ("29 3/2 mm", "inch", ImproperFraction, "30 1/2 mm", "of a millimetre"),
    ("30/2", "inch", ImproperInchFraction, None, "a lost figure rather than 15"),
    ("30+17", "inch", TooManySixteenths, "31 1/16", "more than fifteen"),
    ("30+16", "inch", TooManySixteenths, "31", "sixteen"),
    ("2' 14\"", "inch", TooManyInches, "3 ft 2 in", "more than a foot"),
    ("2 ft 12 in", "inch", TooManyInches, "3 ft 0 in", "exactly a foot"),
    ("30 psi", "inch", UnknownUnit, None, "another kind"),
    ("30 inc", "inch", UnknownUnit, "30 in", "mistyped"),
    ("30²", "inch", UnknownUnit, None, "a superscript is no digit: not 302"),
    ("2 ft 6 yd", "inch", UnknownUnit, None, "in the second place"),
    ("774 mm 30 in", "inch", MixedUnits, None, "which?"),
    ("30 in 774 mm", "inch", MixedUnits, None, "which?"),
    ("77 cm 4 mm", "inch", MixedUnits, "774 mm", "two metric units that add up"),
    ("1 m 20 cm", "inch", MixedUnits, "120 cm", "two metric units that add up"),
    ("4 mm 77 cm", "inch", MixedUnits, None, "upside down"),
    ("2.5' 6\"", "inch", MixedUnits, "36 in", "decimal feet and inches"),
    ("2 1/2 ft 6 in", "inch", MixedUnits, "36 in", "a fraction of a foot and inches"),
    ("30+8 mm", "inch", InchesOnly, "30 1/2 in", "sixteenths of a millimetre"),
    ("30+8", "mm", InchesOnly, "30+8 in", "sixteenths where bare is millimetres"),
    ("33-7-16 cm", "inch", InchesOnly, "33 7/16 in", "hyphens are for inches"),
    ("33-7-16", "mm", InchesOnly, "33-7-16 in", "hyphens are for inches"),
    ("-30", "inch", BelowZero, "30", "negative"),
    ("−30 1/2", "inch", BelowZero, "30 1/2", "negative, with a true minus"),
    ("+30", "inch", UnexpectedSign, "30", "a plus before a height"),
    ("0", "inch", ZeroHeight, None, "nothing stands at zero"),
    ("0 mm", "inch", ZeroHeight, None, "nothing stands at zero"),
    ("774", "inch", TooHigh, "774 mm", "only a height in millimetres"),
    ("774", "cm", TooHigh, "774 mm", "only a height in millimetres"),
    ("305", "inch", TooHigh, "305 mm", "low, but a height"),
    ("2000", "inch", TooHigh, "2000 mm", "an unlikely height, but the only one"),
    ("2501", "mm", TooHigh, None, "just over the limit, and 2501 in more so"),
    ("2812", "inch", TooHigh, None, "no unit makes it a height"),
    ("2.6 m", "inch", TooHigh, None, "no unit makes it a likely height"),
    ("30'", "inch", TooHigh, "30 in", "one mark short of inches"),
    ("30 m", "inch", TooHigh, "30 in", "too long in metres"),
    ("100 1/2", "inch", TooHigh, None, "fractions are inches only"),
    ("30 1/2 ft", "inch", TooHigh, "30 1/2 in", "fractions are inches only"),
    ("9 ft 6 in", "inch", TooHigh, None, "feet and inches have no other meaning"),
]


@pytest.mark.parametrize(("text", "bare", "kind", "meant", "why"), REFUSED)
def test_refused_texts(text: str, bare: BareUnit, kind: type[QuantityError], meant: str | None, why: str) -> None:
    """Every text that could be misread is refused with its reason and, where there is one, the likely meaning."""
    with pytest.raises(QuantityError) as caught:
        read_height(text, bare)
    assert type(caught.value) is kind, why
    assert caught.value.suggestion == meant, why
    assert caught.value.text == text
    if meant is not None:
        read_height(meant, bare)
        assert str(caught.value).endswith(f"; did you mean {meant}?")


def test_both_meanings_of_a_comma_are_named() -> None:
    """A comma before three digits is not resolved: the user is shown how to write either meaning."""
    with pytest.raises(AmbiguousComma, match=r"write 1\.234 mm or 1234 mm$"):
        read_height("1,234 mm", "inch")


# Source: the project's own wording, agreed before the code was written.
def test_the_words_of_a_refusal() -> None:
    """An error says what was wrong, with what, and what would be right."""
    with pytest.raises(QuantityError) as caught:
        read_height("29 17/16", "inch")
    assert str(caught.value) == '"29 17/16": a fraction of an inch is less than one; did you mean 30 1/16?'


def test_a_bare_unit_that_is_none_is_the_programs_mistake() -> None:
    """A wrong unit for bare numbers is no error of the user's and is not told as one."""
    with pytest.raises(ValueError, match="furlong") as caught:
        read_height("30", "furlong")  # type: ignore[arg-type]
    assert not isinstance(caught.value, QuantityError)
