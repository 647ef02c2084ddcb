"""The file report: everything of a session on paper, for whoever has to trust it later."""

from __future__ import annotations

from collections.abc import Sequence

from cornerwalk.assess.assessment import Assessment
from cornerwalk.report import file_record, file_results
from cornerwalk.report.document import Document
from cornerwalk.report.names import job_name
from cornerwalk.report.wording import Wording
from cornerwalk.session import Event
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.parts import Session
from cornerwalk.words import tr


def file_report(
    events: Sequence[Event],
    session: Session,
    assessment: Assessment,
    wording: Wording,
    checklists: Checklists | None = None,
) -> Document:
    """All readings as entered, results, checks with sources, budget, and the history with its corrections.

    `session` is the fold of `events` and `assessment` what it means: both are handed in so that they are made once.
    """
    return Document(
        title=session.job.title or tr("Session without a name"),
        subtitle=tr("{kind}, opened {date}", kind=job_name(session.job.kind), date=session.opened_at),
        blocks=(
            *file_results.overall(assessment),
            *file_results.findings(assessment, wording),
            *file_record.facts(session, wording),
            *file_record.heights(session, assessment, wording),
            *file_results.results(session, assessment, wording),
            *file_record.weighings(session, wording),
            *file_results.loads(assessment, wording),
            *file_results.air(assessment, wording),
            *file_results.checks(assessment, wording),
            *file_results.how_sure(assessment, wording),
            *file_record.work(session, checklists),
            *file_record.what_happened(events),
        ),
        footer=tr(
            "Session {session}, written with cornerwalk {program}.",
            session=session.id,
            program=session.program or tr("not known"),
        ),
        dated=session.last_at,
    )
