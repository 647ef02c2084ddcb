from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.session import Session, fold
from cornerwalk.session import events as h
from cornerwalk.session.log import active_events
from cornerwalk.session.model import (
    AxleWeights,
    CheckAnswer,
    CornerRecord,
    Handover,
    Joint,
    LeakReading,
    Load,
    Note,
    Stage,
    TorqueRecord,
)
from cornerwalk.session.projection import Projection
from cornerwalk.session.stages import StageName
from tests.session.support import AT, SESSION, any_job, events_of, opened, read, session_of
from tests.support.known import known


def test_no_events_are_an_empty_session() -> None:
    """Before anything happened nothing is known, and the job is open."""
    assert fold(()) == Session()


def test_the_opening_names_the_job() -> None:
    """Id, program, kind, title and time come from the first event."""
    session = session_of()
    assert (session.id, session.program, session.opened_at) == (SESSION, "0.1.0", AT)
    assert (session.job.kind, session.job.title) == ("fit", "Box trailer (invented)")


def test_a_later_title_replaces_the_first() -> None:
    """A stated title counts more than the one the job was opened under."""
    assert session_of(h.FactStated(name="job.title", entered="Boat", value="Boat")).job.title == "Boat"


def test_an_unknown_fact_is_kept_as_its_text() -> None:
    """A fact the register does not know loses nothing: its text stays, and no part changes."""
    session = session_of(h.FactStated(name="vehicle.colour", entered="blue", value="blue"))
    assert session.entered["vehicle.colour"] == "blue"
    assert session.vehicle == Session().vehicle


def test_last_event_counts_even_when_undone() -> None:
    """`last_at` and `last_seq` are those of the last event, whatever it was: they say how far the file goes."""
    session = session_of(h.NoteWritten(text="a"), h.Undone(undoes=2), at=[AT, AT, "2026-05-04T09:00:00-06:00"])
    assert (session.last_seq, session.last_at, session.notes) == (3, "2026-05-04T09:00:00-06:00", ())


def test_first_repeat_and_instead() -> None:
    """A repeat joins the readings before it; a first or an instead takes the place of all of them."""

    def texts(session: Session) -> list[str]:
        return [reading.entered for reading in session.stages[0].corner("LF").readings]

    a, b = read("LF", 700, entered="a"), read("LF", 702, how="repeat", entered="b")
    assert texts(session_of(a, b)) == ["a", "b"]
    assert session_of(a, b).stages[0].corner("LF").mean_mm == pytest.approx(701)
    assert texts(session_of(a, b, read("LF", how="instead", entered="c"))) == ["c"]
    assert texts(session_of(a, read("LF", entered="d"))) == ["d"]


def test_a_reading_knows_its_event() -> None:
    """When it was read and under what number it stands are those of its event; a stage begins when it was begun."""
    later = "2026-05-04T09:00:00-06:00"
    stage = session_of(h.StageBegun(stage="loaded"), read("LF", stage="loaded"), at=[AT, AT, later]).stages[0]
    (reading,) = stage.corner("LF").readings
    assert (reading.seq, reading.at) == (3, later)
    assert (stage.begun_seq, stage.begun_at) == (2, AT)


def test_an_undone_repeat_leaves_the_others() -> None:
    """Taking back one of several readings leaves the rest."""
    session = session_of(read("LF", 700), read("LF", 702, how="repeat"), h.Undone(undoes=3))
    assert session.stages[0].corner("LF").mean_mm == 700


def test_a_skipped_corner_and_a_reading_replace_each_other() -> None:
    """The later of the two counts."""
    skip = h.CornerSkipped(stage="unloaded", corner="LF", reason="arch lip is bent")
    assert session_of(read("LF"), skip).stages[0].corner("LF") == CornerRecord(skipped="arch lip is bent")
    again = session_of(skip, read("LF", 700)).stages[0].corner("LF")
    assert (again.skipped, again.mean_mm) == (None, 700)


