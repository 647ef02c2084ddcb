"""A check in words: what it is called, the value with its ±, the limit, the verdict, and whose limit it is."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from cornerwalk.assess import air_checks, height_checks, lamp_checks, load_checks
from cornerwalk.assess.assessment import Assessment, CheckKind, CheckResult, NotChecked
from cornerwalk.assess.estimate import COVERAGE
from cornerwalk.assess.height_checks import BRAKE_VALVE, REAR_HEIGHT
from cornerwalk.assess.lamp_checks import BELOW_LEVEL, RULE_LIMITS
from cornerwalk.assess.plausibility import Remark
from cornerwalk.session.model import StageKey
from cornerwalk.session.stages import SIBLING, Corner
from cornerwalk.wording.figures import Wording, graduation_label
from cornerwalk.wording.names import corner_name, stage_title, standing_word, verdict_word
from cornerwalk.words import number, tr, tr_parts
from cornerwalk.words.safe import harmless


@dataclass(frozen=True, slots=True)
class CheckText:
    """A check in words, a column each."""

    name: str
    value: str
    limit: str
    verdict: str
    source: str


def check_name(check: CheckResult | NotChecked) -> str:
    """What a check is called, with the stage it was made at, or could not be made at."""
    stage = check.stage if isinstance(check, CheckResult) else check.stage_missed
    return kind_name(check.kind.name, stage)


def kind_name(name: str, stage: StageKey | None) -> str:
    """A kind of check by its English name, at a stage: `side to side, front (loaded, no air)`."""
    return tr(name) if stage is None else tr("{check} ({stage})", check=tr(name), stage=stage_title(stage))


def recorded_name(code: str) -> str:
    """What a check is called that documents and exported tables call so; the text itself where none is."""
    label = _names_by_code().get(code)
    return code if label is None else tr(label)


@cache
def _names_by_code() -> dict[str, str]:
    found: dict[str, str] = {}
    for module in (air_checks, height_checks, lamp_checks, load_checks):
        for value in vars(module).values():
            kinds = value.values() if isinstance(value, dict) else (value,)
            found |= {kind.code: kind.name for kind in kinds if isinstance(kind, CheckKind)}
    return found


def check_text(check: CheckResult, wording: Wording) -> CheckText:
    """The check's columns."""
    value, limit = _value_and_limit(check, wording)
    source = harmless(check.source)
    return CheckText(
        name=check_name(check),
        value=value,
        limit=limit,
        verdict=verdict_word(check.verdict),
        source=tr("{source} ({standing})", source=tr_parts(source), standing=standing_word(check.standing)),
    )


def check_sentence(check: CheckResult, wording: Wording) -> str:
    """`rear axle against its rating: 2950 lb ± 20, limit 3100 lb: pass`."""
    text = check_text(check, wording)
    return tr(
        "{check}: {value}, limit {limit}: {verdict}",
        check=text.name,
        value=text.value,
        limit=text.limit,
        verdict=text.verdict,
    )


def unchecked_names(assessment: Assessment) -> tuple[str, ...]:
    """What the checks that could not be made are called, each once."""
    return tuple(dict.fromkeys(check_name(missing) for missing in assessment.not_checked))


def _value_and_limit(check: CheckResult, wording: Wording) -> tuple[str, str]:
    u = check.U / COVERAGE or None
    if check.kind in (BELOW_LEVEL, *RULE_LIMITS.values()):
        return _aim_words(check, u)
    if check.kind == REAR_HEIGHT:
        return wording.change_pm(check.value, u), tr("unloaded height")
    if check.kind == BRAKE_VALVE:
        return tr("present") if check.value else tr("not equipped"), tr("not equipped")
    text_of = wording.in_unit(check.unit)
    if text_of is not None:
        return text_of(check.value, u), text_of(check.limit, None)
    counted = {"joints with bubbles": tr("joints with bubbles")}.get(check.unit, check.unit)
    return f"{number(f'{check.value:g}')} {counted}", number(f"{check.limit:g}")


def _aim_words(check: CheckResult, u: float | None) -> tuple[str, str]:
    """Aim against level: a side in words, since down is negative here and positive elsewhere."""
    text_of = _angle_words if check.unit == "deg" else _percent_words
    return text_of(check.value, u), tr("level") if check.limit == 0 else text_of(check.limit, None)


def _angle_words(deg: float, u: float | None) -> str:
    figure = Wording("metric").degrees(abs(deg), u)
    return tr("{figure} above level", figure=figure) if deg > 0 else tr("{figure} below level", figure=figure)


def _percent_words(percent: float, u: float | None) -> str:
    figure = Wording("metric").percent(abs(percent), u)
    return tr("{figure} up", figure=figure) if percent > 0 else tr("{figure} down", figure=figure)


# ---- remarks on typed heights ----


ONLY_TOLD = ("finer than the tape",)
"""Remarks that ask for no second look: the height is kept as typed."""


def remark_words(remark: Remark, corner: Corner, wording: Wording) -> str:
    """What is remarkable, and what the height was held against."""
    against = wording.height_with_unit(remark.against_mm)
    apart = wording.length(abs(remark.apart_mm)) if remark.apart_mm is not None else wording.length(None)
    match remark.code:
        case "finer than the tape":
            marks = graduation_label(remark.against_mm) if remark.against_mm is not None else against
            return tr("Finer than the tape's {marks} graduation: used as typed.", marks=marks)
        case "unlikely height":
            return tr("That is not a normal wheel-opening height.")
        case "looks like cm":
            likely = wording.height_with_unit(remark.likely_mm)
            return tr("Looks like centimeters: that would be {likely}.", likely=likely)
        case "looks like mm":
            likely = wording.height_with_unit(remark.likely_mm)
            return tr("Looks like millimeters: that would be {likely}.", likely=likely)
        case "repeats differ":
            return tr("{apart} off the reading already here, {against}.", apart=apart, against=against)
        case "far from its other side":
            other = corner_name(SIBLING[corner])
            return tr("{apart} from {corner}, {against}.", apart=apart, corner=other, against=against)
        case "side difference changed":
            return tr("{apart} off what the other side's change suggests, {against}.", apart=apart, against=against)
        case "far from its earlier stage":
            return tr("{apart} off the last stage here, {against}.", apart=apart, against=against)
        case "off the other three":
            return tr("{apart} off what the other three corners suggest, {against}.", apart=apart, against=against)
