from __future__ import annotations

import itertools

import pytest

from cornerwalk.session.stages import (
    AIR_STAGES,
    CORNERS,
    REFERENCE_STAGE,
    REQUIRED_STAGES,
    SIBLING,
    STAGE_NAMES,
    Corner,
    Direction,
    available_stages,
    walking_order,
)

# Where each corner stands, seen from above with the front up: (left -1 / right +1, front +1 / rear -1).
PLACES = {"LF": (-1, 1), "RF": (1, 1), "RR": (1, -1), "LR": (-1, -1)}


@pytest.mark.parametrize("start", CORNERS)
@pytest.mark.parametrize("direction", ["clockwise", "anticlockwise"])
def test_the_walk_goes_once_round_the_vehicle(start: Corner, direction: Direction) -> None:
    """Every corner once, from the start on, each step along one side, so that nobody crosses; the turn is as named."""
    order = walking_order(start, direction)
    assert order[0] == start
    assert sorted(order) == sorted(CORNERS)
    for here, there in itertools.pairwise(order):
        (x0, y0), (x1, y1) = PLACES[here], PLACES[there]
        assert (x0 == x1) != (y0 == y1)
        turn = x0 * y1 - y0 * x1  # of two places seen from the middle: positive is to the left
        assert (turn < 0) == (direction == "clockwise")


def test_siblings_share_an_axle() -> None:
    """The sibling of a corner is the other one of its axle, both ways."""
    for corner, sibling in SIBLING.items():
        assert corner != sibling
        assert SIBLING[sibling] == corner
        assert PLACES[corner][1] == PLACES[sibling][1]


def test_stages_are_known_and_begin_with_the_reference() -> None:
    """A job asks for stages there are, in the usual order, from the reference on; what it asks for it offers."""
    assert set(STAGE_NAMES) >= AIR_STAGES
    for kind, asked in REQUIRED_STAGES.items():
        assert asked[0] == REFERENCE_STAGE
        assert list(asked) == [name for name in STAGE_NAMES if name in asked]
        assert set(asked) <= set(available_stages(kind))


def test_a_load_check_offers_no_air() -> None:
    """A vehicle without helper springs has no stage with air, but for the follow-up."""
    assert set(available_stages("load check")) & AIR_STAGES == {"follow-up"}
    assert available_stages("fit") == STAGE_NAMES