def test_a_stage_needs_no_beginning() -> None:
    """A reading of a stage that was not begun begins it, so that none is lost from view."""
    session = session_of(read("LF", stage="loaded"))
    assert session.stages[0].key == ("loaded", 1)
    assert session.stages[0].begun_seq == 2
    assert session.stages[0].pressure_kPa is None


@pytest.mark.parametrize("cls", [h.StageBegun, h.PressureStated])
def test_pressure_belongs_to_its_stage(cls: type[h.StageBegun] | type[h.PressureStated]) -> None:
    """Begun or stated later, the three pressures and their texts are the stage's; the readings stay."""
    air: Any = {"pressure_entered": "15 psi", "pressure_kPa": 103.4}
    air |= {"left_entered": "l", "left_kPa": 1.0, "right_entered": "r", "right_kPa": 2.0}
    said = cls(stage="fitted", number=2, **air)
    stage = session_of(read("LF", stage="fitted", number=2), said).stages[0]
    assert {name: getattr(stage, name) for name in air} == air
    assert stage.corner("LF").readings


def test_trials_of_one_name_are_told_apart_by_number() -> None:
    """Fitted 1 and fitted 2 are two stages, in the order begun; `trials` and `current` follow it."""
    session = session_of(
        read("LF"),
        h.StageBegun(stage="fitted", number=1),
        h.StageBegun(stage="fitted", number=2),
        read("LF", 710, stage="fitted", number=2),
    )
    assert [stage.key for stage in session.trials] == [("fitted", 1), ("fitted", 2)]
    assert known(session.current_stage).key == ("fitted", 2)
    first = known(session.stage(("fitted", 1)))
    assert not first.corners
    assert session.first_stage("fitted") == first
    assert session.stage(("fitted", 3)) is None
    assert session.first_stage("road-test") is None


def test_mark_and_leveller_belong_to_their_stage() -> None:
    """The mark on the wall and the leveller's position are kept with the stage at which they were seen."""
    stage = session_of(
        h.MarkRead(stage="loaded", entered="4 in", above_mm=101.6), h.LevellerSet(stage="loaded", position="2")
    ).stages[0]
    assert (stage.mark_mm, stage.leveller) == (101.6, "2")


def test_loads_by_name() -> None:
    """A load stated again is replaced, one removed is gone; the texts of weight and place are kept."""

    def state(name: str, N: float) -> h.LoadStated:
        return h.LoadStated(name=name, entered=f"{N} N", weight_N=N, place_entered="46 in behind", ahead_mm=-1168.4)

    session = session_of(
        state("tongue", 1800.0), state("tools", 500.0), state("tongue", 1900.0), h.LoadRemoved(name="tools")
    )
    assert session.loads == (Load(name="tongue", weight_N=1900.0, ahead_mm=-1168.4),)
    assert session.entered["load.tongue.weight"] == "1900.0 N"
    assert session.entered["load.tongue.place"] == "46 in behind"
    assert session_of(h.LoadRemoved(name="nothing")).loads == ()


def test_the_last_answer_to_a_question_counts() -> None:
    """Asked at a stage, a question has an answer for each stage; asked once, one."""

    def ask(answer: h.Answer, stage: StageName | None = None, number: int | None = None) -> h.CheckAnswered:
        return h.CheckAnswered(check="level ground", answer=answer, stage=stage, number=number)

    session = session_of(ask("no"), ask("yes"), ask("no", stage="loaded"), ask("yes", stage="loaded", number=2))
    assert session.answers == (
        CheckAnswer(check="level ground", answer="yes", note="", stage=None, at=AT),
        CheckAnswer(check="level ground", answer="no", note="", stage=("loaded", 1), at=AT),
        CheckAnswer(check="level ground", answer="yes", note="", stage=("loaded", 2), at=AT),
    )


def test_torques_by_joint() -> None:
    """A joint tightened again replaces what was recorded of it."""
    known_of: Any = {
        "joint": "upper bracket",
        "specified_entered": "24 N·m",
        "specified_Nm": 24.0,
        "source": "kit sheet",
    }
    reached = [h.TorqueRecorded(reached_entered=f"{Nm}", reached_Nm=Nm, **known_of) for Nm in (20.0, 24.0)]
    expected = TorqueRecord(reached_entered="24.0", reached_Nm=24.0, at=AT, **known_of)
    assert session_of(*reached).torques == (expected,)


