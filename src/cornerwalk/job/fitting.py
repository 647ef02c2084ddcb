"""The fitting as lines: the work in its order with each caution at its step, the torques, and when to check again."""

from __future__ import annotations

from cornerwalk.job.checks import check_lines
from cornerwalk.job.form import fact_lines
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Mark, Part, Question, Texts, in_turn
from cornerwalk.job.reply import Refusal, Reply, refusal
from cornerwalk.session.model import TorqueRecord
from cornerwalk.session.statements import USUAL_JOINTS, TorqueField, record_torque, torque_ratio
from cornerwalk.wording.names import joint_name
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless


def fitting_lines(job: OpenJob) -> tuple[Question, ...]:
    """The work first, then how tight it was made."""
    again = fact_lines(job, ("service.retorque_distance",), tr("Torque recheck"))
    return (*check_lines(job, "fitting"), *torque_lines(job), *again)


# ---- Tightened joints as lines. What is asked for is always the maker's figure, and whose it is stands beside it ----


ADD = "torque.add"
_PARTS: tuple[TorqueField, ...] = ("specified", "source", "reached")
_AS_TIGHT = 1e-6


def torque_lines(job: OpenJob) -> tuple[Question, ...]:
    """A line a joint: those that every fitting loosens, those named so far, and one to name another."""
    known = {torque.joint: torque for torque in job.session.torques}
    joints = dict.fromkeys([*USUAL_JOINTS, *known])
    return (*(_line(job, joint, known.get(joint)) for joint in joints), _another(job))


def _group() -> str:
    return tr("Torques, by the maker's figures")


def _caution() -> str:
    return tr("The vehicle maker's torque, never ours, with a torque wrench. Wheels in a star pattern, in steps.")


def _line(job: OpenJob, joint: str, torque: TorqueRecord | None) -> Question:
    stands = _entered(torque)

    def keeps(texts: Texts) -> Reply:
        return _understood(job, joint, _PARTS[len(texts) - 1], texts[-1], stands[len(texts) - 1])

    return Question(
        id=f"torque:{joint}",
        name=harmless(joint_name(joint)),
        group=_group(),
        stands=_told(torque),
        mark=_mark(torque),
        part=in_turn(*_parts(joint, stands)),
        keeps=keeps,
        caution=_caution(),
        costs=tr("If skipped: no record of how tight it was."),
        half=torque is not None and "" in stands,
        walks_on=True,
    )


def _another(job: OpenJob) -> Question:
    def keeps(texts: Texts) -> Reply:
        if len(texts) == 1:
            return Reply(enter=tr("Enter: next question."))
        return _understood(job, texts[0], _PARTS[len(texts) - 2], texts[-1], "")

    def part(texts: Texts) -> Part | None:
        if not texts:
            return Part(question=tr("Which joint?"), hint=tr("for example lower shock bolt, left"), words=True)
        return in_turn(*_parts(texts[0], ("", "", "")))(texts[1:])

    return Question(id=ADD, name=tr("another joint"), group=_group(), part=part, keeps=keeps, caution=_caution())


def _parts(joint: str, stands: tuple[str, str, str]) -> tuple[Part, Part, Part]:
    specified, source, reached = stands
    name = capital(harmless(joint_name(joint)))
    return (
        Part(
            question=tr("{joint}: specified torque?", joint=name),
            stands=specified,
            hint=tr("with its unit: 80 lbf·ft, 108 N·m"),
        ),
        Part(
            question=tr("{joint}: whose spec?", joint=name),
            stands=source,
            hint=tr("for example vehicle's manual, page 212"),
            words=True,
        ),
        Part(question=tr("{joint}: what did the wrench reach?", joint=name), stands=reached, hint=tr("with its unit")),
    )


def _understood(job: OpenJob, joint: str, part: TorqueField, text: str, stands: str) -> Reply:
    if text.strip() == stands:
        return Reply()
    try:
        would = record_torque(job.session, joint, part, text)
    except Refusal as error:
        return refusal(error)
    figure = {"specified": would.specified_Nm, "reached": would.reached_Nm, "source": None}[part]
    return Reply(meant=job.wording.torque(figure) if figure is not None else "", would=(would,))


def _entered(torque: TorqueRecord | None) -> tuple[str, str, str]:
    if torque is None:
        return ("", "", "")
    return (harmless(torque.specified_entered), harmless(torque.source), harmless(torque.reached_entered))


def _told(torque: TorqueRecord | None) -> str:
    if torque is None:
        return ""
    specified, source, reached = _entered(torque)
    told = tr(
        "{reached} of {specified}, {source}",
        reached=reached or tr("not reached yet"),
        specified=specified or tr("not entered"),
        source=source or tr("source not entered"),
    )
    share = torque_ratio(torque)
    if share is None or abs(share - 1) <= _AS_TIGHT:
        return told
    percent = f"{abs(share - 1) * 100:.0f} %"
    return (
        told + "; " + (tr("{percent} over", percent=percent) if share > 1 else tr("{percent} under", percent=percent))
    )


def _mark(torque: TorqueRecord | None) -> Mark:
    if torque is None:
        return "open"
    share = torque_ratio(torque)
    if share is None or not torque.source or abs(share - 1) > _AS_TIGHT:
        return "matters"
    return "done"
