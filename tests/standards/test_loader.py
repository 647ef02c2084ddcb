"""The shop's own rule files: what is understood is loaded, what is not is refused by name, line and reason."""

from __future__ import annotations

import contextlib
import os
import random
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.standards import RefusedFile, UnknownAimRuleError, load_standards
from cornerwalk.standards.rule_file import read_rules
from cornerwalk.textfiles import TextFileError, TomlError

OURS = """\
[[aim_rule]]
id = "shop-2in"
title = "Ours: 2 in either way at 25 ft"
source = "agreed with the inspection station"
standing = "own"
datum = "lamp centre"
nominal = "0.4 deg down"
distance = "25 ft"
deviation = "2 in"
"""

BANDED = """\
[[aim_rule]]
id = "shop-bands"
title = "Ours by height"
source = "ours"
standing = "own"
datum = "lower edge"

[[aim_rule.band]]
at_least = "0.5 m"
below = "35 in"
upper = "-0.5 %"
lower = "1 % down"
lower_per_metre = "-1 %"

[[aim_rule.band]]
at_least = "35 in"
upper = "-1 %"
"""


def refused_of(folder: Path, name: str, text: str) -> RefusedFile:
    """The refusal of one file with this text; everything packaged still loads."""
    (folder / name).write_text(text, encoding="utf-8")
    standards = load_standards(folder)
    assert [refused.name for refused in standards.refused] == [name]
    assert standards.aim_rules.keys() == load_standards().aim_rules.keys()
    return standards.refused[0]


def test_packaged_files_are_all_understood() -> None:
    """Nothing that ships is refused, and the ids that a job sheet may name are there."""
    standards = load_standards()
    assert standards.refused == ()
    assert {
        "us-vol",
        "us-vor",
        "us-4in-25ft",
        "us-utah-10ft",
        "un-r48-09",
        "un-r48-08",
        "uk-mot",
        "nz-virm",
        "none",
    } <= (standards.aim_rules.keys())


def test_own_rule_is_one_file(tmp_path: Path) -> None:
    """A rule of the shop's own is used like a packaged one."""
    (tmp_path / "ours.toml").write_text(OURS, encoding="utf-8")
    rule = load_standards(tmp_path).aim_rule("shop-2in")
    band = rule.band_percent()
    assert (rule.nominal_deg, rule.distance_mm, rule.deviation_mm) == (-0.4, 7620.0, 50.8)
    assert band is not None
    assert band.upper_percent == pytest.approx(-0.69813 + 100 * 2 / 300, abs=1e-4)


def test_own_rule_by_height(tmp_path: Path) -> None:
    """Bands take any unit of length, either end open or closed, and limits that change with height."""
    (tmp_path / "bands.toml").write_text(BANDED, encoding="utf-8")
    rule = load_standards(tmp_path).aim_rule("shop-bands")
    low, high = rule.band_percent(600.0), rule.band_percent(889.0)
    assert low is not None
    assert high is not None
    assert low.lower_percent == pytest.approx(-1.6)
    assert (high.upper_percent, high.lower_percent) == (-1.0, None)
    assert rule.band_percent(499.0) is None


def test_folder_that_is_not_there_is_no_trouble(tmp_path: Path) -> None:
    """A shop without rules of its own needs no folder."""
    assert load_standards(tmp_path / "nowhere").refused == ()


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        ("datum =", "dattum =", 6, "did you mean datum?"),
        ('"own"', '"heard"', 5, "seen, second-hand, memory, common practice, own"),
        ("[[aim_rule]]", "[[aimrule]]", 1, "did you mean [aim_rule]?"),
        ("[[aim_rule]]", "[aim_rule]", 1, "[[aim_rule]]"),
        ('"2 in"', "2", 9, 'deviation = "2"'),
        ('"2 in"', '"2 inn"', 9, "2 in"),
        ('"2 in"', '"0 in"', 9, "more than nothing"),
        ('"25 ft"', '"0 ft"', 8, "more than nothing"),
        ('"0.4 deg down"', '"30 deg"', 7, "10°"),
        ('"0.4 deg down"', '"0.4"', 7, "write for example 0.4° down"),
        ('"0.4 deg down"', '"0.4 down"', 7, "write for example 0.4° down"),
        ('nominal = "0.4 deg down"\n', "", 8, "needs the nominal"),
        ('id = "shop-2in"\n', "", 1, "lacks id"),
        ('"shop-2in"', '"Shop 2in"', 2, "small letters"),
        ('"shop-2in"', '"us-vol"', None, "taken"),
        ('"2 in"', '"2 in', 9, "TOML"),
        ('"25 ft"', '"nan ft"', 8, "distance"),
    ],
)
def test_mistakes_are_named_with_their_line(tmp_path: Path, old: str, new: str, line: int | None, told: str) -> None:
    """Each mistake is told with the line it stands on and what would be right; nothing of the file is used."""
    assert old in OURS
    refused = refused_of(tmp_path, "ours.toml", OURS.replace(old, new, 1))
    assert told in " / ".join(
        [refused.reason, *(problem.template.format(**problem.fields) for problem in refused.problems)]
    )
    assert refused.line == line


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('below = "35 in"', 'at_most = "35 in"', "same height"),
        ('below = "35 in"', 'below = "1.2 m"', "same height"),
        ('at_least = "0.5 m"', 'at_least = "1 m"', "ends below its beginning"),
        ('upper = "-0.5 %"', 'upper = "-3 %"', "lies below its lower one"),
        ('upper = "-1 %"', "", "neither an upper nor a lower"),
        ('upper = "-1 %"', 'lower_per_metre = "1 %"', "lacks lower"),
        ('below = "35 in"', 'below = "35 in"\nat_most = "35 in"', "not both"),
        (
            'datum = "lower edge"',
            'datum = "lower edge"\nnominal = "-1 %"\ndeviation = "2 in"',
            "either a deviation or bands",
        ),
    ],
)
def test_bands_that_make_no_sense_are_refused(tmp_path: Path, old: str, new: str, told: str) -> None:
    """Bands that overlap, cross, end before they begin or limit nothing are refused."""
    assert old in BANDED
    refused = refused_of(tmp_path, "bands.toml", BANDED.replace(old, new, 1))
    assert told in " / ".join(problem.template.format(**problem.fields) for problem in refused.problems)


