"""Files that come from who knows where: each is read, or refused with its reason; none harms, hangs or is changed."""

from __future__ import annotations

import errno
import json
import os
import socket
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.session.events import Undone
from cornerwalk.session.log import FIRST_CHAIN, chain_of
from cornerwalk.store import (
    DiskError,
    MissingFileError,
    NewerVersionError,
    NotAFileError,
    NotASessionError,
    StoreError,
    TooLargeError,
    UnknownContentError,
)
from cornerwalk.store import loader as stored_module
from cornerwalk.store import safe_read as reading_module
from cornerwalk.store.check import check_file
from cornerwalk.store.format import MAX_EVENTS, MAX_FILE_BYTES, JsonError, parse_json
from cornerwalk.store.safe_read import read_bytes
from tests.store.support import FaultyDisk, QuickDisk, failing, four_heights, library, note, opened
from tests.support.known import known
from tests.support.processor import cpu_seconds


@pytest.fixture
def good(tmp_path: Path) -> Path:
    with library(tmp_path / "good").create(opened(), *four_heights(), note("½ in\u202e\x9b")) as session:
        return session.path


def plain(path: Path) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(path.read_bytes())
    return document


def rechained(document: dict[str, Any]) -> bytes:
    """As a forger would: every chain computed anew."""
    before = FIRST_CHAIN
    for event in document["events"]:
        event.pop("chain", None)
        before = event["chain"] = chain_of(before, event)
    return json.dumps(document).encode()


def headed(path: Path, **fields: object) -> bytes:
    return json.dumps(plain(path) | fields).encode()


def edited(path: Path, number: int, /, **fields: object) -> dict[str, Any]:
    """The document with other fields in one event."""
    document = plain(path)
    document["events"][number - 1].update(fields)
    return document


def changed(path: Path, number: int, /, **fields: object) -> bytes:
    return json.dumps(edited(path, number, **fields)).encode()


def arranged(path: Path, arrange: Callable[[list[Any]], list[Any]]) -> dict[str, Any]:
    """The document with its events in another way."""
    document = plain(path)
    return document | {"events": arrange(document["events"])}


def as_json(path: Path, arrange: Callable[[list[Any]], list[Any]]) -> bytes:
    return json.dumps(arranged(path, arrange)).encode()


def with_height(path: Path, text: bytes) -> bytes:
    """The bytes with another value in place of the first height's."""
    return path.read_bytes().replace(b'"mm": 700.0', b'"mm": ' + text, 1)


Make = Callable[[Path], bytes]

