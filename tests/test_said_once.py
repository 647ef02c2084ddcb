"""What is said to the user is said in one place: the two skins share no sentence of their own and no name."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from tests.support.house import HOUSE
from tests.words.listening import gathered
from tests.words.test_catalogues import forms

MOST_SENTENCES = 2
MOST_NAMES = 4
"""By chance: two skins of one program may well have a class of the same plain word."""


def trees(room: str) -> Iterator[ast.Module]:
    for file in sorted((HOUSE / room).rglob("*.py")):
        yield ast.parse(file.read_text("utf-8"))


def sentences(room: str) -> set[str]:
    """Texts of at least two words in a room's code, wherever they stand; docstrings and comments are none."""
    found = set()
    for tree in trees(room):
        docs = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        texts = (
            node.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docs
        )
        found |= {text.strip() for text in texts if len(text.split()) > 1}
    return found


def names(room: str) -> set[str]:
    """Public classes and functions of a room's modules."""
    return {
        node.name
        for tree in trees(room)
        for node in tree.body
        if isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef) and not node.name.startswith("_")
    }


def test_no_sentence_stands_in_both_skins() -> None:
    """Of the texts that are translated, tables included; what both say is `job`'s."""
    told = {text for message in gathered() if message.id for text in forms(message.id)}
    both = sentences("tui") & sentences("line") & told
    assert sentences("tui") & told
    assert sentences("line") & told
    assert len(both) <= MOST_SENTENCES, both


def test_no_name_stands_in_both_skins() -> None:
    """A class or function that both need is `job`'s."""
    both = names("tui") & names("line")
    assert len(both) <= MOST_NAMES, both


def test_a_sentence_is_found_wherever_it_stands(tmp_path: Path) -> None:
    """Marked, in a table, or put together: none of them is passed over."""
    source = '"""Doc text here."""\nA = tr("One sentence.")\nB = ("two words",)\ndef f():\n    return f"{A} and more"\n'
    (tmp_path / "planted").mkdir()
    (tmp_path / "planted" / "a.py").write_text(source, "utf-8")
    tree = ast.parse(source)
    assert ast.get_docstring(tree) == "Doc text here."
    assert sentences(str(tmp_path / "planted")) == {"One sentence.", "two words", "and more"}
