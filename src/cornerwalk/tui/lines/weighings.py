"""The three passes over a scale as lines; each axle is kept as soon as it is typed."""

from __future__ import annotations

from cornerwalk.session.events import Weighing
from cornerwalk.session.statements import WEIGHINGS, Axle, axles_weighed, record_weight, weighing_entered
from cornerwalk.tui.answers.say_back import Refusal, SayBack, refusal
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.line import Line, Part, Texts, in_turn
from cornerwalk.wording.events import weighing_name
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless


def weighing_lines(job: OpenJob) -> tuple[Line, ...]:
    """A line a pass: without trailer, with it, and with the load-distributing bars on."""
    distributing = job.session.hitch.kind == "load-distributing" or "distributed" in job.session.weighings
    passes = WEIGHINGS if distributing else WEIGHINGS[:2]
    return tuple(_line(job, weighing) for weighing in passes)


def _line(job: OpenJob, weighing: Weighing) -> Line:
    axles = axles_weighed(weighing)
    entered = {axle: harmless(weighing_entered(job.session, weighing, axle)) for axle in axles}
    known = [f"{_axle(axle)} {text}" for axle, text in entered.items() if text]

    def keeps(texts: Texts) -> SayBack:
        axle = axles[len(texts) - 1]
        if texts[-1].strip() == entered[axle]:
            return SayBack()
        try:
            would = record_weight(job.session, weighing, axle, texts[-1])
        except Refusal as error:
            return refusal(error)
        weight_N = getattr(would, f"{axle}_N")
        return SayBack(lines=(("ink", job.wording.weight(weight_N)),), would=(would,))

    return Line(
        id=f"weighing.{weighing}",
        name=weighing_name(weighing),
        group=tr("On the scale, loaded as it travels"),
        stands=", ".join(known),
        mark="done" if known else "open",
        part=in_turn(*(_part(weighing, axle, entered[axle]) for axle in axles)),
        keeps=keeps,
        why=tr("Only a scale weighs. The same load in all passes; a mistyped digit shows where the sums must agree."),
        costs=tr("Left out: no axle is checked against its rating. Heights do not weigh."),
        half=bool(known) and len(known) < len(axles),
        walks_on=True,
    )


def _axle(axle: Axle) -> str:
    return {"front": tr("front"), "rear": tr("rear"), "trailer": tr("trailer")}[axle]


def _part(weighing: Weighing, axle: Axle, stands: str) -> Part:
    asked = {"front": tr("front axle"), "rear": tr("rear axle"), "trailer": tr("trailer's axles")}[axle]
    question = tr("{weighing}: what does the scale say under the {axle}?", weighing=weighing_name(weighing), axle=asked)
    return Part(
        question=capital(question),
        stands=stands,
        hint=tr("Enter alone: not weighed") if not stands else "",
    )
