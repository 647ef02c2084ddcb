"""Known: a figure that must be there, for the type checker and for the test alike."""

from __future__ import annotations

from typing import TypeVar

T = TypeVar("T")


def known(value: T | None) -> T:
    """The value, which is not None."""
    assert value is not None
    return value
