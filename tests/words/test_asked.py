"""What a running program asks the catalogue for: every text is one that a translator gets, or the user's own words."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from cornerwalk.cli import entry, main
from cornerwalk.line.words import words
from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.file_report import file_report
from cornerwalk.report.text import as_text
from cornerwalk.report.worksheet import blank_worksheet
from cornerwalk.session.stages import JobKind
from cornerwalk.wording.figures import Units, Wording
from tests.line.talking import VEHICLE, WORKED_WALK, job_from, new_job
from tests.line.whole_job import SCRIPT
from tests.support import jobs
from tests.words.listening import ROOT, Listener, gathered, listening

TYPED = frozenset(
    {"lower arm bolt, left", "lower arm bolt, right", "2026", "edition 1", "invented", "60 miles", "500 miles"}
)
"""Words of the invented users below, which are asked for in case they are ours."""


@cache
def held() -> frozenset[str]:
    """Every text and plural form that a catalogue has."""
    texts = (message.id for message in gathered() if message.id)
    return frozenset(form for text in texts for form in ((text,) if isinstance(text, str) else text))


def is_told(text: str) -> bool:
    """Whether a catalogue has this text, or each of the parts it is put together from."""
    if text in held() or text in TYPED or text.startswith("·"):
        return True
    for mark in ("; ", ", "):
        if mark in text:
            return all(map(is_told, text.split(mark)))
    head, colon, _ = text.partition(": ")
    return bool(colon) and head in held()


def not_told(ear: Listener) -> list[str]:
    """What was asked for and stays English."""
    assert len(ear.asked) > 10
    return sorted(text for text in ear.asked if not is_told(text))


def test_a_whole_job_line_by_line(tmp_path: Path) -> None:
    """From the intake to the follow-up, with every word's help and every refusal on the way."""
    with listening(held()) as ear:
        talk = new_job(tmp_path / "whole")
        talk.say(*SCRIPT, "help", "help all", "results", "report", "customer", "where", "fact")
        talk.say(*(f"help {word.name}" for word in words()))
        other = job_from(tmp_path / "other", VEHICLE)
        other.say(*WORKED_WALK, "undo", "redo", "again RR", "", "checks", "", "stage", "", "leave", "soap", "y", "next")
        other.say("27 13", "1.234,5", "three", "leave", "fact nonsense 3", "pressure x", "quit")
    assert not_told(ear) == []


@pytest.mark.parametrize("units", ["inch", "metric", "both"])
def test_the_reports(units: Units) -> None:
    """For the file and for the customer, of jobs in every state."""
    with listening(held()) as ear:
        wording = Wording(units)
        for job in (jobs.worked_case(), jobs.separate_lines(), jobs.half_done(), jobs.nothing_yet()):
            as_text(file_report(job.events, job.session, job.assessment, wording))
            as_text(customer_sheet(job.session, job.assessment, wording))
    assert not_told(ear) == []


@pytest.mark.parametrize("kind", ["fit", "adjust", "load check"])
def test_the_worksheets(kind: JobKind) -> None:
    """The pages that are filled in by hand."""
    with listening(held()) as ear:
        as_text(blank_worksheet(kind))
    assert not_told(ear) == []


SAMPLES = sorted((ROOT / "sample_sessions").glob("*.json"))
COMMANDS = [
    *(
        [*line, str(sample)]
        for sample in SAMPLES
        for line in (
            ["report"], ["report", "--for", "customer"], ["replay"], ["check", "--explain"], ["results"], ["compare"],
        )
    ),
    ["compare", *map(str, SAMPLES[:2])],
    ["rules"], ["guide"], ["guide", "nosuch"], ["completions", "bash"], ["manual"], ["list"],
    ["ask"], ["ask", "dazzle"], ["ask", "nope"], ["results", "nope.json"], ["check", __file__], ["--help"],
    *([name, "--help"] for name in ("demo", "walk", "import", "results", "report", "replay", "list", "check", "compare",
                                    "export", "ask", "rules", "guide", "schema", "completions", "manual")),
]  # fmt: skip


def test_the_commands(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """What each command says, of the samples and of what is wrong with its arguments."""
    assert len(SAMPLES) > 2
    assert told_by(COMMANDS, monkeypatch) == []
    assert len(capsys.readouterr().out) > 10_000


def test_sheets_that_are_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every kind of mistake in a job sheet is told in the user's language."""
    sheets = sorted((ROOT / "tests" / "sheet" / "malformed").iterdir())
    assert len(sheets) > 20
    assert told_by([["import", str(sheet)] for sheet in sheets], monkeypatch) == []


def told_by(commands: list[list[str]], monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What these commands ask for that stays English."""
    monkeypatch.setattr(entry, "_set_language", lambda _environment: None)
    with listening(held()) as ear:
        for command in commands:
            try:
                main(command)
            except SystemExit:
                continue
    return not_told(ear)


def test_the_ear_hears_what_no_catalogue_holds() -> None:
    """The check would see a text of ours that nobody gathered."""
    from cornerwalk.words import tr

    with listening(held()) as ear:
        for number in range(20):
            tr(f"text {number}" if number else "corners lost")  # put together on purpose
    assert "corners lost" in not_told(ear)
