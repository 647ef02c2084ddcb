"""What was done to a file is told: each kind of tampering, at places drawn over every sample."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest

from cornerwalk.samples import sample_folder
from cornerwalk.session.log import FIRST_CHAIN, chain_of
from cornerwalk.store.check import check_file
from cornerwalk.store.format import event_line, file_bytes
from cornerwalk.store.tampering import find_tampering

SAMPLES = sorted(sample_folder().glob("*.json"))
Events = list[dict[str, Any]]


def events_of(sample: Path) -> Events:
    events: Events = json.loads(sample.read_bytes())["events"]
    return events


def told(events: Events) -> list[str]:
    return [each.template.format(**each.fields) for each in find_tampering(events)]


def places(events: Events, count: int = 12) -> list[int]:
    """Positions of events that have another before and after them."""
    return sorted(Random(7).sample(range(1, len(events) - 1), min(count, len(events) - 2)))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
class TestEachSample:
    """Every kind of tampering, on its own."""

    def test_what_is_intact_is_left_alone(self, sample: Path) -> None:
        """No finding in a file as it was written."""
        assert told(events_of(sample)) == []

    @pytest.mark.parametrize("name", ["at", "by", "kind"])
    def test_a_changed_field(self, sample: Path, name: str) -> None:
        """Exactly the event it stands in, and none after it."""
        for position in places(events_of(sample)):
            events = events_of(sample)
            events[position][name] = f"{events[position][name]}0"
            (line,) = told(events)
            assert line.startswith(f"event {position + 1} was changed after it was recorded")

    def test_a_changed_value_or_text(self, sample: Path) -> None:
        """A height's millimetres, and what was typed; the event is there to be shown."""
        heights = [at for at, event in enumerate(events_of(sample)) if event["kind"] == "height read"]
        for position in heights:
            for change in ({"mm": 700.5}, {"entered": "31 1/8"}):
                events = events_of(sample)
                events[position] |= change
                (found,) = find_tampering(events)
                assert found.template == "event {number} was changed after it was recorded"
                assert found.fields == {"number": position + 1}
                assert found.event is not None
                assert found.event.seq == position + 1

    def test_the_last_event_changed(self, sample: Path) -> None:
        """Nothing after it speaks against it, and it is found by its own chain."""
        events = events_of(sample)
        events[-1]["by"] = "nobody"
        (line,) = told(events)
        assert line == f"event {len(events)} was changed after it was recorded"

    def test_a_changed_chain(self, sample: Path) -> None:
        """The event is told from its chain: what was recorded is still there."""
        for position in places(events_of(sample)):
            events = events_of(sample)
            events[position]["chain"] = "0" * 64
            assert told(events) == [
                f"the chain of event {position + 1} was changed; the event itself is as it was recorded"
            ]

    def test_an_event_taken_out(self, sample: Path) -> None:
        """Its number is missing, and nothing else is accused."""
        for position in places(events_of(sample)):
            events = events_of(sample)
            del events[position]
            assert told(events) == [f"event {position + 1} is missing"]

    def test_several_taken_out(self, sample: Path) -> None:
        """A run of numbers is one finding."""
        for position in places(events_of(sample)):
            events = events_of(sample)
            if position + 3 < len(events):
                del events[position : position + 3]
                assert told(events) == [f"events {position + 1} to {position + 3} are missing"]

    def test_two_exchanged(self, sample: Path) -> None:
        """Moved, not changed: each still follows from the one before it by number."""
        for position in places(events_of(sample)):
            events = events_of(sample)
            events[position], events[position + 1] = events[position + 1], events[position]
            assert told(events) == [f"event {position + 1} was moved: it stands after event {position + 2}"]

    def test_one_written_twice(self, sample: Path) -> None:
        """The copy is told, not the original."""
        for position in places(events_of(sample)):
            events = events_of(sample)
            events.insert(position, dict(events[position]))
            assert told(events) == [f"event {position + 1} stands there a second time"]

    def test_two_far_apart_are_both_told(self, sample: Path) -> None:
        """The first break does not hide the next."""
        events = events_of(sample)
        first, last = 1, len(events) - 3
        events[first]["by"] = events[last]["by"] = "nobody"
        assert told(events) == [
            f"event {first + 1} was changed after it was recorded",
            f"event {last + 1} was changed after it was recorded",
        ]

    def test_an_event_that_is_none_any_more(self, sample: Path) -> None:
        """A field without which it cannot be read; the reason names it."""
        position = next(at for at, event in enumerate(events_of(sample)) if event["kind"] == "height read")
        events = events_of(sample)
        del events[position]["corner"]
        (line,) = told(events)
        assert line.startswith(f"event {position + 1} was changed after it was recorded, and is none any more")
        assert "corner" in line


@pytest.mark.slow
def test_honest_sessions_are_not_accused() -> None:
    """Ten thousand chains of events made here, by the rule of the format alone: not one finding."""
    chance = Random(11)
    for _ in range(10_000):
        events: Events = []
        before = FIRST_CHAIN
        for number in range(1, chance.randrange(2, 40)):
            event: dict[str, Any] = {"seq": number, "at": f"t{chance.random()}", "by": "MT", "kind": "note written"}
            event["text"] = "".join(chance.choices('ab ½\n"\\', k=chance.randrange(8)))
            before = event["chain"] = chain_of(before, event)
            events.append(event)
        assert find_tampering(events) == ()


def forged(path: Path, change: Callable[[Events], None]) -> Path:
    """A sample with its events changed, laid out as the program lays it out."""
    document = json.loads((sample_folder() / "camper.json").read_bytes())
    change(document["events"])
    path.write_bytes(file_bytes(document["id"], [event_line(event) for event in document["events"]]))
    return path


def test_a_check_names_what_was_done(tmp_path: Path) -> None:
    """Once: the general sentence about a damaged file is not added to it."""

    def change(events: Events) -> None:
        events[40]["by"] = "nobody"
        del events[60]

    check = check_file(forged(tmp_path / "a.json", change))
    assert [str(finding) for finding in check.findings if finding.level == "fault"] == [
        "event 41 was changed after it was recorded",
        "event 61 is missing",
    ]


def test_a_torn_file_is_told_as_far_as_it_goes(tmp_path: Path) -> None:
    """Cut in the middle of a line and changed before it: both are told."""
    path = forged(tmp_path / "a.json", lambda events: events[40].update(by="nobody"))
    path.write_bytes(path.read_bytes()[:-400])
    lines = [str(finding) for finding in check_file(path).findings]
    assert lines[0] == "event 41 was changed after it was recorded"
    assert any("cannot be read" in line or "not as it was written" in line for line in lines[1:])
