"""Results in words: table rows and sentences for stages, lamps, air and hold tests, for any report."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cornerwalk.assess.assessment import (
    AirResult,
    Assessment,
    LampResult,
    LeakResult,
    SidesResult,
    StageResult,
)
from cornerwalk.session.stages import LOADED_STAGES
from cornerwalk.wording.facts import choice_label
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import air_place, air_reason, stage_title
from cornerwalk.words import tr

Row = tuple[str, ...]


def before_and_now(assessment: Assessment) -> tuple[StageResult, ...]:
    """The stages a customer compares: loaded without air, and as it stands now; one where both are the same."""
    placed = [stage for stage in assessment.stages if stage.front_mm is not None or stage.rear_mm is not None]
    before = next((stage for stage in placed if stage.name == "loaded"), None)
    now = next((stage for stage in reversed(placed) if stage.name in LOADED_STAGES), None)
    chosen = [stage for stage in (before, now) if stage is not None]
    return tuple({stage.key: stage for stage in chosen}.values())


def body_rows(stages: Sequence[StageResult], wording: Wording) -> tuple[Row, ...]:
    """How each end moved and how the body stands, a column for each stage."""
    return (
        (tr("front"), *(wording.change_pm(s.front_mm, s.u_front_mm) for s in stages)),
        (tr("rear"), *(wording.change_pm(s.rear_mm, s.u_rear_mm) for s in stages)),
        (tr("body"), *(wording.tilt(s.nose_up_deg, s.u_nose_up_deg) for s in stages)),
        (tr("lean"), *(wording.lean(s.left_up_deg, s.u_left_up_deg) for s in stages)),
    )


def ball_row(stages: Sequence[StageResult], wording: Wording) -> Row:
    """How the hitch ball moved."""
    return (tr("hitch ball"), *(wording.change_pm(s.ball_mm, s.u_ball_mm) for s in stages))


def lamp_rows(stages: Sequence[StageResult], assessment: Assessment, wording: Wording) -> tuple[Row, ...]:
    """The low beam, a column for each stage: as computed, and as marked on the wall where it was."""
    lamps = [s.lamp for s in stages]
    if not any(lamps):
        return ()
    screen_mm = assessment.screen_mm

    def cells(text_of: Callable[[LampResult], str]) -> tuple[str, ...]:
        return tuple(text_of(lamp) if lamp is not None else tr("not known") for lamp in lamps)

    rows = [
        (tr("beam vs. headlight height"), *cells(lambda lamp: wording.beam(lamp.shift_mm, lamp.u_shift_mm, screen_mm))),
        (tr("cutoff on the wall"), *cells(lambda lamp: wording.wall(lamp.wall_mm, lamp.u_wall_mm, screen_mm))),
        (tr("beam"), *cells(lambda lamp: wording.aim(lamp.aim_deg, lamp.u_aim_deg, lamp.aim_percent))),
        (
            tr("cutoff hits level road"),
            *cells(lambda lamp: wording.reach(lamp.reach_m, lamp.nearest_reach_m, above_level=lamp.above_level)),
        ),
    ]
    if any(lamp is not None and lamp.measured_wall_mm is not None for lamp in lamps):
        rows += [
            (
                tr("marked on the wall"),
                *cells(lambda lamp: wording.wall(lamp.measured_wall_mm, lamp.u_measured_wall_mm, screen_mm)),
            ),
            (
                tr("beam by the wall mark"),
                *cells(
                    lambda lamp: wording.aim(lamp.measured_aim_deg, lamp.u_measured_aim_deg, lamp.measured_aim_percent)
                ),
            ),
        ]
    return tuple(rows)


def stage_head(stage: StageResult, wording: Wording) -> str:
    """A stage with its pressure: `fitted, trial 2, 25 psi`."""
    title = stage_title(stage.key)
    if stage.pressure_kPa is not None:
        return f"{title}, {wording.pressure(stage.pressure_kPa)}"
    if stage.left_kPa is not None and stage.right_kPa is not None:
        left, right = wording.pressure(stage.left_kPa), wording.pressure(stage.right_kPa)
        return tr("{stage}, left {left}, right {right}", stage=title, left=left, right=right)
    return title


def stage_heads(stages: Sequence[StageResult], wording: Wording) -> Row:
    """The head of a table with a column for each stage."""
    return ("", *(stage_head(stage, wording) for stage in stages))


def air_sentences(air: AirResult, wording: Wording) -> tuple[str, ...]:
    """The pressure that brings the rear to the target, its uncertainty, and what remains to the target."""
    where = air_place(air.where)
    if air.recommended_kPa is None:
        why = air_reason(air.reason) or tr("the height or the trials are missing")
        return (tr("{where}: no recommendation: {why}.", where=where, why=why),)
    sentences = [
        tr(
            "{where}: set {recommended}. For the {target} the trials call for {pressure}.",
            where=where,
            recommended=wording.pressure(air.recommended_kPa),
            target=choice_label("kit.target", air.target),
            pressure=_asked_for(air, wording),
        )
    ]
    if air.left_mm:
        sentences.append(
            tr(
                "At the pressure to set, {left} remains to that height.",
                left=wording.length(abs(air.left_mm), air.u_left_mm),
            )
        )
    return tuple(sentences)


def _asked_for(air: AirResult, wording: Wording) -> str:
    """With ± where that is true, else with the interval, which is not symmetric."""
    if air.u_holds or air.low_kPa is None or air.high_kPa is None:
        return wording.pressure(air.pressure_kPa, air.u_pressure_kPa)
    return tr(
        "{pressure} (between {low} and {high})",
        pressure=wording.pressure(air.pressure_kPa),
        low=wording.pressure(air.low_kPa),
        high=wording.pressure(air.high_kPa),
    )


def sides_sentence(sides: SidesResult, wording: Wording) -> str:
    """What separate lines would do where one line serves both bags."""
    return tr(
        "Sides at the pressure recommended for both: {tee}. With a line to each bag, {left} on the left and {right} on "
        "the right would leave: {separate}. An estimate.",
        tee=wording.sides(sides.tee_mm, sides.u_tee_mm),
        left=wording.pressure(sides.left_kPa),
        right=wording.pressure(sides.right_kPa),
        separate=wording.sides(sides.separate_mm, sides.u_separate_mm),
    )


def leak_sentence(leak: LeakResult, wording: Wording) -> str:
    """The result of a hold test."""
    line = air_place(leak.line)
    if leak.loss_kPa is None:
        return tr("Leak-down test, {line}: not finished.", line=line)
    text = tr(
        "Leak-down test, {line}: {read} after {hours}, {raw} less than at the start. Corrected for temperature, "
        "{expected} was expected: {loss} lost.",
        line=line,
        hours=wording.hours(leak.hours),
        raw=wording.pressure(leak.raw_loss_kPa),
        expected=wording.pressure(leak.expected_kPa),
        read=wording.pressure(leak.read_kPa),
        loss=wording.pressure(leak.loss_kPa, leak.u_loss_kPa),
    )
    if leak.shorter and leak.per_day_kPa is not None:
        in_a_day = wording.pressure(leak.per_day_kPa, leak.u_per_day_kPa)
        text += " " + tr("In 24 hours that would be {loss}.", loss=in_a_day)
    if leak.hours_to_minimum is None:
        return text
    return f"{text} " + tr(
        "At this rate the minimum is reached in {hours}.", hours=wording.hours(leak.hours_to_minimum)
    )
