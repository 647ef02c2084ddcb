"""Result blocks: findings, heights, loads, air, checks and uncertainty, for the file report and the results page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cornerwalk.assess.assessment import AirResult, Assessment, AxleResult, StageResult, TableRow
from cornerwalk.report.document import Alert, Block, Bullets, Facts, Heading, Paragraph, Pictures, Table
from cornerwalk.report.drawing import plan_drawing, side_drawings
from cornerwalk.session.model import Session, Stage
from cornerwalk.wording.checks import check_name, check_text
from cornerwalk.wording.figures import Wording, graduation_label
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import (
    air_place,
    corner_name,
    overall_sentence,
    rating_word,
    stage_title,
    uncertainty_remedy,
    uncertainty_word,
    verdict_word,
)
from cornerwalk.wording.results import (
    air_sentences,
    ball_row,
    before_and_now,
    body_rows,
    lamp_rows,
    leak_sentence,
    sides_sentence,
    stage_heads,
)
from cornerwalk.words import tr

STAGES_A_TABLE = 3


def overall(assessment: Assessment) -> Iterator[Block]:
    """The worst verdict first."""
    word = verdict_word(assessment.overall)
    yield Paragraph(tr("Overall: {verdict}. {sentence}", verdict=word, sentence=overall_sentence(assessment.overall)))


def findings(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    """Every finding with its reason, action and source."""
    yield Heading(tr("Findings"))
    for finding in assessment.findings:
        text = finding_text(finding, wording)
        source = tr("Source: {source}", source=text.source) if text.source else ""
        facts = tuple(line for line in (text.text, text.reason) if line)
        yield Alert(finding.level, text.level_word, text.heading, facts, text.action, source)


def heights(session: Session, assessment: Assessment, wording: Wording) -> Iterator[Block]:
    """Every height that counts as typed, its value, its ± and its change; skipped corners with the reason."""
    yield Heading(tr("Heights as read"))
    if not session.stages:
        yield Paragraph(tr("No heights were read."))
    for stage in session.stages:
        result = assessment.stage(stage.key)
        air = _air_as_typed(stage)
        title = stage_title(stage.key)
        if result is not None:
            rows = tuple(_corner_rows(session, stage, result, wording))
            head = f"{title}, {air}" if air else title
            yield Table((head, tr("as typed"), tr("height"), tr("change")), rows)
        if stage.mark_mm is not None:
            yield Paragraph(tr("Wall mark: {mark}.", mark=wording.above_mark(stage.mark_mm, None)))
        if stage.leveller is not None:
            yield Paragraph(tr("Headlight leveling dial: {position}.", position=stage.leveller))


def _air_as_typed(stage: Stage) -> str:
    pressures = [
        (stage.pressure_entered, tr("air {pressure}", pressure=stage.pressure_entered)),
        (stage.left_entered, tr("left {pressure}", pressure=stage.left_entered)),
        (stage.right_entered, tr("right {pressure}", pressure=stage.right_entered)),
    ]
    return ", ".join(text for entered, text in pressures if entered)


def _corner_rows(session: Session, stage: Stage, result: StageResult, wording: Wording) -> Iterator[tuple[str, ...]]:
    for corner in session.job.order:
        record = stage.corner(corner)
        if record.skipped is not None:
            yield (corner_name(corner), tr("skipped: {reason}", reason=record.skipped), "", "")
            continue
        if not record.readings:
            yield (corner_name(corner), tr("not read"), "", "")
            continue
        typed = "; ".join(reading.entered for reading in record.readings)
        height = wording.length(result.height_mm.get(corner), result.u_height_mm.get(corner))
        is_reference = stage.name == "unloaded"
        change = wording.change_pm(result.delta_mm.get(corner), result.u_delta_mm.get(corner))
        yield (corner_name(corner), typed, height, "" if is_reference else change)


def stage_results(session: Session, assessment: Assessment, wording: Wording) -> Iterator[Block]:
    """Body and beam at every stage, against the unloaded one."""
    yield Heading(tr("Heights and changes"))
    compared = before_and_now(assessment)
    drawings = side_drawings(session, assessment, compared, wording)
    if drawings:
        yield Pictures(drawings)
    if assessment.stages:
        yield Pictures(tuple(plan_drawing(stage, wording) for stage in assessment.stages[-2:]))
    later = [stage for stage in assessment.stages if stage.name != "unloaded"]
    for first in range(0, len(later), STAGES_A_TABLE):
        stages = later[first : first + STAGES_A_TABLE]
        rows = (
            *body_rows(stages, wording),
            (tr("corner check"), *(_warp(stage, wording) for stage in stages)),
            ball_row(stages, wording),
            *lamp_rows(stages, assessment, wording),
        )
        yield Table(stage_heads(stages, wording), rows)
    if assessment.stages:
        yield _standing(assessment, wording)


def _warp(stage: StageResult, wording: Wording) -> str:
    if stage.warp_mm is None:
        return wording.length(None)
    return tr("{warp} off", warp=wording.length(abs(stage.warp_mm), stage.u_warp_mm))


def _standing(assessment: Assessment, wording: Wording) -> Table:
    """How the vehicle stands at each stage, unloaded included."""
    return Table(
        (tr("stage"), tr("front minus rear"), tr("left-right difference, front"), tr("left-right difference, rear")),
        tuple(
            (
                stage_title(stage.key),
                wording.rake(stage.rake_mm, stage.u_rake_mm),
                wording.sides(stage.side_front_mm, stage.u_side_mm),
                wording.sides(stage.side_rear_mm, stage.u_side_mm),
            )
            for stage in assessment.stages
        ),
    )


def loads(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    """What the axles carry, by lever and by ticket, and what the springs carry of it."""
    axles = assessment.axles
    rows = [
        (tr("rear axle, calculated"), wording.gain(axles.rear_gain_N)),
        (tr("front axle, calculated"), wording.gain(axles.front_gain_N)),
        (tr("tongue weight"), wording.weight(axles.tongue_N, axles.u_tongue_N)),
        (tr("trailer"), wording.weight(axles.trailer_N)),
        (tr("tongue weight %"), wording.percent(axles.tongue_share_percent, axles.u_tongue_share_percent)),
        (tr("rear ride rate"), wording.rate(assessment.ride_rate_N_per_mm, assessment.u_ride_rate_N_per_mm)),
        (tr("carried by the bags"), wording.weight(assessment.carried_N, assessment.u_carried_N)),
    ]
    if assessment.restoration is not None:
        restored = assessment.restoration
        by = tr("by weights") if restored.by == "weights" else tr("by heights")
        rows.append((tr("front-axle load restored"), f"{wording.band(restored.percent, restored.u_percent)}, {by}"))
    if axles.first_limit is not None:
        rows.append((tr("first rating reached"), _first_rating(axles, axles.first_limit, wording)))
    yield Heading(tr("Loads"))
    yield Facts(tuple(rows))
    yield Paragraph(
        tr(
            "Air moves no load: it puts 0 % back on the front axle. Helper springs raise no rating. Ride rate is "
            "an estimate; it includes friction and bump stops."
        )
    )


def _first_rating(axles: AxleResult, rating: str, wording: Wording) -> str:
    """The total tongue load, never what is left beside one already on: that could be read as spare capacity."""
    if axles.load_until_first_limit_N == 0:
        return tr("{rating}, over already without the trailer", rating=rating_word(rating))
    load = wording.weight(axles.load_until_first_limit_N, axles.u_load_until_first_limit_N)
    return tr("{rating}, at a tongue weight of {load}", rating=rating_word(rating), load=load)


def air(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    """Trials, the line through them, the pressure it asks for, the table, and the hold test."""
    if assessment.air:
        yield Heading(tr("Air"))
    for each in assessment.air:
        yield _trials(each, wording)
        yield Paragraph(" ".join(air_sentences(each, wording)))
    if assessment.sides is not None:
        yield Paragraph(sides_sentence(assessment.sides, wording))
    if assessment.pressure_table:
        yield pressure_table(assessment.pressure_table, wording)
    if assessment.leak:
        yield Heading(tr("Leak-down test"))
    for leak in assessment.leak:
        yield Paragraph(leak_sentence(leak, wording))


def _trials(air: AirResult, wording: Wording) -> Table:
    rows = tuple(
        (wording.pressure(point.pressure_kPa), wording.length(point.height_mm, point.u_height_mm))
        for point in air.trials
    )
    note = ""
    if air.c1_mm_per_kPa is not None:
        note = tr(
            "Line through the trials: {slope}, from {height} without air.",
            slope=wording.slope(air.c1_mm_per_kPa, air.u_c1_mm_per_kPa),
            height=wording.length(air.c0_mm, air.u_c0_mm),
        )
    return Table((air_place(air.where), tr("height")), rows, note)


def pressure_table(rows: Sequence[TableRow], wording: Wording) -> Table:
    """Pressure by load, for the glovebox."""
    return Table(
        (tr("load"), tr("calculated pressure"), tr("set")),
        tuple(
            (
                wording.weight(row.load_N),
                wording.pressure(row.pressure_kPa, row.u_pressure_kPa),
                _set_to(row, wording),
            )
            for row in rows
        ),
        tr("An estimate from this vehicle's own trials, for a load in the same place. It does not make any load safe."),
    )


def _set_to(row: TableRow, wording: Wording) -> str:
    recommended = wording.pressure(row.recommended_kPa)
    match row.beyond:
        case "above maximum":
            return tr("{pressure}: kit maximum, still not enough", pressure=recommended)
        case "below minimum":
            return tr("{pressure}: the kit's minimum", pressure=recommended)
        case None:
            return recommended


def checks(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    """Every check made, with limit and source; every check that could not be made, with what it needs."""
    yield Heading(tr("Checks"))
    if assessment.verdicts:
        texts = [check_text(check, wording) for check in assessment.verdicts]
        sources = list(dict.fromkeys(text.source for text in texts))
        rows = [(t.name, t.value, t.limit, t.verdict, f"[{sources.index(t.source) + 1}]") for t in texts]
        yield Table((tr("check"), tr("value"), tr("limit"), tr("verdict"), tr("from")), tuple(rows))
        yield Bullets(tuple(f"[{place}] {source}" for place, source in enumerate(sources, start=1)))
    yield Heading(tr("Not checked"))
    if assessment.not_checked:
        missing = tuple((check_name(missing), tr(missing.needs)) for missing in assessment.not_checked)
        yield Table((tr("check"), tr("needs")), missing)
    else:
        yield Paragraph(tr("Nothing you asked for was left out."))


def uncertainty(assessment: Assessment, wording: Wording) -> Iterator[Block]:
    """What each ± rests on, and the uncertainty budget of the beam."""
    reading = assessment.reading
    assumed = ", ".join(uncertainty_word(name) for name in reading.assumed)
    yield Heading(tr("Uncertainty (±)"))
    yield Paragraph(
        tr(
            "Every ± is U = k·u, about 95 %, with k = 2 unless said otherwise. One reading: u = {read}, from {marks} "
            "graduation (divided by the square root of 12) and tape repeatability {place}. Figures without ± are as "
            "entered.",
            read=wording.fine(reading.u_read_mm),
            marks=graduation_label(reading.graduation_mm),
            place=wording.fine(reading.u_place_mm),
        )
        + (" " + tr("Assumed: {what}.", what=assumed) if assumed else "")
    )
    budget = assessment.budget
    if budget is None:
        return
    rows = tuple(
        (
            uncertainty_word(row.source),
            wording.fine(row.contribution_mm),
            wording.percent(100 * row.share),
            uncertainty_remedy(row.source),
        )
        for row in budget.rows
    )
    note = tr(
        "Total u = {u}; with every corner read twice, {twice}.",
        u=wording.fine(budget.u_shift_mm),
        twice=wording.fine(budget.u_shift_read_twice_mm),
    )
    yield Paragraph(tr("Where the ± of the beam on the wall comes from, {stage}:", stage=stage_title(budget.stage)))
    yield Table((tr("source"), tr("u at the wall"), tr("share of the variance"), tr("what helps")), rows, note)
