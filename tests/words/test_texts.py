"""Every text in the source can be found by a translator, and gets the fields it names."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from pathlib import Path

from cornerwalk.words.gathering import Taker, called, declared_in

HOUSE = Path(__file__).parents[2] / "src" / "cornerwalk"
SOURCES = [source for source in sorted(HOUSE.rglob("*.py")) if source.parent.name != "words"]
TEXT_ARGUMENTS = {"tr": [0], "tr_n": [0, 1], "tr_in": [0, 1]}


def spoken_calls(tree: ast.AST) -> Iterator[tuple[ast.Call, str]]:
    """Every call that sends a text to the user, and which of the three it is."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in TEXT_ARGUMENTS:
            yield node, node.func.id


def put_together(tree: ast.AST) -> list[int]:
    """The lines on which a text is put together before it is translated, so that no catalogue can hold it."""
    return [
        call.lineno
        for call, function in spoken_calls(tree)
        for position in TEXT_ARGUMENTS[function]
        if is_put_together(call.args[position])
    ]


def is_put_together(text: ast.expr) -> bool:
    """Whether this text is made of pieces on the spot."""
    formatted = isinstance(text, ast.Call) and isinstance(text.func, ast.Attribute) and text.func.attr == "format"
    return formatted or isinstance(text, ast.JoinedStr | ast.BinOp)


def marked_and_put_together(tree: ast.AST) -> list[str]:
    """Calls that give a text in pieces for what its type marks as one that stands in the source."""
    takers = declared_in(HOUSE).takers
    return [
        f"line {call.lineno}: {ast.unparse(call)}"
        for call in ast.walk(tree)
        if isinstance(call, ast.Call)
        for taker in takers.get(called(call), ())
        for text in given_for(call, taker)
        if any(is_put_together(part) for part in ast.walk(text) if isinstance(part, ast.expr))
    ]


def given_for(call: ast.Call, taker: Taker) -> list[ast.expr]:
    """What a call gives for a parameter, by its place or its name."""
    placed = [] if taker.place is None else call.args[taker.place : taker.place + 1]
    return [*placed, *(keyword.value for keyword in call.keywords if keyword.arg == taker.name)]


def fields_that_differ(tree: ast.AST) -> list[str]:
    """Texts that are given other fields than they name, with line and difference."""
    found = []
    for call, function in spoken_calls(tree):
        texts = [call.args[position] for position in TEXT_ARGUMENTS[function]]
        if function == "tr_in":
            texts = texts[1:]
        if not call.keywords or any(keyword.arg is None for keyword in call.keywords):
            continue  # a text translated now and filled in later, or filled from a mapping
        given = {keyword.arg for keyword in call.keywords}
        for text in texts:
            if isinstance(text, ast.Constant) and isinstance(text.value, str):
                named = fields_of(text.value) - ({"count"} if function == "tr_n" else set())
                if named != given and not (function == "tr_n" and named <= given):
                    found.append(f"line {call.lineno}: {text.value!r} is given {sorted(filter(None, given))}")
    return found


def fields_of(text: str) -> set[str]:
    """The names of the fields in a text, without what is done to them: `{shift.mm:.1f}` is `shift`."""
    parsed = string.Formatter().parse(text)
    return {name.partition(".")[0].partition("[")[0] for _, name, _, _ in parsed if name is not None}


def test_the_checks_see_what_they_are_meant_to_see() -> None:
    """A text put together, a field forgotten, and a field not in the text are all found."""
    tree = ast.parse(
        "tr(f'{corner} is due')\n"
        "tr('a' + b) + tr('{}'.format(c)) + tr(text_of(d))\n"
        "tr('{corner} of {count} is due', count=4)\n"
        "tr('due', corner=1)\n"
        "tr('{corner:>3} of {count}', corner=1, count=2)\n"
        "tr_n('one', '{count} of {all}', n, all=3)\n"
        "tr(error.template, **error.fields)\n"
    )
    assert put_together(tree) == [1, 2, 2]
    assert [line.partition(":")[0] for line in fields_that_differ(tree)] == ["line 3", "line 4"]
    tree = ast.parse("EntryError('whole')\nEntryError('in ' + pieces)\nFact(name, kind, f'the {label}', help='help')")
    assert [line.partition(":")[0] for line in marked_and_put_together(tree)] == ["line 2", "line 3"]


def test_every_text_is_whole_and_gets_its_fields() -> None:
    """A text stands in the source as one piece, as a translator needs it, and its fields are the ones it is given."""
    assert len(SOURCES) > 200
    wrong = {}
    for source in SOURCES:
        tree = ast.parse(source.read_text(encoding="utf-8"))
        if found := [*put_together(tree), *fields_that_differ(tree), *marked_and_put_together(tree)]:
            wrong[source.relative_to(HOUSE).as_posix()] = found
    assert wrong == {}
