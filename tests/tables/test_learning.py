"""What is learned from a library, held against its files' bare JSON; what it costs, and what it is never taken for."""

from __future__ import annotations

import json
import math
import statistics
import subprocess
import sys
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.assess.estimate import Spread
from cornerwalk.quantity import BareUnit
from cornerwalk.store import read_session
from cornerwalk.tables import lessons as drawn
from cornerwalk.tables.hints import placing_fact, placing_lines, placing_of, placings
from cornerwalk.tables.lessons import CACHE, Lesson
from tests.support.jobs import WORKED_CASE, job_of, separate_lines, worked_case
from tests.support.many_sessions import TECHNICIANS
from tests.support.units import IN
from tests.tables.conftest import Shop
from tests.tables.shop import heights, plainly, stated, write_job
from tests.tables.taught import INCH, lesson, lessons

# ---- placing the tape ----


@pytest.fixture(scope="session")
def shop_lessons(shop: Shop) -> list[Lesson]:
    return lessons(shop.library)


def test_placing_is_pooled_over_all_repeats(shop: Shop, shop_lessons: list[Lesson]) -> None:
    """√(Σ(nᵢ − 1)sᵢ²/Σ(nᵢ − 1)) by `statistics`, over every corner that each technician read more than once."""
    groups: dict[str, list[list[float]]] = defaultdict(list)
    for document in plainly(shop.library).values():
        technician = stated(document, "job.technician") or document["events"][0]["by"]
        groups[technician] += [values for values in heights(document).values() if len(values) > 1]
    found = placings(shop_lessons)
    wanted = {name: values for name, values in groups.items() if values}
    assert {placing.technician for placing in found.values()} == set(wanted)
    for name, values in wanted.items():
        freedom = sum(len(group) - 1 for group in values)
        squares = sum((len(group) - 1) * statistics.variance(group) for group in values)
        placing = placing_of(shop_lessons, name)
        assert placing is not None
        assert placing.place_mm == pytest.approx(math.sqrt(squares / freedom), rel=1e-12)
        assert (placing.freedom, placing.corners) == (freedom, len(values))
        assert placing.u_place_mm == pytest.approx(placing.place_mm / math.sqrt(2 * freedom))


@pytest.mark.parametrize("technician", TECHNICIANS)
def test_what_the_readings_were_made_with_is_found_again(shop_lessons: list[Lesson], technician: str) -> None:
    """The generator's own standard deviation and the rounding to sixteenths, within five of the estimate's own u."""
    placing = placing_of(shop_lessons, technician)
    assert placing is not None
    true_mm = math.hypot(TECHNICIANS[technician], IN / 16 / math.sqrt(12))
    assert abs(placing.place_mm - true_mm) < 5 * true_mm / math.sqrt(2 * placing.freedom)
    assert placing.offered_mm == placing.place_mm


def test_a_name_is_one_however_it_is_written() -> None:
    """Capitals and spaces make no other technician; the name shown is the one written most."""
    taught = [
        lesson("a", technician="Ada  Tester", placing=Spread(0.3, 6), corners=6),
        lesson("b", technician="ada tester", placing=Spread(0.4, 8), corners=8),
        lesson("c", technician="ada tester"),
    ]
    (placing,) = placings(taught).values()
    assert placing.technician == "ada tester"
    assert placing.place_mm == pytest.approx(math.sqrt((6 * 0.09 + 8 * 0.16) / 14))
    assert (placing.freedom, placing.corners, placing.jobs) == (14, 14, 2)


@pytest.mark.parametrize(
    ("spread", "word"),
    [(Spread(0.3, 9), "too few"), (Spread(0.0, 40), "finer than this tape shows"), (Spread(0.3, 10), "may be taken")],
)
def test_a_figure_is_offered_only_when_it_is_one(spread: Spread, word: str) -> None:
    """Too few repeats, or none that differ, are no reason to change a setting, and the words say why."""
    placing = placing_of([lesson(placing=spread, corners=spread.freedom)], "mt")
    assert placing is not None
    assert (placing.offered_mm is not None) is (word == "may be taken")
    assert word in " ".join(placing_lines(placing, INCH))


def test_without_a_repeat_nothing_is_said() -> None:
    """One reading a corner shows nothing of how it was placed."""
    assert placing_of([lesson()], "MT") is None
    assert placings([]) == {}


@pytest.mark.parametrize(("unit", "entered", "mm"), [("inch", "0.029 in", 0.7366), ("mm", "0.74 mm", 0.74)])
def test_a_placing_is_taken_as_what_it_is(unit: BareUnit, entered: str, mm: float) -> None:
    """A fact in the job's own unit whose value follows from its text, and what it rests on beside it."""
    placing = placing_of([lesson(placing=Spread(0.7418, 24), corners=24), lesson("b")], "MT")
    assert placing is not None
    fact = placing_fact(placing, unit)
    assert (fact.name, fact.entered) == ("tape.place", entered)
    assert fact.value == pytest.approx(mm)
    assert fact.basis == "from own repeats: 24 corners read again in one job"
    few = placing_of([lesson(placing=Spread(0.7, 3), corners=3)], "MT")
    assert few is not None
    with pytest.raises(ValueError, match="no placing"):
        placing_fact(few, unit)


