"""What is typed, as events: facts, loads, weights, torques, gauge readings, joints, marks, and the closing of a job."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from cornerwalk.quantity import BareUnit, QuantityError
from cornerwalk.session import Session
from cornerwalk.session.conditions import read_mark, set_leveller
from cornerwalk.session.events import Event, FactStated, FactValue, HandedOver, JobReopened, LeakRead, NoteWritten
from cornerwalk.session.facts import FACTS
from cornerwalk.session.hold_test import (
    find_leak_reading,
    hours_since,
    joints_to_soap,
    lines_to_test,
    load_changed,
    read_gauge,
    running_tests,
    soap_joint,
    with_load,
    with_temperature,
)
from cornerwalk.session.statements import (
    axles_weighed,
    find_torque,
    record_torque,
    record_weight,
    remove_load,
    state_fact,
    state_load,
    torque_ratio,
)
from cornerwalk.session.walk import EntryError, hand_over, reopen
from tests.session.support import AT, session_of
from tests.support.known import known
from tests.support.units import KGF, LBF, PSI


@pytest.mark.parametrize(
    ("name", "text", "unit", "value"),
    [
        ("job.customer", " Z. A. ", "inch", "Z. A."),
        ("kit.lines", "Separate", "inch", "separate"),
        ("vehicle.wheelbase", "119", "inch", 119 * 25.4),
        ("vehicle.wheelbase", "302", "cm", 3020.0),
        ("vehicle.wheelbase", "3020", "mm", 3020.0),
        ("vehicle.wheelbase", "119 in", "mm", 119 * 25.4),
        ("tape.graduation", "1/16 in", "mm", 25.4 / 16),
        ("leak.altitude", "1000", "inch", 304.8),
        ("leak.altitude", "300", "mm", 300.0),
        ("kit.max", "100", "inch", 100 * PSI),
        ("kit.max", "700", "cm", 700.0),
        ("vehicle.gvwr", "7000", "inch", 7000 * LBF),
        ("vehicle.gvwr", "3200", "mm", 3200 * KGF),
        ("table.loads", "500; 1000;", "inch", [500 * LBF, 1000 * LBF]),
        ("trailer.tongue_share_low", "10", "inch", 10.0),
        ("lamps.aim_percent", "-1.0", "inch", -1.0),
        ("vehicle.occupants", "2", "inch", 2.0),
        ("job.date", "2026-05-04", "inch", "2026-05-04T00:00:00"),
    ],
)
def test_a_fact_is_kept_as_typed_beside_its_value(name: str, text: str, unit: BareUnit, value: FactValue) -> None:
    """A number without its unit is in that of the job, and one with it means the same everywhere."""
    stated = state_fact(name, text, unit)
    assert (stated.name, stated.entered) == (name, text.strip())
    assert stated.value == (value if isinstance(value, str) else pytest.approx(value, rel=1e-12))


@pytest.mark.parametrize("name", FACTS)
def test_every_fact_is_taken_back_by_an_empty_text(name: str) -> None:
    """Clearing a field says that it is not known, whatever its kind."""
    stated = state_fact(name, "  ", "inch")
    assert (stated.entered, stated.value) == ("", None)


@pytest.mark.parametrize("name", [name for name, fact in FACTS.items() if fact.kind != "text"])
def test_no_fact_but_a_text_takes_any_words(name: str) -> None:
    """What is no value of its kind is refused in words that the edge can show, and never recorded."""
    with pytest.raises((EntryError, QuantityError)):
        state_fact(name, "as usual", "inch")


@pytest.mark.parametrize("name", [name for name, fact in FACTS.items() if fact.kind == "choice"])
def test_every_choice_is_taken_and_a_wrong_one_is_answered_with_all(name: str) -> None:
    """Capitals do not matter; whoever types another word is told which there are."""
    choices = FACTS[name].choices
    assert [state_fact(name, choice.upper(), "inch").value for choice in choices] == list(choices)
    with pytest.raises(EntryError) as refused:
        state_fact(name, "something else", "inch")
    assert all(choice in str(refused.value) for choice in choices)


def test_a_fact_of_a_wrong_name_is_answered_with_the_nearest() -> None:
    """A slip in a sheet's key is told with what was meant, where anything is near."""
    with pytest.raises(EntryError, match=r"did you mean vehicle\.wheelbase"):
        state_fact("vehicle.weelbase", "119", "inch")
    with pytest.raises(EntryError, match="did you mean …"):
        state_fact("§§§", "119", "inch")


