"""Form: one field for each fact of the register and for each load, with what a text would state there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Option, Part, Question, Texts, one
from cornerwalk.job.reply import Refusal, Reply, refusal
from cornerwalk.session.events import Event, FactStated, LoadStated
from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.model import Session
from cornerwalk.session.statements import SEPARATOR, remove_load, state_fact, state_load
from cornerwalk.session.walk import EntryError
from cornerwalk.standards import AimRule
from cornerwalk.wording.facts import as_stated, choice_called, choice_label, cost_of_skip, fact_cost, fact_name
from cornerwalk.wording.facts import understood as fact_understood
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.names import standing_word
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless

Section = Literal["vehicle", "lamps", "kit", "trailer", "job", "air", "limits"]

SECTIONS: dict[Section, tuple[str, ...]] = {
    "vehicle": ("vehicle",),
    "lamps": ("lamps",),
    "kit": ("kit",),
    "trailer": ("hitch", "trailer", "scale"),
    "job": ("job", "tape"),
    "air": ("leak", "table"),
    "limits": ("limits", "service", "uncertainty"),
}
"""The parts of the register on each page of the form."""

TONGUE = "trailer tongue"
ANOTHER_LOAD = "another load"


def section_name(section: Section) -> str:
    """What a page of the form is called."""
    return {
        "vehicle": tr("vehicle"),
        "lamps": tr("headlights"),
        "kit": tr("kit"),
        "trailer": tr("hitch and loads"),
        "job": tr("job"),
        "air": tr("leak and table"),
        "limits": tr("limits"),
    }[section]


@dataclass(frozen=True, slots=True)
class Field:
    """One line: what it is called, what stands there, what leaving it out costs, what may be typed."""

    name: str
    label: str
    value: str
    cost: str = ""
    choices: tuple[str, ...] = ()
    hint: str = ""


def fields_of(session: Session, section: Section) -> tuple[Field, ...]:
    """The lines of a page."""
    facts = [fact for fact in FACTS.values() if fact.part in SECTIONS[section]]
    fields = [fact_field(session, fact) for fact in facts]
    return (*fields, *_load_fields(session)) if section == "trailer" else tuple(fields)


def fact_field(session: Session, fact: Fact) -> Field:
    """The line of one fact."""
    return Field(
        name=fact.name,
        label=fact_name(fact.name),
        value=session.fact_text(fact.name),
        cost=fact_cost(fact.name),
        choices=fact.choices,
        hint=fact.example[session.job.unit != "inch"],
    )


def _load_fields(session: Session) -> tuple[Field, ...]:
    loads = {load.name: load for load in session.loads}
    others = [name for name in loads if name != TONGUE]
    fields = [
        Field(
            name=f"load.{TONGUE}",
            label=tr("tongue weight"),
            value=session.entered.get(f"load.{TONGUE}.weight", "") if TONGUE in loads else "",
            cost=cost_of_skip(tr("no axle loads, no ride rate, no pressure for other loads")),
            hint="410 lb" if session.job.unit == "inch" else "186 kg",
        )
    ]
    for name in others:
        weight, place = (session.entered.get(f"load.{name}.{what}", "") for what in ("weight", "place"))
        fields.append(Field(name=f"load.{name}", label=name, value=f"{weight}, {place}"))
    example = "cargo; 200 lb; 20 in ahead" if session.job.unit == "inch" else "cargo; 90 kg; 500 mm ahead"
    return (*fields, Field(name=ANOTHER_LOAD, label=tr("another load"), value="", hint=example))


def stated(job: OpenJob, field: Field, text: str) -> tuple[Event, ...]:
    """What typing this text into a line would record.

    Raises:
        QuantityError: it is no quantity of the kind asked for.
        EntryError: it is none of the choices, or cannot be stated now.
    """
    session = job.session
    if field.name == ANOTHER_LOAD:
        return (_another_load(session, text),)
    if field.name.startswith("load."):
        return (_load_again(session, field.name.removeprefix("load."), text),)
    if field.name == "job.datum" and any(stage.corners for stage in session.stages):
        raise EntryError("heights are read already: all of a job are measured from the same point")
    typed = text.strip()
    if field.choices and typed.isdecimal() and 1 <= int(typed) <= len(field.choices):
        typed = field.choices[int(typed) - 1]
    typed = choice_called(field.name, typed)
    return (state_fact(field.name, typed, session.job.unit),)


def _load_again(session: Session, name: str, text: str) -> Event:
    place = session.entered.get(f"load.{name}.place", "").split(" ahead of")[0].split(" behind")[0]
    behind = session.entered.get(f"load.{name}.place", "behind").rfind("behind") >= 0
    if name == TONGUE and not place:
        place = session.entered.get("vehicle.ball_overhang", "")
        if not place:
            raise EntryError("first enter how far the ball is behind the rear axle (vehicle)")
    return state_load(name, text, place=place, side="behind" if behind else "ahead of", unit=session.job.unit)


def _another_load(session: Session, text: str) -> Event:
    parts = [part.strip() for part in text.split(SEPARATOR)]
    if len(parts) != 3:
        raise EntryError("three things with a semicolon between: what it is; its weight; how far ahead or behind")
    name, weight, place = parts
    distance, _, side = place.rpartition(" ")
    if side not in ("ahead", "behind"):
        raise EntryError("say at the end whether it is ahead or behind the rear axle: 20 in ahead")
    return state_load(
        name, weight, place=distance, side="behind" if side == "behind" else "ahead of", unit=session.job.unit
    )


def taken_back(session: Session, field: Field) -> tuple[Event, ...]:
    """What takes a line back; nothing where nothing stands there."""
    if not field.value:
        return ()
    if field.name.startswith("load."):
        return (remove_load(field.name.removeprefix("load."), [load.name for load in session.loads]),)
    return (FactStated(name=field.name, entered="", value=None),)


def understood(event: Event) -> str:
    """What a statement means, in both systems where that helps."""
    both = Wording("both")
    match event:
        case FactStated(value=str(words)):
            return words
        case FactStated(name=name, value=value):
            return fact_understood(FACTS[name], value, both)
        case LoadStated(weight_N=weight_N):
            return both.weight(weight_N)
        case _:
            return ""


def fact_in(text: str) -> tuple[str, str] | None:
    """A fact's name at the beginning of a text, and the rest: `wheelbase 119 in`, `kit's maximum pressure 35 psi`.

    Taken by its register name, by its key where only one has it, or by what it is called on screen.
    """
    keys = [fact.key for fact in FACTS.values()]
    called = {fact_name(name).casefold(): name for name in FACTS} | {name.casefold(): name for name in FACTS}
    called |= {fact.key: name for name, fact in FACTS.items() if keys.count(fact.key) == 1}
    called |= {key.replace("_", " "): name for key, name in called.items() if key in keys}
    folded = text.casefold()
    for key in sorted(called, key=len, reverse=True):
        if folded == key or folded.startswith((f"{key} ", f"{key}:", f"{key}=")):
            return called[key], text[len(key) :].lstrip(" :=").strip()
    return None


# ---- Facts of the register as lines of a chapter: what the form asks on its own page, asked here where it is met ----


AIM_RULE = "lamps.rule"


def fact_lines(job: OpenJob, names: Sequence[str], group: str) -> tuple[Question, ...]:
    """A line for each of these facts, under one heading."""
    return tuple(_line(job, fact_field(job.session, FACTS[name]), group) for name in names)


def _line(job: OpenJob, field: Field, group: str) -> Question:
    value = harmless(field.value)

    def keeps(texts: Texts) -> Reply:
        try:
            would = stated(job, field, texts[0])
        except Refusal as error:
            return refusal(error)
        return _said_back(job, field, would)

    label = capital(field.label)
    return Question(
        id=field.name,
        name=field.label,
        group=group,
        stands=as_stated(field.name, value),
        mark="done" if value else "open",
        part=one(
            Part(
                question=f"{label}?",
                options=_options(job, field),
                stands=value,
                hint=_example(field),
                told=_told(job, field),
                words=_in_words(field),
            )
        ),
        keeps=keeps,
        costs=field.cost,
        takes_out=taken_back(job.session, field),
    )


def _example(field: Field) -> str:
    return tr("for example {example}", example=field.hint) if field.hint else ""


def _in_words(field: Field) -> bool:
    """Any words may be its value."""
    return FACTS[field.name].kind == "text" and field.name != AIM_RULE


def _said_back(job: OpenJob, field: Field, would: tuple[Event, ...]) -> Reply:
    meant = understood(would[0]) if would else ""
    value = getattr(would[0], "value", None) if would else None
    large = job.wording.height(value) if field.name.startswith("vehicle.") and isinstance(value, float) else ""
    return Reply(
        large=large if field.hint.endswith(("in", "mm")) else "",
        meant=meant,
        would=would,
    )


def _options(job: OpenJob, field: Field) -> tuple[Option, ...]:
    if field.name != AIM_RULE:
        return tuple(
            Option(str(place), choice_label(field.name, choice), choice)
            for place, choice in enumerate(field.choices, start=1)
        )
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