def test_other_files_still_load(tmp_path: Path) -> None:
    """A refused file costs only itself, also when it is empty, no text, no file or no TOML at all."""
    (tmp_path / "b-ours.toml").write_text(OURS, encoding="utf-8")
    (tmp_path / "a-empty.toml").write_text("", encoding="utf-8")
    (tmp_path / "c-binary.toml").write_bytes(b"\xff\xfe\x00\x01")
    (tmp_path / "d-folder.toml").mkdir()
    (tmp_path / "e-notes.txt").write_text("remember the milk", encoding="utf-8")
    (tmp_path / "f-deep.toml").write_text("a = " + "[" * 50_000, encoding="utf-8")
    (tmp_path / "g-large.toml").write_text("#" * 300_000, encoding="utf-8")
    (tmp_path / ".hidden").write_text("not looked at", encoding="utf-8")
    standards = load_standards(tmp_path)
    assert "shop-2in" in standards.aim_rules
    assert [refused.name[0] for refused in standards.refused] == ["a", "c", "d", "e", "f", "g"]
    assert all(refused.reason for refused in standards.refused)


def test_two_own_rules_of_one_id(tmp_path: Path) -> None:
    """An id keeps its first meaning: a second file that takes it is refused, and so is one that takes it twice."""
    (tmp_path / "a.toml").write_text(OURS, encoding="utf-8")
    (tmp_path / "b.toml").write_text(OURS.replace("2 in", "3 in"), encoding="utf-8")
    (tmp_path / "c.toml").write_text((OURS + OURS).replace("shop-2in", "shop-twice"), encoding="utf-8")
    standards = load_standards(tmp_path)
    assert standards.aim_rule("shop-2in").deviation_mm == 50.8
    assert [refused.name for refused in standards.refused] == ["b.toml", "c.toml"]


@pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX pipe")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    """Something in the folder that is no regular file is refused and does not hang the program."""
    os.mkfifo(tmp_path / "pipe.toml")
    assert [refused.name for refused in load_standards(tmp_path).refused] == ["pipe.toml"]


@pytest.mark.parametrize(
    ("asked", "nearest"), [("us-vole", "us-vol"), ("UN-R48-9", "un-r48-09"), ("mot", "uk-mot"), ("qqqqqqqq", None)]
)
def test_unknown_rule_names_the_nearest(asked: str, nearest: str | None) -> None:
    """A rule that is not loaded is an error of its own that names the nearest id, or all of them."""
    with pytest.raises(UnknownAimRuleError) as caught:
        load_standards().aim_rule(asked)
    assert caught.value.nearest == nearest
    assert (nearest or "uk-mot, nz-virm") in str(caught.value)
    assert asked in str(caught.value)


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused(text: str) -> None:
    """No text makes the reader raise anything but its own two errors."""
    with contextlib.suppress(TomlError, TextFileError):
        read_rules("any", text)


def test_any_damage_is_read_or_refused() -> None:
    """A rule file with characters taken out, doubled or changed anywhere is read or refused, never a crash."""
    rng = random.Random(20260504)
    for _ in range(3000):
        text = list(BANDED if rng.random() < 0.5 else OURS)
        for _ in range(rng.randint(1, 4)):
            at = rng.randrange(len(text))
            text[at] = rng.choice(["", text[at] * 2, '"', "[", "]", "=", "-", "9" * 30, "\n", "é", "\x00"])
        with contextlib.suppress(TomlError, TextFileError):
            read_rules("damaged", "".join(text))
