from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import QuantityError
from cornerwalk.session import RecordedEvent, Session, fold, record_event, walk
from cornerwalk.session.events import (
    CornerSkipped,
    Event,
    FactStated,
    FactValue,
    HandedOver,
    HeightRead,
    NoteWritten,
    PressureStated,
    StageBegun,
    Undone,
)
from cornerwalk.session.stages import CORNERS, Corner, JobKind, StageName
from cornerwalk.session.walk import BeginStage, Due, EntryError, JobClosed, PressureInput, ReadCorner, StagesDone
from tests.session.support import AT, events_of, opened
from tests.support.units import PSI


class Walked:
    """A job under way: `do` records what an answer made happen."""

    def __init__(self, *events: Event, job: JobKind = "fit") -> None:
        self.events: list[RecordedEvent] = list(events_of(opened(job), *events))

    @property
    def session(self) -> Session:
        return fold(self.events)

    @property
    def due(self) -> Due:
        return walk.due(self.session)

    def do(self, events: tuple[Event, ...]) -> None:
        for what in events:
            self.events.append(record_event(self.events, what, at=AT, by="MT"))

    @property
    def corner(self) -> Corner:
        due = self.due
        assert isinstance(due, ReadCorner)
        return due.corner

    def height(self, text: str = "30 1/2") -> None:
        due = self.due
        assert isinstance(due, ReadCorner)
        self.do(walk.record_height(self.session, text, corner=due.corner, stage=due.stage))


def stated(name: str, value: FactValue, entered: str = "stated") -> FactStated:
    return FactStated(name=name, entered=entered, value=value)


OVER = HandedOver(to="customer", figures={}, program="0.1.0")


def test_twelve_readings_need_the_heights_and_a_beginning_for_each_stage() -> None:
    """Four heights, load, four heights, fit, four heights: each corner in turn, then done. Nothing else is asked."""
    job = Walked()
    asked = []
    for stage in ("unloaded", "loaded", "fitted"):
        if stage != "unloaded":
            assert job.due == BeginStage(stage=(stage, 1), with_air=stage == "fitted")
            job.do(walk.begin_stage(job.session, stage))
        for place, corner in enumerate(CORNERS):
            assert job.due == ReadCorner(stage=(stage, 1), corner=corner, left=4 - place)
            job.height()
            asked.append((stage, corner))
    assert job.due == StagesDone(last=("fitted", 1))
    read = [(e.payload.stage, e.payload.corner) for e in job.events if isinstance(e.payload, HeightRead)]
    assert read == asked


@pytest.mark.parametrize(
    ("job", "stages"),
    [
        ("fit", ["unloaded", "loaded", "fitted"]),
        ("adjust", ["unloaded", "fitted"]),
        ("load check", ["unloaded", "loaded"]),
    ],
)
def test_each_kind_of_job_asks_for_its_stages(job: JobKind, stages: list[StageName]) -> None:
    """A job is done with the stages its kind asks for."""
    walked = Walked(job=job)
    for stage in stages:
        if stage != "unloaded":
            walked.do(walk.begin_stage(walked.session, stage))
        for _ in CORNERS:
            walked.height()
    assert isinstance(walked.due, StagesDone)


def test_the_walk_starts_where_and_turns_as_stated() -> None:
    """Start corner and direction are facts of the job."""
    walked = Walked(stated("job.start_corner", "RR"), stated("job.direction", "anticlockwise"))
    order = []
    for _ in CORNERS:
        order.append(walked.corner)
        walked.height()
    assert order == ["RR", "RF", "LF", "LR"]


def test_the_first_reading_begins_the_first_stage() -> None:
    """A new session opens on a corner; its height is kept together with the stage it begins."""
    events = walk.record_height(Walked().session, " 30 1/2 ", corner="LF", stage=("unloaded", 1))
    assert events == (
        StageBegun(stage="unloaded", number=1),
        # 30 1/2 in × 25.4 mm/in, exact by the definition of the inch.
        HeightRead(stage="unloaded", number=1, corner="LF", entered="30 1/2", mm=774.7, how="first"),
    )


def test_a_corner_can_be_read_again_at_any_time() -> None:
    """Without a word the new height takes the place of the old one; as a repeat it joins it; a first one is a first."""
    walked = Walked()
    for how in (None, None, "repeat"):
        walked.do(walk.record_height(walked.session, "30", corner="LF", stage=("unloaded", 1), how=how))
    walked.do(walk.record_height(walked.session, "30", corner="RF", stage=("unloaded", 1), how="repeat"))
    hows = [e.payload.how for e in walked.events if isinstance(e.payload, HeightRead)]
    assert hows == ["first", "instead", "repeat", "first"]


def test_reading_an_earlier_stage_again_leaves_the_walk_where_it_was() -> None:
    """A height of a finished stage does not move the due corner."""
    walked = Walked()
    for _ in CORNERS:
        walked.height()
    walked.do(walk.begin_stage(walked.session, "loaded"))
    walked.height()
    before = walked.due
    walked.do(walk.record_height(walked.session, "31", corner="RR", stage=("unloaded", 1)))
    assert walked.due == before


