"""Text gathering for translators: extraction methods for Babel, set up in `pyproject.toml`.

`python_texts` finds in a Python file

- what is sent through `tr`, `tr_n` and `tr_in`, and `pgettext` itself;
- what an inner room leaves in English, to be worded at the edge. It is marked by its type, `typing.LiteralString` (PEP
  675, "stands in the source as it is"), and by nothing else: each text given for a parameter or a field of that type,
  wherever in the package that is declared; each text in a constant or variable of that type, or returned by a function
  of that type. Of a dictionary the values count, its keys are codes; `get_args` of a `Literal` has its words;
- what a module's own `templates()` gives, for texts that are put together.

`toml_texts` finds in a TOML file the texts under the keys that the option `keys` lists, at any depth.
`comment_texts` finds those of `-- key: text` lines.

Babel calls them; nothing of the program does. A text that only a running program would show to be missing is found by
the tests, which listen to what is asked for.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import IO, Any, NamedTuple

Message = tuple[int, str, str | tuple[str, ...], list[str]]
"""Line, the gettext function it would have been sent through, the text or texts, comments."""

_SPOKEN = {
    "tr": ("gettext", (0,)),
    "tr_n": ("ngettext", (0, 1)),
    "tr_in": ("pgettext", (0, 1)),
    "pgettext": ("pgettext", (0, 1)),
}
PACKAGE = "cornerwalk"
MARK = "LiteralString"


def python_texts(
    file: IO[bytes],
    _keywords: object,
    _comment_tags: object,
    options: Mapping[str, Any],  # noqa: ARG001 - Babel hands it over by name
) -> Iterator[Message]:
    """The texts of a Python file, as Babel's extraction methods give them."""
    tree = ast.parse(file.read())
    path = Path(file.name)
    declared = declared_in(_package_of(path))
    for node in ast.walk(tree):
        match node:
            case ast.Call():
                yield from _spoken(node)
                yield from _given(node, called(node), declared)
            case ast.ClassDef():
                yield from _given_to_base(node, declared)
            case ast.AnnAssign(annotation=annotation, value=value) if value is not None and _is_marked(annotation):
                yield from _told(value, declared)
            case ast.FunctionDef(returns=returns) if _is_marked(returns):
                for inner in ast.walk(node):
                    if isinstance(inner, ast.Return) and inner.value is not None:
                        yield from _told(inner.value, declared)
    if any(isinstance(node, ast.FunctionDef) and node.name == "templates" for node in tree.body):
        module = import_module(_module_of(path))
        for text in module.templates():
            yield 1, "gettext", text, []


def _spoken(call: ast.Call) -> Iterator[Message]:
    name = called(call)
    if name not in _SPOKEN:
        return
    function, places = _SPOKEN[name]
    texts = [_text(call.args[place]) for place in places if place < len(call.args)]
    told = tuple(text for text in texts if text is not None)
    if told and len(told) == len(places):
        yield call.lineno, function, told if len(told) > 1 else told[0], []


# ---- who takes a text that is marked by its type ----


class Taker(NamedTuple):
    """A marked parameter: its name, and its place among the arguments where it may be given without the name."""

    name: str
    place: int | None


Takers = Mapping[str, tuple[Taker, ...]]
"""By the name of a function, a method or a class, whatever module it is in."""

_Classes = Mapping[str, list[ast.ClassDef]]


class Declared(NamedTuple):
    """What the package declares: the takers, and the words of each `Literal` that has a name."""

    takers: Takers
    words: Mapping[str, tuple[str, ...]]


@cache
def declared_in(package: Path) -> Declared:
    """What the modules of a package declare, read once."""
    takers: dict[str, list[Taker]] = {}
    classes: dict[str, list[ast.ClassDef]] = {}
    words: dict[str, tuple[str, ...]] = {}
    for path in sorted(package.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_bytes())):
            match node:
                case ast.ClassDef(name=name):
                    classes.setdefault(name, []).append(node)
                case ast.FunctionDef(name=name) if name != "__init__":
                    takers.setdefault(name, []).extend(_parameters(node))
                case ast.Assign(targets=[ast.Name(id=name)], value=ast.Subscript(value=ast.Name(id="Literal"))):
                    words[name] = tuple(filter(None, map(_text, ast.walk(node))))
    for name in classes:
        takers.setdefault(name, []).extend(_made_with(name, classes))
    return Declared({name: tuple(dict.fromkeys(found)) for name, found in takers.items() if found}, words)


def _parameters(function: ast.FunctionDef) -> Iterator[Taker]:
    places = [*function.args.posonlyargs, *function.args.args]
    if places and places[0].arg in ("self", "cls"):
        del places[0]
    yield from (Taker(each.arg, place) for place, each in enumerate(places) if _is_marked(each.annotation))
    yield from (Taker(each.arg, None) for each in function.args.kwonlyargs if _is_marked(each.annotation))


