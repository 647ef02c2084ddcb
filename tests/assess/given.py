"""Checks on figures given to them, one at a time: what they make of a job of which only this is known."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from cornerwalk.assess.assessment import (
    NO_ESTIMATES,
    AxleResult,
    CheckKind,
    CheckResult,
    LeakResult,
    NotChecked,
    StageResult,
)
from cornerwalk.assess.checks import Check, CheckContext
from cornerwalk.assess.components import components_of
from cornerwalk.assess.weighing import Tickets
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS, StageName
from tests.support.checks import check_kinds
from tests.support.jobs import standards, worked_case

NO_AXLES = AxleResult(rear_gain_N=None, front_gain_N=None)

Made = dict[str, CheckResult]
Asked = dict[str, tuple[str, str | None]]


KINDS: dict[str, CheckKind] = {kind.id: kind for kind in check_kinds()}
"""Every kind of check by its id."""


def key_of(check: CheckResult | NotChecked) -> str:
    """A check by its id, and by its stage where each stage has its own: `heights fitted 2`."""
    at = check.stage if isinstance(check, CheckResult) and check.kind.by_stage else None
    stage = check.stage_missed if isinstance(check, NotChecked) else at
    return check.id if stage is None else f"{check.id} {stage[0]} {stage[1]}"


def tickets(**known: float) -> Tickets:
    """Scale tickets of which only this is known."""
    return Tickets(**(dict.fromkeys(Tickets.__dataclass_fields__) | known))  # type: ignore[arg-type]


def stage(name: StageName, number: int = 1, **known: Any) -> StageResult:
    """A stage of which only this is known; all its corners were read."""
    fields: dict[str, Any] = dict.fromkeys(StageResult.__dataclass_fields__)
    for of_corners in ("height_mm", "u_height_mm", "delta_mm", "u_delta_mm"):
        fields[of_corners] = dict.fromkeys(CORNERS, 700.0)
    fields |= {"estimates": NO_ESTIMATES, "k": {}}
    return StageResult(**(fields | {"name": name, "number": number} | known))


def leak(**known: Any) -> LeakResult:
    """A hold test of both bags over a day; 3 ± 2 · 0.5 kPa were lost, and passed, unless otherwise given."""
    fields: dict[str, Any] = dict.fromkeys(LeakResult.__dataclass_fields__)
    fields |= {"line": "both", "hours": 24.0, "loss_kPa": 3.0, "u_loss_kPa": 0.5, "verdict": "pass"}
    return LeakResult(**(fields | {"per_day_kPa": 3.0, "u_per_day_kPa": 0.5} | known))


def result(
    key: str, figures: tuple[float, float, float, str], verdict: Any, basis: tuple[str, Any], of: Any = None
) -> CheckResult:
    """A check as it must be made: value, limit, U and unit; source and standing; and the stage it is of."""
    known = dict(zip(("value", "limit", "U", "unit", "source", "standing"), (*figures, *basis), strict=True))
    return CheckResult(kind=KINDS[key.partition(" ")[0]], verdict=verdict, stage=of, **known)


def checked(checks: Sequence[Check], session: Session | None = None, **known: Any) -> tuple[Made, Asked]:
    """What these checks make of it, and what they ask for."""
    given: dict[str, Any] = {
        "stages": (),
        "axles": NO_AXLES,
        "restoration": None,
        "tickets": tickets(),
        "against": (),
        "by_lever": False,
        "carried": None,
        "leak": (),
        "misread_alarm": False,
        "rule": None,
    }
    session = session or Session()
    found = CheckContext(
        session=session,
        standards=standards(),
        components=components_of(session, standards()),
        reading=worked_case().assessment.reading,
        air=(),
        **(given | known),
    )
    for check in checks:
        check(found)
    return {key_of(made): made for made in found.made}, {key_of(m): (m.needs, m.fact) for m in found.missing}
