"""The settings that are wanted before all of them are read and checked, and even where that fails."""

from __future__ import annotations

import sys
from importlib import import_module
from importlib.util import find_spec
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


# ---- imports without cryptography ----


_OWN_DIGESTS = (("_md5",), ("_sha1",), ("_sha2", "_sha256"), ("_sha2", "_sha512"), ("_sha3",), ("_blake2",))
"""What Python has for each digest besides OpenSSL, `_sha2` from 3.12 on; some distributions are built without."""


def load_alone() -> None:
    """Load the event loop and the digests as Python loads them where there is no OpenSSL.

    Both are made to do without it: a loop that opens no encrypted connection, digests in Python's own C code. Where
    that code was left out when Python was built, digests are OpenSSL's as usual. Whoever imports `ssl` later gets it.
    """
    hidden = ["ssl", *(["_hashlib"] if _has_own_digests() else [])]
    hidden = [name for name in hidden if name not in sys.modules]
    # None says "not found" to every import (Python's language reference, 5.3.1, The module cache).
    sys.modules.update(dict.fromkeys(hidden))  # type: ignore[arg-type]
    try:
        for name in ("asyncio", "hashlib", "hmac"):
            import_module(name)
    finally:
        for name in hidden:
            del sys.modules[name]


def _has_own_digests() -> bool:
    return all(any(find_spec(name) is not None for name in either) for either in _OWN_DIGESTS)
