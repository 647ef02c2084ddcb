"""Parser of typed quantities: a text, normalized, to a sign and numbers, each with its unit.

    expression = [sign] term { ["-"] term }          sign, "-" between terms: only some quantities allow them
    term       = numeral [unit]
    numeral    = decimal                             30   30.5   30,5   .5
               | n "/" n                             1/2
               | n [ "-" | "+" ] n "/" n             30 1/2   30-1/2   30+1/2
               | n "-" n "-" n                       33-7-16
               | n "+" n                             30+8, sixteenths of an inch
    unit       = "'" | '"' | word { [ "-" | "*" | "/" ] word }

What the units mean, and which notations a quantity allows, is up to the readers (`lengths`, `readers`).
"""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from typing import Literal, NamedTuple

from cornerwalk.quantity.errors import (
    AmbiguousComma,
    DecimalWithFraction,
    EmptyText,
    HiddenCharacter,
    ImproperFraction,
    ImproperInchFraction,
    IncompleteText,
    MissingNumber,
    MoreThanOne,
    PowerOfTen,
    StrangeCharacter,
    TooLong,
    TooManyDigits,
    TooManySixteenths,
    TwoDecimalMarks,
    UnreadableText,
    ZeroDenominator,
)

NumeralForm = Literal["decimal", "fraction", "dashed", "sixteenths"]
INCH_SPELLINGS = ("inch", "in", "inches", '"')
INCH_FORMS: frozenset[NumeralForm] = frozenset({"dashed", "sixteenths"})

# n number, w word, s sign, x stranger. Compiled by `re` on first use, not on import.
_TOKEN = r"(?P<n>[.,]?\d[\d.,_]*)|(?P<w>[^\W\d_]+\.?|°|%)|(?P<s>[-+/'\"*])|(?P<x>\S)"
_POWER_OF_TEN = r"\d[eE][-+]?\d"
_LIST = r"\d[,;] \S"
_MAX_DIGITS = 20
_MAX_DENOMINATOR_DIGITS = 4
_DASHED_DENOMINATORS = ("2", "4", "8", "16", "32", "64")


class Token(NamedTuple):
    """A piece of the text: a number, a word or one sign. The kind of a sign is the sign itself."""

    kind: str
    text: str
    start: int
    end: int


class Numeral(NamedTuple):
    """A number: its value, its notation, and its place in the text."""

    value: Fraction
    form: NumeralForm
    start: int
    end: int


class Term(NamedTuple):
    """A number with its unit."""

    numeral: Numeral
    unit: str
    """As typed, in lower case, without spaces, dots, "-" and "*"; empty if none was typed."""


class Expression(NamedTuple):
    """A parsed text."""

    text: str
    """The normalized text that positions refer to."""
    sign: str
    """"+", "-" or empty."""
    terms: tuple[Term, ...]


def parse(text: str, example: str, bare: str | None = None) -> Expression:
    """Parse a normalized text.

    For the messages only: `example` is a value of the right kind, `bare` the unit of a number typed without one.

    Raises:
        QuantityError: the subclass that says what is wrong.
    """
    return _Parser(text, example, bare).expression()


def format_mixed(value: Fraction) -> str:
    """A fraction, zero or more, as a mixed number.

    >>> format_mixed(Fraction(61, 2)), format_mixed(Fraction(1, 2)), format_mixed(Fraction(30))
    ('30 1/2', '1/2', '30')
    """
    whole, rest = divmod(value.numerator, value.denominator)
    if not rest:
        return str(whole)
    fraction = f"{rest}/{value.denominator}"
    return f"{whole} {fraction}" if whole else fraction


