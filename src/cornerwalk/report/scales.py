"""The units figures are told in: for each kind of figure, the stored unit's size in the unit shown and its name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cornerwalk.quantity import Force, Length, Pressure, UnitSystem

Units = Literal["inch", "metric", "both"]
"""Both: inches, pounds and psi first, the metric figure in brackets after it."""

SYSTEMS: dict[Units, tuple[UnitSystem, ...]] = {
    "inch": ("inch",),
    "metric": ("metric",),
    "both": ("inch", "metric"),
}

Kind = Literal["length", "distance", "pressure", "weight", "rate", "slope", "torque"]


@dataclass(frozen=True, slots=True)
class Scale:
    """One unit: what is shown = what is stored · `factor`; `decimals` where nothing is known of the uncertainty."""

    factor: float
    unit: str
    decimals: int


_IN_PER_MM = Length.from_mm(1).inches
_PSI_PER_KPA = Pressure.from_kPa(1).psi
_LB_PER_N = Force.from_N(1).lbf

SCALES: dict[Kind, dict[UnitSystem, Scale]] = {
    # stored in mm
    "length": {"inch": Scale(_IN_PER_MM, "in", 2), "metric": Scale(1.0, "mm", 1)},
    # stored in mm, told over the road or to a wall
    "distance": {"inch": Scale(_IN_PER_MM / 12, "ft", 0), "metric": Scale(0.001, "m", 0)},
    # stored in kPa
    "pressure": {"inch": Scale(_PSI_PER_KPA, "psi", 1), "metric": Scale(1.0, "kPa", 0)},
    # stored in N; told as scales and rating labels do
    "weight": {"inch": Scale(_LB_PER_N, "lb", 0), "metric": Scale(Force.from_N(1).kgf, "kg", 0)},
    # stored in N/mm
    "rate": {"inch": Scale(_LB_PER_N / _IN_PER_MM, "lb/in", 0), "metric": Scale(1.0, "N/mm", 1)},
    # stored in mm/kPa
    "slope": {"inch": Scale(_IN_PER_MM / _PSI_PER_KPA, "in/psi", 4), "metric": Scale(1.0, "mm/kPa", 3)},
    # stored in N·m
    "torque": {"inch": Scale(_LB_PER_N * _IN_PER_MM * 1000 / 12, "lbf·ft", 1), "metric": Scale(1.0, "N·m", 1)},
}
