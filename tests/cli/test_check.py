"""`check`: every change of a file is reported, and what is beyond a check is said."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.assess import assess
from cornerwalk.report.handover import handed_over_figures
from cornerwalk.samples import sample_folder
from cornerwalk.session import fold
from cornerwalk.session.log import FIRST_CHAIN, chain_of
from cornerwalk.session.schema import event_from_json
from cornerwalk.standards import load_standards
from cornerwalk.store import Library
from cornerwalk.store.format import event_line, file_bytes
from tests.cli.calling import CAMPER, Said, run
from tests.support.clock import FrozenClock
from tests.support.jobs import half_done

COMPACT = sample_folder() / "half-done.json"


# ---- a forger ----


def forged(source: Path, change: Callable[[list[dict[str, Any]]], None], path: Path) -> Path:
    """The source with something changed in its events, and every chain computed anew."""
    document = json.loads(source.read_bytes())
    change(document["events"])
    path.write_bytes(file_bytes(document["id"], [event_line(event) for event in chained(document["events"])]))
    return path


def chained(events: Sequence[dict[str, Any]]) -> Sequence[dict[str, Any]]:
    before = FIRST_CHAIN
    for event in events:
        event.pop("chain")
        before = event["chain"] = chain_of(before, event)
    return events


def last_reading(events: list[dict[str, Any]], stage: str) -> dict[str, Any]:
    return next(event for event in reversed(events) if event["kind"] == "height read" and event["stage"] == stage)


def test_a_careless_forger_is_found_by_the_arithmetic(tmp_path: Path, capsys: Said) -> None:
    """The chain is right again, but the value no longer follows from its text."""
    path = forged(COMPACT, lambda events: last_reading(events, "loaded").update(entered="33"), tmp_path / "a.json")
    assert run("check", path) == 1
    assert 'mm is stored, but "33" is 838.2 mm' in capsys.readouterr().out


def test_a_forger_who_forgets_the_handover_is_found(tmp_path: Path, capsys: Said) -> None:
    """Text, value and chain are changed together, but the figures handed over no longer follow."""
    path = forged(
        CAMPER, lambda events: last_reading(events, "loaded").update(entered="33", mm=838.2), tmp_path / "a.json"
    )
    assert run("check", path) == 1
    assert "was handed over by this version, but" in capsys.readouterr().out
    assert run("check", "--explain", path) == 1
    assert "stage.loaded.1.rear_mm: " in capsys.readouterr().out


def test_a_thorough_forger_is_beyond_the_check(tmp_path: Path, capsys: Said) -> None:
    """Whoever changes text, value, figures and chain leaves a file that passes; the command says so beside it."""

    def change(events: list[dict[str, Any]]) -> None:
        last_reading(events, "loaded").update(entered="33", mm=838.2)
        (handover,) = [event for event in events if event["kind"] == "handed over"]
        before = [event_from_json(event | {"chain": "0" * 64}) for event in events[: events.index(handover)]]
        session = fold(before)
        handover["figures"] = handed_over_figures(session, assess(session, load_standards()))

    path = forged(CAMPER, change, tmp_path / "a.json")
    assert run("check", path) == 0
    said = capsys.readouterr()
    assert said.out.startswith(f"{path}: as it was written")
    assert "No proof against somebody who computes the chain anew" in said.err
    assert run("check", "--explain", path) == 0
    assert "leaves a file that passes" in " ".join(capsys.readouterr().out.split())


# ---- what is told ----


def test_a_line_a_file(tmp_path: Path, capsys: Said) -> None:
    """Whatever is found, each file has its one line, and the rest waits for --explain."""
    cut = tmp_path / "cut.json"
    cut.write_bytes(CAMPER.read_bytes()[:-400])
    assert run("check", cut, CAMPER, COMPACT) == 1
    lines = capsys.readouterr().out.splitlines()
    assert [line.partition(": ")[0] for line in lines] == [str(path) for path in (cut, CAMPER, COMPACT)]
    assert lines[0].startswith(f"{cut}: FAILS")


def test_what_the_library_has_seen_longer_fails(tmp_path: Path, capsys: Said) -> None:
    """Cut off neatly, a file passes by itself, and fails in the library that has listed it."""
    path = tmp_path / "camper.json"
    lines = CAMPER.read_text("utf-8").splitlines(keepends=True)
    cut = "".join(lines[:100]).rstrip().rstrip(",") + "\n]}\n"
    path.write_bytes(CAMPER.read_bytes())
    assert run("--library", tmp_path, "list") == 0
    path.write_text(cut, encoding="utf-8")
    capsys.readouterr()
    assert run("check", path) == 0
    assert run("--library", tmp_path, "check", "camper.json") == 1
    assert "it holds 99 events, and the list of the library has seen 135 in it" in capsys.readouterr().out


def test_a_clock_that_went_back_fails_nothing(tmp_path: Path, capsys: Said) -> None:
    """It stands in the line of a file that passes."""
    clock = FrozenClock()
    happened = [event.payload for event in half_done().events]
    with Library(tmp_path, clock=clock, by="MT").create(*happened[:3]) as session:
        clock.advance(hours=-1)
        session.record(*happened[3:])
    assert run("check", session.path) == 0
    (line,) = capsys.readouterr().out.splitlines()
    assert "as it was written" in line
    assert line.endswith("the clock went back by 3600 s before event 4")


def test_the_explanation_has_the_last_chain(capsys: Said) -> None:
    """It can be held against the one printed on a report."""
    assert run("check", "--explain", CAMPER) == 0
    said = capsys.readouterr()
    assert json.loads(CAMPER.read_bytes())["events"][-1]["chain"] in said.out
    assert said.err == ""


# ---- what was done to a file ----


def altered(change: Callable[[list[dict[str, Any]]], None], path: Path) -> Path:
    """The sample with something changed in its events, the chains left as they were."""
    document = json.loads(CAMPER.read_bytes())
    change(document["events"])
    path.write_bytes(file_bytes(document["id"], [event_line(event) for event in document["events"]]))
    return path


def test_a_changed_reading_is_told_with_corner_stage_text_and_value(tmp_path: Path, capsys: Said) -> None:
    """A height's value is changed and nothing else: the line says where, what was typed and what is stored."""
    path = altered(lambda events: last_reading(events, "loaded").update(mm=700.5), tmp_path / "a.json")
    reading = last_reading(json.loads(CAMPER.read_bytes())["events"], "loaded")
    assert run("check", "--explain", path) == 1
    said = capsys.readouterr().out
    assert f"event {reading['seq']} was changed after it was recorded" in said
    assert f"loaded, no air: {reading['entered']}" in said
    assert f'700.5 mm is stored, but "{reading["entered"]}" is {reading["mm"]}' in said


