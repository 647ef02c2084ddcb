"""Step by step: each event in words, what became of it, and what it did to the figures."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given, settings

from cornerwalk.assess import assess
from cornerwalk.job.replay_steps import Steps, undone_by_seq
from cornerwalk.session import RecordedEvent, fold
from cornerwalk.session.events import Event, HeightRead, NoteWritten, ReadingMode, StageBegun, Undone
from cornerwalk.session.log import active_events
from cornerwalk.wording.figures import Wording
from tests.session.support import any_job, events_of, opened
from tests.support import jobs


def steps_of(events: Sequence[RecordedEvent]) -> Steps:
    return Steps(events, jobs.standards(), Wording("inch"))


def rear(entered: str, mm: float, how: ReadingMode = "first") -> HeightRead:
    return HeightRead(stage="unloaded", corner="RR", entered=entered, mm=mm, how=how)


def told(*events: Event) -> list[tuple[str, str]]:
    """Text and remark of every event after the opening."""
    steps = steps_of(events_of(opened(), *events))
    return [(step.text, step.remark) for step in map(steps.text, range(2, len(steps) + 1))]


# ---- corrections are seen as such ----


def test_a_corner_read_again() -> None:
    """The later reading says what stood there before it."""
    assert told(rear("27 5/8", 701.675), rear("27 1/2", 698.5, "instead")) == [
        ("right rear, unloaded: 27 5/8", ""),
        ("right rear, unloaded: 27 1/2", "read again, instead of 27 5/8"),
    ]


def test_a_corner_averaged() -> None:
    """A repeat says with what it is averaged: with everything that stands there."""
    events = (rear("27 5/8", 701.675), rear("27 1/2", 698.5, "repeat"), rear("27 9/16", 700.0875, "repeat"))
    assert [remark for _, remark in told(*events)] == [
        "",
        "read again, averaged with 27 5/8",
        "read again, averaged with 27 5/8, 27 1/2",
    ]


def test_what_was_undone_says_by_which_event() -> None:
    """And the undo says what it takes back; an undo of an undo says what it brings back."""
    note = NoteWritten(text="wet floor")
    assert told(note, Undone(undoes=2)) == [
        ("note: wet floor", "undone by #3"),
        ("takes back #2: note: wet floor", ""),
    ]
    assert told(note, Undone(undoes=2), Undone(undoes=3)) == [
        ("note: wet floor", ""),
        ("takes back #2: note: wet floor", "undone by #4"),
        ("brings back #2: note: wet floor", ""),
    ]


def test_a_reading_put_in_place_of_another_and_undone() -> None:
    """Both are said, and what it replaced counts again."""
    remarks = told(rear("27 5/8", 701.675), rear("37 5/8", 955.675, "instead"), Undone(undoes=3))
    assert remarks[1][1] == "read again, instead of 27 5/8; undone by #4"
    assert remarks[0][1] == ""


def test_an_undo_of_nothing_is_told() -> None:
    """A file put together by hand may take back what is not there."""
    assert told(Undone(undoes=99)) == [("takes back #99, which is not there", "")]


@given(any_job)
def test_every_step_of_any_job_has_words(new_events: tuple[Event, ...]) -> None:
    """Whatever happened in whatever order: a line each, and what is said not to count does not."""
    events = events_of(*new_events)
    steps = steps_of(events)
    texts = [steps.text(number) for number in range(1, len(steps) + 1)]
    assert all(step.text.isprintable() for step in texts)
    assert [step.event.seq for step in texts if step.counts] == [event.seq for event in active_events(events)]
    undone = {event.seq for event in events} - {event.seq for event in active_events(events)}
    assert {seq for seq in undone if not isinstance(events[seq - 1].payload, Undone)} <= set(undone_by_seq(events))


# ---- what it did to the figures ----


@settings(max_examples=40)
@given(any_job)
def test_every_step_of_any_job_has_an_effect_or_none(events: tuple[Event, ...]) -> None:
    """No file, however odd, keeps the figures of a step from being told, in a line."""
    steps = steps_of(events_of(*events))
    assert all(steps.effect(number).isprintable() for number in range(1, len(steps) + 1))


def test_a_reading_says_what_it_made_known() -> None:
    """The last of four corners gives the change of the rear, the tilt and the beam."""
    job = jobs.worked_case()
    steps = steps_of(job.events)
    last = next(
        event.seq
        for event in job.events
        if isinstance(event.payload, HeightRead) and event.payload.stage == "loaded" and event.payload.corner == "LR"
    )
    # Source: the worked case: u(Δ) 0.0510310 in, rear down 1.53125 in, nose up 0.857567°, beam 4.490296 in; U = 2u.
    effect = steps.effect(last)
    assert effect.startswith(
        "left rear down 1.50 in ± 0.10, rear down 1.53 in ± 0.07, nose up 0.86° ± 0.05, "
        "beam 4.49 in ± 0.26 higher at 25 ft"
    )
    assert "Caution: Low beams blind oncoming drivers (loaded, no air)" in effect


def test_what_changes_nothing_says_nothing() -> None:
    """A note does nothing to the figures, nor does a height of the first stage, from which changes are counted."""
    steps = steps_of(events_of(opened(), rear("27 5/8", 701.675), NoteWritten(text="wet floor")))
    assert [steps.effect(number) for number in (1, 2, 3)] == ["", "", ""]


def test_a_fact_stated_late_changes_every_stage() -> None:
    """The last stage stands for the others, which are counted."""
    events = [event.payload for event in jobs.worked_case().events]
    stated_late = next(what for what in events if getattr(what, "name", "") == "vehicle.wheelbase")
    events.remove(stated_late)
    steps = steps_of(jobs.job_of_events([*events, stated_late]).events)
    effect = steps.effect(len(steps))
    assert "nose up 0.35° ± 0.05" in effect
    assert "and so in 2 other stages" in effect


def test_an_undo_takes_figures_away() -> None:
    """What is no longer known is said."""

    def at(stage: str, mm: float) -> HeightRead:
        return HeightRead(stage=stage, corner="LF", entered=f"{mm} mm", mm=mm)  # type: ignore[arg-type]

    steps = steps_of(
        events_of(opened(), at("unloaded", 700.0), StageBegun(stage="loaded"), at("loaded", 712.7), Undone(undoes=4))
    )
    assert steps.effect(4) == "left front up 0.50 in ± 0.14"
    assert steps.effect(5) == "left front no longer known"


@pytest.mark.parametrize("job", [jobs.worked_case(), jobs.separate_lines(), jobs.half_done()])
def test_after_the_last_step_stands_the_session(job: jobs.InventedJob) -> None:
    """What is computed step by step ends where the whole session ends."""
    after = steps_of(job.events).after(len(job.events))
    assert after.session == fold(job.events)
    assert after.assessment == assess(after.session, jobs.standards())
