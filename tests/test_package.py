"""The package as it is handed on: complete, of one version, and speaking of itself alone."""

from __future__ import annotations

import os
import re
import tomllib
import zipfile
from functools import cache
from importlib import metadata
from pathlib import Path

import pytest

import cornerwalk
from cornerwalk.samples import sample_folder

ROOT = Path(__file__).parents[1]
HOUSE = ROOT / "src" / "cornerwalk"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]


def own_files() -> list[Path]:
    """Every file of the project's own, without what running, testing and building leave behind."""
    left_behind = {".git", ".venv", "__pycache__", "build", "dist", ".hypothesis", "htmlcov"}
    found = []
    for folder, subfolders, names in os.walk(ROOT):
        subfolders[:] = [name for name in subfolders if name not in left_behind and not name.endswith("_cache")]
        found += [
            Path(folder, name)
            for name in names
            if not name.startswith(".coverage") and not name.endswith((".pyc", ".actual.txt"))
        ]
    return sorted(found)


@cache
def own_texts() -> dict[str, str]:
    """What stands in each of them but this one, by its path."""
    return {
        file.relative_to(ROOT).as_posix(): file.read_text(encoding="utf-8", errors="replace")
        for file in own_files()
        if file.resolve() != Path(__file__).resolve() and file.name != ".git"
    }


def test_versions_agree() -> None:
    """The program, its metadata and the newest entry of the changelog name one version."""
    newest = re.search(r"^## \[(\d[^\]]*)\]", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), flags=re.MULTILINE)
    assert newest is not None
    assert {PROJECT["version"], metadata.version("cornerwalk"), newest[1]} == {cornerwalk.__version__}


def test_the_command_is_installed() -> None:
    """Installing the package gives the user the `cornerwalk` command."""
    (command,) = metadata.entry_points(group="console_scripts", name="cornerwalk")
    assert command.value == "cornerwalk.cli:main"


# The project is its own: it does not tell where it was made, with what, or on which machine.
# Each pattern is written so that it does not match itself here.
SAYS_TOO_MUCH = [
    r"/(?:root|work|home)/[a-z]",
    r"\bshared[/]",
    r"(?i)\b[t]ranscripts?\b",
    r"(?i)seed[ ]document",
    r"(?i)\bfarm[-_]",
    r"\bC[E]O\b",
    r"(?i)\bbrief[.]md",
    r"(?i)\bissues? (?:show|list|\d|#)",
    r"(?i)\bduplicates [-]-",
    r"(?i)pypi[.]org|pythonhosted[.]|registry[.]npmjs|deb[.]debian",
    r"(?i)\b(?:claude|chatgpt|copilot|codex|anthropic|openai)\b",
]


@pytest.mark.parametrize("pattern", SAYS_TOO_MUCH)
def test_the_project_speaks_of_itself_alone(pattern: str) -> None:
    """No file names the place it was written at, the way it was written, or a machine's folders."""
    said = [
        f"{file}:{text.count(chr(10), 0, found.start()) + 1}: {found[0]}"
        for file, text in own_texts().items()
        for found in re.finditer(pattern, text)
    ]
    assert said == []


def test_samples_are_found_in_a_checkout() -> None:
    """A checkout shows the samples at its top, where people look for them."""
    assert sample_folder() == ROOT / "sample_sessions"


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from this checkout."""
    from hatchling.builders.wheel import WheelBuilder

    folder = tmp_path_factory.mktemp("dist")
    (built,) = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    return Path(built)


def test_the_wheel_carries_everything(wheel: Path) -> None:
    """Data, catalogues, guide, styles and samples go with the code: what is installed from the wheel lacks nothing."""
    packed = set(zipfile.ZipFile(wheel).namelist())
    inside = {f"cornerwalk/{file.relative_to(HOUSE).as_posix()}" for file in own_files() if file.is_relative_to(HOUSE)}
    samples = ROOT / "sample_sessions"
    beside = {
        f"cornerwalk/sample_sessions/{file.relative_to(samples).as_posix()}"
        for file in own_files()
        if file.is_relative_to(samples)
    }
    assert beside
    assert inside | beside <= packed
    assert "cornerwalk/py.typed" in packed


def test_the_wheel_carries_nothing_else(wheel: Path) -> None:
    """Tests, tools and left-behind files stay out of what users install."""
    names = zipfile.ZipFile(wheel).namelist()
    assert [name for name in names if not name.startswith(("cornerwalk/", "cornerwalk-"))] == []
    assert [name for name in names if "__pycache__" in name or "/tests/" in name] == []


def test_samples_are_found_in_an_unpacked_wheel(wheel: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Installed from the wheel, the program finds the samples inside itself."""
    zipfile.ZipFile(wheel).extractall(tmp_path)
    installed = tmp_path / "cornerwalk"
    monkeypatch.setattr("cornerwalk.samples.__file__", str(installed / "samples.py"))
    assert sample_folder() == installed / "sample_sessions"
