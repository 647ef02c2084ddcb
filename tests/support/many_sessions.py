"""Thousands of plausible session files in a few seconds: one invented shop, its vehicles, kits and technicians.

    python -m tests.support.many_sessions FOLDER 10000

The same number always makes the same files. What the readings were made from is known (`TECHNICIANS`, `KITS`,
`Vehicle.rear_rate_N_per_mm`), so what is learned from them can be held against it. Everything is invented.
"""

from __future__ import annotations

import sys
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from functools import cache
from pathlib import Path
from random import Random

from cornerwalk.quantity import read_force, read_height, read_length, read_pressure
from cornerwalk.session import RecordedEvent, record_event
from cornerwalk.session.events import (
    CheckAnswered,
    Event,
    FactStated,
    HandedOver,
    HeightRead,
    JobOpened,
    JointSoaped,
    LeakRead,
    LoadStated,
    NoteWritten,
    ReadingMode,
    StageBegun,
    Undone,
    WeighingRecorded,
)
from cornerwalk.session.log import event_to_json
from cornerwalk.session.stages import CORNERS, Corner, JobKind, StageName
from cornerwalk.session.statements import state_fact
from cornerwalk.store.format import event_line, file_bytes
from cornerwalk.store.names import session_name
from tests.support.units import IN, PSI

TECHNICIANS = {"Ada Tester": 0.3, "Bo Example": 0.8, "Cy Sample": 1.6}
"""Invented people and how closely each puts the tape on the same point: a standard deviation, mm."""


@dataclass(frozen=True, slots=True)
class InventedKit:
    """A kit: how far the rear rises with pressure, and how fast its lines leak."""

    name: str
    rise_mm_per_kPa: float
    leak_kPa_per_h: float


KITS = (
    InventedKit("kit A, invented", 0.16, 0.02),
    InventedKit("kit B, invented", 0.11, 0.25),
    InventedKit("kit C, invented", 0.20, 0.9),
)


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A vehicle as it truly is."""

    registration: str
    description: str
    wheelbase_in: int
    front_mm: float
    rear_mm: float
    rear_rate_N_per_mm: float
    kit: InventedKit


def vehicles(seed: int = 1, count: int = 60) -> tuple[Vehicle, ...]:
    """The vehicles that come to the shop."""
    chance = Random(seed)
    return tuple(
        Vehicle(
            registration=f"INV {number:03}",
            description=f"{chance.choice(('people carrier', 'van', 'estate', 'pick-up'))}, invented",
            wheelbase_in=chance.randint(105, 130),
            front_mm=chance.uniform(700, 760),
            rear_mm=chance.uniform(720, 790),
            rear_rate_N_per_mm=chance.uniform(45, 80),
            kit=chance.choice(KITS),
        )
        for number in range(count)
    )


def session_files(count: int, *, seed: int = 1, hours_apart: float = 3.0) -> Iterator[tuple[str, bytes]]:
    """Names and contents of so many session files, in the order in which the jobs were opened."""
    chance = Random(seed)
    shop = vehicles(seed)
    begun = datetime(2024, 1, 8, 8, 0, tzinfo=timezone(timedelta(hours=-6)))
    for number in range(count):
        opened = begun + timedelta(hours=hours_apart * number)
        yield _session_file(chance, shop, opened)


def fill(folder: Path, count: int, *, seed: int = 1, hours_apart: float = 3.0) -> list[Path]:
    """Write them; the paths in order."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for name, content in session_files(count, seed=seed, hours_apart=hours_apart):
        path = folder / f"{name}.json"
        path.write_bytes(content)
        paths.append(path)
    return paths


