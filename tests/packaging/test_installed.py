"""Wheel, source archive and single file, each tried on a clean environment with nothing of this folder in it.

Slow, and it fetches what the program depends on; run it by name: `python -m pytest tests/packaging -m slow`.
Every Python of `TRY_PYTHONS` (paths, separated as in PATH) is tried, or those found by their names.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tarfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from cornerwalk.guide import page
from tests.guide.reading import fenced
from tests.packaging.tour import Tour

ROOT = Path(__file__).parents[2]
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
CORE = ("quantity", "session", "standards", "assess", "store", "textfiles", "sheet", "settings", "words", "line", "cli")
"""The rooms whose tests are run from the source archive: all that the readings and their meaning hang on."""

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX pseudo-terminal"),
]
COMMANDS = [block.splitlines() for block in fenced(page("setup"), "install")]
"""Of the guide: with a network; the single file made, and started; packages fetched, and installed."""

NAMED = [Path(name) for name in os.environ.get("TRY_PYTHONS", "").split(os.pathsep) if name]
HOME = Path.home()
"""Where the installer keeps what it fetched: read before a test gets an empty home of its own."""


def found(version: str) -> Path | None:
    """The Python of this version, if the machine has one that runs."""
    by_name = shutil.which(f"python{version}")
    for python in [*NAMED, *([Path(by_name)] if by_name else [])]:
        asking = [str(python), "-c", "import sys; print('%d.%d' % sys.version_info[:2])"]
        said = subprocess.run(asking, capture_output=True, text=True, check=False)
        if said.stdout.strip() == version:
            return python
    return None


def must(*command: str | Path, cwd: Path | None = None) -> str:
    """Run this; what it said if it fails."""
    environment = {**os.environ, "HOME": str(HOME)}
    done = subprocess.run(
        [str(part) for part in command], cwd=cwd, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout[-4000:]
    return done.stdout


@dataclass(frozen=True)
class Reader:
    """Somebody who types what the guide shows, in the folder that the program came in."""

    folder: Path
    tools: Path

    def types(self, line: str) -> None:
        """One line of the guide; raises AssertionError with what it said if it fails."""
        path = f"{self.tools}{os.pathsep}{os.environ['PATH']}"
        must("env", f"PATH={path}", f"SHIV_ROOT={self.folder / '.shiv'}", "sh", "-c", line, cwd=self.folder)

    def empty(self, name: str) -> Path:
        """A new folder beside that of the program."""
        made = self.folder.parent / name
        made.mkdir()
        return made


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder with wheel and source archive, as `python -m build` makes them."""
    folder = tmp_path_factory.mktemp("dist")
    must(sys.executable, "-m", "build", "--outdir", folder, ROOT)
    return folder


@pytest.fixture(params=PYTHONS)
def python(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Path]:
    """The Python of a new, empty environment."""
    version: str = request.param
    maker = found(version)
    if maker is None:
        pytest.skip(f"no Python {version} here")
    must(maker, "-m", "venv", tmp_path / "venv")
    yield tmp_path / "venv" / "bin" / "python"
    shutil.rmtree(tmp_path / "venv")


def only(folder: Path, pattern: str) -> Path:
    (file,) = folder.glob(pattern)
    return file


def test_from_the_wheel_alone(python: Path, built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything a first day needs works, and nothing in it is on the way out of this Python."""
    must(python, "-m", "pip", "install", "-q", f"{only(built, '*.whl')}[pdf,qr]")
    monkeypatch.setenv("PYTHONWARNINGS", "error::DeprecationWarning,error::PendingDeprecationWarning")
    Tour([str(python.with_name("cornerwalk"))], tmp_path).take()


def test_from_the_source_archive(python: Path, built: Path, tmp_path: Path) -> None:
    """It installs with all its extras, and its own tests of the core pass beside it."""
    archive = only(built, "*.tar.gz")
    must(python, "-m", "pip", "install", "-q", f"{archive}[test]")
    with tarfile.open(archive) as opened:
        opened.extractall(tmp_path, filter="data")
    folder = only(tmp_path, "cornerwalk-*")
    # What is tested is what was installed: nothing puts the folder's own src on the path.
    said = must(python, "-m", "pytest", "-q", "-m", "not slow", *(f"tests/{room}" for room in CORE), cwd=folder)
    assert " passed" in said
    Tour([str(python.with_name("cornerwalk"))], tmp_path).take()


@pytest.fixture
def reader(built: Path, tmp_path: Path) -> Reader:
    """Somebody with the unpacked source, an empty home, and a Python that has nothing but pip."""
    with tarfile.open(only(built, "*.tar.gz")) as opened:
        opened.extractall(tmp_path, filter="data")
    must(sys.executable, "-m", "venv", tmp_path / "tools")
    return Reader(only(tmp_path, "cornerwalk-*"), tmp_path / "tools" / "bin")


NO_NETWORK = ("unshare", "-n")
can_be_cut_off = pytest.mark.skipif(
    shutil.which("unshare") is None or bool(subprocess.run([*NO_NETWORK, "true"], check=False).returncode),
    reason="no way here to take the network away",
)


def test_the_guide_installs_it(reader: Reader) -> None:
    """The first commands of the page, as they stand there."""
    for line in COMMANDS[0]:
        reader.types(line)
    Tour([str(reader.folder / "cornerwalk-here" / "bin" / "cornerwalk")], reader.empty("work")).take()


@can_be_cut_off
def test_the_single_file_without_a_network(reader: Reader) -> None:
    """One file with all that the program needs, made by the page's command, runs where no network is."""
    for line in COMMANDS[1]:
        reader.types(line)
    shutil.rmtree(reader.folder / "src")
    (start,) = COMMANDS[2]
    reader.types(f"unshare -n {start}")
    single = reader.folder / start.split()[1]
    bare = reader.empty("bare")
    must(sys.executable, "-m", "venv", "--without-pip", bare)
    Tour([*NO_NETWORK, str(bare / "bin" / "python"), str(single)], reader.empty("work")).take()


@can_be_cut_off
def test_the_folder_of_packages_without_a_network(reader: Reader) -> None:
    """Fetched once by the page's command, installed from where no network is."""
    for line in COMMANDS[3]:
        reader.types(line)
    shutil.rmtree(reader.folder / "src")
    for line in COMMANDS[4]:
        reader.types(f"unshare -n {line}")
    Tour([*NO_NETWORK, str(reader.folder / "cornerwalk-here" / "bin" / "cornerwalk")], reader.empty("work")).take()
