"""The order in which findings are told."""

from __future__ import annotations

from cornerwalk.assess.findings import LEVEL_RANK
from tests.support.jobs import WORKED_CASE, job_of


def test_a_misread_stands_before_what_rests_on_it() -> None:
    """Findings go by level; in its level a misread comes first, as every figure hangs on the readings."""
    slipped = WORKED_CASE.replace('RR = "27 5/8"', 'RR = "26 5/8"')
    assert slipped != WORKED_CASE
    findings = job_of(slipped).assessment.findings
    ranks = [LEVEL_RANK[finding.level] for finding in findings]
    assert ranks == sorted(ranks)
    level = next(finding.level for finding in findings if finding.code == "misread")
    first, *others = [finding.code for finding in findings if finding.level == level]
    assert first == "misread"
    assert others
