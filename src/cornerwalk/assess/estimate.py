"""Estimate: a figure with its standard uncertainty, what each source of error adds to it, and its coverage factor k.

Two estimates are correlated as far as they share sources: `combine` adds what each source contributes, with its sign,
before anything is squared (JCGM 100, 5.2.2; the same idea as the `uncertainties` package, which the tests use).

k is Student's t for 95.45 % at the effective degrees of freedom (JCGM 100, G.4.1: Welch and Satterthwaite),

    ν_eff = u⁴/Σ(u_i⁴/ν_i)

where only an uncertainty taken from scatter has finite ν; one that was judged, or stated, has none and adds nothing to
the sum. Without any such source k is 2.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from cornerwalk.assess.usable import LARGEST, root_sum_square

COVERAGE = 2.0
"""k where every uncertainty was judged or stated: U = 2u covers about 95 %."""

COVERED = math.erf(COVERAGE / math.sqrt(2))
"""The share that ± 2u of a normal distribution covers, 95.45 %; every k covers as much."""

_LARGE_FREEDOM = 200


@dataclass(frozen=True, slots=True)
class Spread:
    """A standard deviation and its degrees of freedom: it is itself known to about one part in √(2·freedom)."""

    sd: float
    freedom: int


@dataclass(frozen=True, slots=True)
class Share:
    """A component's share of the variance of a source, and the scatter it was estimated from, if it was."""

    component: str
    variance: float = 1.0
    spread: Spread | None = None


class ErrorSource:
    """One independent cause of error. Estimates that share it are correlated.

    Attributes:
        shares: the components it belongs to, rows of the uncertainty budget: one, or several that always act together.
            Shares with one spread share its degrees of freedom.
        scattered: one of them was estimated from scatter.
    """

    __slots__ = ("scattered", "shares")

    def __init__(self, *shares: Share) -> None:
        self.shares = shares
        self.scattered = any(share.spread is not None for share in shares)


def shares_of(parts: Mapping[str, float], spreads: Mapping[str, Spread]) -> tuple[tuple[Share, ...], float]:
    """Components that always act together as one source: their shares of it, and what they come to, √(Σ u²)."""
    total = root_sum_square(*parts.values())
    if not total:
        return (), 0.0
    return tuple(Share(name, (u / total) ** 2, spreads.get(name)) for name, u in parts.items() if u), total


class Estimate:
    """A figure and its standard uncertainty, both in the unit that the name holding it says.

    An estimate made from a value and a u is independent of every other one, unless both name one `source`.

    >>> height = Estimate(700.0, 0.9)
    >>> (height - height).u, round((height - Estimate(690.0, 0.9)).u, 4)
    (0.0, 1.2728)
    """

    __slots__ = ("parts", "u", "value")

    def __init__(self, value: float, u: float = 0.0, source: ErrorSource | str | None = None) -> None:
        self.value = value
        self.u = u
        self.parts: Mapping[ErrorSource, float] = {}
        if u:
            self.parts = {source if isinstance(source, ErrorSource) else ErrorSource(Share(source or "")): u}

    @classmethod
    def of_parts(cls, value: float, parts: Mapping[ErrorSource, float]) -> Estimate:
        """A figure to which each source adds this much, in the figure's unit; the sign tells which way."""
        made = cls.__new__(cls)
        made.value = value
        made.u = math.hypot(*parts.values())
        made.parts = parts
        return made

    @property
    def freedom(self) -> float:
        """Effective degrees of freedom, infinite where no source was estimated from scatter."""
        scattered = [(source, part) for source, part in self.parts.items() if source.scattered]
        if not scattered:
            return math.inf
        squares: dict[Spread, float] = {}
        for source, part in scattered:
            for share in source.shares:
                if share.spread is not None:
                    squares[share.spread] = squares.get(share.spread, 0.0) + part * part * share.variance
        divisor = sum(square * square / spread.freedom for spread, square in squares.items())
        return self.u**4 / divisor if divisor > 0 else math.inf

    @property
    def k(self) -> float:
        """Coverage factor for 95.45 %."""
        for source in self.parts:
            if source.scattered:
                return coverage_factor(self.freedom)
        return COVERAGE

    @property
    def U(self) -> float:
        """Expanded uncertainty k·u, in the same unit."""
        return self.k * self.u

    def __add__(self, other: Estimate) -> Estimate:
        return combine(self.value + other.value, (1.0, self), (1.0, other))

    def __sub__(self, other: Estimate) -> Estimate:
        parts = dict(self.parts)
        for source, part in other.parts.items():
            parts[source] = parts.get(source, 0.0) - part
        return Estimate.of_parts(self.value - other.value, parts)

    def times(self, factor: float) -> Estimate:
        """The figure multiplied by an exact factor."""
        return combine(self.value * factor, (factor, self))

    def with_value(self, value: float) -> Estimate:
        """Another value with the same uncertainty."""
        return Estimate.of_parts(value, self.parts)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Estimate):
            return NotImplemented
        return (self.value, self.u) == (other.value, other.u)

    def __hash__(self) -> int:
        return hash((self.value, self.u))

    def __repr__(self) -> str:
        return f"Estimate(value={self.value!r}, u={self.u!r})"


