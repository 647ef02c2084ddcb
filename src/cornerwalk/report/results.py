"""Results document: every figure of an assessment for machines, field by field; its JSON Schema, from the same fields.

Each field has its name, kind and meaning once: document, schema, CSV and tables are made from here. The unit is the end
of the name. `u_…` is a standard uncertainty in the unit of the figure it belongs to; U is k·u, with k = 2 unless `k`
says otherwise. A figure that is not known is null, and `not_checked` says what it needs. Numbers read back to the same
value.

Changing a meaning is a new version of the format; adding a field is not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Literal

from cornerwalk import __version__
from cornerwalk.assess.assessment import Assessment, Finding, LeakResult
from cornerwalk.assess.next_act import next_act
from cornerwalk.session.checklist import packaged_checklists
from cornerwalk.session.model import Session
from cornerwalk.session.stages import CORNERS
from cornerwalk.wording.acts import act_text
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import finding_text

Kind = Literal["number", "text", "flag", "corners", "object", "list"]


@dataclass(frozen=True, slots=True)
class ResultField:
    """One field. `parts` are the fields of an object, or of each entry of a list; every field may be null."""

    name: str
    kind: Kind
    meaning: str
    parts: tuple[ResultField, ...] = ()
    read: Callable[[Any], Any] | None = None
    """Where it is not simply the attribute of that name."""


def number(name: str, meaning: str, read: Callable[[Any], Any] | None = None) -> ResultField:
    """A figure in the unit its name ends with."""
    return ResultField(name, "number", meaning, read=read)


def text(name: str, meaning: str, read: Callable[[Any], Any] | None = None) -> ResultField:
    """Words or a code."""
    return ResultField(name, "text", meaning, read=read)


def texts(name: str, meaning: str, read: Callable[[Any], Any] | None = None) -> ResultField:
    """Several texts."""
    return ResultField(name, "list", meaning, read=read)


def flag(name: str, meaning: str) -> ResultField:
    """True, false, or null for not known."""
    return ResultField(name, "flag", meaning)


def corners(name: str, meaning: str) -> ResultField:
    """A figure for each of LF, RF, RR, LR."""
    return ResultField(name, "corners", meaning)


def with_u(name: str, meaning: str) -> tuple[ResultField, ResultField]:
    """A figure and its standard uncertainty."""
    return number(name, meaning), number(f"u_{name}", f"standard uncertainty of {name}")


def stage_text(of: Any) -> str | None:
    """A stage's key as `fitted 2`."""
    return None if of.stage is None else f"{of.stage[0]} {of.stage[1]}"


def suspects_text(misread: Any) -> list[str]:
    """The readings that may be misread as `loaded 1 RR`."""
    return [f"{stage[0]} {stage[1]} {corner}" for stage, corner in misread.suspects]


READING = (
    number("graduation_mm", "distance of the tape's marks"),
    number("u_place_mm", "standard uncertainty of putting the tape on the same point"),
    number("u_read_mm", "standard uncertainty of one reading"),
    texts("assumed", "which of these are the program's defaults: graduation, place"),
)

K = ResultField("k", "object", "coverage factors by figure, where U is not 2u: of few readings k is larger")

LAMP = (
    *with_u("rise_mm", "rise of the lamp centre against unloaded"),
    *with_u("shift_mm", "movement of the dipped beam at the wall, relative to the lamp, up positive"),
    *with_u("wall_mm", "movement of the cut-off on the wall against its unloaded mark, up positive: rise + shift"),
    *with_u("aim_deg", "aim of the dipped beam against level, up positive"),
    *with_u("aim_percent", "100 times the tangent of the aim"),
    number("reach_m", "where the cut-off meets a level road; null with above_level true: never"),
    number("nearest_reach_m", "the cut-off may meet the road as near as this, within U of the aim"),
    flag("above_level", "whether the aim is above level"),
    K,
    flag("prediction_holds", "false with automatic levelling, null where the levelling is not stated"),
    *with_u("measured_wall_mm", "movement of the mark on the wall, as read"),
    *with_u("measured_aim_deg", "aim from the mark on the wall"),
    *with_u("measured_aim_percent", "the same in per cent"),
)

