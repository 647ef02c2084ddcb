"""What goes into the wheel and the source archive: all that the program reads, nothing that a machine left behind."""

from __future__ import annotations

import tarfile
from email import message_from_bytes
from email.message import Message
from gettext import GNUTranslations
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from hatchling.builders.sdist import SdistBuilder
from hatchling.builders.wheel import WheelBuilder

from cornerwalk.words import languages
from hatch_build import CATALOGS

ROOT = Path(__file__).parents[2]
LEFT_BEHIND = ("__pycache__", ".pyc", ".actual.txt", "_cache/", ".index.json", ".benchmarks", ".hypothesis", ".venv")


def data_files(folder: Path) -> set[str]:
    """Every file of a folder that is no code, by its path inside it."""
    names = (path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    return {name for name in names if not name.endswith(".py") and not any(mark in name for mark in LEFT_BEHIND)}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> ZipFile:
    """The wheel, as the build tool makes it."""
    (made,) = WheelBuilder(str(ROOT)).build(directory=str(tmp_path_factory.mktemp("wheel")), versions=["standard"])
    return ZipFile(made)


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The source archive, unpacked."""
    folder = tmp_path_factory.mktemp("source")
    (made,) = SdistBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    with tarfile.open(made) as opened:
        opened.extractall(folder, filter="data")
    (unpacked,) = folder.glob("*/")
    return unpacked


@pytest.fixture(scope="module")
def source(archive: Path) -> set[str]:
    """The names in the source archive, without its top folder."""
    return {path.relative_to(archive).as_posix() for path in archive.rglob("*")}


def metadata(wheel: ZipFile) -> Message:
    (name,) = (name for name in wheel.namelist() if name.endswith(".dist-info/METADATA"))
    return message_from_bytes(wheel.read(name))


def test_every_file_that_the_program_reads_is_in_the_wheel(wheel: ZipFile) -> None:
    """Rules, checklists, findings, catalogues, guide, looks, fonts, questions and samples; `py.typed` with them."""
    names = set(wheel.namelist())
    package = data_files(ROOT / "src" / "cornerwalk")
    assert len(package) > 60
    assert {f"cornerwalk/{name}" for name in package} - names == set()
    samples = data_files(ROOT / "sample_sessions")
    assert len(samples) > 8
    assert {f"cornerwalk/sample_sessions/{name}" for name in samples} - names == set()
    modules = {path.relative_to(ROOT / "src").as_posix() for path in (ROOT / "src" / "cornerwalk").rglob("*.py")}
    assert "cornerwalk/api.py" in modules
    assert modules - names == set()


def test_nothing_else_is(wheel: ZipFile, source: set[str]) -> None:
    """No cache, no build, no test in the wheel; no cache in the source."""
    for name in (*wheel.namelist(), *source):
        assert not any(mark in name for mark in LEFT_BEHIND), name
    tops = {name.partition("/")[0] for name in wheel.namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"cornerwalk"}


def test_the_build_compiles_the_catalogs(archive: Path, source: set[str], tmp_path: Path) -> None:
    """The source archive has them as people write them; a wheel made from it has each as the program reads it."""
    written = {name for name in source if name.endswith(".po")}
    assert len(written) == 2
    assert not any(name.endswith(".mo") for name in source)
    (made,) = WheelBuilder(str(archive)).build(directory=str(tmp_path), versions=["standard"])
    with ZipFile(made) as built:
        for name in written:
            compiled = name.removeprefix("src/").removesuffix(".po") + ".mo"
            assert GNUTranslations(BytesIO(built.read(compiled))).pgettext("decimal mark", ".") == ","


def test_an_editable_install_compiles_them_too(archive: Path, tmp_path: Path) -> None:
    """They lie in the source folder then, where the program looks."""
    for name in ("de", "es"):
        (archive / CATALOGS / name / "LC_MESSAGES" / "cornerwalk.mo").unlink(missing_ok=True)
    list(WheelBuilder(str(archive)).build(directory=str(tmp_path), versions=["editable"]))
    assert languages(archive / CATALOGS) == ["en", "de", "es"]


def test_the_source_can_be_tested(source: set[str]) -> None:
    """Tests, what they need by hash, the pages for readers and the checks of every change are in it."""
    wanted = {
        "README.md",
        "CHANGELOG.md",
        "DEVELOPERS.md",
        "LICENSE",
        "pyproject.toml",
        "src/hatch_build.py",
        ".ci/run",
    }
    assert wanted | {"tests/conftest.py", "tests/requirements.lock"} <= source
    tests = {path.relative_to(ROOT).as_posix() for path in (ROOT / "tests").rglob("test_*.py")}
    assert len(tests) > 100
    assert tests - source == set()


def test_it_says_what_it_is(wheel: ZipFile) -> None:
    """Name, version, Python, licence of the program and of each font, every extra, one command."""
    told = metadata(wheel)
    assert (told["Name"], told["Requires-Python"], told["License-Expression"]) == ("cornerwalk", ">=3.11", "MIT")
    assert {path.rpartition("/")[2] for path in told.get_all("License-File", [])} == {
        "LICENSE",
        "LICENSE-DejaVu.txt",
        "LICENSE-DroidSansFallback.txt",
    }
    assert set(told.get_all("Provides-Extra", [])) == {"all", "fleet", "pdf", "qr", "test"}
    (entries,) = (name for name in wheel.namelist() if name.endswith("entry_points.txt"))
    assert wheel.read(entries).decode().split() == ["[console_scripts]", "cornerwalk", "=", "cornerwalk.cli:main"]


def test_the_machine_that_built_it_is_not_in_it(wheel: ZipFile) -> None:
    """No path of the builder's folder in any text."""
    for name in wheel.namelist():
        if not name.endswith((".ttf", ".mo")):
            assert str(ROOT).encode() not in wheel.read(name), name