class _Parser:
    """One pass over the tokens of a text; `self.at` is the index of the next one."""

    def __init__(self, text: str, example: str, bare: str | None) -> None:
        self.text = text
        self.example = example
        self.bare = bare
        self.tokens = [_token(found) for found in re.finditer(_TOKEN, text)]
        self.kinds = "".join(token.kind for token in self.tokens)
        self.at = 0

    def expression(self) -> Expression:
        self._check_whole_text()
        sign = self._sign()
        terms = [self._term()]
        while self.at < len(self.tokens):
            if self.kinds[self.at] == "-" and terms[-1].unit:
                self.at += 1
            terms.append(self._term())
        return Expression(self.text, sign, tuple(terms))

    def _check_whole_text(self) -> None:
        """Raise for what is wrong anywhere in the text."""
        if re.search(_POWER_OF_TEN, self.text):
            raise PowerOfTen(self.text)
        if re.search(_LIST, self.text):
            raise MoreThanOne(self.text, example="30 1/2")
        if "x" in self.kinds:
            raise StrangeCharacter(self.text, character=self.tokens[self.kinds.index("x")].text)
        if any(token.kind == "n" and len(token.text) > _MAX_DIGITS for token in self.tokens):
            raise TooManyDigits(self.text, most=_MAX_DIGITS)

    def _sign(self) -> str:
        if self.kinds[0] not in "+-":
            return ""
        self.at = 1
        return self.kinds[0]

    def _term(self) -> Term:
        return Term(self._numeral(), self._unit())

    def _unit(self) -> str:
        left = self.kinds[self.at :]
        joined = re.match(r"['\"]|w(?:[-*/]?w)*|", left)
        assert joined is not None  # the last alternative always matches
        words = self.tokens[self.at : self.at + joined.end()]
        self.at += joined.end()
        return "".join(word.text for word in words if word.kind not in "-*").replace(".", "").lower()

    def _numeral(self) -> Numeral:
        left = self.kinds[self.at :]
        if not left.startswith("n"):
            raise self._no_numeral_error(left)
        for shape, read in (
            ("nn/n", self._mixed_fraction),
            ("n-n/n", self._mixed_fraction),
            ("n+n/n", self._mixed_fraction),
            ("n-n-n", self._dashed),
            ("n/n", self._fraction),
            ("n+n", self._sixteenths),
        ):
            if left.startswith(shape):
                return read(self._take(len(shape)))
        self._check_adjacent_numbers(left)
        (token,) = self._take(1)
        return Numeral(self._decimal(token), "decimal", token.start, token.end)

    def _take(self, count: int) -> list[Token]:
        taken = self.tokens[self.at : self.at + count]
        self.at += count
        return taken

    def _no_numeral_error(self, left: str) -> MissingNumber | UnreadableText | IncompleteText:
        if not left:
            return IncompleteText(self.text, last=self.text[-1], candidates=(self.text[:-1].rstrip(),))
        if left.startswith("w"):
            return MissingNumber(self.text, example=self.example)
        return UnreadableText(self.text, example=self.example)

    def _check_adjacent_numbers(self, left: str) -> None:
        """Raise for numbers side by side that are not a fraction: never guess, but suggest."""
        here = self.tokens[self.at : self.at + 3]
        if left in ("n/", "n+", "n-") or left in ("nn/", "n-n/", "n+n/"):
            raise IncompleteText(self.text, last=self.text[-1])
        if left.startswith("nnn"):
            whole, top, below = (token.text for token in here)
            raise MoreThanOne(self.text, candidates=(self._replaced(here, f"{whole} {top}/{below}"),), example="30 1/2")
        if left.startswith(("nn", "n-n")):
            raise self._two_numbers(here[0], here[1 if left.startswith("nn") else 2])

    def _two_numbers(self, first: Token, second: Token) -> MoreThanOne:
        joined = self._replaced([first, second], first.text + second.text)
        grouped = len(second.text) == 3 and len(first.text) <= 3 and self.text[first.end : second.start] == " "
        return MoreThanOne(self.text, candidates=(joined,) if grouped else (), example="30 1/2")

    def _fraction(self, tokens: list[Token]) -> Numeral:
        top, _, below = tokens
        if not top.text.isdigit():
            self._decimal(top)
            guess = f"{top.text.replace(',', '.').replace('.', ' ')}/{below.text}"
            raise DecimalWithFraction(self.text, candidates=(self._replaced(tokens, guess),))
        return self._checked(tokens, Fraction(0), self._quotient(top, below), "fraction")

    def _mixed_fraction(self, tokens: list[Token]) -> Numeral:
        whole, top, below = tokens[0], tokens[-3], tokens[-1]
        value = self._decimal(whole)
        fraction = self._quotient(top, below)
        if not whole.text.isdigit():
            same = value % 1 in (0, fraction)
            guess = format_mixed(Fraction(int(value)) + fraction) if same else ""
            raise DecimalWithFraction(self.text, candidates=(self._replaced(tokens, guess),))
        return self._checked(tokens, value, fraction, "fraction")

    def _dashed(self, tokens: list[Token]) -> Numeral:
        whole, _, top, _, below = tokens
        if not whole.text.isdigit() or below.text not in _DASHED_DENOMINATORS:
            raise MoreThanOne(self.text, example="30 1/2")
        return self._checked(tokens, self._decimal(whole), self._quotient(top, below), "dashed")

    def _sixteenths(self, tokens: list[Token]) -> Numeral:
        whole, _, count = tokens
        inches, sixteenths = self._decimal(whole), self._decimal(count) / 16
        guess = self._replaced(tokens, format_mixed(inches + sixteenths))
        if sixteenths >= 1:
            raise TooManySixteenths(self.text, candidates=(guess,))
        if not (whole.text.isdigit() and count.text.isdigit()):
            raise DecimalWithFraction(self.text, candidates=(guess,))
        return Numeral(inches + sixteenths, "sixteenths", tokens[0].start, tokens[-1].end)

    def _quotient(self, top: Token, below: Token) -> Fraction:
        """top/below, which may be one or more."""
        if not (top.text.isdigit() and below.text.isdigit()):
            self._decimal(top), self._decimal(below)
            raise DecimalWithFraction(self.text)
        if not int(below.text):
            raise ZeroDenominator(self.text)
        if len(below.text) > _MAX_DENOMINATOR_DIGITS:
            raise TooManyDigits(self.text, most=_MAX_DENOMINATOR_DIGITS)
        return Fraction(int(top.text), int(below.text))

    def _checked(self, tokens: list[Token], whole: Fraction, fraction: Fraction, form: NumeralForm) -> Numeral:
        if fraction >= 1:
            # "30/2" is more likely a slip for "30 1/2" than 15, so it gets no suggestion.
            guess = self._replaced(tokens, format_mixed(whole + fraction)) if whole or fraction < 2 else ""
            in_inches = (self._unit() or self.bare) in INCH_SPELLINGS
            kind = ImproperInchFraction if in_inches else ImproperFraction
            raise kind(self.text, candidates=(guess,))
        return Numeral(whole + fraction, form, tokens[0].start, tokens[-1].end)

    def _decimal(self, token: Token) -> Fraction:
        """The value of `30`, `30.5`, `30,5` or `.5`."""
        digits = token.text
        marks = [c for c in digits if not c.isdigit()]
        if digits[-1] in ".,":
            raise IncompleteText(self.text, last=digits[-1], candidates=(self._replaced([token], digits.rstrip(".,")),))
        if len(marks) > 1 or "_" in marks:
            raise TwoDecimalMarks(self.text, candidates=(self._replaced([token], _without_grouping(digits)),))
        whole, _, rest = digits.replace(",", ".").partition(".")
        if marks == [","] and len(rest) == 3 and 1 <= len(whole) <= 3 and whole[0] != "0":
            as_decimal, as_thousands = (self._replaced([token], f"{whole}{mark}{rest}") for mark in (".", ""))
            raise AmbiguousComma(
                self.text, candidates=(as_decimal, as_thousands), as_decimal=as_decimal, as_thousands=as_thousands
            )
        return Fraction(int(whole + rest), 10 ** len(rest))

    def _replaced(self, tokens: list[Token], by: str) -> str:
        """The text with everything from the first to the last token replaced; empty if `by` is."""
        return f"{self.text[: tokens[0].start]}{by}{self.text[tokens[-1].end :]}" if by else ""


