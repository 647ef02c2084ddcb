"""The ways a height is misread, called out wrong or mistyped: from what was read to what may have been there.

A slip is of the hand or the eye, so it has a shape: a whole inch, a fraction read from its wrong end, two digits
swapped. Weights say how common each is among slips; they are this project's judgement, no source, and only rank.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

MM_PER_INCH = 25.4
FINEST = 64
"""Fractions of an inch are halves to sixty-fourths."""

ANYWHERE = (-math.inf, math.inf)

Tape = Literal["inch", "metric"]


@dataclass(frozen=True, slots=True)
class Slip:
    """A height that may have been meant, how it would have become what was read (a code), and how common that is."""

    true_mm: float
    code: str
    weight: float


_Way = tuple[float, str, float]
"""The fields of a slip, before it is known to be wanted."""


def slips(read_mm: float, tape: Tape, entered: str = "", within_mm: tuple[float, float] = ANYWHERE) -> tuple[Slip, ...]:
    """Every plausible slip behind one reading from such a tape, each true height once.

    `entered` is the text as typed, empty if unknown. Only true heights `within_mm` are given.

    >>> [slip.code for slip in slips(27.625 * 25.4, "inch", "27 5/8", within_mm=(720.0, 730.0))]
    ['whole inch']
    """
    low_mm, high_mm = within_mm
    best: dict[float, Slip] = {}
    for true_mm, code, weight in _metric(read_mm) if tape == "metric" else _inches(read_mm, entered):
        if not low_mm <= true_mm <= high_mm or true_mm <= 0 or abs(true_mm - read_mm) < 1e-6:
            continue
        key = round(true_mm, 6)
        if key not in best or best[key].weight < weight:
            best[key] = Slip(true_mm, code, weight)
    return tuple(best.values())


def _metric(read_mm: float) -> Iterator[_Way]:
    for step in (-10.0, 10.0):
        yield read_mm + step, "whole centimetre", 0.35
    for step in (-5.0, 5.0):
        yield read_mm + step, "half centimetre", 0.1
    for step in (-100.0, 100.0):
        yield read_mm + step, "wrong digit", 0.1
    tenths = round(read_mm * 10)
    digits, unit_mm = (str(tenths // 10), 1.0) if tenths % 10 == 0 else (str(tenths), 0.1)
    for swapped in _swaps(digits):
        yield int(swapped) * unit_mm, "swapped digits", 0.2
    yield read_mm * 10, "cm for mm", 0.05
    yield read_mm / 10, "mm for cm", 0.05


def _inches(read_mm: float, entered: str) -> Iterator[_Way]:
    for step in (-1, 1):
        yield read_mm + step * MM_PER_INCH, "whole inch", 0.35
        yield read_mm + step * MM_PER_INCH / 2, "half inch", 0.15
        yield read_mm + step * MM_PER_INCH * 10, "wrong digit", 0.05
    read = read_mm / MM_PER_INCH
    parts = round(read * FINEST)
    if "." in entered or "," in entered or abs(read * FINEST - parts) > 1e-6:
        for swapped in _swaps(str(round(read * 100))):
            yield int(swapped) / 100 * MM_PER_INCH, "swapped digits", 0.1
        return
    whole, rest = divmod(parts, FINEST)
    for swapped in _swaps(str(whole)):
        yield (int(swapped) + rest / FINEST) * MM_PER_INCH, "swapped digits", 0.1
    if rest:
        for inches, code, weight in _fractions(whole, rest):
            yield inches * MM_PER_INCH, code, weight


def _fractions(whole: int, rest: int) -> Iterator[_Way]:
    """In inches, the slips that only a height with a fraction can suffer; `rest` counts sixty-fourths."""
    yield whole + 1 - rest / FINEST, "fraction from the wrong end", 0.1
    for step in (FINEST // 4, FINEST // 8):
        yield whole + (rest - step) / FINEST, "wrong fraction", 0.05
        yield whole + (rest + step) / FINEST, "wrong fraction", 0.05
    if 2 * rest < FINEST:
        yield whole + 2 * rest / FINEST, "wrong denominator", 0.05
    if rest % 2 == 0:
        yield whole + rest / 2 / FINEST, "wrong denominator", 0.05
    common = math.gcd(rest, FINEST)
    top, bottom, digit = rest // common, FINEST // common, whole % 10
    if top < 10 and 0 < digit < bottom:
        yield whole - digit + top + digit / bottom, "digit and fraction swapped", 0.05


def _swaps(digits: str) -> Iterator[str]:
    """Each pair of neighbouring digits the other way round."""
    for at in range(len(digits) - 1):
        swapped = digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :]
        if swapped != digits and swapped[0] != "0":
            yield swapped