MISREAD = (
    text("corner", "the corner most likely misread; null where none stands out"),
    text("stage", "the stage of the reading", stage_text),
    text("slip", "the slip that would explain it"),
    number("likely_mm", "the height that would fit"),
    texts("suspects", "every reading it may be, the likeliest first", suspects_text),
)

STAGE = (
    text("name", "unloaded, loaded, fitted, fitted-unloaded, road-test or follow-up"),
    number("number", "its number among the stages of that name, from 1"),
    number("pressure_kPa", "gauge pressure in joined lines"),
    number("left_kPa", "gauge pressure in the left line"),
    number("right_kPa", "gauge pressure in the right line"),
    corners("height_mm", "height, the mean of the corner's readings"),
    corners("u_height_mm", "standard uncertainty of height_mm"),
    corners("delta_mm", "change of height against unloaded, up positive"),
    corners("u_delta_mm", "standard uncertainty of delta_mm"),
    *with_u("front_mm", "mean change of the two front corners"),
    *with_u("rear_mm", "mean change of the two rear corners"),
    number("front_height_mm", "mean height of the two front corners"),
    *with_u("rear_height_mm", "mean height of the two rear corners"),
    *with_u("rake_mm", "front mean height minus rear mean height"),
    number("side_front_mm", "left minus right height, front"),
    number("side_rear_mm", "left minus right height, rear"),
    number("u_side_mm", "standard uncertainty of side_front_mm and side_rear_mm"),
    *with_u("nose_up_deg", "pitch against unloaded, nose up positive"),
    *with_u("left_up_deg", "lean against unloaded, left up positive"),
    *with_u("warp_mm", "misread check: (LF - RF - LR + RR) / 4 of the changes"),
    *with_u("ball_mm", "change of height at the hitch ball"),
    K,
    ResultField("lamp", "object", "the dipped beam", LAMP),
    ResultField("misread", "object", "which reading looks misread; null where none does", MISREAD),
)

AXLES = (
    number("rear_gain_N", "what the stated loads add to the rear axle, by lever"),
    number("front_gain_N", "what the stated loads add to the front axle, by lever; negative: it is lightened"),
    number("u_rear_gain_N", "standard uncertainty of rear_gain_N"),
    number("u_front_gain_N", "standard uncertainty of front_gain_N"),
    *with_u("tongue_N", "tongue load, by scale tickets or as stated"),
    number("trailer_N", "weight of the trailer"),
    *with_u("tongue_share_percent", "tongue load as a share of the trailer's weight"),
    text("first_limit", "the rating reached first as the tongue load grows"),
    *with_u("load_until_first_limit_N", "the whole tongue load at which it is reached; 0: over without a trailer"),
)

TRIAL = (
    text("stage", "the trial", stage_text),
    number("pressure_kPa", "gauge pressure"),
    *with_u("height_mm", "height it gave"),
)

AIR = (
    text("where", "rear for joined lines, LR or RR for a line to each bag"),
    ResultField("trials", "list", "pressures tried", TRIAL),
    *with_u("c0_mm", "height without air on the line through the trials"),
    *with_u("c1_mm_per_kPa", "height gained with pressure"),
    number("cov_c0_c1", "covariance of c0_mm and c1_mm_per_kPa, mm²/kPa"),
    text("target", "unloaded height or beam level"),
    *with_u("target_mm", "height asked for"),
    *with_u("pressure_kPa", "gauge pressure that the line asks for"),
    number("low_kPa", "lower end of its 95 % interval"),
    number("high_kPa", "upper end of its 95 % interval"),
    flag("u_holds", "false: the slope is too unsure for u_pressure_kPa; use low_kPa to high_kPa"),
    number("recommended_kPa", "pressure to set: aimed_kPa on a mark of the gauge, within the kit's limits"),
    number("aimed_kPa", "pressure that leaves the rear guard_mm below the height asked for"),
    number("guard_mm", "how far below the height asked for the rear is aimed, so that a check of it passes"),
    text("held_at", "the kit's limit that recommended_kPa is at, minimum or maximum, where aimed_kPa lies beyond it"),
    number("above_mm", "how far the kit's minimum lifts the rear above the height asked for, where it does"),
    text("gauge_unit", "unit of the gauge's marks"),
    number("gauge_step_kPa", "distance of the gauge's marks"),
    K,
    *with_u("left_mm", "what remains to the height asked for at recommended_kPa"),
    number("short_of_level_mm", "how far below a level beam the rear stays, since its unloaded height is not passed"),
    flag("extrapolated", "more than half the span tried beyond the trials"),
    flag("off_line", "the trials do not lie on a line within what their readings allow"),
    text("reason", "why there is no line or no recommendation"),
    number("try_next_kPa", "the pressure to try next"),
    number("u_after_next_kPa", "what u_pressure_kPa would then be"),
)

