"""Finding the likely meaning: the first candidate that the same reader takes, the unit most like the one typed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeVar

from cornerwalk.quantity.errors import AmbiguousComma, QuantityError

Value = TypeVar("Value")


def settle(text: str, read: Callable[[str], Value]) -> Value:
    """`read(text)`; if that fails, the error leaves with what was typed and with a suggestion that `read` takes.

    A comma with two meanings gets a suggestion only if one of the two is no value of this kind.

    Raises:
        QuantityError: from `read`.
    """
    try:
        return read(text)
    except QuantityError as error:
        error.text = text
        taken = [text for candidate in error.candidates for text in _taken(candidate, read)]
        if len(taken) == 1 or (taken and not isinstance(error, AmbiguousComma)):
            error.suggestion = taken[0]
        raise


def _taken(candidate: str, read: Callable[[str], Value]) -> list[str]:
    """The candidate if `read` takes it, else what it was in turn taken to mean (`1_000` → `1000` → `1000 mm`)."""
    try:
        read(candidate)
    except QuantityError as error:
        return [second for second in error.candidates if _reads(second, read)]
    return [candidate]


def _reads(candidate: str, read: Callable[[str], Value]) -> bool:
    try:
        read(candidate)
    except QuantityError:
        return False
    return True


def nearest_unit(typed: str, units: Mapping[str, str]) -> str | None:
    """The unit whose spelling is most like a mistyped one; None where nothing is, or two units are alike (`deg`)."""
    from difflib import get_close_matches

    alike = {units[spelling] for spelling in get_close_matches(typed, units)}
    return alike.pop() if len(alike) == 1 else None
