"""Check context: what the checks read, and where they put their results.

Each check is made against a limit with its source, or is listed as not checked with what it needs.
A check whose
inputs are missing never counts as passed. Ratings are held against what the axles carry; helper springs change neither.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import LiteralString

from cornerwalk.assess.assessment import (
    AirResult,
    AxleResult,
    CheckKind,
    CheckResult,
    LeakResult,
    NotChecked,
    Overall,
    ReadingTerms,
    Restoration,
    StageResult,
)
from cornerwalk.assess.axles import CarriedLoad
from cornerwalk.assess.components import Components
from cornerwalk.assess.ratings import RatingComparison
from cornerwalk.assess.verdict import Side, judge
from cornerwalk.assess.weighing import Tickets
from cornerwalk.session.model import Session, StageKey
from cornerwalk.standards import AimRule, Standards

_WORST_FIRST: tuple[Overall, ...] = ("fail", "conditional fail", "not checked", "conditional pass", "pass")


@dataclass(slots=True)
class CheckContext:
    """The session, its limits and its computed figures; the checks add to `made` and `missing`."""

    session: Session
    standards: Standards
    reading: ReadingTerms
    components: Components
    stages: tuple[StageResult, ...]
    axles: AxleResult
    carried: CarriedLoad | None
    air: tuple[AirResult, ...]
    leak: tuple[LeakResult, ...]
    restoration: Restoration | None
    tickets: Tickets
    against: tuple[RatingComparison, ...]
    by_lever: bool
    misread_alarm: bool
    rule: AimRule | None
    made: list[CheckResult] = field(default_factory=list)
    missing: list[NotChecked] = field(default_factory=list)

    def hold(
        self,
        kind: CheckKind,
        value: float,
        limit: float,
        *,
        U: float,
        unit: str,
        side: Side,
        source: str | None = None,
        standing: str | None = None,
        stage: StageKey | None = None,
    ) -> None:
        """Make a check, its figures in `unit`: `side` is the side of the limit on which a value is bad."""
        self.made.append(
            CheckResult(
                kind=kind,
                value=value,
                limit=limit,
                U=U,
                unit=unit,
                verdict=judge(value, limit, U, side),
                source=kind.source if source is None else source,
                standing=kind.standing if standing is None else standing,
                stage=stage,
            )
        )

    def need(
        self,
        kind: CheckKind,
        needs: LiteralString | None = None,
        *,
        fact: str | None = None,
        stage: StageKey | None = None,
    ) -> None:
        """List a check that could not be made; what it needs is what its kind says, unless otherwise given."""
        missing = kind.needs if needs is None else needs
        self.missing.append(NotChecked(kind=kind, needs=missing, fact=fact, stage_missed=stage))


def overall(made: tuple[CheckResult, ...], missing: tuple[NotChecked, ...]) -> Overall:
    """The worst of the verdicts. Not checked is worse than any pass, so a pass cannot hide it."""
    seen: set[str] = {check.verdict for check in made}
    if missing:
        seen.add("not checked")
    return next((verdict for verdict in _WORST_FIRST if verdict in seen), "not checked")


Check = Callable[[CheckContext], None]
