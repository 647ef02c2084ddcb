"""The intake as lines: who and why, the vehicle, its ratings and lamps, the kit, loads, hitch and trailer, the scale.

Everything may be left out; what that costs stands beside the question. What a kind of job has no use for is not asked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import get_args

from cornerwalk.job.form import fact_lines
from cornerwalk.job.hints import last_time, own_placing
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.job.question import Option, Part, Question, Texts, Troubles, in_turn, one, trouble_of
from cornerwalk.job.reply import Refusal, Reply, refusal
from cornerwalk.session.events import LoadStated, Weighing
from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.model import Load
from cornerwalk.session.statements import (
    WEIGHINGS,
    Axle,
    AxleSide,
    axles_weighed,
    record_weight,
    remove_load,
    state_load,
    weighing_text,
)
from cornerwalk.sheet.preset import PresetKind, can_save_preset, list_presets, preset_events, save_preset
from cornerwalk.wording.facts import place_as_stated
from cornerwalk.wording.names import job_name, weighing_name
from cornerwalk.words import capital, tr, tr_n
from cornerwalk.words.safe import harmless

CUSTOMER = (
    "job.customer",
    "job.complaint",
    "vehicle.description",
    "vehicle.registration",
    "job.title",
    "job.site",
    "job.kind",
)
FORM_ONLY = frozenset(
    (
        "tape.place_freedom",
        "vehicle.tire_rate",
        "vehicle.tires_rear",
        "vehicle.rear_springs",
        "vehicle.friction_front",
        "vehicle.friction_rear",
        "kit.bag_volume",
    )
)
"""Facts that the form takes and the walk does not ask for."""
LAMP_FACTS = ("lamp_height", "lamp_lower_edge", "lamp_ahead", "levelling")


def intake_lines(job: OpenJob) -> tuple[Question, ...]:
    """All of it, in the order in which it is met at the vehicle."""
    return (*start_lines(job), *_facts(job), *_work(job), *keep_lines(job))


def _facts(job: OpenJob) -> Iterator[Question]:
    vehicle = _of("vehicle")
    yield from fact_lines(job, CUSTOMER, tr("Who and why"))
    body = [f.name for f in vehicle if f.kind != "force" and f.key not in LAMP_FACTS and f.name not in CUSTOMER]
    yield from fact_lines(job, body, tr("Vehicle"))
    if job.session.job.kind != "load check":
        for line in fact_lines(job, [fact.name for fact in _of("kit")], tr("Kit, from its instructions")):
            yield _sheet_missing(job, line)
    ratings = [fact.name for fact in vehicle if fact.kind == "force"]
    yield from fact_lines(job, ratings, tr("Ratings, from the door label"))
    lamps = [fact.name for fact in vehicle if fact.key in LAMP_FACTS]
    yield from fact_lines(job, [*lamps, *(fact.name for fact in _of("lamps"))], tr("Headlights"))


def _work(job: OpenJob) -> Iterator[Question]:
    yield from load_lines(job)
    yield from fact_lines(job, [fact.name for fact in _of("hitch")], tr("Hitch"))
    yield from fact_lines(job, [fact.name for fact in _of("trailer")], tr("Trailer"))
    yield from weighing_lines(job)
    if job.session.job.kind != "load check":
        yield from fact_lines(job, [fact.name for fact in _of("table")], tr("Glovebox table"))
    others = [fact.name for part in ("tape", "limits") for fact in _of(part)]
    yield from fact_lines(job, others, tr("How it is measured and judged"))


def _of(part: str) -> tuple[Fact, ...]:
    return tuple(fact for fact in FACTS.values() if fact.part == part and fact.name not in FORM_ONLY)


def _sheet_missing(job: OpenJob, line: Question) -> Question:
    """A kit figure without the sheet it is from is worth a word."""
    if FACTS[line.id].kind not in ("pressure", "force") or not line.stands or job.session.kit.sheet:
        return line
    return replace(line, mark="matters", stands=tr("{value}, no kit instructions named", value=line.stands))


def intake_panel(job: OpenJob) -> tuple[Notice, ...]:
    """What kind of job it is, which was chosen when it was made; what this vehicle did last time."""
    kind = job_name(job.session.job.kind)
    decides = Notice(tr("{kind}: it decides which stages are read.", kind=kind), tr("Job"))
    return (decides, *last_time(job), *own_placing(job))


# ---- The loads as lines: each with its weight and its place, and one line to add another ----


ADD = "load.add"


def load_lines(job: OpenJob) -> tuple[Question, ...]:
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
    return Part(question=tr("How much does it weigh?"), stands=stands, hint=tr("for example 410 lb"))


def _place_part(job: OpenJob, stands: str) -> Part:
    overhang = job.session.entered.get("vehicle.ball_overhang", "")
    told = (
        (tr("Enter alone: at the ball, {overhang}.", overhang=harmless(overhang)),) if overhang and not stands else ()
    )
    return Part(question=tr("How far from the rear axle?"), stands=stands or overhang, told=told)


def _side_part(stands: str) -> Part:
    return Part(question=tr("Behind the rear axle, or ahead of it?"), options=_sides(), stands=stands)


def _known(job: OpenJob, load: Load) -> Question:
    weight = job.session.entered.get(f"load.{load.name}.weight", "")
    place, side = _place(job.session.entered.get(f"load.{load.name}.place", ""))

    def keeps(texts: Texts) -> Reply:
        say = _understood(job, load.name, texts)
        same = say.would and (texts[0], texts[1], texts[2]) == (weight, place, side)
        return Reply() if same else say

    return Question(
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


def _another(job: OpenJob) -> Question:
    def keeps(texts: Texts) -> Reply:
        return _understood(job, texts[0], texts[1:])

    return Question(
        id=ADD,
        name=tr("add a load"),
        group=_group(),
        part=in_turn(
            Part(
                question=tr("What is it? Trailer tongue, tool box, people in back…"),
                hint=tr("tongue"),
                words=True,
            ),
            _weight_part(""),
            _place_part(job, ""),
            _side_part("behind"),
        ),
        keeps=keeps,
        why=tr("Axle loads follow from weight and place by the lever; springs change neither."),
        costs=tr("If skipped: no calculated axle loads, no pressures for other loads."),
    )


def _understood(job: OpenJob, name: str, texts: Texts) -> Reply:
    """What was typed of a load so far: weight, distance, side; it is stated once all three are known."""
    weight = texts[0] if texts else "1 N"
    place = texts[1] if len(texts) > 1 else "0 mm"
    side: AxleSide = "ahead of" if len(texts) > 2 and texts[2] == "ahead of" else "behind"
    try:
        load = state_load(name, weight, place=place, side=side, unit=job.session.job.unit)
    except Refusal as error:
        return refusal(error)
    if len(texts) < 3:
        return Reply(enter=_so_far(job, load, texts))
    return Reply(would=(load,))


def _so_far(job: OpenJob, load: LoadStated, texts: Texts) -> str:
    match len(texts):
        case 0:
            return tr("Enter: its weight next; it is saved once weight and location are in.")
        case 1:
            return tr("{weight}; Enter goes on to its place.", weight=job.wording.weight(load.weight_N))
        case _:
            return tr("{distance}; Enter goes on to its side.", distance=job.wording.exact(abs(load.ahead_mm)))


def _place(entered: str) -> tuple[str, str]:
    for side in get_args(AxleSide):
        if entered.endswith(f" {side} the rear axle"):
            return entered.removesuffix(f" {side} the rear axle"), side
    return entered, "behind"


# ---- The three passes over a scale as lines; each axle is kept as soon as it is typed ----


def weighing_lines(job: OpenJob) -> tuple[Question, ...]:
    """A line a pass: without trailer, with it, and with the load-distributing bars on."""
    distributing = job.session.hitch.kind == "load-distributing" or "distributed" in job.session.weighings
    passes = WEIGHINGS if distributing else WEIGHINGS[:2]
    return tuple(_line(job, weighing) for weighing in passes)


def _line(job: OpenJob, weighing: Weighing) -> Question:
    axles = axles_weighed(weighing)
    entered = {axle: harmless(weighing_text(job.session, weighing, axle)) for axle in axles}
    known = [f"{_axle(axle)} {text}" for axle, text in entered.items() if text]

    def keeps(texts: Texts) -> Reply:
        axle = axles[len(texts) - 1]
        if texts[-1].strip() == entered[axle]:
            return Reply()
        try:
            would = record_weight(job.session, weighing, axle, texts[-1])
        except Refusal as error:
            return refusal(error)
        weight_N = getattr(would, f"{axle}_N")
        return Reply(meant=job.wording.weight(weight_N), would=(would,))

    return Question(
        id=f"weighing.{weighing}",
        name=weighing_name(weighing),
        group=tr("On the scale, loaded for travel"),
        stands=", ".join(known),
        mark="done" if known else "open",
        part=in_turn(*(_part(weighing, axle, entered[axle]) for axle in axles)),
        keeps=keeps,
        why=tr("Only a scale weighs. Keep the load the same for every pass; a typo shows where totals must agree."),
        costs=tr("If skipped: no axle is checked against its rating. Heights are not weights."),
        half=bool(known) and len(known) < len(axles),
        walks_on=True,
    )


def _axle(axle: Axle) -> str:
    return {"front": tr("front"), "rear": tr("rear"), "trailer": tr("trailer")}[axle]


def _part(weighing: Weighing, axle: Axle, stands: str) -> Part:
    asked = {"front": tr("front axle"), "rear": tr("rear axle"), "trailer": tr("trailer's axles")}[axle]
    question = tr("{weighing}: what does the scale read for the {axle}?", weighing=weighing_name(weighing), axle=asked)
    return Part(
        question=capital(question),
        stands=stands,
        hint=tr("Enter alone: not weighed") if not stands else "",
    )


# ---- Presets as lines: start from what was kept for next time, and keep what is stated now ----


def start_lines(job: OpenJob) -> Iterator[Question]:
    """One line to start from a preset, where there is any."""
    found = list_presets(job.context.presets_folder)
    if not found:
        return
    options = tuple(Option(str(n), harmless(preset.name), preset.name) for n, preset in enumerate(found, start=1))
    paths = {preset.name: preset.path for preset in found}

    def keeps(texts: Texts) -> Reply:
        try:
            would = preset_events(paths[texts[0]], job.context.clock())
        except Troubles as error:
            return Reply(trouble=trouble_of(error))
        told = tr_n("{count} entry is taken over", "{count} entries are taken over", len(would))
        return Reply(enter=told, would=would)

    yield Question(
        id="preset.start",
        name=tr("start from a preset"),
        group=tr("Saved for next time"),
        part=one(Part(question=tr("Start from which?"), options=options)),
        keeps=keeps,
        why=tr("Vehicle, kit and loads as saved; every value can be entered again."),
    )


def keep_lines(job: OpenJob) -> Iterator[Question]:
    """A line for each part that can be kept."""
    kinds: tuple[tuple[PresetKind, str, str], ...] = (
        ("vehicle", tr("save the vehicle"), job.session.vehicle.description),
        ("kit", tr("save the kit"), job.session.kit.name),
        ("set-up", tr("save all of it"), job.session.vehicle.description),
    )
    for what, name, suggested in kinds:
        if can_save_preset(job.session, what):
            yield _keep_line(job, what, name, harmless(suggested))


def _keep_line(job: OpenJob, what: PresetKind, name: str, suggested: str) -> Question:
    def does(texts: Texts) -> str:
        path = save_preset(job.session, what, texts[0] or suggested, job.context.presets_folder)
        return tr("saved for next time: {name}", name=path.stem)

    def part(texts: Texts) -> Part | None:
        if texts:
            return None
        told = (tr("Nothing of the customer, the day or the readings goes along."),)
        hint = tr("Enter alone leaves it") if not suggested else ""
        return Part(
            question=tr("Save it under what name?"),
            stands=suggested,
            hint=hint,
            told=told,
            words=True,
        )

    return Question(
        id=f"preset.keep.{what}",
        name=name,
        group=tr("Saved for next time"),
        part=part,
        does=does,
        keeps=lambda _texts: Reply(enter=tr("Enter saves it for next time.")),
    )
