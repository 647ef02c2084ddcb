"""Quantity errors: why a text was not read as a quantity, one class a reason, and what was probably meant.

Each error keeps an English template and its fields; the text is built when it is shown, so that it can be translated.

    QuantityError(ValueError)
    ├── EmptyText · TooLong · TooManyDigits · HiddenCharacter · StrangeCharacter · UnreadableText
    ├── MissingNumber · IncompleteText
    ├── MoreThanOne · AmbiguousComma · TwoDecimalMarks · PowerOfTen · DecimalWithFraction · FractionWithoutUnit
    ├── ZeroDenominator · ImproperFraction ── ImproperInchFraction · TooManySixteenths · TooManyInches
    ├── MissingUnit · UnknownUnit · MixedUnits · InchesOnly
    ├── UnexpectedSign · BelowZero · SignAndSide · ZeroHeight · TooHigh · TooLarge · TooSmall
    └── InvalidNumber                                        (from code, not typed)

The readers raise nothing else for a typed text.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import ClassVar, TypeVar

# ruff: noqa: N818 -- named for what is wrong with the text


_MAX_SHOWN = 40


def printable(text: str) -> str:
    """`text` fit for one line of any screen: unprintable characters escaped, and cut if long."""
    cut = text if len(text) <= _MAX_SHOWN else text[: _MAX_SHOWN - 1] + "…"
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in cut)


class QuantityError(ValueError):
    """A text that is not the quantity asked for.

    Attributes:
        text: exactly what was typed.
        template: English sentence with {named} fields, for the translator.
        fields: the template's fields, safe to print.
        suggestion: what was probably meant, as a text that the same reader accepts; None if nothing is likely.
    """

    reason: ClassVar[str] = "this cannot be read"
    lead: ClassVar[str] = '"{text}": '
    guess: ClassVar[str] = "; did you mean {suggestion}?"

    def __init__(self, text: str = "", candidates: tuple[str, ...] = (), **details: object) -> None:
        super().__init__(text)
        self.text = text
        self.candidates = candidates
        self.details = details
        self.suggestion: str | None = None

    @property
    def template(self) -> str:
        """The English sentence, with {named} fields."""
        return self.lead + self.reason + (self.guess if self.suggestion is not None else "")

    @property
    def fields(self) -> dict[str, object]:
        """What the template's names stand for."""
        told = {"text": self.text, **self.details}
        if self.suggestion is not None:
            told["suggestion"] = self.suggestion
        return {name: printable(value) if isinstance(value, str) else value for name, value in told.items()}

    def __str__(self) -> str:
        return self.template.format(**self.fields)


class EmptyText(QuantityError):
    """The text is empty or blank."""

    lead = ""
    reason = "nothing typed; write for example {example}"


class TooLong(QuantityError):
    """More characters than any single value needs."""

    reason = "{count} characters are too many for one value"


class TooManyDigits(QuantityError):
    """More digits in one number, or below the line of a fraction, than any measurement has."""

    reason = "no number of a measurement needs more than {most} digits here"


class HiddenCharacter(QuantityError):
    """A control or formatting character that a reader of the screen would not see."""

    reason = "there is a hidden character in it ({code})"


class StrangeCharacter(QuantityError):
    """A visible character that no value is written with."""

    reason = "{character} has no place in it"


class UnreadableText(QuantityError):
    """The characters are known, their order is not."""

    reason = "this cannot be read; write for example {example}"


class MissingNumber(QuantityError):
    """A word where the number should be."""

    reason = "there is no number where one is expected; write for example {example}"


class IncompleteText(QuantityError):
    """The beginning of a value; something is missing after the last character."""

    reason = "something is missing after {last}"


class MoreThanOne(QuantityError):
    """Two numbers side by side, or two lines: more than one value, or a fraction without its slash."""

    reason = "this is more than one number; a fraction is written {example}"


class AmbiguousComma(QuantityError):
    """A comma before exactly three digits: a decimal comma to some readers, a thousands separator to others."""

    reason = "the comma can be read in two ways: write {as_decimal} or {as_thousands}"


class TwoDecimalMarks(QuantityError):
    """More than one decimal or thousands separator in a number."""

    reason = "a number has one decimal mark and no others"


class PowerOfTen(QuantityError):
    """Scientific notation."""

    reason = "powers of ten are not read here; write the number out"


class DecimalWithFraction(QuantityError):
    """A decimal and a fraction in the same number."""

    reason = "a number has a decimal or a fraction, not both"


