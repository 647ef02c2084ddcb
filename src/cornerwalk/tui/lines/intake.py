"""The intake as lines: who and why, the vehicle, its ratings and lamps, the kit, loads, hitch and trailer, the scale.

Everything may be left out; what that costs stands beside the question. What a kind of job has no use for is not asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.tui.hints import last_time, own_placing
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.facts import fact_lines
from cornerwalk.tui.lines.line import Line
from cornerwalk.tui.lines.loads import load_lines
from cornerwalk.tui.lines.presets import keep_lines, start_lines
from cornerwalk.tui.lines.weighings import weighing_lines
from cornerwalk.tui.widgets.prose import Paragraph
from cornerwalk.wording.names import job_name
from cornerwalk.words import tr

CUSTOMER = (
    "job.customer",
    "job.complaint",
    "vehicle.description",
    "vehicle.registration",
    "job.title",
    "job.site",
    "job.kind",
)
LAMP_FACTS = ("lamp_height", "lamp_lower_edge", "lamp_ahead", "levelling")


def intake_lines(job: OpenJob) -> tuple[Line, ...]:
    """All of it, in the order in which it is met at the vehicle."""
    return (*start_lines(job), *_facts(job), *_work(job), *keep_lines(job))


def _facts(job: OpenJob) -> Iterator[Line]:
    vehicle = _of("vehicle")
    yield from fact_lines(job, CUSTOMER, tr("Who and why"))
    body = [f.name for f in vehicle if f.kind != "force" and f.key not in LAMP_FACTS and f.name not in CUSTOMER]
    yield from fact_lines(job, body, tr("Vehicle"))
    if job.session.job.kind != "load check":
        for line in fact_lines(job, [fact.name for fact in _of("kit")], tr("Kit, from its own sheet")):
            yield _sheet_missing(job, line)
    ratings = [fact.name for fact in vehicle if fact.kind == "force"]
    yield from fact_lines(job, ratings, tr("Ratings, from the door label"))
    lamps = [fact.name for fact in vehicle if fact.key in LAMP_FACTS]
    yield from fact_lines(job, [*lamps, *(fact.name for fact in _of("lamps"))], tr("Lamps"))


def _work(job: OpenJob) -> Iterator[Line]:
    yield from load_lines(job)
    yield from fact_lines(job, [fact.name for fact in _of("hitch")], tr("Hitch"))
    yield from fact_lines(job, [fact.name for fact in _of("trailer")], tr("Trailer"))
    yield from weighing_lines(job)
    if job.session.job.kind != "load check":
        yield from fact_lines(job, [fact.name for fact in _of("table")], tr("Table for the glovebox"))
    others = [fact.name for part in ("tape", "limits") for fact in _of(part)]
    yield from fact_lines(job, others, tr("How it is measured and judged"))


def _of(part: str) -> tuple[Fact, ...]:
    return tuple(fact for fact in FACTS.values() if fact.part == part)


def _sheet_missing(job: OpenJob, line: Line) -> Line:
    """A kit figure without the sheet it is from is worth a word."""
    if FACTS[line.id].kind not in ("pressure", "force") or not line.stands or job.session.kit.sheet:
        return line
    return replace(line, mark="matters", stands=tr("{value}, from no named sheet", value=line.stands))


def intake_panel(job: OpenJob) -> tuple[Paragraph, ...]:
    """What kind of job it is, which was chosen when it was made; what this vehicle did last time."""
    kind = job_name(job.session.job.kind)
    decides = Paragraph(tr("{kind}: it decides which stages are asked for.", kind=kind), tr("Job"))
    return (decides, *last_time(job), *own_placing(job))
