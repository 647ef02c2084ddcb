"""The packaged catalogues: what is offered as a language speaks it fully."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path

import pytest
from babel.messages import Catalog
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import read_po

from tests.words.listening import HOUSE, gathered
from tests.words.test_texts import fields_of

CATALOGUES = sorted((HOUSE / "words" / "locale").glob("*/LC_MESSAGES/cornerwalk.po"))


@cache
def texts() -> Catalog:
    """Every text of the program, gathered once."""
    return gathered()


def read_catalogue(file: Path) -> Catalog:
    """A catalogue as its translator wrote it."""
    with file.open("rb") as stream:
        return read_po(stream)


@pytest.mark.parametrize("file", CATALOGUES, ids=lambda file: file.parents[1].name)
class TestCatalogue:
    """Held for each language in the package."""

    def test_it_is_complete(self, file: Path) -> None:
        """Every text of the program has a translation, the decimal mark among them, and none is marked as doubtful."""
        catalogue = read_catalogue(file)
        kept = {(message.context, message.id): message for message in catalogue if message.id}
        wanted = {(message.context, message.id) for message in texts() if message.id}
        assert ("decimal mark", ".") in wanted
        assert wanted - set(kept) == set()
        assert [message.id for message in kept.values() if message.fuzzy or not all(forms(message.string))] == []

    def test_it_holds_nothing_that_is_not_asked_for(self, file: Path) -> None:
        """A text that left the program leaves the catalogue, so that a translator's work is not lost on it."""
        kept = {(message.context, message.id) for message in read_catalogue(file) if message.id}
        wanted = {(message.context, message.id) for message in texts() if message.id}
        assert kept - wanted == set()

    def test_its_fields_are_those_of_the_english(self, file: Path) -> None:
        """A translation names the fields of its text, so that no figure gets lost in it."""
        for message in read_catalogue(file):
            wanted = set().union(*map(fields_of, forms(message.id)))
            for form in forms(message.string):
                assert message.pluralizable or fields_of(form) == wanted, message.id
                assert fields_of(form) <= wanted, message.id

    def test_its_marks_are_those_of_the_english(self, file: Path) -> None:
        """What ends as a sentence or a question ends so, and blanks around a text stay: texts are put side by side."""
        for message in read_catalogue(file):
            if not message.id or message.context == "decimal mark":
                continue
            for english, told in zip(forms(message.id), forms(message.string), strict=False):
                assert (english[0] == " ", english[-1] == " ") == (told[0] == " ", told[-1] == " "), english
                if english[-1] in ".?:!" and not english.endswith("..."):
                    assert told[-1] == english[-1], english

    def test_compiling_it_has_nothing_to_say(self, file: Path) -> None:
        """No complaint of `pybabel compile`, so that one about a real mistake is seen."""
        assert [(message.id, errors) for message, errors in read_catalogue(file).check()] == []

    def test_it_is_compiled(self, file: Path) -> None:
        """The compiled catalogue that the program reads is this one."""
        compiled = io.BytesIO()
        write_mo(compiled, read_catalogue(file))
        compiled.seek(0)
        with file.with_suffix(".mo").open("rb") as stream:
            assert told(read_mo(stream)) == told(read_mo(compiled))


def told(catalogue: Catalog) -> dict[str, object]:
    """What a catalogue says, by its texts and their contexts."""
    return {f"{message.context}\x04{forms(message.id)}": message.string for message in catalogue}


def forms(text: str | tuple[str, ...] | list[str] | None) -> tuple[str, ...]:
    """The forms of a text that changes with a count; a single text is its only form."""
    if text is None:
        return ()
    return (text,) if isinstance(text, str) else tuple(text)


def test_there_are_german_and_spanish() -> None:
    """The two that show that a language can be added by its files alone."""
    assert [file.parents[1].name for file in CATALOGUES] == ["de", "es"]


def test_the_source_has_texts_to_find() -> None:
    """The search for texts finds them; without that, every catalogue would seem complete."""
    assert len(list(texts())) > 2000
