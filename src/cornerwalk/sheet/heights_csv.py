"""Heights CSV: a spreadsheet of heights to the events of a session, or every problem with its line and column.

Two layouts: one height a row (`stage, number, pressure, corner, height`) or one stage a row (`stage, pressure, LF, RF,
RR, LR`). Rows with the same stage, number and pressure belong together; another height of a corner is a repeat.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import LiteralString, TypeVar, cast

from cornerwalk import __version__
from cornerwalk.quantity import BareUnit, QuantityError
from cornerwalk.session.events import Event, JobOpened, NoteWritten, StageBegun
from cornerwalk.session.model import JobFacts
from cornerwalk.session.stages import CORNERS, STAGE_NAMES, Corner, StageName
from cornerwalk.session.statements import state_fact
from cornerwalk.session.walk import EntryError
from cornerwalk.sheet.contents import UNIT_FACT, DefaultUnit, SheetContents, SheetError
from cornerwalk.sheet.stages import (
    AIR_KEYS,
    HeightEntry,
    PressureEntry,
    StageCounter,
    height_events,
    pressure_problem,
    read_height_entry,
    read_pressure_entry,
    stage_begun,
)
from cornerwalk.textfiles import Problem

DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab"}
COLUMNS = ("stage", "number", *AIR_KEYS, "corner", "height", *CORNERS, "note")

_BY_SPELLING = {column.casefold(): column for column in COLUMNS}
_UNIT_OF_SPELLING: dict[str, BareUnit] = {"in": "inch", "inch": "inch", "inches": "inch", "mm": "mm", "cm": "cm"}
_HEADING = re.compile(
    r"^(?P<column>.*?)\s*(?:\((?P<round>\w+)\)|\[(?P<square>\w+)\]|_(?P<tail>in|inch|mm|cm))?$", re.DOTALL
)

T = TypeVar("T")


def read_heights_csv(
    text: str,
    *,
    name: str,
    session_id: str,
    now: datetime,
    unit: BareUnit | None = None,
    onto: SheetContents | None = None,
) -> SheetContents:
    """The heights of a spreadsheet, as a session of their own or added to the job sheet `onto`.

    Args:
        text: the file; its delimiter is the one that gives the first line the most known columns.
        name: the file's name in messages.
        session_id: the id of the new session; not used with `onto`.
        now: the time, with its offset.
        unit: of a height without one, if neither the column nor the sheet says it.
        onto: a job sheet with the vehicle and the kit.

    Raises:
        SheetError: an unknown column, an unreadable value, or a line of another length; lists every problem.
    """
    list_ = _HeightList(text, (onto.unit if onto is not None else None) or unit)
    stages = list_.stages()
    job = onto.job if onto is not None else JobFacts()
    tally = StageCounter()
    for event in onto.events if onto is not None else ():
        if isinstance(event, StageBegun):
            tally.next(event.stage)
    read = tuple(event for stage in stages for event in stage.events(tally, job))
    if not list_.problems and not read:
        list_.problems.append(Problem(None, "there is no height in it"))
    if list_.problems:
        raise SheetError(name, list_.problems)
    if onto is not None:
        return SheetContents(events=(*onto.events, *read), at=onto.at, job=job, unit=onto.unit)
    opened = JobOpened(session=session_id, job="fit", title="", program=__version__)
    stated = () if list_.unit is None else (state_fact(UNIT_FACT, list_.unit, list_.unit),)
    return SheetContents(events=(opened, *stated, *read), at=now, job=job, unit=list_.unit)


@dataclass(slots=True)
class _StageRows:
    """The rows of one stage, combined."""

    name: StageName
    air_texts: dict[str, str]
    air: dict[str, PressureEntry] = field(default_factory=dict)
    readings: dict[Corner, list[HeightEntry]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def events(self, tally: StageCounter, job: JobFacts) -> Iterator[Event]:
        key = tally.next(self.name)
        yield stage_begun(key, self.air)
        yield from height_events(key, self.readings, job)
        for note in self.notes:
            yield NoteWritten(text=note, stage=key[0], number=key[1])


@dataclass(frozen=True, slots=True)
class _CsvRow:
    """A line: its number, and its cells that are not blank, by column."""

    line: int
    cells: dict[str, str]


class _HeightList:
    """A list of heights while it is read."""

    def __init__(self, text: str, unit: BareUnit | None) -> None:
        self.problems: list[Problem] = []
        self.unit = unit
        self.columns: list[str] = []
        self.rows = list(self._rows(text))
        self.bare = DefaultUnit(self.unit)

    def stages(self) -> list[_StageRows]:
        """The rows by stage, in the order of first appearance."""
        found: dict[tuple[str, ...], _StageRows] = {}
        for row in self.rows:
            name = self._name(row)
            if name is None:
                continue
            air = {key: row.cells[key] for key in AIR_KEYS if key in row.cells}
            number = row.cells.get("number", "")
            if number and not (number.isascii() and number.isdigit()):
                self._wrong(row, "number", '"{text}" is no whole number', text=number)
            key = _key(name, number, air)
            stage = found.get(key)
            if stage is None:
                stage = found[key] = _StageRows(name, air, self._air(row, air))
            elif air != stage.air_texts:
                self._wrong(row, next(iter(air), "pressure"), "this stage has another pressure in an earlier line")
            self._take(row, stage)
        return list(found.values())

    def _take(self, row: _CsvRow, stage: _StageRows) -> None:
        for column, corner in self._corners(row):
            height = self._understood(row, column, lambda text: read_height_entry(text, self.bare))
            if height is not None:
                stage.readings.setdefault(corner, []).append(height)
        if "note" in row.cells:
            stage.notes.append(row.cells["note"])

    def _name(self, row: _CsvRow) -> StageName | None:
        typed = row.cells.get("stage", "")
        for name in STAGE_NAMES:
            if name == typed.casefold():
                return name
        choices = ", ".join(STAGE_NAMES)
        self._wrong(row, "stage", '"{text}" is not one of: {choices}', text=typed, choices=choices)
        return None

    def _air(self, row: _CsvRow, texts: dict[str, str]) -> dict[str, PressureEntry]:
        problem = pressure_problem(list(texts), None)
        if problem is not None:
            self._wrong(row, *problem)
        typed = {key: self._understood(row, key, lambda text: read_pressure_entry(text, self.bare)) for key in texts}
        return {key: air for key, air in typed.items() if air is not None}

    def _corners(self, row: _CsvRow) -> list[tuple[str, Corner]]:
        """The columns of this row with a height, and the corner of each."""
        if "corner" not in self.columns:
            return [(corner, corner) for corner in CORNERS if corner in row.cells]
        typed = row.cells.get("corner", "")
        if typed.upper() not in CORNERS:
            self._wrong(row, "corner", '"{text}" is not one of: {choices}', text=typed, choices=", ".join(CORNERS))
            return []
        return [("height", cast("Corner", typed.upper()))] if "height" in row.cells else []

    def _understood(self, row: _CsvRow, column: str, reader: Callable[[str], T]) -> T | None:
        try:
            return reader(row.cells[column])
        except (QuantityError, EntryError) as error:
            self._wrong(row, column, error.template, **error.fields)
            return None

    def _wrong(self, row: _CsvRow, column: str, template: LiteralString, /, **fields: object) -> None:
        self.problems.append(Problem(row.line, template, fields, key=column))

    def _rows(self, text: str) -> Iterator[_CsvRow]:
        delimiter = self._delimiter(text)
        if delimiter is None:
            return
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
        before = 0
        try:
            for cells in reader:
                line, before = before + 1, reader.line_num
                if line > 1 and any(cell.strip() for cell in cells):
                    yield from self._row(line, cells, delimiter)
        except csv.Error as error:
            self.problems.append(Problem(before + 1, "this is not CSV: {reason}", {"reason": str(error)}))

    def _row(self, line: int, cells: list[str], delimiter: str) -> Iterator[_CsvRow]:
        if len(cells) == len(self.columns):
            found = {column: cell.strip() for column, cell in zip(self.columns, cells, strict=True) if cell.strip()}
            yield _CsvRow(line, found)
            return
        counts = {"values": len(cells), "columns": len(self.columns)}
        template: LiteralString = (
            "{values} values for {columns} columns; a decimal comma splits a value: save with semicolons, or write "
            "a point"
            if delimiter == "," and len(cells) > len(self.columns)
            else "{values} values for {columns} columns"
        )
        self.problems.append(Problem(line, template, counts))

    def _delimiter(self, text: str) -> str | None:
        """The delimiter that gives the first line the most known columns; sets the columns and their unit."""
        first = next(io.StringIO(text, newline=""), "")
        headings = {delimiter: _headings(first, delimiter) for delimiter in DELIMITERS}
        delimiter = max(headings, key=lambda d: sum(column in COLUMNS for column, _ in headings[d]))
        columns = [column for column, _ in headings[delimiter]]
        problem = _columns_problem(columns)
        if problem is not None:
            self.problems.append(problem)
            return None
        self.columns = columns
        units = {unit for _, unit in headings[delimiter] if unit is not None}
        if len(units) > 1 or (self.unit is not None and units - {self.unit}):
            self.problems.append(Problem(1, "the columns and the sheet name different units"))
        self.unit = self.unit or next(iter(units), None)
        return delimiter


def _key(name: StageName, number: str, air: dict[str, str]) -> tuple[str, ...]:
    return (name, number) if number else (name, number, *(f"{key} {text}" for key, text in air.items()))


def _headings(line: str, delimiter: str) -> list[tuple[str, BareUnit | None]]:
    """The columns of the first line, by our name if they are known, each with its unit."""
    try:
        cells = next(csv.reader([line], delimiter=delimiter), [])
    except csv.Error:
        return []
    return [_heading(cell) for cell in cells]


def _heading(cell: str) -> tuple[str, BareUnit | None]:
    found = _HEADING.match(cell.strip())
    if found is None:
        return cell.strip(), None
    spelled = re.sub(r"[\s_-]+", "_", found["column"].casefold())
    unit = found["round"] or found["square"] or found["tail"]
    column = _BY_SPELLING.get(spelled)
    if column is None or (unit is not None and unit.casefold() not in _UNIT_OF_SPELLING):
        return cell.strip(), None
    return column, None if unit is None else _UNIT_OF_SPELLING[unit.casefold()]


def _columns_problem(columns: list[str]) -> Problem | None:
    known = [column for column in columns if column in COLUMNS]
    if not known:
        example = "stage,pressure,LF,RF,RR,LR"
        return Problem(1, "the first line must name the columns, for example {example}", {"example": example})
    unknown = next((column for column in columns if column not in COLUMNS), None)
    if unknown is not None:
        choices = ", ".join(COLUMNS)
        return Problem(1, '"{column}" is no column; there are {choices}', {"column": unknown, "choices": choices})
    twice = next((column for column in columns if columns.count(column) > 1), None)
    if twice is not None:
        return Problem(1, "the column {column} appears twice", {"column": twice})
    one_a_row = "corner" in columns and "height" in columns
    one_stage_a_row = any(corner in columns for corner in CORNERS)
    if "stage" not in columns or one_a_row == one_stage_a_row:
        return Problem(1, "the columns must be stage with corner and height, or stage with LF, RF, RR and LR")
    return None
