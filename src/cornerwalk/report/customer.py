"""Owner's card: one side of paper to keep with the vehicle: the pressure, what to do, what is not checked.

It is written for whoever drives: one pressure, no ±, no names of checks. The figures behind it are in the report for
the file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from cornerwalk.assess.assessment import AirResult, Assessment
from cornerwalk.assess.lamp_checks import BELOW_LEVEL
from cornerwalk.report.document import (
    Alert,
    Blanks,
    Block,
    Bullets,
    Code,
    CutOutCard,
    Document,
    Facts,
    Heading,
    LargeFigure,
    Paragraph,
    Pictures,
    Table,
)
from cornerwalk.report.drawing import side_drawings
from cornerwalk.report.qr import key_figures
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.model import Session, Stage
from cornerwalk.wording.answers import answer_texts
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import FOR_THE_TECHNICIAN, finding_text
from cornerwalk.wording.names import air_place, job_name
from cornerwalk.wording.results import before_and_now
from cornerwalk.words import tr, tr_n

_ATMOSPHERE_KPA = 101.325
_ROOM_K = 293.15
"""Standard air pressure and 20 °C, for what altitude and cold do to a gauge. Source: ISO 2533, standard atmosphere."""

_KPA_PER_1000_FT = 3.6
_KPA_PER_1000_M = 11.4
"""What outside pressure falls by on the first 1,000 ft and 1,000 m: 101.3 − 97.7 and 101.3 − 89.9. Source: ISO 2533,
table of pressures."""

_HOURS_A_DAY = 24.0

_NOT_FOR_THE_OWNER = FOR_THE_TECHNICIAN | {"misread"}
"""Findings about how it was measured. What a reading in doubt leaves unknown is said in plain words instead."""


@dataclass(frozen=True, slots=True)
class Shop:
    """The shop as its card names it; empty where the settings do not say."""

    name: str = ""
    phone: str = ""


def customer_sheet(
    session: Session,
    assessment: Assessment,
    wording: Wording,
    checklists: Checklists | None = None,
    shop: Shop = Shop(),
) -> Document:
    """The page that goes with the vehicle. Where it is too long for one side, the other loads are left out first."""
    blocks = tuple(_blocks(session, assessment, wording, checklists, shop))
    return Document(
        title=tr("Your air helper springs") if session.job.kind != "load check" else tr("Your vehicle's ride height"),
        subtitle=" · ".join(part for part in _subtitle_parts(session) if part),
        blocks=blocks,
        footer=_footer(session),
        dated=session.last_at,
        code=Code(key_figures(session, assessment, wording), tr("The key figures, for a telephone")),
        one_page=True,
        left_out_first=tuple(block for block in blocks if isinstance(block, Table)),
    )


def _subtitle_parts(session: Session) -> tuple[str, ...]:
    job, vehicle = session.job, session.vehicle
    date = (job.date or session.opened_at)[:10]
    return (job.customer, vehicle.description, vehicle.registration, job.title, date)


def _blocks(
    session: Session, assessment: Assessment, wording: Wording, checklists: Checklists | None, shop: Shop
) -> Iterator[Block]:
    yield from _by_whom(session, shop)
    yield from _alerts(assessment, wording, "stop")
    yield from _pressure(session, assessment, wording)
    yield from _drawings(session, assessment, wording)
    yield Heading(tr("Know before you drive"))
    yield Bullets(tuple(_plain_lines(session, assessment)))
    yield from _alerts(assessment, wording, "caution")
    if session.job.kind != "load check":
        yield Heading(tr("Day to day"))
        yield Bullets(tuple(_day_to_day(session, assessment, wording, shop)))
    yield from _done_and_found(session, checklists)
    yield from _not_checked(session, assessment, checklists)
    yield from _other_loads(assessment, wording)
    if not session.handovers:
        yield Blanks((tr("Handed over to, date"), tr("Signed")))


# ---- who, and what must not be missed ----


def _by_whom(session: Session, shop: Shop) -> Iterator[Block]:
    """The shop and the technician, where anybody stated them: the name of an account is nobody's."""
    parts = [part for part in (shop.name, shop.phone, session.job.technician) if part]
    if parts:
        yield Paragraph(" · ".join(parts))


def _alerts(assessment: Assessment, wording: Wording, level: str) -> Iterator[Block]:
    """Each finding of this level in a sentence and what to do; its figures are in the report for the file."""
    for finding in assessment.findings:
        if finding.level == level and finding.code not in _NOT_FOR_THE_OWNER:
            text = finding_text(finding, wording)
            lines = (text.text,) if level == "stop" else ()
            yield Alert(finding.level, text.level_word, text.heading, lines, text.action)


def _in_doubt(assessment: Assessment) -> bool:
    """Whether a height stands that does not fit the others: nothing that rests on it is given away."""
    return any(stage.misread is not None for stage in assessment.stages)


# ---- the pressure ----


