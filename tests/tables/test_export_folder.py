"""The folder of an export: its own output is replaced at once or not at all, and nothing else is ever touched."""

from __future__ import annotations

import json
import shutil
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cornerwalk.store.lock_owner import this_program
from cornerwalk.store.names import temporary_path
from cornerwalk.tables.export import export
from cornerwalk.tables.export_folder import NotAnExportError
from tests.store.support import NO_SUCH_PROCESS
from tests.support.jobs import WORKED_CASE, job_of, standards, worked_case
from tests.tables.shop import everything, summaries, write_job

ROOT = Path(__file__).parents[2]


def test_a_rerun_replaces_its_own_and_nothing_else(tmp_path: Path) -> None:
    """What the shop put into the folder stays, wherever it lies; what an export wrote is gone with its sessions."""
    library, target = tmp_path / "library", tmp_path / "tables"
    first = write_job(library, "2026-05-04-first-11111111", worked_case())
    export(summaries(library), target, standards=standards())
    (target / "my notes.txt").write_text("mine")
    (target / "csv" / "charts.ods").write_bytes(b"mine too")
    (target / "more").mkdir()
    (target / "more" / "deep.txt").write_text("deep")
    (target / "link").symlink_to(tmp_path / "library", target_is_directory=True)
    first.unlink()
    sheet = WORKED_CASE.replace("2026-05-04", "2027-01-02")
    write_job(library, "2027-01-02-second-11111111", job_of(sheet))
    export(summaries(library), target, standards=standards())
    assert (target / "my notes.txt").read_text() == "mine"
    assert (target / "csv" / "charts.ods").read_bytes() == b"mine too"
    assert (target / "more" / "deep.txt").read_text() == "deep"
    assert (target / "link").is_symlink()
    assert [path.name for path in (target / "parquet" / "sessions").iterdir()] == ["year=2027"]
    assert len(list(library.glob("[!.]*.json"))) == 1
    assert sorted(path.name for path in tmp_path.iterdir()) == ["library", "tables"]


def test_a_folder_of_anything_else_is_left_alone(tmp_path: Path) -> None:
    """No export: nothing is written, and the text says what to name instead."""
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "van.jpg").write_bytes(b"jpg")
    with pytest.raises(NotAnExportError, match="name a new or an empty folder"):
        export([], tmp_path / "photos", standards=standards())
    (tmp_path / "file").write_text("a file")
    with pytest.raises(NotAnExportError):
        export([], tmp_path / "file", standards=standards())
    assert everything(tmp_path) == {"photos/van.jpg": b"jpg", "file": b"a file"}


def test_a_list_of_files_from_elsewhere_removes_nothing(tmp_path: Path) -> None:
    """A manifest that names files outside the folder, or none of ours inside it, is not believed."""
    (tmp_path / "precious.txt").write_text("precious")
    target = tmp_path / "tables"
    (target / "csv").mkdir(parents=True)
    (target / "letter.txt").write_text("a letter")
    (target / "csv" / "sessions.csv").symlink_to(tmp_path / "precious.txt")
    listed = ["../precious.txt", str(tmp_path / "precious.txt"), "letter.txt", "csv/../../precious.txt", 7, None]
    (target / "export.json").write_text(json.dumps({"format": "cornerwalk export", "files": listed}))
    export([], target, standards=standards())
    assert (tmp_path / "precious.txt").read_text() == "precious"
    assert (target / "letter.txt").read_text() == "a letter"


def test_a_failure_in_the_middle_leaves_the_old_export(tmp_path: Path) -> None:
    """Whatever stops the work, the tables of before stand as they were, and nothing half-written stays."""
    library, target = tmp_path / "library", tmp_path / "tables"
    write_job(library, "2026-05-04-first-11111111", worked_case())
    export(summaries(library), target, standards=standards())
    before = everything(target)

    def fails(events: Any) -> Any:
        raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space"):
        export(summaries(library), target, standards=standards(), event_filter=fails)
    assert everything(target) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["library", "tables"]


