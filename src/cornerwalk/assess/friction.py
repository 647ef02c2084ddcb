"""Suspension friction: how far off its true height a body may settle, from a lift-and-press pair or assumed.

Lifted by hand and let down a body stays high, pressed and let up it stays low: f, half the difference, is the most it
is off either way, and the mean of the two is its height. After the settling routine it is taken as anywhere within ± f,
both wheels of an axle alike, so u = f/√3. A wheel's own share is up to f/3, and so is what asymmetry of the loop leaves
in the mean of a pair: u = f/(3√3) for each. A pair that happens to agree proves nothing, so the f of a pair has its own
u added, √(f² + u²(f)).

Sources: two makers' trim-height procedures lift, read, press, read and average (seen). The sizes that are assumed, the
third, and the factor for a loaded leaf spring are this project's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from cornerwalk.assess.estimate import Estimate, combine, usable_estimate
from cornerwalk.assess.uncertainty import rectangular_u
from cornerwalk.assess.usable import positive, root_sum_square, usable
from cornerwalk.session.model import StageKey

Axle = Literal["front", "rear"]
Origin = Literal["measured", "stated", "assumed"]

OWN_SHARE = 1 / 3
"""Of the axle's friction: what one wheel may settle off beside the other, and what is left in the mean of a pair."""

LOADED_LEAF = 1.3
"""Friction of a leaf spring under load against unloaded, where the axle's weights are not known."""


@dataclass(frozen=True, slots=True)
class Pair:
    """A corner read after lifting and after pressing the body."""

    lifted: Estimate
    pressed: Estimate

    @property
    def height(self) -> Estimate:
        """The height of the corner: the mean."""
        value = (self.lifted.value + self.pressed.value) / 2
        return combine(value, (0.5, self.lifted), (0.5, self.pressed))

    @property
    def half_difference(self) -> Estimate:
        """How far lifting and pressing each leave it from that height."""
        value = (self.lifted.value - self.pressed.value) / 2
        return combine(value, (0.5, self.lifted), (-0.5, self.pressed))

    @property
    def crossed(self) -> bool:
        """It stood lower after lifting than after pressing, by more than U: one of the two is to be read again."""
        return self.half_difference.value < -self.half_difference.U


def friction_of_pairs(pairs: Iterable[Pair]) -> float | None:
    """An axle's f in mm, from a pair at one of its corners or at both: √(f² + u²(f)); None without a usable pair.

    >>> pair = Pair(Estimate(703.0, 0.5), Estimate(700.0, 0.5))
    >>> round(friction_of_pairs([pair]), 4), round(friction_of_pairs([pair, pair]), 4)
    (1.5411, 1.5411)
    """
    halves = [half for pair in pairs if (half := usable_estimate(pair.half_difference)) is not None]
    if not halves:
        return None
    mean = combine(sum(half.value for half in halves) / len(halves), *((1 / len(halves), half) for half in halves))
    return root_sum_square(mean.value, mean.u)


@dataclass(frozen=True, slots=True)
class FoundFriction:
    """An axle's f in mm, and whether the vehicle was loaded when it was found."""

    f_mm: float
    loaded: bool


@dataclass(frozen=True, slots=True)
class StageFriction:
    """What friction adds at one stage, mm: to the whole axle, and to each wheel by itself."""

    u_axle_mm: float
    u_wheel_mm: float
    origin: Origin


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleFriction:
    """What is known of the friction of one axle.

    Attributes:
        assumed_mm: f where nothing is known.
        stated_mm: f as stated for the vehicle, found unloaded.
        pairs: f of every stage at which the body was lifted and pressed.
        stated_u_mm: a standard uncertainty stated in place of all of them.
        loaded_factor: by how much f grows from unloaded to loaded.
    """

    assumed_mm: float
    stated_mm: float | None = None
    pairs: Mapping[StageKey, FoundFriction] = field(default_factory=dict)
    stated_u_mm: float | None = None
    loaded_factor: float = 1.0

    def at(self, stage: StageKey, *, loaded: bool) -> StageFriction:
        """What friction adds at a stage; a pair made there leaves a third of it.

        >>> axle = AxleFriction(assumed_mm=3.0, stated_mm=1.5, loaded_factor=1.3)
        >>> round(axle.at(("unloaded", 1), loaded=False).u_axle_mm, 4), round(
        ...     axle.at(("loaded", 1), loaded=True).u_axle_mm, 4
        ... )
        (0.866, 1.1258)
        """
        left = OWN_SHARE if stage in self.pairs else 1.0
        if usable(self.stated_u_mm):
            return StageFriction(left * self.stated_u_mm, OWN_SHARE * self.stated_u_mm, "stated")
        f_mm, origin = self._f_mm(stage, loaded=loaded)
        u_mm = rectangular_u(f_mm)
        return StageFriction(left * u_mm, OWN_SHARE * u_mm, origin)

    def _f_mm(self, stage: StageKey, *, loaded: bool) -> tuple[float, Origin]:
        """The stage's own pair, else pairs of stages loaded alike, else all pairs, else stated, else assumed."""
        if stage in self.pairs:
            return self.pairs[stage].f_mm, "measured"
        alike = [found for found in self.pairs.values() if found.loaded == loaded]
        found = alike or list(self.pairs.values())
        if found:
            return sum(self._grown(each, loaded=loaded) for each in found) / len(found), "measured"
        if usable(self.stated_mm):
            return self._grown(FoundFriction(self.stated_mm, loaded=False), loaded=loaded), "stated"
        return self.assumed_mm, "assumed"

    def _grown(self, found: FoundFriction, *, loaded: bool) -> float:
        """What was found, carried over to the other state of load."""
        if found.loaded == loaded:
            return found.f_mm
        return found.f_mm * self.loaded_factor if loaded else found.f_mm / self.loaded_factor


def loaded_leaf_factor(unloaded_axle_N: float | None, loaded_axle_N: float | None) -> float:
    """By how much a leaf spring's friction grows with its load: the axle's weights, else what is assumed.

    >>> loaded_leaf_factor(10000.0, 15000.0), loaded_leaf_factor(None, 15000.0)
    (1.5, 1.3)
    """
    if not positive(unloaded_axle_N) or not positive(loaded_axle_N):
        return LOADED_LEAF
    return loaded_axle_N / unloaded_axle_N