def _session_file(chance: Random, shop: tuple[Vehicle, ...], opened: datetime) -> tuple[str, bytes]:
    session = str(uuid.UUID(int=chance.getrandbits(128), version=4))
    technician = chance.choice(tuple(TECHNICIANS))
    happened = list(_job(chance, chance.choice(shop), technician, session))
    if chance.random() < 0.15:  # broken off, and never gone on with
        happened = happened[: chance.randint(3, len(happened) - 2)]
    by = "".join(name[0] for name in technician.split())
    events: list[RecordedEvent] = []
    for minute, what in enumerate(happened):
        if isinstance(what, Undone):
            what = Undone(undoes=len(events))
        events.append(record_event(events[-1:], what, at=(opened + timedelta(minutes=minute)).isoformat(), by=by))
    name = session_name(opened_at=events[0].at, title="Trailer job", session=session)
    return name, file_bytes(session, [event_line(event_to_json(event)) for event in events])


def _job(chance: Random, vehicle: Vehicle, technician: str, session: str) -> Iterator[Event]:
    kind: JobKind = chance.choices(("fit", "adjust", "load check"), (8, 1, 1))[0]
    kit = vehicle.kit
    job = _Job(chance, vehicle, TECHNICIANS[technician])
    yield JobOpened(session=session, job=kind, title="Trailer job", program="0.1.0")
    for name, text in _facts(chance, vehicle, technician):
        yield _stated(name, text)
    yield job.load()
    yield CheckAnswered(check="brake-valve", answer="no")
    yield from job.stage("unloaded")
    if kind != "adjust":
        yield from job.stage("loaded")
        yield from job.weighing()
    if kind != "load check":
        for number, psi in enumerate(sorted(chance.sample(range(8, 35), chance.choice((2, 2, 3)))), 1):
            yield from job.stage("fitted", number, psi)
        yield from job.hold(kit)
        yield JointSoaped(joint="valve", bubbles=kit.leak_kPa_per_h > 0.5 and chance.random() < 0.5)
    yield NoteWritten(text="=SUM(1;2) is a note, and so is -3")
    yield HandedOver(to="J. Doe (invented)", figures={}, program="0.1.0")


def _facts(chance: Random, vehicle: Vehicle, technician: str) -> Iterator[tuple[str, str]]:
    yield from (
        ("job.technician", technician),
        ("job.customer", "J. Doe (invented)"),
        ("job.unit", "inch"),
        ("tape.graduation", "1/16 in"),
        ("vehicle.description", vehicle.description),
        ("vehicle.registration", vehicle.registration),
        ("vehicle.wheelbase", f"{vehicle.wheelbase_in} in"),
        ("vehicle.arch_width", "66 in"),
        ("vehicle.lamp_height", "28 1/2 in"),
        ("vehicle.lamp_ahead", "31 in"),
        ("vehicle.ball_overhang", "46 in"),
        ("vehicle.gawr_rear", "3100 lb"),
        ("vehicle.levelling", chance.choice(("none", "none", "manual"))),
        ("lamps.rule", "us-vol"),
        ("kit.name", vehicle.kit.name),
        ("kit.min", "8 psi"),
        ("kit.max", "40 psi"),
        ("kit.rated_support", "960 lb"),
        ("leak.gauge_graduation", "0.5 psi"),
        ("leak.altitude", "4200 ft"),
    )


@cache
def _stated(name: str, text: str) -> FactStated:
    return state_fact(name, text, "inch")


@cache
def _height(sixteenths: int) -> tuple[str, float]:
    whole, part = divmod(sixteenths, 16)
    text = f"{whole} {part}/16" if part else str(whole)
    return text, read_height(text, "inch").mm


@cache
def _pressure(half_psi: int) -> tuple[str, float]:
    text = f"{half_psi / 2:g} psi"
    return text, read_pressure(text, bare="psi").kPa


