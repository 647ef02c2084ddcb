"""A level body is never read as a safe load, in whatever language the findings are told."""

from __future__ import annotations

import re

import pytest

from cornerwalk.cli import main
from cornerwalk.words import languages, tr, use_language
from cornerwalk.words.findings import finding_words
from cornerwalk.words.steps import level_is_not_safe
from tests.report.test_finding_words import RATINGS
from tests.words.listening import ROOT

NO_RATING = {
    "en": r"raises? (no|none of the vehicle's) ratings?",
    "de": r"erhöhen? kein(e|en|er|e der) zulässige",
    "es": r"(no (suben?|aumentan?) (ningún|ninguno de los|ninguna) (límite|capacidad)|ningún kit sube un límite)",
}
ALL_CLEAR = {
    "en": r"\b(is|it's|now|again) safe\b|safe to (drive|tow|load)|\bfixed\b|within its limits again",
    "de": r"\b(ist|wieder|jetzt|nun) sicher\b|gefahrlos|unbedenklich|\bbehoben\b",
    "es": r"\b(es|está|ya es) segur[oa]\b(?! \()|sin peligro|\barreglado\b|\bresuelto\b",
}
"""What no finding may say of a load."""


def said_in(language: str, code: str) -> str:
    """All that a finding says, in this language."""
    use_language(language)
    words = finding_words()[code]
    return " ".join(tr(text) for text in (words.heading, *words.text, words.reason, words.action))


def test_there_is_a_pattern_for_every_language() -> None:
    """A language that is added has to say it too."""
    assert sorted(NO_RATING) == sorted(languages()) == sorted(ALL_CLEAR)


@pytest.mark.parametrize("language", NO_RATING)
@pytest.mark.parametrize("code", sorted(RATINGS))
def test_findings_on_what_is_carried_say_that_no_rating_is_raised(code: str, language: str) -> None:
    """Those on ratings, and those that somebody might take for an all-clear."""
    assert re.search(NO_RATING[language], said_in(language, code)), said_in(language, code)


@pytest.mark.parametrize("language", ALL_CLEAR)
@pytest.mark.parametrize("code", sorted(finding_words()))
def test_no_finding_gives_the_all_clear(code: str, language: str) -> None:
    """None says that something is safe or fixed, but to deny it."""
    said = said_in(language, code)
    denied = re.sub(
        r"(not the same as|Level is not|heißt nicht|no es lo mismo que|nicht) (safe|sicher|seguro)", "", said
    )
    found = re.search(ALL_CLEAR[language], denied)
    assert found is None or "does not make this load safe" in said or "no hace segura esta carga" in said, said


@pytest.mark.parametrize(
    ("language", "denied"), [("en", "not safe"), ("de", "nicht sicher"), ("es", "no quiere decir seguro")]
)
def test_the_line_on_the_screen_denies_it(language: str, denied: str) -> None:
    """The one that stands wherever a level body could be taken for a safe load."""
    use_language(language)
    assert denied in level_is_not_safe()


SAYS = {
    "en": ("level body is not a safe load", "air takes none of it away", "air gives back none"),
    "de": ("waagerechte Karosserie ist keine sichere Last", "nimmt nichts davon weg", "gibt nichts davon zurück"),
    "es": ("carrocería a nivel no es una carga segura", "el aire no quita nada", "el aire no devuelve nada"),
}


@pytest.mark.parametrize("language", SAYS)
def test_the_customers_page_denies_it(
    language: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of the plain success too; and what air cannot do is told as it lies: a front that lost load, one that gained."""
    monkeypatch.setenv("LC_ALL", f"{language}_XX.UTF-8")
    denies, takes_none, gives_none = SAYS[language]
    for sample, tells, not_told in (("camper", takes_none, gives_none), ("front-stays-up", gives_none, None)):
        assert main(["report", "--for", "customer", str(ROOT / "sample_sessions" / f"{sample}.json")]) == 0
        page = " ".join(capsys.readouterr().out.split())
        assert denies in page
        assert tells in page
        assert not_told is None or not_told not in page


@pytest.mark.parametrize(
    ("language", "said"),
    [("en", "The load is safe now."), ("de", "Die Last ist sicher."), ("es", "La carga es segura.")],
)
def test_an_all_clear_would_be_seen(language: str, said: str) -> None:
    """The patterns find what they are there for."""
    assert re.search(ALL_CLEAR[language], said)
