"""The intake: facts one by one, then the loads. Everything may be left out; what that costs is said at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cornerwalk.line.job import OpenJob
from cornerwalk.line.reply import Refusal, Reply, chosen, numbered, refused, unit_said
from cornerwalk.quantity import read_force, read_length
from cornerwalk.session.chapters import INTAKE_FACTS
from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.model import Session
from cornerwalk.session.statements import AxleSide, bare_units, remove_load, state_fact, state_load
from cornerwalk.wording.facts import as_stated, fact_cost, fact_name, place_as_stated, understood
from cornerwalk.words import capital, tr

JOB_FACTS = ("job.title", "job.kind", "job.second_reader", "job.customer", "job.complaint", "job.site")
TAPE_FACTS = ("tape.graduation",)
LATER_FACTS = ("scale.step", "table.drop_allowed", "table.loads", "limits.side_to_side", "service.retorque_distance")


WITHOUT_SPRINGS = ("kit", "table", "service", "leak")
"""Parts that a load check has no use for."""


def intake_facts(session: Session) -> tuple[str, ...]:
    """Every fact the intake asks for in this kind of job, in its order."""
    names = (*JOB_FACTS, *TAPE_FACTS, *INTAKE_FACTS, *LATER_FACTS)
    if session.job.kind == "load check":
        return tuple(name for name in names if FACTS[name].part not in WITHOUT_SPRINGS)
    return names


def facts_of(part: str) -> tuple[str, ...]:
    """The facts of one part of the register; empty where there is no such part."""
    return tuple(name for name, fact in FACTS.items() if fact.part == part)


def intake(session: Session, after: str = "") -> FactAsked | LoadAsked:
    """The first fact not stated yet, or the first one after another; then the loads."""
    names = intake_facts(session)
    begin = names.index(after) + 1 if after in names else 0
    return _first(session, names, begin) or LoadAsked()


def _first(session: Session, names: Sequence[str], begin: int) -> FactAsked | None:
    for place in range(begin, len(names)):
        if names[place] not in session.entered:
            return FactAsked(tuple(names), place)
    return None


@dataclass(frozen=True, slots=True)
class FactAsked:
    """One fact of a row of them; `again` asks for those too that are stated already."""

    names: tuple[str, ...]
    place: int
    again: bool = False

    @property
    def name(self) -> str:
        """The fact's name in the register."""
        return self.names[self.place]

    @property
    def free(self) -> bool:
        """Whether it is told in words."""
        return FACTS[self.name].kind == "text"

    def prompt(self, job: OpenJob) -> str:
        """`Wheelbase, in in (6 of 31):`."""
        name, unit = capital(fact_name(self.name)), _unit(FACTS[self.name], job.session)
        stands = as_stated(self.name, job.session.fact_text(self.name))
        place = tr("{place} of {all}", place=self.place + 1, all=len(self.names))
        if stands:
            return tr("{fact} ({place}; {stands} stands):", fact=name, place=place, stands=stands)
        if unit:
            return tr("{fact}, {unit} ({place}):", fact=name, unit=unit, place=place)
        return tr("{fact} ({place}):", fact=name, place=place)

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """The choices, where there are some; at the first fact how to leave."""
        said = []
        if self.place == 0 and len(self.names) > 1:
            said.append(tr("Enter leaves a fact out, leave ends the questions; nothing typed is lost."))
        if self.name == "lamps.rule":
            said += numbered(tuple(f"{rule.id}: {tr(rule.title)}" for rule in job.standards.aim_rules.values()))
        return (*said, *numbered(tuple(tr(choice) for choice in FACTS[self.name].choices)))

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The fact as typed, a choice by its number, or nothing."""
        if not text:
            stands = self.name in job.session.entered
            return Reply(said=() if stands else cost(self.name), then=self._next(job))
        reply = stated(job, self.name, text)
        return reply if reply.refused else replace(reply, then=self._next(job))

    def _next(self, job: OpenJob) -> FactAsked | LoadAsked | None:
        if self.again:
            follows = self.place + 1 < len(self.names)
            return replace(self, place=self.place + 1) if follows else None
        if self.names != intake_facts(job.session):
            return _first(job.session, self.names, self.place + 1)
        return _first(job.session, self.names, self.place + 1) or LoadAsked()


def stated(job: OpenJob, name: str, text: str) -> Reply:
    """A fact as typed; `-` takes it back."""
    if text == "-":
        text = ""
    fact = FACTS.get(name)
    choices = fact.choices if fact is not None else ()
    if name == "lamps.rule":
        choices = tuple(job.standards.aim_rules)
    place = chosen(text, len(choices)) if choices else None
    if place is not None:
        text = choices[place]
    if name == "lamps.rule" and text and text not in choices:
        return Reply(said=(tr("There is no aim rule {rule}; cornerwalk rules lists them.", rule=text),), refused=True)
    try:
        what = state_fact(name, _choice(fact, text), job.session.job.unit)
    except Refusal as error:
        return refused(error)
    if what.value is None:
        return Reply(events=(what,), kept=tr("{fact} taken back.", fact=capital(fact_name(name))))
    meant = understood(FACTS[name], what.value, job.wording)
    entered = as_stated(name, what.entered)
    entered = f"{entered} ({meant})" if meant and meant != entered else entered
    told = tr("{fact}: {entered}.", fact=capital(fact_name(name)), entered=entered)
    return Reply(events=(what,), kept=told)


def _choice(fact: Fact | None, text: str) -> str:
    """The choice that a word of the user's language stands for; any other text as it is."""
    if fact is not None:
        for choice in fact.choices:
            if text.casefold() == tr(choice).casefold():
                return choice
    return text


