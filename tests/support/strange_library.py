"""A library into which everything has been put that a folder can hold: good sessions among files that are none.

What is strange comes from who knows where; nothing of it may act, hang the program, be changed, or hide the good ones.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import socket
import stat
import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cornerwalk.samples import sample_folder
from tests.faults.strange_files import forged

GOOD = ("camper.json", "half-done.json")
GIGABYTE = 1 << 30
ACTS = "\x1b]0;owned\x07\x1b[2J\u202e[bold]=1+1</script>\n{title}%s../../etc"
"""A text that would act on a terminal, a page, a spreadsheet or a path."""

Document = dict[str, Any]


@dataclass(frozen=True)
class StrangeLibrary:
    """The folder, its good sessions, and everything else in it."""

    folder: Path
    good: tuple[Path, ...]
    strange: tuple[Path, ...]

    def looks(self) -> Mapping[str, object]:
        """Every name in the folder and what stands there now, to tell later whether anything was changed."""
        return {name: _look(self.folder / name) for name in os.listdir(self.folder) if not _is_ours(name)}  # noqa: PTH208


def _is_ours(name: str) -> bool:
    """What the program itself may leave beside the sessions: hidden files, and copies of damaged ones."""
    return name == "set-aside" or name.startswith(".")


def _look(path: Path) -> object:
    status = path.lstat()
    about = (status.st_mode, status.st_size, status.st_mtime_ns)
    if stat.S_ISREG(status.st_mode) and status.st_size < GIGABYTE:
        return about, hashlib.sha256(path.read_bytes()).hexdigest()
    return about


def strange_library(folder: Path) -> StrangeLibrary:
    """Make it; the folder must not exist yet."""
    folder.mkdir()
    for name in GOOD:
        (folder / name).write_bytes((sample_folder() / name).read_bytes())
    for name, make in _CONTENTS.items():
        (folder / f"2026-05-04-{name}-1a2b3c4d.json").write_bytes(make(_sample()))
    for stem in _NAMES:
        (folder / os.fsdecode(stem)).write_bytes(b"{" + _sample()[:600])
    with (folder / "2026-05-04-gigabyte-1a2b3c4d.json").open("wb") as huge:
        huge.truncate(GIGABYTE)
    _no_files(folder)
    good = tuple(folder / name for name in GOOD)
    everything = (folder / name for name in sorted(os.listdir(folder)))  # noqa: PTH208
    return StrangeLibrary(folder, good, tuple(path for path in everything if path not in good))


def _sample() -> bytes:
    return (sample_folder() / "camper.json").read_bytes()


def _no_files(folder: Path) -> None:
    """What is no file, under names of sessions; and a file that nobody may read."""
    (folder / "folder.json").mkdir()
    (folder / "folder.json" / "inner.json").write_bytes(_sample())
    (folder / "link.json").symlink_to(folder / GOOD[0])
    (folder / "loop.json").symlink_to(folder / "loop.json")
    (folder / "nowhere.json").symlink_to(folder / "gone.json")
    (folder / "endless.json").symlink_to("/dev/zero")
    (folder / "up.json").symlink_to("../../../../etc/passwd")
    os.mkfifo(folder / "pipe.json")
    here = os.getcwd()  # noqa: PTH109 - the name of a socket must be short
    os.chdir(folder)
    try:
        with socket.socket(socket.AF_UNIX) as server:
            server.bind("socket.json")
    finally:
        os.chdir(here)
    shut = folder / "2026-05-04-shut-1a2b3c4d.json"
    shut.write_bytes(_sample())
    shut.chmod(0)


_NAMES: tuple[bytes, ...] = (
    b"\x1b[2J\x1b]0;owned\x07.json",
    "exe.\u202enosj.json".encode(),
    b"two\nlines\r.json",
    b"no-utf8-\xff\xfe.json",
    b"..\\..\\windows.json",
    b"$(touch owned);`id`.json",
    b"-rf.json",
    b"=1+1.json",
    b"[bold]%s{title}.json",
    b" .json",
    b"x" * 250 + b".json",
    b"CON.json",
)
"""Names of files, as the system has them; none is what the program would call a session."""


def _changed(change: Callable[[Document], object]) -> Callable[[bytes], bytes]:
    """A job of its own that says something else, with every chain computed anew as a forger would."""

    def make(data: bytes) -> bytes:
        document = json.loads(data)
        document["id"] = document["events"][0]["session"] = str(uuid.uuid4())
        change(document)
        anew = forged(json.dumps(document).encode())
        return anew if anew is not None else json.dumps(document).encode()

    return make


def _texts_that_act(document: Document) -> None:
    for event in document["events"]:
        for name in ("title", "text", "reason", "note", "to", "by"):
            if name in event:
                event[name] = ACTS
        if event["kind"] == "fact stated" and event["name"] in ("job.customer", "vehicle.description", "kit.name"):
            event["value"] = event["entered"] = ACTS


def _heights(mm: float) -> Callable[[Document], None]:
    def change(document: Document) -> None:
        for event in document["events"]:
            if event["kind"] == "height read":
                event["mm"] = mm

    return change


def _times(at: str) -> Callable[[Document], None]:
    def change(document: Document) -> None:
        for event in document["events"]:
            event["at"] = at

    return change


def _undone(document: Document) -> None:
    last = document["events"][-1]
    for undoes in (1, 2, 10**6, len(document["events"]) + 1):
        document["events"].append({"seq": 0, "at": last["at"], "by": "X", "kind": "undone", "undoes": undoes})
    for seq, event in enumerate(document["events"], 1):
        event["seq"] = seq


_CONTENTS: Mapping[str, Callable[[bytes], bytes]] = {
    "empty": lambda _: b"",
    "zeros": lambda _: bytes(5000),
    "truncated": lambda data: data[: len(data) // 2],
    "bit-flipped": lambda data: data[:2000] + bytes([data[2000] ^ 4]) + data[2001:],
    "nested": lambda _: b'{"format": "cornerwalk session", "version": 1, "id": "x", "events": ' + b"[" * 300_000,
    "nested-whole": lambda _: b'{"format": "cornerwalk session", "a": ' + b"[" * 100_000 + b"]" * 100_000 + b"}",
    "a-million-values": lambda _: b'{"format": "cornerwalk session", "events": [' + b"{}," * 10**6 + b"0]}",
    "twice": lambda data: data.replace(b'"stage":', b'"stage": "loaded", "stage":', 1),
    "not-a-number": lambda data: data.replace(b'"mm": ', b'"mm": NaN, "x": ', 1),
    "infinity": lambda data: data.replace(b'"seq": 1,', b'"seq": Infinity,', 1),
    "huge-integer": lambda data: data.replace(b'"seq": 1,', b'"seq": 1' + b"0" * 400 + b",", 1),
    "endless-integer": lambda data: data.replace(b'"seq": 1,', b'"seq": ' + b"9" * 20_000 + b",", 1),
    "huge-version": lambda data: re.sub(rb'"version": \d+,', b'"version": ' + b"9" * 4000 + b",", data, count=1),
    "half-a-character": lambda data: data.replace(b'"title": "', b'"title": "\\ud800', 1),
    "utf-16": lambda data: data.decode().encode("utf-16"),
    "latin-1": lambda data: data.replace(b'"title": "', b'"title": "\xe4\xf6', 1),
    "byte-order-mark": lambda data: b"\xef\xbb\xbf" + data,
    "newer": lambda data: re.sub(rb'"version": \d+', b'"version": 99', data, count=1),
    "foreign": lambda _: b'{"name": "some other program", "events": 12}',
    "a-list": lambda _: b"[1, 2, 3]",
    "a-text": lambda _: b'"cornerwalk session"',
    "program": lambda _: b"#!/bin/sh\ntouch owned\n",
    "acts": _changed(_texts_that_act),
    "names-climb": _changed(lambda d: d.update(id="../../../../tmp/owned")),
    "tiny-heights": _changed(_heights(5e-324)),
    "huge-heights": _changed(_heights(1e12)),
    "endless-heights": _changed(_heights(1.7e308)),
    "negative-heights": _changed(_heights(-1e9)),
    "year-1": _changed(_times("0001-01-01T00:00:00+23:59")),
    "year-9999": _changed(_times("9999-12-31T23:59:59-23:59")),
    "no-offset": _changed(_times("2026-05-04T08:12:00")),
    "no-time": _changed(_times("yesterday\x1b[2J")),
    "undoes-anything": _changed(_undone),
}
