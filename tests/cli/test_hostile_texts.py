"""A text from a field or a file never acts, whatever shows it.

Other outputs have theirs elsewhere: text report `tests/report/test_text_report.py` ·
html and svg `tests/report/test_html.py` · pdf `test_pdf.py` · csv `test_csv.py` · codes `test_qr.py` · Parquet, SQL and
names of tables `tests/tables/test_export.py`, `test_ask.py` · names of files `tests/cli/test_hostile_library.py` ·
completion and manual `tests/cli/test_completions.py`.
"""

from __future__ import annotations

import json
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from rich.console import Console

from cornerwalk.context import Context, ReplayView, WalkView
from cornerwalk.line.conversation import Conversation
from cornerwalk.report.results import results_document
from cornerwalk.report.results_csv import results_csv
from cornerwalk.session.events import FactStated
from cornerwalk.tui.crash import Crash
from cornerwalk.tui.keys import TABLE
from cornerwalk.words.safe import harmless
from tests.cli.calling import Said, run
from tests.support.anything import STORABLE, hostile_events, jobs
from tests.support.jobs import WORKED_CASE, InventedJob, job_of
from tests.tui.driving import context_of, driven

ACTING = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")
JOINERS = "\u200c\u200d"
"""The two that words of several scripts need inside; `harmless` lets them through nowhere else."""


def acting(text: str) -> list[str]:
    """The characters of a text that would act on a terminal, the ends of lines aside."""
    return [c for c in text if c not in "\n" + JOINERS and unicodedata.category(c) in ACTING]


def hostile_job(text: str) -> InventedJob:
    return job_of(WORKED_CASE, *hostile_events(text), FactStated(name="job.title", entered=text, value=text))


@pytest.fixture(params=STORABLE, ids=range(len(STORABLE)))
def text(request: pytest.FixtureRequest) -> str:
    """One of the hostile texts."""
    return str(request.param)


@pytest.fixture
def session_file(text: str, tmp_path: Path) -> tuple[Context, Path]:
    """A session with the text wherever one can stand."""
    context = context_of(tmp_path)
    with context.library.create(*(event.payload for event in hostile_job(text).events)) as file:
        return context, file.path


@given(jobs())
def test_no_text_acts_in_a_results_document(job: InventedJob) -> None:
    """The document is ASCII with every other character as a JSON escape, and is read back as it was."""
    document = results_document(job.session, job.assessment)
    written = json.dumps(document, ensure_ascii=True)
    assert acting(written) == []
    assert json.loads(written) == document
    assert results_csv(job.session, job.assessment)


def test_no_text_acts_in_what_commands_print(session_file: tuple[Context, Path], capsys: Said) -> None:
    """`list`, `check`, `replay`, `report` and `results` of a session that says it everywhere."""
    context, path = session_file
    for command in (["list"], ["check", path], ["replay", path], ["report", path], ["results", path]):
        run("--library", context.library.folder, *command)
        said = capsys.readouterr()
        assert acting(said.out) == [], command
        assert acting(said.err) == [], command


def test_no_text_acts_line_by_line(session_file: tuple[Context, Path]) -> None:
    """The line mode from its greeting through every word that tells something."""
    context, path = session_file
    talk = Conversation(context, WalkView(path))
    said = talk.greeting()
    for line in ("status", "results", "facts", "notes", "loads", "checks", "history", "next", "help", "findings"):
        said += [talk.prompt(), *talk.answer(line)]
    talk.close()
    assert acting("\n".join(said)) == []
    assert all("\n" not in line for line in said)


async def test_no_text_acts_on_any_page(session_file: tuple[Context, Path], text: str) -> None:
    """Every page of the job, and the replay: hidden characters are spelled out, markup stands as it was typed."""
    context, path = session_file
    async with driven(context, WalkView(path), size=(120, 40)) as d:
        assert harmless(text)[:20].strip() in d.text
        for key in TABLE:
            if key.opens:
                d.app.action_open_page(key.id)
                await d.pilot.pause()
                assert acting(d.text) == [], key.id
    async with driven(context, ReplayView(path), size=(120, 40)) as d:
        assert acting(d.text) == []


def test_no_text_acts_on_the_crash_page(text: str, tmp_path: Path, capsys: Said) -> None:
    """Neither the error nor the name of the file does anything on the way out, whether or not it could be reported."""
    for folder in (tmp_path, Path("/dev/null/none")):
        crash = Crash(ValueError(text), context_of(folder), tmp_path / f"{text.replace('/', '')[:60]}.json")
        Console(force_terminal=False, width=200).print(crash)
        assert acting(capsys.readouterr().out) == []
