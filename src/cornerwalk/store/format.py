"""How a session stands in its file: UTF-8 JSON, one event a line, so that a person can read it and a cut file be saved.

{"format": "cornerwalk session", "version": 1, "id": "…", "events": [
{"seq": 1, "at": "2026-05-04T08:12:31-06:00", "by": "MT", "kind": "job opened", …, "chain": "…"},
{"seq": 2, …}
]}
"""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from cornerwalk.session.log import FORMAT, VERSION, JsonEvent

MAX_FILE_BYTES = 16 * 1024 * 1024
"""About 50 000 events. A long job has some three hundred, in 80 kB."""

MAX_EVENTS = 50_000
"""As many as fit; more are refused before anything is built from them."""

_ACTING = re.compile("[\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
"""Characters that act on a terminal or turn the direction of a text; the file spells them out as \\u escapes."""

_FOOT = b"\n]}\n"
_BETWEEN = b",\n"

_as_json = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


class JsonError(ValueError):
    """The text is no JSON, or JSON that two readers could understand in two ways."""


def event_line(plain: JsonEvent) -> str:
    """One event as it stands in the file.

    Raises:
        ValueError: NaN or an infinity.
    """
    return _ACTING.sub(lambda found: f"\\u{ord(found[0]):04x}", _as_json(plain))


def header(session: str) -> str:
    """The first line: what the file is, and of which session."""
    head = event_line({"format": FORMAT, "version": VERSION, "id": session})
    return head[:-1] + ', "events": ['


class FileBuffer:
    """The bytes of a session's file while events are added to it: those that stand there are not made again."""

    def __init__(self, lines: Iterable[str] = ()) -> None:
        self._body = bytearray()
        self.add(line.encode("utf-8") for line in lines)

    def add(self, lines: Iterable[bytes]) -> None:
        """Let these lines, in UTF-8, follow."""
        for line in lines:
            if self._body:
                self._body += _BETWEEN
            self._body += line

    def size_with_bytes(self, lines: Iterable[bytes]) -> int:
        """How large the file would be if these followed, its first line apart."""
        return len(self._body) + sum(len(_BETWEEN) + len(line) for line in lines) + len(_FOOT)

    def contents(self, session: str) -> bytes:
        """The file of the session of this id, as it now stands."""
        return b"".join((header(session).encode("utf-8"), b"\n", self._body, _FOOT))


def file_bytes(session: str, lines: Iterable[str]) -> bytes:
    """The whole file.

    Raises:
        ValueError: a lone surrogate, which UTF-8 cannot hold.
    """
    return FileBuffer(lines).contents(session)


def parse_json(text: str) -> Any:
    """The value of a JSON text, read strictly: no name twice in one object, no NaN, no number beyond all bounds.

    Raises:
        JsonError: with the reason.
    """
    try:
        return json.loads(
            text, object_pairs_hook=_unique_names, parse_constant=_refuse_constant, parse_float=_finite_number
        )
    except RecursionError as error:
        raise JsonError("it is nested too deeply") from error
    except json.JSONDecodeError as error:
        raise JsonError(f"no JSON from line {error.lineno}, column {error.colno} on") from error
    except ValueError as error:
        raise JsonError(str(error)) from error


def _unique_names(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    plain = dict(pairs)
    if len(plain) != len(pairs):
        ((twice, _),) = Counter(name for name, _ in pairs).most_common(1)
        raise JsonError(f"{twice!r} stands twice in one object")
    return plain


def _refuse_constant(name: str) -> None:
    raise JsonError(f"{name} is no number")


def _finite_number(text: str) -> float:
    number = float(text)
    if math.isinf(number):
        raise JsonError(f"{text[:40]} is beyond all bounds")
    return number


# ---- migration ----
#
# A step gets the verified document of its version, as plain JSON values, and returns that of the next, with its chain
# computed anew; the program then treats it as its own. Files of every version ever released lie frozen in the tests.
# There is one version so far, so there is no step yet.

Document = dict[str, Any]
Step = Callable[[Document], Document]

STEPS: Mapping[int, Step] = {}
"""For each older version, the step to the next."""


def migrate(document: Document, version: int, *, steps: Mapping[int, Step] = STEPS, to: int = VERSION) -> Document:
    """The document in the version `to`, itself where it is of that version."""
    for each in range(version, to):
        document = steps[each](document)
    return document
