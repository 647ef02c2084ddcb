"""Makes the frozen session file of this version of the format: once, by the program's own ways from text to event.

    python -m tests.store.freezing

refuses where there is one already. From the day it is kept a frozen file is never written again: it stands for every
file that users have by then. Its program is called 0.0.9, so that a figure which a later program computes otherwise is
news to `check`, as it is in a user's file. Vehicle, people and readings are invented.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from cornerwalk.assess import assess
from cornerwalk.report.handover import handed_over_figures
from cornerwalk.session import Session
from cornerwalk.session.conditions import answer_check, read_mark, set_leveller
from cornerwalk.session.events import EVENTS, Event, FactStated, HandedOver, JobOpened, LeakMoment, ReadingMode
from cornerwalk.session.hold_test import read_gauge, soap_joint, with_load, with_temperature
from cornerwalk.session.log import VERSION
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import CORNERS, StageName
from cornerwalk.session.statements import record_torque, record_weight, remove_load, state_fact, state_load
from cornerwalk.session.walk import (
    PressureInput,
    begin_stage,
    record_height,
    reopen,
    skip_corner,
    state_pressure,
    undo,
    write_note,
)
from cornerwalk.store import Library, SessionFile
from tests.support.jobs import standards

FROZEN = Path(__file__).parent / "frozen"
PROGRAM = "0.0.9"
FACTS = {
    "job.technician": "Mara T. (invented)",
    "job.unit": "inch",
    "vehicle.description": "people carrier, invented",
    "vehicle.registration": "INV 123",
    "vehicle.wheelbase": "119",
    "vehicle.arch_width": "66 in",
    "vehicle.lamp_height": "28 1/2 in",
    "vehicle.lamp_ahead": "31 in",
    "vehicle.levelling": "manual",
    "lamps.rule": "us-vol",
    "kit.name": "invented kit",
    "kit.min": "8 psi",
    "kit.max": "40 psi",
    "kit.lines": "tee",
    "kit.bag_volume": "120 cu in",
    "vehicle.tire_rate": "1450 lb/in",
    "vehicle.rear_springs": "coil",
    "uncertainty.wheelbase": "1/8 in",
    "table.loads": "300 lb; 350 lb",
}
HEIGHTS: dict[StageName, tuple[str, ...]] = {
    "unloaded": ("28 5/8", "28 11/16", "29 3/16", "29 1/4"),
    "loaded": ("28 7/8", "28 15/16", "27 1/2", "27 3/4"),
    "fitted": ("", "28 15/16", "28 1/4", "28 3/8"),
}
OVERNIGHT = timedelta(hours=24)


class Clock:
    """A minute later at every look."""

    def __init__(self) -> None:
        self.now = datetime.fromisoformat("2026-05-04T08:12:31-06:00")

    def __call__(self) -> datetime:
        self.now += timedelta(minutes=1)
        return self.now


def frozen() -> bytes:
    """The file, with every kind of event in it."""
    clock = Clock()
    session = "1a2b3c4d-0000-4000-8000-000000000000"
    opened = JobOpened(session=session, job="fit", title="Box trailer (invented)", program=PROGRAM)
    with TemporaryDirectory() as folder:
        library = Library(Path(folder), clock=clock, by="MT")
        with library.create(opened) as file:
            _intake(file)
            _heights(file)
            _work(file)
            _leak(file, clock)
            _hand_over(file)
            file.record(*reopen(file.session, "follow-up"))
            _hand_over(file)
            _require_every_kind([event.payload for event in file.events])
            return file.path.read_bytes()


def _intake(file: SessionFile) -> None:
    for name, text in FACTS.items():
        file.record(state_fact(name, text, "inch"))
    file.record(FactStated(name="tape.place", entered="0.03 in", value=0.762, basis="from own repeats: 24 corners"))
    file.record(state_load("tongue", "410 lb", place="46 in", side="behind", unit="inch"))
    file.record(state_load("tools", "60 lb", place="10 in", side="ahead of", unit="inch"))
    file.record(remove_load("tools", ["tongue", "tools"]))
    file.record(answer_check("brake-valve", "not checked", "customer in a hurry"))


def _heights(file: SessionFile) -> None:
    file.record(*begin_stage(file.session, "unloaded"))
    _read(file, "unloaded")
    pair: tuple[tuple[ReadingMode, str], ...] = (("lifted", "29 5/16"), ("pressed", "29 3/16"))
    for half, text in pair:
        file.record(*record_height(file.session, corner="LR", text=text, stage=("unloaded", 1), how=half))
    file.record(*begin_stage(file.session, "loaded"))
    _read(file, "loaded")
    stage: StageKey = ("loaded", 1)
    file.record(*record_height(file.session, corner="RR", text="27 9/16", stage=stage, how="instead"))
    file.record(*undo(file.events))
    file.record(*record_height(file.session, corner="RR", text="27 5/8", stage=stage, how="instead"))
    file.record(*record_height(file.session, corner="LF", text="28 7/8", stage=stage, how="repeat"))
    file.record(read_mark(file.session, stage, "5 1/4 in"))
    file.record(set_leveller(stage, "0"))
    file.record(*write_note(file.session, "tyres as before", stage=stage, corner="RR"))
    file.record(*begin_stage(file.session, "fitted", PressureInput(both="15 psi")))
    file.record(*state_pressure(file.session, ("fitted", 1), PressureInput(both="16 psi")))
    file.record(*skip_corner(file.session, corner="LF", stage=("fitted", 1), reason="lip is bent – ½ in"))
    _read(file, "fitted")


def _read(file: SessionFile, stage: StageName) -> None:
    for corner, text in zip(CORNERS, HEIGHTS[stage], strict=True):
        if text:
            file.record(*record_height(file.session, corner=corner, text=text, stage=(stage, 1)))


def _work(file: SessionFile) -> None:
    file.record(record_torque(file.session, "upper bracket", "specified", "18 lbf·ft"))
    file.record(record_torque(file.session, "upper bracket", "reached", "18 lbf·ft"))
    file.record(record_weight(file.session, "hitched", "front", "2900 lb"))
    file.record(record_weight(file.session, "hitched", "rear", "3700 lb"))


def _leak(file: SessionFile, clock: Clock) -> None:
    ends: tuple[tuple[LeakMoment, str, str], ...] = (("start", "30 psi", "72 °F"), ("end", "29.5 psi", "70 °F"))
    for moment, pressure, temperature in ends:
        read = read_gauge(file.session, "both", moment, pressure, clock.now)
        file.record(with_load(with_temperature(read, temperature, file.session), loaded=False))
        clock.now += OVERNIGHT
    file.record(soap_joint("valve", bubbles=False))


def _hand_over(file: SessionFile) -> None:
    session: Session = file.session
    figures = handed_over_figures(session, assess(session, standards()))
    file.record(HandedOver(to="customer (invented)", figures=figures, program=PROGRAM))


def _require_every_kind(happened: Sequence[Event]) -> None:
    missing = {kind.kind for kind in EVENTS} - {what.kind for what in happened}
    if missing:
        raise AssertionError(f"not in it: {missing}")


if __name__ == "__main__":
    with (FROZEN / f"v{VERSION}.json").open("xb") as kept:
        kept.write(frozen())
