"""Job sheet: TOML to the events of a session, or every problem with its line."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any, cast

from cornerwalk import __version__
from cornerwalk.quantity import BareUnit
from cornerwalk.session.checklist import Checklists
from cornerwalk.session.events import Event, FactStated, JobOpened, NoteWritten
from cornerwalk.session.facts import FACTS
from cornerwalk.session.model import JobFacts
from cornerwalk.session.stages import JobKind
from cornerwalk.session.statements import state_fact
from cornerwalk.sheet.contents import (
    LOAD_KEYS,
    UNIT_FACT,
    DefaultUnit,
    SheetContents,
    SheetError,
    facts_of,
    read_facts,
    read_load,
)
from cornerwalk.sheet.measurements import (
    LEAK_KEYS,
    SOAP_KEYS,
    TORQUE_KEYS,
    WEIGHING_KEYS,
    CheckIds,
    read_checks,
    read_leak,
    read_soap,
    read_torque_record,
    read_weighing,
    with_offset,
)
from cornerwalk.sheet.stages import STAGE_KEYS, StageReader
from cornerwalk.textfiles import Problems, TomlError, TomlTable, parse_toml

FACT_TABLES: tuple[str, ...] = tuple(dict.fromkeys(fact.part for fact in FACTS.values()))
OTHER_TABLES = ("load", "stage", "checks", "weighing", "torque", "soap")
TOP_KEYS = ("unit", *FACT_TABLES, *OTHER_TABLES)

_EXTRA_KEYS: dict[str, tuple[str, ...]] = {"job": ("note",), "leak": LEAK_KEYS}
"""Keys of a fact table that are not facts."""


def read_job_sheet(
    text: str, *, name: str, session_id: str, now: datetime, checklists: Checklists | None = None
) -> SheetContents:
    """The events of a job sheet, in order.

    Args:
        text: the sheet.
        name: the file's name in messages.
        session_id: the id of the new session.
        now: the time, with its offset, for a sheet without a date.
        checklists: the questions that `[checks]` may answer; the packaged ones by default.

    Raises:
        SheetError: it is not TOML, or something in it is unknown, missing or unreadable; lists every problem.
    """
    try:
        toml = parse_toml(text)
    except TomlError as error:
        raise SheetError(name, [error.problem]) from error
    problems = Problems(toml)
    sheet = _Sheet(TomlTable(toml.values, (), problems, TOP_KEYS), now, CheckIds(checklists))
    contents = sheet.contents(session_id)
    if problems.found:
        raise SheetError(name, problems.found)
    return contents


def table_keys(part: str) -> tuple[str, ...]:
    """The keys that a table of facts may have, in order."""
    facts = tuple(fact.key for fact in facts_of(part) if fact.name != UNIT_FACT)
    return (*facts, *_EXTRA_KEYS.get(part, ()))


class _Sheet:
    """A sheet while it is read; its tables collect the problems."""

    def __init__(self, top: TomlTable, now: datetime, ids: CheckIds) -> None:
        self.top = top
        self.ids = ids
        self.unit = cast("BareUnit | None", top.choice("unit", FACTS["job.unit"].choices))
        # A wrong unit is one problem, and must not make every number another one.
        self.bare = DefaultUnit(self.unit or ("inch" if "unit" in top else None))
        found = {part: top.table(part, table_keys(part)) for part in FACT_TABLES}
        self.tables = {part: table for part, table in found.items() if table is not None}
        self.facts = list(self._facts())
        self.at = self._at(now)

    def contents(self, session_id: str) -> SheetContents:
        """All events, in the order of recording."""
        job_table = self.tables.get("job")
        kind = (job_table.choice("kind", FACTS["job.kind"].choices) if job_table else None) or "fit"
        title = (job_table.text("title") if job_table else None) or ""
        opened = JobOpened(session=session_id, job=cast("JobKind", kind), title=title, program=__version__)
        job = self._job()
        events = (opened, *self.facts, *self._loads(), *self._stages(job), *self._work())
        return SheetContents(events=events, at=self.at, job=job, unit=self.unit)

    def _facts(self) -> Iterator[FactStated]:
        if self.unit is not None:
            yield state_fact(UNIT_FACT, self.unit, self.unit)
        for part, table in self.tables.items():
            yield from read_facts(table, part, self.bare)

    def _at(self, now: datetime) -> datetime:
        stated = next((fact.value for fact in self.facts if fact.name == "job.date"), None)
        return with_offset(datetime.fromisoformat(stated), now) if isinstance(stated, str) else now

    def _job(self) -> JobFacts:
        """How the heights of this sheet were measured, which decides the order of the walk."""
        stated: dict[str, Any] = {
            FACTS[fact.name].attribute: fact.value for fact in self.facts if FACTS[fact.name].part == "job"
        }
        return JobFacts(**stated)

    def _loads(self) -> Iterator[Event]:
        names: set[str] = set()
        for table in self.top.tables("load", LOAD_KEYS):
            load = read_load(table, self.bare)
            if load is None:
                continue
            if load.name in names:
                table.wrong("name", 'there is a load called "{load}" already', load=load.name)
            names.add(load.name)
            yield load

    def _stages(self, job: JobFacts) -> Iterator[Event]:
        lines = next((str(fact.value) for fact in self.facts if fact.name == "kit.lines"), None)
        reader = StageReader(job, self.bare, lines, self.ids)
        for table in self.top.tables("stage", STAGE_KEYS):
            yield from reader.read(table)

    def _work(self) -> Iterator[Event]:
        """The events after the heights, whose order does not matter."""
        for table in self.top.tables("torque", TORQUE_KEYS):
            yield from _one(read_torque_record(table))
        for table in self.top.tables("weighing", WEIGHING_KEYS):
            yield from _one(read_weighing(table, self.bare))
        for table in self.top.tables("soap", SOAP_KEYS):
            yield from _one(read_soap(table))
        if "leak" in self.tables:
            yield from read_leak(self.tables["leak"], self.bare, self.at)
        yield from read_checks(self.top, self.ids)
        note = self.tables["job"].text("note") if "job" in self.tables else None
        if note is not None:
            yield NoteWritten(text=note)


def _one(event: Event | None) -> Iterator[Event]:
    if event is not None:
        yield event