SIDES = (
    number("left_kPa", "gauge pressure for the left bag, were its line its own; an estimate"),
    number("right_kPa", "the same for the right bag"),
    *with_u("tee_mm", "left rear above right, each from its unloaded height, at the pressure recommended for both"),
    *with_u("separate_mm", "the same at the two pressures"),
)

TABLE_ROW = (
    number("load_N", "tongue load"),
    *with_u("pressure_kPa", "gauge pressure reckoned for it"),
    number("recommended_kPa", "the same on a mark of the gauge within the kit's limits"),
    text("beyond", "below minimum or above maximum; null within the limits"),
)

LEAK = (
    text("line", "both, left or right"),
    number("hours", "how long the hold test lasted"),
    number("expected_kPa", "gauge pressure to be expected at the end, by the gas law"),
    number("read_kPa", "gauge pressure read at the end"),
    *with_u("loss_kPa", "expected minus read"),
    number("raw_loss_kPa", "pressure at the start minus pressure at the end, temperature not allowed for"),
    *with_u("per_day_kPa", "loss scaled to 24 hours"),
    flag("shorter", "whether the test lasted less than 24 hours"),
    *with_u("rate_kPa_per_h", "loss in an hour"),
    flag("rate_is_known", "whether the rate is more than its own U"),
    number("hours_to_minimum", "when the kit's minimum is reached at that rate"),
    number("hours_to_minimum_at_least", "the kit's minimum is reached no sooner, at the highest rate the test allows"),
    number("hours_needed", "how long a test with this gauge needs to tell, where this one was too short"),
    text("verdict", "pass, conditional pass, conditional fail or fail; null where it cannot be judged"),
    text("not_judged", "why there is no verdict"),
    flag("temperatures_known", "whether the temperature was read at both ends"),
    text("reason", "why there is no figure"),
)

VERDICT = (
    text("check", "what was held against a limit"),
    text("id", "the check's code"),
    text("stage", "at which stage, if at one", stage_text),
    number("value", "the value, in unit"),
    number("limit", "the limit, in unit"),
    number("U", "expanded uncertainty of the value, k·u"),
    text("unit", "mm, deg, %, kPa, N or a word"),
    text("verdict", "pass, conditional pass, conditional fail or fail"),
    text("source", "whose limit it is"),
    text("standing", "how well that source is known"),
)

NOT_CHECKED = (
    text("check", "what could not be held against a limit, or which figure is missing"),
    text("id", "the check's code"),
    text("needs", "what it needs"),
    text("fact", "where that is stated, if it is a fact"),
)

BUDGET_ROW = (
    text("source", "what adds to the uncertainty"),
    number("contribution_mm", "what it adds, as a standard uncertainty at the wall"),
    number("share", "its share of the variance, 0 to 1"),
)

BUDGET = (
    text("stage", "the stage whose beam it is", stage_text),
    ResultField("rows", "list", "sources", BUDGET_ROW),
    number("u_shift_mm", "standard uncertainty of the beam's movement"),
    number("u_shift_read_twice_mm", "the same if every corner were read twice"),
)

COMPONENT = (
    text("component", "what is not known exactly"),
    number("u", "its standard uncertainty, in unit"),
    text("unit", "mm, deg, %, kPa, K, N or N/mm"),
    text("origin", "measured, stated or assumed"),
)

BEAM = (
    number("shift_mm_per_rear_mm", "movement of the beam at the wall for each mm of rear height"),
    *with_u("shift_mm_per_kPa", "movement of the beam at the wall for each kPa of air"),
)


# ---- the document ----

FORMAT = "cornerwalk results"
VERSION = 2
"""Goes up when a field changes its meaning, unit or type, or is removed; not when a field is added."""

