"""Application interface: one job, a library and its tables from Python, read only.

    >>> import cornerwalk
    >>> job = cornerwalk.open("sample_sessions/camper.json")
    >>> job.session.vehicle.wheelbase_mm, len(job.events) > 50
    (2870.2, True)
    >>> job.results["overall"] == cornerwalk.open("sample_sessions/camper.json").at(job.last_seq).results["overall"]
    True

Nothing here writes a session or takes a lock. Figures are the results document's: mm, kPa (gauge), N, degrees, `u_` a
standard uncertainty; `cornerwalk schema results` prints what each field means.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from cornerwalk.assess import assess
from cornerwalk.session import RecordedEvent, Session, fold
from cornerwalk.standards import Standards, load_standards
from cornerwalk.store import Damage, Library, StoredSession, read_session

if TYPE_CHECKING:
    import pyarrow as pa

    from cornerwalk.assess.assessment import Assessment

FilePath = str | os.PathLike[str]
Reader = Literal["file", "customer"]
ReportForm = Literal["text", "html", "pdf", "csv"]


class DamagedSessionError(ValueError):
    """A file is not as it was written; `damage` holds what can still be read of it."""

    def __init__(self, damage: Damage) -> None:
        super().__init__(f"{damage.path.name}: {damage.template.format(**damage.fields)}")
        self.damage = damage


class Job:
    """A session as it stands in its file, or stood after one of its events.

    Attributes:
        path: the file.
        session: what was recorded.
        events: everything that happened, in order, corrections and undos included.
    """

    def __init__(self, stored: StoredSession, standards: Standards, last_seq: int | None = None) -> None:
        """Use `open`, `JobLibrary` or `Job.at`."""
        self._stored = stored
        self._standards = standards
        self._assessment: Assessment | None = None
        self.path: Path = stored.path
        self.events: tuple[RecordedEvent, ...] = stored.events if last_seq is None else stored.events[:last_seq]
        self.session: Session = stored.session if last_seq is None else fold(self.events)

    def __repr__(self) -> str:
        """The file's name and how far it is read."""
        return f"<Job {self.path.name!r}, {len(self.events)} events>"

    @property
    def last_seq(self) -> int:
        """The number of its last event."""
        return self.events[-1].seq

    @property
    def assessment(self) -> Assessment:
        """What the session means; worked out once."""
        if self._assessment is None:
            self._assessment = assess(self.session, self._standards)
        return self._assessment

    @property
    def results(self) -> dict[str, Any]:
        """The results document, the same that `cornerwalk results` prints."""
        from cornerwalk.report.results import results_document

        return results_document(self.session, self.assessment)

    def at(self, seq: int) -> Job:
        """The job as it stood after event `seq`, counted from 1.

        Raises:
            IndexError: there is no such event.
        """
        if not 1 <= seq <= len(self._stored.events):
            raise IndexError(f"event {seq}: this job has events 1 to {len(self._stored.events)}")
        return Job(self._stored, self._standards, seq)

    def report(
        self, to: ReportForm = "text", reader: Reader = "file", *, paper: Literal["letter", "A4"] = "letter"
    ) -> str | bytes:
        """The report as text or HTML (str), or as PDF or CSV (bytes), in the units the job is read in.

        Raises:
            cornerwalk.report.pdf.PagesMissingError: a PDF is asked for and the extra `pdf` is not installed.
        """
        from cornerwalk.report.customer import customer_sheet
        from cornerwalk.report.file_report import file_report
        from cornerwalk.report.html import as_html
        from cornerwalk.report.pdf import as_pdf
        from cornerwalk.report.results_csv import ENCODING, results_csv
        from cornerwalk.report.text import as_text
        from cornerwalk.session.checklist import load_checklists
        from cornerwalk.wording.figures import Wording

        if to == "csv":
            return results_csv(self.session, self.assessment).encode(ENCODING)
        units: Literal["inch", "metric"] = "inch" if self.session.job.unit == "inch" else "metric"
        wording = Wording.for_tape(units, self.assessment.reading.graduation_mm)
        checklists = load_checklists()
        if reader == "customer":
            document = customer_sheet(self.session, self.assessment, wording, checklists)
        else:
            document = file_report(self.events, self.session, self.assessment, wording, checklists)
        match to:
            case "pdf":
                return as_pdf(document, paper)
            case "html":
                return as_html(document)
            case _:
                return as_text(document)


