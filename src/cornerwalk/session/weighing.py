"""Passes over a scale: typed weights → what is recorded of them. One pass may be typed an axle at a time."""

from __future__ import annotations

from typing import Literal, get_args

from cornerwalk.quantity import read_force
from cornerwalk.session.happenings import Weighing, WeighingRecorded
from cornerwalk.session.parts import Session
from cornerwalk.session.statements import bare_units

Axle = Literal["front", "rear", "trailer"]

WEIGHINGS: tuple[Weighing, ...] = get_args(Weighing)
AXLES: tuple[Axle, ...] = get_args(Axle)


def axles_weighed(weighing: Weighing) -> tuple[Axle, ...]:
    """What stands on the scale in this pass; there is no trailer in the first."""
    return AXLES[:2] if weighing == "unhitched" else AXLES


def weighing_entered(session: Session, weighing: Weighing, axle: Axle) -> str:
    """The weight of an axle in a pass as it was typed, empty where it was not."""
    return session.entered.get(f"weighing.{weighing}.{axle}", "")


def record_weight(session: Session, weighing: Weighing, axle: Axle, text: str) -> WeighingRecorded:
    """The pass with the weight of one axle typed anew; the others stay as they are. An empty text takes it out.

    Raises:
        QuantityError: the text is no weight.
    """
    known = session.weighings.get(weighing)
    entered = {each: weighing_entered(session, weighing, each) for each in AXLES}
    forces = {each: getattr(known, f"{each}_N") if known is not None else None for each in AXLES}
    entered[axle] = text.strip()
    forces[axle] = read_force(text, bare=bare_units(session.job.unit)["force"]).N if entered[axle] else None
    return WeighingRecorded(
        weighing=weighing,
        front_entered=entered["front"],
        front_N=forces["front"],
        rear_entered=entered["rear"],
        rear_N=forces["rear"],
        trailer_entered=entered["trailer"],
        trailer_N=forces["trailer"],
    )
