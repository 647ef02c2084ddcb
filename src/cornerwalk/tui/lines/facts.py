"""Facts of the register as lines of a chapter: what the form asks on its own page, asked here where it is met."""

from __future__ import annotations

from collections.abc import Sequence

from cornerwalk.session.events import Happening
from cornerwalk.session.facts import FACTS
from cornerwalk.standards import AimRule
from cornerwalk.tui.answers.say_back import Refusal, SayBack, refusal
from cornerwalk.tui.fields import Field, fact_field, stated, taken_back, understood
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.line import Line, Option, Part, Texts, one
from cornerwalk.wording.names import standing_word
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless

AIM_RULE = "lamps.rule"


def fact_lines(job: OpenJob, names: Sequence[str], group: str) -> tuple[Line, ...]:
    """A line for each of these facts, under one heading."""
    return tuple(_line(job, fact_field(job.session, FACTS[name]), group) for name in names)


def _line(job: OpenJob, field: Field, group: str) -> Line:
    value = harmless(field.value)

    def keeps(texts: Texts) -> SayBack:
        try:
            would = stated(job, field, texts[0])
        except Refusal as error:
            return refusal(error)
        return _said_back(job, field, would)

    label = capital(field.label)
    return Line(
        id=field.name,
        name=field.label,
        group=group,
        stands=tr(value) if field.choices and value else value,
        mark="done" if value else "open",
        part=one(
            Part(
                question=f"{label}?",
                options=_options(job, field),
                stands=value,
                hint=_hint(field),
                told=_told(job, field),
            )
        ),
        keeps=keeps,
        costs=field.cost,
        takes_out=taken_back(job.session, field),
    )


def _hint(field: Field) -> str:
    return tr("for example {example}", example=field.hint) if field.hint else ""


def _said_back(job: OpenJob, field: Field, would: tuple[Happening, ...]) -> SayBack:
    meant = understood(field, would[0]) if would else ""
    value = getattr(would[0], "value", None) if would else None
    large = job.wording.height(value) if field.name.startswith("vehicle.") and isinstance(value, float) else ""
    return SayBack(
        large=large if field.hint.endswith(("in", "mm")) else "",
        lines=(("ink", meant),) if meant else (),
        would=would,
    )


def _options(job: OpenJob, field: Field) -> tuple[Option, ...]:
    if field.name != AIM_RULE:
        return tuple(Option(str(place), tr(choice), choice) for place, choice in enumerate(field.choices, start=1))
    rules = job.context.standards().aim_rules.values()
    return tuple(Option(str(place), _rule_words(rule), rule.id) for place, rule in enumerate(rules, start=1))


def _rule_words(rule: AimRule) -> str:
    """A rule by its id; one that nobody could look up says so wherever it is chosen."""
    if rule.standing != "memory":
        return rule.id
    return tr("{rule} ({standing})", rule=rule.id, standing=standing_word(rule.standing))


def _told(job: OpenJob, field: Field) -> tuple[str, ...]:
    """What a chosen aim rule is, in its own words."""
    rule = job.context.standards().aim_rules.get(field.value) if field.name == AIM_RULE else None
    return () if rule is None else (harmless(rule.title),)
