"""What this program makes of figures that were handed over then: side by side, and which of them differ."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cornerwalk import __version__
from cornerwalk.report.audit import audit, comparable_figures
from cornerwalk.report.audit_words import problem_words
from cornerwalk.report.document import Block, Bullets, Heading, Paragraph, Table
from cornerwalk.report.figures import Figure
from cornerwalk.report.handed_names import handed_name
from cornerwalk.session import Event, fold
from cornerwalk.session.happenings import HandedOver
from cornerwalk.standards import Standards
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless


def today_blocks(events: Sequence[Event], standards: Standards) -> tuple[Block, ...]:
    """For a session as it stood after these events: the figures of its last handover, then and now."""
    return tuple(_blocks(events, standards))


def _blocks(events: Sequence[Event], standards: Standards) -> Iterator[Block]:
    yield Heading(tr("Then and now"))
    handover = next((event for event in reversed(events) if isinstance(event.what, HandedOver)), None)
    if handover is None or not isinstance(handover.what, HandedOver):
        yield Paragraph(
            tr(
                "Nothing was handed over up to here. The heights are those entered; what they mean is computed by this "
                "program, version {version}. The job was opened with version {opened}.",
                version=__version__,
                opened=harmless(fold(events).program) or tr("not known"),
            )
        )
    else:
        yield from _handover(events[: events.index(handover)], handover, handover.what, standards)
    problems = [problem for problem in audit(events, standards) if problem.kind in ("no text", "value")]
    yield Heading(tr("Values and their texts"))
    if problems:
        yield Bullets(tuple(problem_words(problem) for problem in problems))
    else:
        yield Paragraph(tr("Every value up to here follows from the text beside it."))


def _handover(before: Sequence[Event], event: Event, handed: HandedOver, standards: Standards) -> Iterator[Block]:
    figures = comparable_figures(handed, fold(before), standards)
    differing = {name: pair for name, pair in figures.items() if told(pair[0]) != told(pair[1])}
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
        tuple((handed_name(name), told(then), told(now)) for name, (then, now) in figures.items()),
    )


def told(figure: Figure) -> str:
    """A figure as it is compared by eye: with six digits, more than any measurement has."""
    match figure:
        case None:
            return "–"
        case str():
            return harmless(figure) or "–"
        case _:
            return f"{figure:.6g}"