class JobLibrary:
    """A folder of session files. Damaged ones are passed over by iteration and named by `damaged`."""

    def __init__(self, folder: FilePath, standards: Standards | None = None) -> None:
        """Read from this folder; `standards` are the packaged rules unless a shop's own are handed in."""
        self.folder = Path(folder)
        self._standards = standards if standards is not None else load_standards()

    def __iter__(self) -> Iterator[Job]:
        """Every job whose file is as it was written, by file name."""
        for stored in self._stored():
            if stored.damage is None:
                yield Job(stored, self._standards)

    def damaged(self) -> dict[str, str]:
        """Files that are not as they were written, each with what is wrong."""
        found = ((stored.path.name, stored.damage) for stored in self._stored())
        return {name: damage.template.format(**damage.fields) for name, damage in found if damage is not None}

    def find(self, words: str) -> list[Job]:
        """The jobs whose title, vehicle, plate, customer or kit holds all of these words, the latest first."""
        summaries = Library(self.folder, clock=lambda: datetime.now(UTC), by="").find(words=words)
        return [open(summary.path) for summary in summaries if not summary.damaged]

    def _stored(self) -> Iterator[StoredSession]:
        for path in sorted(self.folder.glob("*.json")):
            if not path.name.startswith("."):
                yield read_session(path)


def open(path: FilePath) -> Job:  # noqa: A001 - as `builtins.open`, of a session
    """The job of a session file.

    Raises:
        cornerwalk.store.StoreError: there is no such file, or it is no session.
        DamagedSessionError: it is not as it was written.
    """
    stored = read_session(Path(path))
    if stored.damage is not None:
        raise DamagedSessionError(stored.damage)
    return Job(stored, load_standards())


def library(folder: FilePath) -> JobLibrary:
    """The jobs of a folder."""
    return JobLibrary(folder)


def read_tables(folder: FilePath) -> dict[str, pa.Table]:
    """The tidy tables of a library, by name, as `cornerwalk export` writes them; for pandas, polars or DuckDB.

    Raises:
        cornerwalk.tables.engines.MissingEngineError: the extra `fleet` is not installed.
    """
    from cornerwalk.tables.catalog import PARTITION, TABLES, rows_of
    from cornerwalk.tables.engines import engine
    from cornerwalk.tables.formats import arrow_schema

    arrow = engine("pyarrow")
    jobs = [rows_of(job._stored, job.assessment) for job in JobLibrary(folder)]
    found = {}
    for table in TABLES:
        schema = arrow_schema(table)
        for name, _ in PARTITION:
            schema = schema.append(arrow.field(name, arrow.int32()))
        rows = [(*row, job.year, job.month) for job in jobs for row in job.rows[table.name]]
        columns = zip(*rows, strict=True) if rows else ([] for _ in schema)
        arrays = [arrow.array(list(values), field.type) for values, field in zip(columns, schema, strict=True)]
        found[table.name] = arrow.Table.from_arrays(arrays, schema=schema)
    return found


def judge(sheet: FilePath | Mapping[str, Any]) -> dict[str, Any]:
    """The results document of a job sheet: a file's path, or its tables as a mapping. Nothing is written.

    Raises:
        OSError: the file cannot be read.
        cornerwalk.textfiles.SheetError: the sheet says something that is unknown, missing or unreadable.

    >>> unloaded = {"name": "unloaded", "LF": "28 5/8", "RF": "28 11/16"}
    >>> judge({"unit": "inch", "stage": [unloaded]})["stages"][0]["height_mm"]["LF"]
    727.075
    """
    from cornerwalk.report.results import results_document
    from cornerwalk.session.log import record_event
    from cornerwalk.sheet import read_job_sheet

    if isinstance(sheet, Mapping):
        text, name = _toml(sheet), "sheet"
    else:
        text, name = Path(sheet).read_text(encoding="utf-8"), Path(sheet).name
    now = datetime.now(UTC)
    contents = read_job_sheet(text, name=name, session_id="judged", now=now)
    events: list[RecordedEvent] = []
    for event in contents.events:
        events.append(record_event(events, event, at=now.isoformat(), by=""))
    session = fold(events)
    return results_document(session, assess(session, load_standards()))


def _toml(tables: Mapping[str, Any]) -> str:
    """A mapping as the TOML of a job sheet: single values, tables, and lists of tables."""
    lines = [f"{key} = {_value(value)}" for key, value in tables.items() if not _is_table(value)]
    for key, value in tables.items():
        for table in value if isinstance(value, list) and _is_table(value) else [value] if _is_table(value) else []:
            lines.append(f"[[{key}]]" if isinstance(value, list) else f"[{key}]")
            lines += [f"{name} = {_value(entry)}" for name, entry in table.items()]
    return "\n".join(lines) + "\n"


def _is_table(value: object) -> bool:
    return isinstance(value, Mapping) or (isinstance(value, list) and bool(value) and isinstance(value[0], Mapping))


def _value(value: object) -> str:
    from json import dumps

    if isinstance(value, Mapping):
        return "{ " + ", ".join(f"{key} = {_value(entry)}" for key, entry in value.items()) + " }"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(_value(entry) for entry in value) + "]"
    if isinstance(value, bool | int | float):
        return str(value).lower() if isinstance(value, bool) else repr(value)
    return dumps(str(value), ensure_ascii=False)


__all__ = [
    "DamagedSessionError",
    "Job",
    "JobLibrary",
    "judge",
    "library",
    "open",
    "read_tables",
]
