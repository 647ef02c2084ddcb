"""The package as it is handed on: complete, of one version, and speaking of itself alone."""

from __future__ import annotations

import hashlib
import itertools
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
    """What stands in each of them, by its path."""
    return {
        file.relative_to(ROOT).as_posix(): file.read_text(encoding="utf-8", errors="replace")
        for file in own_files()
        if file.name != ".git"
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

SAYS_TOO_MUCH = [r"/(?:root|work|home)/[a-z]", r"\bshared[/]", r"(?i)\bfarm[-_]", r"(?i)\bissues? (?:\d|#)"]
"""A machine's folders, and numbers of a list that no reader has. None of these patterns matches itself."""

FORBIDDEN = frozenset(
    {
        "014c777fd4684e19",
        "0dc11026ac75c015",
        "1d3bc63a5a465338",
        "31d123108dba5fd3",
        "3ea125d0bff386e6",
        "54e6289e14c7b0e7",
        "57de4cf40144bdf7",
        "60965168ce762e94",
        "6f6e080ab12220c1",
        "7d3194f79e645c42",
        "875a4dbf957b12cf",
        "8b5bb5eb9d758455",
        "946808cf172da424",
        "a4aa2ac280bb8d1a",
        "c70eca6b0f88f44d",
        "c857d09db23e6822",
        "c899567ee9068517",
        "d27247eba6ef434b",
        "e44c1de25c9b4245",
        "e680c440a2e92079",
    }
)
"""Words and pairs of words, each as the beginning of its SHA-256: this page does not say them either."""


@pytest.mark.parametrize("pattern", SAYS_TOO_MUCH)
def test_the_project_speaks_of_itself_alone(pattern: str) -> None:
    """No file names the place it was written at, or a machine's folders."""
    said = [
        f"{file}:{text.count(chr(10), 0, found.start()) + 1}: {found[0]}"
        for file, text in own_texts().items()
        for found in re.finditer(pattern, text)
    ]
    assert said == []


def told_words(text: str) -> set[str]:
    """Every word of a text and every two that follow one another, in small letters; a name with dots is one word."""
    words = [word.strip(".") for word in re.findall(r"[a-z][a-z.]*", text.lower())]
    return {*words, *(" ".join(pair) for pair in itertools.pairwise(words))}


def hashed(word: str) -> str:
    return hashlib.sha256(word.encode()).hexdigest()[:16]


def test_no_file_says_what_it_was_made_with() -> None:
    """Not a word of the list, in any file, this one included."""
    told: dict[str, set[str]] = {}
    for file, text in own_texts().items():
        for word in told_words(text):
            told.setdefault(word, set()).add(file)
    assert {word: files for word, files in told.items() if hashed(word) in FORBIDDEN} == {}


def test_a_forbidden_word_would_be_found() -> None:
    """Whatever stands around it; the pair is found over a line's end."""
    assert hashed("deb." + "debian.org") in FORBIDDEN
    assert "two words" in told_words("(Two\nWords)")
    assert "a.name.of" in told_words("see https://a.name.of/file.")


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
