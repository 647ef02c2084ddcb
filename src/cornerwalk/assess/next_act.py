"""Next act: the one physical thing to do now, what for, and what it waits for. Every page and skin shows this one.

The order is a foreman's:

    open stop → hold test that runs → doubtful reading → corner in hand → vehicle into the next state
    → before the first air: brake valve, kit's limits, fitting list, minimum air, wheel torque, soap, arm torque
    → trials until the answer is sure enough → the recommended pressure set and read
    → before driving: wheel and arm torque, soap → road test → hold test → weighing → handover

Minimum air comes before the wheels are torqued because the vehicle is lowered for that, and a bag is never loaded
empty. An act may be passed over with a reason (`pass_over`): it is then not due any more, and `open_gates` goes on
naming it. Nothing here is a sentence, and nothing knows what time it is: `NextAct.waits` is asked with the time.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal, get_args

from cornerwalk.assess.air_checks import PRESSURE_HELD
from cornerwalk.assess.air_results import DEFAULT_GAUGE_GRADUATION_kPa
from cornerwalk.assess.assessment import AirResult, Assessment, Finding
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.conditions import find_answer
from cornerwalk.session.events import CheckAnswered
from cornerwalk.session.hold_test import AirLine, find_leak_reading, joints_to_soap, lines_to_test, running_tests
from cornerwalk.session.model import Session, Stage, StageKey
from cornerwalk.session.stages import AIR_STAGES, LOADED_STAGES, LOADED_WITH_AIR, ChapterId, Corner, stage_chapter
from cornerwalk.session.walk import BeginStage, EntryError, ReadCorner, due, next_number

PassableCode = Literal[
    "read-again",
    "read-stage-again",
    "answer-brake-valve",
    "state-kit-limits",
    "fit-springs",
    "minimum-air",
    "torque-wheels",
    "soap-joints",
    "torque-arms",
    "find-why-no-rise",
    "try-pressure",
    "try-any-pressure",
    "set-recommended",
    "road-test",
    "read-after-road",
    "start-hold",
    "find-leak",
    "weigh",
]
"""Acts that may be passed over with a reason. A stop is none of them, nor is a gauge that is to be read."""

ActCode = Literal[
    PassableCode,
    "settle-stop",
    "mend-leak",
    "read-corner",
    "load-vehicle",
    "answer-road-list",
    "read-hold-gauge",
    "hand-over",
    "read-follow-up",
    "closed",
]

PASSABLE: frozenset[ActCode] = frozenset(get_args(PassableCode))

HOLD_H = 24.0
"""Hours of a hold test: the period that the allowed loss is meant for."""
COOLING = timedelta(minutes=15)
"""Compressed air comes in warm; the first reading of a hold test is taken this long after the last air went in."""
SURE_WITHIN_MM = 6.35
"""Where the rear will stand is sure enough within this, as U: 1/4 in, the ride-height tolerance of air axles (seen)."""
WORTH_A_TRIAL = 0.8
"""A further trial that leaves more than this part of u(P) is not worth its time; judgement, no source."""
MOST_TRIALS = 5
"""More do not help where this many do not; judgement, no source."""

GATES: tuple[ActCode, ...] = ("answer-brake-valve", "state-kit-limits", "minimum-air", "torque-wheels", "torque-arms")
"""Acts that stay visible until they are done, however they were passed over."""

_CHECK_OF: dict[ActCode, str] = {
    "answer-brake-valve": "brake-valve",
    "minimum-air": "some-air-in",
    "torque-wheels": "wheels-torqued",
    "torque-arms": "bolts-at-height",
}
"""The question of a packaged checklist that says whether it is done."""

_GATE_CHAPTER: dict[ActCode, ChapterId] = {"answer-brake-valve": "before", "state-kit-limits": "intake"}
"""Where a gate is answered; any other is a line of the fitting list."""

_JOINT_OF: dict[ActCode, str] = {"torque-wheels": "wheel nuts", "torque-arms": "control-arm bolts, at ride height"}
_LISTED_ELSEWHERE = frozenset(_CHECK_OF.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class NextAct:
    """What to do now.

    Attributes:
        code: which act it is; its sentences are wording's.
        chapter: where it is done.
        stage, corner: of a reading; the stage to bring the vehicle into.
        pressure_kPa: what to set in joined lines, gauge; `left_kPa` and `right_kPa` in separate ones.
        line: the air line of a hold test.
        check: the question of a checklist that it answers.
        joint: what to wet, or what bubbles.
        finding: the stop to settle.
        since: when it began to wait, ISO 8601; None where it does not.
        not_before: until when it waits, ISO 8601; None where it can be done at once.
    """

    code: ActCode
    chapter: ChapterId
    stage: StageKey | None = None
    corner: Corner | None = None
    pressure_kPa: float | None = None
    left_kPa: float | None = None
    right_kPa: float | None = None
    line: AirLine | None = None
    check: str | None = None
    joint: str | None = None
    finding: Finding | None = None
    since: str | None = None
    not_before: str | None = None

    def waits(self, now: datetime) -> bool:
        """Whether it is too early for it. Times that cannot be compared never wait."""
        until = _moment(self.not_before)
        return until is not None and now.tzinfo is not None and now < until

    def hours_waited(self, now: datetime) -> float | None:
        """How long it has waited, in hours, at least 0."""
        begun = _moment(self.since)
        return None if begun is None or now.tzinfo is None else max(0.0, (now - begun).total_seconds() / 3600)

    def hours_left(self, now: datetime) -> float | None:
        """How long until it can be done, in hours; None where it can be done now."""
        until = _moment(self.not_before)
        return (until - now).total_seconds() / 3600 if until is not None and self.waits(now) else None


def next_act(session: Session, assessment: Assessment, checklists: Checklists, *, hold_h: float = HOLD_H) -> NextAct:
    """The act that is due. There is always exactly one."""
    if not session.open:
        return NextAct(code="closed", chapter="follow-up")
    acts = _acts(session, assessment, checklists, hold_h)
    return next(act for act in acts if not is_passed_over(session, act))


def open_gates(session: Session) -> tuple[ActCode, ...]:
    """The gates of this kind of job that are not done, passed over or not."""
    return tuple(code for code in _gates_of(session) if not _is_done(session, code))


# ---- passing over ----


def pass_over(act: NextAct, reason: str) -> CheckAnswered:
    """The record that an act is passed over, and why.

    Raises:
        EntryError: no reason is given, or the act cannot be passed over.
    """
    if act.code not in PASSABLE:
        raise EntryError("this cannot be passed over")
    if not reason.strip():
        raise EntryError("what is passed over needs a reason, for whoever reads this later")
    stage, number = act.stage if act.stage is not None and act.code in _AT_STAGE else (None, None)
    return CheckAnswered(check=_key(act.code), answer="not checked", note=reason.strip(), stage=stage, number=number)


_AT_STAGE: frozenset[ActCode] = frozenset(("read-again", "read-stage-again"))


def _key(code: ActCode) -> str:
    return _CHECK_OF.get(code, code)


def is_passed_over(session: Session, act: NextAct) -> bool:
    """Whether it was passed over with a reason, at its stage where it belongs to one."""
    if act.code not in PASSABLE:
        return False
    answer = find_answer(session, _key(act.code), act.stage if act.code in _AT_STAGE else None)
    return answer is not None and answer.answer not in ("yes", "no") and bool(answer.note.strip())


# ---- the order ----


def _acts(session: Session, assessment: Assessment, checklists: Checklists, hold_h: float) -> Iterator[NextAct]:
    """Everything that is due by itself, the first thing first; the last can always be done."""
    asked = due(session)
    current = session.current_stage
    yield from _stops(session, assessment)
    in_hand = current is not None and isinstance(asked, ReadCorner)
    if not in_hand:
        yield from _running(session, hold_h)
    yield from _doubtful(session, assessment)
    if isinstance(asked, ReadCorner):
        yield _reading("read-corner", asked.stage, asked.corner)
        return
    if session.handovers:
        yield from _coming_back(session)
    else:
        if isinstance(asked, BeginStage) and not asked.with_air:
            yield NextAct(code="load-vehicle", chapter=stage_chapter(asked.stage[0]), stage=asked.stage)
        if session.job.kind != "load check":
            yield from _before_first_air(session, checklists)
            yield from _trials(session, assessment)
            yield from _before_driving(session)
            yield from _road(session, checklists)
            yield from _holding(session, assessment)
        yield from _weighing(session)
    yield NextAct(code="hand-over", chapter="handover")


def _reading(code: ActCode, stage: StageKey, corner: Corner | None) -> NextAct:
    return NextAct(code=code, chapter=stage_chapter(stage[0]), stage=stage, corner=corner)


# ---- stops, doubts ----


def _stops(session: Session, assessment: Assessment) -> Iterator[NextAct]:
    """A stop of a stage is open while the vehicle still stands so; bubbles, until the joint is wet again and dry."""
    leaking = next((joint.joint for joint in session.joints if joint.bubbles), None)
    open_stops = [finding for finding in assessment.stops if _still_stands(session, finding)]
    for finding in open_stops:
        if finding.code != "bubbles":
            chapter: ChapterId = "before" if finding.code == "brake-valve" else _chapter_of(session, finding.stage)
            yield NextAct(code="settle-stop", chapter=chapter, finding=finding, stage=finding.stage)
    if leaking is not None:
        yield NextAct(code="mend-leak", chapter="leak", joint=leaking)


def _chapter_of(session: Session, stage: StageKey | None) -> ChapterId:
    if stage is not None:
        return stage_chapter(stage[0])
    current = session.current_stage
    return stage_chapter(current.name) if current is not None else "intake"


def _still_stands(session: Session, finding: Finding) -> bool:
    if finding.stage is None:
        return True
    keys = [stage.key for stage in session.stages if stage.name in LOADED_STAGES]
    if finding.stage not in keys:
        current = session.current_stage
        return current is not None and current.key == finding.stage
    return finding.stage == keys[-1]


def _doubtful(session: Session, assessment: Assessment) -> Iterator[NextAct]:
    """The reading that the latest stage read in full throws doubt on; read twice, it stands."""
    last = next((s for s in reversed(assessment.stages) if (own := session.stage(s.key)) and own.all_read), None)
    if last is None or last.misread is None:
        return
    stage, corner = last.misread.stage, last.misread.corner
    read = session.stage(stage)
    if read is None:
        return
    again = [len(read.corner(c).readings) > 1 for c in ((corner,) if corner is not None else session.job.order)]
    if not all(again):
        yield _reading("read-again" if corner is not None else "read-stage-again", stage, corner)


# ---- before the first air ----


def _gates_of(session: Session) -> tuple[ActCode, ...]:
    if session.job.kind == "load check":
        return ()
    return GATES if session.job.kind == "fit" else GATES[:2]


def _is_done(session: Session, code: ActCode) -> bool:
    if code == "state-kit-limits":
        return session.kit.min_kPa is not None and session.kit.max_kPa is not None
    answer = find_answer(session, _CHECK_OF[code])
    if answer is not None and answer.answer in ("yes", "no"):
        return code == "answer-brake-valve" or answer.answer == "yes"
    if code == "answer-brake-valve":
        return answer is not None and answer.answer == "not fitted"
    return any(torque.joint == _JOINT_OF.get(code) and torque.reached_entered for torque in session.torques)


def _gate(session: Session, code: ActCode) -> Iterator[NextAct]:
    if code in _gates_of(session) and not _is_done(session, code):
        chapter = _GATE_CHAPTER.get(code, "fitting")
        pressure_kPa = session.kit.min_kPa if code == "minimum-air" else None
        yield NextAct(code=code, chapter=chapter, check=_CHECK_OF.get(code), pressure_kPa=pressure_kPa)


def _before_first_air(session: Session, checklists: Checklists) -> Iterator[NextAct]:
    """The gates hold as long as they are not done; the list is left once there was air in."""
    yield from _gate(session, "answer-brake-valve")
    yield from _gate(session, "state-kit-limits")
    if session.job.kind != "fit" or _had_air(session):
        return
    for item in checklists["fitting"].items:
        if item.id not in _LISTED_ELSEWHERE and find_answer(session, item.id) is None:
            yield NextAct(code="fit-springs", chapter="fitting", check=item.id)
            break
    yield from _gate(session, "minimum-air")
    yield from _gate(session, "torque-wheels")
    yield from _soap(session)
    yield from _gate(session, "torque-arms")


def _had_air(session: Session) -> bool:
    return any(stage.name in AIR_STAGES for stage in session.stages)


def _soap(session: Session) -> Iterator[NextAct]:
    for joint in joints_to_soap(session)[:1]:
        yield NextAct(code="soap-joints", chapter="leak", joint=joint)


# ---- trials ----


def _trials(session: Session, assessment: Assessment) -> Iterator[NextAct]:
    trial: StageKey = ("fitted", next_number(session, "fitted"))
    if any(air.reason == "more air did not raise the rear" for air in assessment.air):
        yield NextAct(code="find-why-no-rise", chapter="air")
        return
    if not _sure_enough(session, assessment.air):
        if len(session.trials) < MOST_TRIALS:
            yield _pressure_act("try-pressure", session, trial, _tried_next(session, assessment.air))
        return
    advised = [air.recommended_kPa for air in assessment.air]
    if any(kPa is None for kPa in advised) or _is_read_at(session, assessment.air) or len(session.trials) > MOST_TRIALS:
        return
    yield _pressure_act("set-recommended", session, trial, advised)


def _pressure_act(code: ActCode, session: Session, trial: StageKey, advised: Sequence[float | None]) -> NextAct:
    if not advised or any(kPa is None for kPa in advised):
        return NextAct(code="try-any-pressure", chapter="air", stage=trial)
    if session.kit.lines == "separate" and len(advised) > 1:
        return NextAct(code=code, chapter="air", stage=trial, left_kPa=advised[0], right_kPa=advised[1])
    return NextAct(code=code, chapter="air", stage=trial, pressure_kPa=advised[0])


def _tried_next(session: Session, air: Sequence[AirResult]) -> list[float | None]:
    """The next trial of each line; the first is at the kit's minimum, which is in already."""
    if air:
        return [each.try_next_kPa for each in air]
    return [session.kit.min_kPa] * (2 if session.kit.lines == "separate" else 1)


