"""Audit of a finished session: every stored value against its text, every handed-over figure against its events.

Shape, order and chain are the store's to check. A value that does not follow fails: texts are read the same way for
ever. So does a figure that this very version of the program handed over and now computes otherwise. A figure that
another version handed over, or that hangs on a rule this machine does not have, is news and fails nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk import __version__
from cornerwalk.assess import assess
from cornerwalk.quantity import (
    BareUnit,
    QuantityError,
    read_force,
    read_height,
    read_length,
    read_pressure,
    read_signed_length,
    read_temperature,
    read_torque,
)
from cornerwalk.report.document import Block, Bullets, Heading, Paragraph, Table
from cornerwalk.report.handover import Figure, handed_name, handed_over_figures
from cornerwalk.session import RecordedEvent, Session, fold
from cornerwalk.session import events as ev
from cornerwalk.session.events import FactValue, HandedOver
from cornerwalk.session.facts import FACTS
from cornerwalk.session.log import active_events
from cornerwalk.session.model import JobFacts
from cornerwalk.session.statements import bare_units, fact_value
from cornerwalk.session.walk import EntryError
from cornerwalk.standards import Standards
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless

TOLERANCE = 1e-9
"""Relative difference that the decimals of a file and another machine's arithmetic may leave."""

ProblemKind = Literal[
    "no text", "value", "figure", "figures missing", "another program's figure", "figure of a rule not known here"
]
FAILING: frozenset[ProblemKind] = frozenset(("no text", "value", "figure", "figures missing"))


@dataclass(frozen=True, slots=True)
class AuditProblem:
    """Something that does not follow.

    Attributes:
        seq: the event it stands in.
        kind: "no text": the text beside a value says no quantity. "value": it says another. The rest are figures.
        about: the text as entered, or the name of the figure, or the names of those missing.
        stored: the value that stands in the file.
        follows: what follows from the text or the events; None where nothing does.
        unit: of both, "" where they have none or the figure's name says it.
        program: which version handed the figure over.
    """

    seq: int
    kind: ProblemKind
    about: str
    stored: ev.FactValue
    follows: ev.FactValue
    unit: str = ""
    program: str = ""

    @property
    def fails(self) -> bool:
        """Whether it fails the file; otherwise it is only reported."""
        return self.kind in FAILING


def audit(events: Sequence[RecordedEvent], standards: Standards) -> tuple[AuditProblem, ...]:
    """Every value and figure of a session that does not follow from its own events, in their order."""
    problems: list[AuditProblem] = []
    unit: BareUnit = JobFacts().unit
    for position, event in enumerate(events):
        if isinstance(event.payload, ev.Undone) or _states_unit(event):
            unit = _unit_after(events[: position + 1])
        problems += _values(event, unit)
        if isinstance(event.payload, ev.HandedOver):
            problems += _figures(fold(events[:position]), event.seq, event.payload, standards)
    return tuple(problems)


def value_problems(event: RecordedEvent, before: Sequence[RecordedEvent]) -> tuple[AuditProblem, ...]:
    """Values of one event that do not follow from their texts, in a job that began with the events `before`."""
    return tuple(_values(event, _unit_after(before)))


def _states_unit(event: RecordedEvent) -> bool:
    return isinstance(event.payload, ev.FactStated) and event.payload.name == "job.unit"


def _unit_after(events: Sequence[RecordedEvent]) -> BareUnit:
    return fold([event for event in active_events(events) if _states_unit(event)]).job.unit


# ---- values and their texts ----


@dataclass(frozen=True, slots=True)
class _Pair:
    """A text, the value stored beside it, and how such a text is read."""

    entered: str | None
    stored: ev.FactValue
    unit: str
    reader: Callable[[str], ev.FactValue]


def _values(event: RecordedEvent, unit: BareUnit) -> Iterator[AuditProblem]:
    for pair in _pairs(event.payload, unit):
        entered = pair.entered or ""
        if not entered and pair.stored is None:
            continue
        try:
            follows = pair.reader(entered)
        except (QuantityError, EntryError):
            if pair.stored is not None:  # words in place of a quantity are no value, and none is stored
                yield AuditProblem(event.seq, "no text", entered, pair.stored, None, pair.unit)
            continue
        if not _same(pair.stored, follows):
            yield AuditProblem(event.seq, "value", entered, pair.stored, follows, pair.unit)


def _same(stored: object, follows: object) -> bool:
    match stored, follows:
        case (float() | int(), float() | int()):
            return math.isclose(stored, follows, rel_tol=TOLERANCE, abs_tol=TOLERANCE)
        case (list(), list()):
            return len(stored) == len(follows) and all(map(_same, stored, follows))
        case _:
            return stored == follows


