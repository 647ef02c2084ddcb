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

from cornerwalk.assess.uncertainty import Estimate, Spread
from cornerwalk.fleet import lessons as drawn
from cornerwalk.fleet.hint_words import hint_lines, placing_lines
from cornerwalk.fleet.learning import Hint, hint_for, learn, learn_about, placing_of, placings
from cornerwalk.fleet.lessons import CACHE, Air, Lesson
from cornerwalk.report.wording import Wording
from cornerwalk.store import Library
from cornerwalk.store.stored import stored_session
from tests.fleet.conftest import Shop
from tests.fleet.shop import heights, plainly, stated, write_job
from tests.support.clock import FrozenClock
from tests.support.jobs import WORKED_CASE, job_of, separate_lines, standards, worked_case
from tests.support.many_sessions import INCH_MM, TECHNICIANS

INCH = Wording.for_tape("inch", 25.4 / 16)
PSI = 6.894757293168361


def library(folder: Path) -> Library:
    return Library(folder, clock=FrozenClock(), by="MT")


def lessons(folder: Path) -> list[Lesson]:
    return learn(library(folder), standards())


def lesson(
    session: str = "a",
    *,
    opened_at: str = "2026-05-04T08:00:00-06:00",
    technician: str = "MT",
    vehicle: str = "van",
    registration: str = "",
    kit: str = "kit A",
    placing: Spread | None = None,
    corners: int = 0,
    slope: Estimate | None = None,
    rate: Estimate | None = None,
    began: float | None = None,
    left: float | None = None,
) -> Lesson:
    """A lesson by hand."""
    return Lesson(
        session=session,
        opened_at=opened_at,
        technician=technician,
        vehicle=vehicle,
        registration=registration,
        kit=kit,
        corners_repeated=corners,
        placing_mm=placing,
        slopes={} if slope is None else {"rear": slope},
        ride_rate=rate,
        began=None if began is None else Air(began, None, None),
        left=None if left is None else Air(left, None, None),
    )


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
    true_mm = math.hypot(TECHNICIANS[technician], INCH_MM / 16 / math.sqrt(12))
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


# ---- hints ----

BEFORE = [
    lesson("old", opened_at="2025-03-01T08:00:00-07:00", registration="INV 123", slope=Estimate(0.16, 0.01),
           rate=Estimate(60.0, 2.0), began=100.0, left=150.0),
    lesson("new", opened_at="2026-05-04T08:00:00-06:00", registration="inv-123", slope=Estimate(0.18, 0.02),
           rate=Estimate(66.0, 3.0), began=20 * PSI, left=27 * PSI),
    lesson("van 2", registration="INV 999", slope=Estimate(0.11, 0.01), began=70.0),
    lesson("no plate", vehicle="Van", kit="kit B", slope=Estimate(0.2, 0.01), rate=Estimate(40.0, 1.0), began=50.0),
]  # fmt: skip


def hinted(**what: str) -> Hint:
    found = hint_for(BEFORE, **what)
    assert found is not None
    return found


def test_a_known_registration_says_what_was_last_time() -> None:
    """However it is written; the last job's figure and day, and all of them weighed by how sure they are."""
    hint = hinted(registration="Inv123", vehicle="something else", kit="KIT A")
    assert (hint.by, hint.jobs, hint.last_on, hint.air_on) == ("registration", 2, "2026-05-04", "2026-05-04")
    assert (hint.began, hint.left) == (Air(20 * PSI, None, None), Air(27 * PSI, None, None))
    slope = hint.slopes["rear"]
    assert (slope.last, slope.last_on) == (Estimate(0.18, 0.02), "2026-05-04")
    assert slope.all.count == 2
    assert slope.all.mean.value == pytest.approx((4 * 0.16 + 0.18) / 5)
    assert slope.all.spread == pytest.approx(0.02 / math.sqrt(2))
    assert hint.ride_rate is not None
    assert hint.ride_rate.last == Estimate(66.0, 3.0)


def test_another_registration_is_another_vehicle() -> None:
    """The same description does not make it the same van; only the kit is left to go by."""
    hint = hinted(registration="NEW 1", vehicle="van", kit="kit A")
    assert hint.by == "kit"
    assert hint.ride_rate is None
    assert hint.slopes["rear"].all.count == 3
    assert hint_for(BEFORE, registration="NEW 1", vehicle="van", kit="kit X") is None


def test_a_description_goes_where_there_is_no_registration() -> None:
    """On both sides: a van that has a registration is not the one without."""
    hint = hinted(vehicle=" VAN ")
    assert (hint.by, hint.jobs) == ("description", 1)
    assert hint.began == Air(50.0, None, None)


def test_slopes_are_of_the_same_kit_and_rates_of_the_vehicle() -> None:
    """Another kit on the same vehicle says nothing of the new one's slope, but the vehicle's springs are the same."""
    hint = hinted(registration="INV 123", kit="kit B")
    assert hint.slopes == {}
    assert (hint.began, hint.air_on) == (None, "")
    assert hint.ride_rate is not None


def test_the_new_job_is_no_hint_to_itself() -> None:
    """Its own trials are readings, and are shown as such."""
    hint = hint_for(BEFORE, registration="INV 123", kit="kit A", but_not="new")
    assert hint is not None
    assert (hint.jobs, hint.last_on) == (1, "2025-03-01")
    assert hint.slopes["rear"].all.spread is None


@pytest.mark.parametrize("what", [{}, {"vehicle": "  "}, {"registration": " - "}, {"kit": "kit"}])
def test_nothing_known_is_no_hint(what: dict[str, str]) -> None:
    """A new vehicle, or one that nobody described."""
    assert hint_for(BEFORE, **what) is None
    assert hint_for([], registration="INV 123", kit="kit A") is None


