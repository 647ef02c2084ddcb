"""Job sheets: what is taken from paper, in which order, and that it is all or nothing."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from fractions import Fraction
from pathlib import Path

import pytest

from cornerwalk.session import Session, fold
from cornerwalk.session.events import (
    CheckAnswered,
    CornerSkipped,
    FactStated,
    HeightRead,
    JobOpened,
    LeakRead,
    LoadStated,
    StageBegun,
)
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import RecordedEvent, record_event
from cornerwalk.sheet import SheetContents, SheetError, read_job_sheet

SHEETS = Path(__file__).parent / "sheets"
NOW = datetime(2026, 7, 1, 15, 30, tzinfo=timezone(timedelta(hours=2)))
IN = Fraction(254, 10)
LB = Fraction("0.45359237") * Fraction("9.80665")
"""Newtons in the weight of a pound: both factors are exact by definition."""


def read(text: str) -> SheetContents:
    return read_job_sheet(text, name="sheet", session_id="an-id", now=NOW)


def read_file(name: str) -> SheetContents:
    return read((SHEETS / name).read_text("utf-8"))


def session_of(contents: SheetContents) -> Session:
    events: list[RecordedEvent] = []
    for what in contents.events:
        events.append(record_event(events, what, at=contents.at.isoformat(), by="MT"))
    return fold(events)


def test_the_worked_case_in_order() -> None:
    """The job opens, then facts, the load, then each stage begins before its four heights, then the hold test."""
    kinds = [type(what) for what in read_file("worked-case.toml").events]
    facts = kinds.count(FactStated)
    stages = [StageBegun, HeightRead, HeightRead, HeightRead, HeightRead] * 4
    assert kinds == [JobOpened, *[FactStated] * facts, LoadStated, *stages, LeakRead, LeakRead]


def test_the_opening_carries_the_id_that_was_handed_in() -> None:
    """The identity of a session is handed in, never made up by the reader; title and kind are the sheet's."""
    opened = read_file("worked-case.toml").events[0]
    assert isinstance(opened, JobOpened)
    assert (opened.session, opened.title, opened.job) == ("an-id", "Worked case", "fit")


def test_the_worked_case_values() -> None:
    """Every value is the exact one of the text, recomputed here from the definitions of the units."""
    session = session_of(read_file("worked-case.toml"))
    assert session.vehicle.wheelbase_mm == float(119 * IN)
    assert session.vehicle.gawr_rear_N == pytest.approx(float(3100 * LB), rel=1e-15)
    assert session.tape.graduation_mm == float(IN / 16)
    assert session.lamps.screen_mm == float(25 * 12 * IN)
    assert session.loads[0].ahead_mm == float(-46 * IN)
    assert session.loads[0].weight_N == pytest.approx(float(410 * LB), rel=1e-15)
    loaded = session.first_stage("loaded")
    assert loaded is not None
    assert loaded.corner("RR").mean_mm == float(Fraction(221, 8) * IN)
    assert [stage.pressure_entered for stage in session.trials] == ["15 psi", "25 psi"]


def test_what_was_written_stays_beside_the_value() -> None:
    """Each height keeps its text letter by letter."""
    heights = [what.entered for what in read_file("worked-case.toml").events if isinstance(what, HeightRead)]
    assert heights[:5] == ["28 5/8", "28 11/16", "29 3/16", "29 1/4", "28 7/8"]


def test_every_fact_of_the_register_can_stand_in_a_sheet() -> None:
    """The sheet that holds everything states every fact there is, title and kind by the opening of the job."""
    contents = read_file("everything.toml")
    stated = {what.name for what in contents.events if isinstance(what, FactStated)}
    assert stated == set(FACTS) - {"job.title", "job.kind"}
    assert session_of(contents).job.title == "Everything"


def test_every_kind_of_event_a_sheet_can_tell() -> None:
    """Nothing that a sheet can say is lost on the way into the session."""
    session = session_of(read_file("everything.toml"))
    assert [load.ahead_mm for load in session.loads] == [-1250.0, 400.0]
    assert session.weighings["hitched"].trailer_N == pytest.approx(1490 * 9.80665)
    assert session.weighings["unhitched"].trailer_N is None
    assert [(joint.joint, joint.bubbles) for joint in session.joints] == [("valve", False), ("left bag", True)]
    assert session.torques[0].reached_Nm == 110.0
    assert [note.text for note in session.notes] == ["floor wet", "rain until ten"]
    assert {(answered.check, answered.answer) for answered in session.answers} == {
        ("level-floor", "yes"),
        ("fuel", "no"),
        ("brake-valve", "no"),
        ("exhaust-close", "yes"),
    }
    unloaded, fitted = session.stages
    assert unloaded.mark_mm == -12.0
    assert (unloaded.leveller, fitted.leveller) == ("0", "2")
    assert (fitted.left_kPa, fitted.right_kPa, fitted.pressure_kPa) == (150.0, 150.0, None)


def test_readings_follow_the_walk_of_the_sheet() -> None:
    """Repeats are averaged, a skipped corner keeps its reason, and the order is that of the stated walk."""
    contents = read_file("everything.toml")
    taken = [
        (what.corner, getattr(what, "how", "skipped"))
        for what in contents.events
        if isinstance(what, HeightRead | CornerSkipped) and what.stage == "unloaded"
    ]
    assert taken == [
        ("RR", "first"),
        ("RR", "repeat"),
        ("RR", "repeat"),
        ("RF", "first"),
        ("LF", "first"),
        ("LR", "skipped"),
    ]
    unloaded = session_of(contents).stages[0]
    assert unloaded.corner("RR").mean_mm == pytest.approx(742.5)
    assert unloaded.corner("LR").skipped == "parked against a wall"


