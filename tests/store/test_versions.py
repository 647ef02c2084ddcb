"""Files of every version ever released open for ever: one of each lies in `frozen/`, and is never written again.

Each was made once by the program of its time (`freezing`), with every kind of event in it.
"""

from __future__ import annotations

import hashlib
import shutil
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.session.log import VERSION
from cornerwalk.store import SavedState
from cornerwalk.store.check import check_file
from cornerwalk.store.format import STEPS, header, migrate
from tests.store.support import library, note

# One pound-force (4.4482216152605 N exactly) on a square inch (645.16 mm² exactly).
PSI_kPa = 4.4482216152605 / 0.64516

FROZEN = Path(__file__).parent / "frozen"

# SHA-256 of each file as it was released: a frozen file that was "updated" is no frozen file.
RELEASED = {
    "v1.json": "6f3dc72b45ca58919a775944e633accec7eaadf4b38ac7ab7e95901844f6356f",
    "v2.json": "38cd76927fc2cb94a49c8699bf296d5ff16bf72d2cef16552bbc539401c86c59",
}


def test_there_is_a_frozen_file_of_every_version() -> None:
    """A new version of the format comes with a file of it, and with the step that leads to it."""
    assert {path.name for path in FROZEN.glob("*.json")} == {f"v{number}.json" for number in range(1, VERSION + 1)}
    assert set(STEPS) == set(range(1, VERSION))
    assert f'"version": {VERSION},' in header("x")


@pytest.mark.parametrize("name", RELEASED)
def test_a_frozen_file_is_as_it_was_released(name: str) -> None:
    """Byte for byte."""
    assert hashlib.sha256((FROZEN / name).read_bytes()).hexdigest() == RELEASED[name]


@pytest.mark.parametrize("name", RELEASED)
def test_a_frozen_file_opens_and_goes_on(name: str, tmp_path: Path) -> None:
    """It is whole, says what it said, and takes another event."""
    path = Path(shutil.copy(FROZEN / name, tmp_path))
    path.chmod(0o600)
    assert check_file(path).ok
    with library(tmp_path).open(path) as session:
        assert session.session.job.title == "Box trailer (invented)"
        assert session.session.job.technician == "Mara T. (invented)"
        loaded = session.session.first_stage("loaded")
        assert loaded is not None
        assert loaded.corner("RR").mean_mm == 701.675
        pressures = [reading.pressure_kPa for reading in session.session.leak_readings]
        assert pressures == pytest.approx([30 * PSI_kPa, 29.5 * PSI_kPa])
        assert not session.session.open
        assert isinstance(session.record(note("still opens")), SavedState)
    assert check_file(path).ok


def test_old_versions_are_taken_step_by_step() -> None:
    """Each step makes the next version of the one before; a document of the wanted version is left alone."""

    def step(name: str) -> Any:
        return lambda document: document | {"steps": [*document.get("steps", []), name]}

    steps = {1: step("1 to 2"), 2: step("2 to 3")}
    assert migrate({}, 1, steps=steps, to=3) == {"steps": ["1 to 2", "2 to 3"]}
    assert migrate({}, 2, steps=steps, to=3) == {"steps": ["2 to 3"]}
    assert migrate({"a": 1}, 3, steps=steps, to=3) == {"a": 1}
