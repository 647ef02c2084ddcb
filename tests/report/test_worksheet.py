"""The blank worksheet."""

from __future__ import annotations

import pytest

from cornerwalk.report.text import as_text
from cornerwalk.report.worksheet import INTAKE, KIT, blank_worksheet
from cornerwalk.session.checklist import load_checklists
from cornerwalk.session.facts import FACTS
from cornerwalk.session.stages import JobKind


def test_every_fact_has_a_name_of_its_own() -> None:
    """Forms, sheets and reports call each fact by a name of its own."""
    labels = [fact.label for fact in FACTS.values()]
    assert all(labels)
    assert len(set(labels)) == len(labels)


def test_what_it_asks_for_can_be_typed_in() -> None:
    """Each line of the intake is a fact of the register."""
    assert set(INTAKE + KIT) <= set(FACTS)


@pytest.mark.parametrize("kind", ["fit", "adjust", "load check"])
def test_the_corners_stand_in_the_order_they_are_walked(kind: JobKind) -> None:
    """Typed in later from top to bottom, the readings arrive as the walk asks for them."""
    text = as_text(blank_worksheet(kind, "RR", "anticlockwise"))
    block = text[text.index("1. right rear") :]
    order = [block.index(f"{n}. {corner}") for n, corner in enumerate(("right rear", "right front", "left front"), 1)]
    assert order == sorted(order)


def test_the_questions_come_before_what_they_are_about() -> None:
    """The brake valve is asked before anything is read, fitting before the first trial, the road test after."""
    text = as_text(blank_worksheet(), 300)
    places = [
        text.index(words)
        for words in ("rear brake valve?", "unloaded\n─", "loaded, no air\n─", "Installation", "trial 1")
    ]
    assert places == sorted(places)
    assert text.index("trial 3") < text.index("After the road test")


def test_every_caution_of_the_lists_is_printed() -> None:
    """Paper warns as the screen does."""
    text = " ".join(as_text(blank_worksheet()).split())
    for list_id in ("found", "touches", "fitting", "road", "handover"):
        for item in load_checklists()[list_id].items:
            assert item.caution in text
            assert item.question.split()[0] in text


def test_a_load_check_asks_nothing_of_springs() -> None:
    """Nothing about kits, fitting or hold tests where no springs are fitted."""
    text = as_text(blank_worksheet("load check"))
    assert "helper-spring kit" not in text
    assert "Leak-down test" not in text
