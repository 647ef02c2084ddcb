"""Left and right: what separate lines would do for a lean that one tee'd line cannot trim.

A tee gives both springs one pressure, but each corner answers it with its own line. Read side by side, those lines say
which pressure would bring each corner to its own height. That takes each corner as moved by its own spring alone; an
anti-roll bar and a stiff body carry part of it across, so the true difference of pressures is larger than reckoned. It
is an estimate that a first trial with separate lines replaces.
"""

from __future__ import annotations

from dataclasses import dataclass

from cornerwalk.assess.air import Recommendation, Target, recommend
from cornerwalk.assess.air_line import Line, NoLine
from cornerwalk.assess.usable import root_sum_square, usable


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """A pressure for each rear corner, and how far the left then stands above the right, each from its own target.

    `tee_mm` at one pressure for both, `separate_mm` at the two recommended; None where one is missing.
    """

    left: Recommendation
    right: Recommendation
    tee_mm: float | None
    u_tee_mm: float | None
    separate_mm: float | None
    u_separate_mm: float | None


def per_side(
    left: Line | NoLine,
    right: Line | NoLine,
    left_target: Target | None,
    right_target: Target | None,
    *,
    minimum_kPa: float | None,
    maximum_kPa: float | None,
    tee_kPa: float | None = None,
) -> Sides:
    """The two pressures, and the side-to-side difference with a common pressure (`tee_kPa`) against that with two.

    `left` and `right` are fitted to the corners' heights: against each side's own pressure where the lines are
    separate, against the common one where they are tee'd.
    """
    left_air = recommend(left, left_target, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa)
    right_air = recommend(right, right_target, minimum_kPa=minimum_kPa, maximum_kPa=maximum_kPa)
    tee = _difference(_left_over(left, left_target, tee_kPa), _left_over(right, right_target, tee_kPa))
    separate = _difference(
        _left_over(left, left_target, left_air.recommended_kPa),
        _left_over(right, right_target, right_air.recommended_kPa),
    )
    return Sides(
        left=left_air,
        right=right_air,
        tee_mm=tee[0],
        u_tee_mm=tee[1],
        separate_mm=separate[0],
        u_separate_mm=separate[1],
    )


def _left_over(line: Line | NoLine, target: Target | None, pressure_kPa: float | None) -> tuple[float, float] | None:
    """A corner's height above its target at a pressure, and its u."""
    if isinstance(line, NoLine) or target is None or not usable(pressure_kPa):
        return None
    if not usable(target.height_mm) or not usable(target.u_mm):
        return None
    u_mm = root_sum_square(line.u_height_mm(pressure_kPa), target.u_mm)
    return line.height_mm(pressure_kPa) - target.height_mm, u_mm


def _difference(
    left: tuple[float, float] | None, right: tuple[float, float] | None
) -> tuple[float, float] | tuple[None, None]:
    if left is None or right is None:
        return None, None
    return left[0] - right[0], root_sum_square(left[1], right[1])
