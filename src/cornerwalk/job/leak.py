"""The leak chapter as lines: the hold test at both ends, each joint under soapy water, and what it is judged by."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from cornerwalk.assess.air_checks import PRESSURE_HELD
from cornerwalk.job.form import fact_lines
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Option, Part, Question, RecordedPart, Texts, keeps_of, nothing_kept, one, part_of
from cornerwalk.job.reply import Refusal, Reply, refusal
from cornerwalk.session.events import LeakMoment, LeakRead
from cornerwalk.session.hold_test import (
    SOAPED_JOINTS,
    AirLine,
    find_leak_reading,
    hours_since,
    lines_to_test,
    load_changed,
    read_gauge,
    running_tests,
    soap_joint,
    with_load,
    with_temperature,
)
from cornerwalk.session.log import active_events
from cornerwalk.session.model import Joint, LeakReading
from cornerwalk.wording.checks import check_sentence
from cornerwalk.wording.names import air_place, joint_name
from cornerwalk.wording.results import leak_sentence
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless
from cornerwalk.words.steps import air_caution

_JUDGED_BY = ("leak.gauge_graduation", "leak.altitude", "leak.barometer", "leak.allowed_loss")


def leak_lines(job: OpenJob) -> tuple[Question, ...]:
    """Start, soapy water while it holds, end, and the terms of the judgement."""
    tested = lines_to_test(job.session)
    return (
        *(_gauge(job, line, "start") for line in tested),
        *(joint_line(job, joint) for joint in _joints(job)),
        *(_gauge(job, line, "end") for line in tested),
        *fact_lines(job, _JUDGED_BY, tr("Pass/fail limits")),
    )


def leak_panel(job: OpenJob) -> tuple[Notice, ...]:
    """How long it has held by now, and what came of it."""
    now = job.context.clock()
    told = [Notice(text, tr("STOP"), "caution", "caution") for text in _stops(job)]
    told += [Notice(_running(job, start, now), tr("Testing"), "strong") for start in running_tests(job.session)]
    for leak in job.assessment.leak:
        if leak.loss_kPa is None:
            continue
        told.append(Notice(leak_sentence(leak, job.wording), tr("Result")))
        if leak.shorter:
            told.append(Notice(_short(job, leak.hours), tr("Caution"), "caution"))
    for check in job.assessment.verdicts:
        if check.kind in PRESSURE_HELD.values():
            bad = check.verdict in ("fail", "conditional fail")
            told.append(Notice(check_sentence(check, job.wording), tr("Verdict"), "caution" if bad else "due"))
    told += [Notice(text, tr("Caution"), "caution", "caution") for text in _loads_differ(job)]
    return tuple(told)


def _running(job: OpenJob, start: LeakReading, now: datetime) -> str:
    where = "" if start.line == "both" else f"{air_place(start.line)}: "
    hours = hours_since(start, now)
    since = tr("you started {hours} ago", hours=job.wording.hours(hours)) if hours is not None else tr("started")
    at = tr("at {temperature}", temperature=job.wording.temperature(start.temperature_C))
    warm = f" {at}" if start.temperature_C is not None else ""
    pressure = job.wording.pressure(start.pressure_kPa)
    told = f"{where}{since}{warm}, " + tr("with {pressure} in ({when}).", pressure=pressure, when=_clock(start.at))
    if hours is None or hours >= _hold_h(job):
        return told + " " + tr("Test time is up: read the same gauge again.")
    left = job.wording.hours(_hold_h(job) - hours)
    return told + " " + tr("{left} to go for a full day; leave it parked and untouched.", left=left)


def _hold_h(job: OpenJob) -> float:
    """Hours a hold test is meant to last."""
    return job.standards.limits["hold-time"].value


def _clock(at: str) -> str:
    return at[:16].replace("T", " ")


def _short(job: OpenJob, hours: float | None) -> str:
    return tr(
        "{hours} is less than a day: passing now does not mean passing overnight.", hours=job.wording.hours(hours)
    )


def _stops(job: OpenJob) -> list[str]:
    return [
        tr(
            "Bubbles at {joint}: not allowed. Let the air out, fix it, and soap it again.",
            joint=_named(j.joint),
        )
        for j in job.session.joints
        if j.bubbles
    ]


def _loads_differ(job: OpenJob) -> list[str]:
    differ = tr("Loaded at one end of the test and unloaded at the other: the two readings do not compare.")
    return [differ for line in lines_to_test(job.session) if load_changed(job.session, line)]


# ---- the gauge ----


def _gauge(job: OpenJob, line: AirLine, moment: LeakMoment) -> Question:
    reading = find_leak_reading(job.session, line, moment)
    where = "" if line == "both" else f", {air_place(line)}"
    name = tr("gauge at the start") if moment == "start" else tr("gauge at the end")
    beside = (_temperature(job, line, moment), _load_state(job, line, moment))
    group = tr("Leak-down test: start") if moment == "start" else tr("Leak-down test: finish")
    part, keeps = _asked(job, line, moment, (_pressure(job, line, moment, where), *beside), beside)
    return Question(
        id=f"leak.{line}.{moment}",
        name=f"{name}{where}",
        group=group,
        stands=_stands(job, reading),
        mark="done" if reading is not None else "open",
        half=reading is not None and (reading.temperature_C is None or reading.loaded is None),
        part=part,
        keeps=keeps,
        caution=air_caution(job.session.entered.get("kit.max", "")) if moment == "start" else "",
        why=tr("Warm air raises the pressure: without the temperature, a cold night looks like a leak."),
        costs=tr("If skipped: you find the leak when the bag is flat."),
    )


def _asked(
    job: OpenJob,
    line: AirLine,
    moment: LeakMoment,
    all_of_it: Sequence[RecordedPart],
    beside: Sequence[RecordedPart],
) -> tuple[Callable[[Texts], Part | None], Callable[[Texts], Reply]]:
    """A gauge not read yet is read; for one that was, what belongs beside it is asked, or it is read anew."""
    if moment == "end" and find_leak_reading(job.session, line, "start") is None:
        return one(Part(question=tr("First the gauge at the start."))), nothing_kept
    if find_leak_reading(job.session, line, moment) is None:
        return part_of(all_of_it), keeps_of(all_of_it)
    ended = moment == "start" and find_leak_reading(job.session, line, "end") is not None
    anew = Option("2", tr("read the gauge again"), "anew", "r")
    more = Option("1", tr("temperature and load state"), "more", "t")
    told = (tr("A new start restarts the test; its finish goes."),) if moment == "start" else ()
    first = Part(question=tr("This gauge is read. What now?"), options=(anew,) if ended else (more, anew), told=told)
    ways: dict[str, Sequence[RecordedPart]] = {"more": beside, "anew": all_of_it}
    return (
        lambda texts: part_of(ways[texts[0]])(texts[1:]) if texts else first,
        lambda texts: keeps_of(ways[texts[0]])(texts[1:]) if len(texts) > 1 else Reply(),
    )


def _stands(job: OpenJob, reading: LeakReading | None) -> str:
    if reading is None:
        return ""
    told = [job.wording.pressure(reading.pressure_kPa)]
    if reading.temperature_C is not None:
        told.append(job.wording.temperature(reading.temperature_C))
    if reading.loaded is not None:
        told.append(tr("loaded") if reading.loaded else tr("empty"))
    return ", ".join([*told, _clock(reading.at)])


def _pressure(job: OpenJob, line: AirLine, moment: LeakMoment, where: str) -> RecordedPart:
    asks = tr("Gauge reading now?") if moment == "end" else tr("Gauge reading at the start?")
    hint = tr("for example 30 psi") if job.session.job.unit == "inch" else tr("for example 210 kPa")

    def keeps(text: str) -> Reply:
        try:
            read = read_gauge(job.session, line, moment, text, job.context.clock())
        except Refusal as error:
            return refusal(error)
        return Reply(large=job.wording.pressure(read.pressure_kPa).split(" ")[0], would=(read,))

    told = _not_yet(job, line) if moment == "end" else ()
    return RecordedPart(Part(question=f"{asks[:-1]}{where}?", hint=hint, told=told), keeps)


def _not_yet(job: OpenJob, line: AirLine) -> tuple[str, ...]:
    """A test read at once tells nothing: how long it has stood, and that it may be left standing."""
    begun = find_leak_reading(job.session, line, "start")
    hours = hours_since(begun, job.context.clock()) if begun is not None else None
    if hours is None or hours >= _hold_h(job):
        return ()
    held = job.wording.hours(hours)
    return (tr("It has sat for {held}; a full day tells the most. Enter alone leaves it sitting.", held=held),)


def _temperature(job: OpenJob, line: AirLine, moment: LeakMoment) -> RecordedPart:
    hint = tr("for example 71 °F") if job.session.job.unit == "inch" else tr("for example 22 °C")

    def keeps(text: str) -> Reply:
        read = _read_of(job, line, moment)
        if read is None or not text.strip():
            return Reply()
        try:
            warm = with_temperature(read, text, job.session)
        except Refusal as error:
            return refusal(error)
        return Reply(meant=job.wording.temperature(warm.temperature_C), would=(warm,))

    told = (tr("Enter alone: not known; warm and cold cannot be told from a leak then."),)
    return RecordedPart(Part(question=tr("How warm is it where the vehicle is parked?"), hint=hint, told=told), keeps)


def _load_state(job: OpenJob, line: AirLine, moment: LeakMoment) -> RecordedPart:
    options = (Option("1", tr("loaded"), "loaded", "l"), Option("2", tr("empty"), "empty", "e"))

    def keeps(text: str) -> Reply:
        read = _read_of(job, line, moment)
        return Reply() if read is None or not text else Reply(would=(with_load(read, text == "loaded"),))

    return RecordedPart(Part(question=tr("Loaded or unloaded?"), options=options), keeps)


def _read_of(job: OpenJob, line: AirLine, moment: LeakMoment) -> LeakRead | None:
    """The reading of this gauge as it was recorded last."""
    for event in reversed(active_events(job.events)):
        if isinstance(event.payload, LeakRead) and (event.payload.line, event.payload.moment) == (line, moment):
            return event.payload
    return None


# ---- soapy water ----


def _joints(job: OpenJob) -> tuple[str, ...]:
    return tuple(dict.fromkeys([*SOAPED_JOINTS, *(joint.joint for joint in job.session.joints)]))


def _joint_of(job: OpenJob, joint: str) -> Joint | None:
    return next((each for each in job.session.joints if each.joint == joint), None)


def _named(joint: str) -> str:
    """A usual joint in the user's language; one that somebody named, made harmless."""
    return harmless(joint_name(joint))


