"""Every command as called: what it prints, where, and its exit status."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from cornerwalk import __version__
from cornerwalk.cli import main
from cornerwalk.samples import sample_folder

HERE = Path(__file__).parent
SHEETS = HERE.parent / "sheet" / "sheets"
MALFORMED = HERE.parent / "sheet" / "malformed"
CAMPER = sample_folder() / "camper.json"

COMMANDS = ("demo", "walk", "import", "results", "report", "replay", "list", "check", "rules", "schema")

Said = pytest.CaptureFixture[str]


def run(*arguments: str | Path) -> int:
    """The exit status, whether it is returned or raised."""
    try:
        return main([str(argument) for argument in arguments])
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else -1


# ---- help ----


def test_help_names_every_command(capsys: Said) -> None:
    assert run("--help") == 0
    said = capsys.readouterr().out
    assert all(re.search(rf"^    {command} ", said, re.MULTILINE) for command in COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_a_command_has_an_example(command: str, capsys: Said) -> None:
    """The example is a command line that begins with the program and has this command in it."""
    assert run(command, "--help") == 0
    said = capsys.readouterr().out
    example = re.search(r"^example: (cornerwalk .*)$", said, re.MULTILINE)
    assert example is not None
    assert command in example[1].split()


def test_version(capsys: Said) -> None:
    assert run("--version") == 0
    assert capsys.readouterr().out == f"cornerwalk {__version__}\n"


@pytest.mark.parametrize(
    "arguments",
    [
        ["nonsense"],
        ["results"],
        ["report", CAMPER, "--to", "paper"],
        ["--units", "feet", "list"],
        ["list", "--since", "yesterday"],
        ["schema", "nonsense"],
        ["results", CAMPER, "--ou", "x"],
    ],
)
def test_a_wrong_command_line(arguments: list[str | Path], capsys: Said) -> None:
    """Bad input is status 2, said on the error stream in a line or two, and nothing is printed."""
    assert run(*arguments) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert 1 <= len(said.err.splitlines()) <= 8


# ---- import ----


def test_import_into_the_library(tmp_path: Path, capsys: Said) -> None:
    """The name of the session is printed, and the list has it."""
    assert run("--library", tmp_path / "lib", "import", SHEETS / "worked-case.toml") == 0
    path = Path(capsys.readouterr().out.strip())
    assert path.parent == tmp_path / "lib"
    assert path.is_file()
    assert run("--library", tmp_path / "lib", "list") == 0
    said = capsys.readouterr().out
    assert "2026-05-04" in said
    assert "Worked case" in said
    assert path.name in said


def test_import_records_when_and_by_whom_the_sheet_says(tmp_path: Path) -> None:
    out = tmp_path / "a.json"
    assert run("import", SHEETS / "worked-case.toml", "--out", out) == 0
    events = json.loads(out.read_bytes())["events"]
    assert {event["at"] for event in events} == {"2026-05-04T08:12:00-06:00"}
    assert {event["by"] for event in events} == {"MT"}


def test_the_technician_of_the_settings_comes_first(tmp_path: Path, settings_file: Path) -> None:
    settings_file.write_text('technician = "ZZ"\n')
    out = tmp_path / "a.json"
    assert run("import", SHEETS / "worked-case.toml", "--out", out) == 0
    assert {event["by"] for event in json.loads(out.read_bytes())["events"]} == {"ZZ"}


def test_import_never_writes_over_a_session(tmp_path: Path, capsys: Said) -> None:
    out = tmp_path / "a.json"
    out.write_text("mine")
    assert run("import", SHEETS / "worked-case.toml", "--out", out) == 2
    assert out.read_text() == "mine"
    assert "never written over" in capsys.readouterr().err


def test_a_wrong_sheet_makes_nothing(tmp_path: Path, capsys: Said) -> None:
    library = tmp_path / "lib"
    assert run("--library", library, "import", MALFORMED / "several-at-once.toml") == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.splitlines()) == 3
    assert not library.exists()


def test_import_of_a_spreadsheet(tmp_path: Path) -> None:
    """Heights alone make a session; with a job sheet they are added to it."""
    heights = tmp_path / "heights.csv"
    heights.write_text("stage;LF (mm);RF (mm);RR (mm);LR (mm)\nunloaded;728,5;729;741;742\n")
    assert run("import", heights, "--out", tmp_path / "a.json") == 0
    preset = tmp_path / "van.toml"
    preset.write_text('unit = "mm"\n[job]\ntitle = "Van"\n[vehicle]\nwheelbase = "3000"\n')
    assert run("import", preset, heights, "--out", tmp_path / "b.json") == 0
    alone, together = (json.loads((tmp_path / name).read_bytes())["events"] for name in ("a.json", "b.json"))
    assert [event["mm"] for event in alone if event["kind"] == "height read"] == [728.5, 729.0, 741.0, 742.0]
    assert together[0]["title"] == "Van"
    assert sum(event["kind"] == "height read" for event in together) == 4


# ---- results, report, replay, check ----


def test_results_to_a_file(tmp_path: Path, capsys: Said) -> None:
    out = tmp_path / "results.json"
    assert run("results", CAMPER, "--out", out) == 0
    assert capsys.readouterr().out == ""
    assert json.loads(out.read_text("utf-8"))["format"] == "cornerwalk results"


def test_results_leave_the_session_alone(tmp_path: Path) -> None:
    copy = tmp_path / "a.json"
    copy.write_bytes(CAMPER.read_bytes())
    copy.chmod(0o400)
    assert run("results", copy) == 0
    assert [path.name for path in tmp_path.iterdir()] == ["a.json"]


@pytest.mark.parametrize("command", ["results", "report", "replay"])
def test_a_name_within_the_library(command: str, capsys: Said) -> None:
    assert run("--library", sample_folder(), command, "camper.json") == 0
    assert capsys.readouterr().out


def test_report_as_text(capsys: Said) -> None:
    """Every height stands in it as it was typed."""
    assert run("report", CAMPER) == 0
    said = capsys.readouterr().out
    for event in json.loads(CAMPER.read_bytes())["events"]:
        if event["kind"] == "height read":
            assert event["entered"] in said


def test_units_are_those_asked_for(capsys: Said) -> None:
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
    assert run("report", CAMPER, "--to", "html") == 0
    assert capsys.readouterr().out.lstrip().lower().startswith("<!doctype html>")


def test_report_as_a_table(capfdbinary: pytest.CaptureFixture[bytes]) -> None:
    """A row a stage, in an encoding that spreadsheets recognise."""
    assert run("report", CAMPER, "--to", "csv") == 0
    table = capfdbinary.readouterr().out.decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(table)))
    assert [row["stage.name"] for row in rows] == ["unloaded", "loaded", "fitted", "fitted", "fitted"]


@pytest.mark.parametrize("form", ["text", "html", "csv"])
@pytest.mark.parametrize("reader", ["file", "customer"])
def test_a_report_without_the_customer(form: str, reader: str, tmp_path: Path) -> None:
    """Nothing that tells whose vehicle it is: neither what was stated at intake nor who took it back."""
    with_customer, without = tmp_path / "with", tmp_path / "without"
    assert run("report", CAMPER, "--to", form, "--for", reader, "--out", with_customer) == 0
    assert run("report", CAMPER, "--to", form, "--for", reader, "--without-customer", "--out", without) == 0
    if form == "text" and reader == "file":
        assert "J. Doe" in with_customer.read_text("utf-8")
        assert "workshop, bay 2" in with_customer.read_text("utf-8")
    told = without.read_text("utf-8-sig")
    for secret in ("J. Doe", "workshop, bay 2", "hangs low"):
        assert secret not in told


def test_replay_prints_the_steps_without_a_terminal(capsys: Said) -> None:
    """A line for each event, in order."""
    assert run("replay", CAMPER) == 0
    lines = capsys.readouterr().out.splitlines()
    events = json.loads(CAMPER.read_bytes())["events"]
    assert [int(line.split()[0]) for line in lines] == [event["seq"] for event in events]


def test_replay_says_what_was_taken_back(tmp_path: Path, capsys: Said) -> None:
    from cornerwalk.session.happenings import JobOpened, NoteWritten, Undone
    from cornerwalk.store import Library
    from tests.support.clock import FrozenClock

    library = Library(tmp_path, clock=FrozenClock(), by="MT")
    opened = JobOpened(session="x", job="fit", title="t", program="0")
    with library.create(opened, NoteWritten(text="wrong"), Undone(undoes=2)) as session:
        path = session.path
    assert run("replay", path) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line.endswith("(taken back)") for line in lines] == [False, True, True]


def test_check_passes_what_is_as_it_was_written(capsys: Said) -> None:
    assert run("check", CAMPER) == 0
    assert capsys.readouterr().out.startswith(f"{CAMPER}: as it was written")


def test_check_fails_a_changed_file_and_goes_on(tmp_path: Path, capsys: Said) -> None:
    """One line a file; one that fails makes the status 1 and keeps none of the others from being checked."""
    changed = tmp_path / "changed.json"
    changed.write_bytes(CAMPER.read_bytes().replace(b"29 7/16", b"29 9/16", 1))
    assert run("check", changed, CAMPER) == 1
    lines = [line for line in capsys.readouterr().out.splitlines() if not line.startswith("  ")]
    assert lines[0].startswith(f"{changed}: FAILS: event ")
    assert lines[1].startswith(f"{CAMPER}: as it was written")


def test_check_finds_a_value_that_does_not_follow(tmp_path: Path, capsys: Said) -> None:
    """A file whose chain is right, but one of whose values is not what its text says, fails too."""
    from cornerwalk.session.happenings import HeightRead, JobOpened
    from cornerwalk.store import Library
    from tests.support.clock import FrozenClock

    library = Library(tmp_path, clock=FrozenClock(), by="MT")
    opened = JobOpened(session="x", job="fit", title="t", program="0")
    wrong = HeightRead(stage="unloaded", corner="LF", entered="28 5/8", mm=700.0)
    with library.create(opened, wrong) as session:
        path = session.path
    assert run("check", path) == 1
    assert "700.0 is stored, 727.075 follows" in capsys.readouterr().out


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
    cut = tmp_path / "cut.json"
    cut.write_bytes(CAMPER.read_bytes()[:-400])
    assert run(command, cut) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert "is damaged" in said.err


def test_a_replay_of_half_a_session_says_so(tmp_path: Path, capsys: Said) -> None:
    cut = tmp_path / "cut.json"
    cut.write_bytes(CAMPER.read_bytes()[:-400])
    assert run("replay", cut) == 0
    said = capsys.readouterr()
    assert "is damaged" in said.err
    assert said.out


# ---- list, rules, schema, demo ----


def test_list_finds_by_words_and_state(capsys: Said) -> None:
    library = sample_folder()
    found = {}
    for name, options in {
        "words": ["--find", "PICKUP half"],
        "open": ["--unfinished"],
        "days": ["--since", "2026-05-01", "--until", "2026-05-31"],
        "none": ["--find", "nowhere"],
    }.items():
        assert run("--library", library, "list", *options) == 0
        found[name] = {word for word in capsys.readouterr().out.split() if word.endswith(".json")}
    assert found == {
        "words": {"half-done.json"},
        "open": {"half-done.json", "misread-corner.json", "front-stays-up.json"},
        "days": {"half-done.json", "front-stays-up.json"},
        "none": set(),
    }


def test_rules_give_every_rule_its_source(capsys: Said) -> None:
    from cornerwalk.standards import load_standards

    assert run("rules") == 0
    said = " ".join(capsys.readouterr().out.split())
    for rule in load_standards().aim_rules.values():
        assert f"{rule.id}: {rule.title}" in said
    assert said.count("source:") == len(load_standards().aim_rules)
    assert said.count("from memory") >= 3


def test_a_rule_file_of_ones_own_that_is_wrong(own_folder: Path, capsys: Said) -> None:
    """It is named with its line, the others are listed all the same."""
    (own_folder / "rules").mkdir()
    (own_folder / "rules" / "shop.toml").write_text("[[aim_rule]]\nidd = 'x'\n")
    assert run("rules") == 0
    said = capsys.readouterr()
    assert "shop.toml, line " in said.err
    assert "us-vol" in said.out


@pytest.mark.parametrize("name", ["session", "results", "sheet"])
def test_schema(name: str, capsys: Said) -> None:
    assert run("schema", name) == 0
    assert json.loads(capsys.readouterr().out)["$schema"].endswith("2020-12/schema")


def test_demo_without_a_terminal_prints_a_report(capsys: Said) -> None:
    assert run("demo") == 0
    said = capsys.readouterr()
    assert "Camper, kitchen in the back" in said.out
    assert "invented" in said.err


@pytest.mark.parametrize("arguments", [[], ["walk", SHEETS / "worked-case.toml"]])
def test_the_screen_needs_a_terminal(arguments: list[str | Path], tmp_path: Path, capsys: Said) -> None:
    """It says so, names what works without one, and has made nothing."""
    assert run("--library", tmp_path / "lib", *arguments) == 2
    said = capsys.readouterr().err
    assert len(said.splitlines()) == 1
    named = said.partition("there are:")[2].replace(",", " ").split()
    assert set(named) == set(COMMANDS) - {"walk"}
    assert not (tmp_path / "lib").exists()


# ---- settings ----


def test_wrong_settings_are_told_and_not_used(settings_file: Path, capsys: Said) -> None:
    """The command does its work with the defaults; the file is left as it is."""
    settings_file.write_text('units = "feet"\n')
    assert run("report", CAMPER) == 0
    said = capsys.readouterr()
    assert "line 1: units" in said.err
    assert said.out
    assert settings_file.read_text() == 'units = "feet"\n'


# ---- where answers go ----


@pytest.mark.parametrize("arguments", [["results", CAMPER], ["report", CAMPER], ["schema"]])
def test_a_place_that_cannot_be_written(arguments: list[str | Path], tmp_path: Path, capsys: Said) -> None:
    """Said in a line, status 2, and nothing is left behind."""
    (tmp_path / "file").write_text("")
    assert run(*arguments, "--out", tmp_path / "file" / "out") == 2
    said = capsys.readouterr()
    assert len(said.err.splitlines()) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_a_dash_is_the_standard_output(capsys: Said) -> None:
    assert run("results", CAMPER, "--out", "-") == 0
    assert json.loads(capsys.readouterr().out)