def _made_with(name: str, classes: _Classes) -> Iterator[Taker]:
    """What an instance is made with: the parameters of `__init__`, else the fields, else those of the base."""
    for made in classes.get(name, ()):
        makers = [node for node in made.body if isinstance(node, ast.FunctionDef) and node.name == "__init__"]
        fields = _fields(made, classes)
        if makers:
            yield from _parameters(makers[0])
        elif fields:
            yield from (Taker(field, place) for place, (field, marked) in enumerate(fields.items()) if marked)
        else:
            for base in made.bases:
                yield from _made_with(_last_name(base), classes)


def _fields(made: ast.ClassDef, classes: _Classes) -> dict[str, bool]:
    """The fields of a class and of its bases in order, each with whether it is marked."""
    fields: dict[str, bool] = {}
    for base in made.bases:
        for known in classes.get(_last_name(base), ()):
            fields |= _fields(known, classes) if known is not made else {}
    for node in made.body:
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            fields[node.target.id] = _is_marked(node.annotation)
    return fields


def _is_marked(annotation: ast.expr | None) -> bool:
    return annotation is not None and any(_last_name(node) == MARK for node in ast.walk(annotation))


# ---- what it is given ----


def _given(call: ast.Call, name: str, declared: Declared) -> Iterator[Message]:
    for taker in declared.takers.get(name, ()):
        if taker.place is not None and taker.place < len(call.args):
            yield from _told(call.args[taker.place], declared)
        for keyword in call.keywords:
            if keyword.arg == taker.name:
                yield from _told(keyword.value, declared)


def _given_to_base(made: ast.ClassDef, declared: Declared) -> Iterator[Message]:
    """What a class gives to its base's `__init__`."""
    for node in ast.walk(made):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "super().__init__":
            for base in made.bases:
                yield from _given(node, _last_name(base), declared)


def _told(value: ast.expr, declared: Declared) -> Iterator[Message]:
    for text in _texts_in(value, declared):
        yield value.lineno, "gettext", text, []


def called(call: ast.Call) -> str:
    """What is called, without the object it is called on."""
    return _last_name(call.func)


def _last_name(node: ast.AST) -> str:
    """`Problem` of `Problem` and of `problems.Problem`."""
    return str(getattr(node, "id", None) or getattr(node, "attr", ""))


def _texts_in(value: ast.expr, declared: Declared) -> Iterator[str]:
    """Every text that an expression can come to; of a dictionary only the values, since its keys are codes."""
    parts: list[ast.expr] = []
    match value:
        case ast.Constant(value=str(text)) if text:
            yield text
        case ast.Call(func=ast.Name(id="get_args"), args=[ast.Name(id=name)]):
            yield from declared.words[name]
        case ast.Dict(values=parts) | ast.Tuple(elts=parts) | ast.List(elts=parts) | ast.BoolOp(values=parts):
            pass
        case ast.IfExp(body=one, orelse=other) | ast.BinOp(left=one, right=other):
            parts = [one, other]
        case ast.Starred(value=inner) | ast.Subscript(value=inner):
            parts = [inner]
    for part in parts:
        yield from _texts_in(part, declared)


def _text(value: ast.AST) -> str | None:
    """A literal text, one in pieces side by side included."""
    return value.value if isinstance(value, ast.Constant) and isinstance(value.value, str) else None


def _package_of(path: Path) -> Path:
    """The package's folder that a file lies in."""
    return next((parent for parent in path.resolve().parents if parent.name == PACKAGE), path.parent)


def _module_of(path: Path) -> str:
    parts = path.with_suffix("").parts
    inside = parts[len(parts) - 1 - parts[::-1].index(PACKAGE) :]
    return ".".join(inside[:-1] if inside[-1] == "__init__" else inside)


def toml_texts(
    file: IO[bytes], _keywords: object, _comment_tags: object, options: Mapping[str, Any]
) -> Iterator[Message]:
    """The texts of a TOML file, as Babel's extraction methods give them."""
    keys = set(options.get("keys", ()))
    for key, text in _entries(tomllib.loads(file.read().decode("utf-8"))):
        if key in keys and text:
            yield 1, "gettext", text, []


def _entries(value: Any, key: str = "") -> Iterator[tuple[str, str]]:
    match value:
        case dict():
            for name, held in value.items():
                yield from _entries(held, name)
        case list():
            for held in value:
                yield from _entries(held, key)
        case str():
            yield key, value


_COMMENT = re.compile(r"^-- (?P<key>[\w ]+?): (?P<text>.+)$", re.MULTILINE)
_UNIT_AT_END = re.compile(r"_(mm_per_kPa|N_per_mm|kPa_per_h|percent|deg|kPa|mm|N|utc)$")


def comment_texts(
    file: IO[bytes],
    _keywords: object,
    _comment_tags: object,
    options: Mapping[str, Any],  # noqa: ARG001 - Babel hands it over by name
) -> Iterator[Message]:
    """The texts in the head of a ready question, and the names of its columns as words, without their units."""
    for found in _COMMENT.finditer(file.read().decode("utf-8")):
        yield 1, "gettext", found["text"], []
        if found["key"].startswith("column "):
            yield 1, "gettext", _UNIT_AT_END.sub("", found["key"].removeprefix("column ")).replace("_", " "), []
