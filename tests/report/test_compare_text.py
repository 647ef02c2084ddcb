"""A comparison in words: what differs first, every difference with its uncertainty, on any width."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cornerwalk.assess.compare import AssessedJob, Caution, compare_stages
from cornerwalk.assess.compare_jobs import compare_jobs
from cornerwalk.report.comparison import caution_text, compare_text, figure_name
from cornerwalk.report.text import columns
from cornerwalk.wording.figures import Wording
from tests.support.jobs import WORKED_CASE, job_of, separate_lines, standards, worked_case

INCH = Wording.for_tape("inch", 25.4 / 16)


def stages_text(width: int = 78, wording: Wording = INCH) -> str:
    made = worked_case()
    comparison = compare_stages(AssessedJob(made.session, made.assessment), ("loaded", 1), ("fitted", 2))
    return compare_text(comparison, wording, ("Worked case", "Worked case"), width)


def jobs_text(width: int = 78) -> str:
    one, other = worked_case(), separate_lines()
    comparison = compare_jobs(
        AssessedJob(one.session, one.assessment),
        AssessedJob(replace(other.session, id="b"), other.assessment),
        standards(),
    )
    return compare_text(comparison, INCH, ("Worked case", "Horse box"), width)


def one_line(text: str) -> str:
    return " ".join(text.split())


def test_differences_stand_in_words_with_their_uncertainty() -> None:
    """By hand: up 1 1/16 in, ± 2·√2·0.036 in; pitch down by atan(1.0625/119) = 0.51°."""
    text = stages_text()
    assert "up 1.06 in ± 0.10" in text
    assert "0.51° ± 0.05" in text
    before, _, after = text.partition("say nothing either way")
    assert "right rear" in before
    assert "left front" in after
    assert "left front" not in before
    assert "unchanged ± 0.10 in" in after
    assert "8 of 12 differences lie beyond their uncertainty." in text


def test_no_angle_has_a_bare_sign() -> None:
    """A direction is a word: nose down, leans left, lower, less."""
    text = one_line(stages_text() + jobs_text())
    assert "−" not in text
    assert " -0" not in text
    assert "nose down" in text
    assert "less" in text


def test_units_are_those_asked_for() -> None:
    """27 mm up where inches said 1.06."""
    text = stages_text(wording=Wording.for_tape("metric", 1.0))
    assert "up 27.0 mm ± 2.6" in text
    assert " in " not in text.replace("in their", "")


@pytest.mark.parametrize("width", [20, 40, 78, 200])
def test_it_fits_its_width(width: int) -> None:
    """No line is longer than asked for, on a narrow screen as on a wide one."""
    assert all(columns(line) <= width for line in (stages_text(width) + jobs_text(width)).splitlines())


def test_what_to_know_is_said() -> None:
    """Every word of caution of a comparison is in its text, and so is what chance does."""
    text = one_line(jobs_text())
    cautions: tuple[Caution, ...] = (
        "other day",
        "other vehicle",
        "other loads",
        "other kit",
        "other wall",
        "other pressure",
    )
    for caution in cautions:
        assert one_line(caution_text(caution)) in text
    assert "By chance alone about 1.6 would" in text
    assert "These cannot be compared:" in text


def test_a_leak_rate_is_told_by_the_hour() -> None:
    """2 psi more in 14 hours: 0.143 an hour; U = 2·√2·(1 psi/√12)·√(1 + 0.94²)/14 h = 0.080."""
    sheet = WORKED_CASE.replace('gauge = "0 psi"\n', "")
    faster = job_of(sheet.replace('after = "27 psi"', 'after = "25 psi"'))
    one = job_of(sheet)
    comparison = compare_jobs(
        AssessedJob(one.session, one.assessment),
        AssessedJob(replace(faster.session, id="b"), faster.assessment),
        standards(),
    )
    assert figure_name("leak rate") == "leak rate"
    assert "0.14 psi ± 0.08 in an hour more" in one_line(compare_text(comparison, INCH, ("one", "other"), 200))


def test_names_from_a_file_do_nothing() -> None:
    """A title with terminal escapes and overrides is spelled out."""
    made = worked_case()
    comparison = compare_stages(AssessedJob(made.session, made.assessment), ("loaded", 1), ("fitted", 2))
    text = compare_text(comparison, INCH, ("a\x1b[31m\u202eb", "a\x1b[31m\u202eb"))
    assert "\x1b" not in text
    assert "\u202e" not in text