Json = dict[str, Any]

FINDING = (
    text("code", "what was found"),
    text("level", "note, caution or stop"),
    text("stage", "at which stage, if at one", stage_text),
    text("text", "the same in words, in the units the heights were typed in"),
    text("source", "whose word it is"),
    ResultField("fields", "object", "its figures, named with their units"),
)

NEXT_ACT = (
    text("code", "what to do next"),
    text("text", "the same in words, in the units the heights were typed in"),
    text("why", "why that is next"),
    text("stage", "at which stage, if at one", stage_text),
    text("corner", "which corner to read"),
    number("pressure_kPa", "the pressure to set in joined lines"),
    number("left_kPa", "the pressure to set in the left line"),
    number("right_kPa", "the pressure to set in the right line"),
    text("line", "which air line, of a hold test"),
    text("joint", "which joint to wet, or which bubbles"),
    text("check", "the question of a checklist that it answers"),
    text("since", "when it began to wait; null where it does not"),
    text("not_before", "until when it waits; null where it can be done at once"),
)

DOCUMENT = (
    text("format", "always: cornerwalk results"),
    number("version", "version of this format"),
    text("session", "id of the session"),
    text("program", "version of the program that computed this"),
    text("written_by", "version of the program that opened the session"),
    text("overall", "the worst verdict; not checked is worse than conditional pass"),
    ResultField("reading", "object", "how sure one reading is", READING),
    ResultField("stages", "list", "in the order recorded", STAGE),
    ResultField("axles", "object", "what the axles carry", AXLES),
    number("ride_rate_N_per_mm", "rear ride rate, the axle's gain over its drop; an estimate"),
    number("u_ride_rate_N_per_mm", "standard uncertainty of ride_rate_N_per_mm"),
    number("carried_N", "load carried by the helper springs at the last trial"),
    number("u_carried_N", "standard uncertainty of carried_N"),
    number("carried_low_N", "lower end of its 95 % interval, which is not symmetric"),
    number("carried_high_N", "upper end of its 95 % interval; null beside a lower end: not bounded"),
    flag("carried_at_least", "the springs carry at least carried_N; how much more is not known"),
    K,
    ResultField("components", "list", "every component of uncertainty that enters the figures", COMPONENT),
    ResultField("air", "list", "height against pressure, and the pressure for the target", AIR),
    ResultField("sides", "object", "what separate lines would do for a rear that shares one", SIDES),
    ResultField("pressure_table", "list", "pressure by load", TABLE_ROW),
    ResultField("leak", "object", "the hold test; of several lines the one that lost most", LEAK),
    ResultField("leaks", "list", "the hold test of every line", LEAK),
    number("falr_percent", "front-axle load restored by a load-distributing hitch"),
    number("u_falr_percent", "standard uncertainty of falr_percent"),
    text("falr_by", "weights or heights"),
    number("screen_mm", "distance of the wall"),
    text("rule", "id of the aim rule chosen; null where none was"),
    text("rule_title", "what that rule is called"),
    text("rule_load_state", "how the vehicle is to be loaded where the rule is applied; empty where it does not say"),
    flag("aim_assumed", "the aim when unloaded is the rule's nominal, neither stated nor measured"),
    ResultField("beam", "object", "what the beam does on this vehicle", BEAM),
    ResultField("budget", "object", "what makes up the uncertainty of the beam", BUDGET),
    ResultField("verdicts", "list", "every check that was made", VERDICT),
    ResultField("not_checked", "list", "every check that could not be made", NOT_CHECKED),
    ResultField("findings", "list", "what the technician should know, stops first", FINDING),
    ResultField("next_act", "object", "the one thing to do next, as of the last event", NEXT_ACT),
)


def results_document(session: Session, assessment: Assessment) -> Json:
    """The document, ready for JSON: the fixed names of the format, in their order."""
    restored = assessment.restoration
    whole: Json = {
        "format": FORMAT,
        "version": VERSION,
        "session": session.id,
        "program": __version__,
        "written_by": session.program,
        "leak": _worst(assessment.leak),
        "leaks": assessment.leak,
        "falr_percent": restored.percent if restored is not None else None,
        "u_falr_percent": restored.u_percent if restored is not None else None,
        "falr_by": restored.by if restored is not None else None,
        "findings": _findings(session, assessment),
        "next_act": _next_act(session, assessment),
    }
    return {
        field.name: _plain(field, whole[field.name] if field.name in whole else getattr(assessment, field.name))
        for field in DOCUMENT
    }


