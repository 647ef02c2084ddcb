"""The module's own error: what it carries, and that it can always be told."""

from __future__ import annotations

import pickle
import string

import pytest

from cornerwalk.quantity import QuantityError, read_height, templates
from cornerwalk.quantity.errors import printable


def error_of(text: str) -> QuantityError:
    """What a height of that text is refused with."""
    with pytest.raises(QuantityError) as caught:
        read_height(text, "inch")
    return caught.value


def test_an_error_is_a_value_error() -> None:
    """Whoever knows nothing of quantities catches the usual kind."""
    assert issubclass(QuantityError, ValueError)


def test_template_and_fields_make_the_text() -> None:
    """The English text is the template with its fields, so that a translator can make another."""
    error = error_of("29 17/16")
    assert error.template == '"{text}": a fraction of an inch is less than one; did you mean {suggestion}?'
    assert error.fields == {"text": "29 17/16", "suggestion": "30 1/16"}
    assert str(error) == error.template.format(**error.fields)


@pytest.mark.parametrize(
    "text", ["", "29 17/16", "1,234 mm", "30 psi", "774", "30\u200f", "x" * 50, "30 {x}", "9" * 99]
)
def test_every_template_is_in_the_list(text: str) -> None:
    """What an error says is among the sentences handed to the translators, and its fields are all given."""
    error = error_of(text)
    assert error.template in templates()
    names = {name for _, name, _, _ in string.Formatter().parse(error.template) if name}
    assert names <= set(error.fields)


def test_the_list_of_templates_is_plain() -> None:
    """Each sentence is listed once, in a fixed order, and names its fields without formats."""
    listed = templates()
    assert listed == sorted(set(listed))
    for template in listed:
        for _, name, spec, conversion in string.Formatter().parse(template):
            assert name is None or name.isidentifier()
            assert not spec
            assert not conversion


def test_what_was_typed_is_kept_and_shown_safely() -> None:
    """The text is kept as typed; in the sentence it is one short printable line."""
    typed = "\x1b[31m30\ud800" + "x" * 100
    error = error_of(typed)
    assert error.text == typed
    assert str(error).isprintable()
    assert typed not in str(error)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("30 1/2", "30 1/2"),
        ("a\tb\nc", "a\\u0009b\\u000ac"),
        ("\ud800", "\\ud800"),
        ("\u202e", "\\u202e"),
        ("é½", "é½"),
        ("x" * 40, "x" * 40),
        ("x" * 41, "x" * 39 + "…"),
    ],
)
def test_shown(text: str, line: str) -> None:
    """Hidden and half characters are escaped, long texts cut, everything else left alone."""
    assert printable(text) == line


def test_errors_travel_between_processes() -> None:
    """An error that was raised in a worker says the same in the program that reads it."""
    error = error_of("29 17/16")
    copy = pickle.loads(pickle.dumps(error))
    assert type(copy) is type(error)
    assert (copy.text, copy.suggestion, str(copy)) == (error.text, error.suggestion, str(error))