def test_a_skipped_corner_is_settled() -> None:
    """With a reason, a corner counts as done, and may still be read later."""
    walked = Walked()
    walked.do(walk.skip_corner(walked.session, corner="LF", stage=("unloaded", 1), reason=" lip is bent "))
    assert walked.events[-1].payload == CornerSkipped(stage="unloaded", corner="LF", reason="lip is bent")
    assert isinstance(walked.events[-2].payload, StageBegun)
    assert walked.corner == "RF"
    assert walked.events[-2].payload == StageBegun(stage="unloaded")
    again = walk.skip_corner(walked.session, corner="RF", stage=("unloaded", 1), reason="x")
    assert again == (CornerSkipped(stage="unloaded", corner="RF", reason="x"),)


def test_a_stage_begun_by_an_answer_has_that_answers_number() -> None:
    """The first height, or the first skip, of a second trial begins the second trial."""
    session = Walked().session
    stage = StageBegun(stage="fitted", number=2)
    height = walk.record_height(session, "30", corner="LF", stage=("fitted", 2))
    assert height == (stage, HeightRead(stage="fitted", number=2, corner="LF", entered="30", mm=762.0))
    skip = walk.skip_corner(session, corner="LF", stage=("fitted", 2), reason="x")
    assert skip == (stage, CornerSkipped(stage="fitted", number=2, corner="LF", reason="x"))


def test_a_skip_needs_a_reason() -> None:
    """Whoever reads the session later must learn why."""
    with pytest.raises(EntryError, match="needs a reason"):
        walk.skip_corner(Walked().session, corner="LF", stage=("unloaded", 1), reason="  ")


def test_trials_are_counted_on() -> None:
    """Each beginning of a stage of one name has the next number."""
    walked = Walked()
    for number in (1, 2, 3):
        assert walk.next_number(walked.session, "fitted") == number
        walked.do(walk.begin_stage(walked.session, "fitted"))
    assert walk.next_number(walked.session, "loaded") == 1


def test_after_the_asked_stages_more_trials_may_be_begun() -> None:
    """A further trial is walked like any other; after it the job is done again."""
    walked = Walked(job="load check")
    for stage in ("unloaded", "loaded", "loaded"):
        if walked.session.current_stage is not None:
            walked.do(walk.begin_stage(walked.session, stage))
        for _ in CORNERS:
            walked.height()
    assert walked.due == StagesDone(last=("loaded", 2))


def test_undoing_a_stages_beginning_leaves_its_readings_in_view() -> None:
    """Taking back only the beginning of the first stage does not lose its height, and the next corner is due."""
    walked = Walked()
    walked.height()
    walked.do((Undone(undoes=2),))
    assert walked.session.stages[0].corner("LF").readings
    assert walked.due == ReadCorner(stage=("unloaded", 1), corner="RF", left=3)


# One psi is 6.894 757 293 168 kPa: 0.453 592 37 kg × 9.806 65 m/s² / (25.4 mm)², exact definitions.


def begun(session: Session, air: PressureInput) -> StageBegun:
    (what,) = walk.begin_stage(session, "fitted", air)
    assert isinstance(what, StageBegun)
    return what


def test_pressures_belong_to_the_stage_begun() -> None:
    """A tee has one, separate lines two; each keeps its text. Without one the stage begins all the same."""
    session = Walked().session
    both = begun(session, PressureInput(both=" 15 psi "))
    assert (both.pressure_entered, both.left_kPa, both.right_kPa) == ("15 psi", None, None)
    assert both.pressure_kPa == pytest.approx(15 * PSI, rel=1e-12)
    two = begun(session, PressureInput(left="100 kPa", right="120 kPa"))
    assert (two.pressure_entered, two.pressure_kPa) == (None, None)
    assert (two.left_entered, two.left_kPa) == ("100 kPa", 100.0)
    assert (two.right_entered, two.right_kPa) == ("120 kPa", 120.0)
    assert walk.begin_stage(session, "fitted") == (StageBegun(stage="fitted", number=1),)


def test_a_bare_pressure_is_in_the_sessions_units() -> None:
    """Where heights are in inches a bare pressure is psi, where they are metric kPa."""
    inch, metric = Walked().session, Walked(stated("job.unit", "mm")).session
    assert begun(inch, PressureInput(both="10")).pressure_kPa == pytest.approx(10 * PSI, rel=1e-12)
    assert begun(metric, PressureInput(both="100")).pressure_kPa == 100.0


def test_a_bare_height_is_in_the_sessions_unit() -> None:
    """30 is inches where the job is in inches, and centimetres where it is in those."""
    assert walk.read_session_height(Walked().session, "30").mm == 762.0
    assert walk.read_session_height(Walked(stated("job.unit", "cm")).session, "30").mm == 300.0


def test_a_pressure_stated_later() -> None:
    """A stage begun without a pressure gets it, by its key."""
    session = Walked().session
    assert walk.state_pressure(session, ("fitted", 2), PressureInput(both="140 kPa")) == (
        PressureStated(stage="fitted", number=2, pressure_entered="140 kPa", pressure_kPa=140.0),
    )
    assert walk.state_pressure(session, ("fitted", 2), PressureInput(left="100 kPa", right="120 kPa")) == (
        PressureStated(
            stage="fitted",
            number=2,
            left_entered="100 kPa",
            left_kPa=100.0,
            right_entered="120 kPa",
            right_kPa=120.0,
        ),
    )


