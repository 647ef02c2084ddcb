"""`ask` from the command line: as a page in the units asked for, or as CSV."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from tests.cli.calling import Said, run


@pytest.fixture
def tables(sample_library: Path, tmp_path: Path) -> Path:
    assert run("--library", sample_library, "export", tmp_path / "tables") == 0
    return tmp_path / "tables"


def test_an_answer_is_told_in_the_units_asked_for(tables: Path, capsys: Said) -> None:
    """The same slope in in/psi and in mm/kPa, each with its uncertainty."""
    assert run("--units", "inch", "ask", "rise", tables) == 0
    assert "in/psi ± " in capsys.readouterr().out
    assert run("--units", "metric", "ask", "rise", tables) == 0
    assert "mm/kPa ± " in capsys.readouterr().out


def test_an_answer_as_csv_is_what_the_question_gives(tables: Path, capsys: Said) -> None:
    """Every column, u included, figures in the units of their names; a file has the mark a spreadsheet needs."""
    capsys.readouterr()
    assert run("ask", "unfinished", tables, "--to", "csv") == 0
    said = capsys.readouterr().out
    rows = list(csv.DictReader(io.StringIO(said, newline="")))
    assert {row["file"] for row in rows} == {"front-stays-up.json", "half-done.json", "misread-corner.json"}
    out = tables.parent / "unfinished.csv"
    assert run("ask", "unfinished", tables, "--to", "csv", "--out", out) == 0
    assert out.read_bytes().startswith(b"\xef\xbb\xbf")
    assert out.read_text(encoding="utf-8-sig").splitlines() == said.splitlines()


def test_an_answer_goes_to_a_file(tables: Path, capsys: Said) -> None:
    """`--out` writes the answer there, heading first."""
    assert run("ask", "dazzle", tables, "--out", tables.parent / "dazzle.txt") == 0
    assert (tables.parent / "dazzle.txt").read_text(encoding="utf-8").startswith("Vehicles that still dazzle")
