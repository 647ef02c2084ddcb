"""A session from every version of the format is replayed and checked as on the day it was written.

`frozen` holds one of each version as the program itself made it, from an invented job sheet and a few
corrections; `tests/store/frozen` holds one of each with every kind of event in it, made by the program as well. None of
them is ever written again.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from cornerwalk.session.log import VERSION
from tests.cli.calling import Said, run

TESTS = Path(__file__).parent.parent
MADE = Path(__file__).parent / "frozen"
FROZEN = sorted((*MADE.glob("v*.json"), *(TESTS / "store" / "frozen").glob("v*.json")))

# SHA-256 of each file as it was first kept: one that was "updated" is no frozen file.
KEPT = {
    "v1.json": "2a90f6d4134b6e2302f1275114f80b375dd7613a04e07385c7be35ef1d543de8",
    "v2.json": "7aa4caf5fc9c3a6e2e3552259b640b0ca22c630d8264a99e61f8381f53322c52",
}


def name_of(path: Path) -> str:
    return f"{path.parent.parent.name}-{path.stem}"


def test_there_is_one_of_every_version() -> None:
    """A new version of the format comes with a file of it."""
    assert {path.name for path in MADE.iterdir()} == {f"v{number}.json" for number in range(1, VERSION + 1)}
    assert set(KEPT) == {path.name for path in MADE.iterdir()}


@pytest.mark.parametrize("name", KEPT)
def test_it_is_as_it_was_kept(name: str) -> None:
    """Byte for byte."""
    assert hashlib.sha256((MADE / name).read_bytes()).hexdigest() == KEPT[name]


@pytest.mark.parametrize("path", FROZEN, ids=name_of)
def test_it_is_replayed(path: Path, capsys: Said) -> None:
    """Every event has its line, in order."""
    assert run("replay", path) == 0
    lines = capsys.readouterr().out.splitlines()
    events = json.loads(path.read_bytes())["events"]
    assert [int(line.split()[0]) for line in lines] == [event["seq"] for event in events]


@pytest.mark.parametrize("path", FROZEN, ids=name_of)
def test_it_passes_the_check(path: Path, capsys: Said) -> None:
    """Its texts are read as they were then; figures of a program that is no more are at most news."""
    assert run("check", path) == 0
    assert "as it was written" in capsys.readouterr().out
