"""Rule files of the shop's that were not used: what is said of them, and when a job may be judged by the wrong rule."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cornerwalk.assess.assessment import Finding
from cornerwalk.assess.findings import rank_findings
from cornerwalk.session.model import Hitch, Lamps, Session
from cornerwalk.standards import Standards
from cornerwalk.standards.loader import NO_RULE, RefusedFile
from cornerwalk.textfiles.problems import Problem
from tests.assess.given_findings import meaning
from tests.support.jobs import standards

WRONG, OTHER, WHOLE = (
    RefusedFile("shop.toml", (Problem(line=7, template="no unit"), Problem(line=9, template="no source"))),
    RefusedFile("older.toml", (Problem(line=2, template="no unit"),)),
    RefusedFile("empty.toml", (Problem(line=None, template="it is empty"),)),
)


def refusing(*files: RefusedFile) -> Standards:
    """The project's own rules, beside which these files were refused."""
    return replace(standards(), refused=files)


def told(session: Session, rules: Standards) -> list[Finding]:
    """What is said of rule files."""
    return [each for each in rank_findings(session, meaning(), rules) if each.code == "rules-not-used"]


@pytest.mark.parametrize(
    ("files", "name", "line", "more"),
    [
        ((WRONG,), "shop.toml", 7.0, None),
        ((WHOLE,), "empty.toml", None, None),
        ((WRONG, OTHER), "shop.toml", 7.0, 1.0),
        ((OTHER, WRONG, WHOLE), "older.toml", 2.0, 2.0),
    ],
)
def test_the_first_file_is_named_with_its_line_and_the_others_counted(
    files: tuple[RefusedFile, ...], name: str, line: float | None, more: float | None
) -> None:
    """The first problem's line, none where it is the whole file; one finding, however many files."""
    fields: dict[str, float | str | None] = {"rule_file": name, "line_number": line, "more_files": more}
    assert told(Session(), refusing(*files)) == [Finding(code="rules-not-used", level="note", fields=fields)]


def test_where_no_file_was_refused_nothing_is_said() -> None:
    """Also of a job that names a rule nobody knows: that is told elsewhere."""
    job = Session(lamps=Lamps(rule="of the shop"), hitch=Hitch(restoration_rule="of the shop"))
    assert told(Session(), standards()) == told(job, standards()) == []


AIM, RESTORED = "us-vol", "half"


@pytest.mark.parametrize(
    ("aim", "restored", "level"),
    [
        (None, None, "note"),
        (AIM, RESTORED, "note"),
        (NO_RULE, None, "note"),
        ("of the shop", None, "caution"),
        (None, "of the shop", "caution"),
        ("of the shop", RESTORED, "caution"),
        (AIM, "of the shop", "caution"),
        (RESTORED, None, "caution"),
        (None, AIM, "caution"),
    ],
)
def test_a_job_by_a_rule_that_may_stand_in_the_file_is_cautioned(
    aim: str | None, restored: str | None, level: str
) -> None:
    """Its aim rule is none of the aim rules, or its hitch's none of the hitch's; a rule of the other kind is none."""
    job = Session(lamps=Lamps(rule=aim), hitch=Hitch(restoration_rule=restored))
    (one,) = told(job, refusing(WRONG))
    assert one.level == level
