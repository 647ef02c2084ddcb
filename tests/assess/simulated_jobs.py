"""Honest jobs made by statics, for asking how often the misread check is wrong.

Nothing here uses the program's own ideas of what is likely: vehicles, loads and people are drawn as below, and the
readings rounded to a tape's marks.

- Vehicle: wheelbase 2.4 to 4.0 m, front arch 620 to 860 mm, the rear up to 50 mm higher or 20 mm lower; every arch lip
  off by 4 mm (s.d.) of its own; ride rates 35 to 130 N/mm an axle.
- Floor: each wheel's spot off by 3 mm (s.d.), the same at every stage.
- Load: a tongue of 600 to 4000 N at 0.8 to 1.4 m behind the rear axle, in half the jobs cargo of up to 4500 N anywhere
  from 0.8 m behind to 1.8 m ahead of it, and a lean of 4 mm (s.d.) at the arches.
- Springs: 0.08 to 0.24 mm/kPa; pressures of 10 to 35 psi, not always rising.
- Friction: each end settles 1.5 mm (s.d.) off at every stage, the lean 1 mm.
- Person and tape: the tape is put 1/32 in (s.d.) off the point; the height is read to the nearest mark.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.rigid_body import StageHeights, Tape
from cornerwalk.assess.uncertainty import reading_u_mm
from cornerwalk.session.stages import CORNERS
from tests.support.units import IN

PLACE_MM = IN / 32


@dataclass(frozen=True)
class Measure:
    """A tape: how it is marked, and which kind of slips are made with it."""

    name: str
    graduation_mm: float
    kind: Tape


TAPES = (Measure("1/16 in", IN / 16, "inch"), Measure("1/32 in", IN / 32, "inch"), Measure("1 mm", 1.0, "metric"))


@dataclass
class SimulatedJob:
    """Heights as read, stage by stage in the order LF, RF, RR, LR, and the air at each."""

    heights_mm: list[list[float]]
    air_kPa: list[float]
    measure: Measure

    def walked(self) -> list[StageHeights]:
        """The job as the misread check takes it."""
        u_mm = reading_u_mm(self.measure.graduation_mm, PLACE_MM)
        return [
            StageHeights(
                heights={corner: Estimate(h, u_mm) for corner, h in zip(CORNERS, heights, strict=True)},
                loaded=stage > 0,
                air_kPa=air_kPa,
            )
            for stage, (heights, air_kPa) in enumerate(zip(self.heights_mm, self.air_kPa, strict=True))
        ]


def honest_job(rng: random.Random, measure: Measure, trials: int) -> SimulatedJob:
    """An unloaded stage, a loaded one, and so many with air."""
    wheelbase, front = rng.uniform(2400, 4000), rng.uniform(620, 860)
    rear = front + rng.uniform(-20, 50)
    arches = [h + rng.gauss(0, 4) - rng.gauss(0, 3) for h in (front, front, rear, rear)]
    front_rate, rear_rate = rng.uniform(35, 130), rng.uniform(35, 130)
    tongue, overhang = rng.uniform(600, 4000), rng.uniform(800, 1400)
    cargo, ahead = (rng.uniform(0, 4500), rng.uniform(-800, 1800)) if rng.random() < 0.5 else (0.0, 0.0)
    front_up = (tongue * overhang - cargo * ahead) / wheelbase / front_rate
    rear_up = -(tongue * (wheelbase + overhang) + cargo * (wheelbase - ahead)) / wheelbase / rear_rate
    lean, per_kPa = rng.gauss(0, 4), rng.uniform(0.08, 0.24)
    air_kPa = [0.0, 0.0] + [rng.choice((10, 15, 20, 25, 30, 35)) * 6.894757 for _ in range(trials)]
    heights = []
    for stage, air in enumerate(air_kPa):
        loaded = float(stage > 0)
        f = loaded * front_up + rng.gauss(0, 1.5)
        r = loaded * rear_up + per_kPa * air + rng.gauss(0, 1.5)
        side = (loaded * lean + rng.gauss(0, 1)) / 2
        true = (arches[0] + f + side, arches[1] + f - side, arches[2] + r - side, arches[3] + r + side)
        heights.append([_read(h, rng, measure) for h in true])
    return SimulatedJob(heights, air_kPa, measure)


def _read(true_mm: float, rng: random.Random, measure: Measure) -> float:
    return round((true_mm + rng.gauss(0, PLACE_MM)) / measure.graduation_mm) * measure.graduation_mm
