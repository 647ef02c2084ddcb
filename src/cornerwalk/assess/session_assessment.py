"""Session assessment: everything a session means, from whatever it has recorded so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cornerwalk.assess.air import beam_per_air
from cornerwalk.assess.air_checks import AIR_CHECKS
from cornerwalk.assess.air_results import FittedLine, compute_leak, compute_sides, compute_table
from cornerwalk.assess.assessment import Assessment, BeamPer, BudgetRow, ComponentRow, ShiftBudget
from cornerwalk.assess.checks import Check, CheckContext, overall
from cornerwalk.assess.components import Components, screen_mm
from cornerwalk.assess.estimate import COVERAGE, Budget
from cornerwalk.assess.findings import rank_findings
from cornerwalk.assess.height_checks import HEIGHT_CHECKS
from cornerwalk.assess.job_figures import job_figures
from cornerwalk.assess.lamp_checks import LAMP_CHECKS
from cornerwalk.assess.load_checks import LOAD_CHECKS
from cornerwalk.assess.load_results import RateFigures, compute_loads, compute_rate
from cornerwalk.assess.outlier import misreads
from cornerwalk.assess.stage_results import StageFigures, reading_terms, with_misreads
from cornerwalk.session.model import Session
from cornerwalk.session.stages import REFERENCE_STAGE
from cornerwalk.standards import AimRule, Standards

CHECKS: tuple[Check, ...] = (*HEIGHT_CHECKS, *LAMP_CHECKS, *LOAD_CHECKS, *AIR_CHECKS)
"""Every check, in the order in which results list them."""


def assess(session: Session, standards: Standards) -> Assessment:
    """What a session means: heights, attitude, lamps, loads, air, leak; checks made and not made; findings, ranked.

    A figure whose inputs are missing is None and is listed under `not_checked`.
    Never raises for a session that `fold` made.
    """
    figures = job_figures(session, standards)
    components, gains, rule = figures.components, figures.gains, figures.rule
    outliers = misreads(session, figures.stages)
    stages = with_misreads(figures.stages, outliers.of_stage)
    loads = compute_loads(session, stages, components, gains)
    rate = compute_rate(session, standards, components, gains, stages)
    carried = rate.carried
    leak = compute_leak(session, standards, components, figures.air, carried.force_N if carried else None)
    terms = reading_terms(session, standards, components)
    context = CheckContext(
        session=session,
        standards=standards,
        reading=terms,
        components=components,
        stages=stages,
        axles=loads.axles,
        carried=carried,
        air=tuple(each.result for each in figures.air),
        leak=leak,
        restoration=loads.restoration,
        tickets=loads.tickets,
        against=loads.against,
        by_lever=loads.by_lever,
        misread_alarm=outliers.alarm,
        rule=rule,
    )
    for check in CHECKS:
        check(context)
    made, missing = tuple(context.made), tuple(context.missing)
    assessment = Assessment(
        reading=terms,
        stages=stages,
        axles=loads.axles,
        ride_rate_N_per_mm=rate.rate.value if rate.rate else None,
        u_ride_rate_N_per_mm=rate.rate.u if rate.rate else None,
        carried_N=carried.force_N if carried else None,
        u_carried_N=carried.u_force_N if carried else None,
        carried_low_N=carried.low_N if carried else None,
        carried_high_N=carried.high_N if carried else None,
        carried_at_least=carried.at_least if carried else False,
        air=context.air,
        sides=compute_sides(figures.air_inputs, figures.air),
        pressure_table=compute_table(figures.air_inputs, figures.air, gains),
        leak=leak,
        restoration=loads.restoration,
        verdicts=made,
        not_checked=missing,
        findings=(),
        overall=overall(made, missing),
        components=_component_rows(components),
        k=_factors(rate),
        budget=_budget(figures.stages),
        beam=_beam_per(figures.stages, figures.air),
        screen_mm=screen_mm(session),
        rule=rule.id if rule is not None else session.lamps.rule,
        rule_title=rule.title if rule is not None else session.lamps.rule,
        rule_load_state=rule.load_state if rule is not None else "",
        aim_assumed=_aim_assumed(session, rule),
    )
    return replace(assessment, findings=rank_findings(session, assessment, standards))


def _factors(rate: RateFigures) -> dict[str, float]:
    factors = {
        "ride_rate_N_per_mm": rate.rate.k if rate.rate else COVERAGE,
        "carried_N": rate.carried.k if rate.carried else COVERAGE,
    }
    return {name: k for name, k in factors.items() if k != COVERAGE}


def _component_rows(components: Components) -> tuple[ComponentRow, ...]:
    return tuple(
        ComponentRow(component=row.name, u=row.u, unit=row.unit, origin=row.origin) for row in components.rows.values()
    )


def _aim_assumed(session: Session, rule: AimRule | None) -> bool:
    reference = session.first_stage(REFERENCE_STAGE)
    measured = reference is not None and reference.mark_mm is not None
    return session.lamps.aim_percent is None and not measured and rule is not None and rule.nominal_deg is not None


def _beam_per(figures: Sequence[StageFigures], air: Sequence[FittedLine]) -> BeamPer:
    beam = next((each.beam for each in reversed(figures) if each.beam is not None), None)
    per_rear = beam.shift_mm_per_rear_mm if beam is not None else None
    per_air = beam_per_air(air[0].line, per_rear) if len(air) == 1 else None
    return BeamPer(
        shift_mm_per_rear_mm=per_rear,
        shift_mm_per_kPa=per_air.shift_mm_per_kPa if per_air is not None else None,
        u_shift_mm_per_kPa=per_air.u_shift_mm_per_kPa if per_air is not None else None,
    )


def _budget(figures: Sequence[StageFigures]) -> ShiftBudget | None:
    """The budget of the beam shift at the last stage that has one besides the unloaded stage."""
    last = next(
        (each for each in reversed(figures) if each.beam is not None and each.result.name != REFERENCE_STAGE), None
    )
    if last is None or last.beam is None or last.beam.shift_mm is None:
        return None
    budget = Budget(last.beam.shift_mm)
    total_mm = budget.u
    rows = tuple(
        BudgetRow(source=source, contribution_mm=part_mm, share=(part_mm / total_mm) ** 2 if total_mm > 0 else 0.0)
        for source, part_mm in budget.contributions().items()
    )
    return ShiftBudget(
        stage=last.result.key,
        rows=rows,
        u_shift_mm=total_mm,
        u_shift_read_twice_mm=budget.u_with_repeats(2),
    )
