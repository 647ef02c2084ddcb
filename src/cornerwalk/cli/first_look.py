"""The settings that are wanted before all of them are read and checked, and even where that fails."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

LARGEST_BYTES = 1_000_000
"""A settings file is a page or two; a larger one is left to the strict reader to refuse."""


class FirstLook(NamedTuple):
    """As the settings file says, unchecked; the texts are empty where it does not, or cannot be read."""

    theme: str = ""
    language: str = ""
    library_folder: str = ""


def first_look(path: Path) -> FirstLook:
    """These of a settings file. Nothing is raised: the strict reader says what is wrong with the file."""
    try:
        if not path.is_file() or path.stat().st_size > LARGEST_BYTES:
            return FirstLook()
        from tomllib import loads

        stated = loads(path.read_text(encoding="utf-8-sig"))  # as the strict reader takes it
    except (OSError, ValueError, RecursionError):
        return FirstLook()
    texts = {name: stated.get(name) for name in FirstLook._fields}
    return FirstLook(**{name: text for name, text in texts.items() if isinstance(text, str)})
