"""Where each key of a TOML text stands, found by a scanner of our own and held against the standard parser."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.textfiles import TomlError, TomlNumber, parse_toml

TEXT = '''\
# a comment = with a sign
top = "1"

[table]   # behind it too
plain = 1
"quoted key" = 'a # no comment'
dotted.inner = true
multi = """
[not a table]
not = "a key"
\\""" still inside
"""
literal = \'\'\'
also = 'not a key'
\'\'\'
list = [
  "a",   # b = "c"
  [ 1, 2 ],
]
inline = { a = "x", b = { c = 1 } }
after = 1979-05-27T07:32:00Z

[[many]]
name = "first"
[many.inner]
deep = 1.50
[[many]]
name = "second"
[[many.sub]]
x = 1
[[many.sub]]
x = 2
'''
LINES = {
    ("top",): 2,
    ("table",): 4,
    ("table", "plain"): 5,
    ("table", "quoted key"): 6,
    ("table", "dotted", "inner"): 7,
    ("table", "multi"): 8,
    ("table", "literal"): 13,
    ("table", "list"): 16,
    ("table", "inline"): 20,
    ("table", "after"): 21,
    ("many",): 23,
    ("many", 0): 23,
    ("many", 0, "name"): 24,
    ("many", 0, "inner"): 25,
    ("many", 0, "inner", "deep"): 26,
    ("many", 1): 27,
    ("many", 1, "name"): 28,
    ("many", 1, "sub"): 29,
    ("many", 1, "sub", 0): 29,
    ("many", 1, "sub", 0, "x"): 30,
    ("many", 1, "sub", 1): 31,
    ("many", 1, "sub", 1, "x"): 32,
}


@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_every_key_and_its_line(line_end: str) -> None:
    """Whatever ends a line, each key is known with the line it stands on."""
    assert parse_toml(TEXT.replace("\n", line_end)).lines == LINES


def test_a_key_within_a_value_has_the_line_of_the_value() -> None:
    """An inline table is one line's."""
    assert parse_toml(TEXT).line(("table", "inline", "b", "c")) == 20


def test_numbers_with_a_point_stay_as_written() -> None:
    """1.50 is not 1.5: how closely somebody wrote is kept."""
    assert parse_toml("a = 1.50\nb = 2\n").values == {"a": TomlNumber("1.50"), "b": 2}


KEYS = st.sampled_from(["a", "b", "c-d", "1", '"e f"', "'g.h'", "i.j"])
VALUES = st.sampled_from(
    [
        "1",
        "1.5",
        '"x # y"',
        "'[z]'",
        '"""m\nn = 1\n"""',
        "'''o\n[p]\n'''",
        "[1,\n 2, # 3\n]",
        "{ q = 1, r = '}' }",
        "[[],\n[]]",
    ]
)
STATEMENTS = st.one_of(
    st.tuples(KEYS, VALUES).map(lambda pair: f"{pair[0]} = {pair[1]}"),
    KEYS.map(lambda key: f"[{key}]"),
    KEYS.map(lambda key: f"[[{key}]]"),
    st.sampled_from(["", "# k = 1", "   # [t]"]),
)


def paths_of(value: Any, path: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """Every key path of a parsed text that stands in a statement of its own, as far as the values alone can tell."""
    found: set[tuple[str | int, ...]] = set()
    if isinstance(value, dict):
        for key, member in value.items():
            found |= {(*path, key)} | paths_of(member, (*path, key))
    elif isinstance(value, list):
        for index, member in enumerate(value):
            found |= paths_of(member, (*path, index))
    return found


@given(st.lists(STATEMENTS, max_size=12).map("\n".join))
def test_lines_agree_with_the_parser(text: str) -> None:
    """Each line that is found begins with its key or table, and no key is found that the parser does not have."""
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    written = text.split("\n")
    known = paths_of(values)
    for path, line in parse_toml(text).lines.items():
        last = path[-1] if isinstance(path[-1], str) else path[-2]
        assert str(last) in written[line - 1]
        keys = tuple(part for part in path if isinstance(part, str))
        assert any(tuple(part for part in one if isinstance(part, str)) == keys for one in known)


@given(st.text(max_size=200))
def test_any_text_is_parsed_or_refused(text: str) -> None:
    """No text brings anything but values or the parser's own error."""
    with suppress(TomlError):
        parse_toml(text)