def _token(found: re.Match[str]) -> Token:
    kind = found.lastgroup or ""
    return Token(found.group() if kind == "s" else kind, found.group(), *found.span())


def _without_grouping(digits: str) -> str:
    """`1,234.5`, `1.234,5` or `1_000` without its grouping; the last separator is decimal if it is the only one."""
    last = digits[max(digits.rfind("."), digits.rfind(","))]
    decimal = last in ".," and digits.count(last) == 1 and "_" not in digits
    whole, _, rest = digits.rpartition(last) if decimal else (digits, "", "")
    for mark in ".,_":
        whole = whole.replace(mark, "")
    return f"{whole}.{rest}" if decimal else whole


# ---- normalization: what keyboards, word processors and spreadsheets send, in plain characters ----

MAX_CHARACTERS = 60

_REPLACEMENTS = str.maketrans(
    {
        **dict.fromkeys("′‘’‚‛`´ʹʼ", "'"),
        **dict.fromkeys("″“”„‟ʺ", '"'),
        **dict.fromkeys("‐‑‒–—―−﹣", "-"),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("·⋅∙•×", "*"),
        **dict.fromkeys("º˚", "°"),
        "℃": "°C",
        "℉": "°F",
        "\t": " ",
    }
)
_FULL_WIDTH = range(0xFF01, 0xFF5F)
_FULL_WIDTH_OFFSET = 0xFEE0
_HIDDEN_CATEGORIES = ("Cc", "Cf", "Cs")  # control, format and half (surrogate) characters, by Unicode's categories


