"""Jobs drawn at random by statics, with every component of uncertainty drawn too, for asking what the ± holds.

Nothing here uses the program's own formulas: vehicle, load and springs are drawn, the true heights follow from statics,
and what is read or stated differs from the truth by its component. Friction is anywhere within ± f after settling, once
a stage and axle, a third of that once a wheel; everything else is normal, once a job where it is one thing.

Population: wheelbase 105 to 150 in, front 28 to 34 and rear 28 to 35 in high, front up by 0 to 0.5 and rear down by 1.2
to 2.4 in, 0.04 to 0.09 in/psi, trials at 10, 20 and 30 psi or two of them, a tongue of 200 to 900 lb 38 to 60 in behind
the axle, lamps 24 to 40 in high, a wall at 25 ft, a tape marked in 1/16 in; all uniform.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from cornerwalk.session.model import (
    Approach,
    CornerRecord,
    Kit,
    Lamps,
    Load,
    Reading,
    Session,
    Stage,
    Tape,
    Vehicle,
)
from cornerwalk.session.stages import CORNERS, Corner, StageName

IN, PSI, LB = 25.4, 6.894757293168361, 4.4482216152605
GRADUATION_MM, PLACE_MM = IN / 16, IN / 32
TIRE_N_PER_MM = 250.0


_ENDS: tuple[tuple[Approach, float], ...] = (("lifting", 1.0), ("pressing", -1.0))


@dataclass(frozen=True)
class Friction:
    """How far off the springs may settle, mm: what the program assumes is 1.5 in front and on coils, 3 on leaves."""

    front_mm: float = 1.5
    rear_mm: float = 3.0
    springs: str | None = None


@dataclass
class DrawnJob:
    """A job as recorded, and the truth behind it."""

    session: Session
    true: dict[str, float]
    pressures_psi: tuple[float, ...]
    vehicle: TrueVehicle


@dataclass
class TrueVehicle:
    """The vehicle as it is: heights of its axles in any state, before anybody reads them."""

    front_mm: float
    rear_mm: float
    front_rise_mm: float
    rear_drop_mm: float
    lift_at_zero_mm: float
    mm_per_kPa: float
    friction: Friction
    rng: random.Random
    lean_mm: float = 0.0
    settled: dict[str, float] = field(default_factory=dict)

    def axles_mm(self, *, loaded: bool, air_kPa: float | None) -> tuple[float, float]:
        """Mean heights, front and rear."""
        front, rear = self.front_mm, self.rear_mm
        if loaded:
            front, rear = front + self.front_rise_mm, rear - self.rear_drop_mm
        if air_kPa is not None:
            rear += self.lift_at_zero_mm + self.mm_per_kPa * air_kPa
        return front, rear

    def read(self, name: StageName, number: int, *, loaded: bool, air_kPa: float | None = None) -> Stage:
        """The four corners as read once the springs have settled."""
        front, rear = self.axles_mm(loaded=loaded, air_kPa=air_kPa)
        off = {"front": self._settle(self.friction.front_mm), "rear": self._settle(self.friction.rear_mm)}
        corners: dict[Corner, CornerRecord] = {}
        for corner in CORNERS:
            axle = "front" if corner.endswith("F") else "rear"
            height = (front if axle == "front" else rear) + self.lean_mm / (2 if corner.startswith("L") else -2)
            f_mm = self.friction.front_mm if axle == "front" else self.friction.rear_mm
            mm = self.tape(height + off[axle] + self._settle(f_mm / 3))
            corners[corner] = CornerRecord(readings=(Reading(entered="", mm=mm, seq=1, at=""),))
        return Stage(name=name, number=number, begun_seq=1, begun_at="", corners=corners)

    def read_pairs(self, name: StageName, number: int, *, loaded: bool) -> Stage:
        """Each corner read after lifting and after pressing: at the ends of the loop, which is not quite symmetric."""
        front, rear = self.axles_mm(loaded=loaded, air_kPa=None)
        corners: dict[Corner, CornerRecord] = {}
        off = {"front": self._settle(self.friction.front_mm / 3), "rear": self._settle(self.friction.rear_mm / 3)}
        for corner in CORNERS:
            axle = "front" if corner.endswith("F") else "rear"
            height = front if axle == "front" else rear
            f_mm = self.friction.front_mm if axle == "front" else self.friction.rear_mm
            middle = height + off[axle] + self._settle(f_mm / 3)
            readings = tuple(
                Reading(entered="", mm=self.tape(middle + side * f_mm), seq=1, at="", after=after)
                for after, side in _ENDS
            )
            corners[corner] = CornerRecord(readings=readings)
        return Stage(name=name, number=number, begun_seq=1, begun_at="", corners=corners)

    def tape(self, mm: float) -> float:
        """A height read to the nearest mark, the tape put a little beside the point."""
        return round((mm + self.rng.gauss(0, PLACE_MM)) / GRADUATION_MM) * GRADUATION_MM

    def _settle(self, f_mm: float) -> float:
        return self.rng.uniform(-f_mm, f_mm)


def draw_job(rng: random.Random, friction: Friction = Friction(), *, trials: int = 3, pairs: bool = False) -> DrawnJob:
    """One job: unloaded, loaded and fitted stages, two or three of the pressures tried."""
    while True:
        stated_length = rng.uniform(105, 150) * IN
        stated_N, stated_behind = rng.uniform(200, 900) * LB, rng.uniform(38, 60) * IN
        length, behind = stated_length + rng.gauss(0, 3), stated_behind + rng.gauss(0, 25)
        tongue_N = stated_N * (1 + rng.gauss(0, 0.15))
        drop, rise = rng.uniform(1.2, 2.4) * IN, rng.uniform(0, 0.5) * IN
        tires = (1 + rng.gauss(0, 0.25)) / (2 * TIRE_N_PER_MM)
        springs = drop / (tongue_N * (length + behind) / length) - tires
        slope = rng.uniform(0.04, 0.09) * IN / PSI
        highest_psi = drop / slope / PSI  # there the line starts from the loaded height without air
        if tongue_N > 0 and tires > 0 and springs > 0 and highest_psi > 15:
            break
    psi = tuple(sorted(rng.sample((10.0, 20.0, 30.0), trials)))
    target_psi = rng.uniform(15, min(38, highest_psi))
    vehicle = TrueVehicle(
        front_mm=rng.uniform(28, 34) * IN,
        rear_mm=rng.uniform(28, 35) * IN,
        front_rise_mm=rise,
        rear_drop_mm=drop,
        lift_at_zero_mm=drop - slope * target_psi * PSI,
        mm_per_kPa=slope,
        friction=friction,
        rng=rng,
        lean_mm=rng.gauss(0, 4),
    )
    lamp_height, lamp_ahead = rng.uniform(24, 40) * IN, rng.uniform(20, 40) * IN
    wall = 7620.0
    stages = [
        vehicle.read_pairs("unloaded", 1, loaded=False) if pairs else vehicle.read("unloaded", 1, loaded=False),
        vehicle.read("loaded", 1, loaded=True),
    ]
    gauge_u = PSI / math.sqrt(12)
    for number, shown in enumerate(psi, 1):
        stage = vehicle.read("fitted", number, loaded=True, air_kPa=shown * PSI + rng.gauss(0, gauge_u))
        stages.append(replace(stage, pressure_kPa=shown * PSI, pressure_entered=f"{shown:g} psi"))
    session = Session(
        tape=Tape(graduation_mm=GRADUATION_MM, place_mm=PLACE_MM),
        vehicle=Vehicle(
            wheelbase_mm=stated_length,
            lamp_height_mm=lamp_height + rng.gauss(0, 5),
            lamp_ahead_mm=lamp_ahead + rng.gauss(0, 5),
            ball_overhang_mm=stated_behind,
            rear_springs=friction.springs,  # type: ignore[arg-type]
            levelling="none",
        ),
        lamps=Lamps(screen_mm=wall, rule="us-vol"),
        kit=Kit(min_kPa=5 * PSI, max_kPa=60 * PSI, rated_support_N=20_000.0),
        loads=(Load(name="trailer tongue", weight_N=stated_N, ahead_mm=-stated_behind),),
        stages=tuple(stages),
    )
    true_wall, true_aim = wall + rng.gauss(0, 10), -0.4 + rng.gauss(0, 0.3)
    last_rear = vehicle.axles_mm(loaded=True, air_kPa=psi[-1] * PSI)[1]
    true = _truth(vehicle, length, true_wall, true_aim, lamp_ahead, psi[-1] * PSI)
    lift = last_rear - (vehicle.rear_mm - drop)
    true |= {"pressure": target_psi * PSI, "carried": lift / springs, "slope": slope, "lift": lift}
    return DrawnJob(session, true, psi, vehicle)


def _truth(
    vehicle: TrueVehicle, length: float, wall: float, aim_deg: float, lamp_ahead: float, air_kPa: float
) -> dict[str, float]:
    """Pitch, beam and aim as they are, loaded and at the last trial."""
    found = {}
    for name, air in (("loaded", None), ("fitted", air_kPa)):
        front, rear = vehicle.axles_mm(loaded=True, air_kPa=air)
        up, down = front - vehicle.front_mm, rear - vehicle.rear_mm
        pitch = math.atan2(up - down, length)
        now, before = math.radians(aim_deg) + pitch, math.radians(aim_deg)
        found[f"pitch {name}"] = math.degrees(pitch)
        found[f"beam {name}"] = wall * (math.tan(now) - math.tan(before))
        found[f"aim {name}"] = aim_deg + math.degrees(pitch)
        found[f"rise {name}"] = up + lamp_ahead * (up - down) / length
    return found


Counts = dict[str, list[int]]


def tally(counts: Counts, name: str, holds: bool) -> None:  # noqa: FBT001 - the outcome itself
    """Count one job in which the ± was asked about."""
    row = counts.setdefault(name, [0, 0])
    row[0] += holds
    row[1] += 1


def shares(counts: Mapping[str, list[int]]) -> dict[str, float]:
    """Part of the jobs in which it held."""
    return {name: held / asked for name, (held, asked) in counts.items()}
