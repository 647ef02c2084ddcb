"""Job figures: what is computed from a session's readings before anything is judged."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from cornerwalk.assess.air_results import AirInputs, FittedLine, air_inputs, compute_air
from cornerwalk.assess.assessment import StageResult
from cornerwalk.assess.axles import AxleGains
from cornerwalk.assess.components import Components, components_of
from cornerwalk.assess.load_results import compute_gains
from cornerwalk.assess.stage_results import BodyFacts, StageFigures, compute_stages, job_facts
from cornerwalk.session.model import Session
from cornerwalk.standards import AimRule, Standards


@dataclass(frozen=True)
class JobFigures:
    """The components of uncertainty, the loads on the axles, and every stage; the air is computed when asked for."""

    session: Session
    standards: Standards
    components: Components
    rule: AimRule | None
    gains: AxleGains | None
    facts: BodyFacts
    stages: tuple[StageFigures, ...]

    @cached_property
    def results(self) -> tuple[StageResult, ...]:
        """The stages without the estimates behind them."""
        return tuple(each.result for each in self.stages)

    @cached_property
    def air_inputs(self) -> AirInputs:
        """What the air is computed from."""
        return air_inputs(self.session, self.standards, self.results, self.components)

    @cached_property
    def air(self) -> tuple[FittedLine, ...]:
        """Height against pressure, of the rear or of each side."""
        return compute_air(self.air_inputs)


def job_figures(session: Session, standards: Standards) -> JobFigures:
    """The figures of a session."""
    components = components_of(session, standards)
    rule = standards.aim_rules.get(session.lamps.rule) if session.lamps.rule is not None else None
    gains = compute_gains(session, components)
    facts = job_facts(session, standards, components, rule, gains)
    return JobFigures(session, standards, components, rule, gains, facts, compute_stages(session, facts))
