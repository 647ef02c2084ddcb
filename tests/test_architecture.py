"""The house keeps its plan: who imports whom, what loads when, what is looked up where, how long a file is."""

from __future__ import annotations

import ast
import json
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support.house import HOUSE, ROOT, circles, contracts, imports_between_files, plan

SOURCES = sorted(HOUSE.rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))
LONGEST_FILE = 600

PLAN = plan()

# A line that each contract must not let through: room or library, the file it is planted in, the line.
PLANTED = [
    ("room-quantity", "quantity/planted.py", "import cornerwalk.assess"),
    ("room-words", "words/planted.py", "import cornerwalk.quantity"),
    ("room-textfiles", "textfiles/planted.py", "import cornerwalk.words"),
    ("room-samples", "samples.py", "import cornerwalk.settings"),
    ("room-session", "session/planted.py", "def late():\n    from cornerwalk.words import tr"),
    ("room-standards", "standards/planted.py", "import cornerwalk.session"),
    ("room-assess", "assess/planted.py", "from cornerwalk import wording"),
    ("room-store", "store/planted.py", "import cornerwalk.assess"),
    ("room-guide", "guide/planted.py", "import cornerwalk.store"),
    ("room-settings", "settings/planted.py", "import cornerwalk.session"),
    ("room-sheet", "sheet/planted.py", "from cornerwalk.assess import assess"),
    ("room-wording", "wording/planted.py", "import cornerwalk.report"),
    ("room-report", "report/planted.py", "import cornerwalk.store"),
    ("room-context", "context.py", "import cornerwalk.words"),
    ("room-tables", "tables/planted.py", "import cornerwalk.job"),
    ("room-job", "job/planted.py", "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import cornerwalk.tui"),
    ("room-tui", "tui/planted.py", "import cornerwalk.line"),
    ("room-line", "line/planted.py", "import cornerwalk.tui"),
    ("room-cli", "cli/planted.py", "import cornerwalk.api"),
    ("room-api", "api.py", "import cornerwalk.tui"),
    ("library-pint", "session/planted_too.py", "import pint"),
    ("library-pydantic", "session/planted_too.py", "from pydantic import BaseModel"),
    ("library-filelock", "tui/planted_too.py", "import filelock"),
    ("library-textual", "job/planted_too.py", "from textual import events"),
    ("library-rich", "report/planted_too.py", "from rich.text import Text"),
    ("library-fpdf", "tui/planted_too.py", "import fpdf"),
    ("library-segno", "tui/planted_too.py", "import segno"),
    ("library-pyarrow", "tui/planted_too.py", "import pyarrow"),
    ("library-duckdb", "tui/planted_too.py", "import duckdb"),
    ("library-dask", "cli/planted_too.py", "import dask"),
    ("library-distributed", "cli/planted_too.py", "import distributed"),
    ("library-pandas", "cli/planted_too.py", "import pandas"),
    ("library-numpy", "assess/planted_too.py", "import numpy"),
    ("library-scipy", "assess/planted_too.py", "import scipy"),
    ("library-platformdirs", "store/planted_too.py", "import platformdirs"),
]


def lint_imports(checkout: Path) -> dict[str, str]:
    """What is printed of each contract that this checkout's package breaks, by the contract's id; nothing if none."""
    made = contracts(PLAN)
    config = checkout / ".contracts.toml"
    config.write_text(_toml({"root_package": "cornerwalk", "include_external_packages": True}, made), encoding="utf-8")
    program = "import sys; sys.path.insert(0, sys.argv.pop(1)); from importlinter.cli import lint_imports_command; "
    done = subprocess.run(
        [
            sys.executable,
            "-c",
            f"{program}lint_imports_command()",
            str(checkout / "src"),
            "--no-cache",
            str(config),
        ],
        cwd=checkout,
        capture_output=True,
        text=True,
        check=False,
    )
    printed = re.sub(r"\s+", " ", done.stdout + done.stderr)
    broken = printed.partition("Broken contracts")[2]
    assert (done.returncode == 0) == (broken == ""), printed
    headings = {str(contract["id"]): f"{contract['name']} --" for contract in made}
    begins = sorted((broken.index(heading), contract) for contract, heading in headings.items() if heading in broken)
    ends = [*(begin for begin, _ in begins), len(broken)][1:]
    return {contract: broken[begin:end] for (begin, contract), end in zip(begins, ends, strict=bool(begins))}


def _toml(head: dict[str, object], made: list[dict[str, object]]) -> str:
    lines = ["[tool.importlinter]", *(f"{key} = {json.dumps(value)}" for key, value in head.items())]
    for contract in made:
        lines += [
            "[[tool.importlinter.contracts]]",
            *(f"{key} = {json.dumps(value)}" for key, value in contract.items()),
        ]
    return "\n".join(lines)


def test_every_room_keeps_to_its_imports(tmp_path: Path) -> None:
    """No import crosses the house in a direction that the table does not allow, no library turns up elsewhere."""
    shutil.copytree(HOUSE, tmp_path / "src" / "cornerwalk", ignore=shutil.ignore_patterns("__pycache__"))
    assert lint_imports(tmp_path) == {}


def test_every_contract_refuses_a_planted_import(tmp_path: Path) -> None:
    """Each contract fails on an import it forbids, late and type-only ones too, and names the place."""
    assert [contract for contract, _, _ in PLANTED] == [contract["id"] for contract in contracts(PLAN)]
    shutil.copytree(HOUSE, tmp_path / "src" / "cornerwalk", ignore=shutil.ignore_patterns("__pycache__"))
    files = [file.replace("planted", f"planted_{number}_") for number, (_, file, _) in enumerate(PLANTED)]
    for file, (_, _, line) in zip(files, PLANTED, strict=True):
        (tmp_path / "src" / "cornerwalk" / file).write_text(line + "\n", encoding="utf-8")
    said = lint_imports(tmp_path)
    for file, (contract, _, _) in zip(files, PLANTED, strict=True):
        assert file.removesuffix(".py").replace("/", ".") in said.get(contract, ""), contract