def joint_line(job: OpenJob, joint: str) -> Question:
    """A joint under soapy water, one of the usual ones or another."""
    known = _joint_of(job, joint)
    seen = "" if known is None else ("bubbles" if known.bubbles else "dry")
    options = (
        Option("1", tr("no bubbles"), "dry", "n"),
        Option("2", tr("bubbles"), "bubbles", "b"),
    )

    def part(texts: Texts) -> Part | None:
        if not texts:
            question = tr("Soap on {joint}: what do you see?", joint=_named(joint))
            return Part(question=question, options=options, stands=seen, remark=True)
        if texts == ("bubbles",):
            note = known.note if known is not None else ""
            return Part(question=tr("Where exactly?"), stands=note, hint=tr("Enter alone leaves it out"), words=True)
        return None

    def keeps(texts: Texts) -> Reply:
        before = _joint_of(job, joint)
        note = texts[1] if len(texts) > 1 else before.note if before is not None else ""
        would = soap_joint(joint, note, bubbles=texts[0] == "bubbles")
        if before is not None and (before.bubbles, before.note) == (would.bubbles, would.note):
            return Reply()
        return Reply(would=(would,))

    told = {"": "", "dry": tr("no bubbles"), "bubbles": tr("BUBBLES")}[seen]
    return Question(
        id=f"soap.{joint}",
        name=_named(joint),
        group=tr("Soap test"),
        stands=f"{told}, {harmless(known.note)}" if known is not None and known.note else told,
        mark="open" if known is None else ("stop" if known.bubbles else "done"),
        part=part,
        keeps=keeps,
        why=tr("No bubble is permissible at any joint, the valve core (cap off) and the gauge included."),
        costs=tr("If skipped: the customer finds a slow leak."),
    )