# What is done to a good file of six events; how many of them can still be read; what the damage must say.
DAMAGED: dict[str, tuple[Make, int, str]] = {
    "cut in the middle": (lambda p: p.read_bytes()[:700], 2, "line 4 cannot be read"),
    "cut after an event": (lambda p: b"\n".join(p.read_bytes().split(b"\n")[:4]), 3, "beginning or its end"),
    "cut before the end": (lambda p: p.read_bytes()[:-4], 6, "beginning or its end"),
    "a byte that is no UTF-8": (lambda p: p.read_bytes().replace(b'"RR"', b'"R\xff"'), 3, "line 5 cannot be read"),
    "zeros at the end": (lambda p: p.read_bytes()[:-60] + bytes(60), 5, "line 7 cannot be read"),
    "more after the end": (lambda p: p.read_bytes() + b"{}", 6, "is not as it was recorded"),
    "a changed value": (lambda p: changed(p, 3, mm=701.0), 2, "event 3 is not as it was recorded"),
    "a changed name": (lambda p: changed(p, 3, by="AB"), 2, "event 3 is not as it was recorded"),
    "a new field": (lambda p: changed(p, 3, surprise=1), 2, "event 3, surprise: this version knows no such field"),
    "a changed chain": (lambda p: changed(p, 6, chain="0" * 64), 5, "event 6 is not as it was recorded"),
    "no chain": (lambda p: changed(p, 2, chain=None), 1, "event 2 is not as it was recorded"),
    "a missing event": (lambda p: as_json(p, lambda e: e[:2] + e[3:]), 2, "or one before it is missing"),
    "two events swapped": (lambda p: as_json(p, lambda e: [e[0], e[2], e[1], *e[3:]]), 1, "event 2 is not as it was"),
    "half a character": (lambda p: changed(p, 3, entered="\ud800"), 2, "event 3 holds what none can hold"),
    "an event that is none": (lambda p: as_json(p, lambda e: [*e[:2], 17, *e[3:]]), 2, "event 3 is none"),
    "the same key twice": (
        lambda p: p.read_bytes().replace(b'"corner": "RF"', b'"corner": "RF", "corner": "RF"'), 2,
        "line 4 cannot be read: 'corner' stands twice",
    ),
    "NaN": (lambda p: with_height(p, b"NaN"), 1, "NaN is no number"),
    "infinity": (lambda p: with_height(p, b"-Infinity"), 1, "-Infinity is no number"),
    "a number beyond all bounds": (lambda p: with_height(p, b"1e999"), 1, "1e999 is beyond"),
    "a number of many digits": (lambda p: with_height(p, b"7" * 5000), 1, "line 3 cannot be"),
    "nested deeply": (lambda p: with_height(p, b"[" * 100_000 + b"]" * 100_000), 1, "nested too deeply"),
    "another format's name": (lambda p: headed(p, format="cornerwalk sessiom"), 6, "does not say that it is one"),
    "no version": (lambda p: headed(p, version=None), 6, "version is None"),
    "version nought": (lambda p: headed(p, version=0), 6, "version is 0"),
    "version true": (lambda p: headed(p, version=True), 6, "version is True"),
    "a version in words": (lambda p: headed(p, version="1"), 6, "version is '1'"),
    "another id": (lambda p: headed(p, id="another"), 6, "names another session"),
    "no id": (lambda p: headed(p, id=None), 6, "has no id"),
    "a new field in the heading": (lambda p: headed(p, surprise=1), 6, "does not know: 'surprise'"),
    "no events": (lambda p: headed(p, events=[]), 0, "holds no event"),
    "events of no kind": (lambda p: headed(p, events={"a": 1}), 0, "not followed by a list of events"),
    "only the heading": (lambda p: p.read_bytes().split(b"\n")[0], 0, "beginning or its end"),
    "a heading cut short": (lambda p: p.read_bytes()[:40], 0, "beginning or its end"),
    "a heading that cannot be read": (lambda p: p.read_bytes()[60:], 6, "beginning or its end"),
}  # fmt: skip


CHECKED = {
    "a changed value": "event 3 was changed after it was recorded",
    "a changed name": "event 3 was changed after it was recorded",
    "a changed chain": "event 6 was changed after it was recorded",
    "no chain": "the chain of event 2 was changed",
    "a missing event": "event 3 is missing",
    "two events swapped": "event 2 was moved: it stands after event 3",
    "half a character": "event 3 was changed after it was recorded",
    "an event that is none": "event 3 is missing",
}
"""What a check, which reads on behind the first break, says of them instead."""


@pytest.mark.parametrize("case", DAMAGED)
def test_a_damaged_file_is_read_as_far_as_it_verifies(good: Path, case: str) -> None:
    """What stands before the damage is read, event by event as it was; the damage is named; the file is not touched."""
    make, readable, said = DAMAGED[case]
    whole = library(good.parent).read(good)
    data = make(good)
    good.write_bytes(data)
    stored = library(good.parent).read(good)
    damage = known(stored.damage)
    assert stored.events == whole.events[:readable] == damage.events
    assert said in damage.template.format(**damage.fields)
    assert good.read_bytes() == data
    check = check_file(good)
    assert not check.ok
    assert CHECKED.get(case, said) in str(check.findings[0])


