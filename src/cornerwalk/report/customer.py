"""Owner's card: the customer's one page, with the pressure to set, what to do, what was done and what was not checked.

It has sentences of its own, for a reader who never saw the program: no ±, no ids. Where a fact is missing its sentence
is left out, or stands without it; nothing is said to be unknown but what was not checked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cornerwalk.assess.assessment import AirResult, Assessment, Finding, StageResult, TableRow
from cornerwalk.assess.gauge_drift import climb_to_m, fall_in_cold_kPa
from cornerwalk.assess.load_results import tongue_load
from cornerwalk.report.customer_gaps import INSTALLATION, gap_lines, open_questions
from cornerwalk.report.document import (
    Alert,
    Beside,
    Blanks,
    Block,
    Bullets,
    Code,
    CutOutCard,
    Document,
    Facts,
    Heading,
    LargeFigure,
    Letterhead,
    Paragraph,
    Pictures,
    Spare,
    Table,
)
from cornerwalk.report.drawing import side_drawings
from cornerwalk.report.qr import key_figures
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.model import Session
from cornerwalk.wording.answers import answer_texts
from cornerwalk.wording.facts import choice_label
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import air_place, air_reason, job_name, overall_sentence, stage_title
from cornerwalk.wording.results import before_and_now, stage_head
from cornerwalk.words import tr

OTHER_LOADS, ALTITUDE = 1, 2
"""What gives way where the page would run over, in this order."""

OWN_SENTENCES = frozenset(
    (
        "level-is-not-safe",
        "front-stays-up",
        "beam-above-level",
        "beam-maybe-above-level",
        "beam-outside-rule",
        "beam-back",
        "levelling-automatic",
        "levelling-unknown",
        "no-rating-raised",
        "retorque",
    )
)
"""Findings that the page says in a sentence of its own."""

FOR_THE_SHOP = frozenset(
    (
        "condition-changed",
        "front-moved-with-air",
        "misread",
        "prediction-differs",
        "repeat-spread",
        "slope-unsure",
        "trials-off-line",
        "unequal-sides",
    )
)
"""Cautions about how it was measured; a customer is told one sentence for all of them."""

COLD_STEP_K = {"inch": 10 / 1.8, "both": 10 / 1.8, "metric": 5.0}
_SAME_LOAD_N = 1.0
_ONE_COLUMN = 3
"""Most lines that are not set in two columns."""


def customer_sheet(
    session: Session,
    assessment: Assessment,
    wording: Wording,
    checklists: Checklists | None = None,
    letterhead: Letterhead = Letterhead(),  # noqa: B008 - immutable
) -> Document:
    """The page that goes with the vehicle."""
    title = tr("Your vehicle under load") if session.job.kind == "load check" else tr("Your air helper springs")
    return Document(
        title=title,
        subtitle=" · ".join(part for part in _subtitle_parts(session) if part),
        blocks=tuple(_blocks(session, assessment, wording, checklists, letterhead)),
        footer=_footer(session),
        dated=session.last_at,
        code=Code(key_figures(session, assessment, wording), tr("The key figures, for your phone")),
        one_page=True,
        letterhead=letterhead,
    )


def _subtitle_parts(session: Session) -> tuple[str, ...]:
    job, vehicle = session.job, session.vehicle
    by = tr("work by {name}", name=job.technician) if job.technician else ""
    date = (job.date or session.opened_at)[:10]
    return (vehicle.description, vehicle.registration, job.customer, date, by)


def _blocks(
    session: Session,
    assessment: Assessment,
    wording: Wording,
    checklists: Checklists | None,
    letterhead: Letterhead,
) -> Iterator[Block]:
    stages = before_and_now(assessment)
    yield from _alerts(assessment, wording, "stop")
    yield from _pressure(session, assessment, wording)
    yield from _before_and_now(session, assessment, stages, wording)
    yield Heading(tr("Headlights, ratings and tires"))
    yield from _level_is_not_safe(assessment, wording)
    yield Bullets(tuple(_beam_ratings_tires(session, assessment, stages, wording)))
    yield from _alerts(assessment, wording, "caution")
    yield Heading(tr("What to do"))
    yield Bullets(tuple(_advice(session, assessment, wording, letterhead)))
    yield from _altitude_and_cold(assessment, wording)
    yield from _work(session, assessment, checklists)
    yield from _gaps(session, assessment)
    yield from _other_loads(session, assessment, wording)
    yield Blanks((tr("For the shop, date"), tr("Owner, date")))


# ---- findings ----


def _alerts(assessment: Assessment, wording: Wording, level: str) -> Iterator[Block]:
    findings = [f for f in assessment.findings if f.level == level and f.code not in OWN_SENTENCES]
    if level == "caution":
        findings = [f for f in findings if f.code not in FOR_THE_SHOP]
    for finding in findings:
        text = finding_text(_without_uncertainty(finding), wording)
        yield Alert(finding.level, text.level_word, text.heading, (text.text,), text.action)


def _without_uncertainty(finding: Finding) -> Finding:
    return replace(finding, fields={name: v for name, v in finding.fields.items() if not name.startswith("u_")})


# ---- the pressure ----


def _pressure(session: Session, assessment: Assessment, wording: Wording) -> Iterator[Block]:
    if session.job.kind == "load check" and not assessment.air:
        return
    if assessment.stops:
        if assessment.air or session.trials:
            yield Paragraph(tr("No pressure is given while a STOP is open: see above."))
        return
    known = [air for air in assessment.air if air.recommended_kPa is not None]
    if known:
        yield Beside(_large_figure(known, wording), _card(known, session, wording))
    for air in assessment.air:
        if air.recommended_kPa is None and session.trials:
            yield Paragraph(_no_pressure(air))
    yield from (Paragraph(text) for text in _in_the_bags(session, wording))


def _large_figure(known: list[AirResult], wording: Wording) -> LargeFigure:
    figures = tuple(("" if air.where == "rear" else air_place(air.where), _set(air, wording)) for air in known)
    note = tr("Set it with the load on, on level ground, tires cold.")
    beyond = [air for air in known if air.extrapolated]
    if beyond:
        note += " " + tr("We did not try a pressure that far: have the height checked at it.")
    return LargeFigure(tr("Air pressure for today's load"), figures, note)


def _set(air: AirResult, wording: Wording) -> str:
    return wording.pressure(air.recommended_kPa)


def _card(known: list[AirResult], session: Session, wording: Wording) -> CutOutCard:
    kit = session.kit
    rows = [
        (
            tr("Loaded as today") if air.where == "rear" else tr("Loaded, {side}", side=air_place(air.where)),
            _set(air, wording),
        )
        for air in known
    ]
    if kit.min_kPa is not None:
        rows.append((tr("Unloaded"), wording.pressure(kit.min_kPa)))
        rows.append((tr("Never below"), wording.pressure(kit.min_kPa)))
    if kit.max_kPa is not None:
        rows.append((tr("Never over"), wording.pressure(kit.max_kPa)))
    return CutOutCard(tr("Cut out and keep by the valve"), tuple(rows))


def _no_pressure(air: AirResult) -> str:
    why = air_reason(air.reason)
    if not why:
        return tr("{where}: the pressure for this load is not settled yet. Ask us before you load up.",
                  where=air_place(air.where))  # fmt: skip
    return tr(
        "{where}: the pressure for this load is not settled yet ({why}). Ask us before you load up.",
        where=air_place(air.where),
        why=why,
    )


def _in_the_bags(session: Session, wording: Wording) -> Iterator[str]:
    """The last pressures that were read, whoever changed them since: a fact with its date."""
    at, figures = _last_pressures(session, wording)
    if figures:
        yield tr("In the bags when we last read the gauge ({date}): {figures}.", date=at[:10], figures=figures)


def _last_pressures(session: Session, wording: Wording) -> tuple[str, str]:
    last, at = "", ""
    for stage in session.stages:
        if stage.pressure_kPa is not None:
            last, at = wording.pressure(stage.pressure_kPa), stage.begun_at
        elif stage.left_kPa is not None and stage.right_kPa is not None:
            last, at = _both(wording.pressure(stage.left_kPa), wording.pressure(stage.right_kPa)), stage.begun_at
    readings = {reading.line: reading for reading in session.leak_readings if reading.at >= at}
    if "both" in readings:
        last, at = wording.pressure(readings["both"].pressure_kPa), readings["both"].at
    elif "left" in readings and "right" in readings:
        left, right = readings["left"], readings["right"]
        last, at = _both(wording.pressure(left.pressure_kPa), wording.pressure(right.pressure_kPa)), right.at
    return at, last


def _both(left: str, right: str) -> str:
    return tr("left {left}, right {right}", left=left, right=right)


# ---- before and now ----


def _before_and_now(
    session: Session, assessment: Assessment, stages: tuple[StageResult, ...], wording: Wording
) -> Iterator[Block]:
    if not stages:
        return
    yield Heading(tr("Before and now, against the unloaded vehicle"))
    drawings = side_drawings(session, assessment, stages, wording)
    if drawings:
        plain = {stage_head(stage, wording): f"{_state(stage, wording)}: {_moves(stage, wording)}" for stage in stages}
        yield Pictures(tuple(replace(d, title=plain.get(d.title.split(";")[0], d.title)) for d in drawings))
    yield Facts(tuple((_state(stage, wording), _moves(stage, wording)) for stage in stages))


def _state(stage: StageResult, wording: Wording) -> str:
    if stage.pressure_kPa is not None:
        return tr("Loaded, {pressure} in the bags", pressure=wording.pressure(stage.pressure_kPa))
    if stage.left_kPa is not None and stage.right_kPa is not None:
        both = _both(wording.pressure(stage.left_kPa), wording.pressure(stage.right_kPa))
        return tr("Loaded, {pressure} in the bags", pressure=both)
    return tr("Loaded, no air") if stage.name == "loaded" else stage_title(stage.key)


def _moves(stage: StageResult, wording: Wording) -> str:
    parts = []
    if stage.front_mm is not None:
        parts.append(tr("front {move}", move=_move(stage.front_mm, wording)))
    if stage.rear_mm is not None:
        parts.append(tr("rear {move}", move=_move(stage.rear_mm, wording)))
    return ", ".join(parts)


def _move(mm: float, wording: Wording) -> str:
    """To the tape's graduation, since nobody sees less."""
    figure = wording.height_with_unit(abs(mm))
    if wording.height(abs(mm)) == wording.height(0.0):
        return tr("as unloaded")
    return tr("{figure} higher", figure=figure) if mm > 0 else tr("{figure} lower", figure=figure)


