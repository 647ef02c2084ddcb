"""Leaving out what belongs to the customer, for a report that goes to anybody else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cornerwalk.session import Event
from cornerwalk.session.happenings import FactStated, HandedOver

CUSTOMERS_FACTS = frozenset(("job.customer", "job.site", "job.complaint", "vehicle.registration"))
"""What tells whose vehicle it is and where it stands. Titles and notes are the technician's words and stay."""


def without_customer(events: Sequence[Event]) -> tuple[Event, ...]:
    """The same events without the customer's; their numbers and chains stay, so they can be held against the file."""
    kept = (event for event in events if not _is_customers(event))
    return tuple(_unnamed(event) for event in kept)


def _is_customers(event: Event) -> bool:
    return isinstance(event.what, FactStated) and event.what.name in CUSTOMERS_FACTS


def _unnamed(event: Event) -> Event:
    if isinstance(event.what, HandedOver) and event.what.to:
        return replace(event, what=replace(event.what, to=""))
    return event
