"""Next act in words: what to do, why, and the caution that belongs to it. One row an act."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from cornerwalk.assess.next_act import ActCode, NextAct
from cornerwalk.wording.answers import question_of
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import corner_name, joint_name, stage_title
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless
from cornerwalk.words.steps import air_caution, level_is_not_safe


@dataclass(frozen=True, slots=True)
class ActText:
    """An act in words; `reason` and `safety` may be empty."""

    text: str
    reason: str = ""
    safety: str = ""


def act_text(act: NextAct, wording: Wording, now: datetime, *, kit_maximum: str = "") -> ActText:
    """What to do now; a hold test and its start say how long they wait.

    `kit_maximum` is the kit's limit as typed, "" where it is not known.
    """
    if act.code == "settle-stop" and act.finding is not None:
        words = finding_text(act.finding, wording)
        return ActText(f"{words.heading}. {words.action}", words.reason)
    return ActText(_text(act, wording, now), _reason(act.code), _safety(act.code, kit_maximum))


def _text(act: NextAct, wording: Wording, now: datetime) -> str:  # noqa: PLR0912 - a row an act
    corner = corner_name(act.corner) if act.corner is not None else ""
    stage = stage_title(act.stage) if act.stage is not None else ""
    joint = harmless(joint_name(act.joint)) if act.joint is not None else ""
    question = question_of(act.check) if act.check is not None else ""
    match act.code:
        case "settle-stop":
            return tr("Settle the STOP.")
        case "mend-leak":
            return tr("Let the air out, mend the joint that bubbles ({joint}), and wet it again.", joint=joint)
        case "read-again":
            return tr("Read again: {corner}, {stage}.", corner=corner, stage=stage)
        case "read-stage-again":
            return tr("Read all four corners again: {stage}.", stage=stage)
        case "read-corner":
            return tr("Read {corner}, {stage}.", corner=corner, stage=stage)
        case "load-vehicle":
            return tr("Load the vehicle as it will be driven, hitch on, and read it: {stage}.", stage=stage)
        case "answer-brake-valve":
            return tr("Look for the brake valve. {question}", question=question)
        case "state-kit-limits":
            return tr("Find the minimum and maximum pressure in the kit's instructions.")
        case "fit-springs":
            return tr("Install the bags. {question}", question=question)
        case "minimum-air":
            if act.pressure_kPa is None:
                return tr("Let the kit's minimum in before weight comes on the bags.")
            pressure = wording.pressure(act.pressure_kPa)
            return tr("Let the minimum in before weight comes on the bags: {pressure}.", pressure=pressure)
        case "torque-wheels":
            return tr("Torque the lug nuts.")
        case "soap-joints":
            return tr("Soap test: {joint}.", joint=joint)
        case "torque-arms":
            return tr("Torque the arm bolts at ride height.")
        case "find-why-no-rise":
            return tr("Find out why more air does not raise the rear: line, valve, bag.")
        case "try-pressure":
            return tr("Set {pressure} and read the four corners.", pressure=_pressure(act, wording))
        case "try-any-pressure":
            return tr("Add air, read the gauge, and read the four corners.")
        case "set-recommended":
            return tr("Set the recommended {pressure} and read the four corners.", pressure=_pressure(act, wording))
        case "road-test":
            return tr("Drive it, loaded as before.")
        case "answer-road-list":
            return tr("Look it over after the road. {question}", question=question)
        case "read-after-road":
            return tr("Read the four corners after the road, on the same spots.")
        case "start-hold":
            left = act.hours_left(now)
            if left is not None:
                return tr("Let the air cool for {time}, then read the gauge to start the leak-down test.",
                          time=wording.hours(left))  # fmt: skip
            return tr("Park it and read the gauge to start the leak-down test.")
        case "read-hold-gauge":
            return _holding(act, wording, now)
        case "find-leak":
            return tr("Find the leak: wet every joint again.")
        case "weigh":
            return tr("Weigh it as it travels.")
        case "hand-over":
            return tr("Hand it over.")
        case "read-follow-up":
            return tr("Read the four corners as received.")
        case "closed":
            return tr("Nothing: it is handed over.")


def _pressure(act: NextAct, wording: Wording) -> str:
    """One pressure, or left and right."""
    if act.left_kPa is not None and act.right_kPa is not None:
        left, right = wording.pressure(act.left_kPa), wording.pressure(act.right_kPa)
        return tr("{left} left, {right} right", left=left, right=right)
    return wording.pressure(act.pressure_kPa)


def _holding(act: NextAct, wording: Wording, now: datetime) -> str:
    held, left = act.hours_waited(now), act.hours_left(now)
    if left is not None and held is not None:
        return tr("Leave it parked and untouched: holding for {held}, {left} to go.",
                  held=wording.hours(held), left=wording.hours(left))  # fmt: skip
    if held is None:
        return tr("Read the gauge: end of the leak-down test.")
    return tr("Holding for {held}: read the gauge.", held=wording.hours(held))


def _reason(code: ActCode) -> str:  # noqa: PLR0912 - a row an act
    match code:
        case "mend-leak":
            return tr("A joint that bubbles goes on leaking.")
        case "read-again" | "read-stage-again":
            return tr("The four corners do not fit together.")
        case "load-vehicle":
            return tr("It shows what the helper springs have to restore.")
        case "answer-brake-valve":
            return tr("It can end the job: such a valve forbids the springs.")
        case "state-kit-limits":
            return tr("Nobody fills a bag without knowing its limits.")
        case "minimum-air":
            return tr("A flat bag folds and pinches.")
        case "torque-wheels":
            return tr("Nothing is driven on wheels nobody torqued.")
        case "soap-joints":
            return tr("Bubbles are mended before anything is driven.")
        case "torque-arms":
            return tr("Tightened hanging, a bushing holds the height wrong.")
        case "try-pressure" | "try-any-pressure":
            return tr("Another pressure makes the answer surer.")
        case "set-recommended":
            return tr("The answer is sure enough: see that it comes true.")
        case "road-test" | "answer-road-list" | "read-after-road":
            return tr("What settles or rubs shows only after miles.")
        case "start-hold" | "read-hold-gauge" | "find-leak":
            return tr("A slow leak shows only over a day.")
        case "weigh":
            return tr("A level body says nothing about the axles.")
        case _:
            return ""


def _safety(code: ActCode, kit_maximum: str) -> str:
    match code:
        case "try-pressure" | "try-any-pressure" | "set-recommended" | "minimum-air" | "mend-leak":
            return air_caution(kit_maximum)
        case "fit-springs":
            return tr("Rated jack stands on firm ground, never a jack alone. Exhaust is hot.")
        case "load-vehicle":
            return tr("Nobody between vehicle and trailer while either one moves.")
        case "road-test" | "hand-over" | "weigh":
            return level_is_not_safe()
        case _:
            return ""


def act_sentence(act: NextAct, wording: Wording, now: datetime) -> str:
    """What to do, on one line."""
    return capital(act_text(act, wording, now).text)