def test_a_load_behind_the_rear_axle_counts_backwards() -> None:
    """The distance is typed as a tape gives it; the side says its sign."""
    behind = state_load(" hitch rack ", " 80 ", place="24", side="behind", unit="inch")
    assert (behind.name, behind.entered, behind.place_entered) == ("hitch rack", "80", "24 behind the rear axle")
    assert behind.weight_N == pytest.approx(80 * LBF, rel=1e-12)
    assert behind.ahead_mm == pytest.approx(-24 * 25.4)
    ahead = state_load("box", "40", place="500", side="ahead of", unit="mm")
    assert ahead.weight_N == pytest.approx(40 * KGF, rel=1e-12)
    assert ahead.ahead_mm == 500.0


def test_a_load_needs_a_name_a_weight_and_a_place() -> None:
    """Without any of them the axles cannot be told, and nothing is recorded."""
    with pytest.raises(EntryError, match="name"):
        state_load(" ", "80", place="24", side="behind", unit="inch")
    with pytest.raises(QuantityError):
        state_load("box", "", place="24", side="behind", unit="inch")
    with pytest.raises(QuantityError):
        state_load("box", "80", place="", side="behind", unit="inch")


def test_only_a_load_that_is_on_board_is_taken_out() -> None:
    """Another name changes nothing."""
    assert remove_load("box", ["box", "rack"]).name == "box"
    with pytest.raises(EntryError, match="crate"):
        remove_load("crate", ["box", "rack"])


METRIC = FactStated(name="job.unit", entered="mm", value="mm")
SEPARATE = FactStated(name="kit.lines", entered="separate", value="separate")
NOW = datetime.fromisoformat(AT)


# ---- weighing ----


def test_a_pass_typed_an_axle_at_a_time_ends_as_one_pass() -> None:
    """Each axle is kept as it is typed, and the next one does not lose it."""
    first = record_weight(session_of(), "hitched", "front", "2980")
    second = record_weight(session_of(first), "hitched", "rear", "1500 kg")
    # 2980 lb · LBF N/lb (exact by definition of the pound and of standard gravity)
    assert second.front_N == pytest.approx(2980 * LBF, rel=1e-12)
    assert second.rear_N == pytest.approx(1500 * KGF, rel=1e-12)
    assert (second.front_entered, second.rear_entered, second.trailer_N) == ("2980", "1500 kg", None)


def test_a_weight_typed_again_takes_the_place_of_the_first_and_an_empty_one_takes_it_out() -> None:
    """A correction touches its own axle only."""
    kept = record_weight(session_of(METRIC), "unhitched", "rear", "900")
    assert kept.rear_N == pytest.approx(900 * KGF, rel=1e-12)
    out = record_weight(session_of(METRIC, kept), "unhitched", "rear", " ")
    assert (out.rear_N, out.rear_entered) == (None, "")


def test_no_trailer_stands_on_the_scale_in_the_first_pass() -> None:
    """The vehicle alone has two axles to read."""
    assert axles_weighed("unhitched") == ("front", "rear")
    assert axles_weighed("distributed") == ("front", "rear", "trailer")


