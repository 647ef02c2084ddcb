"""Tightened joints and passes over a scale."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cornerwalk.line.job import OpenJob
from cornerwalk.line.reply import Refusal, Reply, chosen, numbered, refused, unit_said, with_unit
from cornerwalk.session.events import Weighing
from cornerwalk.session.statements import (
    USUAL_JOINTS,
    WEIGHINGS,
    TorqueField,
    axles_weighed,
    bare_units,
    find_torque,
    record_torque,
    record_weight,
    weighing_text,
)
from cornerwalk.wording.events import event_words
from cornerwalk.wording.names import weighing_name
from cornerwalk.words import tr

_PARTS: tuple[TorqueField, ...] = ("specified", "source", "reached")


@dataclass(frozen=True, slots=True)
class TorqueAsked:
    """A tightened joint: its name, then what was asked for, whose figure that is, and what was reached."""

    joint: str = ""
    part: TorqueField = "specified"

    @property
    def free(self) -> bool:
        """Names are told in words."""
        return not self.joint or self.part == "source"

    def prompt(self, _job: OpenJob) -> str:
        """What of it is due."""
        if not self.joint:
            return tr("Tightened joint, number or name; Enter for none:")
        joint = tr(self.joint)
        return {
            "specified": tr("{joint}, specified, with its unit:", joint=joint),
            "source": tr("{joint}, by whose specification:", joint=joint),
            "reached": tr("{joint}, reached, with its unit:", joint=joint),
        }[self.part]

    def opening(self, job: OpenJob) -> tuple[str, ...]:
        """The usual joints, and that the figure is never ours."""
        if self.joint:
            return ()
        caution = tr("The vehicle and kit makers' figures, never ours. Wheels crosswise, in steps.")
        return (tr("Caution: {caution}", caution=caution), *numbered(tuple(tr(joint) for joint in _joints(job))))

    def answer(self, job: OpenJob, text: str) -> Reply:
        """The next part of it, recorded as it comes; Enter leaves a part out."""
        if not self.joint:
            return self._named(job, text)
        follows = self._next()
        if not text:
            return Reply(then=follows)
        try:
            what = record_torque(job.session, self.joint, self.part, text)
        except Refusal as error:
            return refused(error)
        return Reply(events=(what,), kept=f"{event_words(what)}.", then=follows)

    def _named(self, job: OpenJob, text: str) -> Reply:
        if not text:
            return Reply()
        joints = _joints(job)
        place = chosen(text, len(joints))
        return Reply(then=TorqueAsked(joint_called(text) if place is None else joints[place]))

    def _next(self) -> TorqueAsked:
        place = _PARTS.index(self.part)
        return replace(self, part=_PARTS[place + 1]) if place + 1 < len(_PARTS) else TorqueAsked()


def _joints(job: OpenJob) -> tuple[str, ...]:
    """The usual joints and those recorded, without those that are finished."""
    names = dict.fromkeys((*USUAL_JOINTS, *(t.joint for t in job.session.torques)))
    known = {name: find_torque(job.session, name) for name in names}
    return tuple(name for name, torque in known.items() if torque is None or not torque.reached_entered)


def joint_called(text: str) -> str:
    """The usual joint that is called so in the user's language; else the text itself, a joint of the user's own."""
    return next((joint for joint in USUAL_JOINTS if text.casefold() == tr(joint).casefold()), text)


def torque_after(joint: str, job: OpenJob) -> TorqueAsked:
    """The part of a joint that is not known yet; another joint where all is."""
    known = find_torque(job.session, joint)
    if known is None:
        return TorqueAsked()
    texts = {"specified": known.specified_entered, "source": known.source, "reached": known.reached_entered}
    filled = [place for place, part in enumerate(_PARTS) if texts[part]]
    place = filled[-1] + 1 if filled else 0
    return TorqueAsked(joint, _PARTS[place]) if place < len(_PARTS) else TorqueAsked()


@dataclass(frozen=True, slots=True)
class WeighAsked:
    """A pass over the scale, then its axles."""

    weighing: Weighing | None = None
    place: int = 0

    @property
    def free(self) -> bool:
        """Figures."""
        return False

    def prompt(self, job: OpenJob) -> str:
        """What is due."""
        if self.weighing is None:
            return tr("Which pass over the scale? Number; Enter for none:")
        axle, unit = axles_weighed(self.weighing)[self.place], unit_said(bare_units(job.session.job.unit)["force"])
        pass_name = weighing_name(self.weighing)
        stands = weighing_text(job.session, self.weighing, axle)
        if stands:
            return tr("{weighing}, {axle} ({stands} stands):", weighing=pass_name, axle=tr(axle), stands=stands)
        return tr("{weighing}, {axle}, {unit}:", weighing=pass_name, axle=tr(axle), unit=unit)

    def opening(self, _job: OpenJob) -> tuple[str, ...]:
        """The passes."""
        return numbered(tuple(weighing_name(each) for each in WEIGHINGS)) if self.weighing is None else ()

    def answer(self, job: OpenJob, text: str) -> Reply:
        """A pass by its number; then a weight, recorded as it comes."""
        if self.weighing is None:
            place = chosen(text, len(WEIGHINGS))
            if place is None and text:
                return Reply(said=(tr("a number from 1 to {most}", most=len(WEIGHINGS)),), refused=True)
            return Reply() if place is None else Reply(then=WeighAsked(WEIGHINGS[place]))
        axles = axles_weighed(self.weighing)
        more = self.place + 1 < len(axles)
        follows = replace(self, place=self.place + 1) if more else WeighAsked()
        if not text:
            return Reply(then=follows)
        try:
            what = record_weight(job.session, self.weighing, axles[self.place], text)
        except Refusal as error:
            return refused(error)
        told = tr(
            "{weighing}, {axle}: {weight}.",
            weighing=weighing_name(self.weighing),
            axle=tr(axles[self.place]),
            weight=with_unit(text, bare_units(job.session.job.unit)["force"]),
        )
        return Reply(events=(what,), kept=told, then=follows)


def weighing_after(weighing: Weighing, job: OpenJob) -> WeighAsked:
    """The axle of a pass after the last one typed; another pass where all are."""
    axles = axles_weighed(weighing)
    typed = [place for place, axle in enumerate(axles) if weighing_text(job.session, weighing, axle)]
    place = typed[-1] + 1 if typed else 0
    return WeighAsked(weighing, place) if place < len(axles) else WeighAsked()
