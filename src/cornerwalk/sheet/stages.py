"""Stages of a sheet: `[[stage]]` tables to events, in the order of the walk."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, LiteralString, NamedTuple, cast

from cornerwalk.quantity import read_height, read_pressure, read_signed_length
from cornerwalk.session.events import (
    CornerSkipped,
    Event,
    HeightRead,
    LevellerSet,
    MarkRead,
    NoteWritten,
    StageBegun,
)
from cornerwalk.session.model import JobFacts, StageKey
from cornerwalk.session.stages import CORNERS, STAGE_NAMES, Corner, StageName
from cornerwalk.session.statements import bare_units
from cornerwalk.sheet.contents import DefaultUnit
from cornerwalk.sheet.measurements import CheckIds, read_checks
from cornerwalk.textfiles import TomlTable

AIR_KEYS = ("pressure", "pressure_left", "pressure_right")
STAGE_KEYS = ("name", *AIR_KEYS, *CORNERS, "skip", "mark", "leveller", "checks", "note")

HALVES: tuple[Literal["lifted"], Literal["pressed"]] = ("lifted", "pressed")
_FIELD_OF_KEY = {"pressure": "pressure", "pressure_left": "left", "pressure_right": "right"}


@dataclass(slots=True)
class StageCounter:
    """Numbers the stages of each name."""

    counts: Counter[StageName] = field(default_factory=Counter)

    def next(self, name: StageName) -> StageKey:
        """The key of the next stage of this name."""
        self.counts[name] += 1
        return (name, self.counts[name])


@dataclass(frozen=True, slots=True)
class HeightEntry:
    """A height as written and in mm."""

    entered: str
    mm: float
    half: Literal["lifted", "pressed"] | None = None
    """Which half of a lift-and-press pair it is."""


@dataclass(frozen=True, slots=True)
class PressureEntry:
    """A pressure as written and in kPa (gauge)."""

    entered: str
    gauge_kPa: float


def read_height_entry(text: str, bare: DefaultUnit) -> HeightEntry:
    """A height in a sheet.

    Raises:
        QuantityError, EntryError: it is not a height, or its unit is missing.
    """
    return HeightEntry(text, bare.bind(read_height)(text).mm)


def read_pressure_entry(text: str, bare: DefaultUnit) -> PressureEntry:
    """A pressure in a sheet; one over the kit's maximum is allowed, since it has happened.

    Raises:
        QuantityError, EntryError: it is not a pressure, or its unit is missing.
    """
    return PressureEntry(text, bare.bind(lambda t, unit: read_pressure(t, bare=bare_units(unit)["pressure"]))(text).kPa)


def stage_begun(key: StageKey, air: Mapping[str, PressureEntry]) -> StageBegun:
    """The beginning of a stage, with its pressures by key of the sheet (`AIR_KEYS`)."""
    pressures: dict[str, str | float | None] = {}
    for name, pressure in air.items():
        pressures[f"{_FIELD_OF_KEY[name]}_entered"] = pressure.entered
        pressures[f"{_FIELD_OF_KEY[name]}_kPa"] = pressure.gauge_kPa
    return StageBegun(stage=key[0], number=key[1], **pressures)  # type: ignore[arg-type]  # names and kinds go together


def height_events(
    key: StageKey, readings: Mapping[Corner, Sequence[HeightEntry]], job: JobFacts
) -> Iterator[HeightRead]:
    """The heights of a stage in the order of the walk; further readings of a corner are repeats."""
    for corner in job.order:
        for index, height in enumerate(readings.get(corner, ())):
            yield HeightRead(
                stage=key[0],
                number=key[1],
                corner=corner,
                entered=height.entered,
                mm=height.mm,
                how=height.half or ("repeat" if index else "first"),
            )


class PressureProblem(NamedTuple):
    """The key that does not fit the kit's air lines, and why."""

    key: str
    template: LiteralString