REFUSED: dict[str, tuple[Make, type[StoreError], str]] = {
    "nothing": (lambda p: b"", NotASessionError, "no cornerwalk session"),
    "zeros": (lambda p: bytes(3000), NotASessionError, "no cornerwalk session"),
    "text": (lambda p: b"Dear customer,\nthe trailer is ready.\n", NotASessionError, "no cornerwalk session"),
    "UTF-16": (lambda p: p.read_bytes().decode().encode("utf-16"), NotASessionError, "no UTF-8"),
    "other JSON": (lambda p: b'{"name": "x"}', NotASessionError, "does not say that it is one"),
    "a list": (lambda p: b"[1, 2]", NotASessionError, "does not say that it is one"),
    "a number": (lambda p: b"1", NotASessionError, "does not say that it is one"),
    "other events": (lambda p: b'{"events": [{"chain": "x"}]}', NotASessionError, "does not say that it is one"),
    "brackets": (lambda p: b"[" * 1_000_000, NotASessionError, "nested too deeply"),
    "a newer version": (lambda p: headed(p, version=3), NewerVersionError, "version 3"),
    "a much newer version": (
        lambda p: headed(p, version=10**9, more="fields", events=None), NewerVersionError, "1000000000",
    ),
    "a newer version cut short": (
        lambda p: p.read_bytes().replace(b'"version": 2', b'"version": 7')[:900], NewerVersionError, "version 7",
    ),
}  # fmt: skip

# Well chained, but not by this program: what is in event 3, or how the events are arranged; what the refusal says.
FORGED: dict[str, tuple[Callable[[Path], dict[str, Any]], str]] = {
    "an unknown kind": (lambda p: edited(p, 3, kind="height guessed"), "event 3: unknown kind 'height guessed'"),
    "an unknown field": (lambda p: edited(p, 3, surprise=1), "event 3, surprise: this version knows no such field"),
    "wrong numbers": (lambda p: edited(p, 3, seq=9), "event 3 has the number 9"),
    "a huge number": (lambda p: edited(p, 3, number=10**4000), "event 3, number"),
    "no time": (lambda p: edited(p, 3, at="noon"), "no ISO 8601 time"),
    "opened twice": (
        lambda p: arranged(p, lambda e: [e[0], e[0] | {"seq": 2}, *e[2:]]), "event 2 is out of place",
    ),
    "not opened": (lambda p: arranged(p, lambda e: [e[1] | {"seq": 1}, *e[1:]]), "event 1 is out of place"),
}  # fmt: skip
REFUSED |= {
    name: (lambda p, make=make: rechained(make(p)), UnknownContentError, said)  # type: ignore[misc]
    for name, (make, said) in FORGED.items()
}


@pytest.mark.parametrize(("make", "error", "said"), REFUSED.values(), ids=list(REFUSED))
def test_what_is_no_session_of_ours_is_refused_with_the_reason(
    good: Path, make: Make, error: type[StoreError], said: str
) -> None:
    """Foreign files, newer versions and what this version does not know: refused by name, and left as they are."""
    data = make(good)
    good.write_bytes(data)
    shelf = library(good.parent)
    for use in (shelf.read, shelf.open, shelf.follow):
        with pytest.raises(error) as caught:
            use(good)
        assert said in str(caught.value)
        assert len(str(caught.value)) < 1000
    assert good.read_bytes() == data
    assert [path.name for path in good.parent.iterdir()] == [good.name]
    assert not check_file(good).ok


@pytest.mark.parametrize(
    "resaved",
    [
        lambda data: b"\xef\xbb\xbf" + data,
        lambda data: data.replace(b"\n", b"\r\n"),
        lambda data: json.dumps(json.loads(data), indent=2).encode(),
        lambda data: json.dumps(json.loads(data), sort_keys=True).encode(),
    ],
    ids=["byte-order mark", "carriage returns", "indented", "sorted"],
)
def test_a_file_saved_again_by_an_editor_opens_and_check_says_so(good: Path, resaved: Callable[[bytes], bytes]) -> None:
    """Layout carries no meaning: such a file opens and goes on; `check` says that something else has saved it."""
    good.write_bytes(resaved(good.read_bytes()))
    check = check_file(good)
    assert [finding.level for finding in check.findings] == ["fault"]
    assert "not written as this program writes it" in str(check.findings[0])
    with library(good.parent).open(good) as session:
        session.record(note("goes on"))
    assert check_file(good).ok


