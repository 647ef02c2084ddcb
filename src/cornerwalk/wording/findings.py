"""Findings in words: templates from the data file, filled with figures by the chosen wording."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from string import Formatter
from typing import get_args

from cornerwalk.assess.assessment import Finding
from cornerwalk.session.stages import Corner
from cornerwalk.standards import Standards
from cornerwalk.wording.answers import question_of
from cornerwalk.wording.figures import FigureText, Wording, not_known
from cornerwalk.wording.names import (
    air_place,
    answer_word,
    corner_name,
    is_stage_name,
    joint_name,
    level_word,
    slip_word,
    stage_name,
    stage_title,
)
from cornerwalk.words import number, tr, tr_parts
from cornerwalk.words.findings import finding_words
from cornerwalk.words.safe import harmless

Value = float | str | None

TRUE_OF_EVERY_JOB = frozenset(("assumed-uncertainty", "no-rating-raised", "retorque", "no-rule-chosen"))
"""Findings told in the results, not when they come up while readings are taken."""

FOR_THE_TECHNICIAN = frozenset(
    (
        "assumed-uncertainty",
        "one-trial",
        "no-rule-chosen",
        "rule-from-memory",
        "rule-load-state",
        "aim-assumed",
        "finer-than-tape",
        "rules-not-used",
    )
)
"""Notes for the technician that mean nothing to a customer; they are in the file report."""


def finding_text(finding: Finding, wording: Wording) -> FindingText:
    """The finding in words. A code without words is shown as its name and figures: nothing is held back."""
    words = finding_words().get(finding.code)
    if words is None:
        return _unworded(finding)
    fields = _fields(finding, wording)
    sentences = [words.text[0], *(s for s in words.text[1:] if _all_known(s, finding.fields))]
    return FindingText(
        level_word=level_word(finding.level),
        heading=tr(words.heading),
        text=" ".join(_filled(sentence, fields) for sentence in sentences),
        reason=_filled(words.reason, fields),
        action=_filled(words.action, fields),
        source=tr_parts(finding.source or words.source),
    )


def _unworded(finding: Finding) -> FindingText:
    figures = ", ".join(f"{name} {value}" for name, value in finding.fields.items() if value is not None)
    return FindingText(
        level_word=level_word(finding.level),
        heading=harmless(finding.code),
        text=harmless(f"{finding.code}: {figures}" if figures else finding.code),
        reason="",
        action="",
        source=harmless(finding.source),
    )


def _all_known(sentence: str, fields: Mapping[str, Value]) -> bool:
    return all(fields.get(name) is not None for name in _names_in(sentence) - {"stage"})


def _names_in(sentence: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(sentence) if name}


def _filled(sentence: str, fields: Mapping[str, _FieldText]) -> str:
    known = {name: fields.get(name, _FieldText(name, None, None, None)) for name in _names_in(sentence)}
    return tr(sentence, **known)


def _fields(finding: Finding, wording: Wording) -> dict[str, _FieldText]:
    stage = stage_title(finding.stage) if finding.stage is not None else tr("this job")
    fields = {"stage": _FieldText("stage", stage, None, wording)}
    for name, value in finding.fields.items():
        u = finding.fields.get(f"u_{name}")
        fields[name] = _FieldText(name, value, u if isinstance(u, float) else None, wording)
    return fields


@dataclass(frozen=True, slots=True)
class _FieldText:
    """A field of a template: `{rear_mm}` and `{rear_mm:change}` ask it for its value in words."""

    name: str
    value: Value
    u: float | None
    wording: Wording | None

    def __format__(self, how: str) -> str:
        """The value in words; `how` is one of those at the head of the data file."""
        if self.value is None or self.wording is None:
            return not_known()
        if isinstance(self.value, str):
            return _word(self.name, self.value)
        return self._figure(self.value, how, self.wording)

    def _figure(self, value: float, how: str, wording: Wording) -> str:
        match how:
            case "height":
                return wording.height_with_unit(value)
            case "screen":
                return wording.screen(value)
            case "aim":
                return wording.aim(value, self.u, None)
        sided: dict[str, FigureText] = {
            "change": wording.change_pm,
            "shift": wording.moved,
            "above": wording.above_mark,
            "gain": wording.gain,
        }
        text_of = sided.get(how)
        return _by_unit(self.name, value, self.u, wording) if text_of is None else text_of(value, self.u)


def _by_unit(name: str, value: float, u: float | None, wording: Wording) -> str:
    """The unit is the end of the field's name, as everywhere; the words around it name the side."""
    if name == "hours" or name.startswith("hours_"):
        return wording.hours(value)
    text_of = wording.in_unit(name.rpartition("_")[2])
    return number(f"{value:g}") if text_of is None else text_of(abs(value), u)


def _word(name: str, text: str) -> str:
    """A word of the program in the user's language; a text from outside made harmless."""
    text = harmless(text)
    if name == "corner" and text in get_args(Corner):
        return corner_name(text)  # type: ignore[arg-type]
    if name == "where" and is_stage_name(text):
        return stage_name(text)  # type: ignore[arg-type]
    if name in ("axle", "where", "line"):
        return air_place(text)
    if name == "slip":
        return slip_word(text)
    if name == "joint":
        return joint_name(text)
    if name in ("was", "now"):
        return answer_word(text)
    if name == "load_state":  # a sentence of the rule, inserted in one of the program's
        return tr(text).rstrip(".")
    return question_of(text) if name == "check" else tr(text)


# ---- rule files not used ----


def refused_rules(standards: Standards) -> str:
    """What is wrong with the first of them, with its line; empty where all are used. `cornerwalk rules` tells all."""
    if not standards.refused:
        return ""
    problem = standards.refused[0].lines(tr)[0]
    return tr("The job goes by the program's own rules, not by all of the shop's: {problem}", problem=problem)


@dataclass(frozen=True, slots=True)
class FindingText:
    """A finding in words: its level, what was found, why it matters, what to do next, and the source."""

    level_word: str
    heading: str
    text: str
    reason: str
    action: str
    source: str
