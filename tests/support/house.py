"""House plan: the tables of DEVELOPERS.md as rooms with what they may import, and libraries with their rooms."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "src" / "cornerwalk"


@dataclass(frozen=True)
class Plan:
    """Rooms in the order of the table, each with the rooms it may import; libraries with the modules they belong to."""

    may_import: dict[str, frozenset[str]]
    only_in: dict[str, tuple[str, ...]]


def plan(page: str | None = None) -> Plan:
    """The plan as DEVELOPERS.md has it.

    Raises:
        ValueError: a cell of the table says something that is no room.
    """
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8") if page is None else page
    rooms = [(name, cell) for name, cell in _rows(text, "room") if name]
    names = [name for name, _ in rooms]
    may_import: dict[str, frozenset[str]] = {}
    for name, cell in rooms:
        may_import[name] = frozenset(_allowed(name, cell, names, may_import))
    only_in = {
        library.strip(): tuple(place.strip() for place in cell.split(","))
        for row, cell in _rows(text, "library")
        for library in row.split(",")
    }
    return Plan(may_import, only_in)


def _rows(text: str, heading: str) -> Iterator[tuple[str, str]]:
    """First and last cell of each row of the table whose first column has this heading."""
    table = re.search(rf"^\| {heading} \|.*\n\|[-|]+\|\n((?:\|.*\n)+)", text, flags=re.MULTILINE)
    if table is None:
        raise ValueError(f"DEVELOPERS.md has no table of each {heading}")
    for row in table[1].splitlines():
        cells = [cell.strip() for cell in row.strip("|").split("|")]
        yield cells[0].strip("`").rstrip("/").removesuffix(".py"), cells[-1]


def _allowed(name: str, cell: str, names: list[str], before: dict[str, frozenset[str]]) -> Iterable[str]:
    others = [room for room in names if room != name]
    if cell == "–":
        return ()
    if cell == "all":
        return others
    if cell.startswith("all but "):
        barred = _known(cell.removeprefix("all but ").split(","), names)
        return [room for room in others if room not in barred]
    if cell.endswith(" and what it may import"):
        (below,) = _known([cell.removesuffix(" and what it may import")], names)
        return [below, *before[below]]
    return _known(cell.split(","), names)


def _known(cells: list[str], names: list[str]) -> list[str]:
    rooms = [cell.strip() for cell in cells]
    strange = set(rooms) - set(names)
    if strange:
        raise ValueError(f"no room of the table: {', '.join(sorted(strange))}")
    return rooms


def contracts(house: Plan) -> list[dict[str, object]]:
    """The import contracts of import-linter that hold the code to this plan, one a room and one a library."""
    made: list[dict[str, object]] = []
    for room, allowed in house.may_import.items():
        barred = [f"cornerwalk.{other}" for other in house.may_import if other != room and other not in allowed]
        if barred:
            made.append(_forbidden(f"room-{room}", f"{room} keeps to its imports", [f"cornerwalk.{room}"], barred))
    for library, places in house.only_in.items():
        contract = _forbidden(f"library-{library}", f"{library} only in {', '.join(places)}", ["cornerwalk"], [library])
        contract["ignore_imports"] = [
            f"cornerwalk.{place}{below} -> {library}" for place in places for below in ("", ".**")
        ]
        contract["unmatched_ignore_imports_alerting"] = "none"
        made.append(contract)
    return made


def _forbidden(contract_id: str, name: str, sources: list[str], barred: list[str]) -> dict[str, object]:
    return {
        "id": contract_id,
        "name": name,
        "type": "forbidden",
        "source_modules": sources,
        "forbidden_modules": barred,
        "allow_indirect_imports": True,
    }


def imports_between_files(house: Path) -> dict[str, set[str]]:
    """Which module of the package imports which, late and type-only imports included."""
    files = {_dotted(file.relative_to(house.parent)): file for file in house.rglob("*.py")}
    found: dict[str, set[str]] = {}
    for module, file in files.items():
        wanted: set[str] = set()
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                wanted |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                names = {f"{node.module}.{alias.name}" for alias in node.names}
                wanted |= {name if name in files else node.module for name in names}
        found[module] = (wanted & files.keys()) - {module}
    return found


def _dotted(file: Path) -> str:
    return ".".join(file.with_suffix("").parts).removesuffix(".__init__")


def circles(imports: dict[str, set[str]]) -> list[set[str]]:
    """Every set of modules that import each other, directly or around (Tarjan's strongly connected components)."""
    number: dict[str, int] = {}
    lowest: dict[str, int] = {}
    stack: list[str] = []
    found: list[set[str]] = []

    def visit(module: str) -> None:
        number[module] = lowest[module] = len(number)
        stack.append(module)
        for other in imports[module]:
            if other not in number:
                visit(other)
                lowest[module] = min(lowest[module], lowest[other])
            elif other in stack:
                lowest[module] = min(lowest[module], number[other])
        if lowest[module] == number[module]:
            circle = set(stack[stack.index(module) :])
            del stack[stack.index(module) :]
            if len(circle) > 1:
                found.append(circle)

    for module in imports:
        if module not in number:
            visit(module)
    return found
