"""Text gathering: every text that its type marks for the translator is found, wherever its type is declared."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.words.gathering import python_texts

DECLARED = '''
class Fault(Exception):
    def __init__(self, template: LiteralString, **fields): ...

class Late(Fault):
    """Its words are given to the base."""

class Own(Fault):
    def __init__(self, day):
        super().__init__("own words of {day}", day=day)

@dataclass
class Row:
    id: str
    label: LiteralString
    choices: tuple[LiteralString, ...] = ()

@dataclass
class Longer(Row):
    note: LiteralString = ""

class Table:
    def refuse(self, path, template: LiteralString, /, **fields): ...

Pipe = Literal["tee", "separate"]

def ask(*, question: LiteralString | None = None): ...
'''


def texts(tmp_path: Path, source: str) -> set[str]:
    """What is found in a module beside the one above."""
    package = tmp_path / "cornerwalk"
    package.mkdir()
    (package / "declared.py").write_text(DECLARED, "utf-8")
    (package / "uses.py").write_text(source, "utf-8")
    with (package / "uses.py").open("rb") as file:
        return {str(message[2]) for message in python_texts(file, (), (), {})}


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("raise Fault('too {much}', much='not this')", {"too {much}"}),
        ("raise declared.Late('one of a family')", {"one of a family"}),
        ("raise Fault(template='by its name')", {"by its name"}),
        ("Row('a code', 'a label', choices=('tee', 'separate'))", {"a label", "tee", "separate"}),
        ("Longer('a code', 'a label', (), 'after those of the base')", {"a label", "after those of the base"}),
        ("Row('a code', 'a label', get_args(Pipe))", {"a label", "tee", "separate"}),
        ("table.refuse(('key',), 'no such key')", {"no such key"}),
        ("ask(question='is it?' if mine == 'yours' else 'or not?')", {"is it?", "or not?"}),
        ("WORDS: dict[str, LiteralString] = {'a code': 'a word'}", {"a word"}),
        ("words: LiteralString = 'one' 'piece'", {"onepiece"}),
        ("def word(code) -> LiteralString:\n    if code == 'a code':\n        return 'a word'", {"a word"}),
        ("Row('a code', f'{put} together')\nCODE: str = 'no word'\nother('no word')", set()),
    ],
)  # fmt: skip
def test_what_is_found(tmp_path: Path, source: str, found: set[str]) -> None:
    """Calls by place and by name, of a base and of fields; constants; what a function returns. Codes are left alone."""
    assert texts(tmp_path, source) == found


def test_a_class_that_gives_its_words_to_its_base(tmp_path: Path) -> None:
    """They stand in its own `__init__`."""
    source = DECLARED[DECLARED.index("class Own") : DECLARED.index("@dataclass")]
    assert texts(tmp_path, source) == {"own words of {day}"}