class FractionWithoutUnit(QuantityError):
    """A fraction without a unit where bare numbers are metric: most likely inches, but not surely."""

    reason = "a fraction needs its unit here: write {as_inches} or {as_metric}"


class ZeroDenominator(QuantityError):
    """A fraction with denominator zero."""

    reason = "a fraction cannot have 0 below the line"


class UnknownTapeMark(QuantityError):
    """A fraction that no tape is divided into: most likely two readings run together."""

    reason = "no tape is divided into parts this small; type one reading, then Enter"


class ImproperFraction(QuantityError):
    """A fraction of one or more."""

    reason = "a fraction is less than one"


class ImproperInchFraction(ImproperFraction):
    """A fraction of one inch or more."""

    reason = "a fraction of an inch is less than one"


class TooManySixteenths(QuantityError):
    """More than 15 after the plus sign of the number-pad form."""

    reason = "after + come sixteenths of an inch, 0 to 15"


class TooManyInches(QuantityError):
    """Twelve or more inches after feet."""

    reason = "after feet come less than 12 inches"


class MissingUnit(QuantityError):
    """No unit, where none may be assumed."""

    reason = "the unit is missing: write for example {first} or {second}"


class UnknownUnit(QuantityError):
    """A unit that is not known, or one of another kind of quantity."""

    reason = "the unit {unit} does not fit here; use one of {known}"


class MixedUnits(QuantityError):
    """Two units that are not read together."""

    reason = "two units in one value"


class InchesOnly(QuantityError):
    """A notation that only inches are written in, with another unit."""

    reason = "this form is for inches only"


class UnexpectedSign(QuantityError):
    """A plus sign before a value that is never signed."""

    reason = "a sign has no place before this value"


class BelowZero(QuantityError):
    """A negative value where there is none."""

    reason = "this cannot be below zero"


class SignAndSide(QuantityError):
    """A sign and a word for the side (above, below) together."""

    reason = "write either a sign or a word for the side, not both"


class ZeroHeight(QuantityError):
    """A height of zero."""

    reason = "a height is more than zero"


class TooHigh(QuantityError):
    """More than any height at a wheel."""

    reason = "a height is at most {most}"


class TooLarge(QuantityError):
    """Above what is taken for this kind of value."""

    reason = "this is more than {most}, the most that is taken here"


class TooSmall(QuantityError):
    """Below what is taken for this kind of value."""

    reason = "this is less than {least}, the least that is taken here"


class InvalidNumber(QuantityError):
    """A value from code or a file that is not a plainly written finite number of reasonable size."""

    lead = ""
    reason = "a plain finite number is needed, no larger than 1000000000000"


def templates() -> list[str]:
    """Every sentence that a QuantityError can show, in a fixed order, for the translation catalogs."""
    kinds: list[type[QuantityError]] = [QuantityError]
    for kind in kinds:
        kinds.extend(kind.__subclasses__())
    plain = [kind.lead + kind.reason for kind in kinds]
    return sorted(set(plain + [sentence + kind.guess for kind, sentence in zip(kinds, plain, strict=True)]))


# ---- suggestions: "did you mean …?" ----

Value = TypeVar("Value")


def read_with_suggestion(text: str, read: Callable[[str], Value]) -> Value:
    """`read(text)`; an error gets the typed text and a suggestion that `read` accepts.

    A comma with two meanings gets a suggestion only if one of the two is not a value of this kind.

    Raises:
        QuantityError: from `read`.
    """
    try:
        return read(text)
    except QuantityError as error:
        error.text = text
        taken = [text for candidate in error.candidates for text in _readable_candidates(candidate, read)]
        if len(taken) == 1 or (taken and not isinstance(error, AmbiguousComma)):
            error.suggestion = taken[0]
        raise


def _readable_candidates(candidate: str, read: Callable[[str], Value]) -> list[str]:
    """The candidate if `read` accepts it, else the candidates of its own error (`1_000` → `1000` → `1000 mm`)."""
    try:
        read(candidate)
    except QuantityError as error:
        return [second for second in error.candidates if _is_readable(second, read)]
    return [candidate]


def _is_readable(candidate: str, read: Callable[[str], Value]) -> bool:
    try:
        read(candidate)
    except QuantityError:
        return False
    return True


def suggest_unit(typed: str, units: Mapping[str, str]) -> str | None:
    """The unit whose spelling is closest to a mistyped one; None if there is none, or more than one (`deg`)."""
    from difflib import get_close_matches

    alike = {units[spelling] for spelling in get_close_matches(typed, units)}
    return alike.pop() if len(alike) == 1 else None
