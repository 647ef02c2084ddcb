"""The house keeps its plan: who imports whom, what loads when, what is looked up where, how long a file is."""

from __future__ import annotations

import ast
import json
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
HOUSE = ROOT / "src" / "cornerwalk"
SOURCES = sorted(HOUSE.rglob("*.py"))
TESTS = sorted((ROOT / "tests").rglob("*.py"))
LONGEST_FILE = 600

# One line that each contract must not let through: contract, file it is planted in, the line.
FORBIDDEN = [
    ("floors", "quantity/planted.py", "import cornerwalk.assess"),
    ("floors", "attic.py", ""),  # a room that is not in the plan
    ("who-imports-quantity", "store/planted.py", "import cornerwalk.quantity"),
    ("who-imports-session", "standards/planted.py", "import cornerwalk.session"),
    ("who-imports-standards", "store/planted.py", "import cornerwalk.standards"),
    ("who-imports-assess", "sheet/planted.py", "from cornerwalk.assess import assess"),
    ("who-imports-store", "report/planted.py", "import cornerwalk.store"),
    ("who-imports-wording", "assess/planted.py", "import cornerwalk.wording"),
    ("who-imports-report", "assess/planted.py", "import cornerwalk.report"),
    ("who-imports-sheet", "store/planted.py", "from cornerwalk import sheet"),
    ("who-imports-settings", "assess/planted.py", "import cornerwalk.settings"),
    ("who-imports-textfiles", "session/planted.py", "import cornerwalk.textfiles"),
    ("who-imports-words", "session/planted.py", "def late():\n    from cornerwalk.words import tr"),
    ("who-imports-guide", "report/planted.py", "import cornerwalk.guide"),
    ("who-imports-samples", "tables/planted.py", "import cornerwalk.samples"),
    ("who-imports-tables", "report/planted.py", "import cornerwalk.tables"),
    ("who-imports-context", "tables/planted.py", "import cornerwalk.context"),
    ("who-imports-job", "tables/planted.py", "import cornerwalk.job"),
    ("who-imports-tui", "line/planted.py", "import cornerwalk.tui"),
    ("who-imports-line", "tui/planted.py", "import cornerwalk.line"),
    ("who-imports-cli", "tables/planted.py", "import cornerwalk.cli"),
    ("outside-units", "session/planted.py", "import pint"),
    ("outside-shapes", "session/planted.py", "from pydantic import BaseModel"),
    ("outside-screen", "report/planted.py", "from rich.text import Text"),
    ("outside-paper", "tui/planted.py", "import fpdf"),
    ("outside-engines", "tui/planted.py", "import duckdb"),
    ("outside-arrays", "assess/planted.py", "import numpy"),
    ("outside-locks", "tui/planted.py", "import filelock"),
    ("outside-folders", "store/planted.py", "import platformdirs"),
]


def contracts() -> dict[str, str]:
    """The name of every import contract, by its id."""
    config = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    return {contract["id"]: contract["name"] for contract in config["tool"]["importlinter"]["contracts"]}


def lint_imports(checkout: Path, *options: str) -> tuple[int, str]:
    """Check the contracts of this checkout; exit status and what was printed, its spaces and line ends made one."""
    program = "import sys; sys.path.insert(0, 'src'); from importlinter.cli import lint_imports_command as lint; lint()"
    done = subprocess.run(
        [sys.executable, "-c", program, "--no-cache", *options],
        cwd=checkout,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, re.sub(r"\s+", " ", done.stdout + done.stderr)


def test_every_room_keeps_to_its_imports() -> None:
    """No import crosses the house in a direction that the plan does not allow."""
    status, printed = lint_imports(ROOT)
    assert status == 0, printed


def test_every_contract_has_a_line_that_breaks_it() -> None:
    """No contract goes untested: for each there is an import, below, that it must refuse."""
    assert {contract for contract, _, _ in FORBIDDEN} == set(contracts())


def test_every_forbidden_import_is_refused(tmp_path: Path) -> None:
    """Each contract really fails on the import it forbids, wherever in a file that stands, and names the place."""
    shutil.copytree(HOUSE, tmp_path / "src" / "cornerwalk", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    planted = [(contract, file.replace("planted", f"planted_{n}_")) for n, (contract, file, _) in enumerate(FORBIDDEN)]
    for (_, file), (_, _, line) in zip(planted, FORBIDDEN, strict=True):
        (tmp_path / "src" / "cornerwalk" / file).write_text(line + "\n")
    status, printed = lint_imports(tmp_path)
    assert status == 1, printed
    said = said_of_contracts(printed)
    for contract, file in planted:
        assert file.removesuffix(".py").replace("/", ".") in said[contract], (contract, said[contract])


def said_of_contracts(printed: str) -> dict[str, str]:
    """What stands below the heading of each broken contract."""
    broken = printed.partition("Broken contracts")[2]
    begins = sorted((broken.index(f"{name} --"), contract) for contract, name in contracts().items())
    ends = [begin for begin, _ in begins[1:]] + [len(broken)]
    return {contract: broken[begin:end] for (begin, contract), end in zip(begins, ends, strict=True)}


def test_the_plan_names_every_room() -> None:
    """The table in DEVELOPERS.md and the folders of the house are the same list, so the plan can be trusted."""
    table = re.findall(r"^\| (`[^|]+`) \|", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), flags=re.MULTILINE)
    planned = {name.rstrip("/").removesuffix(".py") for cell in table for name in re.findall(r"`([\w./]+)`", cell)}
    entries = (entry for entry in HOUSE.iterdir() if not entry.name.startswith("__") and entry.name != "py.typed")
    assert {entry.stem for entry in entries} == planned


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
    """Clock, environment, user and folders are handed down from the commands, so that a result can be had again."""
    below = [source for source in SOURCES if source.relative_to(HOUSE).parts[0] != "cli"]
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
