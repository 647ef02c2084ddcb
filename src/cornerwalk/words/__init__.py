"""Every text the user reads, in the user's language. Imports no other room."""

from cornerwalk.words.translation import (
    capital,
    decimal_mark,
    language,
    languages,
    number,
    tr,
    tr_in,
    tr_n,
    tr_parts,
    use_language,
)

__all__ = [
    "capital",
    "decimal_mark",
    "language",
    "languages",
    "number",
    "tr",
    "tr_in",
    "tr_n",
    "tr_parts",
    "use_language",
]