def _pressure(session: Session, assessment: Assessment, wording: Wording) -> Iterator[Block]:
    if session.job.kind == "load check":
        return
    yield Heading(tr("Air pressure"))
    recommended = [] if _in_doubt(assessment) else [air for air in assessment.air if air.recommended_kPa is not None]
    if assessment.stops:
        yield Paragraph(tr("No pressure is shown while a STOP is open: see above."))
    elif _in_doubt(assessment):
        yield Paragraph(tr("A height that was read is in doubt, so no pressure is given. Have it read again."))
    elif recommended:
        for air in recommended:
            yield LargeFigure(wording.pressure(air.recommended_kPa), _where(air, len(assessment.air)))
        yield Paragraph(tr("Set it with the load on, on level ground, tires cold."))
    else:
        yield Paragraph(tr("These readings do not tell which pressure brings the body back with this load."))
    left = _left_in(session, wording)
    if left:
        yield Paragraph(left)
    rows = () if assessment.stops else tuple(_card_rows(session, recommended, wording))
    if rows:
        yield CutOutCard(tr("To cut out, for the air valve"), rows)
    if session.kit.min_kPa is None or session.kit.max_kPa is None:
        yield Paragraph(
            tr("The kit's instructions give its minimum and maximum: find them before you change the pressure.")
        )


def _where(air: AirResult, lines: int) -> str:
    if lines == 1:
        return tr("both bags, with the load of today")
    return tr("{place}, with the load of today", place=air_place(air.where))


def _card_rows(session: Session, recommended: list[AirResult], wording: Wording) -> Iterator[tuple[str, str]]:
    for air in recommended:
        name = tr("Loaded") if len(recommended) == 1 else tr("Loaded, {place}", place=air_place(air.where))
        yield name, wording.pressure(air.recommended_kPa)
    if session.kit.min_kPa is not None:
        yield tr("Unloaded, and never below"), wording.pressure(session.kit.min_kPa)
    if session.kit.max_kPa is not None:
        yield tr("Never over"), wording.pressure(session.kit.max_kPa)


def _left_in(session: Session, wording: Wording) -> str:
    """The pressure last read, as a fact: it may not be the one recommended."""
    stage = next((stage for stage in reversed(session.stages) if _has_air(stage)), None)
    if stage is None:
        return ""
    if stage.pressure_kPa is not None:
        return tr("Left in the bags: {pressure}.", pressure=wording.pressure(stage.pressure_kPa))
    left, right = wording.pressure(stage.left_kPa), wording.pressure(stage.right_kPa)
    return tr("Left in the bags: {left} on the left, {right} on the right.", left=left, right=right)


def _has_air(stage: Stage) -> bool:
    return stage.pressure_kPa is not None or (stage.left_kPa is not None and stage.right_kPa is not None)


# ---- before and now ----


def _drawings(session: Session, assessment: Assessment, wording: Wording) -> Iterator[Block]:
    if _in_doubt(assessment):
        return
    drawings = side_drawings(session, assessment, before_and_now(assessment), wording)
    if drawings:
        yield Pictures(drawings, told_beside=True)


def _plain_lines(session: Session, assessment: Assessment) -> Iterator[str]:
    """Beam, ratings and tires, a sentence or two each."""
    yield _beam_line(assessment)
    yield tr(
        "Air helper springs raise no rating, take no load off an axle and give none back to the front axle: the "
        "weights on the door label hold as before. A level body is not a safe load."
    )
    if not session.weighings:
        yield tr("It was not weighed. Weigh it once, loaded as you travel.")
    yield tr("The tires carry the load: keep them at the pressure that the vehicle's label or book gives for it.")


def _beam_line(assessment: Assessment) -> str:
    """What the check of the beam says of the vehicle as it stands now."""
    stages = () if _in_doubt(assessment) else before_and_now(assessment)
    now = stages[-1].key if stages else None
    found = [check for check in assessment.verdicts if now and check.kind == BELOW_LEVEL and check.stage == now]
    if not found:
        return tr("Low beams were not checked with this load. Have the aim checked before you drive at night.")
    match found[-1].verdict:
        case "pass":
            return tr("Low beams point below level with this load. Check them again when the load or the air changes.")
        case "fail":
            return tr(
                "Low beams point above level with this load and can blind oncoming drivers. Have them aimed before you "
                "drive at night, loaded like this."
            )
        case _:
            return tr("Low beams point so close to level that these readings cannot tell. Have the aim checked.")


# ---- living with it ----


def _day_to_day(session: Session, assessment: Assessment, wording: Wording, shop: Shop) -> Iterator[str]:
    minimum = wording.pressure(session.kit.min_kPa) if session.kit.min_kPa is not None else tr("the kit's minimum")
    yield tr("Check pressure weekly and before every trip, cold.")
    yield tr(
        "Load off: let air out to {minimum}; a harsh ride empty means too much air. Never drive without air in.",
        minimum=minimum,
    )
    yield tr(
        "Before a lift or jack lets the wheels hang: air out to {minimum}, and on rated stands only.", minimum=minimum
    )
    yield tr("A bag goes flat: slow down, stop where it is safe, take the load off, drive on slowly and unloaded.")
    if session.vehicle.levelling == "manual":
        yield _dial_line(session)
    yield from _weather(assessment, wording)
    yield from _loss(assessment)
    if session.service.retorque_distance:
        distance = session.service.retorque_distance
        yield tr("Have wheels and bolts checked with a torque wrench after {distance}.", distance=distance)
    if shop.phone:
        yield tr("Questions, or something rubs, knocks or leaks: call {phone}.", phone=shop.phone)


