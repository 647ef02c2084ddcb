"""The one way every text takes to the user."""

from __future__ import annotations

import io
import string
from pathlib import Path

import pytest
from babel.messages import Catalog
from babel.messages.mofile import write_mo
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.words import language, languages, number, tr, tr_in, tr_n, use_language


@pytest.fixture
def catalogues(tmp_path: Path) -> Path:
    """An invented German catalogue, compiled by a library that is not ours."""
    german = Catalog(locale="de")
    german.add("{corner} is due", "{corner} ist dran")
    german.add(("{count} reading", "{count} readings"), ("{count} Ablesung", "{count} Ablesungen"))
    german.add("left", "links", context="side of the vehicle")
    german.add("left", "übrig", context="remainder")
    german.add(".", ",", context="decimal mark")
    german.add("{height} kept", "{höhe gesichert")
    compiled = io.BytesIO()
    write_mo(compiled, german)
    folder = tmp_path / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "cornerwalk.mo").write_bytes(compiled.getvalue())
    (tmp_path / "half_begun").mkdir()
    return tmp_path


def test_english_is_the_text_itself() -> None:
    """Without a catalogue the text in the source is what the user reads, its fields filled in."""
    assert language() == "en"
    assert tr("{corner} is due", corner="RR") == "RR is due"
    assert tr_n("{count} reading", "{count} readings", 1) == "1 reading"
    assert tr_n("{count} reading", "{count} readings", 0) == "0 readings"
    assert tr_in("side of the vehicle", "left") == "left"
    assert number("27.625") == "27.625"


def test_a_catalogue_is_spoken(catalogues: Path) -> None:
    """Once a language is chosen, its texts, its plural forms, its double meanings and its decimal mark are used."""
    assert use_language("de", catalogues) == "de"
    assert tr("{corner} is due", corner="RR") == "RR ist dran"
    assert tr_n("{count} reading", "{count} readings", 1) == "1 Ablesung"
    assert tr_n("{count} reading", "{count} readings", 4) == "4 Ablesungen"
    assert tr_in("side of the vehicle", "left") == "links"
    assert tr_in("remainder", "left") == "übrig"
    assert number("-27.625") == "-27,625"


def test_a_text_without_translation_stays_english(catalogues: Path) -> None:
    """A catalogue that lags behind the program costs the user no words."""
    use_language("de", catalogues)
    assert tr("Load the vehicle, then {key}.", key="Enter") == "Load the vehicle, then Enter."


def test_a_broken_translation_gives_way_to_the_english(catalogues: Path) -> None:
    """A translator's slip in a field costs the user the language, not the sentence."""
    use_language("de", catalogues)
    assert tr("{height} kept", height="27 5/8") == "27 5/8 kept"


@pytest.mark.parametrize(
    ("code", "spoken"),
    [
        ("de", "de"),
        ("de_AT.UTF-8", "de"),
        ("de-CH", "de"),
        ("de_DE@euro", "de"),
        ("en_US.UTF-8", "en"),
        ("C", "en"),
        ("C.UTF-8", "en"),
        ("POSIX", "en"),
        ("", "en"),
        ("cy", "en"),
        ("half_begun", "en"),
        ("../../de", "en"),
    ],
)
def test_the_platforms_spellings_of_a_language(catalogues: Path, code: str, spoken: str) -> None:
    """Region, encoding and modifier fall away until a catalogue fits; without one it is English."""
    assert use_language(code, catalogues) == spoken
    assert language() == spoken


def test_english_can_be_chosen_again(catalogues: Path) -> None:
    """Choosing English after another language leaves nothing of it behind."""
    use_language("de", catalogues)
    use_language("en", catalogues)
    assert tr_in("remainder", "left") == "left"
    assert number("1.5") == "1.5"


def test_the_languages_on_offer_are_those_that_can_be_spoken(catalogues: Path) -> None:
    """A folder without a compiled catalogue is not offered."""
    assert languages(catalogues) == ["en", "de"]
    assert languages(catalogues / "nowhere") == ["en"]


@pytest.mark.parametrize("text", ["0.1.0", "2026-05-04", "27 5/8", "psi", "", ".", "3.", ".5", "1.5 in", "v1.2"])
def test_only_a_number_gets_a_decimal_comma(catalogues: Path, text: str) -> None:
    """Versions, dates, fractions and words are not changed by the language's decimal mark."""
    use_language("de", catalogues)
    assert number(text) == text


@given(st.text())
def test_a_value_goes_in_as_it_is(value: str) -> None:
    """What the user typed is shown exactly, also where it looks like a field."""
    assert tr("“{entered}” is no height", entered=value) == f"“{value}” is no height"


@given(st.text(alphabet=st.sampled_from("{}:!.[]0aé ")), st.dictionaries(st.sampled_from("ab0"), st.text()))
def test_no_text_raises(text: str, fields: dict[str, str]) -> None:
    """Whatever a text or a translation looks like, and whichever fields are given, a text comes back."""
    assert isinstance(tr(text, **fields), str)


@given(st.text(alphabet=string.ascii_lowercase, min_size=1), st.sampled_from(["", "0.2f", ">8", ","]))
def test_a_field_not_given_stays_visible(name: str, form: str) -> None:
    """A forgotten field shows itself by name and form instead of failing under the user's eyes."""
    field = f"{{{name}:{form}}}" if form else f"{{{name}}}"
    assert tr(f"{field} kept") == f"{field} kept"
