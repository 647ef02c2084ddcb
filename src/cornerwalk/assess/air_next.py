"""The next pressure to try while trials are few: the one that would narrow the answer most, and how far.

Without a trial it is the kit's minimum: the springs must hold it anyway, and the rear is lowest there. With one
pressure tried, a second half-way to the limit on the side of the target: far enough apart to show a slope, and not at
once at the limit. With a line, every whole step within the limits is weighed as if a reading like the others were taken
there: a far one pins the slope, one near the answer pins the height, and u(P*) says which counts more. The answer
itself is not expected to move, which is all that can be known before the reading.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from cornerwalk.assess.air import Target, pressure_for
from cornerwalk.assess.air_line import Line, NoLine, Trial, fit_line
from cornerwalk.assess.usable import positive, root_sum_square, usable

PSI_KPA = 4.4482216152605 / 0.0254**2 / 1000
"""One psi in kPa, exact by the definitions of inch, pound and standard gravity: the step gauges are marked in."""

MOST_STEPS = 120
"""Steps weighed at most; a wider range is walked in wider whole steps."""

Why = Literal["first trial", "second trial", "shows whether air raises the rear", "narrows the pressure most"]


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTrial:
    """The pressure to try, why, and u(P*) as it would be then (None while there is no P*)."""

    pressure_kPa: float
    why: Why
    u_pressure_after_kPa: float | None = None


def next_pressure(
    trials: Sequence[Trial],
    target: Target | None,
    *,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
    step_kPa: float = PSI_KPA,
) -> NextTrial | None:
    """The next pressure to try, on a whole step within the kit's limits or at one of them.

    None without both limits in order, or with readings that cannot be reckoned with.
    """
    if not usable(minimum_kPa) or not usable(maximum_kPa) or minimum_kPa > maximum_kPa or not positive(step_kPa):
        return None
    line = fit_line(trials)
    if isinstance(line, NoLine):
        if line.reason == "no trials":
            return NextTrial(pressure_kPa=minimum_kPa, why="first trial")
        if line.reason == "readings missing":
            return None
        return _second(trials, target, minimum_kPa, maximum_kPa, step_kPa)
    steps = _steps(minimum_kPa, maximum_kPa, step_kPa)
    if line.rises and target is not None and usable(target.height_mm) and usable(target.u_mm):
        return _narrowest(line, trials, target, steps)
    farthest = max(steps, key=lambda p: abs(p - line.centre_kPa))
    return NextTrial(pressure_kPa=farthest, why="shows whether air raises the rear")


def _second(
    trials: Sequence[Trial], target: Target | None, minimum_kPa: float, maximum_kPa: float, step_kPa: float
) -> NextTrial | None:
    """Half-way from the one pressure tried to the limit on the target's side; to the other if there is no room."""
    tried_kPa = trials[0].pressure_kPa
    height_mm = sum(trial.height_mm for trial in trials) / len(trials)
    upward = target is None or not usable(target.height_mm) or height_mm < target.height_mm
    room_up, room_down = maximum_kPa - tried_kPa, tried_kPa - minimum_kPa
    limit_kPa = maximum_kPa if (upward and room_up >= step_kPa) or room_down < step_kPa else minimum_kPa
    wanted_kPa = (tried_kPa + limit_kPa) / 2
    whole = [p for p in _steps(minimum_kPa, maximum_kPa, step_kPa) if positive(abs(p - tried_kPa))]
    if not whole:
        return None
    return NextTrial(pressure_kPa=min(whole, key=lambda p: abs(p - wanted_kPa)), why="second trial")


def _narrowest(line: Line, trials: Sequence[Trial], target: Target, steps: Sequence[float]) -> NextTrial | None:
    """The step with the least u(P*) after a reading there as sure as the others are on average."""
    answer_kPa = pressure_for(line, target.height_mm)
    if not usable(answer_kPa):
        return None
    u_mm = math.sqrt(sum(trial.u_height_mm**2 for trial in trials) / len(trials))
    best_kPa = min(steps, key=lambda p: (u_line_after(line, p, u_mm, at_kPa=answer_kPa), abs(p - answer_kPa)))
    u_line_mm = u_line_after(line, best_kPa, u_mm, at_kPa=answer_kPa)
    return NextTrial(
        pressure_kPa=best_kPa,
        why="narrows the pressure most",
        u_pressure_after_kPa=root_sum_square(u_line_mm, target.u_mm) / line.c1_mm_per_kPa,
    )


def u_line_after(line: Line, tried_kPa: float, u_height_mm: float, *, at_kPa: float) -> float:
    """The u of the line's height at `at_kPa` once a trial of that u is added at `tried_kPa`, mm.

    Weights add, W' = W + w; the centre moves to p̄' = p̄ + (p − p̄)w/W'; Sxx' = Sxx + (p − p̄)²·wW/W'.
    """
    weight, added = 1 / line.u_centre_mm**2, 1 / u_height_mm**2
    total = weight + added
    away_kPa = tried_kPa - line.centre_kPa
    s_xx = 1 / line.u_c1_mm_per_kPa**2 + away_kPa**2 * weight / total * added
    beyond_kPa = at_kPa - line.centre_kPa - away_kPa * added / total
    return math.sqrt(1 / total + beyond_kPa**2 / s_xx)


def _steps(minimum_kPa: float, maximum_kPa: float, step_kPa: float) -> list[float]:
    """The limits and the whole steps between them, rising."""
    first, last = math.ceil(minimum_kPa / step_kPa), math.floor(maximum_kPa / step_kPa)
    stride = max(1, -(-(last - first) // MOST_STEPS))
    between = [number * step_kPa for number in range(first, last + 1, stride)]
    inside = [p for p in between if minimum_kPa < p < maximum_kPa]
    return sorted({minimum_kPa, *inside, maximum_kPa})
