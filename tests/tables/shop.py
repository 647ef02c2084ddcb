"""A small invented shop's library, and plain ways to look into its files that know nothing of the program's own."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

from cornerwalk.samples import sample_folder
from cornerwalk.store import Library, Summary
from tests.support.clock import FrozenClock
from tests.support.jobs import InventedJob
from tests.support.many_sessions import fill

SESSIONS = 60
Json = dict[str, Any]


def stock(folder: Path, sessions: int = SESSIONS) -> Path:
    """A library of generated sessions and of the samples, which hold what the generated ones lack."""
    fill(folder, sessions, hours_apart=30)
    for sample in sorted(sample_folder().glob("*.json")):
        shutil.copy(sample, folder)
    return folder


def summaries(folder: Path) -> list[Summary]:
    return Library(folder, clock=FrozenClock(), by="MT").summaries()


def write_job(folder: Path, name: str, job: InventedJob) -> Path:
    """The file of an invented job."""
    from cornerwalk.session.log import event_to_json
    from cornerwalk.store.format import event_line, file_bytes

    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{name}.json"
    path.write_bytes(file_bytes(job.session.id, [event_line(event_to_json(event)) for event in job.events]))
    return path


def plainly(folder: Path) -> dict[str, Json]:
    """Every file as its bare JSON, by name."""
    return {path.name: json.loads(path.read_bytes()) for path in sorted(folder.glob("[!.]*.json"))}


def everything(folder: Path) -> dict[str, bytes]:
    """The content of every file below a folder."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def counting(document: Json) -> list[Json]:
    """The events that were not taken back: an undo takes one, and an undone undo takes none. By eye, not by `live`."""
    gone: set[int] = set()
    for event in reversed(document["events"]):
        if event["kind"] == "undone" and event["seq"] not in gone:
            gone.add(event["undoes"])
    return [e for e in document["events"] if e["seq"] not in gone and e["kind"] != "undone"]


def heights(document: Json) -> dict[tuple[str, int, str], list[float]]:
    """The heights that count, by stage, number and corner."""
    found: dict[tuple[str, int, str], list[float]] = {}
    for event in counting(document):
        if event["kind"] == "height read":
            place = (event["stage"], event.get("number", 1), event["corner"])
            kept = found.setdefault(place, [])
            if event.get("how") != "repeat":
                kept.clear()
            kept.append(event["mm"])
    return found


def stated(document: Json, name: str) -> Any:
    """The value of a fact as last stated."""
    values = [e["value"] for e in counting(document) if e["kind"] == "fact stated" and e["name"] == name]
    return values[-1] if values else None


def stages(document: Json) -> list[tuple[str, int]]:
    """The stages begun, in order."""
    begun = [(e["stage"], e.get("number", 1)) for e in counting(document) if e["kind"] == "stage begun"]
    return list(dict.fromkeys(begun))
