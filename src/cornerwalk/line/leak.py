"""The hold test, which may run overnight, and the soapy water."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwalk.line.air import kit_maximum
from cornerwalk.line.job import OpenJob
from cornerwalk.line.lists import answer_of
from cornerwalk.line.reply import Question, Refusal, Reply, refused, with_unit
from cornerwalk.session.events import LeakMoment
from cornerwalk.session.hold_test import (
    SOAPED_JOINTS,
    AirLine,
    find_leak_reading,
    hours_since,
    joints_to_soap,
    lines_to_test,
    read_gauge,
    running_tests,
    soap_joint,
    with_load,
    with_temperature,
)
from cornerwalk.session.model import LeakReading, Session
from cornerwalk.session.walk import bare_pressure
from cornerwalk.wording.names import air_place
from cornerwalk.wording.results import leak_sentence
from cornerwalk.words import tr
from cornerwalk.words.steps import air_caution


@dataclass(frozen=True, slots=True)
class LeakAsked:
    """One end of a hold test of one line: the temperature, the load, and last the gauge, which sets its time."""

    moment: LeakMoment
    line: AirLine
    temperature: str | None = None
    loaded: bool | None = None
    load_known: bool = False

    @property
    def free(self) -> bool:
        """Figures, and y or n."""
        return False

    def prompt(self, job: OpenJob) -> str:
        """What of it is due."""
        line = _line_words(self.line)
        if self.temperature is None:
            unit = "°F" if job.session.job.unit == "inch" else "°C"
            return tr("Air temperature{line}, in {unit}; Enter if not known:", line=line, unit=unit)
        if not self.load_known:
            return tr("Is the vehicle loaded now? y, n; Enter if not known:")
        return tr("Gauge{line}, in {unit}:", line=line, unit=bare_pressure(job.session))

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """What keeps the two ends comparable."""
        if self.temperature is not None or self.load_known:
            return ()
        if self.moment == "end":
            begun = find_leak_reading(job.session, self.line, "start")
            return (hold_so_far(job, begun),) if begun is not None else ()
        return (
            tr("Caution: {caution}", caution=air_caution(kit_maximum(job.session))),
            tr("Seal the line, add no air until the test is ended, and read the same gauge both times."),
        )

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The next part of it; the gauge has it recorded."""
        if self.temperature is None:
            return self._temperature(job, text)
        if not self.load_known:
            found = answer_of(text) if text else None
            if text and (found is None or found[0] not in ("yes", "no")):
                return Reply(said=(tr("y or n"),), refused=True)
            return Reply(then=replace(self, load_known=True, loaded=None if found is None else found[0] == "yes"))
        try:
            what = read_gauge(job.session, self.line, self.moment, text, job.context.clock())
            what = with_temperature(what, self.temperature, job.session) if self.temperature else what
        except Refusal as error:
            return refused(error)
        what = with_load(what, self.loaded) if self.loaded is not None else what
        kept = tr(
            "Gauge{line} {pressure}.",
            line=_line_words(self.line),
            pressure=with_unit(what.pressure_entered, bare_pressure(job.session)),
        )
        return Reply(events=(what,), kept=kept, then=self._next(job.session))

    def _temperature(self, job: OpenJob, text: str) -> Reply:
        if text:
            try:
                probe = read_gauge(job.session, self.line, self.moment, "0", job.context.clock())
                with_temperature(probe, text, job.session)
            except Refusal as error:
                return refused(error)
        said = () if text else (tr("Without it a colder line looks like a leak."),)
        return Reply(said=said, then=replace(self, temperature=text))

    def _next(self, session: Session) -> Question | None:
        lines = lines_to_test(session)
        follows = lines[lines.index(self.line) + 1 :] if self.line in lines else ()
        if follows:
            # Both gauges are read in one go: what was told of the first holds for the second.
            return replace(self, line=follows[0])
        return first_joint(session) if self.moment == "start" else None


def _line_words(line: AirLine) -> str:
    return "" if line == "both" else f", {air_place(line)}"


def start_of(session: Session) -> LeakAsked:
    """The beginning of a test."""
    return LeakAsked("start", lines_to_test(session)[0])


def end_of(session: Session) -> LeakAsked | None:
    """The end of the test that is running; None where none is."""
    begun = running_tests(session)
    return LeakAsked("end", begun[0].line) if begun else None


def hold_so_far(job: OpenJob, begun: LeakReading) -> str:
    """`The hold test began about 17 h ago at 30 psi, 72 °F.`."""
    hours = hours_since(begun, job.context.clock())
    told = job.wording.pressure(begun.pressure_kPa)
    if begun.temperature_C is not None:
        told += f", {job.wording.temperature(begun.temperature_C)}"
    if hours is None:
        return tr("The hold test began at {gauge}.", gauge=told)
    return tr("The hold test began {hours} ago at {gauge}.", hours=job.wording.hours(round(hours, 1)), gauge=told)


def hold_results(job: OpenJob) -> tuple[str, ...]:
    """What each finished test came to."""
    return tuple(leak_sentence(leak, job.wording) for leak in job.assessment.leak if leak.loss_kPa is not None)


@dataclass(frozen=True, slots=True)
class SoapAsked:
    """A joint wetted with soapy water: bubbles or none. `alone`: only this one is asked."""

    joint: str
    alone: bool = False

    @property
    def free(self) -> bool:
        """A letter or a number, and a note if need be."""
        return False

    def prompt(self, _job: OpenJob) -> str:
        """`Bubbles at: valve? (4 of 6; y, n):`."""
        joint = tr(self.joint)
        if self.joint not in SOAPED_JOINTS:
            return tr("Bubbles at: {joint}? (y, n):", joint=self.joint)
        place = SOAPED_JOINTS.index(self.joint) + 1
        return tr("Bubbles at: {joint}? ({place} of {all}; y, n):", joint=joint, place=place, all=len(SOAPED_JOINTS))

    def opening(self, _job: OpenJob) -> tuple[str, ...]:
        """At the first joint what a bubble means."""
        if self.joint != SOAPED_JOINTS[0]:
            return ()
        return (tr("Soapy water on every joint, valve core and gauge included. Any bubble fails it."),)

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The finding, recorded; Enter leaves the joint out."""
        follows = None if self.alone else joint_after(job.session, self.joint)
        if not text:
            return Reply(said=(tr("Left for later; it counts as not checked."),), then=follows)
        found = answer_of(text)
        if found is None or found[0] not in ("yes", "no"):
            return Reply(said=(tr("y for bubbles, n for none"),), refused=True)
        bubbles = found[0] == "yes"
        joint = tr(self.joint) if self.joint in SOAPED_JOINTS else self.joint
        told = tr("BUBBLES at: {joint}.", joint=joint) if bubbles else tr("No bubbles at: {joint}.", joint=joint)
        return Reply(events=(soap_joint(self.joint, found[1], bubbles=bubbles),), kept=told, then=follows)


def joint_named(text: str) -> SoapAsked:
    """One joint by its name, of the usual ones or another."""
    known = next((joint for joint in SOAPED_JOINTS if text.casefold() in (joint, tr(joint).casefold())), text)
    return SoapAsked(known, alone=True)


def first_joint(session: Session) -> SoapAsked | None:
    """The first joint not looked at yet; None where all are."""
    left = joints_to_soap(session)
    return SoapAsked(left[0]) if left else None


def joint_after(session: Session, joint: str) -> SoapAsked | None:
    """The joint to look at after this one; None where none is left."""
    if joint not in SOAPED_JOINTS:
        return None
    left = joints_to_soap(session, after=joint)
    return SoapAsked(left[0]) if left else None