def pressure_problem(keys: Sequence[str], lines: str | None) -> PressureProblem | None:
    """The key that does not fit the kit's air lines, and why; `lines` is None if the sheet does not state them."""
    sides = [key for key in keys if key != "pressure"]
    if sides and "pressure" in keys:
        return PressureProblem(sides[0], "either one pressure or left and right, not both")
    if sides and lines == "tee":
        return PressureProblem(sides[0], "the lines are joined by a tee: there is one pressure")
    if "pressure" in keys and lines == "separate":
        return PressureProblem("pressure", "the lines are separate: write pressure_left and pressure_right")
    return None


class StageReader:
    """Reads the `[[stage]]` tables of a sheet."""

    def __init__(self, job: JobFacts, bare: DefaultUnit, lines: str | None, ids: CheckIds) -> None:
        self.job = job
        self.bare = bare
        self.lines = lines
        self.ids = ids
        self.tally = StageCounter()

    def read(self, table: TomlTable) -> Iterator[Event]:
        """The events of one stage, its beginning first."""
        name = table.choice("name", STAGE_NAMES)
        if name is None:
            if "name" not in table:
                table.missing("a stage needs its name: {choices}", choices=", ".join(STAGE_NAMES))
            return
        key = self.tally.next(cast("StageName", name))
        yield stage_begun(key, self._air(table))
        yield from height_events(key, self._readings(table), self.job)
        yield from self._skips(table, key)
        yield from self._lamps(table, key)
        yield from read_checks(table, self.ids, stage=key)
        note = table.text("note")
        if note is not None:
            yield NoteWritten(text=note, stage=key[0], number=key[1])

    def _air(self, table: TomlTable) -> dict[str, PressureEntry]:
        keys = [key for key in AIR_KEYS if key in table]
        problem = pressure_problem(keys, self.lines)
        if problem is not None:
            table.wrong(*problem)
        typed = {key: table.read(key, lambda text: read_pressure_entry(text, self.bare)) for key in keys}
        return {key: air for key, air in typed.items() if air is not None}

    def _readings(self, table: TomlTable) -> dict[Corner, list[HeightEntry]]:
        found: dict[Corner, list[HeightEntry]] = {}
        for corner in CORNERS:
            if isinstance(table.values.get(corner), dict):
                found[corner] = list(self._pair(table, corner))
                continue
            typed = [
                table.parse(corner, text, lambda t: read_height_entry(t, self.bare)) for text in table.texts(corner)
            ]
            found[corner] = [height for height in typed if height is not None]
        return found

    def _pair(self, table: TomlTable, corner: Corner) -> Iterator[HeightEntry]:
        """A lift-and-press pair: `RR = { lifted = "27 11/16", pressed = "27 9/16" }`."""
        pair = table.table(corner, HALVES)
        if pair is None:
            return
        for half in HALVES:
            height = pair.read(half, lambda text: read_height_entry(text, self.bare))
            if height is not None:
                yield replace(height, half=half)
            elif half not in pair:
                pair.missing("a pair is read after lifting and after pressing: lifted and pressed")

    def _skips(self, table: TomlTable, key: StageKey) -> Iterator[CornerSkipped]:
        skips = table.table("skip", CORNERS)
        if skips is None:
            return
        for corner in self.job.order:
            reason = skips.text(corner)
            if corner in skips and corner in table:
                skips.wrong(corner, "this corner has a reading too; it is either read or skipped")
            elif reason is not None:
                yield CornerSkipped(stage=key[0], number=key[1], corner=corner, reason=reason)
            elif corner in skips:
                skips.wrong(corner, "a skipped corner needs a reason, for whoever reads this later")

    def _lamps(self, table: TomlTable, key: StageKey) -> Iterator[Event]:
        mark = table.read("mark", self.bare.bind(lambda t, unit: read_signed_length(t, bare=unit)))
        if mark is not None:
            entered = table.text("mark") or ""
            yield MarkRead(stage=key[0], number=key[1], entered=entered, above_mm=mark.mm)
        position = table.number_text("leveller")
        if position is not None:
            yield LevellerSet(stage=key[0], number=key[1], position=position)
