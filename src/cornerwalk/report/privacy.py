"""Privacy: a session without the customer's own data, for reports that leave the shop and for tables of many jobs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cornerwalk.session import RecordedEvent
from cornerwalk.session import events as ev
from cornerwalk.session.model import Session

CUSTOMER_FACTS = frozenset(("job.title", "job.customer", "job.complaint", "job.site", "vehicle.registration"))
"""Facts that name or could name the customer. A job's title often does."""

LEFT_OUT = "–"


def without_customer(session: Session) -> Session:
    """The session without names, place, registration, complaint and free notes; readings are as they were."""
    job = replace(session.job, title="", customer="", complaint="", site="")
    return replace(
        session,
        job=job,
        vehicle=replace(session.vehicle, registration=""),
        entered={name: text for name, text in session.entered.items() if name not in CUSTOMER_FACTS},
        notes=(),
        answers=tuple(replace(answer, note="") for answer in session.answers),
        joints=tuple(replace(joint, note="") for joint in session.joints),
        handovers=tuple(replace(handover, to="") for handover in session.handovers),
    )


def events_without_customer(events: Sequence[RecordedEvent]) -> tuple[RecordedEvent, ...]:
    """The same of the events, for the history of a file report. Their chain is the original's and no longer fits."""
    return tuple(replace(event, payload=_without(event.payload)) for event in events)


def _without(what: ev.Event) -> ev.Event:
    match what:
        case ev.JobOpened():
            return replace(what, title="")
        case ev.FactStated() if what.name in CUSTOMER_FACTS and what.value is not None:
            return replace(what, entered=LEFT_OUT, value=LEFT_OUT)
        case ev.NoteWritten():
            return replace(what, text=LEFT_OUT)
        case ev.CheckAnswered() | ev.JointSoaped():
            return replace(what, note="")
        case ev.HandedOver():
            return replace(what, to="")
        case ev.JobReopened():
            return replace(what, reason=LEFT_OUT)
        case _:
            return what
