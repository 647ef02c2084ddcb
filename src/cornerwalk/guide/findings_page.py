"""Findings page: every finding the program can make, from the words it is shown with, so that the page stays true."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator

from cornerwalk.words import language, tr, tr_parts
from cornerwalk.words.findings import FindingWords, finding_words

_WIDTH = 118
_FIELD = re.compile(r"\{(?P<name>[a-z_]+?)(?:_(?:mm|kPa|N|deg|percent))?(?::(?P<how>[a-z]+))?\}")


def findings_markdown() -> str:
    """Every finding in the order of the file, stops first, in the user's language; figures as words in brackets."""
    return "\n\n".join(map(_finding, finding_words().values())) + "\n"


def _finding(words: FindingWords) -> str:
    return "\n\n".join(textwrap.fill(each, _WIDTH, break_on_hyphens=False) for each in _paragraphs(words))


def _paragraphs(words: FindingWords) -> Iterator[str]:
    yield f"## {_plain(words.heading)}"
    yield f"`{words.code}`: {' '.join(map(_plain, words.text))}"
    yield f"*{tr('Why')}:* {_plain(words.reason)}"
    yield f"*{tr('What to do')}:* {_plain(words.action)}"
    if words.source:
        yield f"*{tr('Source')}:* {tr_parts(words.source)}"


def _plain(template: str) -> str:
    """The text in the user's language; each {field} as a word in brackets, `[load]` for `{load_N}`.

    The names of fields are English: in another language each is `[…]`.
    """
    if language() != "en":
        return _FIELD.sub("[…]", tr(template))
    return _FIELD.sub(lambda field: f"[{field['name'].replace('_', ' ')}]", template)
