"""`compare` from the command line."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.samples import sample_folder
from tests.cli.calling import CAMPER, Said, run

OTHER = sample_folder() / "front-stays-up.json"


def test_one_session_is_compared_from_loaded_to_the_last_air(capsys: Said) -> None:
    """Without a word of stages: the two that matter to the technician."""
    assert run("compare", CAMPER) == 0
    assert "loaded, no air – installed, trial 3, 27 psi" in capsys.readouterr().out


@pytest.mark.parametrize("stages", [("fitted 2", "fitted 3"), ("fitted:2", "FITTED 3"), ("fitted  2", " fitted 3 ")])
def test_stages_are_named_as_people_say_them(stages: tuple[str, str], capsys: Said) -> None:
    """Capitals, spaces and colons between name and number do not matter."""
    assert run("compare", CAMPER, "--stage", stages[0], "--stage", stages[1]) == 0
    assert "trial 2, 20 psi – installed, trial 3, 27 psi" in capsys.readouterr().out


def test_two_sessions_are_compared_stage_by_stage(capsys: Said) -> None:
    """Named by title and day; units as asked for."""
    assert run("--units", "metric", "compare", CAMPER, OTHER) == 0
    said = capsys.readouterr().out
    assert "Camper, kitchen in the back, 2026-04-13 and Box trailer" in " ".join(said.split())
    assert "N/mm" in said
    assert "lb/in" not in said


def test_a_stage_of_two_sessions(capsys: Said) -> None:
    """Named once it is of both, named twice the second is of the other."""
    assert run("compare", CAMPER, OTHER, "--stage", "loaded") == 0
    assert "\nloaded, no air\n" in capsys.readouterr().out
    assert run("compare", CAMPER, OTHER, "--stage", "loaded", "--stage", "fitted") == 0
    assert "loaded, no air – installed, trial 1" in capsys.readouterr().out


def test_it_goes_to_a_file(tmp_path: Path, capsys: Said) -> None:
    """`--out` writes the comparison there and prints nothing."""
    assert run("compare", CAMPER, "--out", tmp_path / "compared.txt") == 0
    assert (tmp_path / "compared.txt").read_text(encoding="utf-8").startswith("Comparison\n")
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ([CAMPER, CAMPER], "both files hold the same session"),
        ([CAMPER, "--stage", "loaded"], "say --stage twice"),
        ([CAMPER, "--stage", "loaded", "--stage", "loaded 1"], "the two are one stage"),
        ([CAMPER, "--stage", "loaded", "--stage", "fitted 9"], "there are: unloaded 1, loaded 1, fitted 1"),
        ([CAMPER, "--stage", "loaded", "--stage", "=1+1\x1b[31m"], "there is no stage"),
        ([CAMPER, *["--stage", "loaded"] * 3], "two stages can be compared, not 3"),
        ([CAMPER, "no-such-file.json"], "no-such-file.json"),
    ],
)
def test_what_cannot_be_compared_is_told_in_a_line(arguments: list[str | Path], told: str, capsys: Said) -> None:
    """Exit status 2, one line, no traceback, nothing printed as an answer."""
    assert run("compare", *arguments) == 2
    said = capsys.readouterr()
    assert told in said.err
    assert len(said.err.splitlines()) == 1
    assert "\x1b" not in said.err
    assert said.out == ""


def test_a_damaged_session_is_not_compared(tmp_path: Path, capsys: Said) -> None:
    """Half a session would give figures that look like those of a whole one."""
    (tmp_path / "cut.json").write_bytes(CAMPER.read_bytes()[:-300])
    assert run("compare", tmp_path / "cut.json", OTHER) == 2
    assert "damaged" in capsys.readouterr().err
