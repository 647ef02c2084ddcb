"""Every command that the guide and the README show is run, in a folder like the one the reader has."""

from __future__ import annotations

import io
import os
import re
import shlex
import shutil
import sys
from pathlib import Path

import pytest

from cornerwalk.cli import main
from cornerwalk.samples import sample_folder
from tests.guide.reading import every_block
from tests.line.talking import VEHICLE
from tests.support.jobs import WORKED_CASE

README = Path(__file__).parents[2] / "README.md"
IN_README = [
    line.partition("  #")[0].strip()
    for block in re.findall(r"^```sh\n(.*?)^```", README.read_text("utf-8"), re.MULTILINE | re.DOTALL)
    for line in block.splitlines()
    if line.startswith("cornerwalk")  # the lines that install it are run on every change, as they stand there
]
COMMANDS = sorted(
    {*IN_README, *(line for _, block in every_block("sh") for line in block.splitlines() if line.strip())}
)

HEIGHTS = (
    "stage,pressure,LF,RF,RR,LR\nunloaded,,28 5/8,28 11/16,29 3/16,29 1/4\nloaded,,28 7/8,28 15/16,27 5/8,27 3/4\n"
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The samples, a sheet without readings and one with them, a session, heights as a spreadsheet has them."""
    place = tmp_path_factory.mktemp("reader")
    shutil.copytree(sample_folder(), place / "sample_sessions")
    (place / "van.toml").write_text(VEHICLE, encoding="utf-8")
    (place / "paper.toml").write_text(WORKED_CASE, encoding="utf-8")
    (place / "heights.csv").write_text(HEIGHTS, encoding="utf-8")
    for session in ("van.json", "job.json"):
        assert main(["import", str(place / "paper.toml"), "--out", str(place / session)]) == 0
    (place / "sessions").mkdir()
    return place


def arguments_of(line: str) -> list[str]:
    program, *arguments = shlex.split(line)
    assert program == "cornerwalk"
    return arguments


@pytest.mark.parametrize("line", COMMANDS)
def test_a_command_shown_works(
    line: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It ends with status 0; one that opens the full screen says that it needs a terminal, and works with --plain."""
    _as_the_reader_has_it(folder)
    monkeypatch.chdir(folder)
    arguments = arguments_of(line)
    status, errors = _run(arguments, monkeypatch, capsys)
    if status == 2 and "needs a terminal" in errors:
        status, errors = _run(["--plain", *arguments], monkeypatch, capsys)
    assert status == 0, errors


def _as_the_reader_has_it(folder: Path) -> None:
    sessions = Path(os.environ["XDG_DATA_HOME"]) / "cornerwalk" / "sessions"
    sessions.mkdir(parents=True)
    (sessions / "van.json").write_bytes((folder / "van.json").read_bytes())
    for made in ("imported.json", "tables"):
        _gone(folder / made)


def _run(
    arguments: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> tuple[int | str | None, str]:
    """The status, and what went to the error output, with nobody at the keyboard."""
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    try:
        status: int | str | None = main(arguments)
    except SystemExit as ended:
        status = ended.code
    return status, capsys.readouterr().err


def _gone(path: Path) -> None:
    if path.is_dir():
        for inside in sorted(path.rglob("*"), reverse=True):
            inside.rmdir() if inside.is_dir() else inside.unlink()
        path.rmdir()
    path.unlink(missing_ok=True)


def test_there_are_commands_to_try() -> None:
    """The blocks are found; without that every command would seem to work."""
    assert len(COMMANDS) > 25
    assert len(IN_README) > 7
