"""Does every value follow from its text, and every figure handed over from its events?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import fields, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from cornerwalk import __version__
from cornerwalk.assess import assess
from cornerwalk.job.handover import hand_over_as_shown
from cornerwalk.report.audit import AuditProblem, audit, problem_words, what_a_check_proves
from cornerwalk.report.handover import handed_over_figures
from cornerwalk.samples import sample_folder
from cornerwalk.session import RecordedEvent, fold
from cornerwalk.session.events import (
    Event,
    FactStated,
    HandedOver,
    HeightRead,
    JointSoaped,
    NoteWritten,
    StageBegun,
    TorqueRecorded,
    Undone,
    WeighingRecorded,
)
from cornerwalk.session.facts import FACTS
from cornerwalk.session.statements import state_fact
from cornerwalk.session.walk import EntryError
from cornerwalk.sheet import read_job_sheet
from cornerwalk.sheet.heights_csv import read_heights_csv
from cornerwalk.standards import load_standards
from cornerwalk.store.loader import load_session
from tests.support import jobs

STANDARDS = load_standards()
NOW = datetime.fromisoformat("2026-05-04T08:12:00-06:00")
SAMPLES = sorted(sample_folder().glob("[!.]*.json"))
SHEETS = sorted((Path(__file__).parent.parent / "sheet" / "sheets").glob("*.toml"))


def sheet_events(path: Path) -> tuple[RecordedEvent, ...]:
    contents = read_job_sheet(path.read_text("utf-8"), name=path.name, session_id="x", now=NOW)
    return jobs.job_of_events(contents.events).events


EVERYTHING = sheet_events(SHEETS[0])


def found(events: Sequence[RecordedEvent]) -> tuple[AuditProblem, ...]:
    return audit(events, STANDARDS)


def events_of(*events: Event) -> tuple[RecordedEvent, ...]:
    opened = jobs.nothing_yet().events[0].payload
    return jobs.job_of_events([opened, *events]).events


def handed_over(events: Sequence[RecordedEvent], **changed: Any) -> tuple[RecordedEvent, ...]:
    """These events, and after them a handover as the program makes one, but for what is `changed` in it."""
    session = fold(events)
    figures = handed_over_figures(session, assess(session, STANDARDS))
    given: dict[str, Any] = {"to": "customer", "program": __version__, "figures": figures}
    return jobs.job_of_events([*(event.payload for event in events), HandedOver(**given | changed)]).events


# ---- what the program itself writes ----


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_pass(path: Path) -> None:
    """Nothing is found in a session that the program made and, where it was, handed over."""
    assert found(load_session(path, path.read_bytes()).events) == ()


@pytest.mark.parametrize("path", SHEETS, ids=lambda path: path.stem)
def test_sheets_pass(path: Path) -> None:
    """Every table and key of a job sheet, in inches and in millimetres, leaves values that follow from their texts."""
    assert found(sheet_events(path)) == ()


@pytest.mark.parametrize("unit", ["mm", "cm", "in"])
def test_spreadsheets_pass(unit: str) -> None:
    """A bare height of a column with a unit is read in that unit again."""
    heights = {"mm": "727", "cm": "72.7", "in": "28.6"}[unit]
    text = f"stage;pressure;LF ({unit})\nunloaded;;{heights}\nfitted;15 psi;{heights}\n"
    contents = read_heights_csv(text, name="a.csv", session_id="x", now=NOW)
    assert found(jobs.job_of_events(contents.events).events) == ()


def test_heights_keep_the_unit_they_were_typed_in() -> None:
    """A bare height is read in the unit of its time: what is stated later, or taken back, changes nothing before it."""

    def read(mm: float, entered: str) -> HeightRead:
        return HeightRead(stage="unloaded", corner="LF", entered=entered, mm=mm, how="instead")

    assert found(
        events_of(
            read(727.075, "28 5/8"),
            state_fact("job.unit", "mm", "inch"),
            read(727.0, "727"),
            state_fact("job.unit", "cm", "mm"),
            read(727.0, "72.7"),
            Undone(undoes=5),
            read(728.0, "728"),
            Undone(undoes=7),
            read(729.0, "72.9"),
        )
    ) == ()  # fmt: skip


# ---- what does not follow ----


def _other(value: Any) -> Any:
    match value:
        case float():
            return value * (1 + 1e-6) + 1e-6
        case list():
            return [*value[:-1], _other(value[-1])]
        case str():
            return value + "x"


def _changed_values() -> Iterator[tuple[str, int, Event]]:
    """Every value of every event, each changed in the seventh digit, by a letter, or to another choice."""
    names = ("value", "mm", "weight_N", "ahead_mm", "above_mm", "temperature_C")
    for event in EVERYTHING:
        for field in fields(event.payload):
            value = getattr(event.payload, field.name)
            is_value = field.name in names or field.name.endswith(("_kPa", "_N", "_Nm"))
            if is_value and value is not None:
                choices = FACTS[event.payload.name].choices if isinstance(event.payload, FactStated) else ()
                another = next((choice for choice in choices if choice != value), None)
                changed: Any = {field.name: another or _other(value)}
                yield f"{event.seq}-{field.name}", event.seq, replace(event.payload, **changed)


CHANGED_VALUES = list(_changed_values())


def test_every_kind_of_value_is_among_those_changed() -> None:
    """The sheet that holds every table holds every kind of event with a value but the pressure stated late."""
    kinds = {type(what).__name__ for _, _, what in CHANGED_VALUES}
    assert kinds == {
        "FactStated",
        "HeightRead",
        "LeakRead",
        "LoadStated",
        "MarkRead",
        "StageBegun",
        "TorqueRecorded",
        "WeighingRecorded",
    }


@pytest.mark.parametrize(
    ("seq", "what"), [(seq, what) for _, seq, what in CHANGED_VALUES], ids=[c[0] for c in CHANGED_VALUES]
)
def test_a_value_that_does_not_follow_is_found(seq: int, what: Event) -> None:
    """Whichever value it is: one millionth off is enough, in an event that is chained like any other."""
    events = [event.payload for event in EVERYTHING]
    events[seq - 1] = what
    problems = found(jobs.job_of_events(events).events)
    assert seq in {problem.seq for problem in problems}
    assert all(problem.fails for problem in problems)


def test_a_text_that_was_changed_is_found() -> None:
    """The other way round: the value stands, the text beside it says another."""
    (problem,) = found(events_of(HeightRead(stage="unloaded", corner="LF", entered="28 7/8", mm=727.075)))
    assert (problem.seq, problem.kind, problem.stored, problem.follows) == (2, "value", 727.075, 733.425)
    assert problem_words(problem) == 'event 2: 727.075 mm is stored, but "28 7/8" is 733.425 mm'


@pytest.mark.parametrize(
    "what",
    [
        HeightRead(stage="unloaded", corner="LF", entered="about 28", mm=727.075),
        StageBegun(stage="fitted", pressure_kPa=100.0),
        StageBegun(stage="fitted", left_entered="", left_kPa=100.0),
        TorqueRecorded(
            joint="bolt",
            specified_entered="see sheet",
            specified_Nm=5.0,
            source="",
            reached_entered="",
            reached_Nm=None,
        ),
    ],
)
def test_a_value_without_a_text_that_says_it_is_found(what: Event) -> None:
    """A value comes from a text; one that stands alone, or beside words, came from elsewhere."""
    (problem,) = found(events_of(what))
    assert problem.kind == "no text"
    assert problem.fails


def test_a_readable_text_without_its_value_is_found() -> None:
    """A weight that the ticket says and the file does not hold; words in its place are no weight."""

    def ticket(entered: str) -> WeighingRecorded:
        return WeighingRecorded(
            weighing="hitched",
            front_entered=entered,
            front_N=None,
            rear_entered="",
            rear_N=None,
            trailer_entered="",
            trailer_N=None,
        )

    assert [problem.kind for problem in found(events_of(ticket("2900 lb")))] == ["value"]
    assert found(events_of(ticket("not on the ticket"))) == ()


# ---- figures handed over ----


def test_a_stop_that_stands_is_handed_over_with_a_decision_only() -> None:
    """Whatever the skin, a job with a STOP goes back only with what was decided about it, which is written down."""
    job = jobs.job_of(jobs.WORKED_CASE, JointSoaped(joint="valve", bubbles=True))
    handing = partial(hand_over_as_shown, job.session, job.assessment, to="", program=__version__)
    with pytest.raises(EntryError, match="STOP"):
        handing(decision=" ")
    note, handed = handing(decision="taken back on the owner's word")
    assert isinstance(note, NoteWritten)
    assert isinstance(handed, HandedOver)
    assert handed.figures == handed_over_figures(job.session, job.assessment)


WORKED = jobs.worked_case().events


def test_figures_handed_over_follow_from_the_events_before() -> None:
    """Neither what came after, nor an earlier handover, has a part in them."""
    events = handed_over(WORKED)
    later = HeightRead(stage="follow-up", corner="LF", entered="30", mm=762.0)
    assert found(events) == ()
    assert found(jobs.job_of_events([*(event.payload for event in events), later]).events) == ()


@pytest.mark.parametrize("name", sorted(handed_over_figures(jobs.worked_case().session, jobs.worked_case().assessment)))
def test_a_figure_that_this_version_did_not_compute_fails(name: str) -> None:
    """Every figure of the sheet: the same version computes the same, so another figure was not handed over."""
    figures = handed_over_figures(jobs.worked_case().session, jobs.worked_case().assessment)
    value = figures[name]
    figures[name] = _other(float(value)) if isinstance(value, float | int) else f"{value} and more"
    (problem,) = found(handed_over(WORKED, figures=figures))
    assert (problem.kind, problem.about, problem.fails) == ("figure", name, True)


def test_a_figure_of_another_version_is_news() -> None:
    """A newer program may rightly compute a figure otherwise; the difference is told and fails nothing."""
    figures = handed_over_figures(jobs.worked_case().session, jobs.worked_case().assessment)
    rear = figures["stage.loaded.1.rear_mm"]
    figures |= {"stage.loaded.1.rear_mm": -40.0, "kept by that version only": 1.0}
    del figures["overall"]
    (problem,) = found(handed_over(WORKED, figures=figures, program="0.0.9"))
    assert (problem.kind, problem.stored, problem.follows) == ("another program's figure", -40.0, rear)
    assert not problem.fails
    assert "0.0.9" in problem_words(problem)


def test_a_rule_of_another_shop_is_news() -> None:
    """A session judged by a rule that this machine does not have cannot be judged here: told, not failed."""
    events = [event.payload for event in WORKED]
    events.append(state_fact("lamps.rule", "shop-2in", "inch"))
    session = jobs.job_of_events(events)
    figures = handed_over_figures(session.session, session.assessment) | {"overall": "pass"}
    problems = found(handed_over(session.events, figures=figures))
    assert [problem.kind for problem in problems] == ["figure of a rule not known here"]
    assert not problems[0].fails


def test_figures_left_out_of_a_handover_fail() -> None:
    """Leaving a figure away hides that it does not follow."""
    figures = handed_over_figures(jobs.worked_case().session, jobs.worked_case().assessment)
    del figures["overall"], figures["carried_N"]
    (problem,) = found(handed_over(WORKED, figures=figures))
    assert (problem.kind, problem.about, problem.fails) == ("figures missing", "overall, carried_N", True)


# ---- words ----


@pytest.mark.parametrize(
    "kind",
    ["no text", "value", "figure", "figures missing", "another program's figure", "figure of a rule not known here"],
)
@pytest.mark.parametrize("stored", [1.5, "a\x1b[31mb" * 100, [1.0] * 1000, None])
def test_a_problem_is_one_line_whatever_the_file_holds(kind: Any, stored: Any) -> None:
    """Neither length nor control characters of a forged file get onto the screen."""
    said = problem_words(AuditProblem(3, kind, "x" * 10_000 + "\x1b", stored, stored, "mm", "9" * 1000))
    assert said.isprintable()
    assert len(said) < 500
    assert "event 3" in said


def test_the_limits_of_a_check_are_told() -> None:
    """The page says that a forger is beyond it."""
    told = " ".join(what_a_check_proves())
    assert "computes every chain anew leaves a file that passes" in told
