"""`ask` from the command line: as a page in the units asked for, or as CSV."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from platformdirs import user_config_path

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


def test_a_question_of_ones_own(tables: Path, capsys: Said) -> None:
    """Typed in quotes, or from a file; counted against the samples' files."""
    sql = "SELECT count(*) AS files FROM sessions"
    assert run("ask", sql, tables, "--to", "csv") == 0
    typed = capsys.readouterr().out
    assert [row["files"] for row in csv.DictReader(io.StringIO(typed))] == ["4"]
    file = tables.parent / "how-many.sql"
    file.write_text(sql, encoding="utf-8")
    assert run("ask", "--file", file, tables, "--to", "csv") == 0
    assert capsys.readouterr().out == typed


def test_the_shop_has_questions_of_its_own(tables: Path, capsys: Said) -> None:
    """Its folder beside the settings; they are listed with the others."""
    folder = user_config_path("cornerwalk", appauthor=False) / "questions"
    folder.mkdir(parents=True)
    (folder / "per-kit.sql").write_text("-- title: Jobs by kit\nSELECT kit_name, count(*) FROM sessions GROUP BY ALL")
    assert run("ask") == 0
    assert "per-kit: Jobs by kit" in capsys.readouterr().out.splitlines()
    assert run("ask", "per-kit", tables) == 0
    assert "Jobs by kit" in capsys.readouterr().out


def test_the_tables_are_told(capsys: Said) -> None:
    """All of them, the columns of one, and what there is where a name is wrong."""
    assert run("ask", "--tables") == 0
    assert "readings" in capsys.readouterr().out
    assert run("ask", "--tables", "readings") == 0
    assert "height_mm" in capsys.readouterr().out
    assert run("ask", "--tables", "reading") == 2
    assert "readings" in capsys.readouterr().err


def test_a_question_that_cannot_be_answered(tables: Path, capsys: Said) -> None:
    """Status 2 and why, on stderr."""
    assert run("ask", "DELETE FROM sessions", tables) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "one SELECT" in said.err
