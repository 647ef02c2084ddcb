"""The line mode in the other languages: the same keys, the same record, the country's words and decimal mark."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.line.words import spoken, words
from cornerwalk.session.events import HandedOver, HeightRead
from cornerwalk.words import tr_in, use_language
from tests.line import whole_job as job
from tests.line.talking import VEHICLE, WORKED_WALK, Talk, as_one, job_from, new_job

OTHERS = ("de", "es")


@pytest.mark.parametrize("language", OTHERS)
def test_the_same_lines_make_the_same_record(language: str, tmp_path: Path) -> None:
    """A whole job typed alike is recorded alike: the language changes what is said, never what is kept."""
    english = new_job(tmp_path / "en")
    english.say(*job.SCRIPT)
    assert use_language(language) == language
    other = new_job(tmp_path / language)
    said = as_one(other.say(*job.SCRIPT))
    assert not other.conversation.refused
    assert other.recorded()[1:] == english.recorded()[1:]
    assert isinstance(other.recorded()[-1], HandedOver)
    assert "Saved" not in said


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    """The job of the worked case, at its first corner."""
    return job_from(tmp_path, VEHICLE)


# Source: as in tests/line/test_walk.py, the method's worked case.
@pytest.mark.parametrize(
    ("language", "body"),
    [
        ("de", "Karosserie: vorn 0,25 in ± 0,12 höher, hinten 1,53 in ± 0,21 tiefer, Front hoch 0,86° ± 0,11."),
        ("es", "Carrocería: delante 0,25 in ± 0,12 arriba, detrás 1,53 in ± 0,21 abajo, delantera alta 0,86° ± 0,11."),
    ],
)
def test_results_have_the_decimal_comma_and_entries_stay_as_typed(talk: Talk, language: str, body: str) -> None:
    """What was typed is said back and kept letter by letter; what was reckoned is written as the country writes."""
    use_language(language)
    said = as_one(talk.say(*WORKED_WALK))
    assert body in said
    assert "29,6 psi" in said
    assert "27 5/8" in said
    typed = [what.entered for what in talk.recorded() if isinstance(what, HeightRead)]
    assert typed == [line for line in WORKED_WALK if "/" in line]


@pytest.mark.parametrize("language", OTHERS)
def test_a_height_typed_with_a_comma_is_kept_with_it(talk: Talk, language: str) -> None:
    """`28,75` is a number here; the file keeps the comma, the figure is the same."""
    use_language(language)
    talk.say("28,75")
    (read,) = [what for what in talk.recorded() if isinstance(what, HeightRead)]
    assert read.entered == "28,75"
    assert read.mm == pytest.approx(28.75 * 25.4)


@pytest.mark.parametrize("language", ["en", *OTHERS])
def test_no_two_words_are_called_alike(language: str) -> None:
    """Every word is found by its English name, its own and its short form, and none stands in the way of a yes."""
    use_language(language)
    for each in words():
        for called in filter(None, (each.name, each.local, each.local.upper(), each.short)):
            found = spoken(called, alone=True)
            assert found is not None, called
            assert found[0].name == each.name, called
    assert spoken(tr_in("short for yes", "y"), alone=True) is None
    assert spoken(tr_in("short for no", "n"), alone=True) is None


@pytest.mark.parametrize(("language", "typed", "name"), [("de", "zuruck", "undo"), ("es", "presion 25", "pressure")])
def test_a_word_is_understood_without_its_accents(language: str, typed: str, name: str) -> None:
    """A keyboard without them takes back as well."""
    use_language(language)
    found = spoken(typed, alone=False)
    assert found is not None
    assert found[0].name == name


@pytest.mark.parametrize(("language", "yes"), [("de", "j"), ("es", "s")])
def test_a_yes_of_the_language_answers_a_check(talk: Talk, language: str, yes: str) -> None:
    """The letter that a speaker types without thinking is the answer, not a word of ours."""
    talk.say("before")
    use_language(language)
    talk.say(yes)
    assert not talk.conversation.refused
    assert [answer.answer for answer in talk.session.answers] == ["yes"]