def normalize(text: str, example: str) -> str:
    """`text` in ASCII (and °), with single spaces and none at the ends.

    Vulgar fractions are spelled out and set apart: `30½` becomes `30 1/2`.

    Raises:
        EmptyText, TooLong, HiddenCharacter, MoreThanOne: the first of them shows `example`.
    """
    if len(text) > MAX_CHARACTERS:
        raise TooLong(text, count=len(text))
    bare = text.strip()
    if not bare:
        raise EmptyText(text, example=example)
    if len(bare.splitlines()) > 1:
        raise MoreThanOne(text, example="30 1/2")
    spelled = bare.translate(_REPLACEMENTS)
    if not (spelled.isascii() and spelled.isprintable()):
        spelled = "".join(_normalize_character(character, bare) for character in spelled)
    return " ".join(spelled.split()).replace("''", '"')


def _normalize_character(character: str, text: str) -> str:
    """One character in ASCII; an unknown visible one is left for the parser to report."""
    code = ord(character)
    if code in _FULL_WIDTH:
        return chr(code - _FULL_WIDTH_OFFSET)
    if 0x20 <= code < 0x7F:
        return character
    digit = unicodedata.decimal(character, None)
    if digit is not None:
        return str(digit)
    if unicodedata.category(character) in _HIDDEN_CATEGORIES:
        raise HiddenCharacter(text, candidates=(_without_hidden(text),), code=f"U+{code:04X}")
    return _vulgar_fraction(character) or character


def _vulgar_fraction(character: str) -> str | None:
    kind, *codes = unicodedata.decomposition(character).split() or [""]
    if kind != "<fraction>":
        return None
    spelled = "".join(chr(int(code, 16)) for code in codes).replace("⁄", "/")
    # A digit that follows must not join the denominator: "½5" is not 1/25. Only "⅟" waits for its own.
    return f" {spelled}" if spelled.endswith("/") else f" {spelled} "


def _without_hidden(text: str) -> str:
    return "".join(c for c in text if unicodedata.category(c) not in _HIDDEN_CATEGORIES)
