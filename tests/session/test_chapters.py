"""One chapter is next at every moment of a job, and it is the same one after the program was left."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import pytest

from cornerwalk.session.chapters import CHAPTERS, next_chapter
from cornerwalk.session.checklist import load_checklists
from cornerwalk.session.conditions import answer_check
from cornerwalk.session.events import Event, FactStated, StageBegun
from cornerwalk.session.hold_test import SOAPED_JOINTS, read_gauge, soap_joint
from cornerwalk.session.stages import CORNERS, ChapterId, JobKind, StageName
from cornerwalk.session.walk import hand_over, reopen
from tests.session.support import AT, read, session_of

LISTS = load_checklists()
NOW = datetime.fromisoformat(AT)
UNLOADED = StageBegun(stage="unloaded")
WHEELBASE = FactStated(name="vehicle.wheelbase", entered="119 in", value=3022.6)


def heights(stage: StageName, number: int = 1) -> list[Event]:
    return [StageBegun(stage=stage, number=number), *(read(c, stage=stage, number=number) for c in CORNERS)]


READ = [*heights("unloaded"), *heights("loaded")]
TRIALS = [*READ, *heights("fitted"), *heights("fitted", 2)]


def following(*events: Event, job: JobKind = "fit") -> ChapterId | None:
    return next_chapter(session_of(*events, job=job), LISTS)


@pytest.mark.parametrize("job", list(CHAPTERS))
def test_a_new_job_begins_with_its_first_chapter(job: JobKind) -> None:
    """Nothing is done, so the first chapter is next, whatever kind of job it is."""
    assert following(job=job) == "intake"


@pytest.mark.parametrize(
    ("events", "chapter"),
    [
        pytest.param(
            (FactStated(name="lamps.rule", entered="x", value="us-vol"),), "intake", id="settings are no intake"
        ),
        pytest.param((WHEELBASE,), "before", id="no job has every fact; one is enough to go on"),
        pytest.param((WHEELBASE, UNLOADED, read("LF")), "unloaded", id="heights are waited for"),
        pytest.param((*TRIALS, StageBegun(stage="fitted", number=3)), "air", id="a trial broken off"),
        pytest.param((*TRIALS, StageBegun(stage="road-test")), "road", id="a road test broken off"),
        pytest.param(heights("unloaded"), "loaded", id="read at once: not sent back to the intake"),
        pytest.param(READ, "fitting", id="both stages read"),
        pytest.param((*READ, answer_check("stands", "yes")), "fitting", id="fitting begun"),
        pytest.param(TRIALS, "leak", id="trials made"),
        pytest.param((*TRIALS, soap_joint("left bag", bubbles=False)), "leak", id="until every joint is wetted"),
    ],
)
def test_what_is_next(events: Sequence[Event], chapter: ChapterId) -> None:
    """A stage that was broken off is taken up again before everything; what was passed over is left."""
    assert following(*events) == chapter


def test_a_load_check_goes_from_the_heights_to_the_handover() -> None:
    """There are no springs to fit, fill or test."""
    assert following(*READ, job="load check") == "handover"


def test_a_hold_test_that_runs_over_night_comes_before_the_handover() -> None:
    """It is not forgotten because the road test was done in the meantime."""
    start = read_gauge(session_of(), "both", "start", "30", NOW)
    road = [answer_check(item.id, item.good or "yes") for item in LISTS["road"].items]
    on_the_road = [*TRIALS, start, *road, *heights("road-test")]
    assert following(*on_the_road) == "leak"
    end = read_gauge(session_of(start), "both", "end", "30", NOW)
    assert following(*on_the_road, end) == "handover"


def test_a_night_is_not_waited_for_idly() -> None:
    """Once the gauge is read and every joint is soaped, the road test is next while the line stands."""
    start = read_gauge(session_of(), "both", "start", "30", NOW)
    soaped = [soap_joint(joint, bubbles=False) for joint in SOAPED_JOINTS]
    assert following(*TRIALS, start, *soaped[:-1]) == "leak"
    assert following(*TRIALS, start, *soaped) == "road"


def test_after_the_handover_nothing_is_next_until_the_job_is_taken_up_again() -> None:
    """Then its follow-up is, and after that it is handed over once more."""
    closed = [*TRIALS, *hand_over(session_of(), "", {}, "0.1.0")]
    assert following(*closed) is None
    again = [*closed, *reopen(session_of(*closed), "sags")]
    assert following(*again) == "follow-up"
    assert following(*again, *heights("follow-up")) == "handover"
    twice = [*again, *heights("follow-up"), *hand_over(session_of(*again), "", {}, "0.1.0")]
    assert following(*twice) is None
    assert following(*twice, *reopen(session_of(*twice), "sags once more")) == "follow-up"
