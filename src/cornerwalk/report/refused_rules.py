"""The shop's rule files that were not used, said where a job is opened; the findings say it wherever results are."""

from __future__ import annotations

from cornerwalk.standards import Standards
from cornerwalk.words import tr


def refused_rules(standards: Standards) -> str:
    """What is wrong with the first of them, with its line; empty where all are used. `cornerwalk rules` tells all."""
    if not standards.refused:
        return ""
    problem = standards.refused[0].lines(tr)[0]
    return tr("The job goes by the program's own rules, not by all of the shop's: {problem}", problem=problem)
