"""How a measurement is taken and told.

A machine is faster now and slower then, so that a time alone says little. Each figure is therefore a ratio: ours and a
yardstick in turn, in one run; the median of the ratios of neighbours counts. The spread beside it says how far to
trust the ratio.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Literal

Unit = Literal["ms", "MiB"]


class NotThereYetError(Exception):
    """The part of the program that a measurement needs is not there; the message names it."""


@dataclass(frozen=True)
class Figure:
    """Ours against a yardstick.

    Attributes:
        what: what was measured.
        ours: our values, in `unit`, in the order measured.
        yardstick: those of the yardstick; empty where the target is a time instead of a ratio.
        unit: of the values.
        target: the ratio, or our median in `unit`, that must not be exceeded; None is for information.
    """

    what: str
    ours: Sequence[float]
    yardstick: Sequence[float]
    unit: Unit
    target: float | None

    @property
    def reached(self) -> float:
        """What is compared with the target: the median of the ratios where both were measured in turn."""
        ours = statistics.median(self.ours)
        if len(self.yardstick) == len(self.ours):
            return statistics.median(our / their for our, their in zip(self.ours, self.yardstick, strict=True))
        return ours / statistics.median(self.yardstick) if self.yardstick else ours

    @property
    def is_met(self) -> bool:
        """Whether the target is kept."""
        return self.target is None or self.reached <= self.target


def in_turn(ours: Callable[[], float], yardstick: Callable[[], float], rounds: int) -> tuple[list[float], list[float]]:
    """Measure both in turn, so that a slow minute of the machine meets both; the first round is not counted."""
    our_values, their_values = [], []
    for _ in range(rounds + 1):
        their_values.append(yardstick())
        our_values.append(ours())
    return our_values[1:], their_values[1:]


def need(*modules: str) -> None:
    """Say politely what is missing.

    Raises:
        NotThereYetError: if one of these modules of the program does not exist.
    """
    for module in modules:
        try:
            found = find_spec(module)
        except ModuleNotFoundError:
            found = None
        if found is None:
            raise NotThereYetError(f"{module} does not exist yet")


def table(figures: Sequence[Figure]) -> str:
    """The figures as a table: medians, the middle half of the values, the ratio and its target."""
    head = f"{'':44} {'ours':>20} {'yardstick':>20} {'reached':>8} {'target':>7}"
    return "\n".join([head, *(_row(figure) for figure in figures)])


def _row(figure: Figure) -> str:
    ours, yardstick = _spread(figure.ours, figure.unit), _spread(figure.yardstick, figure.unit)
    verdict = "" if figure.is_met else "  MISSED"
    return f"{figure.what:44} {ours:>20} {yardstick:>20} {figure.reached:8.3f} {_target(figure):>7}{verdict}"


def _target(figure: Figure) -> str:
    if figure.target is None:
        return "–"
    return f"{figure.target:g}" if figure.yardstick else f"{figure.target:g} {figure.unit}"


def _spread(values: Sequence[float], unit: Unit) -> str:
    if len(values) < 2:
        return f"{values[0]:.2f} {unit}" if values else "–"
    low, middle, high = statistics.quantiles(values, n=4)
    return f"{middle:.2f} {unit} ±{(high - low) / 2:.2f}"
