"""The loads as lines: each with its weight and its place, and one line to add another."""

from __future__ import annotations

from typing import get_args

from cornerwalk.session.events import LoadStated
from cornerwalk.session.model import Load
from cornerwalk.session.statements import Side, remove_load, state_load
from cornerwalk.tui.answers.say_back import Refusal, SayBack, refusal
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.line import Line, Option, Part, Texts, in_turn
from cornerwalk.wording.facts import place_as_stated
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

ADD = "load.add"


def load_lines(job: OpenJob) -> tuple[Line, ...]:
    """A line a load, and the one that adds another."""
    return (*(_known(job, load) for load in job.session.loads), _another(job))


def _group() -> str:
    return tr("Loads, each with its place")


def _sides() -> tuple[Option, ...]:
    return (
        Option("1", tr("behind the rear axle"), "behind", "b"),
        Option("2", tr("ahead of the rear axle"), "ahead of", "a"),
    )


def _weight_part(stands: str) -> Part:
    return Part(question=tr("How much does it weigh, as it sits there?"), stands=stands, hint=tr("for example 410 lb"))


def _place_part(job: OpenJob, stands: str) -> Part:
    overhang = job.session.entered.get("vehicle.ball_overhang", "")
    told = (
        (tr("Enter alone: at the ball, {overhang}.", overhang=harmless(overhang)),) if overhang and not stands else ()
    )
    return Part(question=tr("How far from the rear axle?"), stands=stands or overhang, told=told)


def _side_part(stands: str) -> Part:
    return Part(question=tr("Behind the rear axle, or ahead of it?"), options=_sides(), stands=stands)


def _known(job: OpenJob, load: Load) -> Line:
    weight = job.session.entered.get(f"load.{load.name}.weight", "")
    place, side = _place(job.session.entered.get(f"load.{load.name}.place", ""))

    def keeps(texts: Texts) -> SayBack:
        say = _understood(job, load.name, texts)
        same = say.would and (texts[0], texts[1], texts[2]) == (weight, place, side)
        return SayBack() if same else say

    return Line(
        id=f"load:{load.name}",
        name=harmless(load.name),
        group=_group(),
        stands=harmless(f"{weight}, {place_as_stated(job.session.entered.get(f'load.{load.name}.place', ''))}"),
        mark="done",
        part=in_turn(_weight_part(weight), _place_part(job, place), _side_part(side)),
        keeps=keeps,
        takes_out=(remove_load(load.name, [each.name for each in job.session.loads]),),
        walks_on=True,
    )


def _another(job: OpenJob) -> Line:
    def keeps(texts: Texts) -> SayBack:
        return _understood(job, texts[0], texts[1:])

    return Line(
        id=ADD,
        name=tr("add a load"),
        group=_group(),
        part=in_turn(
            Part(question=tr("What is it? A trailer's tongue, a kitchen, people in the back…"), hint=tr("tongue")),
            _weight_part(""),
            _place_part(job, ""),
            _side_part("behind"),
        ),
        keeps=keeps,
        why=tr("Axle loads follow from weight and place by the lever; springs change neither."),
        costs=tr("Left out: no axle loads by lever, no pressures for other loads."),
    )


def _understood(job: OpenJob, name: str, texts: Texts) -> SayBack:
    """What was typed of a load so far: weight, distance, side; it is stated once all three are known."""
    weight = texts[0] if texts else "1 N"
    place = texts[1] if len(texts) > 1 else "0 mm"
    side: Side = "ahead of" if len(texts) > 2 and texts[2] == "ahead of" else "behind"
    try:
        load = state_load(name, weight, place=place, side=side, unit=job.session.job.unit)
    except Refusal as error:
        return refusal(error)
    if len(texts) < 3:
        return SayBack(lines=(("quiet", _so_far(job, load, texts)),))
    return SayBack(would=(load,))


def _so_far(job: OpenJob, load: LoadStated, texts: Texts) -> str:
    match len(texts):
        case 0:
            return tr("Enter goes on to its weight; it is kept once weight and place are known.")
        case 1:
            return tr("{weight}; Enter goes on to its place.", weight=job.wording.weight(load.weight_N))
        case _:
            return tr("{distance}; Enter goes on to its side.", distance=job.wording.exact(abs(load.ahead_mm)))


def _place(entered: str) -> tuple[str, str]:
    for side in get_args(Side):
        if entered.endswith(f" {side} the rear axle"):
            return entered.removesuffix(f" {side} the rear axle"), side
    return entered, "behind"
