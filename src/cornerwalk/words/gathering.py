"""Where a translator's texts come from: two extraction methods for Babel, set up in `pyproject.toml`.

`python_texts` finds in a Python file

- what is sent through `tr`, `tr_n` and `tr_in`, and `pgettext` itself;
- the templates of errors and problems, which the inner rooms leave in English: the arguments of the calls that the
  option `calls` lists as `name:place`, and the keyword arguments that `arguments` lists;
- texts that are data: every text in the constants that `constants` lists, and of a dictionary its values;
- with `phrases` every text of more than one word, where a file is full of them;
- what a module's own `templates()` gives, for texts that are put together.

`toml_texts` finds in a TOML file the texts under the keys that the option `keys` lists, at any depth; with `ids` also
each `id` as the words it is made of. `comment_texts` finds those of `-- key: text` lines.

Babel calls them; nothing of the program does. A text that only a running program would show to be missing is found by
the tests, which listen to what is asked for.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator, Mapping
from importlib import import_module
from pathlib import Path
from typing import IO, Any

Message = tuple[int, str, str | tuple[str, ...], list[str]]
"""Line, the gettext function it would have been sent through, the text or texts, comments."""

_SPOKEN = {
    "tr": ("gettext", (0,)),
    "tr_n": ("ngettext", (0, 1)),
    "tr_in": ("pgettext", (0, 1)),
    "pgettext": ("pgettext", (0, 1)),
}
PACKAGE = "cornerwalk"


def python_texts(
    file: IO[bytes], _keywords: object, _comment_tags: object, options: Mapping[str, Any]
) -> Iterator[Message]:
    """The texts of a Python file, as Babel's extraction methods give them."""
    tree = ast.parse(file.read())
    calls = dict(each.split(":") for each in options.get("calls", ()))
    arguments = set(options.get("arguments", ()))
    constants = set(options.get("constants", ()))
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield from _spoken(node)
            yield from _given(node, calls, arguments)
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            yield from _held(node, constants)
    if options.get("phrases"):
        yield from _phrases(tree)
    if any(isinstance(node, ast.FunctionDef) and node.name == "templates" for node in tree.body):
        module = import_module(_module_of(Path(file.name)))
        for text in module.templates():
            yield 1, "gettext", text, []


def _spoken(call: ast.Call) -> Iterator[Message]:
    name = _name_of(call)
    if name not in _SPOKEN:
        return
    function, places = _SPOKEN[name]
    texts = [_text(call.args[place]) for place in places if place < len(call.args)]
    told = tuple(text for text in texts if text is not None)
    if told and len(told) == len(places):
        yield call.lineno, function, told if len(told) > 1 else told[0], []


def _given(call: ast.Call, calls: Mapping[str, str], arguments: set[str]) -> Iterator[Message]:
    name = _name_of(call)
    places = [int(place) for place in calls[name].split("+")] if name in calls else []
    given: list[ast.expr] = [keyword.value for keyword in call.keywords if keyword.arg in arguments]
    given += [call.args[place] for place in places if place < len(call.args)]
    for argument in given:
        for text in _texts_in(argument):
            yield argument.lineno, "gettext", text, []


def _name_of(call: ast.Call) -> str:
    """What is called, without the object it is called on."""
    name = getattr(call.func, "id", None) or getattr(call.func, "attr", "")
    return str(name)


def _held(node: ast.Assign | ast.AnnAssign, constants: set[str]) -> Iterator[Message]:
    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
    names = {target.id for target in targets if isinstance(target, ast.Name)}
    if names & constants and node.value is not None:
        for text in _texts_in(node.value):
            yield node.lineno, "gettext", text, []


def _phrases(tree: ast.Module) -> Iterator[Message]:
    """Every text of more than one word that is neither a docstring nor a piece of another."""
    aside = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            aside |= {id(part) for part in ast.walk(node)}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or id(node) in aside:
            continue
        text = _text(node)
        if text is not None and " " in text.strip():
            yield node.lineno, "gettext", text.removeprefix("; "), []


def _texts_in(value: ast.expr) -> Iterator[str]:
    """Every text in an expression; of a dictionary only its values, since its keys are codes; none of work put off."""
    if isinstance(value, ast.Call) and isinstance(value.func, ast.Name) and value.func.id == "partial":
        return
    if isinstance(value, ast.Dict):
        for held in value.values:
            yield from _texts_in(held)
        return
    text = _text(value)
    if text is not None:
        if text:
            yield text
        return
    for child in ast.iter_child_nodes(value):
        if isinstance(child, ast.expr):
            yield from _texts_in(child)


def _text(value: ast.expr) -> str | None:
    """A literal text, one in pieces side by side included."""
    return value.value if isinstance(value, ast.Constant) and isinstance(value.value, str) else None


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
        if key == "id" and options.get("ids"):
            yield 1, "gettext", text.replace("-", " "), []


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
