"""The table for spreadsheets."""

from __future__ import annotations

import csv
import io
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.report.results_csv import no_formula, results_csv
from cornerwalk.session.events import FactStated
from cornerwalk.words import use_language
from tests.support.jobs import WORKED_CASE, half_done, job_of, nothing_yet, separate_lines, worked_case

STARTS = "=+-@＝＋－＠−\t\r"


def rows_of(text: str, separator: str = ",") -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), delimiter=separator))


def test_figures_stay_figures() -> None:
    """A negative change reads back to the very same number: nothing stands before its minus sign."""
    job = worked_case()
    row = rows_of(results_csv(job.session, job.assessment))[1]
    loaded = job.assessment.stages[1]
    assert float(row["stage.rear_mm"]) == loaded.rear_mm == pytest.approx(-38.89375)
    assert float(row["axles.front_gain_N"]) == job.assessment.axles.front_gain_N
    assert float(row["air.rear.recommended_kPa"]) == job.assessment.air[0].recommended_kPa


@pytest.mark.parametrize("language", ["de", "es"])
@pytest.mark.parametrize("make", [worked_case, separate_lines, half_done, nothing_yet])
def test_a_country_with_a_decimal_comma_gets_the_same_table(make: Any, language: str) -> None:
    """Semicolons between the cells, commas in the figures; nothing else differs, and no figure loses a digit."""
    job = make()
    plain = rows_of(results_csv(job.session, job.assessment))
    use_language(language)
    text = results_csv(job.session, job.assessment)
    assert text.count("\r\n") == len(plain) + 1
    told = rows_of(text, ";")
    assert [list(row) for row in told] == [list(row) for row in plain]
    figures = 0
    for row, other in zip(told, plain, strict=True):
        for name, cell in row.items():
            if re.fullmatch(r"-?\d+\.\d+(e-?\d+)?", other[name]):
                assert cell == other[name].replace(".", ",")
                figures += 1
            else:
                assert cell == other[name]
    assert figures > 10 or make is nothing_yet
    assert not re.search(r'(^|;)"?[=+@]', text, re.MULTILINE)


@pytest.mark.parametrize("make", [worked_case, separate_lines, half_done, nothing_yet])
def test_every_table_has_the_same_columns(make: Any) -> None:
    """One head for whatever session, so that tables can be put below each other; a row for each stage."""
    job, reference = make(), worked_case()
    text = results_csv(job.session, job.assessment)
    assert text.split("\r\n")[0] == results_csv(reference.session, reference.assessment).split("\r\n")[0]
    assert len(rows_of(text)) == max(1, len(job.assessment.stages))


@given(st.text(st.characters(exclude_categories=()), max_size=40))
def test_no_text_starts_a_formula(text: str) -> None:
    """Whatever a spreadsheet takes for the separator, no cell made from a text begins like a formula."""
    made = no_formula(text)
    for cell in re.split(r"[,;\t\"']", made):
        found = cell.strip()
        if found and found[0] in STARTS:
            # What precedes it is the apostrophe put there.
            assert made[made.index(cell) - 1] == "'"
    assert made[:1] not in set(STARTS)
    assert "\n" not in made
    assert "\r" not in made


@pytest.mark.parametrize("attack", ["=1+1", "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", " =1", "a;=1", 'a",=1', "＝1"])
def test_known_ways_in_are_shut(attack: str) -> None:
    """The usual openings of a formula, alone and after each separator, get the apostrophe; a tab is spelled out."""
    made = no_formula(attack)
    assert "'" in made or made.startswith("\\u00")
    assert not made.lstrip().startswith(tuple(STARTS))


def test_texts_are_quoted_and_figures_are_not() -> None:
    """A program's version that looks like a formula stays a text."""
    job = job_of(WORKED_CASE, FactStated(name="lamps.rule", entered="=HYPERLINK(1)", value="=HYPERLINK(1)"))
    line = results_csv(job.session, job.assessment).split("\r\n")[1]
    assert '"\'=HYPERLINK(1)"' in line
    assert ',"=' not in line
