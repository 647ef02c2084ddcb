"""Every public thing of the reckoning says what it is, and every plain number of it in which unit it is."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[1] / "src" / "cornerwalk"
ROOMS = ("quantity", "session", "assess", "standards")
SOURCES = sorted(path for room in ROOMS for path in (HOUSE / room).rglob("*.py"))

UNITS = r"mm|m|kPa|N|Nm|deg|percent|C|K|F|h|hours|psi|inches|kg|liters|kgf|lbf|lbf_ft|per_\w+"
WITH_UNIT = re.compile(rf"(?:^|_)(?:{UNITS})$|(?:^|_)(?:{UNITS})_per_\w+$")

WITHOUT_UNIT = {
    "occupants": "people",
    "chi_square": "a sum of squares of figures over their u",
    "chi_square_tail": "a chance",
    "chi_square_bound": "as chi_square",
    "log_odds": "of chances",
    "misfit": "as chi_square",
    "weight": "of evidence: a log of chances",
    "share": "a part of the whole",
    "rear_share": "a part of the whole",
    "torque_ratio": "a quotient",
    "hours_to_minimum": "hours, in its first word",
    "hours_to_minimum_at_least": "hours, in its first word",
    "hours_needed": "hours, in its first word",
    "hours_since": "hours, in its first word",
    "k": "a coverage factor",
    "factor": "a plain multiple",
    "bag_volume_liters": "liters, its last word",
    "freedom": "a count of degrees of freedom",
    "yielding": "a quotient",
    "loaded_factor": "a quotient",
    "loaded_leaf_factor": "a quotient",
    "place_freedom": "a count of degrees of freedom",
    "s_xx": "kPa² over the square of the heights' unit, a sum of weighted squares",
    "tires": "a count",
    "tires_rear": "a count",
    "cov_c0_c1": "mm²/kPa, a product of two names",
    "at_zero": "per cent, as its class says",
}
"""Plain numbers that have none, or say it otherwise, and what they are."""

OF_ANY_UNIT = {
    "value",
    "u",
    "U",
    "limit",
    "quantum",
    "half_width",
    "sensitivity",
    "sd",
    "spread",
    "variance",
    "shift",
    "expanded_uncertainty",
}
"""Names that hold a figure of any unit: what they belong to says whose unit it is."""

SAYS_A_UNIT = re.compile(
    r"\bmm\b|\bkPa\b|\bN\b|N/mm|\bkPa/h\b|degree|per ?cent|\bhours?\b|\bunit|newton|kilogram|pound|\bpsi\b|"
    r"millimet(?:er|re)|inch|kelvin|Fahrenheit"
)

Public = tuple[str, ast.FunctionDef | ast.ClassDef, str]


def public(path: Path) -> Iterator[Public]:
    """Name, node and docstring of every public class and function of a module, and of the classes' methods."""
    tree = ast.parse(path.read_text("utf-8"))
    about = ast.get_docstring(tree) or ""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node.name, node, about
            for inner in node.body if isinstance(node, ast.ClassDef) else ():
                if isinstance(inner, ast.FunctionDef) and not inner.name.startswith("_"):
                    yield f"{node.name}.{inner.name}", inner, about + (ast.get_docstring(node) or "")


def is_plain_number(annotation: ast.expr | None) -> bool:
    """`float`, or one that may be missing."""
    return annotation is not None and re.fullmatch(r"float( \| None)?", ast.unparse(annotation)) is not None


def numbers(node: ast.FunctionDef | ast.ClassDef) -> Iterator[str]:
    """The names of the plain numbers that a public thing takes, holds or gives."""
    if isinstance(node, ast.ClassDef):
        for field in node.body:
            if not isinstance(field, ast.AnnAssign) or not isinstance(field.target, ast.Name):
                continue
            if is_plain_number(field.annotation) and not field.target.id.startswith("_"):
                yield field.target.id
        return
    for argument in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs):
        if is_plain_number(argument.annotation):
            yield argument.arg
    if is_plain_number(node.returns):
        yield node.name


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.relative_to(HOUSE).as_posix())
def test_public_things_say_what_they_are_and_in_which_unit(path: Path) -> None:
    """A docstring each; and a plain number has its unit in its name, or in the words of what it belongs to."""
    for name, node, about in public(path):
        own = ast.get_docstring(node)
        assert own, f"{name} says nothing"
        for number in numbers(node):
            if WITH_UNIT.search(number) or number in WITHOUT_UNIT:
                continue
            told = own if number == node.name else own + about
            assert number in OF_ANY_UNIT or number == node.name, f"{name}: {number} has no unit in its name"
            assert SAYS_A_UNIT.search(told), f"{name}: nothing says in which unit {number} is"


def test_a_number_without_a_unit_is_seen() -> None:
    """The check above sees what it is meant to see."""
    (node,) = ast.parse("def rear(height: float, drop_mm: float | None, name: str) -> float: ...").body
    assert isinstance(node, ast.FunctionDef)
    assert list(numbers(node)) == ["height", "drop_mm", "rear"]
    assert WITH_UNIT.search("drop_mm")
    assert WITH_UNIT.search("c1_mm_per_kPa")
    assert not WITH_UNIT.search("height")
    assert not WITH_UNIT.search("data2")