def _worst(leaks: Sequence[LeakResult]) -> LeakResult | None:
    return max(leaks, key=lambda leak: -1e9 if leak.loss_kPa is None else leak.loss_kPa, default=None)


def _findings(session: Session, assessment: Assessment) -> list[Json]:
    wording = _wording(session, assessment)
    return [_finding(finding, wording) for finding in assessment.findings]


def _wording(session: Session, assessment: Assessment) -> Wording:
    return Wording.for_tape("inch" if session.job.unit == "inch" else "metric", assessment.reading.graduation_mm)


def _next_act(session: Session, assessment: Assessment) -> Json:
    """The act by the packaged checklists; how long something waits is told as of the last event."""
    act = next_act(session, assessment, packaged_checklists())
    words = act_text(act, _wording(session, assessment), _as_of(session))
    fields = {field.name: getattr(act, field.name, None) for field in NEXT_ACT}
    return {**fields, "stage": stage_text(act), "text": words.text, "why": words.reason}


def _as_of(session: Session) -> datetime:
    """The time of the last event; long ago where it cannot be read, so that nothing is said to have ended."""
    try:
        moment = datetime.fromisoformat(session.last_at)
    except ValueError:
        return datetime.min.replace(tzinfo=UTC)
    return moment if moment.tzinfo is not None else moment.replace(tzinfo=UTC)


def _finding(finding: Finding, wording: Wording) -> Json:
    words = finding_text(finding, wording)
    return {
        "code": finding.code,
        "level": finding.level,
        "stage": stage_text(finding),
        "text": words.text,
        "source": words.source,
        "fields": dict(finding.fields),
    }


def _plain(field: ResultField, value: Any) -> Any:
    """A value in the form JSON has for its kind."""
    if value is None:
        return None
    match field.kind:
        case "corners":
            return {corner: value.get(corner) for corner in CORNERS}
        case "object":
            return _object(field.parts, value) if field.parts else value
        case "list":
            return [_object(field.parts, one) for one in value] if field.parts else list(value)
        case _:
            return value


def _object(fields: Iterable[ResultField], value: Any) -> Json:
    return {field.name: _plain(field, _read(field, value)) for field in fields}


def _read(field: ResultField, value: Any) -> Any:
    if isinstance(value, dict):
        return value[field.name]
    return field.read(value) if field.read is not None else getattr(value, field.name)


# ---- the schema ----


def results_schema() -> Json:
    """JSON Schema (draft 2020-12) of the document. Further fields are allowed, as a later program may add some."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": FORMAT,
        "description": (
            "u_ is a standard uncertainty, U an expanded one: k·u, k = 2 unless k says otherwise. "
            "Units end the names: mm, kPa (gauge), N, deg, "
            "percent, m, h. Corners LF RF RR LR are left and right front, right and left rear, as the driver sits."
        ),
        **_object_schema(DOCUMENT),
    }


_SCALARS: dict[str, Json] = {
    "number": {"type": ["number", "null"]},
    "text": {"type": ["string", "null"]},
    "flag": {"type": ["boolean", "null"]},
    "corners": {
        "type": ["object", "null"],
        "properties": {corner: {"type": ["number", "null"]} for corner in CORNERS},
        "required": list(CORNERS),
    },
}


def _schema(field: ResultField) -> Json:
    if field.kind in _SCALARS:
        body = _SCALARS[field.kind]
    elif field.kind == "list":
        entry = _object_schema(field.parts) if field.parts else {"type": "string"}
        body = {"type": ["array", "null"], "items": entry}
    else:
        body = _object_schema(field.parts)
        body = {**body, "type": ["object", "null"]}
    return {"description": field.meaning, **body}


def _object_schema(fields: Iterable[ResultField]) -> Json:
    parts = list(fields)
    if not parts:
        return {"type": "object"}
    return {
        "type": "object",
        "properties": {field.name: _schema(field) for field in parts},
        "required": [field.name for field in parts],
    }
