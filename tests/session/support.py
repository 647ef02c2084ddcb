"""Any event at all, for tests that say what holds of every one of them; and short names for the usual ones."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from cornerwalk.session import RecordedEvent, Session, fold, record_event
from cornerwalk.session.bounds import bounds_of
from cornerwalk.session.events import EVENTS, Event, FactStated, HeightRead, JobOpened, ReadingMode
from cornerwalk.session.facts import FACTS, Fact
from cornerwalk.session.stages import Corner, JobKind, StageName

AT = "2026-05-04T08:12:31-06:00"
SESSION = "1a2b3c4d-0000-4000-8000-000000000000"


def opened(job: JobKind = "fit", title: str = "Box trailer (invented)") -> JobOpened:
    return JobOpened(session=SESSION, job=job, title=title, program="0.1.0")


def read(
    corner: Corner,
    mm: float = 700.0,
    *,
    stage: StageName = "unloaded",
    number: int = 1,
    how: ReadingMode = "first",
    entered: str | None = None,
) -> HeightRead:
    text = f"{mm} mm" if entered is None else entered
    return HeightRead(stage=stage, number=number, corner=corner, entered=text, mm=mm, how=how)


def events_of(*new_events: Event, at: Sequence[str] = ()) -> tuple[RecordedEvent, ...]:
    """The events of these events, one a second from AT unless their times are given."""
    events: list[RecordedEvent] = []
    for place, what in enumerate(new_events):
        when = at[place] if place < len(at) else AT
        events.append(record_event(events, what, at=when, by="MT"))
    return tuple(events)


def session_of(*new_events: Event, job: JobKind = "fit", at: Sequence[str] = ()) -> Session:
    """The session of a job opened, and of these events."""
    return fold(events_of(opened(job), *new_events, at=at))


_FLOATS = st.floats(allow_nan=False, allow_infinity=False)
_COUNTS = st.integers(1, 3) | st.integers(1, 9) | st.integers(1, 1_000_000)
"""Small ones mostly, so that undos hit and stages meet."""


def _within(bounds: tuple[float, float] | None) -> st.SearchStrategy[float]:
    return _FLOATS if bounds is None else st.floats(*bounds)


def _of(hint: Any, floats: st.SearchStrategy[float] = _FLOATS) -> st.SearchStrategy[Any]:
    simple = {float: floats, int: _COUNTS, str: st.text(), bool: st.booleans(), NoneType: st.none()}
    if hint in simple:
        return simple[hint]
    match get_origin(hint):
        case origin if origin is Literal:
            return st.sampled_from(get_args(hint))
        case origin if origin in (Union, UnionType):
            return st.one_of([_of(each, floats) for each in get_args(hint)])
        case origin if origin is list:
            return st.lists(_of(get_args(hint)[0], floats), max_size=4)
        case origin if origin is dict:
            return st.dictionaries(*map(_of, get_args(hint)), max_size=4)
    raise NotImplementedError(hint)


def _value_of(fact: Fact) -> st.SearchStrategy[Any]:
    if fact.choices:
        return st.sampled_from(fact.choices)
    if fact.kind in ("text", "moment"):
        return st.text()
    floats = _within(fact.bounds)
    return st.lists(floats, max_size=4) if fact.kind == "forces" else floats


def _facts() -> st.SearchStrategy[FactStated]:
    return st.sampled_from(list(FACTS.values())).flatmap(
        lambda fact: st.builds(
            FactStated, name=st.just(fact.name), entered=st.text(), value=st.none() | _value_of(fact)
        )
    )


def _any_of(cls: type[Event]) -> st.SearchStrategy[Event]:
    hints = get_type_hints(cls)
    return st.builds(
        cls, **{field.name: _of(hints[field.name], _within(bounds_of(field.name))) for field in fields(cls)}
    )


any_event: st.SearchStrategy[Event] = st.one_of(
    _facts(), *(_any_of(cls) for cls in EVENTS if cls not in (JobOpened, FactStated))
)
"""Every kind but the opening, with every field at any value of its type, numbers within what can be recorded."""

any_opening = _any_of(JobOpened)
any_job: st.SearchStrategy[tuple[Event, ...]] = st.tuples(any_opening, st.lists(any_event, max_size=12)).map(
    lambda job: (job[0], *job[1])
)
"""A job: it is opened, and then anything happens."""