def test_a_gigabyte_is_refused_unread(tmp_path: Path) -> None:
    """A file is judged by its size before a byte of it is read: no time, no memory."""
    path = tmp_path / "big.json"
    with path.open("wb") as file:
        file.truncate(1 << 30)
    tracemalloc.start()
    with pytest.raises(TooLargeError, match="1,073,741,824"):
        library(tmp_path).read(path)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 1_000_000


class LyingDisk(QuickDisk):
    """Says that files are empty, as the files of a system's own folders do."""

    def fstat(self, handle: int) -> os.stat_result:
        real = list(super().fstat(handle))
        real[6] = 0
        return os.stat_result(real)


def test_a_file_that_grows_is_refused_while_it_is_read(tmp_path: Path) -> None:
    """What claims to be small and is not stops at the limit."""
    path = tmp_path / "s.json"
    path.write_bytes(b" " * 3_000_000)
    with pytest.raises(TooLargeError):
        read_bytes(LyingDisk(), path, most=2_000_000)
    assert len(read_bytes(LyingDisk(), path)[0]) == 3_000_000


def test_a_million_events_are_refused_with_the_reason(tmp_path: Path) -> None:
    """Too many events for any job: refused by size, or by number where they are small."""
    path = tmp_path / "s.json"
    event = b'{"seq": 1, "at": "2026-05-04T08:12:31-06:00", "by": "MT", "kind": "undone", "undoes": 1},\n'
    path.write_bytes(b'{"format": "cornerwalk session", "version": 1, "id": "x", "events": [\n' + event * 1_000_000)
    with pytest.raises(TooLargeError, match="bytes"):
        library(tmp_path).read(path)
    path.write_bytes(b'{"format": "cornerwalk session", "version": 1, "id": "x", "events": [\n' + b"{},\n" * 1_000_000)
    with pytest.raises(TooLargeError, match="over 50,000"):
        library(tmp_path).read(path)


def test_as_many_events_as_fit_are_handled(tmp_path: Path) -> None:
    """A session of five thousand events is recorded at one go, opened, and gone on with."""
    shelf = library(tmp_path)
    with shelf.create(opened(), *[Undone(undoes=1)] * 4999) as session:
        pass
    with shelf.open(session.path) as again:
        assert len(again.events) == 5000
    assert MAX_EVENTS * 200 < MAX_FILE_BYTES


def test_a_number_of_events_is_judged_before_any_is_built(good: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The limit is on the list, whatever is in it."""
    monkeypatch.setattr(stored_module, "MAX_EVENTS", 5)
    with pytest.raises(TooLargeError, match="over 5"):
        library(good.parent).read(good)


def test_a_disk_that_fails_while_reading_is_a_disk_problem(good: Path) -> None:
    """An error of the system becomes ours, with its reason."""
    for call, reason in (("open", "no right"), ("fstat", "an error"), ("read", "an error")):
        disk = FaultyDisk(act=failing(errno.EACCES if call == "open" else errno.EIO))
        disk.at = ["open", "fstat", "read"].index(call) + 1
        with pytest.raises(DiskError, match=reason):
            library(good.parent, disk=disk).read(good)


def test_what_a_message_repeats_of_a_file_is_short(good: Path) -> None:
    """A name of a megabyte is not shown whole."""
    good.write_bytes(rechained(edited(good, 3, kind="x" * 1_000_000)))
    with pytest.raises(UnknownContentError) as caught:
        library(good.parent).read(good)
    assert len(str(caught.value)) < 300
    assert "…" in str(caught.value)


def test_many_keys_of_one_object_are_no_long_wait() -> None:
    """Looking for the name that stands twice costs no more of the processor than some tens of plain readings."""
    text = "{" + "".join(f'"{number}":1,' for number in range(200_000)) + '"199999":2}'
    plain_s = cpu_seconds(lambda: json.loads(text))
    with pytest.raises(JsonError, match="'199999' stands twice"):
        parse_json(text)
    assert cpu_seconds(lambda: parse_json(text), JsonError) < 30 * plain_s


@given(st.binary(max_size=300) | st.text(max_size=300).map(lambda text: text.encode("utf-8", "replace")))
def test_random_bytes_are_refused_and_nothing_else(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    """Whatever the bytes, the only errors are the store's own."""
    path = tmp_path_factory.mktemp("random") / "s.json"
    path.write_bytes(data)
    with pytest.raises(StoreError):
        library(path.parent).read(path)
    library(path.parent).summaries()


@given(st.data())
def test_flipped_bits_never_pass(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    """A good file with any bytes changed, removed or put in is found out by `check`; only our own errors arise."""
    folder = tmp_path_factory.mktemp("flipped")
    with library(folder).create(opened(), *four_heights(), note("½ in")) as session:
        pass
    right = session.path.read_bytes()
    wrong = bytearray(right)
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(wrong) - 1))
        match data.draw(st.sampled_from(["change", "remove", "put in"])):
            case "change":
                wrong[at] = data.draw(st.integers(0, 255))
            case "remove":
                del wrong[at : at + data.draw(st.integers(1, 40))]
            case "put in":
                wrong[at:at] = data.draw(st.binary(min_size=1, max_size=5))
        if not wrong:
            return
    session.path.write_bytes(wrong)
    assert check_file(session.path).ok == (bytes(wrong) == right)
    library(folder).summaries()