def _dial_line(session: Session) -> str:
    last = next((stage.leveller for stage in reversed(session.stages) if stage.leveller is not None), None)
    if last is not None:
        return tr("Headlight dial: {position} with this load. Set it whenever the load changes.", position=last)
    return tr("Set the headlight dial by its own table whenever the load changes.")


def _weather(assessment: Assessment, wording: Wording) -> Iterator[str]:
    """By the gas law at a steady volume: what cold takes from the gauge, and what climbing adds."""
    kPa = next((air.recommended_kPa for air in assessment.air if air.recommended_kPa is not None), None)
    if kPa is None or assessment.stops or _in_doubt(assessment):
        return
    inch = wording.units != "metric"
    kelvin = 10 / 1.8 if inch else 10.0
    cold = wording.pressure((kPa + _ATMOSPHERE_KPA) * kelvin / _ROOM_K)
    climb = wording.pressure(_KPA_PER_1000_FT if inch else _KPA_PER_1000_M)
    if inch:
        yield tr(
            "Cold and height show on the gauge: about {cold} less for every 10 °F colder, {climb} more for every "
            "1,000 ft up.",
            cold=cold,
            climb=climb,
        )
    else:
        yield tr(
            "Cold and height show on the gauge: about {cold} less for every 10 °C colder, {climb} more for every "
            "1,000 m up.",
            cold=cold,
            climb=climb,
        )


def _loss(assessment: Assessment) -> Iterator[str]:
    """When the minimum is reached at the loss measured, where the loss is a real one."""
    for leak in assessment.leak:
        rate, u_rate, hours = leak.rate_kPa_per_h, leak.u_rate_kPa_per_h, leak.hours_to_minimum
        if rate is None or u_rate is None or hours is None or rate <= 2 * u_rate:
            continue
        days = int(hours / _HOURS_A_DAY)
        yield tr_n(
            "At the loss measured the bags are at the minimum in about {count} day: check them sooner.",
            "At the loss measured the bags are at the minimum in about {count} days: check them sooner.",
            max(1, days),
        )


# ---- what was done, and what was not ----


def _done_and_found(session: Session, checklists: Checklists | None) -> Iterator[Block]:
    kit, what = session.kit, job_name(session.job.kind)
    rows = [(tr("Done"), f"{what}: {kit.name}" if kit.name else what)]
    if session.job.complaint:
        rows.append((tr("You asked for"), session.job.complaint))
    for handover in session.handovers:
        if handover.to:
            rows.append((tr("Handed over"), tr("{date} to {name}", date=handover.at[:10], name=handover.to)))
        else:
            rows.append((tr("Handed over"), handover.at[:10]))
    yield Facts(tuple(rows))
    answers = [answer for answer in answer_texts(session, checklists) if answer.matters]
    if answers:
        yield Heading(tr("Found and left"))
        yield Bullets(tuple(f"{answer.question} {answer.answer}" for answer in answers))


def _not_checked(session: Session, assessment: Assessment, checklists: Checklists | None) -> Iterator[Block]:
    names = [
        *_open_work(session, checklists),
        *dict.fromkeys(tr(missing.kind.name) for missing in assessment.not_checked),
    ]
    yield Heading(tr("Not checked"))
    if not names:
        yield Paragraph(tr("Nothing you asked for was left out."))
        return
    yield Paragraph(tr("Nobody knows whether these are in order: {names}.", names="; ".join(names)))


def _open_work(session: Session, checklists: Checklists | None) -> Iterator[str]:
    """The list of the work where it was not gone through to its end."""
    if session.job.kind != "fit" or checklists is None:
        return
    work = checklists["fitting"]
    given = {answer.check for answer in session.answers if answer.answer != "not checked"}
    done = sum(item.id in given for item in work.items)
    if done < len(work.items):
        yield tr(
            "the installation list, {done} of {total} answered (stands, arm bolts and wheel torque are on it)",
            done=done,
            total=len(work.items),
        )


def _other_loads(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    rows = [row for row in assessment.pressure_table if row.recommended_kPa is not None and row.beyond is None]
    if not rows or assessment.stops or _in_doubt(assessment):
        return
    yield Table(
        (tr("another load at the same place"), tr("pressure")),
        tuple((wording.weight(row.load_N), wording.pressure(row.recommended_kPa)) for row in rows),
        tr("Worked out from this vehicle's own trials. It makes no load a safe one."),
    )


def _footer(session: Session) -> str:
    return tr(
        "What was read, and how certain it is, stands in the report for the file. Session {session}.",
        session=session.id,
    )
