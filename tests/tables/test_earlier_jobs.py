"""Asking a library's earlier jobs: which files are read for it, whom it hears, and what that costs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.store import read_session
from cornerwalk.tables import earlier_jobs as module
from cornerwalk.tables import lessons as drawn
from cornerwalk.tables.earlier_jobs import EarlierJobs, JobIdentity, earlier_jobs
from cornerwalk.tables.lessons import Air
from tests.support.jobs import WORKED_CASE, job_of, standards, worked_case
from tests.support.units import PSI
from tests.tables.shop import write_job
from tests.tables.taught import library

NEW = JobIdentity(
    session="new",
    opened_at="2027-01-01T08:00:00-07:00",
    technician="MT",
    vehicle="mid-size people carrier, invented",
    registration="inv123",
    kit="invented kit",
)


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the files that were read, in order."""
    names: list[str] = []

    def reading(path: Path) -> Any:
        names.append(path.name)
        return read_session(path)

    monkeypatch.setattr(drawn, "read_session", reading)
    return names


def asked(folder: Path, job: JobIdentity = NEW, progress: Callable[[int, int], None] | None = None) -> EarlierJobs:
    return earlier_jobs(library(folder), standards(), job, progress)


def fill(folder: Path, count: int, *changes: tuple[str, str]) -> None:
    """So many files of the worked case with these texts changed."""
    sheet = WORKED_CASE
    for old, new in changes:
        assert old in sheet
        sheet = sheet.replace(old, new)
    for number in range(count):
        write_job(folder, f"2026-05-04-{len(changes)}-{number:08}", job_of(sheet))


def test_a_known_vehicle_says_where_it_began(tmp_path: Path) -> None:
    """The pressure of the first trial and the slope of the worked case: 15 psi, 0.04375 in/psi."""
    write_job(tmp_path, "2026-05-04-job-11111111", worked_case())
    hint = asked(tmp_path).hint
    assert hint is not None
    assert hint.by == "registration"
    assert hint.began is not None
    assert hint.began.both_kPa == pytest.approx(15 * PSI)
    assert hint.slopes["rear"].last.value == pytest.approx(0.04375 * 25.4 / PSI)


def test_nothing_but_the_vehicle_and_the_technician_is_read(tmp_path: Path, read: list[str]) -> None:
    """Jobs of other people on other vehicles cost their line in the list."""
    fill(tmp_path, 1)
    fill(tmp_path, 3, ("INV 123", "INV 999"))
    stranger = replace(NEW, technician="somebody else")
    assert asked(tmp_path, stranger).hint is not None
    assert read == ["2026-05-04-0-00000000.json"]
    read.clear()
    assert asked(tmp_path, stranger).hint is not None
    assert read == []


def test_only_the_last_jobs_are_read(tmp_path: Path, read: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """However many there are of one vehicle."""
    monkeypatch.setattr(module, "MAX_JOBS", 3)
    fill(tmp_path, 8)
    found = asked(tmp_path, replace(NEW, technician="nobody"))
    assert len(read) == 3
    assert found.hint is not None
    assert found.hint.jobs == 3


def test_a_new_vehicle_hears_of_its_kit(tmp_path: Path) -> None:
    """Where it was never here itself."""
    fill(tmp_path, 2)
    hint = asked(tmp_path, replace(NEW, registration="NEW 1", vehicle="")).hint
    assert hint is not None
    assert (hint.by, hint.ride_rate) == ("kit", None)


def test_later_jobs_are_no_earlier_ones(tmp_path: Path) -> None:
    """A job of last year that is opened again hears nothing of this year's."""
    fill(tmp_path, 1)
    assert asked(tmp_path, replace(NEW, opened_at="2020-01-01T08:00:00-07:00")).hint is None


def test_a_job_that_says_no_figure_is_no_hint(tmp_path: Path) -> None:
    """That the vehicle was here is no help at the valve."""
    bare = WORKED_CASE[: WORKED_CASE.index("[[stage]]")]
    write_job(tmp_path, "2026-05-04-bare-11111111", job_of(bare))
    assert asked(tmp_path) == EarlierJobs()


def test_an_empty_library_says_nothing(tmp_path: Path) -> None:
    """Nor does one that is not there."""
    assert asked(tmp_path / "none") == EarlierJobs()


def test_the_asking_can_be_left(tmp_path: Path) -> None:
    """What the callback raises ends it."""
    fill(tmp_path, 2)

    def leave(_done: int, _total: int) -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        asked(tmp_path, NEW, leave)


def test_air_of_the_hint_is_of_the_same_lines() -> None:
    """The highest of several pressures is what a maximum is held against."""
    assert Air(None, 120.0, 100.0).most_kPa == 120.0
    assert Air(90.0, None, None).most_kPa == 90.0
