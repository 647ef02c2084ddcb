"""On which side a figure lies, in words: a bare sign reads two ways, and two standards give pitch opposite ones."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from cornerwalk.words import tr


@dataclass(frozen=True, slots=True)
class Sides:
    """How a figure is said when it is above nought, below it, and when it rounds to nought (then ± U, or nothing)."""

    above: Callable[[str], str]
    below: Callable[[str], str]
    neither: Callable[[str], str]


CHANGE = Sides(
    lambda figure: tr("up {figure}", figure=figure),
    lambda figure: tr("down {figure}", figure=figure),
    lambda figure: tr("unchanged {figure}", figure=figure),
)
TILT = Sides(
    lambda figure: tr("nose up {figure}", figure=figure),
    lambda figure: tr("nose down {figure}", figure=figure),
    lambda figure: tr("level {figure}", figure=figure),
)
LEAN = Sides(
    lambda figure: tr("leans right {figure}", figure=figure),
    lambda figure: tr("leans left {figure}", figure=figure),
    lambda figure: tr("upright {figure}", figure=figure),
)
MOVED = Sides(
    lambda figure: tr("{figure} higher", figure=figure),
    lambda figure: tr("{figure} lower", figure=figure),
    lambda figure: tr("unchanged {figure}", figure=figure),
)
MARK = Sides(
    lambda figure: tr("{figure} above the unloaded mark", figure=figure),
    lambda figure: tr("{figure} below the unloaded mark", figure=figure),
    lambda figure: tr("on the unloaded mark {figure}", figure=figure),
)
AIM = Sides(
    lambda figure: tr("points {figure} above level", figure=figure),
    lambda figure: tr("points {figure} below level", figure=figure),
    lambda figure: tr("points level {figure}", figure=figure),
)
GAIN = Sides(
    lambda figure: tr("{figure} more", figure=figure),
    lambda figure: tr("{figure} less", figure=figure),
    lambda figure: tr("unchanged {figure}", figure=figure),
)
SIDES = Sides(
    lambda figure: tr("left {figure} higher", figure=figure),
    lambda figure: tr("right {figure} higher", figure=figure),
    lambda figure: tr("even {figure}", figure=figure),
)