class _Job:
    """The vehicle as it stands while the job goes on."""

    def __init__(self, chance: Random, vehicle: Vehicle, place_mm: float) -> None:
        self.chance = chance
        self.vehicle = vehicle
        self.place_mm = place_mm
        self.load_lb = 10 * chance.randint(20, 60)
        self.psi = 0
        self.repeats = chance.random() < 0.5
        self.lean_mm = chance.gauss(0, 2)

    def load(self) -> LoadStated:
        """The trailer's tongue, 46 in behind the rear axle."""
        weight, place = f"{self.load_lb} lb", "46 in"
        return LoadStated(
            name="trailer tongue",
            entered=weight,
            weight_N=read_force(weight, bare="lb").N,
            place_entered=f"{place} behind the rear axle",
            ahead_mm=-read_length(place, bare="in").mm,
        )

    def stage(self, name: StageName, number: int = 1, psi: int = 0) -> Iterator[Event]:
        """The vehicle brought into a state, and its corners read."""
        entered, kPa = _pressure(2 * psi) if psi else (None, None)
        yield StageBegun(stage=name, number=number, pressure_entered=entered, pressure_kPa=kPa)
        self.psi = psi
        for check in ("level-floor", "tyre-pressures", "fuel", "settled"):
            yield CheckAnswered(check=check, answer="yes", stage=name, number=number)
        for corner in CORNERS:
            yield from self._corner(name, number, corner)

    def _corner(self, name: StageName, number: int, corner: Corner) -> Iterator[Event]:
        true_mm = self._true_mm(name, corner)
        chance = self.chance.random()
        if chance < 0.03:  # misheard, and read again
            yield self._read(name, number, corner, true_mm + IN, "first")
            yield self._read(name, number, corner, true_mm, "instead")
        else:
            yield self._read(name, number, corner, true_mm, "first")
        if self.repeats:
            yield self._read(name, number, corner, true_mm, "repeat")

    def _read(self, name: StageName, number: int, corner: Corner, true_mm: float, how: ReadingMode) -> HeightRead:
        mm = self.chance.gauss(true_mm, self.place_mm)
        entered, exact_mm = _height(round(mm / IN * 16))
        return HeightRead(stage=name, number=number, corner=corner, entered=entered, mm=exact_mm, how=how)

    def _true_mm(self, name: StageName, corner: Corner) -> float:
        vehicle = self.vehicle
        gain_N = 4.4482216152605 * self.load_lb * (vehicle.wheelbase_in + 46) / vehicle.wheelbase_in
        loaded = name != "unloaded"
        if corner in ("LF", "RF"):
            return vehicle.front_mm + (gain_N / 500 if loaded else 0.0)
        side_mm = self.lean_mm if corner == "LR" else -self.lean_mm
        drop_mm = gain_N / vehicle.rear_rate_N_per_mm if loaded else 0.0
        return vehicle.rear_mm + side_mm - drop_mm + self.psi * PSI * vehicle.kit.rise_mm_per_kPa

    def weighing(self) -> Iterator[Event]:
        """One in three goes over a scale, some of them heavier than the rear axle may be."""
        if self.chance.random() < 1 / 3:
            front, rear = (f"{20 * self.chance.randint(low, high)} lb" for low, high in ((110, 130), (125, 165)))
            yield WeighingRecorded(
                weighing="hitched",
                front_entered=front,
                front_N=read_force(front, bare="lb").N,
                rear_entered=rear,
                rear_N=read_force(rear, bare="lb").N,
                trailer_entered="",
                trailer_N=None,
            )

    def hold(self, kit: InventedKit) -> Iterator[Event]:
        """Air left overnight at one temperature."""
        hours = self.chance.randint(12, 30)
        lost_half_psi = round(hours * self.chance.uniform(0.7, 1.3) * kit.leak_kPa_per_h / PSI * 2)
        for moment, half_psi, after in (("start", 60, None), ("end", max(60 - lost_half_psi, 0), float(hours))):
            entered, kPa = _pressure(half_psi)
            yield LeakRead(
                moment="start" if moment == "start" else "end",
                line="both",
                pressure_entered=entered,
                pressure_kPa=kPa,
                temperature_entered="68 degF",
                temperature_C=20.0,
                read_at="2024-01-08T08:00:00-06:00",
                hours=after,
            )
            if self.chance.random() < 0.1:  # a note on the wrong job, taken back
                yield NoteWritten(text="wrong job")
                yield Undone(undoes=1)  # the one before, once it has its number


if __name__ == "__main__":
    fill(Path(sys.argv[1]), int(sys.argv[2]))
