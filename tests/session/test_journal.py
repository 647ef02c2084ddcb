from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.session.events import (
    EVENT_TYPES,
    EVENTS,
    Event,
    FactStated,
    HandedOver,
    HeightRead,
    JobReopened,
    NoteWritten,
    Undone,
)
from cornerwalk.session.log import (
    FIRST_CHAIN,
    active_events,
    chain_of,
    event_body,
    event_to_json,
    record_event,
    redoable,
    undoable,
)
from tests.session.support import AT, any_event, any_job, events_of, opened, read
from tests.support.known import known

ENVELOPE = {"seq", "at", "by", "kind", "chain"}


def note(text: str = "a note") -> NoteWritten:
    return NoteWritten(text=text)


def undone(seq: int) -> Undone:
    return Undone(undoes=seq)


@pytest.mark.parametrize("cls", EVENTS)
def test_no_field_hides_the_events_own(cls: type[Event]) -> None:
    """An event has no field named as one that every event has: in the file they are keys of one object."""
    assert not ENVELOPE & {field.name for field in fields(cls)}


def test_every_kind_has_its_own_words() -> None:
    """A kind in a file names one class."""
    assert len(EVENT_TYPES) == len(EVENTS)


@given(any_job)
def test_events_are_numbered_and_chained_from_the_first_on(job: Sequence[Event]) -> None:
    """Each event has the next number, and a chain over the one before it and its own canonical form."""
    events = events_of(*job)
    assert [event.seq for event in events] == list(range(1, len(job) + 1))
    before = FIRST_CHAIN
    for event in events:
        body = event_to_json(event)
        del body["chain"]
        # Computed here from the definition: JSON, keys sorted, no spaces, UTF-8.
        text = before + json.dumps(body, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
        assert event.chain == hashlib.sha256(text.encode()).hexdigest()
        before = event.chain


@given(any_event)
def test_a_plain_event_is_json_and_says_its_kind_first(what: Event) -> None:
    """The file form holds JSON values only, and begins with the kind."""
    plain = event_body(what)
    assert next(iter(plain)) == "kind"
    assert json.loads(json.dumps(plain)) == plain


def test_defaults_are_left_out() -> None:
    """A field at its default takes no room, so that a later version can add one without breaking old chains."""
    assert set(event_body(read("LF"))) == {"kind", "stage", "corner", "entered", "mm"}
    assert event_body(read("LF", how="repeat"))["how"] == "repeat"


@given(st.integers(-(10**9), 10**9))
def test_a_whole_number_is_recorded_as_it_is_read_back(number: int) -> None:
    """An integer in place of a float gives the event that the float gives, chain and all."""
    given_int = HeightRead(stage="loaded", corner="RR", entered="", mm=number)
    assert events_of(opened(), given_int) == events_of(opened(), replace(given_int, mm=float(number)))


def test_whole_numbers_deep_inside_are_floats_too() -> None:
    """The same goes for the figures of a handover; a truth value stays what it is."""
    what = HandedOver(to="", figures={"rise_mm": 3, "rule": "none", "left": None, "flag": True}, program="")
    recorded_as = events_of(opened(), what)[1].payload
    assert isinstance(recorded_as, HandedOver)
    assert repr(recorded_as.figures) == "{'rise_mm': 3.0, 'rule': 'none', 'left': None, 'flag': True}"


def test_whole_numbers_in_a_list_are_floats_too() -> None:
    """So are those of a fact with several values."""
    what = events_of(opened(), FactStated(name="table.loads", entered="", value=[1, 2]))[1].payload
    assert isinstance(what, FactStated)
    assert repr(what.value) == "[1.0, 2.0]"


@pytest.mark.parametrize("what", [note("\ud800"), read("LF", float("nan")), read("LF", float("inf"))])
def test_what_no_file_can_hold_is_not_chained(what: Event) -> None:
    """Half a character, NaN and infinities are refused before they are recorded."""
    with pytest.raises(ValueError, match=r"surrogates|JSON compliant"):
        record_event((), what, at=AT, by="MT")


def test_a_chain_depends_on_the_one_before() -> None:
    """The same event after another past has another chain."""
    assert chain_of("", {"seq": 1}) != chain_of("0" * 64, {"seq": 1})


def test_an_undo_and_what_it_takes_back_do_not_count() -> None:
    """What is undone is left out, and so is the undo itself."""
    events = events_of(opened(), note("a"), note("b"), undone(3))
    assert [event.seq for event in active_events(events)] == [1, 2]


def test_an_undo_of_an_undo_brings_the_event_back() -> None:
    """Undoing an undo counts the earlier event again."""
    events = events_of(opened(), note("a"), undone(2), undone(3))
    assert [event.seq for event in active_events(events)] == [1, 2]


def test_an_undo_of_nothing_changes_nothing() -> None:
    """An undo that names no event, or a later one, takes nothing back."""
    events = events_of(opened(), undone(9), note("a"), undone(40))
    assert [event.seq for event in active_events(events)] == [1, 3]


@pytest.mark.parametrize(
    "last", [opened(), HandedOver(to="", figures={}, program=""), JobReopened(reason="a follow-up")]
)
def test_what_lasts_is_not_taken_back(last: Event) -> None:
    """Opening, handing over and reopening stay on the record."""
    assert undoable(events_of(note("a"), last)) is None


def test_what_lasts_counts_whatever_an_undo_says() -> None:
    """An undo put into a file by hand takes back neither the opening nor a handover."""
    over = HandedOver(to="", figures={}, program="")
    assert [event.seq for event in active_events(events_of(opened(), over, undone(1), undone(2)))] == [1, 2]


def test_nothing_can_be_taken_back_of_nothing() -> None:
    """Without an event there is neither undo nor redo."""
    assert undoable(()) is None
    assert redoable(()) is None


def test_what_an_undo_took_is_not_taken_again() -> None:
    """A second undo takes the event before."""
    events = events_of(opened(), note("a"), note("b"), undone(3))
    latest = known(undoable(events))
    assert latest.seq == 2


def test_anything_new_ends_redo() -> None:
    """Once something else was recorded, an undo stays."""
    assert redoable(events_of(opened(), note("a"), undone(2), note("b"))) is None


def test_after_a_redo_the_undo_before_it_can_be_redone() -> None:
    """Two undos are redone one after the other, the last first."""
    events = events_of(opened(), note("a"), note("b"), undone(3), undone(2), undone(5))
    next_one = known(redoable(events))
    assert next_one.seq == 4


@given(st.lists(st.sampled_from(["record", "undo", "redo"]), max_size=30))
def test_undo_and_redo_are_those_of_every_editor(steps: list[str]) -> None:
    """Against a pile of what is done and a pile of what was undone: the same counts, can be undone and redone."""
    events = list(events_of(opened()))
    done: list[int] = []
    taken: list[int] = []
    for step in steps:
        if step == "record":
            events.append(record_event(events, note(), at=AT, by="MT"))
            done.append(events[-1].seq)
            taken.clear()
        elif step == "undo" and done:
            latest = known(undoable(events))
            assert latest.seq == done[-1]
            events.append(record_event(events, Undone(undoes=latest.seq), at=AT, by="MT"))
            taken.append(done.pop())
        elif step == "redo" and taken:
            undo = known(redoable(events))
            events.append(record_event(events, Undone(undoes=undo.seq), at=AT, by="MT"))
            done.append(taken.pop())
        assert [event.seq for event in active_events(events)] == [1, *done]
        assert (undoable(events) is None) == (not done)
        assert (redoable(events) is None) == (not taken)