def weighed(weighing: h.Weighing, **axles_N: float) -> h.WeighingRecorded:
    """A pass over the scale in newtons; an axle not named was not read."""
    named = {axle: axles_N.get(axle) for axle in ("front", "rear", "trailer")}
    read: Any = {f"{axle}_N": N for axle, N in named.items()}
    typed: Any = {f"{axle}_entered": "" if N is None else f"{N} N" for axle, N in named.items()}
    return h.WeighingRecorded(weighing=weighing, **read, **typed)


def test_weighings_by_their_name() -> None:
    """Each of the three weighings counts once, with the texts of the ticket."""
    session = session_of(weighed("hitched", front=12899.8, rear=16458.4, trailer=13789.5))
    assert session.weighings == {
        "hitched": AxleWeights(weighing="hitched", front_N=12899.8, rear_N=16458.4, trailer_N=13789.5)
    }
    texts = [session.entered[f"weighing.hitched.{where}"] for where in ("front", "rear", "trailer")]
    assert texts == ["12899.8 N", "16458.4 N", "13789.5 N"]


GAUGE: Any = {"temperature_C": 22.0, "hours": 24.0, "loaded": True}
READ_AT = "2026-05-04T07:00:00-06:00"


def leak(moment: h.LeakMoment, kPa: float, line: Literal["both", "left", "right"] = "both") -> h.LeakRead:
    typed: Any = {"pressure_entered": f"{kPa} kPa", "temperature_entered": "22 C", "read_at": READ_AT}
    return h.LeakRead(moment=moment, line=line, pressure_kPa=kPa, **typed, **GAUGE)


def test_a_hold_test_keeps_when_the_gauge_was_read() -> None:
    """The time of the reading is the gauge's, not that of the event that records it."""
    session = session_of(leak("start", 200.0))
    expected = LeakReading(moment="start", line="both", pressure_kPa=200.0, at=READ_AT, **GAUGE)
    assert session.leak_readings == (expected,)
    assert session.last_at == AT


def test_a_new_start_ends_the_earlier_hold_test() -> None:
    """A start read again takes the old end of that line with it, and leaves the other line's alone."""
    session = session_of(
        leak("start", 200.0, "left"),
        leak("end", 190.0, "left"),
        leak("start", 200.0, "right"),
        leak("end", 195.0, "right"),
        leak("start", 210.0, "left"),
    )
    assert {(r.line, r.moment): r.pressure_kPa for r in session.leak_readings} == {
        ("left", "start"): 210.0,
        ("right", "start"): 200.0,
        ("right", "end"): 195.0,
    }


def test_joints_and_notes() -> None:
    """A joint soaped again replaces its record; every note stays, with its place."""
    session = session_of(
        h.JointSoaped(joint="valve", bubbles=True),
        h.JointSoaped(joint="valve", bubbles=False, note="tightened"),
        h.NoteWritten(text="all"),
        h.NoteWritten(text="here", stage="loaded", corner="LR"),
    )
    assert session.joints == (Joint(joint="valve", bubbles=False, note="tightened"),)
    assert session.notes == (
        Note(text="all", stage=None, corner=None, at=AT, seq=4),
        Note(text="here", stage=("loaded", 1), corner="LR", at=AT, seq=5),
    )


def test_handing_over_closes_and_reopening_opens() -> None:
    """The figures shown at each handover stay; the job is closed until it is reopened."""
    over = h.HandedOver(to="customer", figures={"rear_mm": -1.5}, program="0.1.0")
    closed = session_of(over)
    assert closed.open is False
    assert closed.handovers == (
        Handover(to="customer", figures={"rear_mm": -1.5}, program="0.1.0", at=AT, by="MT", seq=2),
    )
    again = session_of(over, h.JobReopened(reason="follow-up"), over)
    assert len(again.handovers) == 2
    assert session_of(over, h.JobReopened(reason="follow-up")).open


