"""No text, however odd, brings anything but a value in range or the module's own error."""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterator
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import (
    LARGEST_HEIGHT,
    Length,
    QuantityError,
    read_altitude,
    read_angle,
    read_force,
    read_graduation,
    read_height,
    read_hours,
    read_length,
    read_percent,
    read_pressure,
    read_signed_length,
    read_temperature,
    read_torque,
)

SEED = 20260504

READERS: list[Callable[[str], object]] = [
    lambda text: read_height(text, "inch"),
    lambda text: read_height(text, "mm"),
    lambda text: read_height(text, "cm"),
    read_length,
    lambda text: read_length(text, "ft"),
    read_signed_length,
    read_altitude,
    read_graduation,
    read_pressure,
    read_force,
    read_temperature,
    read_torque,
    read_angle,
    read_percent,
    read_hours,
]
# Pieces that readers know, so that random texts get deep into them, and pieces that nobody should send.
PIECES = [
    *"0123456789", *"0123456789", "30", "774", "1/2", "17/16", " ", " ", "  ", "/", "+", "-", ".", ",", "'", '"', "''",
    " in", " ft ", " mm", " cm", " m", " psi", " kPa", " bar", " lb", " kg", " N", " °F", " °C", " lbf·ft", " N·m",
    "%", "°", " h ", " min", " below", " up", "e3", "E-3", "_", "½", "⅞", "⅟", "″", "”", "−", "–", "×", "·", "⁄", "²",
    "１", "．", "٣", "\t", "\n", "\r", "\x00", "\x1b[2J", "\x7f", "\u00a0", "\u2028", "\u200b", "\u200f", "\u202e",
    "\ufeff", "\ud800", "\udfff", "{", "}", "{0}", "%s", "\\", "\N{PILE OF POO}", "é", "µ", "nan", "inf", "-inf",
    "None", "99999999999999999999", "$", "#", "~",
]  # fmt: skip


def random_texts(count: int) -> Iterator[str]:
    """`count` texts, the same in every run: mostly pieces put together, some single characters of all of Unicode."""
    chance = random.Random(SEED)
    for _ in range(count):
        length = chance.randrange(1, 9)
        if chance.random() < 0.1:
            yield "".join(chr(chance.randrange(0x110000)) for _ in range(length))
        else:
            yield "".join(chance.choices(PIECES, k=length))


def refusal(read: Callable[[str], object], text: str) -> QuantityError | None:
    """The error `read` refuses `text` with; None if it takes it. Anything else it raises goes through."""
    try:
        read(text)
    except QuantityError as error:
        return error
    return None


@pytest.mark.parametrize("count", [75_000, pytest.param(1_000_000, marks=pytest.mark.slow)])
def test_random_texts_raise_nothing_but_the_modules_own_error(count: int) -> None:
    """Random texts give a value in range or a QuantityError that can be shown, and both come about often."""
    taken = 0
    for turn, text in enumerate(random_texts(count)):
        error = refusal(READERS[turn % len(READERS)], text)
        if error is None:
            taken += 1
        else:
            assert error.text == text
            told = str(error)
            assert told.isprintable(), told
            told.encode("utf-8")
    assert count / 50 < taken < count / 2


def test_what_is_taken_for_a_height_is_one() -> None:
    """A height that comes of a random text lies above 0 and up to 2.5 m."""
    taken = (text for text in random_texts(20_000) if refusal(READERS[0], text) is None)
    heights = [read_height(text, "inch") for text in taken]
    assert len(heights) > 200
    for height in heights:
        assert Length(Fraction(0)) < height <= LARGEST_HEIGHT


def test_every_suggestion_is_taken() -> None:
    """Whatever an error suggests, the same reader takes."""
    suggestions = 0
    for turn, text in enumerate(random_texts(20_000)):
        read = READERS[turn % len(READERS)]
        error = refusal(read, text)
        if error is not None and error.suggestion is not None:
            suggestions += 1
            read(error.suggestion)
    assert suggestions > 200


@given(st.text(), st.sampled_from(READERS))
def test_any_text_at_all(text: str, read: Callable[[str], object]) -> None:
    """The same for texts that a search for counterexamples comes up with."""
    error = refusal(read, text)
    assert error is None or str(error).isprintable()


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize(
    "text",
    [
        "9" * 5000,
        "1/" * 5000,
        "9" * 60,
        "1/" + "9" * 58,
        "." + "9" * 59,
        "9" * 1_000_000,
        " " * 1_000_000 + "30",
        "½" * 60,
        "-" * 60,
        "'" * 60,
        "1e999999999",
        "\ud800" * 60,
    ],
    ids=lambda text: f"{text[:4]!r}*{len(text)}" if isinstance(text, str) else None,
)
def test_long_texts_are_refused_at_once(text: str, read: Callable[[str], object]) -> None:
    """Length costs nothing: whatever is sent is refused before a second is over, and told in one line."""
    began = time.perf_counter()
    with pytest.raises(QuantityError) as caught:
        read(text)
    assert len(str(caught.value)) < 300
    assert time.perf_counter() - began < 1
