from __future__ import annotations

from dataclasses import fields
from typing import Literal, get_args, get_origin, get_type_hints

import pytest

from cornerwalk.quantity import BareUnit
from cornerwalk.session import Session, fold
from cornerwalk.session.bounds import beyond
from cornerwalk.session.events import FactStated, FactValue
from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.statements import fact_value
from tests.session.support import events_of, opened

ENDINGS = {"mm": "_mm", "m": "_m", "kPa": "_kPa", "N": "_N", "%": "_percent", "deg": "_deg", "K": "_K"} | {
    "N_per_mm": "_N_per_mm",
    "liters": "_liters",
}
SAMPLES: dict[str, str | list[float]] = {"text": "words", "moment": "2026-05-04", "forces": [1.0, 2.5]}


def sample(fact: Fact) -> str | float | list[float]:
    if fact.choices:
        return fact.choices[-1]
    return SAMPLES.get(fact.kind, 12.5)


def figures(value: FactValue) -> list[float]:
    """The figures of a value; none of a text."""
    return [one for one in (value if isinstance(value, list) else [value]) if isinstance(one, int | float)]


@pytest.mark.parametrize("fact", FACTS.values(), ids=lambda fact: fact.name)
def test_a_fact_arrives_where_the_register_says(fact: Fact) -> None:
    """Stated, a fact is at its attribute of its part, with its text; taken back, the attribute is as at first."""
    stated = FactStated(name=fact.name, entered="as typed", value=sample(fact))
    session = fold(events_of(opened(), stated))
    value = getattr(getattr(session, fact.part), fact.attribute)
    assert value == (tuple(stated.value) if isinstance(stated.value, list) else stated.value)
    assert session.entered[fact.name] == "as typed"

    taken_back = fold(events_of(opened(), stated, FactStated(name=fact.name, entered="", value=None)))
    assert fact.name not in taken_back.entered
    if fact.name != "job.title":  # which the opening states too
        fresh = getattr(fold(events_of(opened())), fact.part)
        assert getattr(getattr(taken_back, fact.part), fact.attribute) == getattr(fresh, fact.attribute)


@pytest.mark.parametrize("fact", FACTS.values(), ids=lambda fact: fact.name)
def test_a_facts_name_and_unit_agree_with_its_field(fact: Fact) -> None:
    """The field's ending is the unit of the fact's kind; the key is the field's name without it."""
    ending = ENDINGS.get(fact.unit, "")
    assert fact.attribute.endswith(ending)
    assert fact.attribute.removesuffix(ending) == fact.key.removesuffix(ending)
    assert fact.name == f"{fact.part}.{fact.key}"


@pytest.mark.parametrize("fact", [fact for fact in FACTS.values() if fact.choices], ids=lambda fact: fact.name)
def test_choices_are_those_of_the_field(fact: Fact) -> None:
    """The part's field takes the words of the register and no others; what is not stated is one of them or none."""
    part = getattr(Session(), fact.part)
    hint = get_type_hints(type(part))[fact.attribute]
    words = get_args(next((each for each in get_args(hint) if get_origin(each) is Literal), hint))
    assert fact.choices == words
    assert getattr(part, fact.attribute) in (*fact.choices, None)


def test_every_field_of_a_part_is_a_fact() -> None:
    """Nothing in the parts that hold facts is out of reach of forms and sheets."""
    parts = {fact.part for fact in FACTS.values()}
    held = {f"{part}.{field.name}" for part in parts for field in fields(getattr(Session(), part))}
    reached = {f"{fact.part}.{fact.attribute}" for fact in FACTS.values()}
    assert held - reached == set()


@pytest.mark.parametrize("unit", get_args(BareUnit))
@pytest.mark.parametrize("fact", [fact for fact in FACTS.values() if any(fact.example)], ids=lambda fact: fact.name)
def test_an_example_can_be_typed(fact: Fact, unit: BareUnit) -> None:
    """Whatever a bare number means in this job, the example is read, and is something that a vehicle can have."""
    value = fact_value(fact, fact.example[unit != "inch"], unit)
    assert list(beyond(FactStated(name=fact.name, entered="", value=value))) == []


@pytest.mark.parametrize("fact", [fact for fact in FACTS.values() if any(fact.example)], ids=lambda fact: fact.name)
def test_an_example_is_of_one_size_in_both_systems(fact: Fact) -> None:
    """Each is round where it is used, so they differ, but never by a factor of two: 1/16 in and 1 mm."""
    inch, metric = fact_value(fact, fact.example[0], "inch"), fact_value(fact, fact.example[1], "mm")
    for one, other in zip(figures(inch), figures(metric), strict=True):
        assert 0.5 < one / other < 2


def test_a_figure_has_an_example_of_its_own() -> None:
    """A gauge's marks are not as large as a kit's pressure, and a share of a weight is not as negative as an aim."""
    assert [fact.name for fact in FACTS.values() if fact.kind not in ("text", "choice") and not all(fact.example)] == []
    examples = [fact.example for fact in FACTS.values() if fact.kind in ("pressure", "percent")]
    assert len(set(examples)) == len(examples)
