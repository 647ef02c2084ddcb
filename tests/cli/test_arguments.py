"""A wrong command line: told in one line below the usage, in the user's language, with what was probably meant."""

from __future__ import annotations

import pytest

from cornerwalk.cli.parsers import complaint
from tests.cli.calling import Said, run

WRONG = {
    ("reprot",): ("reprot", "did you mean report?"),
    ("report", "--to", "pfd", "job.json"): ("--to", "pfd", "did you mean pdf?"),
    ("report", "--to", "sculpture", "job.json"): ("--to", "sculpture", "text, pdf, html, csv"),
    ("report", "--to"): ("--to", "a value has to follow"),
    ("walk",): ("still missing: SHEET",),
    ("list", "--nope"): ("not known here: --nope",),
}


def complained(arguments: tuple[str, ...], capsys: Said) -> str:
    """The last line of what is said of these; nothing is answered, and the status is that of bad input."""
    assert run(*arguments) == 2
    said = capsys.readouterr()
    assert said.out == ""
    return said.err.splitlines()[-1]


@pytest.mark.parametrize(("arguments", "told"), WRONG.items(), ids=" ".join)
def test_it_names_what_is_wrong_and_what_would_be_right(
    arguments: tuple[str, ...], told: tuple[str, ...], capsys: Said
) -> None:
    """The argument, what was given, and the nearest choice or all of them."""
    line = complained(arguments, capsys)
    assert line.startswith("cornerwalk")
    assert all(part in line for part in told), line


@pytest.mark.parametrize("arguments", WRONG, ids=" ".join)
def test_no_english_is_left_in_another_language(
    arguments: tuple[str, ...], monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Every complaint there is a pattern for is said in German too, its heading included."""
    english = complained(arguments, capsys)
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")
    german = complained(arguments, capsys)
    assert german != english
    assert not {"expected", "invalid", "required", "the", "choose"} & set(german.split())
    assert run("list", "--help") == 0
    told = capsys.readouterr().out
    assert told.startswith("Aufruf: cornerwalk")
    assert "show" not in told


@pytest.mark.parametrize("arguments", [("--help",), ("report", "--help"), ("reprot",), ("walk",)], ids=" ".join)
def test_help_and_complaints_are_plain_text(
    arguments: tuple[str, ...], monkeypatch: pytest.MonkeyPatch, capsys: Said
) -> None:
    """Python 3.14 and later colour them where a terminal is, or by this variable; here they are text on every one."""
    monkeypatch.setenv("FORCE_COLOR", "1")
    run(*arguments)
    said = capsys.readouterr()
    assert "usage: cornerwalk" in said.out + said.err
    assert "\x1b" not in said.out + said.err


def test_a_complaint_of_a_newer_parser_is_understood() -> None:
    """Later Pythons leave out the quotes round the choices; a sentence that is not known is not lost."""
    assert complaint("argument --to: invalid choice: 'pfd' (choose from text, pdf)").endswith("did you mean pdf?")
    assert complaint("something new went wrong") == "something new went wrong"
