"""Controls: what a skin calls the things one can do besides answering, a key on the full screen or a word on a line."""

from __future__ import annotations

from collections.abc import Callable

NameOf = Callable[[str], str]
"""From a control's id, such as `walk.average`, to what the user presses or types."""

_name_of: NameOf = str


def name_controls(name_of: NameOf) -> None:
    """Have a skin's own names used from here on."""
    global _name_of  # noqa: PLW0603 - one skin runs at a time
    _name_of = name_of


def control(name: str) -> str:
    """What the skin in use calls a control."""
    return _name_of(name)
