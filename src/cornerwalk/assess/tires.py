"""Tires: the compliance of an axle's tires, and how far a load presses them together.

n tires of vertical rate k give way by load/(n·k). One rate holds for all tires of a vehicle, so its error is one
source wherever it enters; its uncertainty is that of the compliance 1/k, in which everything here is linear.
"""

from __future__ import annotations

from dataclasses import dataclass

from cornerwalk.assess.axles import AxleGains
from cornerwalk.assess.components import Components
from cornerwalk.assess.estimate import ErrorSource, Estimate, combine
from cornerwalk.assess.friction import Axle
from cornerwalk.assess.usable import positive
from cornerwalk.session.model import Session
from cornerwalk.standards import Standards

TIRES_AN_AXLE = 2.0


@dataclass(frozen=True, slots=True)
class AxleSquash:
    """How much lower the body stands on each axle because its tires were pressed together, mm; up is negative."""

    front: Estimate
    rear: Estimate


def compliance_mm_per_N(
    rate_N_per_mm: float, tires: float, u_percent: float, source: ErrorSource | None = None
) -> Estimate:
    """The compliance of an axle's tires, from the rate of one.

    >>> round(compliance_mm_per_N(250.0, 2, 25).value, 6), round(compliance_mm_per_N(250.0, 2, 25).u, 6)
    (0.002, 0.0005)
    """
    value = 1 / (rate_N_per_mm * tires)
    return Estimate(value, value * u_percent / 100, source)


def axle_compliance(session: Session, standards: Standards, components: Components, axle: Axle) -> Estimate:
    """The compliance of an axle's tires in a session, mm/N: the rate stated, else the assumed one."""
    stated = session.vehicle.tire_rate_N_per_mm
    rate = stated if positive(stated) else standards.limits["tire-rate"].value
    rear = session.vehicle.tires_rear if axle == "rear" else None
    tires = rear if positive(rear) else TIRES_AN_AXLE
    return compliance_mm_per_N(rate, tires, components.u("tire rate"), components.source("tire rate"))


def squash_mm(gain_N: Estimate, compliance: Estimate) -> Estimate:
    """How far a gain presses an axle's tires together.

    >>> round(squash_mm(Estimate(3669.783), compliance_mm_per_N(250.0, 2, 25)).value, 2)
    7.34
    """
    value = gain_N.value * compliance.value
    return combine(value, (compliance.value, gain_N), (gain_N.value, compliance))


def axle_squash(session: Session, standards: Standards, components: Components, gains: AxleGains) -> AxleSquash:
    """What the loads do to the tires of both axles."""
    front, rear = (axle_compliance(session, standards, components, axle) for axle in ("front", "rear"))
    return AxleSquash(front=squash_mm(gains.front, front), rear=squash_mm(gains.rear, rear))