@pytest.mark.parametrize(
    ("record", "refused"),
    [
        pytest.param(lambda s: record_weight(s, "hitched", "front", "heavy"), QuantityError, id="no weight"),
        pytest.param(lambda s: record_torque(s, "wheel nuts", "reached", "80"), QuantityError, id="80 of what"),
        pytest.param(lambda s: record_torque(s, "", "reached", "98 Nm"), EntryError, id="of no joint"),
        pytest.param(lambda s: record_torque(s, "  ", "reached", "98 Nm"), EntryError, id="of a blank joint"),
        pytest.param(lambda s: read_gauge(s, "both", "end", "30", NOW), EntryError, id="an end without a start"),
        pytest.param(lambda s: soap_joint(" ", bubbles=False), EntryError, id="a joint without a name"),
        pytest.param(lambda s: set_leveller(("fitted", 2), " "), EntryError, id="no position"),
        pytest.param(lambda s: reopen(s, "again"), EntryError, id="taken up again, though open"),
    ],
)
def test_what_says_nothing_is_refused(record: Callable[[Session], object], refused: type[Exception]) -> None:
    """Nothing is recorded of a text that says no weight, or of what could be checked again by nobody."""
    with pytest.raises(refused):
        record(session_of())


# ---- torque ----


def test_a_torque_grows_with_what_is_typed_of_it() -> None:
    """Specification, whose it is, and what was reached come one after the other and end as one record."""
    so_far: list[Event] = []
    for part, text in (("specified", "98 N·m"), ("source", "vehicle's manual"), ("reached", "80 lbf·ft")):
        so_far.append(record_torque(session_of(*so_far), "wheel nuts", part, text))  # type: ignore[arg-type]
    torque = known(find_torque(session_of(*so_far), "wheel nuts"))
    assert (torque.specified_Nm, torque.source) == (98.0, "vehicle's manual")
    # 80 lbf·ft · 1.3558179483314004 N·m/(lbf·ft), exact by definition
    assert torque.reached_Nm == pytest.approx(80 * 1.3558179483314004, rel=1e-12)
    assert torque_ratio(torque) == pytest.approx(108.465 / 98, rel=1e-5)


def test_a_torque_that_is_half_known_is_not_compared() -> None:
    """No share is told of a specification that nobody stated."""
    reached = record_torque(session_of(), "wheel nuts", "reached", "98 Nm")
    torque = known(find_torque(session_of(reached), "wheel nuts"))
    assert torque_ratio(torque) is None


# ---- hold test ----


def test_a_test_runs_from_its_start_to_its_end() -> None:
    """Between the two readings it is running; an end that belonged to another start does not count any more."""
    start = read_gauge(session_of(), "both", "start", "30", NOW)
    assert [reading.line for reading in running_tests(session_of(start))] == ["both"]
    end = read_gauge(session_of(start), "both", "end", "27", NOW + timedelta(hours=17))
    assert running_tests(session_of(start, end)) == ()
    again = read_gauge(session_of(start, end), "both", "start", "30", NOW + timedelta(hours=18))
    assert find_leak_reading(session_of(start, end, again), "both", "end") is None


def test_the_time_a_test_has_run_is_told_across_a_night_and_a_change_of_offset() -> None:
    """17 hours are 17 hours, also where the clocks were put forward in between."""
    start = read_gauge(session_of(), "both", "start", "30", NOW)
    reading = known(find_leak_reading(session_of(start), "both", "start"))
    next_day = datetime.fromisoformat("2026-05-05T02:12:31-05:00")
    assert hours_since(reading, next_day) == pytest.approx(17.0)
    assert hours_since(reading, NOW - timedelta(minutes=5)) == 0.0


def test_separate_lines_have_a_test_each() -> None:
    """Each side has its own gauge readings; with a tee there is one."""
    assert lines_to_test(session_of()) == ("both",)
    assert lines_to_test(session_of(SEPARATE)) == ("left", "right")


def test_temperature_and_load_stand_beside_the_gauge() -> None:
    """All that is needed to judge a reading is in the one record."""
    read: LeakRead = read_gauge(session_of(), "both", "start", "30", NOW)
    full = with_load(with_temperature(read, "71", session_of()), loaded=True)
    # 71 °F = (71 − 32)·5/9 °C
    assert full.temperature_C == pytest.approx((71 - 32) * 5 / 9)
    assert (full.loaded, full.pressure_kPa, full.read_at) == (True, read.pressure_kPa, AT)