def test_what_a_stage_has() -> None:
    """Complete is four corners read or skipped; all read is four readings; an unread corner is an empty record."""
    skip = h.CornerSkipped(stage="unloaded", corner="LR", reason="no lip")
    three = [read("LF"), read("RF"), read("RR")]
    partly, complete, read_all = session_of(*three), session_of(*three, skip), session_of(*three, read("LR"))
    assert [s.stages[0].complete for s in (partly, complete, read_all)] == [False, True, True]
    assert [s.stages[0].all_read for s in (partly, complete, read_all)] == [False, False, True]
    assert partly.stages[0].corner("LR") == CornerRecord()
    assert CornerRecord().mean_mm is None
    assert fold(()).current_stage is None


@given(any_job)
def test_folding_is_of_what_counts_alone(job: Sequence[h.Event]) -> None:
    """Whatever happens folds, and undone events leave no trace but the time and number of the last event."""
    events = events_of(*job)
    whole, counting = fold(events), fold(active_events(events))
    for name in ("stages", "loads", "answers", "notes", "entered", "leak_readings", "open", "handovers", "vehicle"):
        assert getattr(whole, name) == getattr(counting, name)
    assert whole.last_seq == len(events)


@given(any_job, st.integers(0, 40))
def test_a_fold_that_goes_on_is_the_fold_of_all(job: Sequence[h.Event], first: int) -> None:
    """Taken event by event after any beginning, undos among them, the session is that of all at once."""
    events = events_of(*job)
    folding = Projection(events[:first])
    before = deepcopy(folding.session)
    kept = folding.session
    for count in range(min(first, len(events)), len(events)):
        assert folding.apply(events[count : count + 1]) == fold(events[: count + 1])
    assert folding.session == fold(events)
    assert kept == before, "a session that was given out does not change"


def test_a_session_that_was_given_out_does_not_change() -> None:
    """What is folded on, of every kind that grows in place, is seen in the next session only."""
    before = (
        read("LF", 700.0),
        h.FactStated(name="vehicle.arch_width", entered="66 in", value=1676.4, basis="assumed"),
    )
    after = (
        read("RF", 702.0),
        h.FactStated(name="vehicle.wheelbase", entered="119 in", value=3022.6, basis="assumed"),
        weighed("unhitched", front=13000.0),
    )
    events = events_of(opened(), *before, *after)
    folding = Projection(events[:3])
    given_out = folding.session
    for event in events[3:]:
        folding.apply((event,))
    assert folding.session == fold(events)
    assert given_out == fold(events[:3])
    assert (len(given_out.stages[0].corners), len(given_out.basis), len(given_out.weighings)) == (1, 1, 0)


@given(any_job)
def test_every_prefix_is_a_session(job: Sequence[h.Event]) -> None:
    """A file cut anywhere between two events is a session as it once stood: stages only ever grow in number."""
    events = events_of(*[what for what in job if not isinstance(what, h.Undone)])
    begun = 0
    for end in range(1, len(events) + 1):
        session = fold(events[:end])
        assert len(session.stages) >= begun
        begun = len(session.stages)
        assert all(isinstance(stage, Stage) for stage in session.stages)


def test_the_kind_of_a_job_may_be_changed_and_taken_back() -> None:
    """What is asked for follows the kind stated last; taken back, the job is of the kind it was opened as."""
    changed = h.FactStated(name="job.kind", entered="load check", value="load check")
    events = events_of(opened(job="adjust"), changed)
    assert fold(events).job.kind == "load check"
    assert fold(events).fact_text("job.kind") == "load check"
    back = events_of(opened(job="adjust"), changed, h.FactStated(name="job.kind", entered="", value=None))
    assert fold(back).job.kind == "adjust"
    assert fold(back).fact_text("job.kind") == "adjust"
    undone = events_of(opened(job="adjust"), changed, h.Undone(undoes=2))
    assert fold(undone).job.kind == "adjust"