def test_hold_tests_of_separate_lines() -> None:
    """Each line has its own test; the span follows from the two times, which take the sheet's own offset."""
    leaks = [what for what in read_file("everything.toml").events if isinstance(what, LeakRead)]
    assert [(leak.line, leak.moment, leak.pressure_kPa) for leak in leaks] == [
        ("left", "start", 200.0),
        ("left", "end", 190.0),
        ("right", "start", 200.0),
        ("right", "end", 198.0),
    ]
    assert {leak.read_at for leak in leaks} == {"2026-03-02T17:30:00+01:00", "2026-03-03T07:45:00+01:00"}
    assert all(leak.hours is None and leak.loaded for leak in leaks)


def test_hours_of_the_hold_test_on_paper() -> None:
    """Where the sheet says how long it was held, the end lies that much after its date."""
    start, end = (what for what in read_file("worked-case.toml").events if isinstance(what, LeakRead))
    assert (start.hours, end.hours) == (None, 14.0)
    assert datetime.fromisoformat(end.read_at) - datetime.fromisoformat(start.read_at) == timedelta(hours=14)


@pytest.mark.parametrize(
    ("date", "at"),
    [
        ("2026-05-04T08:12:00-06:00", datetime(2026, 5, 4, 8, 12, tzinfo=timezone(timedelta(hours=-6)))),
        ("2026-05-04T08:12:00Z", datetime(2026, 5, 4, 8, 12, tzinfo=UTC)),
        ("2026-05-04T08:12:00", datetime(2026, 5, 4, 8, 12, tzinfo=NOW.tzinfo)),
        ("2026-05-04", datetime(2026, 5, 4, tzinfo=NOW.tzinfo)),
        ('"2026-05-04"', datetime(2026, 5, 4, tzinfo=NOW.tzinfo)),
    ],
)
def test_the_time_of_a_sheet(date: str, at: datetime) -> None:
    """A date without an offset is taken where the program runs; a date alone is the beginning of its day."""
    assert read(f"[job]\ndate = {date}\n").at == at


def test_a_sheet_without_a_date_happened_now() -> None:
    """The time handed in stands for a date left out."""
    assert read("[job]\ntitle = 'x'\n").at == NOW


@pytest.mark.parametrize("text", ["", "[kit]\nmin = '5 psi'\n", 'unit = "mm"\n[vehicle]\nwheelbase = "3000"\n'])
def test_a_sheet_may_stop_anywhere(text: str) -> None:
    """Vehicle and kit only, or nothing at all, is a preset."""
    assert not any(isinstance(what, StageBegun) for what in read(text).events)


def test_blanks_are_not_stated() -> None:
    """A form that was not filled in everywhere says nothing where it is blank."""
    contents = read('unit = "mm"\n[vehicle]\nwheelbase = ""\n[[stage]]\nname = "unloaded"\nLF = "728"\nRF = ""\n')
    assert [type(what) for what in contents.events] == [JobOpened, FactStated, StageBegun, HeightRead]


def test_a_sheet_without_a_unit_needs_none_where_every_value_has_its_own() -> None:
    """Units beside the values are enough, mixed ones too."""
    contents = read("[[stage]]\nname = 'unloaded'\nLF = '728 mm'\nRF = '28 11/16 in'\n")
    assert contents.unit is None
    assert [what.mm for what in contents.events if isinstance(what, HeightRead)] == [728.0, 728.6625]


def test_pressure_over_the_maximum_of_the_kit_is_recorded() -> None:
    """Paper tells what has happened; that it should not have is for the findings to say."""
    contents = read('[kit]\nmax = "40 psi"\n[[stage]]\nname = "fitted"\npressure = "60 psi"\n')
    begun = contents.events[-1]
    assert isinstance(begun, StageBegun)
    assert begun.pressure_entered == "60 psi"


def test_stages_in_any_order_are_numbered_by_name() -> None:
    """Trials are counted among themselves, wherever they stand."""
    names = ["fitted", "unloaded", "fitted", "loaded"]
    contents = read("".join(f'[[stage]]\nname = "{name}"\n' for name in names))
    begun = [(what.stage, what.number) for what in contents.events if isinstance(what, StageBegun)]
    assert begun == [("fitted", 1), ("unloaded", 1), ("fitted", 2), ("loaded", 1)]


def test_answers_belong_to_the_checklists_that_were_handed_in() -> None:
    """A question of the shop's own is known when its list is, and unknown otherwise."""
    from cornerwalk.session.checklist import Checklists, parse_checklist

    own = parse_checklist('id = "own"\ntitle = "Own"\n[[item]]\nid = "winch"\nquestion = "Winch fitted?"\n')
    text = '[checks]\nwinch = "no"\n'
    contents = read_job_sheet(text, name="s", session_id="x", now=NOW, checklists=Checklists((own,)))
    assert isinstance(contents.events[-1], CheckAnswered)
    with pytest.raises(SheetError, match="winch"):
        read(text)