def cost(name: str) -> tuple[str, ...]:
    """What leaving a fact out costs; nothing where nothing hangs on it."""
    told = fact_cost(name)
    return (f"{capital(told)}.",) if told else ()


def named(text: str) -> tuple[str, str] | None:
    """A fact's name at the beginning of a text, and the rest: `wheelbase 119 in`, `kit maximum pressure 35 psi`.

    Taken by its register name, by its key where only one has it, or by what it is called on screen.
    """
    spoken = {fact_name(name).casefold(): name for name in FACTS} | {n.casefold(): n for n in FACTS}
    keys = [fact.key for fact in FACTS.values()]
    for name, fact in FACTS.items():
        if keys.count(fact.key) == 1:
            spoken[fact.key] = name
            spoken[fact.key.replace("_", " ")] = name
    folded = text.casefold()
    for called in sorted(spoken, key=len, reverse=True):
        if folded == called or folded.startswith((f"{called} ", f"{called}:", f"{called}=")):
            return spoken[called], text[len(called) :].lstrip(" :=").strip()
    return None


def _unit(fact: Fact, session: Session) -> str:
    """The unit of a bare number for this fact, as it is said."""
    unit = bare_units(session.job.unit).get("force" if fact.kind == "forces" else fact.kind, "")
    return unit_said(unit)


@dataclass(frozen=True, slots=True)
class LoadAsked:
    """A load: its name, then its weight, then its place, then on which side of the rear axle that lies."""

    name: str = ""
    weight: str = ""
    place: str = ""

    @property
    def free(self) -> bool:
        """Its name is told in words."""
        return not self.name

    def prompt(self, job: OpenJob) -> str:
        """What of it is due."""
        bare = {kind: unit_said(unit) for kind, unit in bare_units(job.session.job.unit).items()}
        if not self.name:
            return tr("Name of a load, such as trailer tongue; Enter for none:")
        if not self.weight:
            return tr("Weight of {load}, {unit}:", load=self.name, unit=bare["force"])
        if not self.place:
            return tr("How far from the rear axle, {unit}:", unit=bare["length"])
        return tr("Behind the rear axle? y, or n for ahead of it:")

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """The loads that are known already."""
        if self.name or not job.session.loads:
            return ()
        names = ", ".join(load.name for load in job.session.loads)
        return (tr("Stated: {loads}. The same name again replaces one.", loads=names),)

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The next part of it; the last one has it recorded."""
        bare = bare_units(job.session.job.unit)
        if not text and self.name:
            return Reply(said=(tr("This load is left out."),), then=LoadAsked())
        if not text:
            return Reply(said=() if job.session.loads else (tr("Without loads the axles are not checked."),))
        try:
            if not self.name:
                return Reply(then=replace(self, name=text))
            if not self.weight:
                read_force(text, bare=bare["force"])
                return Reply(then=replace(self, weight=text))
            if not self.place:
                read_length(text, bare=bare["length"])
                return Reply(then=replace(self, place=text))
            side = _side(text)
            if side is None:
                return Reply(said=(tr("y or n"),), refused=True)
            what = state_load(self.name, self.weight, place=self.place, side=side, unit=job.session.job.unit)
        except Refusal as error:
            return refused(error)
        place = place_as_stated(what.place_entered)
        kept = tr("Load {name}: {weight}, {place}.", name=what.name, weight=what.entered, place=place)
        return Reply(events=(what,), kept=kept, then=LoadAsked())


def _side(text: str) -> AxleSide | None:
    folded = text.casefold()
    if folded in ("y", "yes", "1", "behind", tr("yes").casefold(), tr("behind").casefold()):
        return "behind"
    if folded in ("n", "no", "2", "ahead", "ahead of", tr("no").casefold(), tr("ahead").casefold()):
        return "ahead of"
    return None


def load_removed(job: OpenJob, name: str) -> Reply:
    """A load taken off the list."""
    try:
        what = remove_load(name, [load.name for load in job.session.loads])
    except Refusal as error:
        return refused(error)
    return Reply(events=(what,), kept=tr("Load {name} taken off.", name=name))