@pytest.mark.parametrize("files", [7, None, "csv", {"csv/sessions.csv": 1}, [["csv/sessions.csv"]]])
def test_a_manifest_of_any_shape_is_read(tmp_path: Path, files: Any) -> None:
    """Whatever it lists, the new export takes its place and what it does not list as ours stays."""
    target = tmp_path / "tables"
    (target / "csv").mkdir(parents=True)
    (target / "csv" / "mine.csv").write_text("mine")
    (target / "export.json").write_text(json.dumps({"format": "cornerwalk export", "files": files}))
    export([], target, standards=standards())
    assert (target / "csv" / "mine.csv").read_text() == "mine"
    assert (target / "csv" / "sessions.csv").exists()


@pytest.mark.parametrize("content", ["", "[]", '{"format": "something else"}', "[" * 100_000, "\\x00"])
def test_a_folder_with_another_manifest_is_no_export(tmp_path: Path, content: str) -> None:
    """A file of that name does not make a folder ours."""
    (tmp_path / "tables").mkdir()
    (tmp_path / "tables" / "export.json").write_text(content)
    with pytest.raises(NotAnExportError):
        export([], tmp_path / "tables", standards=standards())
    assert everything(tmp_path) == {"tables/export.json": content.encode()}


def test_a_rename_that_fails_puts_the_old_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second of the two renames fails: the old tables are where they were."""
    target = tmp_path / "tables"
    export([], target, standards=standards())
    before = everything(target)
    real = Path.rename

    def rename(self: Path, to: Path) -> Path:
        if self.suffix == ".part" and Path(to) == target:
            raise OSError(13, "Permission denied")
        return real(self, to)

    monkeypatch.setattr(Path, "rename", rename)
    with pytest.raises(OSError, match="Permission denied"):
        export([], target, standards=standards())
    assert everything(tmp_path) == {f"tables/{name}": content for name, content in before.items()}


KILLED = """
import os, signal, sys
from pathlib import Path
from cornerwalk.tables.export import export
from cornerwalk.standards import load_standards
from tests.tables.shop import summaries

def killed(events):
    os.kill(os.getpid(), signal.SIGKILL)

export(summaries(Path(sys.argv[1])), Path(sys.argv[2]), standards=load_standards(), event_filter=killed)
"""


def test_an_export_that_was_killed_leaves_the_old_and_the_next_tidies_up(tmp_path: Path) -> None:
    """Killed in the middle: the tables of before stand; what was half written is gone after the next export."""
    library, target = tmp_path / "library", tmp_path / "tables"
    write_job(library, "2026-05-04-first-11111111", worked_case())
    export(summaries(library), target, standards=standards())
    before = everything(target)
    ended = subprocess.run([sys.executable, "-c", KILLED, library, target], cwd=ROOT, check=False)
    assert ended.returncode == -signal.SIGKILL
    assert everything(target) == before
    assert len(list(tmp_path.iterdir())) == 3
    export(summaries(library), target, standards=standards())
    assert everything(target) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["library", "tables"]


@pytest.mark.parametrize("stands", [False, True])
def test_killed_while_the_new_takes_its_place_nothing_is_lost(tmp_path: Path, *, stands: bool) -> None:
    """Between the two renames, or after them: what the shop had in the old folder is in the new one next time."""
    library, target = tmp_path / "library", tmp_path / "tables"
    write_job(library, "2026-05-04-first-11111111", worked_case())
    export(summaries(library), target, standards=standards())
    (target / "my notes.txt").write_text("mine")
    dead = replace(this_program(), pid=NO_SUCH_PROCESS)
    target.rename(temporary_path(target, dead).with_suffix(".before"))
    if stands:
        temporary_path(target, dead).mkdir()
        (temporary_path(target, this_program())).mkdir()
        shutil.copytree(next(tmp_path.glob(".*.before")), target, ignore=shutil.ignore_patterns("my notes.txt"))
    export(summaries(library), target, standards=standards())
    assert (target / "my notes.txt").read_text() == "mine"
    left = [path.name for path in tmp_path.iterdir() if path.name not in ("library", "tables")]
    assert len(left) == int(stands)  # of another program that may still be at it
