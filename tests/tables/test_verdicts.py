"""The verdicts of a library: right, remembered, and never believed when a file or a limit has changed."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from cornerwalk.assess import assess
from cornerwalk.samples import sample_folder
from cornerwalk.session.events import HeightRead
from cornerwalk.standards import Standards, load_standards
from cornerwalk.store import Library
from cornerwalk.tables import verdicts as module
from cornerwalk.tables.verdicts import CACHE, Verdicts, fingerprint
from tests.support.clock import FrozenClock

NAMES = ("camper", "front-stays-up", "misread-corner", "half-done")


@pytest.fixture
def library(tmp_path: Path) -> Library:
    for name in NAMES:
        shutil.copy(sample_folder() / f"{name}.json", tmp_path)
    return Library(tmp_path, clock=FrozenClock(), by="MT")


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Grows with every session that is computed."""
    computed: list[int] = []

    def counting(*arguments: object) -> object:
        computed.append(1)
        return assess(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(module, "assess", counting)
    return computed


def of(library: Library, standards: Standards | None = None) -> dict[str, str]:
    verdicts = Verdicts(library, standards or load_standards())
    found = {name: verdicts.of(library.folder / f"{name}.json") for name in NAMES}
    verdicts.save()
    return dict(found)


def test_they_are_what_assess_says(library: Library) -> None:
    """Computed or remembered, each is the overall verdict of its session."""
    right = {
        name: assess(library.read(library.folder / f"{name}.json").session, load_standards()).overall for name in NAMES
    }
    assert of(library) == right
    assert of(library) == right
    assert len(set(right.values())) > 1


def test_what_is_remembered_is_not_computed_again(library: Library, counted: list[int]) -> None:
    """Not even by another program later."""
    of(library)
    assert len(counted) == len(NAMES)
    of(library)
    assert len(counted) == len(NAMES)
    remembered = Verdicts(library, load_standards())
    assert remembered.cached(library.folder / "camper.json") is not None
    assert len(counted) == len(NAMES)


def test_a_session_that_was_gone_on_with_is_judged_anew(library: Library) -> None:
    """A row counts only while its file is unchanged."""
    path = library.folder / "misread-corner.json"
    before = of(library)["misread-corner"]
    with library.open(path) as session:
        readings = [("RR", 728.0)]
        session.record(
            *(
                HeightRead(stage="loaded", corner="RR", entered=f"{mm:g}", mm=mm, how="instead")
                for _corner, mm in readings
            )
        )
    assert Verdicts(library, load_standards()).cached(path) is None
    right = assess(library.read(path).session, load_standards()).overall
    assert of(library)["misread-corner"] == right
    assert before == "fail"


def test_other_limits_judge_anew(library: Library, tmp_path: Path, counted: list[int]) -> None:
    """A verdict belongs to the limits it was computed by: a shop's new rule throws all of them away."""
    of(library)
    rules = tmp_path / "rules"
    rules.mkdir()
    (rules / "ours.toml").write_text(
        '[[aim_rule]]\nid = "shop-2in"\ntitle = "Ours"\nsource = "invented"\nstanding = "own"\ndatum = "lamp centre"\n'
        'nominal = "0.4 deg down"\ndistance = "25 ft"\ndeviation = "2 in"\n'
    )
    own = load_standards(rules)
    assert fingerprint(own) != fingerprint(load_standards())
    assert fingerprint(load_standards()) == fingerprint(load_standards())
    of(library, own)
    assert len(counted) == 2 * len(NAMES)


@pytest.mark.parametrize(
    "spoil",
    [
        lambda path: path.write_bytes(b""),
        lambda path: path.write_bytes(b"\x00\xff" * 100),
        lambda path: path.write_text("[]"),
        lambda path: path.write_text(path.read_text().replace('"fail"', '"splendid"')),
        lambda path: path.write_text(path.read_text().replace("cornerwalk verdicts 2", "cornerwalk verdicts 3")),
        lambda path: path.write_text(path.read_text().split("\n")[0] + '\n["camper.json",1]'),
        lambda path: path.unlink(),
    ],
)
def test_a_spoilt_memory_is_thrown_away(library: Library, spoil: Callable[[Path], object]) -> None:
    """It only saves time: whatever stands in it, the verdicts are right."""
    right = of(library)
    spoil(library.folder / CACHE)
    assert of(library) == right


def test_what_cannot_be_read_says_so(library: Library) -> None:
    """A damaged file, a missing one, something else: unreadable, never an error."""
    (library.folder / "cut.json").write_bytes((library.folder / "camper.json").read_bytes()[:-300])
    (library.folder / "other.json").write_text("{}")
    verdicts = Verdicts(library, load_standards())
    assert [verdicts.of(library.folder / name) for name in ("cut.json", "other.json", "none.json", "a\0b")] == [
        "unreadable"
    ] * 4
    verdicts.save()


def test_a_library_that_cannot_be_written_has_verdicts(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """They are only not remembered."""

    def full(*_arguments: object, **_named: object) -> None:
        raise OSError(28, "no space left")

    monkeypatch.setattr("cornerwalk.store.cache.write_unsynced", full)
    assert set(of(library)) == set(NAMES)
    assert not (library.folder / CACHE).exists()


def test_sessions_that_went_are_forgotten(library: Library) -> None:
    """The memory does not grow for ever."""
    of(library)
    (library.folder / "camper.json").unlink()
    with library.open(library.folder / "half-done.json") as session:
        session.record(HeightRead(stage="fitted", corner="RR", entered="32", mm=812.8))
    verdicts = Verdicts(library, load_standards())
    verdicts.of(library.folder / "half-done.json")
    verdicts.save()
    _, *lines = (library.folder / CACHE).read_text().split("\n")
    assert {json.loads(line)[0] for line in lines} == {f"{name}.json" for name in NAMES if name != "camper"}


def test_the_memory_is_no_session(library: Library) -> None:
    """The list of the library does not show it."""
    of(library)
    assert {summary.path.stem for summary in library.summaries()} == set(NAMES)
