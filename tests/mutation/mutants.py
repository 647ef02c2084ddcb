"""Mutants of a source file: the small mistakes that can be made in it, and the file with one of them."""

from __future__ import annotations

import ast
import hashlib
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from types import CodeType
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "cornerwalk"
MODULE = "<module>"
"""The function of what stands in none."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One mistake: in which file and function, and what became of what."""

    file: Path
    function: str
    line: int
    change: str
    number: int

    @property
    def name(self) -> str:
        """Where it is and what it is, for people."""
        return f"{self.file.relative_to(SOURCE)}:{self.line} {self.function}: {self.change}"

    @property
    def code_name(self) -> str:
        """The function as `Coverage` names it."""
        return f"{self.file}::{self.function}"


_COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
_REVERSED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.Gt, ast.LtE: ast.GtE, ast.Gt: ast.Lt, ast.GtE: ast.LtE,
}  # fmt: skip
_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult, ast.Pow: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr,
}  # fmt: skip
_UNTOUCHED = ("__all__", "__slots__", "TYPE_CHECKING")


class _Mutator(ast.NodeTransformer):
    """Counts the places where a tree can be changed, in a fixed order, and changes one of them."""

    def __init__(self, file: Path, wanted: int | None = None) -> None:
        self.file = file
        self.wanted = wanted
        self.mutants: list[Mutant] = []
        self._names: list[str] = []

    def _change(self, node: Any, other: ast.AST, change: str) -> Any:
        number = len(self.mutants)
        function = ".".join(self._names[:2]) if self._names else MODULE
        self.mutants.append(Mutant(self.file, function, node.lineno, change, number))
        return ast.copy_location(other, node) if number == self.wanted else node

    def generic_visit(self, node: ast.AST) -> ast.AST:
        """Look at everything but annotations, decorators, docstrings and what only type checkers read."""
        for name, value in ast.iter_fields(node):
            if name in ("annotation", "returns", "decorator_list", "type_params"):
                continue
            if isinstance(value, list):
                value[:] = [self.visit(each) if isinstance(each, ast.AST) else each for each in value]
            elif isinstance(value, ast.AST):
                setattr(node, name, self.visit(value))
        return node

    def _named(self, node: Any) -> Any:
        self._names.append(node.name)
        self.generic_visit(node)
        self._names.pop()
        return node

    visit_FunctionDef = visit_AsyncFunctionDef = visit_ClassDef = _named  # noqa: N815

    def visit_Expr(self, node: ast.Expr) -> Any:
        if isinstance(node.value, ast.Constant):
            return node
        self.generic_visit(node)
        if isinstance(node.value, ast.Call) and self._names:
            return self._change(node, ast.Pass(), f"leave out {_short(node)}")
        return node

    def visit_Assign(self, node: ast.Assign) -> Any:
        named = isinstance(node.targets[0], ast.Name) and node.targets[0].id in _UNTOUCHED
        return node if named else self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> Any:
        before = _short(node)
        self.generic_visit(node)
        for table in (_COMPARED, _REVERSED):
            for place, operator in enumerate(node.ops):
                if type(operator) in table:
                    ops = [*node.ops[:place], table[type(operator)](), *node.ops[place + 1 :]]
                    other = ast.Compare(node.left, ops, node.comparators)
                    changed = self._change(node, other, f"{before} → {_short(other)}")
                    if changed is not node:
                        return changed
        return node

    def visit_BinOp(self, node: ast.BinOp) -> Any:
        before = _short(node)
        self.generic_visit(node)
        if type(node.op) not in _ARITHMETIC or (isinstance(node.op, ast.BitOr) and not self._names):
            return node
        other = ast.BinOp(node.left, _ARITHMETIC[type(node.op)](), node.right)
        return self._change(node, other, f"{before} → {type(other.op).__name__}")

    def visit_BoolOp(self, node: ast.BoolOp) -> Any:
        before = _short(node)
        self.generic_visit(node)
        other = ast.BoolOp(ast.Or() if isinstance(node.op, ast.And) else ast.And(), node.values)
        return self._change(node, other, f"{before} → {type(other.op).__name__}")

    def visit_UnaryOp(self, node: ast.UnaryOp) -> Any:
        before = _short(node)
        self.generic_visit(node)
        return self._change(node, node.operand, f"{before} → without {type(node.op).__name__}")

    def visit_Constant(self, node: ast.Constant) -> Any:
        value: Any = node.value
        match value:
            case bool():
                other: Any = not value
            case int() | float():
                other = value + 1
            case str():
                other = f"{value}XX"
            case _:
                return node
        return self._change(node, ast.Constant(other), f"{_short(node)} → {str(other)[-30:]!r}")

    def visit_Return(self, node: ast.Return) -> Any:
        before = _short(node)
        self.generic_visit(node)
        if node.value is None or (isinstance(node.value, ast.Constant) and node.value.value is None):
            return node
        return self._change(node, ast.Return(ast.Constant(None)), f"{before} → return None")

    def _tested(self, node: Any) -> Any:
        if isinstance(node.test, ast.Name) and node.test.id in _UNTOUCHED:
            return node
        before = _short(node.test)
        self.generic_visit(node)
        test = node.test
        node.test = self._change(test, ast.UnaryOp(ast.Not(), test), f"if {before} → if not")
        return node

    visit_If = visit_IfExp = visit_While = _tested  # noqa: N815

    def visit_Subscript(self, node: ast.Subscript) -> Any:
        literal = isinstance(node.value, ast.Name) and node.value.id == "Literal"
        return node if literal else self.generic_visit(node)

    def visit_keyword(self, node: ast.keyword) -> Any:
        return node if node.arg == "strict" else self.generic_visit(node)


def _short(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= 60 else f"{text[:40]}…{text[-19:]}"


def mutants_of(file: Path) -> list[Mutant]:
    """Every mutant of a file."""
    mutator = _Mutator(file)
    mutator.visit(ast.parse(file.read_text(encoding="utf-8")))
    return mutator.mutants


def mutated(mutant: Mutant) -> CodeType:
    """The file with this mistake in it, compiled."""
    tree = ast.parse(mutant.file.read_text(encoding="utf-8"))
    _Mutator(mutant.file, mutant.number).visit(tree)
    return compile(ast.fix_missing_locations(tree), str(mutant.file), "exec")


def sample(mutants: Iterable[Mutant], size: int, seed: int) -> list[Mutant]:
    """As many of them, those with the smallest hashes; the same change in the same function is told apart by place."""
    seen: Counter[tuple[str, str]] = Counter()
    hashed = []
    for mutant in mutants:
        key = (mutant.function, mutant.change)
        seen[key] += 1
        digest = hashlib.sha256(f"{seed} {key} {seen[key]}".encode()).hexdigest()
        hashed.append((digest, mutant))
    return [mutant for _, mutant in sorted(hashed, key=lambda each: each[0])[:size]]
