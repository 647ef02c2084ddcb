"""The checks: each made against a limit with its source, or listed as not checked with what it needs.

A check whose inputs are missing never counts as passed. Every rating is held against what the axles carry; helper
springs change neither.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from cornerwalk.assess.assessment import (
    AirResult,
    AxleResult,
    CheckResult,
    LeakResult,
    NotChecked,
    Overall,
    ReadingTerms,
    Restoration,
    StageResult,
)
from cornerwalk.assess.ratings import AgainstRating
from cornerwalk.assess.verdict import Side, judge
from cornerwalk.assess.weighing import Tickets
from cornerwalk.session.model import Session, StageKey
from cornerwalk.standards import AimRule, Standards

_WORST_FIRST: tuple[Overall, ...] = ("fail", "conditional fail", "not checked", "conditional pass", "pass")


@dataclass(slots=True)
class Found:
    """What the checks are made from: the session, its limits, and what has been computed of it."""

    session: Session
    standards: Standards
    reading: ReadingTerms
    stages: tuple[StageResult, ...]
    axles: AxleResult
    carried_N: float | None
    u_carried_N: float | None
    air: tuple[AirResult, ...]
    leak: tuple[LeakResult, ...]
    restoration: Restoration | None
    tickets: Tickets
    against: tuple[AgainstRating, ...]
    by_lever: bool
    misread_alarm: bool
    rule: AimRule | None
    made: list[CheckResult] = field(default_factory=list)
    missing: list[NotChecked] = field(default_factory=list)

    def hold(
        self,
        check: str,
        value: float,
        limit: float,
        *,
        U: float,
        unit: str,
        side: Side,
        source: str,
        standing: str,
        stage: StageKey | None = None,
    ) -> None:
        """Make a check, its figures in `unit`: `side` is the side of the limit on which a value is bad."""
        verdict = judge(value, limit, U, side)
        self.made.append(
            CheckResult(
                check=check,
                value=value,
                limit=limit,
                U=U,
                unit=unit,
                verdict=verdict,
                source=source,
                standing=standing,
                stage=stage,
            )
        )

    def need(self, check: str, needs: str, fact: str | None = None) -> None:
        """List a check that could not be made."""
        self.missing.append(NotChecked(check=check, needs=needs, fact=fact))


def overall(made: tuple[CheckResult, ...], missing: tuple[NotChecked, ...]) -> Overall:
    """The worst of the verdicts. What was not checked is worse than any pass and cannot be hidden by one."""
    seen: set[str] = {check.verdict for check in made}
    if missing:
        seen.add("not checked")
    return next((verdict for verdict in _WORST_FIRST if verdict in seen), "not checked")


Check = Callable[[Found], None]