def combine(value: float, *terms: tuple[float, Estimate]) -> Estimate:
    """A figure computed from others: `terms` are its partial derivative with respect to each, and that estimate.

    Source: law of propagation for correlated inputs, JCGM 100:2008, 5.2.2.
    """
    parts: dict[ErrorSource, float] = {}
    for sensitivity, estimate in terms:
        if not sensitivity:
            continue
        if not parts:
            parts = {source: sensitivity * part for source, part in estimate.parts.items()}
            continue
        for source, part in estimate.parts.items():
            parts[source] = parts.get(source, 0.0) + sensitivity * part
    return Estimate.of_parts(value, parts)


def estimate(value: float | None, u: float | None) -> Estimate | None:
    """A figure with its u, both in one unit; None where either is missing."""
    return None if value is None or u is None else Estimate(value, u)


def exact(value: float | None) -> Estimate | None:
    """A figure in the unit that its name says, without an uncertainty; None where it is not stated."""
    return None if value is None else Estimate(value)


def usable_estimate(estimate: Estimate | None) -> Estimate | None:
    """The estimate itself, or None where it is missing, no number, or of no size that a vehicle has.

    >>> usable_estimate(Estimate(701.7, 0.9)), usable_estimate(Estimate(float("nan"), 0.9))
    (Estimate(value=701.7, u=0.9), None)
    """
    if estimate is None or not -LARGEST <= estimate.value <= LARGEST or not 0.0 <= estimate.u <= LARGEST:
        return None
    return estimate


def coverage_factor(freedom: float) -> float:
    """K for 95.45 %: Student's t at these degrees of freedom, cut to a whole number; 2 where they are infinite.

    Source: JCGM 100:2008, G.4.1 and table G.2.

    >>> [round(coverage_factor(freedom), 2) for freedom in (5.9, 10, 50, math.inf)]
    [2.65, 2.28, 2.05, 2.0]
    """
    return COVERAGE if math.isinf(freedom) else _student(max(1, math.floor(freedom + 1e-9)))


@lru_cache(maxsize=256)
def _student(freedom: int) -> float:
    """The t that ± t of Student's distribution covers `COVERED`: by bisection, or far out by its expansion.

    The expansion in 1/ν is Abramowitz and Stegun 26.7.5, right to better than 1e-8 from 200 degrees on.
    """
    if freedom > _LARGE_FREEDOM:
        z = COVERAGE
        first = (z**3 + z) / 4
        second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
        third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
        return z + first / freedom + second / freedom**2 + third / freedom**3
    low, high = COVERAGE, 16.0
    while high - low > 1e-12 * high:
        middle = (low + high) / 2
        low, high = (middle, high) if _student_covers(middle, freedom) < COVERED else (low, middle)
    return (low + high) / 2


def _student_covers(t: float, freedom: int) -> float:
    """The share of Student's distribution within ± t, whole degrees only (Abramowitz and Stegun 26.7.3, 26.7.4)."""
    angle = math.atan2(t, math.sqrt(freedom))
    sine, cosine = math.sin(angle), math.cos(angle)
    odd = freedom % 2
    term = cosine if odd else 1.0
    total = term if freedom > 1 else 0.0
    for step in range(2 + odd, freedom - 1, 2):
        term *= cosine * cosine * (step - 1) / step
        total += term
    return 2 / math.pi * (angle + sine * total) if odd else sine * total


# ---- uncertainty budget ----

PLACING = "placing"
"""The component that repeating a reading shrinks."""


@dataclass(frozen=True, slots=True)
class Budget:
    """The uncertainty budget of a figure: what each component adds to its u, in its unit."""

    figure: Estimate

    @property
    def u(self) -> float:
        """The figure's u, in its unit."""
        return self.figure.u

    def contributions(self) -> dict[str, float]:
        """What each component adds, largest first; the squares add up to u²."""
        squares: dict[str, float] = {}
        for source, part in self.figure.parts.items():
            for share in source.shares:
                squares[share.component] = squares.get(share.component, 0.0) + part * part * share.variance
        return {name: math.sqrt(square) for name, square in sorted(squares.items(), key=lambda row: -row[1])}

    def u_with_repeats(self, times: int) -> float:
        """The figure's u if every reading were taken `times` as often and averaged: placing shrinks by √times.

        In the figure's unit.
        """
        square = 0.0
        for source, part in self.figure.parts.items():
            for share in source.shares:
                square += part * part * share.variance / (times if share.component == PLACING else 1)
        return math.sqrt(square)
