"""Pressure gauge: its unit, its marks, and the highest mark at or below a pressure."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.usable import positive
from cornerwalk.session.model import Session

GaugeUnit = Literal["psi", "bar", "kPa"]

PSI_KPA = 4.4482216152605 / 0.0254**2 / 1000
"""One psi in kPa, exact by the definitions of inch, pound and standard gravity."""

KPA_OF: dict[GaugeUnit, float] = {"psi": PSI_KPA, "bar": 100.0, "kPa": 1.0}

USUAL_STEP_KPA: dict[GaugeUnit, float] = {"psi": PSI_KPA, "bar": 10.0, "kPa": 10.0}
"""Marks of a gauge that nobody described: 1 psi, 0.1 bar, 10 kPa; common practice, no source."""

ON_A_MARK = 1e-6
"""Part of a step by which a pressure may miss a mark and still be on it."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """A gauge by its marks, and the unit they are in."""

    step_kPa: float
    unit: GaugeUnit

    def at_or_below_kPa(self, pressure_kPa: float) -> float:
        """The highest mark that is not above a pressure.

        >>> gauge = Gauge(PSI_KPA, "psi")
        >>> round(gauge.at_or_below_kPa(33.3504 * PSI_KPA) / PSI_KPA, 9)
        33.0
        """
        return math.floor(pressure_kPa / self.step_kPa + ON_A_MARK) * self.step_kPa

    def at_or_above_kPa(self, pressure_kPa: float) -> float:
        """The lowest mark that is not below a pressure."""
        return math.ceil(pressure_kPa / self.step_kPa - ON_A_MARK) * self.step_kPa


def gauge_of(session: Session) -> Gauge:
    """The gauge of a session, as stated; else one with the usual marks in the unit that pressures were typed in."""
    unit = _unit(session)
    step_kPa = session.leak.gauge_graduation_kPa
    return Gauge(step_kPa if positive(step_kPa) else USUAL_STEP_KPA[unit], unit)


def gauge_step_kPa(session: Session) -> float:
    """Distance of the gauge's marks."""
    return gauge_of(session).step_kPa


def _unit(session: Session) -> GaugeUnit:
    """The unit that the gauge, the last trials or the kit's limits were typed in, else what goes with the tape."""
    usual: GaugeUnit = "psi" if session.job.unit == "inch" else "bar"
    return next((unit for text in _typed(session) if (unit := unit_of_text(text)) is not None), usual)


def _typed(session: Session) -> Iterator[str]:
    yield session.entered.get("leak.gauge_graduation", "")
    for stage in reversed(session.stages):
        for text in (stage.pressure_entered, stage.left_entered, stage.right_entered):
            if text is not None:
                yield text
    for fact in ("kit.max", "kit.min"):
        yield session.entered.get(fact, "")


def unit_of_text(typed: str) -> GaugeUnit | None:
    """The unit that a typed pressure ends in; None where it has none.

    >>> unit_of_text("1.8 bar"), unit_of_text("25 PSIG"), unit_of_text("25")
    ('bar', 'psi', None)
    """
    text = typed.strip().casefold()
    if text.endswith(("psi", "psig")):
        return "psi"
    if text.endswith(("bar", "bars", "mbar", "mb")):
        return "bar"
    return "kPa" if text.endswith("kpa") else None
