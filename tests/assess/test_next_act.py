"""Next act: what a foreman would name in each situation of a job, and that it can always be named and passed."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from cornerwalk.assess import assess
from cornerwalk.assess.next_act import GATES, NextAct, next_act, open_gates, pass_over
from cornerwalk.session import Session, fold, record_event
from cornerwalk.session.events import Event
from cornerwalk.session.log import RecordedEvent
from cornerwalk.session.walk import EntryError
from tests.assess.job_so_far import DRIVEN, HEIGHTS, LISTS, PSI_KPA, Events, gauge, given
from tests.assess.situations import SITUATIONS, Situation
from tests.support.jobs import NOW, standards


def act_after(*events: Event) -> NextAct:
    recorded: list[RecordedEvent] = []
    for minute, what in enumerate(events):
        recorded.append(record_event(recorded, what, at=(NOW + timedelta(minutes=minute)).isoformat(), by="MT"))
    session = fold(recorded)
    return next_act(session, assess(session, standards()), LISTS)


def test_there_are_at_least_eighty() -> None:
    """No two of them have the same name."""
    assert len({situation.name for situation in SITUATIONS}) == len(SITUATIONS) >= 80


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda situation: situation.name)
def test_the_act_is_the_one_a_foreman_would_name(situation: Situation) -> None:
    """Common practice, no source: the reason stands beside each."""
    act = act_after(*situation.events)
    assert act.code == situation.act, situation.why
    for name, expected in situation.about.items():
        match name:
            case "psi":
                assert act.pressure_kPa == pytest.approx(expected * PSI_KPA)  # type: ignore[operator]
            case "finding":
                assert act.finding is not None
                assert act.finding.code == expected
            case _:
                assert getattr(act, name) == expected, situation.why


def test_a_hold_test_waits_a_day_and_then_does_not() -> None:
    """17 h after its start 7 are left of 24; after a day the gauge is read. Arithmetic."""
    act = act_after(*DRIVEN, gauge("start"))
    evening = datetime.fromisoformat("2026-05-04T16:00:00-06:00")
    morning, next_day = evening + timedelta(hours=17), evening + timedelta(hours=24)
    assert act.hours_waited(morning) == pytest.approx(17)
    assert act.hours_left(morning) == pytest.approx(7)
    assert act.waits(morning)
    assert not act.waits(next_day)


def test_the_first_gauge_reading_waits_for_the_air_to_cool() -> None:
    """15 minutes after the last air went in, and no wait where the times are not known."""
    act = act_after(*DRIVEN)
    began = next(i for i, e in enumerate(DRIVEN) if e.kind == "stage begun" and e.stage == "road-test")  # type: ignore[union-attr]
    last_air = NOW + timedelta(minutes=began)
    assert act.waits(last_air + timedelta(minutes=14))
    assert not act.waits(last_air + timedelta(minutes=15))
    assert not NextAct(code="hand-over", chapter="handover").waits(last_air)


def test_a_gate_that_is_passed_over_stays_open() -> None:
    """It is due no more, and named among the open ones until it is answered."""
    passed = (*HEIGHTS, pass_over(act_after(*HEIGHTS), "dealer looks on Monday"))
    assert act_after(*passed).code == "state-kit-limits"
    assert "answer-brake-valve" in open_gates(_session(passed))
    assert "answer-brake-valve" not in open_gates(_session((*passed, given("brake-valve", "no"))))


def test_passing_over_takes_a_reason() -> None:
    """An empty one is refused, and so is passing over a stop or a gauge."""
    with pytest.raises(EntryError, match="needs a reason"):
        pass_over(act_after(*HEIGHTS), "  ")
    with pytest.raises(EntryError, match="cannot be passed"):
        pass_over(act_after(*HEIGHTS, given("brake-valve", "yes")), "in a hurry")


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda situation: situation.name)
def test_whatever_is_passed_over_is_not_named_again(situation: Situation) -> None:
    """Nobody is held at an act that has a reason against it."""
    act = act_after(*situation.events)
    try:
        passed = pass_over(act, "the customer is waiting")
    except EntryError:
        return
    assert act_after(*situation.events, passed) != act


def test_a_load_check_has_no_gates() -> None:
    """No air, no wheels off."""
    assert open_gates(_session(HEIGHTS)) == GATES
    assert open_gates(_session(SITUATIONS[2].events)) == ()


def _session(events: Events) -> Session:
    recorded: list[RecordedEvent] = []
    for what in events:
        recorded.append(record_event(recorded, what, at=NOW.isoformat(), by="MT"))
    return fold(recorded)