# ---- beam, ratings, tires ----


def _level_is_not_safe(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    finding = next((f for f in assessment.findings if f.code == "level-is-not-safe"), None)
    if finding is None:
        return
    text = finding_text(finding, wording)
    lines = [tr("A level body is not a safe load: the axles carry what they carried before.")]
    axles = assessment.axles
    if axles.rear_gain_N is not None and axles.rear_gain_N > 0:
        lines.append(
            tr("The load puts {weight} more on the rear axle; none of it is taken off by air.",
               weight=wording.weight(axles.rear_gain_N))
        )  # fmt: skip
    if axles.front_gain_N is not None and axles.front_gain_N < 0:
        lines.append(
            tr("It takes {weight} off the front axle; air gives back none of it.",
               weight=wording.weight(-axles.front_gain_N))
        )  # fmt: skip
    elif axles.front_gain_N is not None and axles.front_gain_N > 0:
        lines.append(
            tr("It puts {weight} more on the front axle; air takes none of it away.",
               weight=wording.weight(axles.front_gain_N))
        )  # fmt: skip
    action = tr("Compare the weights with the door label. Weigh the vehicle as you will drive it.")
    yield Alert(finding.level, text.level_word, tr("Level is not the same as safe"), tuple(lines), action)


def _beam_ratings_tires(
    session: Session, assessment: Assessment, stages: tuple[StageResult, ...], wording: Wording
) -> Iterator[str]:
    yield _beam(assessment, stages[-1] if stages else None, wording)
    front = next((f.fields.get("front_mm") for f in assessment.findings if f.code == "front-stays-up"), None)
    if isinstance(front, float):
        yield tr(
            "The front still stands {figure} higher than unloaded. Air cannot bring it down; less tongue weight or "
            "cargo moved forward can.",
            figure=wording.height_with_unit(abs(front)),
        )
    yield tr(
        "Helper springs raise no rating and put no load back to the front axle. The limits on the door label and the "
        "hitch stay the same; a level body is not a safe load."
    )
    pressure = session.vehicle.tyre_pressure
    if pressure:
        yield tr("Tires, cold, before you load up: {pressure}. Air in the bags takes no weight off the tires.",
                 pressure=pressure)  # fmt: skip
    else:
        yield tr("Tires: cold pressure by the door label. Air in the bags takes no weight off the tires.")


def _beam(assessment: Assessment, now: StageResult | None, wording: Wording) -> str:
    key = now.key if now is not None else None
    codes = {f.code for f in assessment.findings if f.stage is None or f.stage == key}
    lamp = now.lamp if now is not None else None
    if "beam-above-level" in codes:
        return tr(
            "Your low beams aim above level with this load and blind oncoming drivers. Have the headlights aimed for "
            "this load before you drive in the dark."
        )
    if "beam-maybe-above-level" in codes:
        return tr(
            "Your low beams are so close to level with this load that they may blind oncoming drivers. Have the "
            "headlights checked before you drive in the dark."
        )
    if "beam-outside-rule" in codes:
        return tr(
            "Your low beams are outside the aim limits we went by. Have the headlights aimed with this load on, before "
            "you drive in the dark."
        )
    if "beam-back" in codes:
        return tr("Your low beams are back where they were without the load, as far as our readings can tell.")
    measured = lamp is not None and lamp.measured_wall_mm is not None
    if lamp is None or lamp.shift_mm is None or not (lamp.prediction_holds or measured):
        return tr("We could not tell where your low beams aim with this load. Have the headlights checked with it on.")
    moved = lamp.measured_wall_mm if lamp.measured_wall_mm is not None else lamp.wall_mm
    if moved is None:
        return tr("We could not tell where your low beams aim with this load. Have the headlights checked with it on.")
    wall = wording.screen(assessment.screen_mm)
    figure = wording.height_with_unit(abs(moved))
    if wording.height(abs(moved)) == wording.height(0.0):
        return tr("On a wall {wall} away your low beams are where they were without the load.", wall=wall)
    if moved > 0:
        return tr(
            "On a wall {wall} away your low beams are {figure} higher than without the load. Have them checked with it "
            "on.",
            wall=wall,
            figure=figure,
        )
    return tr(
        "On a wall {wall} away your low beams are {figure} lower than without the load. Have them checked with it on.",
        wall=wall,
        figure=figure,
    )


# ---- what to do ----


def _advice(session: Session, assessment: Assessment, wording: Wording, letterhead: Letterhead) -> Iterator[str]:
    has_air = session.job.kind != "load check" and not assessment.forbids_air
    if has_air:
        yield from _air_advice(session, assessment, wording)
    if session.vehicle.levelling == "manual":
        dial = next((stage.leveller for stage in reversed(session.stages) if stage.leveller), None)
        if dial is not None:
            yield tr("Headlight leveling dial with this load: {position}. Set it again whenever the load changes.",
                     position=dial)  # fmt: skip
        else:
            yield tr("Set the headlight leveling dial by the owner's manual whenever the load changes.")
    if session.service.retorque_distance:
        yield tr(
            "After {distance}, have lug nuts and bolts checked with a torque wrench.",
            distance=session.service.retorque_distance,
        )
    yield _call(letterhead)


def _air_advice(session: Session, assessment: Assessment, wording: Wording) -> Iterator[str]:
    kit = session.kit
    minimum = wording.pressure(kit.min_kPa) if kit.min_kPa is not None else tr("the minimum in the kit instructions")
    yield tr("Every week and before every trip: check the bags with the vehicle cold. Never drive without air in them.")
    yield tr("With the load off, let air out down to {minimum}. A harsh ride unloaded means too much air: let it out "
             "down to {minimum}, never lower.", minimum=minimum)  # fmt: skip
    yield tr("Before the wheels hang, on a lift or a jack: air down to {minimum}. A full bag stretches and tears. "
             "Never lower the vehicle onto a bag without air.", minimum=minimum)  # fmt: skip
    if kit.max_kPa is not None:
        yield tr("Never go over {maximum}, whatever the load.", maximum=wording.pressure(kit.max_kPa))
    if not assessment.stops:
        yield from _on_the_way_up(session, assessment, wording)
    hours = [leak.hours_to_minimum for leak in assessment.leak if leak.hours_to_minimum is not None]
    if hours:
        yield tr("At the loss we measured, the bags reach {minimum} after {time}: add air before that.",
                 minimum=minimum, time=wording.hours(min(hours)))  # fmt: skip
    yield tr("If a bag goes flat: the vehicle leans or pulls to that side. Slow down, stop in a safe place, take the "
             "load off, and drive slowly to a shop.")  # fmt: skip


def _on_the_way_up(session: Session, assessment: Assessment, wording: Wording) -> Iterator[str]:
    pressures = [air.recommended_kPa for air in assessment.air if air.recommended_kPa is not None]
    maximum = session.kit.max_kPa
    if not pressures or maximum is None:
        return
    climb_m = climb_to_m(max(pressures), maximum, session.leak.altitude_m or 0.0)
    if climb_m is not None:
        yield tr("A climb of {height} takes the gauge to the maximum: check on the way up and let air out.",
                 height=wording.distance_m(climb_m))  # fmt: skip


def _call(letterhead: Letterhead) -> str:
    if letterhead.name and letterhead.phone:
        return tr("Questions, a leak, a noise: call {shop}, {phone}.", shop=letterhead.name, phone=letterhead.phone)
    if letterhead.name or letterhead.phone:
        return tr("Questions, a leak, a noise: call {shop}.", shop=letterhead.name or letterhead.phone)
    return tr("Questions, a leak, a noise: call the shop that did the work.")


def _altitude_and_cold(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    pressures = [air.recommended_kPa for air in assessment.air if air.recommended_kPa is not None]
    if not pressures or assessment.stops:
        return
    fall = fall_in_cold_kPa(max(pressures), COLD_STEP_K[wording.units])
    if wording.units == "metric":
        text = tr("No leak: the gauge reads about {fall} less for every 5 °C colder, and about 3.5 kPa more for every "
                  "300 m up.", fall=wording.rounded_pressure(fall))  # fmt: skip
    else:
        text = tr("No leak: the gauge reads about {fall} less for every 10 °F colder, and about 0.5 psi more for every "
                  "1,000 ft up.", fall=wording.rounded_pressure(fall))  # fmt: skip
    yield Spare(ALTITUDE, (Bullets((text,)),))


# ---- what was done ----


def _work(session: Session, assessment: Assessment, checklists: Checklists | None) -> Iterator[Block]:
    kit = session.kit
    what = job_name(session.job.kind)
    yield Heading(tr("What we did and found"))
    rows = [(tr("Done"), f"{what}: {kit.name}" if kit.name else what)]
    if session.job.complaint:
        rows.append((tr("You asked for"), session.job.complaint))
    rows.append((tr("Checks"), overall_sentence(assessment.overall)))
    for handover in session.handovers:
        date = handover.at[:10]
        to = tr("{date}, to {name}", date=date, name=handover.to) if handover.to else date
        rows.append((tr("Handed over"), to))
    if any(finding.code in FOR_THE_SHOP and finding.level != "note" for finding in assessment.findings):
        rows.append((tr("Readings"), tr("Not all readings agree; the shop's record says which.")))
    yield Facts(tuple(rows))
    left = [
        f"{answer.question} {answer.answer}"
        for given, answer in zip(session.answers, answer_texts(session, checklists), strict=True)
        if answer.matters and not (given.check in INSTALLATION and given.check in open_questions(session))
    ]
    if left:
        yield Paragraph(tr("Found and left: {what}", what="; ".join(left)))


def _gaps(session: Session, assessment: Assessment) -> Iterator[Block]:
    lines = gap_lines(session, assessment)
    if lines:
        yield Heading(tr("Not checked, and why it matters"))
        half = (len(lines) + 1) // 2
        yield Beside(Bullets(lines[:half]), Bullets(lines[half:])) if len(lines) > _ONE_COLUMN else Bullets(lines)
    else:
        yield Paragraph(tr("Nothing that was asked for was left out."))


# ---- other loads ----


def _other_loads(session: Session, assessment: Assessment, wording: Wording) -> Iterator[Block]:
    if assessment.stops or not assessment.pressure_table:
        return
    drop_mm = session.table.drop_allowed_mm
    heading = tr("Other loads on the hitch, the rear back at its unloaded height")
    if drop_mm:
        heading = tr("Other loads on the hitch, the rear at most {drop} below its unloaded height",
                     drop=wording.height_with_unit(drop_mm))  # fmt: skip
    tongue = tongue_load(session)
    today_N = tongue.weight_N if tongue is not None else None
    rows = tuple(_load_row(row, today_N, wording) for row in assessment.pressure_table)
    note = tr("For a load at the same place, by this vehicle's own readings. It makes no load a safe one.")
    today = _today_row(assessment, today_N)
    rear = next((air for air in assessment.air if air.where == "rear" and air.recommended_kPa is not None), None)
    if today is not None and rear is not None and drop_mm:
        note = (
            tr(
                "Today's {large} is for the {target}; {less} would leave the rear lower, as the other rows do.",
                large=wording.pressure(rear.recommended_kPa),
                target=choice_label("kit.target", rear.target),
                less=wording.pressure(today.recommended_kPa),
            )
            + " "
            + note
        )
    yield Spare(OTHER_LOADS, (Heading(heading), Table((tr("load"), tr("set")), rows, note)))


def _today_row(assessment: Assessment, today_N: float | None) -> TableRow | None:
    if today_N is None:
        return None
    return next(
        (
            row
            for row in assessment.pressure_table
            if abs(row.load_N - today_N) < _SAME_LOAD_N and row.beyond is None and row.recommended_kPa is not None
        ),
        None,
    )


def _load_row(row: TableRow, today_N: float | None, wording: Wording) -> tuple[str, str]:
    load = wording.weight(row.load_N)
    if today_N is not None and abs(row.load_N - today_N) < _SAME_LOAD_N:
        load = tr("{load}, as today", load=load)
    if row.beyond == "above maximum":
        return load, tr("more than the kit's maximum can hold up: carry less")
    if row.beyond == "below minimum":
        return load, tr("{pressure}, the kit's minimum", pressure=wording.pressure(row.recommended_kPa))
    return load, wording.pressure(row.recommended_kPa)


def _footer(session: Session) -> str:
    text = tr(
        "By this vehicle's own readings on the day. The instructions of the vehicle, kit and hitch makers come first. "
        "Job {session}.",
        session=session.id,
    )
    return f"{text} " + tr("Made with cornerwalk {program}.", program=session.program) if session.program else text