def _sure_enough(session: Session, air: Sequence[AirResult]) -> bool:
    """Whether another trial would teach anything worth its time."""
    limits_known = session.kit.min_kPa is not None and session.kit.max_kPa is not None
    if not air:
        return False
    if not limits_known:
        return all(len(each.trials) > 1 for each in air)
    return all(_is_sure(each) for each in air)


def _is_sure(air: AirResult) -> bool:
    if air.recommended_kPa is None or not air.u_holds or air.extrapolated or air.off_line or len(air.trials) < 2:
        return False
    if air.u_left_mm is not None and 2 * air.u_left_mm <= SURE_WITHIN_MM:
        return True
    after, now = air.u_after_next_kPa, air.u_pressure_kPa
    return after is not None and now is not None and after > WORTH_A_TRIAL * now


def _is_read_at(session: Session, air: Sequence[AirResult]) -> bool:
    """Whether the latest loaded stage with air was read at the recommended pressure, to a mark of the gauge or to u."""
    last = next((s for s in reversed(session.stages) if s.name in LOADED_WITH_AIR and s.complete), None)
    if last is None:
        return False
    mark_kPa = session.leak.gauge_graduation_kPa or DEFAULT_GAUGE_GRADUATION_kPa
    return all(
        each.recommended_kPa is not None
        and set_kPa is not None
        and abs(set_kPa - each.recommended_kPa) <= max(mark_kPa, each.u_pressure_kPa or 0.0) * (1 + 1e-6)
        for each, set_kPa in zip(air, _set_in(last, len(air)), strict=True)
    )


