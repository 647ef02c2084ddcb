"""Facts of the register in words: what each is called, means and costs to leave out, and what was stated."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.wording.figures import Wording
from cornerwalk.words import tr


def fact_name(name: str) -> str:
    """What a fact is called; its register name where it is unknown here, as one from a newer file may be."""
    return tr(FACTS[name].label) if name in FACTS else name


def fact_help(name: str) -> str:
    """What a fact means and how it is found; "" for what is no fact of the register."""
    return tr(FACTS[name].help) if name in FACTS else ""


def fact_cost(name: str) -> str:
    """What it costs to leave a fact out; "" where it costs nothing but the record."""
    cost = FACTS[name].cost if name in FACTS else ""
    return cost_of_skip(tr(cost)) if cost else ""


def cost_of_skip(cost: str) -> str:
    """`without it: no lean`."""
    return tr("if blank: {cost}", cost=cost)


def as_stated(name: str, entered: str) -> str:
    """A fact as it was typed; what was taken from a list of choices, in the user's language.

    >>> as_stated("kit.lines", "tee"), as_stated("kit.name", "tee")
    ('tee', 'tee')
    """
    return choice_label(name, entered)


def choice_label(name: str, choice: str) -> str:
    """What a choice of a fact is called; the text itself where it is none."""
    label = FACTS[name].labels.get(choice) if name in FACTS else None
    return choice if label is None else tr(label)


def choice_called(name: str, text: str) -> str:
    """The choice that is called so in the user's language; the text itself where none is."""
    wanted = text.casefold()
    labels = FACTS[name].labels if name in FACTS else {}
    return next((choice for choice, label in labels.items() if wanted == tr(label).casefold()), text)


def place_as_stated(entered: str) -> str:
    """A load's place: the distance as it was typed, its side of the rear axle in the user's language."""
    for side, told in (
        ("behind the rear axle", tr("behind the rear axle")),
        ("ahead of the rear axle", tr("ahead of the rear axle")),
    ):
        if entered.endswith(f" {side}"):
            return f"{entered.removesuffix(side)}{told}"
    return entered


# ---- fact values ----


def understood(fact: Fact, value: float | str | Sequence[float] | None, wording: Wording) -> str:
    """The value in the units shown; empty for words, which mean what they say.

    `value` is in the fact's own unit (`Fact.unit`).
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
