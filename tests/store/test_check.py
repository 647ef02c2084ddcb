from __future__ import annotations

import json
from pathlib import Path

import pytest

from cornerwalk.samples import sample_folder
from cornerwalk.session.events import HandedOver, JobOpened, JobReopened, Undone
from cornerwalk.session.log import FIRST_CHAIN, chain_of
from cornerwalk.store import Library
from cornerwalk.store.check import check_file
from tests.store.support import QuickDisk, library, note, opened, read
from tests.support.clock import FrozenClock

SAMPLES = ("camper", "front-stays-up", "half-done", "misread-corner")
PARTS = 4
"""Into how many tests the characters of a sample are divided, so that several processors share them."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    handed_over = HandedOver(to="customer", figures={"rear_mm": -1.5, "rule": "none", "left_mm": None}, program="0.1.0")
    with library(tmp_path).create(opened(), read("LF"), note("½ in"), Undone(undoes=3), handed_over) as session:
        pass
    return session.path


def test_a_file_as_written_is_right(path: Path) -> None:
    """Nothing is found in a file that this program wrote."""
    check = check_file(path)
    assert check.ok
    assert check.findings == ()
    assert check.stored is not None
    assert len(check.stored.events) == 5


def test_every_change_of_a_single_character_is_found(path: Path) -> None:
    """At every position of the file, another character: not one passes. All of them, not a sample."""
    text = path.read_text()
    passed = []
    for position, was in enumerate(text):
        for other in ("7", "\t", "½"):
            if other == was:
                continue
            path.write_text(text[:position] + other + text[position + 1 :])
            if check_file(path).ok:
                passed.append((position, was, other))
    assert passed == []


@pytest.mark.slow
@pytest.mark.parametrize("part", range(PARTS))
@pytest.mark.parametrize("name", SAMPLES)
def test_every_change_of_a_single_character_of_a_sample_is_found(name: str, part: int, tmp_path: Path) -> None:
    """At every position of every sample, another character of the same kind, so that most files stay JSON."""
    text = (sample_folder() / f"{name}.json").read_text("utf-8")
    path = tmp_path / "changed.json"
    passed = []
    for position in range(part, len(text), PARTS):
        path.write_text(text[:position] + another(text[position]) + text[position + 1 :], encoding="utf-8")
        if check_file(path).ok:
            passed.append(position)
    assert passed == []


def another(character: str) -> str:
    """A digit for a digit, a letter for a letter, a space for whatever else."""
    if character.isdigit():
        return str((int(character) + 1) % 10)
    if character.isalpha():
        return "b" if character in "aA" else "a"
    return "\n" if character == " " else " "


def test_every_removed_or_doubled_character_is_found(path: Path) -> None:
    """The same for a character that is missing or stands twice."""
    text = path.read_text()
    for position, was in enumerate(text):
        for changed in (text[:position] + text[position + 1 :], text[:position] + was + text[position:]):
            if changed != text:
                path.write_text(changed)
                assert not check_file(path).ok, (position, was)


def test_what_stands_after_the_damage_is_examined(path: Path) -> None:
    """The first fault does not hide the second; lines that are no events are counted."""
    whole = path.read_bytes()
    path.write_bytes(whole.replace(b'"LF"', b'"RF"').replace(b'"customer"', b'"nobody"'))
    assert [str(finding) for finding in check_file(path).findings] == [
        "event 2 was changed after it was recorded",
        "event 5 was changed after it was recorded",
    ]
    path.write_bytes(whole.replace(b'{"seq": 3', b'{"seq" 3'))
    assert [finding.level for finding in check_file(path).findings] == ["fault", "remark"]
    assert "3 lines" in str(check_file(path).findings[1])


def test_a_clock_that_went_back_is_remarked_on(tmp_path: Path) -> None:
    """It may be summer time or a flat battery: no fault, but a reader should know. Offsets are taken into account."""
    clock = FrozenClock()
    with Library(tmp_path, clock=clock, by="MT", disk=QuickDisk()).create(opened()) as session:
        clock.advance(seconds=-90)
        session.record(note())
        clock.advance(hours=1)
        session.record(note())
    check = check_file(session.path)
    assert check.ok
    assert [str(finding) for finding in check.findings] == ["the clock went back by 90 s before event 2"]


def test_an_undo_of_what_is_still_to_come_is_a_fault(tmp_path: Path) -> None:
    """An event can be taken back only once it is there."""
    with library(tmp_path).create(opened(), Undone(undoes=2), Undone(undoes=3), note()) as session:
        pass
    faults = [str(finding) for finding in check_file(session.path).findings]
    assert faults == [
        "event 2 takes back event 2, which does not come before it",
        "event 3 takes back event 3, which does not come before it",
    ]


def cut_neatly(path: Path, events: int) -> None:
    """The file as it was after so many events: whole in itself."""
    lines = path.read_text().splitlines(keepends=True)
    path.write_text("".join(lines[: events + 1]).rstrip().rstrip(",") + "\n]}\n")


def test_events_cut_off_neatly_show_in_the_library_alone(path: Path) -> None:
    """The file itself is whole; the list that has seen it longer knows better, and goes on knowing."""
    shelf = library(path.parent)
    assert shelf.had_events([path]) == {}
    shelf.summaries()
    assert shelf.had_events([path]) == {path: 5}
    cut_neatly(path, 3)
    assert check_file(path).ok
    for _ in range(2):
        (finding,) = check_file(path, had_events=shelf.had_events([path]).get(path, 0)).findings
        assert finding.level == "fault"
        assert "it holds 3 events, and the list of the library has seen 5 in it" in str(finding)
        shelf.summaries()
    (path.parent / ".index.json").unlink()
    assert check_file(path, had_events=shelf.had_events([path]).get(path, 0)).ok


def test_a_file_that_grew_is_as_it_was_written(path: Path) -> None:
    """More events than the list has seen are how a session goes."""
    shelf = library(path.parent)
    shelf.summaries()
    with shelf.open(path) as session:
        session.record(JobReopened(reason="follow-up"))
    assert check_file(path, had_events=shelf.had_events([path]).get(path, 0)).ok
    shelf.summaries()
    assert shelf.had_events([path]) == {path: 6}


def test_another_session_of_the_name_is_not_measured_by_it(path: Path, tmp_path: Path) -> None:
    """What was seen in a file holds for its session only; a damaged one is still the one it was."""
    shelf = library(path.parent)
    shelf.summaries()
    whole = path.read_bytes()
    path.write_bytes(whole[:-300])
    shelf.summaries()
    assert shelf.had_events([path]) == {path: 5}
    another_job = JobOpened(session="another", job="fit", title="Another (invented)", program="0.1.0")
    other = library(tmp_path / "other").create(another_job)
    other.close()
    path.write_bytes(other.path.read_bytes())
    shelf.summaries()
    assert shelf.had_events([path]) == {path: 1}


def test_a_file_from_elsewhere_is_not_looked_up(path: Path, tmp_path: Path) -> None:
    """The list of one library says nothing of a file in another folder."""
    shelf = library(path.parent)
    shelf.summaries()
    assert library(tmp_path / "other").had_events([path]) == {}


def test_a_file_chained_anew_by_a_forger_is_beyond_the_check(path: Path) -> None:
    """The chain is no proof against somebody who computes it: the documentation says so, and here is why."""
    document = json.loads(path.read_bytes())
    document["events"][1] |= {"entered": "705.0 mm", "mm": 705.0}
    before = FIRST_CHAIN
    for event in document["events"]:
        event.pop("chain")
        before = event["chain"] = chain_of(before, event)
    forged = library(path.parent / "forged").create(opened(), read("LF", 705.0))
    forged.close()
    assert check_file(forged.path).ok
    lines = path.read_text().splitlines(keepends=True)
    text = lines[0] + ",\n".join(json.dumps(event, ensure_ascii=False) for event in document["events"]) + "\n]}\n"
    path.write_text(text)
    assert check_file(path).ok
