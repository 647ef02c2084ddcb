"""Cache of what was computed from session files, kept beside them so that each file is read once.

One cache file for each kind of value (`.lessons.json`, `.verdicts.json`), which can be thrown away. Its first line says
what all values rest on: the program and its limits; under another first line nothing in it counts. Then one line a
session file: its name, its signature, and the value as JSON. A value counts only while its file is unchanged. Of
thousands of lines only those asked for are parsed.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, Generic, TypeVar

from cornerwalk.store import Disk, Signature, read_cache, write_cache

Value = TypeVar("Value")


class SessionCache(Generic[Value]):
    """Values by file name and signature. One thread at a time uses it."""

    def __init__(
        self,
        folder: Path,
        name: str,
        basis: Sequence[str | float],
        *,
        encode: Callable[[Value], Any],
        decode: Callable[[Any], Value],
        disk: Disk | None = None,
    ) -> None:
        """Read the cache file, if it can be read.

        Args:
            folder: where the session files are.
            name: of the cache file.
            basis: what the values rest on besides the files.
            encode: makes a value plain for JSON.
            decode: makes it a value again; ValueError, TypeError, LookupError or AttributeError where it is none.
            disk: replaced in tests.
        """
        self._folder = folder
        self._name = name
        self._encode, self._decode = encode, decode
        self._disk = disk or Disk()
        self._head = json.dumps(basis).encode()
        first, *lines = read_cache(folder, name, self._disk).split(b"\n")
        if first != self._head:
            lines = []
        self._lines = {line[1 : line.find(b'",') + 1].decode("utf-8", "replace"): line for line in lines}
        self._changed = False

    def get(self, file: str, signature: Signature | None) -> Value:
        """The value of a file that still looks like this.

        Raises:
            KeyError: it is not cached, the file has changed, or the line cannot be read.
        """
        try:
            _, inode, size, changed_ns, plain = json.loads(self._lines[json.dumps(file)])
            value = self._decode(plain)
        except (ValueError, TypeError, LookupError, AttributeError, RecursionError) as error:
            raise KeyError(file) from error
        if signature is None or signature != (inode, size, changed_ns):
            raise KeyError(file)
        return value

    def put(self, file: str, signature: Signature, value: Value) -> None:
        """Cache the value of a file that looks like this."""
        name = json.dumps(file)
        plain = json.dumps([*signature, self._encode(value)], separators=(",", ":"))
        self._lines[name] = f"[{name},{plain[1:]}".encode()
        self._changed = True

    def save(self) -> None:
        """Write down what was put in, if the disk allows it; files that are gone from the folder are dropped."""
        if not self._changed:
            return
        there: set[str] = set()
        with suppress(OSError):
            there = {json.dumps(name) for name in os.listdir(self._folder)}  # noqa: PTH208 - names alone are wanted
        lines = [line for name, line in self._lines.items() if name in there]
        data = b"\n".join([self._head, *lines])
        self._changed = not write_cache(self._folder, self._name, data, self._disk)
