"""The words of findings: every code has them, and none lets a level body be read as a safe load."""

from __future__ import annotations

import ast
import inspect
import re
from string import Formatter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess import findings as emitter
from cornerwalk.assess.assessment import Finding, Level
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import finding_text
from cornerwalk.words.findings import FindingWords, finding_words

WORDING = Wording("inch")
WORDS = finding_words()
HOW = {"", "change", "height", "screen", "shift", "above", "aim", "gain"}
RATINGS = {
    "axle-over-rating",
    "tyres-over-rating",
    "over-gvwr",
    "over-gcwr",
    "hitch-over-rating",
    "support-over-rating",
    "over-tongue-share",
    "level-is-not-safe",
    "no-rating-raised",
    "rear-back",
    "beam-back",
}
"""Findings about what is carried, and those that a reader might take for an all-clear."""


def emitted_codes() -> set[str]:
    """Every code that stands in the reckoning, found in its source so that none can be forgotten here."""
    tree = ast.parse(inspect.getsource(emitter))
    strings = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    called = {
        keyword.value.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        for keyword in node.keywords
        if keyword.arg == "code" and isinstance(keyword.value, ast.Constant)
    }
    return {str(code) for code in called} | (strings & set(WORDS))


def everything_said(words: FindingWords) -> str:
    return " ".join((words.heading, *words.text, words.reason, words.action))


def test_every_code_that_is_emitted_has_words() -> None:
    """No finding reaches a user as a bare code, and no words wait for a finding that never comes."""
    assert emitted_codes() ^ set(WORDS) == set()
    assert len(emitted_codes()) > 30


@pytest.mark.parametrize("code", WORDS)
def test_each_is_a_whole_finding(code: str) -> None:
    """Heading, text, reason and next action are there; sentences end; fields ask only for ways that exist."""
    words = WORDS[code]
    assert len(words.heading) <= 45
    for sentence in (*words.text, words.reason, words.action):
        assert sentence[-1] in ".!?", sentence
        for _, name, how, _ in Formatter().parse(sentence):
            assert name is None or (name.isidentifier() and (how or "") in HOW), sentence


@pytest.mark.parametrize("code", sorted(RATINGS))
def test_what_is_carried_is_never_made_light_of(code: str) -> None:
    """Every finding on ratings, and every one that tells of a body or beam brought back, says no rating is raised."""
    assert re.search(r"raises? (no|none of the vehicle's) ratings?", everything_said(WORDS[code])), code


@pytest.mark.parametrize("code", WORDS)
def test_nothing_reads_as_an_all_clear(code: str) -> None:
    """No text calls anything safe, legal, fixed, cured or fine: only what is not so may be named."""
    said = everything_said(WORDS[code]).casefold()
    for word in ("safe", "legal", "approved", "within the law", "fixed", "all right", "nothing to worry"):
        for found in re.finditer(rf"\b{word}\b", said):
            before = said[max(0, found.start() - 40) : found.start()]
            assert re.search(r"\b(not|no|never|does not make this load)\b", before), (code, word)
    assert "restored" not in said or "0 %" in said


@pytest.mark.parametrize("code", WORDS)
def test_a_finding_without_its_figures_still_reads(code: str) -> None:
    """A missing figure is said to be missing; a sentence that needs it is left out."""
    text = finding_text(Finding(code=code, level="caution"), WORDING)
    assert "{" not in text.text + text.reason + text.action
    assert "None" not in text.text


def test_a_sentence_whose_figure_is_missing_is_left_out() -> None:
    """The time to the minimum is told where it is known and not hinted at where it is not."""
    known = Finding(
        code="leak-loss",
        level="caution",
        fields={"line": "both", "loss_kPa": 15.0, "hours": 14.0, "hours_to_minimum": 75.0},
    )
    unknown = Finding(code="leak-loss", level="caution", fields={"line": "both", "loss_kPa": 15.0, "hours": 14.0})
    assert "about 3 days" in finding_text(known, WORDING).text
    assert "minimum" not in finding_text(unknown, WORDING).text


@given(
    st.sampled_from([*WORDS, "of-a-newer-program"]),
    st.sampled_from(["note", "caution", "stop"]),
    st.dictionaries(
        st.sampled_from(["rear_mm", "u_rear_mm", "corner", "joint", "check", "was", "loss_kPa", "axle", "line", "{x}"]),
        st.one_of(st.none(), st.floats(-1e9, 1e9), st.text()),
    ),
)
def test_no_finding_crashes_or_carries_hidden_characters(
    code: str, level: Level, fields: dict[str, float | str | None]
) -> None:
    """Any code with any fields gives one line of visible characters."""
    text = finding_text(Finding(code=code, level=level, fields=fields), WORDING)
    assert text.text
    assert all(c.isprintable() or c in "\u200c\u200d" for c in text.text)
