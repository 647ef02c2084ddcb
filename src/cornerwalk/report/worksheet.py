"""Worksheet: a blank form in the order of the walk, to fill in on paper and type in later."""

from __future__ import annotations

from collections.abc import Iterator

from cornerwalk.report.document import Blanks, Block, Bullets, Document, Form, Heading, Paragraph
from cornerwalk.session.checklist import Checklist, Checklists, load_checklists
from cornerwalk.session.hold_test import SOAPED_JOINTS
from cornerwalk.session.stages import AIR_STAGES, REQUIRED_STAGES, Corner, Direction, JobKind, StageName, walking_order
from cornerwalk.wording.facts import fact_name
from cornerwalk.wording.names import corner_name, job_name, joint_name, stage_name
from cornerwalk.words import tr

INTAKE = (
    "job.title",
    "job.date",
    "job.technician",
    "job.second_reader",
    "job.customer",
    "job.complaint",
    "vehicle.description",
    "vehicle.registration",
    "vehicle.wheelbase",
    "vehicle.arch_width",
    "vehicle.lamp_height",
    "vehicle.lamp_ahead",
    "vehicle.ball_overhang",
    "vehicle.levelling",
    "vehicle.gawr_front",
    "vehicle.gawr_rear",
    "vehicle.gvwr",
    "vehicle.gcwr",
    "tape.graduation",
    "lamps.screen",
)
"""Written down before the walk, under the names that the screen asks for them by."""

KIT = ("kit.name", "kit.sheet", "kit.min", "kit.max", "kit.rated_support", "kit.lines")
TRIALS = 3
_READINGS = 2


def blank_worksheet(
    kind: JobKind = "fit",
    start: Corner = "LF",
    direction: Direction = "clockwise",
    checklists: Checklists | None = None,
) -> Document:
    """The worksheet for a kind of job, its corners in the order they are walked."""
    lists = checklists if checklists is not None else load_checklists()
    return Document(
        title=tr("Worksheet"),
        subtitle=tr("{kind}. Heights as read on the tape, with the unit.", kind=job_name(kind)),
        blocks=tuple(_blocks(kind, walking_order(start, direction), lists)),
        footer=tr(
            "Stop and fit nothing if the vehicle has a height- or load-sensing brake valve. Helper springs raise no "
            "rating. Follow the vehicle's and the kit's own instructions."
        ),
    )


def _blocks(kind: JobKind, order: tuple[Corner, ...], lists: Checklists) -> Iterator[Block]:
    yield Blanks(tuple(fact_name(name) for name in INTAKE))
    if kind != "load check":
        yield Blanks(tuple(fact_name(name) for name in KIT))
    yield Form((tr("load"), tr("weight"), tr("ahead of or behind the rear axle")), ("", ""))
    yield from _questions(lists["found"])
    yield from _questions(lists["touches"])
    stages = REQUIRED_STAGES[kind]
    yield _conditions(lists["conditions"], stages)
    for stage in stages:
        if stage == "fitted" and kind == "fit":
            yield from _questions(lists["fitting"])
        yield from _stage(stage, order)
    if kind != "load check":
        yield from _hold_test()
        yield from _questions(lists["road"])
    yield from _questions(lists["handover"])
    yield Blanks((tr("Handed over to, date"), tr("Signed")))


def _stage(stage: StageName, order: tuple[Corner, ...]) -> Iterator[Block]:
    for number in range(1, (TRIALS if stage == "fitted" else 1) + 1):
        title = stage_name(stage)
        yield Heading(tr("{stage}, trial {number}", stage=title, number=number) if stage == "fitted" else title)
        if stage in AIR_STAGES:
            yield Blanks((tr("pressure (left, right)"),))
        readings = tuple(tr("reading {number}", number=n + 1) for n in range(_READINGS))
        names = tuple(f"{position}. {corner_name(corner)}" for position, corner in enumerate(order, start=1))
        yield Form((tr("corner"), *readings, tr("note")), names)
        yield Blanks((tr("wall mark"), tr("leveling dial position")))


def _questions(checklist: Checklist) -> Iterator[Block]:
    yield Heading(tr(checklist.title))
    cautions = tuple(tr(item.caution) for item in checklist.items if item.caution)
    if cautions:
        yield Bullets(cautions)
    questions = tuple(tr(item.question) for item in checklist.items)
    yield Form((tr("question"), tr("yes"), tr("no"), tr("not checked"), tr("note")), questions)


def _conditions(checklist: Checklist, stages: tuple[StageName, ...]) -> Form:
    questions = tuple(tr(item.question) for item in checklist.items)
    return Form((tr(checklist.title), *(stage_name(stage) for stage in stages)), questions)


def _hold_test() -> Iterator[Block]:
    yield Heading(tr("Leak-down test"))
    yield Paragraph(tr("Line sealed, no air added. Overnight catches most leaks; 24 hours catches a slow one."))
    heads = (tr("when"), tr("date and time"), tr("pressure"), tr("temperature"), tr("loaded?"))
    yield Form(heads, (tr("start"), tr("end")))
    joints = tuple(joint_name(joint) for joint in SOAPED_JOINTS)
    yield Form((tr("soap-tested joint"), tr("no bubbles"), tr("bubbles")), joints)