def special(folder: Path, kind: str) -> Path:
    path = folder / "special.json"
    match kind:
        case "folder":
            path.mkdir()
        case "pipe":
            os.mkfifo(path)
        case "link":
            (folder / "real.json").write_text("{}")
            path.symlink_to(folder / "real.json")
        case "link to itself":
            path.symlink_to(path)
        case "link to an endless device":
            path.symlink_to("/dev/zero")
        case "socket":
            server = socket.socket(socket.AF_UNIX)
            server.bind(str(path))
            server.close()
        case "device":
            return Path("/dev/zero")
        case "terminal":
            return Path("/dev/ptmx")
        case "no name of a file":
            return folder / "a\0b.json"
        case "a file used as a folder":
            (folder / "file").touch()
            return folder / "file" / "s.json"
    return path


@pytest.mark.parametrize(
    ("kind", "error"),
    [
        ("folder", NotAFileError),
        ("pipe", NotAFileError),
        ("link", NotAFileError),
        ("link to itself", NotAFileError),
        ("link to an endless device", NotAFileError),
        ("socket", NotAFileError),
        ("device", NotAFileError),
        ("terminal", NotAFileError),
        ("no name of a file", NotAFileError),
        ("a file used as a folder", MissingFileError),
        ("missing", MissingFileError),
    ],
)
def test_what_is_no_file_is_not_read(tmp_path: Path, kind: str, error: type[StoreError]) -> None:
    """A folder, link, pipe, socket or device in place of a file is refused at once, and nothing is read from it."""
    path = special(tmp_path, kind)
    shelf = library(tmp_path)
    for use in (shelf.read, shelf.open, shelf.follow, lambda p: read_bytes(QuickDisk(), p)):
        with pytest.raises(error):
            use(path)

    assert not check_file(path).ok
    assert all(summary.damaged or summary.path.name == "real.json" for summary in shelf.summaries())


def test_a_link_is_refused_where_the_system_cannot(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As on Windows, where opening has no way to refuse a link."""
    monkeypatch.setattr(reading_module, "NO_LINK", 0)
    with pytest.raises(NotAFileError, match="a link"):
        read_bytes(QuickDisk(), special(tmp_path, "link"))
    assert read_bytes(QuickDisk(), tmp_path / "real.json")[0] == b"{}"


def test_a_folder_that_the_system_will_not_open_is_a_folder(tmp_path: Path) -> None:
    """As on Windows, which calls it a lack of rights."""
    with pytest.raises(NotAFileError, match="a folder"):
        read_bytes(FaultyDisk(at=1, act=failing(errno.EACCES)), tmp_path)
