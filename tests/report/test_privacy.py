"""Reports without what is the customer's own."""

from __future__ import annotations

from html import unescape

from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.file_report import file_report
from cornerwalk.report.html import as_html
from cornerwalk.report.privacy import events_without_customer, without_customer
from cornerwalk.report.text import as_text
from cornerwalk.session.events import CheckAnswered, HandedOver, JobReopened, JointSoaped, NoteWritten
from cornerwalk.wording.events import history
from cornerwalk.wording.figures import Wording
from tests.support.jobs import WORKED_CASE, job_of

SECRETS = ("Ångström", "INV 123", "flash their lamps", "Worked case", "Quine", "limps", "at his brother's", "gate 5")


def test_nothing_of_the_customers_is_left() -> None:
    """Name, registration, complaint, job label, notes, and to whom it went: in no report and not in the history."""
    job = job_of(
        WORKED_CASE,
        NoteWritten(text="dog limps"),
        CheckAnswered(check="rubbing", answer="no", note="at his brother's"),
        JointSoaped(joint="valve", bubbles=False, note="gate 5"),
        HandedOver(to="Ms Quine", figures={}, program="0"),
        JobReopened(reason="Quine called"),
    )
    wording = Wording("inch")
    whole = unescape(as_html(file_report(job.events, job.session, job.assessment, wording)))
    assert [secret for secret in SECRETS if secret not in whole] == []

    session, events = without_customer(job.session), events_without_customer(job.events)
    told = [
        as_text(customer_sheet(session, job.assessment, wording)),
        as_html(customer_sheet(session, job.assessment, wording)),
        as_text(file_report(events, session, job.assessment, wording)),
        "\n".join(step.text for step in history(events)),
    ]
    for text in told:
        assert [secret for secret in SECRETS if secret in unescape(text)] == []


def test_what_was_measured_stays() -> None:
    """Readings, their times and who took them are as before."""
    job = job_of(WORKED_CASE)
    assert without_customer(job.session).stages == job.session.stages
    before, after = history(job.events), history(events_without_customer(job.events))
    assert [(s.seq, s.at, s.by) for s in before] == [(s.seq, s.at, s.by) for s in after]
    assert [s.text for s in before][-20:] == [s.text for s in after][-20:]