def test_a_missing_event_is_told(tmp_path: Path, capsys: Said) -> None:
    """By its number; the rest of the file is examined all the same."""

    def change(events: list[dict[str, Any]]) -> None:
        del events[20]
        events[60]["by"] = "nobody"

    assert run("check", "--explain", altered(change, tmp_path / "a.json")) == 1
    said = capsys.readouterr().out
    assert "event 21 is missing" in said
    assert "event 62 was changed" in said


def test_a_neat_cut_is_found_with_the_chain_of_a_paper(tmp_path: Path, capsys: Said) -> None:
    """The last chain, whole or as four groups of four: it must be in the file. A paper of before is no fault."""
    lines = CAMPER.read_text("utf-8").splitlines(keepends=True)
    cut = tmp_path / "cut.json"
    cut.write_text("".join(lines[:100]).rstrip().rstrip(",") + "\n]}\n", encoding="utf-8")
    events = json.loads(CAMPER.read_bytes())["events"]
    groups = " ".join(events[-1]["chain"][at : at + 4] for at in (0, 4, 8, 12))
    for chain in (groups, groups.upper(), events[-1]["chain"]):
        assert run("check", CAMPER, "--against", chain) == 0
        assert run("check", cut, "--against", chain) == 1
    assert "the paper names is not in it" in capsys.readouterr().out
    assert run("check", CAMPER, "--against", events[49]["chain"][:16]) == 0
    assert f"made after event 50; {len(events) - 50} more" in capsys.readouterr().out


@pytest.mark.parametrize("chain", ["7f3a", "xyz0 1234 5678", "", "0" * 65])
def test_what_is_no_chain_is_refused(chain: str, capsys: Said) -> None:
    """Too short to mean one event, or no hexadecimal."""
    assert run("check", CAMPER, "--against", chain) == 2
    assert "is no chain" in capsys.readouterr().err


def test_a_chain_belongs_to_one_file(capsys: Said) -> None:
    """Several files with one chain are a mistake."""
    assert run("check", CAMPER, COMPACT, "--against", "0" * 16) == 2
    assert "one file" in capsys.readouterr().err


# ---- many files ----


def test_a_folder_and_the_whole_library(sample_library: Path, capsys: Said) -> None:
    """A folder stands for its sessions; without a name, the library's are checked."""
    names = sorted(path.name for path in sample_library.glob("*.json"))
    assert run("check", sample_library) == 0
    lines = capsys.readouterr().out.splitlines()
    assert sorted(Path(line.partition(": ")[0]).name for line in lines) == names
    assert run("--library", sample_library, "check") == 0
    lines = capsys.readouterr().out.splitlines()
    assert sorted(line.partition(": ")[0] for line in lines) == names


def test_a_folder_without_a_session_is_told(tmp_path: Path, capsys: Said) -> None:
    """Nothing was checked: that is no success."""
    (tmp_path / "empty").mkdir()
    assert run("check", tmp_path / "empty") == 2
    assert "no session in it" in capsys.readouterr().err


def test_only_what_fails(sample_library: Path, capsys: Said) -> None:
    """`--quiet` says nothing where all is well, and one line where one file fails."""
    assert run("check", "--quiet", sample_library) == 0
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", "")
    altered(lambda events: events[3].update(by="nobody"), sample_library / "altered.json")
    assert run("check", "--quiet", sample_library) == 1
    (line,) = capsys.readouterr().out.splitlines()
    assert "altered.json: FAILS: event 4 was changed" in line


def test_as_json(tmp_path: Path, capsys: Said) -> None:
    """A list, a file an object, with what fails it and what is only told."""
    path = altered(lambda events: events[3].update(by="nobody"), tmp_path / "a.json")
    assert run("check", path, CAMPER, "--to", "json") == 1
    first, second = json.loads(capsys.readouterr().out)
    assert (first["file"], first["as_written"]) == (str(path), False)
    assert first["faults"][0].startswith("event 4 was changed")
    events = json.loads(CAMPER.read_bytes())["events"]
    assert (second["as_written"], second["faults"], second["events"]) == (True, [], len(events))
    assert second["last_chain"] == events[-1]["chain"]
