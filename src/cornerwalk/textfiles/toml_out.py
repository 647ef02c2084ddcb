"""Text as it stands in a TOML file."""

from __future__ import annotations

import json


def toml_string(text: str) -> str:
    r"""The text as a basic string of TOML, quotes included.

    >>> print(toml_string('28 5/8" \\ é'))
    "28 5/8\" \\ é"
    """
    # JSON's way of writing texts is TOML's too, but for one character that TOML wants escaped.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