def test_the_table_has_no_circle() -> None:
    """No two rooms may import each other, directly or around."""
    assert circles({room: set(allowed) for room, allowed in PLAN.may_import.items()}) == []


def test_the_table_names_every_room() -> None:
    """The table in DEVELOPERS.md and the folders of the house are the same list, so the plan can be trusted."""
    entries = (entry for entry in HOUSE.iterdir() if not entry.name.startswith("__") and entry.name != "py.typed")
    assert {entry.stem for entry in entries} == set(PLAN.may_import)


def test_a_circle_of_files_is_seen(tmp_path: Path) -> None:
    """Two files that import each other are found, one late, one for types only."""
    (tmp_path / "room").mkdir()
    (tmp_path / "room/one.py").write_text("def late():\n    from room.two import b\n")
    (tmp_path / "room/two.py").write_text("if TYPE_CHECKING:\n    from room import one\n")
    assert circles(imports_between_files(tmp_path / "room")) == [{"room.one", "room.two"}]


def test_no_files_import_each_other() -> None:
    """No circle of files, hidden by a late or a type-only import or not."""
    assert circles(imports_between_files(HOUSE)) == []


HEAVY = ["duckdb", "fpdf", "numpy", "pint", "pyarrow", "pydantic", "rich", "scipy", "segno", "textual"]


@pytest.mark.parametrize(
    "room", ["cli", "session", "quantity", "assess", "standards", "store", "words", "samples", "context"]
)
def test_first_use_loads_no_heavy_library(room: str) -> None:
    """The commands and everything headless can be loaded without screen, unit, model, page or table libraries."""
    program = f"import sys, json, cornerwalk.{room}; print(json.dumps(sorted(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert set(HEAVY) & set(json.loads(done.stdout)) == set()


# What would make a result depend on where and when it is computed, instead of on what is handed in.
LOOKED_UP = {
    "datetime.now", "datetime.today", "datetime.utcnow", "date.today", "time.time", "time.localtime", "os.environ",
    "os.environb", "os.getenv", "os.getlogin", "getpass.getuser", "Path.home", "Path.cwd", "os.getcwd", "expanduser",
    "locale.getlocale", "locale.getdefaultlocale",
}  # fmt: skip


def lookups(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """The line and the name of each look-up of clock, environment, user or folder in this source."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            owner = node.value.id if isinstance(node.value, ast.Name) else ""
            name = f"{owner}.{node.attr}"
            if name in LOOKED_UP or node.attr in LOOKED_UP:
                yield node.lineno, name


def test_lookups_are_recognised() -> None:
    """The check below sees what it is meant to see."""
    found = lookups(
        ast.parse("a = datetime.now()\nb = os.environ['HOME']\nc = Path('~').expanduser()\nd = session.now")
    )
    assert [line for line, _ in found] == [1, 2, 3]


def test_nothing_is_looked_up_below_the_commands() -> None:
    """Clock, environment, user and folders are handed down from the edges, so that a result can be had again."""
    below = [source for source in SOURCES if source.relative_to(HOUSE).parts[0] not in ("cli", "api.py")]
    assert 100 < len(below) < len(SOURCES)
    found = [
        f"{source.relative_to(HOUSE).as_posix()}:{line}: {name}"
        for source in below
        for line, name in lookups(ast.parse(source.read_text(encoding="utf-8")))
    ]
    assert found == []


def test_a_file_is_one_idea() -> None:
    """No file grows past what can be read at one sitting."""
    lengths = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in (*SOURCES, *TESTS)}
    assert {str(path): length for path, length in lengths.items() if length > LONGEST_FILE} == {}


def test_every_test_says_what_it_proves() -> None:
    """Somebody who breaks a test can read what no longer holds."""
    silent = [
        f"{source.relative_to(ROOT).as_posix()}: {node.name}"
        for source in TESTS
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_") and not ast.get_docstring(node)
    ]
    assert silent == []


def swallows_everything(handler: ast.ExceptHandler) -> bool:
    """Whether this `except` takes any error and does not pass it on."""
    takes_all = handler.type is None or ast.unparse(handler.type) in {"Exception", "BaseException"}
    last = handler.body[-1]
    return takes_all and not (isinstance(last, ast.Raise) and last.exc is None)


def test_one_place_catches_every_error() -> None:
    """An error nobody foresaw ends on the crash page of the full screen; nothing else swallows it."""
    blind = [
        f"{source.relative_to(HOUSE).as_posix()}:{node.lineno}"
        for source in SOURCES
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8")))
        if isinstance(node, ast.ExceptHandler) and swallows_everything(node)
    ]
    assert [place for place in blind if not place.startswith("tui/")] == []
    assert len(blind) <= 1, blind


def test_no_two_classes_share_a_name() -> None:
    """A name leads to one class, so that a search finds it; a message inside its widget goes by the widget's name."""
    places: dict[str, list[str]] = {}
    for file in sorted(HOUSE.rglob("*.py")):
        for node in ast.parse(file.read_text("utf-8")).body:
            if isinstance(node, ast.ClassDef):
                places.setdefault(node.name, []).append(file.relative_to(HOUSE).as_posix())
    shared = {name: files for name, files in places.items() if len(files) > 1}
    assert shared == {}
