"""The shop's rule files may be anything: the job goes on with the program's own, and says so with file and line."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess import assess
from cornerwalk.context import WalkView
from cornerwalk.line.conversation import Conversation
from cornerwalk.report.results import results_document
from cornerwalk.standards import load_standards
from cornerwalk.standards.rule_file import read_rules
from cornerwalk.textfiles import TextFileError, TomlError
from cornerwalk.words import use_language
from tests.cli.calling import CAMPER, Said, run
from tests.support.jobs import worked_case
from tests.tui.driving import context_of, driven, new_session

OURS = """[[aim_rule]]
id = "shop"
title = "Ours"
source = "ours"
standing = "own"
datum = "lamp centre"
nominal = "0.4 deg down"
"""
NO_UNIT = OURS.replace("0.4 deg down", "0.4")


def _of_size(path: Path, size: int) -> None:
    path.touch()
    os.truncate(path, size)


# What a rule file may be, and what must be said of it.
WRONG: dict[str, tuple[Callable[[Path], object], str]] = {
    "an angle without its unit": (lambda p: p.write_text(NO_UNIT), "line 7"),
    "no TOML": (lambda p: p.write_text("[[aim_rule]\n"), "line 1"),
    "an unknown key": (lambda p: p.write_text(OURS + "hight = 1\n"), "line 8"),
    "a key of a million": (lambda p: p.write_text("x" * 150_000), "line 1"),
    "text that acts": (lambda p: p.write_text(OURS + '"\\u001b[2J\\u202e" = 1\n'), "line 8"),
    "Latin-1": (lambda p: p.write_bytes(OURS.replace("Ours", "\xd6").encode("latin-1")), "line 3"),
    "UTF-16": (lambda p: p.write_bytes(OURS.encode("utf-16")), "UTF-16"),
    "half a character": (lambda p: p.write_text(OURS + 'note = "\\ud800"\n'), "line 8"),
    "not a number": (lambda p: p.write_text(OURS.replace('"0.4 deg down"', "nan")), "line 7"),
    "nested": (lambda p: p.write_text("a = " + "[" * 50_000), "line 1"),
    "a gigabyte": (lambda p: _of_size(p, 1 << 30), "larger"),
    "a folder": (lambda p: p.mkdir(), "a folder"),
    "a pipe": (os.mkfifo, "not a regular file"),
    "a link to an endless device": (lambda p: p.symlink_to("/dev/zero"), "not a regular file"),
    "a link to itself": (lambda p: p.symlink_to(p), "cannot be opened"),
    "empty": (lambda p: p.touch(), "no rule"),
}


@pytest.fixture(params=WRONG)
def wrong(request: pytest.FixtureRequest, own_folder: Path) -> str:
    """A wrong rule file beside a right one; what must be said of it."""
    if sys.platform == "win32":
        pytest.skip("needs pipes and links")
    make, told = WRONG[request.param]
    (own_folder / "rules").mkdir()
    (own_folder / "rules" / "right.toml").write_text(OURS.replace('"shop"', '"right"'))
    make(own_folder / "rules" / "wrong.toml")
    return told


def test_the_commands_go_on_and_say_so(wrong: str, capsys: Said) -> None:
    """`rules` says file and line and lists the others; results and report say that the file is not used."""
    assert run("rules") == 0
    said = capsys.readouterr()
    assert "wrong.toml" in said.err
    assert wrong in said.err
    assert "us-vol" in said.out
    assert "right: Ours" in said.out
    assert run("results", CAMPER) == 0
    findings = {finding["code"]: finding for finding in json.loads(capsys.readouterr().out)["findings"]}
    assert "wrong.toml" in findings["rules-not-used"]["text"]
    assert run("report", CAMPER) == 0
    assert "wrong.toml" in capsys.readouterr().out


async def test_the_walk_opens_and_says_so(own_folder: Path, wrong: str, tmp_path: Path) -> None:
    """The page of the walk is there with the file, its line and what the job goes by; so is the line mode."""
    context = replace(context_of(tmp_path), standards=lambda: load_standards(own_folder / "rules"))
    path = new_session(context)
    async with driven(context, WalkView(path), size=(120, 40)) as d:
        shown = " ".join(d.text.split())
        assert d.page == "WalkScreen"
        assert "wrong.toml" in shown
        assert "The job goes by the program's own rules" in shown
    lines = Conversation(context, WalkView(path)).greeting()
    assert any("wrong.toml" in line and wrong in line for line in lines)


LENGTHS = st.sampled_from(["25 ft", "0.0001 mm", "1 mm", "100 m", "35 in", "0 mm", "1e9 mm", "10"])
PERCENTS = st.sampled_from(["0 %", "-1 %", "100 %", "-100 %", "0.000001 %", "1"])
TEXTS = st.sampled_from(["t", "[/b] {x}", "", "{0}", "$(id)", "=1+1"])
IDS = st.sampled_from(["shop", "us-vol", "none", "x" * 300, "Shop 1"])
STANDINGS = st.sampled_from(["own", "memory", "heard"])


def table(
    head: str, keys: dict[str, st.SearchStrategy[str]], optional: dict[str, st.SearchStrategy[str]]
) -> st.SearchStrategy[str]:
    """A table with all of `keys` and some of `optional`."""
    return st.fixed_dictionaries(keys, optional=optional).map(
        lambda values: "\n".join(
            [f"[[{head}]]", *(f"{key} = {json.dumps(value)}" for key, value in values.items()), ""]
        )
    )


NAMED = {"id": IDS, "title": TEXTS, "source": TEXTS, "standing": STANDINGS}
AIM_RULES = table(
    "aim_rule",
    {**NAMED, "datum": st.sampled_from(["lamp centre", "lower edge"])},
    {
        "nominal": st.sampled_from(["0.4 deg down", "0.4", "-1 %", "10 deg", "90 deg", "0"]),
        "distance": LENGTHS,
        "deviation": LENGTHS,
        "load_state": TEXTS,
        "lowest_lamp": st.sampled_from(["x", "leak-loss", "seat-allowance"]),
    },
)
BANDS = table(
    "aim_rule.band",
    {"upper": PERCENTS},
    {"lower": PERCENTS, "upper_per_metre": PERCENTS, "at_least": LENGTHS, "below": LENGTHS},
)
UNITS = st.sampled_from(["mm", "kPa", "%", "deg", "h", "N", "km", "z"])
VALUES = st.sampled_from(["1 mm", "-5 mm", "1 kPa", "5 %", "0 h", "3 deg", "3", "5 N", "80 km"])
LIMITS = table(
    "limit", {**NAMED, "value": VALUES, "unit": UNITS, "side": st.sampled_from(["upper", "figure"])}, {"within": VALUES}
)
SHARES = table("restoration_rule", NAMED, {"target": PERCENTS, "low": PERCENTS, "high": PERCENTS})


@given(st.tuples(AIM_RULES, st.one_of(st.just(""), BANDS), st.one_of(st.just(""), LIMITS, SHARES)).map("".join))
def test_any_rule_is_refused_with_its_line_or_a_job_can_go_by_it(text: str) -> None:
    """Whatever a rule says in the words that a rule file has, nothing else comes of it."""
    try:
        rules = read_rules("own.toml", text)
    except (TomlError, TextFileError):
        return
    session, standards = worked_case().session, load_standards()
    for rule in rules.aim_rules:
        own = replace(standards, aim_rules={**standards.aim_rules, rule.id: rule})
        job = replace(session, lamps=replace(session.lamps, rule=rule.id))
        results_document(job, assess(job, own))
    for share in rules.restoration_rules:
        own = replace(standards, restoration_rules={share.id: share})
        job = replace(session, hitch=replace(session.hitch, restoration_rule=share.id))
        results_document(job, assess(job, own))


@pytest.mark.parametrize("language", ["de", "es"])
def test_it_is_said_in_the_users_language(language: str, tmp_path: Path) -> None:
    """The finding has its words in every language."""
    from cornerwalk.wording.findings import refused_rules

    (tmp_path / "wrong.toml").write_text(NO_UNIT)
    standards = load_standards(tmp_path)
    english = refused_rules(standards)
    use_language(language)
    assert refused_rules(standards) != english
