"""Body attitude: the body as a plane, how far each end moved, how it sits, and whether the four readings agree.

Frame ISO 8855: X forward, Y left, Z up, origin on the ground below the middle of the rear axle. Heights and changes mm,
up positive. L wheelbase, t the distance between the left and the right measuring points:

    pitch, nose up   θ = atan((ΔF − ΔR)/L)              height change at x   Δ(x) = ΔR + (ΔF − ΔR)·x/L
    lean, left up    φ = atan((Δleft − Δright)/t)       warp                 w = (ΔLF − ΔRF − ΔLR + ΔRR)/4

F, R, left, right are means of two corners. A rigid body's four points lie in a plane whatever its springs do, so w is
zero but for misreading, twist and a floor that moved; one reading off by e moves it by e/4.

Every u follows from what each source of error adds (`estimate.combine`), so the friction that both wheels of an axle
share, and the unloaded readings that two stages share, count as they should.

Any figure may be missing; what needs it is then None.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from cornerwalk.assess.estimate import Estimate, combine, usable_estimate
from cornerwalk.assess.usable import positive
from cornerwalk.session.stages import CORNERS, Corner

WARP_SIGN: Mapping[Corner, int] = {"LF": 1, "RF": -1, "RR": 1, "LR": -1}
"""Which way a reading moves the warp."""

Four = Mapping[Corner, Estimate | None]
"""Something at each corner; None, or left out, is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Attitude:
    """How a body moved, or stands, by its four corners. Lengths mm, angles degrees, positive as named."""

    front_mm: Estimate | None
    rear_mm: Estimate | None
    nose_up_deg: Estimate | None
    left_up_deg: Estimate | None
    warp_mm: Estimate | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stance:
    """How the body stands by its heights at one stage: means of each axle, front less rear, left less right."""

    front_mm: Estimate | None
    rear_mm: Estimate | None
    rake_mm: Estimate | None
    side_front_mm: Estimate | None
    side_rear_mm: Estimate | None


def changes(now: Four, reference: Four) -> dict[Corner, Estimate | None]:
    """Height now less height then, corner by corner."""
    return {corner: difference(now.get(corner), reference.get(corner)) for corner in CORNERS}


def attitude(moved: Four, wheelbase_mm: Estimate | None, arch_width_mm: Estimate | None) -> Attitude:
    """Everything the four changes say, or the four heights if those are handed in.

    >>> up, down, u = 0.25, -1.53125, 0.051031
    >>> changes = {"LF": Estimate(up, u), "RF": Estimate(up, u), "RR": Estimate(down, u), "LR": Estimate(down, u)}
    >>> worked = attitude(changes, Estimate(119.0), None)
    >>> round(worked.nose_up_deg.value, 6), round(worked.nose_up_deg.u, 6)
    (0.857567, 0.024565)
    """
    lf, rf, rr, lr = (moved.get(corner) for corner in CORNERS)
    front_mm, rear_mm = mean(lf, rf), mean(rr, lr)
    return Attitude(
        front_mm=front_mm,
        rear_mm=rear_mm,
        nose_up_deg=tilt_deg(front_mm, rear_mm, wheelbase_mm),
        left_up_deg=lean_deg(moved, arch_width_mm),
        warp_mm=warp_mm(moved),
    )


def stance(heights: Four) -> Stance:
    """How the body stands by its four heights."""
    lf, rf, rr, lr = (heights.get(corner) for corner in CORNERS)
    front_mm, rear_mm = mean(lf, rf), mean(rr, lr)
    return Stance(
        front_mm=front_mm,
        rear_mm=rear_mm,
        rake_mm=difference(front_mm, rear_mm),
        side_front_mm=difference(lf, rf),
        side_rear_mm=difference(lr, rr),
    )


def difference(one: Estimate | None, other: Estimate | None) -> Estimate | None:
    """One less the other."""
    one, other = usable_estimate(one), usable_estimate(other)
    return None if one is None or other is None else one - other


