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
    """The same goes for the figures of a handover, where a truth value stays what it is, and for a list of values."""
    over = HandedOver(to="", figures={"rise_mm": 3, "rule": "none", "left": None, "flag": True}, program="")
    listed = FactStated(name="table.loads", entered="", value=[1, 2])
    figures, values = (event.payload for event in events_of(opened(), over, listed)[1:])
    assert repr(getattr(figures, "figures", None)) == "{'rise_mm': 3.0, 'rule': 'none', 'left': None, 'flag': True}"
    assert repr(getattr(values, "value", None)) == "[1.0, 2.0]"


@pytest.mark.parametrize("what", [note("\ud800"), read("LF", float("nan")), read("LF", float("inf"))])
def test_what_no_file_can_hold_is_not_chained(what: Event) -> None:
    """Half a character, NaN and infinities are refused before they are recorded."""
    with pytest.raises(ValueError, match=r"surrogates|JSON compliant"):
        record_event((), what, at=AT, by="MT")


def test_a_chain_depends_on_the_one_before() -> None:
    """The same event after another past has another chain."""
    assert chain_of("", {"seq": 1}) != chain_of("0" * 64, {"seq": 1})


A, B, OVER = note("a"), note("b"), HandedOver(to="", figures={}, program="")


@pytest.mark.parametrize(
    ("events", "counting"),
    [
        pytest.param((A, B, undone(3)), [1, 2], id="neither an undo nor what it takes back"),
        pytest.param((A, undone(2), undone(3)), [1, 2], id="an undo undone brings the event back"),
        pytest.param((undone(9), A, undone(40)), [1, 3], id="an undo of nothing, or of a later event"),
        pytest.param((OVER, undone(1), undone(2)), [1, 2], id="what lasts, whatever an undo put in by hand says"),
    ],
)
def test_what_counts(events: tuple[Event, ...], counting: list[int]) -> None:
    """An undo takes back the event that it names, if that came before and can be taken back."""
    assert [event.seq for event in active_events(events_of(opened(), *events))] == counting


@pytest.mark.parametrize(
    ("events", "undo", "redo"),
    [
        pytest.param((), None, None, id="nothing"),
        pytest.param((opened(), A, B, undone(3)), 2, 4, id="a second undo takes the event before"),
        pytest.param((opened(), A, undone(2), B), 4, None, id="anything new ends redo"),
        pytest.param((opened(), A, B, undone(3), undone(2), undone(5)), 2, 4, id="undos are redone, the last first"),
    ],
)
def test_what_can_be_taken_back_and_brought_back(events: tuple[Event, ...], undo: int | None, redo: int | None) -> None:
    """The latest event that counts, and the latest undo after which nothing else was recorded."""
    found = undoable(events_of(*events)), redoable(events_of(*events))
    assert [each and each.seq for each in found] == [undo, redo]


@pytest.mark.parametrize(
    "last", [opened(), HandedOver(to="", figures={}, program=""), JobReopened(reason="a follow-up")]
)
def test_what_lasts_is_not_taken_back(last: Event) -> None:
    """Opening, handing over and reopening stay on the record."""
    assert undoable(events_of(note("a"), last)) is None


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
