"""The four corners of a vehicle and the order in which they are walked.

Left and right are those of a driver in the seat, looking ahead; the driver's side is not always the left.
"""

from __future__ import annotations

from typing import Literal

Corner = Literal["LF", "RF", "RR", "LR"]
Direction = Literal["clockwise", "anticlockwise"]

CLOCKWISE: tuple[Corner, ...] = ("LF", "RF", "RR", "LR")
"""Round the vehicle as seen from above, so that nobody crosses it with a tape in the hand."""

SIBLING: dict[Corner, Corner] = {"LF": "RF", "RF": "LF", "RR": "LR", "LR": "RR"}
"""The other corner of the same axle."""


def walking_order(start: Corner, direction: Direction) -> tuple[Corner, ...]:
    """The four corners in the order they are read, beginning at `start`.

    >>> walking_order("RR", "anticlockwise")
    ('RR', 'RF', 'LF', 'LR')
    """
    ring = CLOCKWISE if direction == "clockwise" else tuple(reversed(CLOCKWISE))
    first = ring.index(start)
    return ring[first:] + ring[:first]