def test_more_than_the_kit_stands_is_refused() -> None:
    """A pressure over the kit's maximum is not recorded, and the maximum named as typed; the maximum itself is."""
    session = Walked(stated("kit.max", 40 * PSI, entered="40 psi")).session
    with pytest.raises(EntryError) as caught:
        walk.begin_stage(session, "fitted", PressureInput(both="41 psi"))
    assert "41 psi is over the kit's maximum of 40 psi" in str(caught.value)
    assert caught.value.fields == {"text": "41 psi", "maximum": "40 psi"}
    assert begun(session, PressureInput(both="40 psi")).pressure_entered == "40 psi"
    untyped = Walked(stated("kit.max", 275.8, entered="")).session
    with pytest.raises(EntryError, match="kit's maximum of 276 kPa"):
        walk.begin_stage(untyped, "fitted", PressureInput(both="41 psi"))


@pytest.mark.parametrize("text", ["", "29 17/16", "tall"])
def test_text_that_is_no_height_is_refused(text: str) -> None:
    """The text stays with whoever typed it, with the reason; nothing happens."""
    with pytest.raises(QuantityError):
        walk.record_height(Walked().session, text, corner="LF", stage=("unloaded", 1))


def test_a_closed_job_takes_nothing() -> None:
    """Once handed over nothing is due, and heights, skips, stages and pressures are refused until it is reopened."""
    session = Walked(OVER).session
    assert walk.due(session) == JobClosed()
    refused: list[Callable[[], object]] = [
        lambda: walk.record_height(session, "30", corner="LF", stage=("unloaded", 1)),
        lambda: walk.skip_corner(session, corner="LF", stage=("unloaded", 1), reason="x"),
        lambda: walk.begin_stage(session, "follow-up"),
        lambda: walk.state_pressure(session, ("fitted", 1), PressureInput(both="20 psi")),
    ]
    for answer in refused:
        with pytest.raises(EntryError, match="handed over"):
            answer()


def test_notes_have_words_and_may_have_a_place() -> None:
    """Blank notes are refused; a note's corner is kept, and its stage where that was begun."""
    session = Walked(StageBegun(stage="fitted", number=2)).session
    assert walk.write_note(session, " tyre low ") == (NoteWritten(text="tyre low"),)
    assert walk.write_note(session, "x", stage=("fitted", 2), corner="LR") == (
        NoteWritten(text="x", stage="fitted", number=2, corner="LR"),
    )
    assert walk.write_note(session, "x", stage=("loaded", 1)) == (NoteWritten(text="x"),)
    with pytest.raises(EntryError, match="says nothing"):
        walk.write_note(session, "\n")


def test_undo_and_redo_make_the_event_or_nothing() -> None:
    """Undo names the latest event, redo the undo; where there is nothing to take back nothing happens."""
    walked = Walked()
    assert walk.undo(walked.events) == ()
    assert walk.redo(walked.events) == ()
    walked.do(walk.write_note(walked.session, "a"))
    assert walk.undo(walked.events) == (Undone(undoes=2),)
    walked.do(walk.undo(walked.events))
    assert walk.redo(walked.events) == (Undone(undoes=3),)


ACTS = st.sampled_from(["height", "height", "height", "repeat", "skip", "begin", "undo", "redo"])


@given(st.lists(ACTS, max_size=40), st.sampled_from(["fit", "adjust", "load check"]))
def test_whatever_is_done_the_walk_knows_what_is_due(acts: list[str], job: JobKind) -> None:
    """In any order of answers and undos: a due corner is one not yet read, and answering what is due ends the job."""
    walked = Walked(job=job)
    for act in acts:
        _act(walked, act)
        due = walked.due
        if isinstance(due, ReadCorner):
            stage = walked.session.stage(due.stage)
            assert stage is None or not stage.corner(due.corner).readings
    steps = 0
    while not isinstance(walked.due, StagesDone):
        _act(walked, "begin" if isinstance(walked.due, BeginStage) else "height")
        steps += 1
        assert steps <= 16


def _act(walked: Walked, act: str) -> None:
    due = walked.due
    if act == "undo":
        walked.do(walk.undo(walked.events))
    elif act == "redo":
        walked.do(walk.redo(walked.events))
    elif act == "begin" and isinstance(due, BeginStage):
        walked.do(walk.begin_stage(walked.session, due.stage[0]))
    elif act == "skip" and isinstance(due, ReadCorner):
        walked.do(walk.skip_corner(walked.session, corner=due.corner, stage=due.stage, reason="no lip"))
    elif act == "repeat" and walked.session.stages:
        key = walked.session.stages[-1].key
        walked.do(walk.record_height(walked.session, "30", corner="RF", stage=key, how="repeat"))
    elif act == "height" and isinstance(due, ReadCorner):
        walked.height()