# ---- what is kept beside the library ----


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Callable[[], int]:
    """How many files were read since it was last asked."""
    read: list[Path] = []

    def counting(path: Path) -> Any:
        read.append(path)
        return read_session(path)

    monkeypatch.setattr(drawn, "read_session", counting)

    def since() -> int:
        count = len(read)
        read.clear()
        return count

    return since


def two_jobs(folder: Path) -> Path:
    write_job(folder, "2026-05-04-one-11111111", worked_case())
    other = job_of(WORKED_CASE.replace("INV 123", "INV 456").replace("invented kit", "other kit"))
    return write_job(folder, "2026-05-05-two-22222222", other)


def test_a_file_is_read_once(tmp_path: Path, counted: Callable[[], int]) -> None:
    """The second time nothing is read; a file that changed is, and one that is gone is forgotten."""
    second = two_jobs(tmp_path)
    first = lessons(tmp_path)
    assert counted() == 2
    assert lessons(tmp_path) == first
    assert counted() == 0
    second.unlink()
    write_job(tmp_path, "2026-05-05-two-22222222", separate_lines())
    assert {taught.kit for taught in lessons(tmp_path)} == {"invented kit", ""}
    assert counted() == 1
    (tmp_path / "2026-05-04-one-11111111.json").unlink()
    assert len(lessons(tmp_path)) == 1


def test_what_was_learned_until_it_was_left_is_kept(tmp_path: Path, counted: Callable[[], int]) -> None:
    """Leaving the page, or the program, costs nothing that was read."""
    two_jobs(tmp_path)

    def left(done: int, of: int) -> None:
        assert (done, of) == (1, 2)
        raise InterruptedError

    with pytest.raises(InterruptedError):
        lessons(tmp_path, left)
    assert counted() == 1
    assert len(lessons(tmp_path)) == 2
    assert counted() == 1


@pytest.mark.parametrize(
    "garbage",
    [
        b"",
        b"no JSON",
        b"[]",
        b"{}",
        b"\xff\xfe",
        b"[" * 100_000,
        b"%s",
        b"%s\n",
        b"%s\nno line of ours",
        b'%s\n["2026-05-04-one-11111111.json"]',
        b'%s\n["2026-05-04-one-11111111.json",1,2,3,{}]',
        b'%s\n["2026-05-04-one-11111111.json",1,2,3,{"session": 4}]',
        b'%s\n["2026-05-04-one-11111111.json",' + b"[" * 100_000,
    ],
)
def test_a_cache_that_is_none_is_made_anew(tmp_path: Path, garbage: bytes) -> None:
    """Whatever stands there, the answer is the same and the file is mended."""
    two_jobs(tmp_path)
    expected = lessons(tmp_path)
    cache = tmp_path / CACHE
    right = cache.read_bytes()
    head, *_ = right.split(b"\n")
    cache.write_bytes(garbage.replace(b"%s", head))
    assert lessons(tmp_path) == expected
    assert sorted(cache.read_bytes().split(b"\n")) == sorted(right.split(b"\n"))


def test_a_cache_of_another_program_is_not_believed(
    tmp_path: Path, counted: Callable[[], int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A newer program may reckon differently: it draws its own lessons."""
    two_jobs(tmp_path)
    lessons(tmp_path)
    counted()
    monkeypatch.setattr(drawn, "__version__", "9.9.9")
    lessons(tmp_path)
    assert counted() == 2


def test_a_library_that_cannot_be_written_teaches_all_the_same(tmp_path: Path) -> None:
    """The cache only saves time."""
    two_jobs(tmp_path)
    (tmp_path / CACHE).mkdir()
    assert len(lessons(tmp_path)) == 2
    assert (tmp_path / CACHE).is_dir()


def test_a_damaged_file_teaches_nothing(tmp_path: Path) -> None:
    """A changed reading must not move anybody's figures, and its file is not touched."""
    second = two_jobs(tmp_path)
    changed = second.read_bytes().replace(b"27 5/8", b"27 6/8")
    second.write_bytes(changed)
    (taught,) = lessons(tmp_path)
    assert taught.registration == "INV 123"
    assert second.read_bytes() == changed


def test_progress_is_told_while_files_are_read(tmp_path: Path) -> None:
    """The first time; once all is known there is nothing to wait for."""
    two_jobs(tmp_path)
    told: list[tuple[int, int]] = []
    lessons(tmp_path, lambda done, of: told.append((done, of)))
    assert told == [(1, 2), (2, 2)]
    lessons(tmp_path, lambda done, of: told.append((done, of)))
    assert told == [(1, 2), (2, 2)]


def test_learning_needs_no_table_engine() -> None:
    """It works where the extra is not installed, and loads nothing heavy."""
    ours = "cornerwalk.tables.earlier_jobs, cornerwalk.tables.earlier_jobs"
    program = f"import sys, json, {ours}; print(json.dumps(list(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    loaded = set(json.loads(done.stdout))
    assert not loaded & {"pyarrow", "duckdb", "dask", "distributed", "numpy", "pandas", "pint", "pydantic", "textual"}
