"""What a stage means at a glance, while it is being read."""

from __future__ import annotations

import pytest

from cornerwalk.session.events import HeightRead, StageBegun
from cornerwalk.session.stages import Corner
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.glance import glance
from tests.support import jobs

TO_THE_TRIAL = """
unit = "inch"
[job]
title = "Invented"
date = 2026-05-04T08:12:00-06:00
[kit]
min = "8 psi"
max = "40 psi"
[[stage]]
name = "unloaded"
LF = "30"
RF = "30"
RR = "31"
LR = "31"
[[stage]]
name = "loaded"
LF = "30 1/4"
RF = "30 1/4"
RR = "29 1/2"
LR = "29 1/2"
"""


def air_told(*read: Corner) -> str:
    """The sentence on air in a first trial at 15 psi with these corners read."""
    begun = StageBegun(stage="fitted", pressure_kPa=103.4, pressure_entered="15 psi")
    heights = [HeightRead(stage="fitted", corner=c, entered="30", mm=762.0) for c in read]
    job = jobs.job_of(TO_THE_TRIAL, begun, *heights)
    told = glance(job.session, job.assessment, Wording("inch"), ("fitted", 1))
    return next(each.text for each in told if each.topic == "air")


@pytest.mark.parametrize("read", [(), ("LF", "RF"), ("LF", "RF", "RR")])
def test_no_other_pressure_is_named_before_this_one_is_read(read: tuple[Corner, ...]) -> None:
    """While the rear of a trial is unread nothing sends the technician to another pressure."""
    assert air_told(*read) == "read the rear heights to find the pressure"


def test_once_the_rear_is_read_the_next_pressure_is_named() -> None:
    """With one trial read the next pressure is told, inside the kit's limits."""
    assert air_told("LF", "RF", "RR", "LR").startswith("another trial is needed; try ")
