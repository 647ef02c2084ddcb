"""Notes, and the reasons for skipping a corner."""

from __future__ import annotations

from dataclasses import replace

from cornerwalk.session.walk import skip_corner, write_note
from cornerwalk.tui.answers.say_back import Line, Refusal, SayBack, refusal
from cornerwalk.tui.asking import NoteAsked, ReasonAsked
from cornerwalk.tui.job import OpenJob
from cornerwalk.words import tr
from cornerwalk.words.steps import skip_reasons


def reason(job: OpenJob, asked: ReasonAsked, text: str) -> SayBack:
    """Why a corner is skipped: one of the usual reasons by number, or in words."""
    usual = skip_reasons()
    lines: list[Line] = [("ink", f"{n}  {reason}") for n, reason in enumerate(usual, start=1)]
    lines.append(("quiet", tr("A number or your own words, then Enter. Esc goes back.")))
    typed = text.strip()
    words = usual[int(typed) - 1] if typed.isdecimal() and 1 <= int(typed) <= len(usual) else typed
    try:
        would = skip_corner(job.session, corner=asked.corner, stage=asked.stage, reason=words)
    except Refusal as error:
        return replace(refusal(error), lines=tuple(lines))
    return SayBack(lines=tuple(lines), would=would)


def note(job: OpenJob, asked: NoteAsked, text: str) -> SayBack:
    """A note."""
    lines: tuple[Line, ...] = (("quiet", tr("Enter keeps the note, Esc goes back.")),)
    try:
        return SayBack(lines=lines, would=write_note(job.session, text, stage=asked.stage, corner=asked.corner))
    except Refusal as error:
        return replace(refusal(error), lines=lines)
