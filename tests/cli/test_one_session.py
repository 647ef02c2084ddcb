"""What the commands make of one session: figures, reports, steps, and whether it is as it was written."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.calling import CAMPER, Said, run

# ---- results, report, replay, check ----


def test_results_to_a_file(tmp_path: Path, capsys: Said) -> None:
    """`--out` writes the results there and prints nothing."""
    out = tmp_path / "results.json"
    assert run("results", CAMPER, "--out", out) == 0
    assert capsys.readouterr().out == ""
    assert json.loads(out.read_text("utf-8"))["format"] == "cornerwalk results"


@pytest.mark.parametrize("command", ["results", "report", "replay", "check"])
def test_a_session_is_read_and_left_alone(command: str, tmp_path: Path, capsys: Said) -> None:
    """One of the library is named by its file name alone; a file that may not be written is enough."""
    copy = tmp_path / "a.json"
    copy.write_bytes(CAMPER.read_bytes())
    copy.chmod(0o400)
    assert run("--library", tmp_path, command, "a.json") == 0
    assert capsys.readouterr().out
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.json", CAMPER.read_bytes())]


def test_report_as_text(capsys: Said) -> None:
    """Every height stands in it as it was typed."""
    assert run("report", CAMPER) == 0
    said = capsys.readouterr().out
    read = [event for event in json.loads(CAMPER.read_bytes())["events"] if event["kind"] == "height read"]
    assert len(read) >= 12
    assert [event["entered"] for event in read if event["entered"] not in said] == []


def test_units_are_those_asked_for(capsys: Said) -> None:
    """`--units` holds for every figure; without it they are those of the readings."""
    assert run("--units", "metric", "report", CAMPER, "--for", "customer") == 0
    metric = capsys.readouterr().out
    assert run("report", CAMPER, "--for", "customer") == 0
    as_read = capsys.readouterr().out
    assert " mm ±" in metric
    assert " in ±" not in metric
    assert " in ±" in as_read


def test_report_as_pages(tmp_path: Path) -> None:
    """Letter where inches are shown, A4 where millimetres are, and what was said where it was said."""
    sizes = {}
    for name, before, after in (
        ("inch", [], []),
        ("metric", ["--units", "metric"], []),
        ("said", ["--units", "metric"], ["--paper", "letter"]),
    ):
        out = tmp_path / f"{name}.pdf"
        assert run(*before, "report", CAMPER, "--to", "pdf", *after, "--out", out) == 0
        box = PdfReader(out).pages[0].mediabox
        sizes[name] = (round(box.width), round(box.height))
    assert sizes == {"inch": (612, 792), "metric": (595, 842), "said": (612, 792)}


def test_report_as_a_web_page(capsys: Said) -> None:
    """A whole page of its own goes to the output."""
    assert run("report", CAMPER, "--to", "html") == 0
    assert capsys.readouterr().out.lstrip().lower().startswith("<!doctype html>")


def test_report_as_a_table(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """A row a stage, in an encoding that spreadsheets recognise."""
    assert run("report", CAMPER, "--to", "csv") == 0
    table = capfdbinary.readouterr().out.decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(table)))
    assert [row["stage.name"] for row in rows] == ["unloaded", "loaded", "fitted", "fitted", "fitted"]


@pytest.mark.parametrize("form", ["text", "html", "pdf"])
def test_a_blank_worksheet(form: str, tmp_path: Path, settings_file: Path) -> None:
    """In the order of the walk of the settings."""
    settings_file.write_text('start_corner = "RR"\n')
    out = tmp_path / "sheet"
    assert run("report", "--blank", "--to", form, "--out", out) == 0
    pages = [page.extract_text() for page in PdfReader(out).pages] if form == "pdf" else [out.read_text("utf-8")]
    told = " ".join(" ".join(pages).split())
    order = [told.find(corner) for corner in ("right rear", "left rear", "left front", "right front")]
    assert -1 < order[0] < order[1] < order[2] < order[3]


@pytest.mark.parametrize("arguments", [[], [CAMPER, "--blank"], ["--blank", "--to", "csv"]])
def test_a_report_of_nothing_or_of_two_things(arguments: list[str | Path], capsys: Said) -> None:
    """One report is of one session or of one blank sheet: anything else is status 2 and a line."""
    assert run("report", *arguments) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_replay_prints_the_steps_without_a_terminal(capsys: Said) -> None:
    """A line for each event, in order."""
    assert run("replay", CAMPER) == 0
    lines = capsys.readouterr().out.splitlines()
    events = json.loads(CAMPER.read_bytes())["events"]
    assert [int(line.split()[0]) for line in lines] == [event["seq"] for event in events]


def test_replay_says_what_was_taken_back(tmp_path: Path, capsys: Said) -> None:
    """An undone event says by which event, and that one says which."""
    from cornerwalk.session.events import JobOpened, NoteWritten, Undone
    from cornerwalk.store import Library
    from tests.support.clock import FrozenClock

    library = Library(tmp_path, clock=FrozenClock(), by="MT")
    opened = JobOpened(session="x", job="fit", title="t", program="0")
    with library.create(opened, NoteWritten(text="wrong"), Undone(undoes=2)) as session:
        path = session.path
    assert run("replay", path) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[1].endswith("note: wrong [undone by #3]")
    assert lines[2].endswith("takes back #2: note: wrong")


@pytest.mark.parametrize("command", ["results", "report", "replay", "check"])
def test_what_is_no_session(command: str, tmp_path: Path, capsys: Said) -> None:
    """A missing file is bad input; a file of another kind is too, or fails the check of it. Never a traceback."""
    assert run(command, tmp_path / "none.json") == 2
    other = tmp_path / "other.json"
    other.write_text('{"a": 1}')
    assert run(command, other) == (1 if command == "check" else 2)
    said = capsys.readouterr()
    assert "Traceback" not in said.err


@pytest.mark.parametrize("command", ["results", "report"])
def test_no_figures_from_half_a_session(command: str, tmp_path: Path, capsys: Said) -> None:
    """A damaged file gives no result that could be taken for the whole job's."""
    cut = tmp_path / "cut.json"
    cut.write_bytes(CAMPER.read_bytes()[:-400])
    assert run(command, cut) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "is damaged" in said.err


def test_a_replay_of_half_a_session_says_so(tmp_path: Path, capsys: Said) -> None:
    """What can be read is shown, with the warning that it is not all."""
    cut = tmp_path / "cut.json"
    cut.write_bytes(CAMPER.read_bytes()[:-400])
    assert run("replay", cut) == 0
    said = capsys.readouterr()
    assert "is damaged" in said.err
    assert said.out