def _set_in(stage: Stage, lines: int) -> tuple[float | None, ...]:
    if lines == 1:
        return (stage.pressure_kPa if stage.pressure_kPa is not None else stage.left_kPa,)
    return (
        stage.left_kPa if stage.left_kPa is not None else stage.pressure_kPa,
        stage.right_kPa if stage.right_kPa is not None else stage.pressure_kPa,
    )


# ---- driving, holding, weighing ----


def _before_driving(session: Session) -> Iterator[NextAct]:
    yield from _gate(session, "minimum-air")
    yield from _gate(session, "torque-wheels")
    yield from _gate(session, "torque-arms")
    yield from _soap(session)


def _road(session: Session, checklists: Checklists) -> Iterator[NextAct]:
    read = session.first_stage("road-test")
    items = checklists["road"].items
    unanswered = [item.id for item in items if find_answer(session, item.id) is None]
    if read is None and len(unanswered) == len(items):
        yield NextAct(code="road-test", chapter="road")
        if _passed(session, "road-test"):
            return
    if read is None:
        yield NextAct(code="read-after-road", chapter="road", stage=("road-test", 1))
    for check in unanswered[:1]:
        yield NextAct(code="answer-road-list", chapter="road", check=check)


def _passed(session: Session, code: ActCode) -> bool:
    return is_passed_over(session, NextAct(code=code, chapter="road"))