def test_a_hint_is_told_as_one() -> None:
    """Last time and its spread, in the units asked for, and that nothing of it was read today."""
    lines = hint_lines(hinted(registration="INV 123", kit="kit A"), INCH)
    assert lines[0] == "last time on this vehicle, 2026-05-04: began at 20 psi, left at 27 psi"
    assert "0.049 in/psi ± 0.011 last time" in lines[1]
    assert "over 2 jobs, which scatter by" in lines[1]
    assert lines[-1] == "This is a hint from earlier jobs; nothing of it was read today."
    assert "reading" not in " ".join(lines)


def test_two_lines_are_told_apart(tmp_path: Path) -> None:
    """A line to each bag has a slope and a pressure of its own."""
    write_job(tmp_path, "2026-05-05-horse-11111111", separate_lines())
    (taught,) = lessons(tmp_path)
    assert set(taught.slopes) == {"LR", "RR"}
    assert taught.began == Air(None, 120.0, 100.0)
    assert taught.left == Air(None, 180.0, 150.0)
    hint = hint_for([taught], vehicle=taught.vehicle, kit=taught.kit)
    assert hint is not None
    assert "120 kPa left, 100 kPa right" in hint_lines(hint, Wording.for_tape("metric", 1.0))[0]


# The worked case: c1 0.04375 in/psi, u 0.0036084; K 65.0171 N/mm; trials at 15 and 25 psi (derived apart).
def test_a_lesson_is_what_the_job_says(tmp_path: Path) -> None:
    """Slope, ride rate and pressures of the worked case, to the digits it was reckoned to by hand."""
    write_job(tmp_path, "2026-05-04-job-11111111", worked_case())
    (taught,) = lessons(tmp_path)
    assert taught.slopes["rear"].value == pytest.approx(0.04375 * 25.4 / PSI)
    assert taught.slopes["rear"].u == pytest.approx(0.0036084 * 25.4 / PSI, rel=1e-4)
    assert taught.ride_rate is not None
    assert taught.ride_rate.value == pytest.approx(65.0171, rel=1e-6)
    assert taught.began is not None
    assert taught.began.both_kPa == pytest.approx(15 * PSI)
    assert taught.left is not None
    assert taught.left.both_kPa == pytest.approx(25 * PSI)
    assert (taught.vehicle, taught.registration, taught.kit) == (
        "mid-size people carrier, invented",
        "INV 123",
        "invented kit",
    )


# ---- what is kept beside the library ----


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Callable[[], int]:
    """How many files were read since it was last asked."""
    read: list[Path] = []

    def counting(path: Path, data: bytes) -> Any:
        read.append(path)
        return stored_session(path, data)

    monkeypatch.setattr(drawn, "stored_session", counting)

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


def test_only_what_concerns_the_job_is_read(tmp_path: Path, counted: Callable[[], int]) -> None:
    """A hint costs the files of that vehicle and kit, and what was learned before is kept with it."""
    two_jobs(tmp_path)
    (taught,) = learn_about(library(tmp_path), standards(), registration="inv 456")
    assert taught.registration == "INV 456"
    assert counted() == 1
    assert learn_about(library(tmp_path), standards(), kit="INVENTED KIT")
    assert counted() == 1
    assert len(lessons(tmp_path)) == 2
    assert counted() == 0
    assert learn_about(library(tmp_path), standards()) == []


@pytest.mark.parametrize(
    "garbage",
    [
        b"",
        b"no JSON",
        b"[]",
        b"{}",
        b"\xff\xfe",
        b"[" * 100_000,
        b'{"key": 1, "rows": {}}',
        b'{"key": %s, "rows": []}',
        b'{"key": %s, "rows": {"2026-05-04-one-11111111.json": 7}}',
        b'{"key": %s, "rows": {"2026-05-04-one-11111111.json": [1, 2, 3, {}]}}',
        b'{"key": %s, "rows": {"2026-05-04-one-11111111.json": [1, 2, 3, {"session": 4}]}}',
    ],
)
def test_a_cache_that_is_none_is_made_anew(tmp_path: Path, garbage: bytes) -> None:
    """Whatever stands there, the answer is the same and the file is mended."""
    two_jobs(tmp_path)
    expected = lessons(tmp_path)
    key = json.dumps(json.loads((tmp_path / CACHE).read_bytes())["key"]).encode()
    (tmp_path / CACHE).write_bytes(garbage.replace(b"%s", key))
    assert lessons(tmp_path) == expected
    assert len(json.loads((tmp_path / CACHE).read_bytes())["rows"]) == 2


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
    learn(library(tmp_path), standards(), lambda done, of: told.append((done, of)))
    assert told == [(2, 2)]
    learn(library(tmp_path), standards(), lambda done, of: told.append((done, of)))
    assert told == [(2, 2)]


def test_learning_needs_no_table_engine() -> None:
    """It works where the extra is not installed, and loads nothing heavy."""
    program = (
        "import sys, json, cornerwalk.fleet.learning, cornerwalk.fleet.hint_words; print(json.dumps(list(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    loaded = set(json.loads(done.stdout))
    assert not loaded & {"pyarrow", "duckdb", "dask", "distributed", "numpy", "pandas", "pint", "pydantic", "textual"}


def test_a_job_begun_before_another_is_earlier_whatever_its_clock_says() -> None:
    """Days are told as recorded, and put in order as moments: 23:00 in the west is after 06:00 in the east next day."""
    west = lesson("west", opened_at="2026-05-04T23:00:00-07:00", registration="A", began=100.0)
    east = lesson("east", opened_at="2026-05-05T06:00:00+02:00", registration="A", began=200.0)
    hint = hint_for([east, west], registration="a")
    assert hint is not None
    assert hint.began == Air(100.0, None, None)
