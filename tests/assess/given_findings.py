"""Findings from figures given to them: a meaning of which only this is known, and what is found in it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from cornerwalk.assess.assessment import (
    AirResult,
    Assessment,
    BeamPer,
    CheckResult,
    Finding,
    LampResult,
)
from cornerwalk.assess.findings import rank_findings
from cornerwalk.session.model import (
    JobFacts,
    Lamps,
    Session,
    Stage,
    Vehicle,
)
from tests.assess.given import KINDS, NO_AXLES
from tests.support.jobs import standards, worked_case

Fields = dict[str, float | str | None]


ALWAYS = "no-rating-raised"


RULED = replace(Session(), lamps=Lamps(rule="us-vol"), vehicle=Vehicle(levelling="none"))


FAR = JobFacts(datum="wheel centre to arch lip")
"""Heights from the wheel's centre, which have no tyre in them."""


def meaning(**known: Any) -> Assessment:
    """What a job means of which only this is known; the tape's uncertainty is stated."""
    fields: dict[str, Any] = dict.fromkeys(Assessment.__dataclass_fields__)
    fields |= dict.fromkeys(("stages", "air", "pressure_table", "leak", "verdicts", "not_checked", "findings"), ())
    reading = replace(worked_case().assessment.reading, assumed=())
    fields |= {"reading": reading, "axles": NO_AXLES, "rule_load_state": "", "aim_assumed": False, "screen_mm": 7620.0}
    fields |= {
        "overall": "not checked",
        "beam": dict.fromkeys(BeamPer.__dataclass_fields__),
        "carried_at_least": False,
        "k": {},
    }
    return Assessment(**(fields | known))


def found(session: Session | None = None, **known: Any) -> list[Finding]:
    """The findings, but for the one that always stands."""
    findings = rank_findings(session or replace(RULED, job=FAR), meaning(**known), standards())
    assert ALWAYS in {each.code for each in findings}
    return [each for each in findings if each.code != ALWAYS]


def finding(level: Any, code: str, stage: Any = None, source: Any = "", **fields: Any) -> Finding:
    """A finding as it must be told."""
    return Finding(code=code, level=level, fields=fields, stage=stage, source=source)


def check(name: str, verdict: Any = "fail", value: float = 2.0, limit: float = 1.0, **known: Any) -> CheckResult:
    """A check that was made."""
    fields = {"U": 0.1, "unit": "N", "source": f"source of {name}", "standing": "own", "stage": None}
    return CheckResult(kind=KINDS[name], value=value, limit=limit, verdict=verdict, **(fields | known))  # type: ignore[arg-type]


def lamp(**known: Any) -> LampResult:
    """A beam of which only this is known."""
    fields = dict.fromkeys(LampResult.__dataclass_fields__) | {"above_level": False, "k": {}}
    return LampResult(**(fields | known))  # type: ignore[arg-type]


def air(**known: Any) -> AirResult:
    """A fit of the rear of which only this is known."""
    fields: dict[str, Any] = dict.fromkeys(AirResult.__dataclass_fields__)
    fields |= {
        "where": "rear",
        "trials": (),
        "target": "",
        "extrapolated": False,
        "off_line": False,
        "u_holds": True,
        "k": {},
    }
    return AirResult(**(fields | known))


def only(findings: list[Finding], code: str) -> Finding:
    """The one of this code."""
    (one,) = [each for each in findings if each.code == code]
    return one


def codes(findings: list[Finding]) -> list[str]:
    """What was found, in order."""
    return [each.code for each in findings]


def at(*pressures: float | None, number: int = 1, **sides: Any) -> Stage:
    """A trial."""
    kPa = pressures[0] if pressures else None
    return Stage(name="fitted", number=number, begun_seq=1, begun_at="", pressure_kPa=kPa, **sides)
