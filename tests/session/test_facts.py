from __future__ import annotations

from dataclasses import fields
from typing import get_args, get_type_hints

import pytest

from cornerwalk.session import Session, fold
from cornerwalk.session.events import FactStated
from cornerwalk.session.facts import FACTS, UNIT_OF_KIND, Fact
from tests.session.support import events_of, opened

ENDINGS = {"mm": "_mm", "m": "_m", "kPa": "_kPa", "N": "_N", "%": "_percent"}
SAMPLES: dict[str, str | list[float]] = {"text": "words", "moment": "2026-05-04", "forces": [1.0, 2.5]}


def sample(fact: Fact) -> str | float | list[float]:
    if fact.choices:
        return fact.choices[-1]
    return SAMPLES.get(fact.kind, 12.5)


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
    ending = ENDINGS.get(UNIT_OF_KIND[fact.kind], "")
    assert fact.attribute.endswith(ending)
    assert fact.attribute.removesuffix(ending) == fact.key.removesuffix(ending)
    assert fact.name == f"{fact.part}.{fact.key}"


@pytest.mark.parametrize("fact", [fact for fact in FACTS.values() if fact.choices], ids=lambda fact: fact.name)
def test_choices_are_those_of_the_field(fact: Fact) -> None:
    """Where the part spells its choices out, the register has the same; what is not stated is one of them or none."""
    part = getattr(Session(), fact.part)
    spelled = get_args(get_type_hints(type(part))[fact.attribute])
    if str not in spelled and spelled:
        assert set(fact.choices) == set(spelled)
    assert getattr(part, fact.attribute) in (*fact.choices, None)


def test_every_field_of_a_part_is_a_fact() -> None:
    """Nothing in the parts that hold facts is out of reach of forms and sheets."""
    parts = {fact.part for fact in FACTS.values()}
    held = {f"{part}.{field.name}" for part in parts for field in fields(getattr(Session(), part))}
    reached = {f"{fact.part}.{fact.attribute}" for fact in FACTS.values()}
    assert held - reached == set()
