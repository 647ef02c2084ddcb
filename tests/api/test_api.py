"""The application interface: what Python sees of a job, a library and its tables is what the commands say."""

from __future__ import annotations

import inspect
import json
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import cornerwalk
from cornerwalk import api
from cornerwalk.store import StoreError
from tests.cli.calling import Said, run

SAMPLES = Path(__file__).parents[2] / "sample_sessions"
CAMPER = SAMPLES / "camper.json"

# The surface that a later version keeps: names and parameters.
SURFACE = {
    "open": "(path: 'FilePath') -> 'Job'",
    "library": "(folder: 'FilePath') -> 'JobLibrary'",
    "read_tables": "(folder: 'FilePath') -> 'dict[str, pa.Table]'",
    "judge": "(sheet: 'FilePath | Mapping[str, Any]') -> 'dict[str, Any]'",
}


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A library of the samples, one of them with a changed byte."""
    for sample in SAMPLES.glob("*.json"):
        shutil.copy(sample, tmp_path)
    damaged = tmp_path / "half-done.json"
    text = damaged.read_text("utf-8")
    assert '"entered": "' in text
    damaged.write_text(text.replace('"entered": "2', '"entered": "3', 1), "utf-8")
    return tmp_path


def test_the_surface_stays() -> None:
    """A notebook that runs today runs after an upgrade."""
    assert {name: str(inspect.signature(getattr(cornerwalk, name))) for name in SURFACE} == SURFACE
    assert set(cornerwalk.__all__) == {"Job", "JobLibrary", "__version__", *SURFACE}


def test_results_are_what_the_command_prints(capsys: Said) -> None:
    """One document, whoever asks."""
    run("results", CAMPER)
    assert cornerwalk.open(CAMPER).results == json.loads(capsys.readouterr().out)


def test_a_job_can_be_looked_at_as_it_stood() -> None:
    """After its first event there is no stage, after its last one all of them; beyond it nothing."""
    job = cornerwalk.open(CAMPER)
    assert job.at(1).session.stages == ()
    assert job.at(job.last_seq).results == job.results
    with pytest.raises(IndexError, match="events 1 to"):
        job.at(job.last_seq + 1)


@pytest.mark.parametrize("to", ["text", "html"])
def test_a_report_is_the_command_s(to: str, capsys: Said) -> None:
    """The record, word for word."""
    run("report", CAMPER, "--to", to)
    printed = capsys.readouterr().out
    report = cornerwalk.open(CAMPER).report(to=to)  # type: ignore[arg-type]
    assert str(report).split() == printed.split()


def test_a_damaged_file_is_no_job(shop: Path) -> None:
    """It is refused by name, passed over in a library, and told there."""
    with pytest.raises(api.DamagedSessionError, match=r"half-done\.json"):
        cornerwalk.open(shop / "half-done.json")
    library = cornerwalk.library(shop)
    assert {job.path.name for job in library} == {"camper.json", "front-stays-up.json", "misread-corner.json"}
    assert set(library.damaged()) == {"half-done.json"}
    with pytest.raises(StoreError):
        cornerwalk.open(shop / "none.json")


def test_jobs_are_found_by_their_words(shop: Path) -> None:
    """As the list finds them."""
    job = cornerwalk.open(CAMPER)
    assert [found.path.name for found in cornerwalk.library(shop).find(job.session.job.title)] == ["camper.json"]


def test_tables_hold_each_whole_job(shop: Path) -> None:
    """One row a session, and each height of the jobs in the readings."""
    pytest.importorskip("pyarrow")
    tables = cornerwalk.read_tables(shop)
    assert tables["sessions"].num_rows == 3
    counted = sum(
        len(record.readings)
        for job in cornerwalk.library(shop)
        for s in job.session.stages
        for record in s.corners.values()
    )
    assert tables["readings"].num_rows == counted


def test_a_sheet_is_judged_as_it_is_imported(tmp_path: Path) -> None:
    """From its file and from its tables alike; only the session's own id and times differ from an import."""
    sheet = SAMPLES / "camper.toml"
    out = tmp_path / "camper.json"
    run("import", sheet, "--out", out)
    imported, judged = cornerwalk.open(out).results, cornerwalk.judge(sheet)
    assert judged["stages"] == imported["stages"]
    assert judged["verdicts"] == imported["verdicts"]
    assert cornerwalk.judge(tomllib.loads(sheet.read_text("utf-8")))["stages"] == judged["stages"]


def test_importing_the_package_loads_no_room() -> None:
    """Whoever imports it for its version waits for nothing."""
    program = "import sys, cornerwalk; print([m for m in sys.modules if m.startswith('cornerwalk.')])"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
