"""`list`: by vehicle, technician and verdict, and in other orders than that of work."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cornerwalk.assess import assess
from cornerwalk.samples import sample_folder
from cornerwalk.standards import load_standards
from cornerwalk.store.loader import load_session
from tests.cli.calling import Said, run

NAMES = ("camper", "front-stays-up", "half-done", "misread-corner")


def listed(library: Path, said: Said, *options: str) -> list[str]:
    """The names of the sessions listed, in order."""
    assert run("--library", library, "list", *options) == 0
    return re.findall(r"^ +(\S+)\.json$", said.readouterr().out, re.MULTILINE)


@pytest.mark.parametrize(
    ("options", "names"),
    [
        (["--technician", "ak"], {"misread-corner"}),
        (["--vehicle", "PICKUP"], {"half-done"}),
        (["--vehicle", "invented", "--technician", "mt", "--unfinished"], {"front-stays-up", "half-done"}),
        (["--vehicle", "submarine"], set()),
        (["--find", "PICKUP half"], {"half-done"}),
        (["--find", "nowhere"], set()),
        (["--unfinished"], {"half-done", "misread-corner", "front-stays-up"}),
        (["--since", "2026-05-01", "--until", "2026-05-31"], {"half-done", "front-stays-up"}),
    ],
)
def test_what_narrows_the_list(options: list[str], names: set[str], sample_library: Path, capsys: Said) -> None:
    """Words anywhere, vehicle, technician, state and days; part of a word is enough, capitals do not matter."""
    assert set(listed(sample_library, capsys, *options)) == names


def verdicts() -> dict[str, str]:
    found: dict[str, str] = {}
    for name in NAMES:
        path = sample_folder() / f"{name}.json"
        found[name] = assess(load_session(path, path.read_bytes()).session, load_standards()).overall
    return found


@pytest.mark.parametrize("verdict", ["fail", "pass", "not checked", "FAIL", "not"])
def test_by_verdict(verdict: str, sample_library: Path, capsys: Said) -> None:
    """Those that assess gives this verdict, or one that begins so; each line says which."""
    right = {name for name, overall in verdicts().items() if overall.startswith(verdict.casefold())}
    assert set(listed(sample_library, capsys, "--verdict", verdict)) == right
    assert right or verdict not in verdicts().values()


def test_an_unknown_verdict_names_those_there_are(sample_library: Path, capsys: Said) -> None:
    """Bad input, said in a line."""
    assert run("--library", sample_library, "list", "--verdict", "splendid") == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "conditional fail" in said.err


@pytest.mark.parametrize(
    ("order", "names"),
    [
        ("worked on last", ["misread-corner", "front-stays-up", "half-done", "camper"]),
        ("opened", ["misread-corner", "front-stays-up", "half-done", "camper"]),
        ("vehicle", ["front-stays-up", "misread-corner", "half-done", "camper"]),
        ("technician", ["misread-corner", "front-stays-up", "half-done", "camper"]),
    ],
)
def test_orders(order: str, names: list[str], sample_library: Path, capsys: Said) -> None:
    """By time the latest first, by name in the order of the alphabet."""
    assert listed(sample_library, capsys, "--order", order) == names


def test_the_worst_first(sample_library: Path, capsys: Said) -> None:
    """In the order of how bad they are; within one verdict the one most recent first."""
    rank = ["fail", "conditional fail", "not checked", "conditional pass", "pass"]
    found = listed(sample_library, capsys, "--order", "verdict")
    ranks = [rank.index(verdicts()[name]) for name in found]
    assert ranks == sorted(ranks)
    assert len(found) == len(NAMES)


def test_a_damaged_file_is_listed_as_unreadable(sample_library: Path, capsys: Said) -> None:
    """It has no verdict, and is not left out."""
    path = sample_library / "camper.json"
    path.write_bytes(path.read_bytes()[:-500])
    assert listed(sample_library, capsys, "--verdict", "unreadable") == ["camper"]
