"""File format of a session: UTF-8 JSON, one event a line, readable by a person and recoverable when cut short.

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
"""About 50,000 events. A long job has some three hundred, in 80 kB."""

MAX_EVENTS = 50_000
"""As many as fit; more are refused before they are parsed."""

_ACTING = re.compile("[\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")
"""Characters that control a terminal or the direction of text; the file has them as \\u escapes."""

_FOOT = b"\n]}\n"
_BETWEEN = b",\n"

_as_json = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


class JsonError(ValueError):
    """The text is not JSON, or is ambiguous JSON."""


def event_line(plain: JsonEvent) -> str:
    """One event as a line of the file.

    Raises:
        ValueError: NaN or an infinity.
    """
    return _ACTING.sub(lambda found: f"\\u{ord(found[0]):04x}", _as_json(plain))


def header(session: str, version: int = VERSION) -> str:
    """The first line: format, version and session id."""
    head = event_line({"format": FORMAT, "version": version, "id": session})
    return head[:-1] + ', "events": ['


class FileBuffer:
    """The bytes of a session file; added events are appended, not serialized again."""

    def __init__(self, lines: Iterable[str] = ()) -> None:
        self._body = bytearray()
        self.add(line.encode("utf-8") for line in lines)

    def add(self, lines: Iterable[bytes]) -> None:
        """Append these lines, in UTF-8."""
        for line in lines:
            if self._body:
                self._body += _BETWEEN
            self._body += line

    def size_with_bytes(self, lines: Iterable[bytes]) -> int:
        """The size of the file with these lines appended, without its first line."""
        return len(self._body) + sum(len(_BETWEEN) + len(line) for line in lines) + len(_FOOT)

    def contents(self, session: str, version: int = VERSION) -> bytes:
        """The whole file of the session with this id."""
        return b"".join((header(session, version).encode("utf-8"), b"\n", self._body, _FOOT))


def file_bytes(session: str, lines: Iterable[str], version: int = VERSION) -> bytes:
    """The whole file; in an older version as a program of that time wrote it.

    Raises:
        ValueError: a lone surrogate, which UTF-8 cannot encode.
    """
    return FileBuffer(lines).contents(session, version)


def parse_json(text: str) -> Any:
    """The value of a JSON text, parsed strictly: no duplicate names in an object, no NaN, no infinity.

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
# A step takes the verified document of its version, as plain JSON values, and returns that of the next version with a
# new chain. The tests keep files of every released version.
# Version 2 knows readings after lifting and pressing the body, and loads that were weighed.

Document = dict[str, Any]
Step = Callable[[Document], Document]


def _to_version_2(document: Document) -> Document:
    """Everything in version 1 means the same in version 2, and no chain holds the version."""
    return {**document, "version": 2}


STEPS: Mapping[int, Step] = {1: _to_version_2}
"""For each older version, the step to the next one."""


def migrate(document: Document, version: int, *, steps: Mapping[int, Step] = STEPS, to: int = VERSION) -> Document:
    """The document in the version `to`."""
    for each in range(version, to):
        document = steps[each](document)
    return document