def _pairs(what: ev.Event, unit: BareUnit) -> Iterator[_Pair]:
    bare = bare_units(unit)

    def pressure_kPa(text: str) -> float:
        return read_pressure(text, bare=bare["pressure"]).kPa

    def force_N(text: str) -> float:
        return read_force(text, bare=bare["force"]).N

    match what:
        case ev.HeightRead():
            yield _Pair(what.entered, what.mm, "mm", lambda text: read_height(text, unit).mm)
        case ev.FactStated(name=name) if name in FACTS:
            fact = FACTS[name]
            yield _Pair(what.entered, what.value, fact.unit, lambda text: fact_value(fact, text, unit))
        case ev.LoadStated():
            yield _Pair(what.entered, what.weight_N, "N", force_N)
            yield _Pair(what.place_entered, what.ahead_mm, "mm", lambda text: _place_mm(text, bare["length"]))
        case ev.StageBegun() | ev.PressureStated():
            yield _Pair(what.pressure_entered, what.pressure_kPa, "kPa", pressure_kPa)
            yield _Pair(what.left_entered, what.left_kPa, "kPa", pressure_kPa)
            yield _Pair(what.right_entered, what.right_kPa, "kPa", pressure_kPa)
        case ev.MarkRead():
            yield _Pair(what.entered, what.above_mm, "mm", lambda text: read_signed_length(text, bare=unit).mm)
        case ev.WeighingRecorded():
            yield _Pair(what.front_entered, what.front_N, "N", force_N)
            yield _Pair(what.rear_entered, what.rear_N, "N", force_N)
            yield _Pair(what.trailer_entered, what.trailer_N, "N", force_N)
        case ev.LeakRead():
            yield _Pair(what.pressure_entered, what.pressure_kPa, "kPa", pressure_kPa)
            yield _Pair(what.temperature_entered, what.temperature_C, "°C", lambda text: _celsius(text, unit))
        case ev.TorqueRecorded():
            yield _Pair(what.specified_entered, what.specified_Nm, "N·m", lambda text: read_torque(text).Nm)
            yield _Pair(what.reached_entered, what.reached_Nm, "N·m", lambda text: read_torque(text).Nm)
        case _:
            return


def _place_mm(text: str, bare: str) -> float:
    for side, sign in ((" behind the rear axle", -1), (" ahead of the rear axle", 1)):
        if text.endswith(side):
            return sign * read_length(text.removesuffix(side), bare=bare).mm
    raise EntryError("{text} does not say a place", text=text)


def _celsius(text: str, unit: BareUnit) -> float:
    return read_temperature(text, bare="degF" if unit == "inch" else "degC").C


# ---- figures handed over ----


def _figures(before: Session, seq: int, handed: ev.HandedOver, standards: Standards) -> Iterator[AuditProblem]:
    today = handed_over_figures(before, assess(before, standards))
    kind = _kind_of_difference(before, handed, standards)
    for name, stored in handed.figures.items():
        if name not in today and kind != "figure":
            continue  # a figure of another version, or of the rule that is not known here
        follows = today.get(name)
        if not _same(stored, follows):
            yield AuditProblem(seq, kind, name, stored, follows, program=handed.program)
    missing = [name for name in today if name not in handed.figures]
    if missing and kind == "figure":
        yield AuditProblem(seq, "figures missing", ", ".join(missing), None, None)


def _kind_of_difference(before: Session, handed: ev.HandedOver, standards: Standards) -> ProblemKind:
    if handed.program != __version__:
        return "another program's figure"
    named = ((before.lamps.rule, standards.aim_rules), (before.hitch.restoration_rule, standards.restoration_rules))
    if any(rule is not None and rule not in known for rule, known in named):
        return "figure of a rule not known here"
    return "figure"


def _compare_figures(handed: ev.HandedOver, before: Session, standards: Standards) -> dict[str, tuple[Figure, Figure]]:
    """Every figure of a handover, as it was handed over and as this program computes it from the events before."""
    today = handed_over_figures(before, assess(before, standards))
    return {name: (handed.figures.get(name), today.get(name)) for name in {**handed.figures, **today}}


# ---- handover figures, then and now ----


def today_blocks(events: Sequence[RecordedEvent], standards: Standards) -> tuple[Block, ...]:
    """For a session as it stood after these events: the figures of its last handover, then and now."""
    return tuple(_then_and_now(events, standards))


def _then_and_now(events: Sequence[RecordedEvent], standards: Standards) -> Iterator[Block]:
    yield Heading(tr("Then and now"))
    handover = next((event for event in reversed(events) if isinstance(event.payload, HandedOver)), None)
    if handover is None or not isinstance(handover.payload, HandedOver):
        yield Paragraph(
            tr(
                "Nothing was handed over up to here. The heights are those entered; what they mean is computed by this "
                "program, version {version}. The job was opened with version {opened}.",
                version=__version__,
                opened=harmless(fold(events).program) or tr("not known"),
            )
        )
    else:
        yield from _handover(events[: events.index(handover)], handover, handover.payload, standards)
    problems = [problem for problem in audit(events, standards) if problem.kind in ("no text", "value")]
    yield Heading(tr("Values and their texts"))
    if problems:
        yield Bullets(tuple(problem_words(problem) for problem in problems))
    else:
        yield Paragraph(tr("Every value up to here follows from the text beside it."))


