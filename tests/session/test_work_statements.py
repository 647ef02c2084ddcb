"""What is typed besides the heights: weights, torques, the hold test, marks, the end of the job."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from cornerwalk.quantity import QuantityError
from cornerwalk.session import Session, fold
from cornerwalk.session.conditions import read_mark, set_leveller
from cornerwalk.session.events import Event, FactStated, HandedOver, JobReopened, LeakRead, NoteWritten
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
from cornerwalk.session.statements import axles_weighed, find_torque, record_torque, record_weight, torque_ratio
from cornerwalk.session.walk import EntryError, hand_over, reopen
from tests.session.support import AT, events_of, opened
from tests.support.known import known

METRIC = FactStated(name="job.unit", entered="mm", value="mm")
SEPARATE = FactStated(name="kit.lines", entered="separate", value="separate")
NOW = datetime.fromisoformat(AT)


def session_of(*events: Event) -> Session:
    return fold(events_of(opened(), *events))


# ---- weighing ----


def test_a_pass_typed_an_axle_at_a_time_ends_as_one_pass() -> None:
    """Each axle is kept as it is typed, and the next one does not lose it."""
    first = record_weight(session_of(), "hitched", "front", "2980")
    second = record_weight(session_of(first), "hitched", "rear", "1500 kg")
    # 2980 lb · 4.4482216152605 N/lb (exact by definition of the pound and of standard gravity)
    assert second.front_N == pytest.approx(2980 * 4.4482216152605, rel=1e-12)
    assert second.rear_N == pytest.approx(1500 * 9.80665, rel=1e-12)
    assert (second.front_entered, second.rear_entered, second.trailer_N) == ("2980", "1500 kg", None)


def test_a_weight_typed_again_takes_the_place_of_the_first_and_an_empty_one_takes_it_out() -> None:
    """A correction touches its own axle only."""
    kept = record_weight(session_of(METRIC), "unhitched", "rear", "900")
    assert kept.rear_N == pytest.approx(900 * 9.80665, rel=1e-12)
    out = record_weight(session_of(METRIC, kept), "unhitched", "rear", " ")
    assert (out.rear_N, out.rear_entered) == (None, "")


def test_no_trailer_stands_on_the_scale_in_the_first_pass() -> None:
    """The vehicle alone has two axles to read."""
    assert axles_weighed("unhitched") == ("front", "rear")
    assert axles_weighed("distributed") == ("front", "rear", "trailer")


def test_a_weight_that_is_none_is_refused() -> None:
    """Nothing is recorded of a text that says no weight."""
    with pytest.raises(QuantityError):
        record_weight(session_of(), "hitched", "front", "heavy")


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


def test_a_torque_without_its_unit_is_refused() -> None:
    """80 of what is never guessed: newton metres and pound-feet differ by a third."""
    with pytest.raises(QuantityError):
        record_torque(session_of(), "wheel nuts", "reached", "80")


def test_a_torque_that_is_half_known_is_not_compared() -> None:
    """No share is told of a specification that nobody stated."""
    reached = record_torque(session_of(), "wheel nuts", "reached", "98 Nm")
    torque = known(find_torque(session_of(reached), "wheel nuts"))
    assert torque_ratio(torque) is None


@pytest.mark.parametrize("joint", ["", "  "])
def test_a_tightened_joint_has_a_name(joint: str) -> None:
    """A torque of no joint could be checked again by nobody."""
    with pytest.raises(EntryError):
        record_torque(session_of(), joint, "reached", "98 Nm")


# ---- hold test ----


def test_a_test_runs_from_its_start_to_its_end() -> None:
    """Between the two readings it is running, whoever asks and whenever the program was started."""
    start = read_gauge(session_of(), "both", "start", "30", NOW)
    begun = session_of(start)
    assert [reading.line for reading in running_tests(begun)] == ["both"]
    end = read_gauge(begun, "both", "end", "27", NOW + timedelta(hours=17))
    assert running_tests(session_of(start, end)) == ()


def test_the_time_a_test_has_run_is_told_across_a_night_and_a_change_of_offset() -> None:
    """17 hours are 17 hours, also where the clocks were put forward in between."""
    start = read_gauge(session_of(), "both", "start", "30", NOW)
    reading = known(find_leak_reading(session_of(start), "both", "start"))
    next_day = datetime.fromisoformat("2026-05-05T02:12:31-05:00")
    assert hours_since(reading, next_day) == pytest.approx(17.0)
    assert hours_since(reading, NOW - timedelta(minutes=5)) == 0.0


def test_a_start_read_again_begins_the_test_anew() -> None:
    """An end that belonged to another start does not count any more."""
    start = read_gauge(session_of(), "both", "start", "30", NOW)
    end = read_gauge(session_of(start), "both", "end", "29", NOW + timedelta(hours=1))
    again = read_gauge(session_of(start, end), "both", "start", "30", NOW + timedelta(hours=2))
    assert find_leak_reading(session_of(start, end, again), "both", "end") is None


def test_separate_lines_have_a_test_each() -> None:
    """Each side has its own gauge readings; with a tee there is one."""
    assert lines_to_test(session_of()) == ("both",)
    assert lines_to_test(session_of(SEPARATE)) == ("left", "right")


def test_an_end_without_a_start_is_refused() -> None:
    """There is nothing it could be compared with."""
    with pytest.raises(EntryError):
        read_gauge(session_of(), "both", "end", "30", NOW)


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
    """A joint under soapy water says what was seen."""
    joint = soap_joint("left bag", " at the stem ", bubbles=True)
    assert (joint.joint, joint.bubbles, joint.note) == ("left bag", True, "at the stem")
    with pytest.raises(EntryError):
        soap_joint(" ", bubbles=False)


# ---- marks ----


@pytest.mark.parametrize(("text", "inches"), [("2 below", -2.0), ("-2", -2.0), ("+1/2", 0.5), ("1.5 in above", 1.5)])
def test_a_wall_mark_is_read_with_its_side(text: str, inches: float) -> None:
    """Above is positive, below negative, in words or by sign."""
    assert read_mark(session_of(), ("loaded", 1), text).above_mm == pytest.approx(inches * 25.4)


def test_a_leveller_position_is_kept_as_it_stands_on_the_dial() -> None:
    """Dials have numbers, letters or pictures; nothing is made of them."""
    assert set_leveller(("fitted", 2), " 1 ").position == "1"
    with pytest.raises(EntryError):
        set_leveller(("fitted", 2), " ")


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
    with pytest.raises(EntryError):
        reopen(session_of(), "again")
    (reopened,) = reopen(closed, "sags again")
    assert reopened == JobReopened(reason="sags again")
