"""Reports as plain text."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.customer_gaps import gap_lines
from cornerwalk.report.document import Document, Table
from cornerwalk.report.file_report import file_report
from cornerwalk.report.text import as_text, columns
from cornerwalk.session.events import CheckAnswered, Event, JointSoaped, PressureStated
from cornerwalk.wording.checks import check_name
from cornerwalk.wording.figures import Wording
from cornerwalk.words.safe import harmless, plain_ascii
from tests.support.anything import jobs, texts
from tests.support.jobs import WORKED_CASE, InventedJob, half_done, job_of, nothing_yet, separate_lines, worked_case
from tests.support.snapshots import SnapshotText

MAKERS = {"worked": worked_case, "separate": separate_lines, "half": half_done, "nothing": nothing_yet}


def wording_of(job: InventedJob, units: Any = "inch") -> Wording:
    return Wording.for_tape(units, job.assessment.reading.graduation_mm)


@pytest.mark.parametrize("name", MAKERS)
def test_the_customers_sheet_is_as_agreed(name: str, snapshot_text: SnapshotText) -> None:
    """What the customer reads does not change unseen."""
    job = MAKERS[name]()
    units = "metric" if name == "separate" else "inch"
    snapshot_text(as_text(customer_sheet(job.session, job.assessment, wording_of(job, units))))


def test_the_file_report_is_as_agreed(snapshot_text: SnapshotText) -> None:
    """What the reviewer reads does not change unseen."""
    job = worked_case()
    snapshot_text(as_text(file_report(job.events, job.session, job.assessment, wording_of(job))))


def test_a_load_beyond_the_kit_is_told_its_maximum_and_that_it_does_not_reach() -> None:
    """On a kit of 34 psi the row of 500 lb, which would need 37.683 psi by the method, says so on the sheet."""
    job = job_of(WORKED_CASE.replace('max = "40 psi"', 'max = "34 psi"'))
    sheet = as_text(customer_sheet(job.session, job.assessment, wording_of(job)), 300)
    (row,) = (line for line in sheet.splitlines() if line.startswith("500 lb "))
    assert row.endswith(" more than the kit's maximum can hold up: carry less")
    assert "psi" not in row


def test_every_reading_stands_in_the_file_report_as_it_was_typed() -> None:
    """Each height that counts, each pressure and each fact, in the very characters of the technician."""
    job = worked_case()
    report = " ".join(as_text(file_report(job.events, job.session, job.assessment, wording_of(job)), 300).split())
    typed = [reading.entered for s in job.session.stages for c in s.corners.values() for reading in c.readings]
    typed += [stage.pressure_entered for stage in job.session.trials if stage.pressure_entered]
    typed += list(job.session.entered.values())
    assert [text for text in typed if text not in report] == []
    assert len(typed) > 45


def test_what_was_not_checked_is_told_on_both_sheets() -> None:
    """No check that could not be made is left out of either report."""
    job = worked_case()
    card = as_text(customer_sheet(job.session, job.assessment, wording_of(job)), 400)
    report = as_text(file_report(job.events, job.session, job.assessment, wording_of(job)), 400)
    assert job.assessment.not_checked
    for missing in job.assessment.not_checked:
        assert check_name(missing) in report
        alone = replace(job.assessment, not_checked=(missing,))
        (line,) = gap_lines(replace(job.session, stages=()), alone)
        assert line in card or line.split("(")[1].split(")")[0] in card


@pytest.mark.parametrize(
    "what",
    [
        CheckAnswered(check="brake-valve", answer="yes"),
        JointSoaped(joint="valve", bubbles=True),
        PressureStated(stage="fitted", number=2, pressure_entered="45 psi", pressure_kPa=310.3),
    ],
)
def test_no_customer_is_told_a_pressure_while_a_stop_stands(what: Event) -> None:
    """A stop comes first on the sheet, and neither the sheet nor the code says what to set."""
    job = job_of(WORKED_CASE, what)
    sheet = as_text(customer_sheet(job.session, job.assessment, wording_of(job)), 300)
    assert "today's load: 35.7 psi" not in sheet
    assert "35.7 psi" not in sheet
    assert "STOP" in sheet[: sheet.index("Before and now")]
    assert "No pressure is given" in sheet
    plain = worked_case()
    assert "today's load: 35.7 psi" in as_text(customer_sheet(plain.session, plain.assessment, wording_of(plain)), 300)


def test_the_first_rating_is_told_with_the_whole_tongue_load_it_is_reached_at() -> None:
    """Not with what is left beside the tongue that is on already: read so, it would overload an axle.

    By hand: 360 kg are left on the rear axle of the unhitched vehicle, 1.4 of a load 1120 mm behind it at 2800 mm
    between the axles: 257 kg of tongue; a scale of 10 kg steps is sure of its figure to 10/√12 kg, so ± 4 kg.
    """
    sheet = """