def mean(one: Estimate | None, other: Estimate | None) -> Estimate | None:
    """The mean of two."""
    one, other = usable_estimate(one), usable_estimate(other)
    if one is None or other is None:
        return None
    return combine((one.value + other.value) / 2, (0.5, one), (0.5, other))


def tilt_deg(up: Estimate | None, down: Estimate | None, apart_mm: Estimate | None) -> Estimate | None:
    """The angle by which the end `up` rises over the end `down`, `apart_mm` away: pitch over L, lean over t.

    u(θ) = cos²θ·√(u²(up) + u²(down) + tan²θ·u²(apart))/apart.
    """
    rise_mm, apart_mm = difference(up, down), usable_estimate(apart_mm)
    if rise_mm is None or apart_mm is None or not positive(apart_mm.value):
        return None
    slope = rise_mm.value / apart_mm.value
    turn = math.degrees(1 / apart_mm.value / (1 + slope * slope))
    return combine(math.degrees(math.atan(slope)), (turn, rise_mm), (-turn * slope, apart_mm))


def lean_deg(moved: Four, arch_width_mm: Estimate | None) -> Estimate | None:
    """How far the left side stands above the right, of the four changes or heights."""
    if arch_width_mm is None:
        return None
    lf, rf, rr, lr = (moved.get(corner) for corner in CORNERS)
    return tilt_deg(mean(lf, lr), mean(rf, rr), arch_width_mm)


def change_at_mm(
    ahead_mm: Estimate | None, front: Estimate | None, rear: Estimate | None, wheelbase_mm: Estimate | None
) -> Estimate | None:
    """How far a point of the body moved up, `ahead_mm` of the rear axle; the hitch ball lies behind it, negative.

    u² = (x/L)²u²(ΔF) + (1 − x/L)²u²(ΔR) + ((ΔF − ΔR)/L)²·(u²(x) + (x/L)²u²(L)).

    >>> front, rear = Estimate(0.25, 0.036), Estimate(-1.53125, 0.036)
    >>> round(change_at_mm(Estimate(-46.0), front, rear, Estimate(119.0)).value, 6)
    -2.2198
    """
    front, rear = usable_estimate(front), usable_estimate(rear)
    ahead_mm, wheelbase_mm = usable_estimate(ahead_mm), usable_estimate(wheelbase_mm)
    if front is None or rear is None or ahead_mm is None or wheelbase_mm is None or not positive(wheelbase_mm.value):
        return None
    part = ahead_mm.value / wheelbase_mm.value
    slope = (front.value - rear.value) / wheelbase_mm.value
    value = rear.value + slope * ahead_mm.value
    return combine(value, (part, front), (1 - part, rear), (slope, ahead_mm), (-slope * part, wheelbase_mm))


def warp_mm(moved: Four) -> Estimate | None:
    """w, how far the four changes are from lying in a plane; a quarter of a single reading's error."""
    known = {corner: usable_estimate(moved.get(corner)) for corner in CORNERS}
    terms = [(WARP_SIGN[corner] / 4, change) for corner, change in known.items() if change is not None]
    if len(terms) < len(known):
        return None
    return combine(sum(part * change.value for part, change in terms), *terms)


def expected_fourth_mm(corner: Corner, now: Four, reference: Four) -> Estimate | None:
    """What the tape should show at `corner`, from the other three and all four of the reference: there w = 0.

    For saying back at once whether the last corner of a stage fits.
    """
    moved = {other: difference(now.get(other), reference.get(other)) for other in CORNERS if other != corner}
    start = usable_estimate(reference.get(corner))
    terms = [(-WARP_SIGN[corner] * WARP_SIGN[other], change) for other, change in moved.items() if change is not None]
    if start is None or len(terms) < len(moved):
        return None
    return combine(start.value + sum(sign * change.value for sign, change in terms), (1.0, start), *terms)