@pytest.mark.parametrize(
    ("at_start", "at_end", "differs"),
    [(True, False, True), (False, True, True), (True, True, False), (None, True, False), (False, None, False)],
)
def test_a_load_that_came_or_went_during_the_test_is_told(
    *, at_start: bool | None, at_end: bool | None, differs: bool
) -> None:
    """A bag under load reads higher, so the two readings do not compare; what was not stated is no difference."""
    start = replace(read_gauge(session_of(), "both", "start", "30", NOW), loaded=at_start)
    assert not load_changed(session_of(), "both")
    assert not load_changed(session_of(start), "both")
    end = replace(read_gauge(session_of(start), "both", "end", "29", NOW + timedelta(hours=8)), loaded=at_end)
    assert load_changed(session_of(start, end), "both") == differs


@pytest.mark.parametrize("read_at", ["this morning", "2026-05-04T08:12:31"])
def test_a_gauge_whose_time_says_nothing_has_no_hours(read_at: str) -> None:
    """A time that cannot be read, or has no offset from UTC, is not guessed at."""
    start = replace(read_gauge(session_of(), "both", "start", "30", NOW), read_at=read_at)
    reading = known(find_leak_reading(session_of(start), "both", "start"))
    assert hours_since(reading, NOW) is None


def test_a_clock_without_an_offset_tells_no_hours() -> None:
    """Nothing is reckoned between a time that says its offset and one that does not."""
    reading = known(
        find_leak_reading(session_of(read_gauge(session_of(), "both", "start", "30", NOW)), "both", "start")
    )
    assert hours_since(reading, NOW.replace(tzinfo=None)) is None


def test_the_joints_left_are_those_not_wetted_yet() -> None:
    """In the usual order, after the joint in hand; one with a name of its own stands in no row."""
    session = session_of(soap_joint("valve", bubbles=False), soap_joint("compressor", bubbles=False))
    assert joints_to_soap(session) == ("left bag", "right bag", "tee or line joints", "valve core, cap off", "gauge")
    assert joints_to_soap(session, after="tee or line joints") == ("valve core, cap off", "gauge")
    assert joints_to_soap(session, after="gauge") == ()


def test_bubbles_are_recorded_with_their_note() -> None:
    """A soap-tested joint says what was seen."""
    joint = soap_joint("left bag", " at the stem ", bubbles=True)
    assert (joint.joint, joint.bubbles, joint.note) == ("left bag", True, "at the stem")


# ---- marks ----


@pytest.mark.parametrize(("text", "inches"), [("2 below", -2.0), ("-2", -2.0), ("+1/2", 0.5), ("1.5 in above", 1.5)])
def test_a_wall_mark_is_read_with_its_side(text: str, inches: float) -> None:
    """Above is positive, below negative, in words or by sign."""
    assert read_mark(session_of(), ("loaded", 1), text).above_mm == pytest.approx(inches * 25.4)


def test_a_leveller_position_is_kept_as_it_stands_on_the_dial() -> None:
    """Dials have numbers, letters or pictures; nothing is made of them."""
    assert set_leveller(("fitted", 2), " 1 ").position == "1"


# ---- closing ----


def test_handing_over_keeps_the_figures_and_what_was_decided() -> None:
    """The note comes first, so that it belongs to the job that is closed."""
    done = hand_over(session_of(), "Z. A.", {"overall": "fail"}, "0.1.0", "the owner drives it empty to the dealer")
    assert [type(what) for what in done] == [NoteWritten, HandedOver]
    assert isinstance(done[1], HandedOver)
    assert done[1].figures == {"overall": "fail"}


def test_a_closed_job_is_reopened_with_a_reason_and_an_open_one_is_not() -> None:
    """What was handed over stays; why it is taken up again is on record."""
    closed = session_of(*hand_over(session_of(), "", {}, "0.1.0"))
    with pytest.raises(EntryError):
        hand_over(closed, "", {}, "0.1.0")
    with pytest.raises(EntryError):
        reopen(closed, "  ")

    (reopened,) = reopen(closed, "sags again")
    assert reopened == JobReopened(reason="sags again")
