"""Conditions asked at every stage: given again as before, and flagged where they changed."""

from __future__ import annotations

from typing import Any

import pytest

from cornerwalk.session import Session
from cornerwalk.session.checklist import load_checklists
from cornerwalk.session.conditions import answer_check, changed_conditions, find_answer, previous_stage, repeat_answers
from cornerwalk.session.events import Event, StageBegun
from cornerwalk.session.model import StageKey
from tests.session.support import session_of
from tests.support.known import known

UNLOADED: StageKey = ("unloaded", 1)
LOADED: StageKey = ("loaded", 1)
FITTED: StageKey = ("fitted", 1)
CONDITIONS = load_checklists()["conditions"]


def three_stages(*answers: Event) -> Session:
    return session_of(StageBegun(stage="unloaded"), StageBegun(stage="loaded"), StageBegun(stage="fitted"), *answers)


def test_a_condition_that_changed_is_told_with_what_it_was() -> None:
    """The heights of two stages compare only under the same conditions."""
    session = three_stages(
        answer_check("driver", "no", stage=UNLOADED),
        answer_check("driver", "yes", stage=LOADED),
        answer_check("fuel", "yes", stage=UNLOADED),
        answer_check("fuel", "yes", stage=LOADED),
    )
    (changed,) = changed_conditions(session, LOADED)
    assert (changed.check, changed.was, changed.was_at, changed.now) == ("driver", "no", UNLOADED, "yes")


def test_the_last_stage_that_was_asked_is_compared_with() -> None:
    """A stage left out in between does not hide a change, and one put right is no change any more."""
    session = three_stages(answer_check("driver", "no", stage=UNLOADED), answer_check("driver", "yes", stage=FITTED))
    assert [change.was_at for change in changed_conditions(session, FITTED)] == [UNLOADED]
    put_right = three_stages(
        answer_check("driver", "no", stage=UNLOADED),
        answer_check("driver", "yes", stage=LOADED),
        answer_check("driver", "no", stage=FITTED),
    )
    assert [change.was_at for change in changed_conditions(put_right, FITTED)] == [LOADED]


@pytest.mark.parametrize(
    ("answers", "stage"),
    [
        pytest.param((("no", UNLOADED), ("not checked", LOADED)), LOADED, id="not knowing is not the opposite"),
        pytest.param((("yes", UNLOADED), ("no", FITTED)), UNLOADED, id="a later stage is no earlier one"),
    ],
)
def test_what_is_no_change(answers: tuple[tuple[Any, StageKey], ...], stage: StageKey) -> None:
    """What was not checked, or asked nowhere before, has nothing it could differ from."""
    session = three_stages(*(answer_check("driver", answer, stage=of) for answer, of in answers))
    assert changed_conditions(session, stage) == ()


def test_the_first_stage_has_none_to_be_as_before() -> None:
    """Its conditions are each asked: no key answers what nobody has looked at."""
    session = three_stages(answer_check("driver", "no", stage=LOADED))
    assert repeat_answers(session, CONDITIONS, UNLOADED) == ()


def test_as_before_answers_what_is_open_and_leaves_what_is_answered() -> None:
    """One key answers nine questions; an answer given already stands."""
    session = three_stages(
        answer_check("driver", "no", stage=UNLOADED),
        answer_check("fuel", "yes", "half", stage=UNLOADED),
        answer_check("settled", "not checked", stage=UNLOADED),
        answer_check("driver", "yes", stage=LOADED),
    )
    given = repeat_answers(session, CONDITIONS, LOADED)
    assert [(each.check, each.answer, each.note, each.stage) for each in given] == [("fuel", "yes", "half", "loaded")]


def test_the_stage_before_one_that_is_not_begun_is_the_last_one() -> None:
    """Conditions may be answered before the first height of a stage is read."""
    session = session_of(StageBegun(stage="unloaded"), StageBegun(stage="loaded"))
    assert previous_stage(session, FITTED) == LOADED
    assert previous_stage(session, LOADED) == UNLOADED
    assert previous_stage(session, UNLOADED) is None
    assert previous_stage(session_of(), UNLOADED) is None


def test_an_answer_belongs_to_its_stage() -> None:
    """The same question at two stages has two answers."""
    session = three_stages(answer_check("driver", "no", stage=UNLOADED))
    assert known(find_answer(session, "driver", UNLOADED)).answer == "no"
    assert find_answer(session, "driver", LOADED) is None
