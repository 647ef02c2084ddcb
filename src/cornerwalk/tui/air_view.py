"""Air view: the picture, the trials, the next pressure and why, as the air page draws them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from cornerwalk.assess.air_line import BandPoint, Line, height_band
from cornerwalk.assess.air_results import FittedLine, first_trial
from cornerwalk.assess.estimate import COVERAGE
from cornerwalk.assess.job_figures import job_figures
from cornerwalk.assess.load_results import rear_height
from cornerwalk.assess.pressure_advice import NextTrial, Why
from cornerwalk.job.checks import stops_told
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.quantity import Pressure
from cornerwalk.tui.widgets.air_plot import AirPlotView, Curve, Level, PlottedTrial, Upright
from cornerwalk.wording.names import air_place
from cornerwalk.wording.results import air_sentences
from cornerwalk.words import tr

_SIGNS = {"rear": "●", "LR": "◀", "RR": "▶"}
_BAND_POINTS = 80
_USUAL_MOST_KPA = 240.0
"""How far the axis goes where neither kit nor trial says; nothing is computed from it."""


@dataclass(frozen=True, slots=True)
class WhatIfPoint:
    """What is tried out in thought: a pressure, and the rear height expected at it."""

    pressure_kPa: float
    height_mm: float | None


def lines_of(job: OpenJob) -> tuple[FittedLine, ...]:
    """Height against pressure as fitted: the rear, or each side; empty before the first trial."""
    return job_figures(job.session, job.context.standards()).air


def picture(job: OpenJob, lines: tuple[FittedLine, ...], tentative: WhatIfPoint | None) -> AirPlotView | None:
    """The picture; None while there is no height to put into it."""
    levels = tuple(_levels(job, lines))
    pressures = _pressures(job, lines)
    curves = tuple(_curve(line, pressures) for line in lines)
    heights = _heights(levels, curves)
    if heights is None:
        return None
    kit = job.session.kit
    return AirPlotView(
        curves=curves,
        levels=levels,
        uprights=tuple(_uprights(job, tentative)),
        least_kPa=kit.min_kPa,
        most_kPa=kit.max_kPa,
        pressures_kPa=pressures,
        heights_mm=heights,
        pressure_ticks=_pressure_ticks(job, pressures),
        height_ticks=_height_ticks(job, heights),
    )


def _curve(line: FittedLine, pressures: tuple[float, float]) -> Curve:
    low, high = pressures
    step = (high - low) / _BAND_POINTS
    tried = tuple(
        PlottedTrial(p.pressure_kPa, p.height_mm, COVERAGE * p.u_height_mm, _SIGNS[line.result.where])
        for p in line.result.trials
    )
    band: tuple[BandPoint, ...] = ()
    if isinstance(line.line, Line):
        band = height_band(line.line, [low + place * step for place in range(_BAND_POINTS + 1)])
    return Curve(tried, band)


def _levels(job: OpenJob, lines: tuple[FittedLine, ...]) -> Iterator[Level]:
    targets = {line.result.target_mm: line.result.where for line in lines if line.result.target_mm is not None}
    names = {"rear": tr("target"), "LR": tr("target left"), "RR": tr("target right")}
    for target_mm, where in targets.items():
        yield Level(target_mm, names[where] if len(targets) > 1 else tr("target"), "due")
    by_name = {stage.name: stage for stage in reversed(job.assessment.stages)}
    unloaded, loaded = rear_height(by_name.get("unloaded")), rear_height(by_name.get("loaded"))
    if unloaded is not None and all(abs(unloaded.value - target_mm) > 0.5 for target_mm in targets):
        yield Level(unloaded.value, tr("unloaded"), "ink")
    if loaded is not None:
        yield Level(loaded.value, tr("no air"), "quiet")


def _uprights(job: OpenJob, tentative: WhatIfPoint | None) -> Iterator[Upright]:
    for air in job.assessment.air:
        if air.recommended_kPa is not None and not job.assessment.forbids_air:
            yield Upright(air.recommended_kPa, "▲", "due")
    if tentative is not None:
        yield Upright(tentative.pressure_kPa, "◆", "due", tentative.height_mm)


def _pressures(job: OpenJob, lines: tuple[FittedLine, ...]) -> tuple[float, float]:
    tried = [point.pressure_kPa for line in lines for point in line.result.trials]
    most = max([*tried, job.session.kit.max_kPa or 0.0]) or _USUAL_MOST_KPA
    return (0.0, most * 1.09)


def _heights(levels: tuple[Level, ...], curves: tuple[Curve, ...]) -> tuple[float, float] | None:
    seen = [level.height_mm for level in levels]
    for curve in curves:
        seen += [tried.height_mm + side * tried.U_mm for tried in curve.tried for side in (-1, 1)]
    if not seen:
        return None
    room = max(4.0, 0.12 * (max(seen) - min(seen)))
    return (min(seen) - room, max(seen) + room)


def _step(span: float, most: int) -> float:
    """A round step that divides a span into no more than so many parts."""
    for step in (0.125, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500):
        if span / step <= most:
            return step
    return span


def _pressure_ticks(job: OpenJob, pressures: tuple[float, float]) -> tuple[tuple[float, str], ...]:
    """Every five or ten of the unit shown; the unit stands at the last."""
    metric = job.wording.units == "metric"
    of_kPa = 1.0 if metric else Pressure.from_kPa(1).psi
    step = _step(pressures[1] * of_kPa, 9)
    count = floor(pressures[1] * of_kPa / step)
    unit = "kPa" if metric else "psi"
    texts = [f"{place * step:g}" for place in range(count + 1)]
    texts[0] = f"{texts[0]} {unit}"
    return tuple((place * step / of_kPa, text) for place, text in enumerate(texts))


def _height_ticks(job: OpenJob, heights: tuple[float, float]) -> tuple[tuple[float, str], ...]:
    unit_mm = 1.0 if job.wording.units == "metric" else 25.4
    step = _step((heights[1] - heights[0]) / unit_mm, 6) * unit_mm
    first = ceil(heights[0] / step)
    count = floor(heights[1] / step) - first
    return tuple(((first + place) * step, job.wording.height((first + place) * step)) for place in range(count + 1))


# ---- words ----


def trial_rows(job: OpenJob) -> tuple[tuple[str, str], ...]:
    """Each trial: its pressure, and what it did to the rear; those under way too."""
    rows = []
    for stage in job.session.trials:
        result = job.assessment.stage(stage.key)
        rear = job.wording.change(result.rear_mm) if result is not None and result.rear_mm is not None else ""
        rows.append((_air_in(job, stage.key), rear or tr("not read to the end")))
    return tuple(rows)


def _air_in(job: OpenJob, key: tuple[str, int]) -> str:
    stage = next(each for each in job.session.stages if each.key == key)
    if stage.pressure_kPa is not None:
        return job.wording.pressure(stage.pressure_kPa)
    sides = [job.wording.pressure(kPa) for kPa in (stage.left_kPa, stage.right_kPa) if kPa is not None]
    return " / ".join(sides) or tr("no pressure")


def advice(job: OpenJob, lines: tuple[FittedLine, ...]) -> tuple[Notice, ...]:
    """The pressure that is right as far as is known, and the trial that would tell it better; STOPs before both.

    Where a brake valve forbids the springs, no pressure is told at all.
    """
    stops = stops_told(job)
    if job.assessment.forbids_air:
        return stops
    told = [
        *stops,
        *(Notice(" ".join(air_sentences(line.result, job.wording)), tr("Now")) for line in lines),
    ]
    for line in lines or (None,):
        following = _next_trial(job, line)
        if following is not None:
            told.append(Notice(_try(job, line, following), tr("Next"), "due"))
    return tuple(told)


def _next_trial(job: OpenJob, line: FittedLine | None) -> NextTrial | None:
    return first_trial(job.session) if line is None else line.next_trial


def _try(job: OpenJob, line: FittedLine | None, following: NextTrial) -> str:
    pressure = job.wording.pressure(following.pressure_kPa)
    where = "" if line is None or line.result.where == "rear" else f"{air_place(line.result.where)}: "
    after = following.u_pressure_after_kPa
    told = where + tr("a trial at {pressure}: {why}.", pressure=pressure, why=_why(following.why))
    if after is None or line is None or line.result.u_pressure_kPa is None:
        return told
    then = job.wording.pressure(COVERAGE * after)
    now = job.wording.pressure(COVERAGE * line.result.u_pressure_kPa)
    return told + " " + tr("The answer is sure to ± {now} now; it would be to ± {then}.", now=now, then=then)


def _why(why: Why) -> str:
    return {
        "first trial": tr("the kit minimum comes first; the bags must hold it anyway"),
        "second trial": tr("a second, different pressure shows what air does to the height"),
        "shows whether air raises the rear": tr("it shows whether air raises the rear at all"),
        "narrows the pressure most": tr("it narrows the answer most"),
    }[why]


__all__ = ["WhatIfPoint", "advice", "lines_of", "picture", "trial_rows"]
