"""What a stated fact was understood to be, in the units shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cornerwalk.report.wording import Wording
from cornerwalk.session.facts import Fact


def understood(fact: Fact, value: float | str | Sequence[float] | None, wording: Wording) -> str:
    """The value in the units shown; empty for words, which mean what they say.

    `value` is in the fact's own unit (`session.facts.UNIT_OF_KIND`).
    """
    if isinstance(value, list | tuple):
        return ", ".join(wording.weight(one) for one in value)
    told: dict[str, Callable[[float], str]] = {
        "length": wording.exact,
        "graduation": wording.exact,
        "altitude": wording.distance_m,
        "pressure": wording.pressure,
        "force": wording.weight,
        "percent": wording.percent,
    }
    return told[fact.kind](value) if fact.kind in told and isinstance(value, float) else ""