unit = "mm"
[job]
title = "Rated"
[vehicle]
wheelbase = "2800 mm"
gawr_rear = "1300 kg"
[scale]
step = "10 kg"
[[load]]
name = "trailer tongue"
weight = "95 kg"
behind_rear_axle = "1120 mm"
[[weighing]]
name = "unhitched"
front = "1090 kg"
rear = "{rear} kg"
"""
    job = job_of(sheet.replace("{rear}", "940"))
    told = " ".join(as_text(file_report(job.events, job.session, job.assessment, wording_of(job, "metric"))).split())
    assert "first rating reached rear axle, at a tongue load of 257 kg ± 4 " in told
    over = job_of(sheet.replace("{rear}", "1310"))
    told = " ".join(
        as_text(file_report(over.events, over.session, over.assessment, wording_of(over, "metric"))).split()
    )
    assert "first rating reached rear axle, over already without the trailer" in told


def test_every_figure_has_its_uncertainty_or_says_why_not() -> None:
    """The file report gives ± with every measured change; the owner's card has none and says by whose readings."""
    job = worked_case()
    report = as_text(file_report(job.events, job.session, job.assessment, wording_of(job)), 300)
    for row in ("front  ", "rear  ", "body  ", "lean  ", "beam against the lamp  ", "cut-off on the wall  ", "beam  "):
        assert any(line.startswith(row) and line.count("±") >= 2 for line in report.splitlines()), row
    card = as_text(customer_sheet(job.session, job.assessment, wording_of(job)), 300)
    assert "±" not in card
    assert "By this vehicle's own readings on the day." in card


@settings(max_examples=60)
@given(jobs(), st.sampled_from(["inch", "metric", "both"]), st.integers(40, 120))
def test_any_session_gives_lines_that_fit(job: InventedJob, units: Any, width: int) -> None:
    """Whatever is missing and whatever the texts hold: no crash, no line too long, nothing that acts on a terminal."""
    wording = wording_of(job, units)
    for document in (
        customer_sheet(job.session, job.assessment, wording),
        file_report(job.events, job.session, job.assessment, wording),
    ):
        text = as_text(document, width)
        for line in text.split("\n"):
            assert columns(line) <= width
            assert all(c.isprintable() or c in "\u200c\u200d" for c in line)
        assert plain_ascii(text).isascii()


@given(st.lists(texts, min_size=1, max_size=4), st.integers(30, 100))
def test_no_letter_is_lost_in_wrapping(cells: list[str], width: int) -> None:
    """A column cut into lines still holds every visible character of its cells, in order."""
    table = Table(("head",), tuple((cell,) for cell in cells))
    read = "".join(as_text(Document(title="t", subtitle="", blocks=(table,), footer=""), width).split())
    for cell in cells:
        assert "".join(harmless(cell).split()) in read


def test_a_figure_of_a_table_is_cut_only_where_nothing_else_can_give_way() -> None:
    """Columns of words narrow first: `0.0446 in/psi ± 0.0027` is broken before its unit, never within a number."""
    words = ("a vehicle with a long description", "a kit with a long name")
    table = Table(("vehicle", "kit", "rise", "spread"), ((*words, "0.0446 in/psi ± 0.0027", "0.0028 in/psi ± 0.0020"),))
    text = as_text(Document(title="Title", subtitle="", blocks=(table,), footer="foot"), 60)
    assert text.count("in/psi ± 0.0027") == 1
    assert text.count("in/psi ± 0.0020") == 1
    assert all(columns(line) <= 60 for line in text.splitlines())
