"""Every command as called: what it prints, where, and its exit status."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from cornerwalk import __version__
from tests.cli.calling import CAMPER, Said, run

HERE = Path(__file__).parent
SHEETS = HERE.parent / "sheet" / "sheets"
MALFORMED = HERE.parent / "sheet" / "malformed"

COMMANDS = (
    "demo", "walk", "import", "results", "report", "replay", "compare", "list", "check", "export", "ask", "rules",
    "settings", "guide", "schema", "completions", "manual",
)  # fmt: skip

# ---- help ----


def test_help_names_every_command(capsys: Said) -> None:
    """Nobody has to know of a command to find it."""
    assert run("--help") == 0
    said = capsys.readouterr().out
    assert set(re.findall(r"^    (\w+) ", said, re.MULTILINE)) == set(COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_a_command_has_an_example(command: str, capsys: Said) -> None:
    """The example is a command line that begins with the program and has this command in it."""
    assert run(command, "--help") == 0
    said = capsys.readouterr().out
    example = re.search(r"^example: (cornerwalk .*)$", said, re.MULTILINE)
    assert example is not None
    assert command in example[1].split()


def test_version(capsys: Said) -> None:
    """One line with name and version, as scripts expect."""
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
    """A sheet typed in later keeps the time and the name of the work."""
    out = tmp_path / "a.json"
    assert run("import", SHEETS / "worked-case.toml", "--out", out) == 0
    events = json.loads(out.read_bytes())["events"]
    assert {event["at"] for event in events} == {"2026-05-04T08:12:00-06:00"}
    assert {event["by"] for event in events} == {"MT"}


def test_the_technician_of_the_settings_comes_first(tmp_path: Path, settings_file: Path) -> None:
    """Who uses the program is who records, whatever name stands on the sheet."""
    settings_file.write_text('technician = "ZZ"\n')
    out = tmp_path / "a.json"
    assert run("import", SHEETS / "worked-case.toml", "--out", out) == 0
    assert {event["by"] for event in json.loads(out.read_bytes())["events"]} == {"ZZ"}


def test_import_never_writes_over_a_session(tmp_path: Path, capsys: Said) -> None:
    """A file that is there already stays as it is, and the refusal says so."""
    out = tmp_path / "a.json"
    out.write_text("mine")
    assert run("import", SHEETS / "worked-case.toml", "--out", out) == 2
    assert out.read_text() == "mine"
    assert "never written over" in capsys.readouterr().err


def test_a_wrong_sheet_makes_nothing(tmp_path: Path, capsys: Said) -> None:
    """Every mistake is told, and neither a session nor a library comes of it."""
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


# ---- list, rules, schema, demo ----


def test_list_says_how_each_job_stands(sample_library: Path, capsys: Said) -> None:
    """Handed over, open at a stage, damaged, of a newer program: none is passed over in silence."""
    (sample_library / "2026-01-01-cut-00000000.json").write_bytes(CAMPER.read_bytes()[:-400])
    newer = re.sub(rb'"version": \d+', b'"version": 99', CAMPER.read_bytes(), count=1)
    assert newer != CAMPER.read_bytes()
    (sample_library / "2026-01-02-newer-00000000.json").write_bytes(newer)
    assert run("--library", sample_library, "list") == 0
    lines = capsys.readouterr().out.splitlines()
    states = {name.strip(): line for line, name in zip(lines[::2], lines[1::2], strict=True)}
    for name, state in {
        "camper.json": "handed over",
        "half-done.json": "open, loaded",
        "2026-01-01-cut-00000000.json": "damaged",
        "2026-01-02-newer-00000000.json": "of a newer program",
    }.items():
        assert state in states[name]


def test_rules_give_every_rule_its_source(capsys: Said) -> None:
    """No rule is listed without where it comes from, and one from memory says so."""
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
    """Each schema is printed as JSON Schema 2020-12."""
    assert run("schema", name) == 0
    assert json.loads(capsys.readouterr().out)["$schema"].endswith("2020-12/schema")


def test_demo_without_a_terminal_prints_a_report(capsys: Said) -> None:
    """The demo ends in a pipe with a whole report, and says that it is invented."""
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
    """`--out -` prints, as other programs do."""
    assert run("results", CAMPER, "--out", "-") == 0
    assert json.loads(capsys.readouterr().out)


# ---- many sessions ----


def test_export_writes_tables(sample_library: Path, tmp_path: Path, capsys: Said) -> None:
    """What is said is what is there: so many sessions, so many readings."""
    folder = tmp_path / "tables"
    assert run("--library", sample_library, "export", folder) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"4 sessions in {folder}\n")
    readings = (folder / "csv" / "readings.csv").read_text("utf-8-sig").splitlines()
    assert f"{len(readings) - 1:>8}  readings" in said


def test_export_leaves_other_folders_alone(sample_library: Path, tmp_path: Path, capsys: Said) -> None:
    """A folder with something else in it is refused in a line, and what lies there stays."""
    (tmp_path / "mine.txt").write_text("mine")
    assert run("--library", sample_library, "export", tmp_path) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert (tmp_path / "mine.txt").read_text() == "mine"


def test_export_without_the_customer(sample_library: Path, tmp_path: Path) -> None:
    """The name is in no file, though it is in those of a plain export."""
    naming = {}
    for folder, options in (("plain", []), ("without", ["--without-customer"])):
        assert run("--library", sample_library, "export", tmp_path / folder, *options) == 0
        texts = [path for path in (tmp_path / folder).rglob("*") if path.suffix in (".csv", ".jsonl")]
        naming[folder] = [path.name for path in texts if "J. Doe" in path.read_text("utf-8-sig")]
    assert naming["plain"]
    assert naming["without"] == []


def test_ask_lists_its_questions(capsys: Said) -> None:
    """Without a question, those that can be asked are listed."""
    from cornerwalk.tables.ask import questions

    assert run("ask") == 0
    assert [line.partition(":")[0] for line in capsys.readouterr().out.splitlines()] == [q.name for q in questions()]


def test_ask_the_library_and_an_export_of_it(sample_library: Path, tmp_path: Path, capsys: Said) -> None:
    """Both give the same answer: of the samples one still dazzles."""
    folder = tmp_path / "tables"
    assert run("--library", sample_library, "ask", "dazzle") == 0
    of_library = capsys.readouterr().out
    assert run("--library", sample_library, "export", folder) == 0
    capsys.readouterr()
    assert run("ask", "dazzle", folder) == 0
    assert capsys.readouterr().out == of_library
    assert "front-stays-up.json" in of_library
    assert "camper.json" not in of_library


@pytest.mark.parametrize("arguments", [["nothing-like-it"], ["dazzle", "no-export-here"]])
def test_ask_what_cannot_be_answered(arguments: list[str], capsys: Said) -> None:
    """Status 2 and one line of why, with nothing on the output."""
    assert run("ask", *arguments) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.splitlines()) == 1


def test_ask_shows_its_sql(capsys: Said) -> None:
    """How an answer is reckoned can be looked up."""
    assert run("ask", "dazzle", "--sql") == 0
    assert "select" in capsys.readouterr().out.lower()
