"""Next act in words: each situation says what to do, in every language, and no stop is told in other words."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from cornerwalk.wording.acts import act_text
from cornerwalk.wording.figures import Wording
from tests.assess.job_so_far import DRIVEN, TRIED, gauge
from tests.assess.situations import SITUATIONS, Situation
from tests.assess.test_next_act import act_after
from tests.support.jobs import NOW

INCHES = Wording.for_tape("inch", 25.4 / 16)
BEGUN = datetime.fromisoformat("2026-05-04T16:00:00-06:00")


@pytest.mark.parametrize("situation", SITUATIONS, ids=lambda situation: situation.name)
def test_every_act_says_what_to_do(situation: Situation) -> None:
    """One or more whole sentences, none with a hole in it."""
    said = act_text(act_after(*situation.events), INCHES, NOW)
    assert said.text.endswith((".", "?"))
    assert "None" not in said.text
    assert "{" not in said.text


def test_a_stop_is_told_as_everywhere() -> None:
    """The heading of a brake valve stands in the table of findings."""
    situation = next(each for each in SITUATIONS if each.name == "brake valve: yes")
    assert act_text(act_after(*situation.events), INCHES, NOW).text.startswith("Height-sensing brake valve. ")


def test_a_hold_test_says_how_long() -> None:
    """17 h after its start it is left alone, 7 h to go; after a day the gauge is read. Arithmetic."""
    act = act_after(*DRIVEN, gauge("start"))
    morning = act_text(act, INCHES, BEGUN + timedelta(hours=17)).text
    assert morning == "Leave it parked and untouched: holding for 17 h, 7 h to go."
    assert "read the gauge" in act_text(act, INCHES, BEGUN + timedelta(hours=25)).text


def test_air_never_goes_in_without_its_caution() -> None:
    """The kit's maximum stands beside the pressure to set."""
    said = act_text(act_after(*TRIED), INCHES, NOW, kit_maximum="40 psi")
    assert "40 psi" in said.safety
