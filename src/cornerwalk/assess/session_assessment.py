"""Session assessment: everything a session means, from whatever it has recorded so far."""

from __future__ import annotations

from dataclasses import replace

from cornerwalk.assess.air import beam_per_air
from cornerwalk.assess.air_checks import AIR_CHECKS
from cornerwalk.assess.air_results import FittedLine, compute_air, compute_leak, compute_sides, compute_table
from cornerwalk.assess.assessment import Assessment, BeamPer, BudgetRow, ReadingTerms, ShiftBudget
from cornerwalk.assess.checks import Check, CheckContext, overall
from cornerwalk.assess.findings import rank_findings
from cornerwalk.assess.height_checks import HEIGHT_CHECKS
from cornerwalk.assess.lamp_checks import LAMP_CHECKS
from cornerwalk.assess.load_checks import LOAD_CHECKS
from cornerwalk.assess.load_results import compute_loads, compute_rate
from cornerwalk.assess.outlier import misreads
from cornerwalk.assess.stage_results import (
    StageFigures,
    compute_stages,
    reading_terms,
    screen_mm,
    with_misreads,
)
from cornerwalk.assess.uncertainty import ReadingParts, by_reading, quantum_u
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS, REFERENCE_STAGE
from cornerwalk.standards import AimRule, Standards

CHECKS: tuple[Check, ...] = (*HEIGHT_CHECKS, *LAMP_CHECKS, *LOAD_CHECKS, *AIR_CHECKS)
"""Every check, in the order in which results list them."""


def assess(session: Session, standards: Standards) -> Assessment:
    """What a session means: heights, attitude, lamps, loads, air, leak; checks made and not made; findings, ranked.

    A figure whose inputs are missing is None and is listed under `not_checked`.
    Never raises for a session that `fold` made.
    """
    terms = reading_terms(session, standards)
    rule = standards.aim_rules.get(session.lamps.rule) if session.lamps.rule is not None else None
    figures = compute_stages(session, terms, rule)
    outliers = misreads(session, figures)
    stages = with_misreads(figures, outliers.of_stage)
    loads = compute_loads(session, stages, standards)
    rate = compute_rate(loads.axles, stages)
    air = compute_air(session, stages)
    leak = compute_leak(session, standards)
    found = CheckContext(
        session=session,
        standards=standards,
        reading=terms,
        stages=stages,
        axles=loads.axles,
        carried_N=rate.carried_N,
        u_carried_N=rate.u_carried_N,
        air=tuple(each.result for each in air),
        leak=leak,
        restoration=loads.restoration,
        tickets=loads.tickets,
        against=loads.against,
        by_lever=loads.by_lever,
        misread_alarm=outliers.alarm,
        rule=rule,
    )
    for check in CHECKS:
        check(found)
    made, missing = tuple(found.made), tuple(found.missing)
    assessment = Assessment(
        reading=terms,
        stages=stages,
        axles=loads.axles,
        ride_rate_N_per_mm=rate.rate_N_per_mm,
        u_ride_rate_N_per_mm=rate.u_rate_N_per_mm,
        carried_N=rate.carried_N,
        u_carried_N=rate.u_carried_N,
        air=found.air,
        sides=compute_sides(session, stages, air),
        pressure_table=compute_table(session, stages, air, loads.axles.rear_gain_N),
        leak=leak,
        restoration=loads.restoration,
        verdicts=made,
        not_checked=missing,
        findings=(),
        overall=overall(made, missing),
        budget=_budget(session, figures, terms),
        beam=_beam_per(figures, air),
        screen_mm=screen_mm(session),
        rule=rule.id if rule is not None else session.lamps.rule,
        rule_title=rule.title if rule is not None else session.lamps.rule,
        rule_load_state=rule.load_state if rule is not None else "",
        aim_assumed=_aim_assumed(session, rule),
    )
    return replace(assessment, findings=rank_findings(session, assessment, standards))


def _aim_assumed(session: Session, rule: AimRule | None) -> bool:
    reference = session.first_stage(REFERENCE_STAGE)
    measured = reference is not None and reference.mark_mm is not None
    return session.lamps.aim_percent is None and not measured and rule is not None and rule.nominal_deg is not None


def _beam_per(figures: tuple[StageFigures, ...], air: tuple[FittedLine, ...]) -> BeamPer:
    beam = next((each.beam for each in reversed(figures) if each.beam is not None), None)
    per_rear = beam.shift_mm_per_rear_mm if beam is not None else None
    per_air = beam_per_air(air[0].line, per_rear) if len(air) == 1 else None
    return BeamPer(
        shift_mm_per_rear_mm=per_rear,
        shift_mm_per_kPa=per_air.shift_mm_per_kPa if per_air is not None else None,
        u_shift_mm_per_kPa=per_air.u_shift_mm_per_kPa if per_air is not None else None,
    )


def _budget(session: Session, figures: tuple[StageFigures, ...], terms: ReadingTerms) -> ShiftBudget | None:
    """The budget of the beam shift at the last stage that has one besides the unloaded stage."""
    last = next(
        (each for each in reversed(figures) if each.beam is not None and each.result.name != REFERENCE_STAGE), None
    )
    reference = session.first_stage(REFERENCE_STAGE)
    if last is None or reference is None or last.beam is None or last.beam.shift_budget is None:
        return None
    stage = session.stage(last.result.key)
    if stage is None:
        return None
    graduation_u = quantum_u(terms.graduation_mm)
    parts = {
        which: {
            corner: ReadingParts(
                graduation_u_mm=graduation_u,
                place_u_mm=terms.u_place_mm / max(1, len(record.corner(corner).readings)) ** 0.5,
            )
            for corner in CORNERS
        }
        for which, record in (("now", stage), ("unloaded", reference))
    }
    budget = by_reading(last.beam.shift_budget, parts["now"], parts["unloaded"])
    total_mm = budget.u
    rows = tuple(
        BudgetRow(source=source, contribution_mm=part_mm, share=(part_mm / total_mm) ** 2 if total_mm > 0 else 0.0)
        for source, part_mm in budget.contributions().items()
    )
    return ShiftBudget(
        stage=last.result.key,
        rows=rows,
        u_shift_mm=total_mm,
        u_shift_read_twice_mm=budget.with_repeats(2).u,
    )