def _running(session: Session, hold_h: float) -> Iterator[NextAct]:
    """A hold test that runs: nothing that would disturb it; wetting a joint does not."""
    for start in running_tests(session):
        yield from _soap(session)
        until = _later(start.at, timedelta(hours=hold_h))
        yield NextAct(code="read-hold-gauge", chapter="leak", line=start.line, since=start.at, not_before=until)


def _holding(session: Session, assessment: Assessment) -> Iterator[NextAct]:
    lost = {kind.id: line for line, kind in PRESSURE_HELD.items()}
    for check in assessment.verdicts:
        if check.id in lost and check.verdict in ("fail", "conditional fail"):
            yield NextAct(code="find-leak", chapter="leak", line=lost[check.id])
    for line in lines_to_test(session):
        if find_leak_reading(session, line, "start") is None:
            until = _later(_last_air_at(session), COOLING)
            yield NextAct(code="start-hold", chapter="leak", line=line, not_before=until)


def _last_air_at(session: Session) -> str | None:
    return next((stage.begun_at for stage in reversed(session.stages) if stage.name in AIR_STAGES), None)


def _weighing(session: Session) -> Iterator[NextAct]:
    """Where there is a rating or a trailer's weight to hold a ticket against."""
    vehicle = session.vehicle
    ratings = (vehicle.gawr_front_N, vehicle.gawr_rear_N, vehicle.gvwr_N, vehicle.gcwr_N)
    if any(rating is not None for rating in ratings) and not session.weighings:
        yield NextAct(code="weigh", chapter="intake")


def _coming_back(session: Session) -> Iterator[NextAct]:
    done = sum(stage.name == "follow-up" for stage in session.stages)
    if done < len(session.handovers):
        stage: StageKey = ("follow-up", next_number(session, "follow-up"))
        yield NextAct(code="read-follow-up", chapter="follow-up", stage=stage)


# ---- times ----


def _moment(text: str | None) -> datetime | None:
    try:
        moment = datetime.fromisoformat(text or "")
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None


def _later(text: str | None, by: timedelta) -> str | None:
    moment = _moment(text)
    return None if moment is None else (moment + by).isoformat()


__all__ = [
    "GATES",
    "HOLD_H",
    "PASSABLE",
    "ActCode",
    "NextAct",
    "is_passed_over",
    "next_act",
    "open_gates",
    "pass_over",
]
