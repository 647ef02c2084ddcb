"""The packaged catalogues: what is offered as a language speaks it fully."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from babel.messages import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import read_po

from tests.words.test_texts import fields_of

HOUSE = Path(__file__).parents[2] / "src" / "cornerwalk"
CATALOGUES = sorted((HOUSE / "words" / "locale").glob("*/LC_MESSAGES/cornerwalk.po"))
KEYWORDS = {"tr": None, "tr_n": (1, 2), "tr_in": ((1, "c"), 2)}


def texts_in_source() -> Catalog:
    """Every text in the source, as the documented command of a library finds them."""
    found = Catalog()
    extracted = extract_from_dir(HOUSE, [("**.py", "python")], keywords=KEYWORDS)
    for _, _, text, _, context in extracted:
        found.add(text, context=context)
    return found


def read_catalogue(file: Path) -> Catalog:
    """A catalogue as its translator wrote it."""
    with file.open("rb") as stream:
        return read_po(stream)


@pytest.mark.parametrize("file", CATALOGUES, ids=lambda file: file.parents[1].name)
class TestCatalogue:
    """Held for each language in the package."""

    def test_it_is_complete(self, file: Path) -> None:
        """Every text of the program has a translation, none is marked as doubtful, and the decimal mark is said."""
        catalogue = read_catalogue(file)
        kept = {(message.context, message.id): message for message in catalogue if message.id}
        wanted = {(message.context, message.id) for message in texts_in_source() if message.id}
        wanted.add(("decimal mark", "."))
        assert wanted - set(kept) == set()
        assert [message.id for message in kept.values() if message.fuzzy or not all(forms(message.string))] == []

    def test_its_fields_are_those_of_the_english(self, file: Path) -> None:
        """A translation names the fields of its text, so that no figure gets lost in it."""
        for message in read_catalogue(file):
            wanted = set().union(*map(fields_of, forms(message.id)))
            for form in forms(message.string):
                assert message.pluralizable or fields_of(form) == wanted, message.id
                assert fields_of(form) <= wanted, message.id

    def test_it_is_compiled(self, file: Path) -> None:
        """The compiled catalogue that the program reads is this one."""
        compiled = io.BytesIO()
        write_mo(compiled, read_catalogue(file))
        compiled.seek(0)
        with file.with_suffix(".mo").open("rb") as stream:
            assert {m.id: m.string for m in read_mo(stream)} == {m.id: m.string for m in read_mo(compiled)}


def forms(text: str | tuple[str, ...] | list[str] | None) -> tuple[str, ...]:
    """The forms of a text that changes with a count; a single text is its only form, no text has none."""
    if text is None:
        return ()
    return (text,) if isinstance(text, str) else tuple(text)


def test_the_source_has_texts_to_find() -> None:
    """The search for texts finds them; without that, every catalogue would seem complete."""
    assert len(texts_in_source()) > 20
