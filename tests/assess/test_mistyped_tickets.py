"""Scale tickets with a digit wrong: what cannot be is not reckoned on, and nothing breaks."""

from __future__ import annotations

from tests.support.jobs import WORKED_CASE, job_of

# The gross weight falls from 2030 kg to 203 kg when hitched: the tongue would pull up more than the trailer weighs.
MISTYPED = """
[[weighing]]
name = "unhitched"
front = "1090 kg"
rear = "940 kg"
[[weighing]]
name = "hitched"
front = "105 kg"
rear = "98 kg"
trailer = "1205 kg"
"""


def test_a_trailer_of_less_than_nothing_has_no_tongue_share() -> None:
    """A share of a negative weight would have a negative uncertainty; the check is named as not made instead."""
    found = job_of(WORKED_CASE + MISTYPED).assessment
    assert found.axles.trailer_N is not None
    assert found.axles.trailer_N < 0
    assert found.axles.tongue_share_percent is None
    assert found.axles.u_tongue_share_percent is None
    assert "tongue share of the trailer" in {missing.check for missing in found.not_checked}
    assert "tongue share of the trailer" not in {check.check for check in found.verdicts}