def _handover(
    before: Sequence[RecordedEvent], event: RecordedEvent, handed: HandedOver, standards: Standards
) -> Iterator[Block]:
    figures = _compare_figures(handed, fold(before), standards)
    differing = {name: pair for name, pair in figures.items() if figure_text(pair[0]) != figure_text(pair[1])}
    yield Paragraph(
        tr(
            "Handed over {time} by {by} to {name}, with version {then}; this is version {now}.",
            time=event.at[:16].replace("T", " "),
            by=harmless(event.by),
            name=harmless(handed.to) or tr("no name"),
            then=harmless(handed.program) or tr("not known"),
            now=__version__,
        )
    )
    yield Paragraph(tr("In the units of the file: mm, kPa, N, degrees; up, and a gain, are positive."))
    same = len(figures) - len(differing)
    if differing:
        yield Paragraph(tr_n("{count} figure differs.", "{count} figures differ.", len(differing)))
        yield _table(differing)
    if same:
        yield Paragraph(
            tr_n(
                "{count} figure is as this program computes it from the readings.",
                "{count} figures are as this program computes them from the readings.",
                same,
            )
        )
        yield _table({name: pair for name, pair in figures.items() if name not in differing})


def _table(figures: Mapping[str, tuple[Figure, Figure]]) -> Table:
    return Table(
        (tr("Figure"), tr("Then"), tr("Now")),
        tuple((handed_name(name), figure_text(then), figure_text(now)) for name, (then, now) in figures.items()),
    )


def figure_text(figure: Figure) -> str:
    """A figure for comparison by eye: six digits, more than any measurement has."""
    match figure:
        case None:
            return "–"
        case str():
            return harmless(figure) or "–"
        case _:
            return f"{figure:.6g}"


# ---- problems in words ----


LONGEST_SHOWN = 80
"""Characters shown of one text or value; a file can hold a million."""


def problem_words(problem: AuditProblem) -> str:
    """One problem as a sentence: `event 23: 701.675 mm is stored, but 27 9/16 is 700.0875 mm`.

    Values are shown with every digit: only the last may differ.
    """
    fields = {
        "seq": problem.seq,
        "about": _cut(harmless(problem.about)),
        "stored": _value(problem.stored, problem.unit),
        "follows": _value(problem.follows, problem.unit),
        "program": _cut(harmless(problem.program)) or tr("not known"),
    }
    match problem.kind:
        case "no text":
            return tr('event {seq}: {stored} is stored, but the text "{about}" says no such value', **fields)
        case "value":
            return tr('event {seq}: {stored} is stored, but "{about}" is {follows}', **fields)
        case "figure":
            return tr(
                "event {seq}, {about}: {stored} was handed over by this version, but {follows} follows from the "
                "readings",
                **fields,
            )
        case "figures missing":
            return tr("event {seq}: figures that this version hands over are missing: {about}", **fields)
        case "another program's figure":
            return tr(
                "event {seq}, {about}: {stored} was handed over by version {program}; this version computes {follows}",
                **fields,
            )
        case "figure of a rule not known here":
            return tr(
                "event {seq}, {about}: {stored} was handed over under a rule that is not known here; without it "
                "{follows} is computed",
                **fields,
            )


def _value(value: FactValue, unit: str) -> str:
    match value:
        case None:
            return tr("nothing")
        case str():
            return f'"{_cut(harmless(value))}"'
        case list():
            return _cut(", ".join(_value(each, unit) for each in value))
        case _:
            return f"{value!r} {unit}".rstrip()


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_SHOWN else f"{text[: LONGEST_SHOWN - 1]}…"


def what_a_check_proves() -> tuple[str, ...]:
    """What the chain and the arithmetic show, and what they cannot, a paragraph each."""
    return (
        tr(
            "Every event carries a chain: a SHA-256 checksum over the event and the chain of the one before it. A "
            "changed, missing, added or moved event breaks the chain from there on, down to a single character."
        ),
        tr(
            "Every value is computed anew from the text beside it, and every figure that was handed over from the "
            "readings before it. A value or figure that does not follow fails, even where the chain is whole. A figure "
            "that another version of the program handed over, or that hangs on a rule not known here, is told and "
            "fails nothing: a newer program may rightly compute it otherwise."
        ),
        tr(
            "A clock that ran backwards is told and fails nothing: summer time ends, and batteries go flat. Times are "
            "those of the machine, which anybody can set."
        ),
        tr(
            "What it cannot show: the chain holds no secret. Whoever changes a reading, its value, the figures handed "
            "over and then computes every chain anew leaves a file that passes. Nor does it show a whole file that was "
            "thrown away, or a reading that was wrong when it was typed."
        ),
        tr(
            "Events that were cut off neatly at the end, or an older copy of the file in its place, leave a file "
            "that is whole in itself. They show only in the library, whose list remembers how many events it has "
            "seen in each file, and only while that list exists; a file from elsewhere shows nothing of it."
        ),
        tr(
            "For proof against a forger, keep something out of reach: the chain of the last event, printed on the "
            "report for the file, pins down everything before it."
        ),
    )
