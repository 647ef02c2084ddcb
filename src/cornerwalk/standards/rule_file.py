"""Rule file parser: TOML to rules and limits; anything unknown is a problem with its line."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Any, Literal, LiteralString, TypeVar, cast, get_args

from cornerwalk.quantity import (
    read_angle,
    read_force,
    read_hours,
    read_length,
    read_percent,
    read_pressure,
    read_rate,
    read_signed_length,
    read_temperature_step,
)
from cornerwalk.standards.aim import SCREEN_MM, AimRule, BandPiece, Datum, LinearLimit
from cornerwalk.standards.limits import Limit, RestorationRule, Side, Standing, TapeRule, TapeStep
from cornerwalk.textfiles import Problems, TextFileError, TomlTable, parse_toml

T = TypeVar("T")

STANDINGS: tuple[str, ...] = get_args(Standing)
DATUMS: tuple[str, ...] = get_args(Datum)
SIDES: tuple[str, ...] = get_args(Side)

STEEPEST_DEG = 10.0
"""No low beam is aimed further from level than this; a plausibility limit, assumed."""
KM_PER_MILE = 1.609344
"""Exact: 5280 ft of 0.3048 m."""

_TABLES = ("aim_rule", "limit", "restoration_rule", "tape")
_ANY_KEYS = ("id", "title", "source", "standing", "clause", "note")
_AIM_KEYS = (
    *_ANY_KEYS,
    "datum",
    "nominal",
    "load_state",
    "distance",
    "deviation",
    "band",
    "lowest_lamp",
    "highest_lamp",
)
_BAND_KEYS = (
    "at_least",
    "above",
    "at_most",
    "below",
    "upper",
    "upper_per_metre",
    "lower",
    "lower_per_metre",
    "standing",
    "clause",
    "note",
)
_LIMIT_KEYS = (*_ANY_KEYS, "value", "unit", "side", "datum", "load_state", "setting", "instead_of", "within")
_RESTORATION_KEYS = (*_ANY_KEYS, "target", "low", "high")
_TAPE_KEYS = (*_ANY_KEYS, "fixed", "per_metre", "end", "step")
_STEP_KEYS = ("at_most", "limit")


@dataclass(frozen=True, slots=True)
class RuleFile:
    """The rules and limits of one file."""

    aim_rules: tuple[AimRule, ...]
    limits: tuple[Limit, ...]
    restoration_rules: tuple[RestorationRule, ...]
    tapes: tuple[TapeRule, ...]


class RuleValueError(ValueError):
    """A text is not a valid value; `template` is English with {named} `fields`."""

    def __init__(self, template: LiteralString, **fields: object) -> None:
        super().__init__(template, fields)
        self.template = template
        self.fields = fields


def read_rules(name: str, text: str) -> RuleFile:
    """The rules and limits in a file's text.

    Raises:
        TomlError: it is not TOML.
        TextFileError: something in it is unknown or wrong; every problem has its line.
    """
    problems = Problems(parse_toml(text))
    top = TomlTable(problems.toml.values, (), problems, _TABLES)
    found = RuleFile(
        aim_rules=_read_all(top, "aim_rule", _AIM_KEYS, _aim_rule),
        limits=_read_all(top, "limit", _LIMIT_KEYS, _limit),
        restoration_rules=_read_all(top, "restoration_rule", _RESTORATION_KEYS, _restoration_rule),
        tapes=_read_all(top, "tape", _TAPE_KEYS, _tape),
    )
    if not any(key in top for key in _TABLES):
        top.missing("there is no rule in it; write [[aim_rule]] on a line of its own and the rule below it")
    if problems.found:
        raise TextFileError(name, problems.found)
    return found


def _read_all(
    top: TomlTable, key: str, known: Collection[str], reader: Callable[[TomlTable], T | None]
) -> tuple[T, ...]:
    read = (reader(table) for table in top.tables(key, known))
    return tuple(rule for rule in read if rule is not None)


def _aim_rule(table: TomlTable) -> AimRule | None:
    common = _common(table)
    datum = _required_text(table, "datum", DATUMS)
    distance_mm = table.read("distance", _distance_mm)
    deviation_mm = table.read("deviation", _distance_mm)
    nominal_deg = table.read("nominal", _nominal_deg)
    pieces = tuple(_piece(band, cast("Standing", common["standing"])) for band in table.tables("band", _BAND_KEYS))
    if "deviation" in table and "band" in table:
        table.wrong("deviation", "a rule has either a deviation or bands, not both")
    if "deviation" in table and "nominal" not in table:
        table.wrong("deviation", "a deviation needs the nominal it is counted from")
    _check_overlaps(table, pieces)
    if common["id"] is None or datum is None:
        return None
    return AimRule(
        **cast("dict[str, Any]", common),
        datum=cast("Datum", datum),
        nominal_deg=nominal_deg,
        load_state=table.text("load_state") or "",
        distance_mm=SCREEN_MM if distance_mm is None else distance_mm,
        pieces=pieces,
        deviation_mm=deviation_mm,
        lowest_lamp=table.text("lowest_lamp") or "",
        highest_lamp=table.text("highest_lamp") or "",
    )


def _common(table: TomlTable) -> dict[str, str | None]:
    """The fields that every kind of rule has."""
    rule_id = _required_text(table, "id")
    if rule_id is not None and re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", rule_id) is None:
        table.wrong("id", 'an id is made of small letters, digits and "-"')
    return {
        "id": rule_id,
        "title": _required_text(table, "title"),
        "source": _required_text(table, "source"),
        "standing": _required_text(table, "standing", STANDINGS),
        "clause": table.text("clause") or "",
        "note": table.text("note") or "",
    }


def _required_text(table: TomlTable, key: str, choices: Collection[str] = ()) -> str | None:
    found = table.choice(key, choices) if choices else table.text(key)
    # A misspelled key is reported already, with its line; that the right one is missing is the same mistake.
    misspelled = any(problem.fields.get("nearest") == key for problem in table.problems.found)
    if not misspelled and (key not in table or table.values[key] == ""):
        table.missing("it lacks {key}", key=key)
    return found


def _piece(table: TomlTable, standing: Standing) -> BandPiece:
    from_mm, from_included = _end(table, included="at_least", excluded="above")
    to_mm, to_included = _end(table, included="at_most", excluded="below")
    upper, lower = _line(table, "upper"), _line(table, "lower")
    if "upper" not in table and "lower" not in table:
        table.missing("this band has neither an upper nor a lower limit")
    own = table.choice("standing", STANDINGS)
    piece = BandPiece(
        upper=upper,
        lower=lower,
        from_mm=0.0 if from_mm is None else from_mm,
        from_included=from_included,
        to_mm=math.inf if to_mm is None else to_mm,
        to_included=to_included,
        standing=standing if own is None else cast("Standing", own),
        clause=table.text("clause") or "",
        note=table.text("note") or "",
    )
    if piece.from_mm > piece.to_mm:
        table.missing("this band ends below its start")
    elif _is_inverted(piece):
        table.missing("the upper limit of this band lies below its lower one; down is negative")
    return piece


def _end(table: TomlTable, *, included: str, excluded: str) -> tuple[float | None, bool]:
    if included in table and excluded in table:
        table.wrong(excluded, 'write "{included}" or "{excluded}", not both', included=included, excluded=excluded)
    reached = table.read(included, _length_mm)
    return (reached, True) if reached is not None else (table.read(excluded, _length_mm), excluded not in table)


def _line(table: TomlTable, key: str) -> LinearLimit | None:
    at_zero = table.read(key, _percent)
    per_metre = table.read(f"{key}_per_metre", _percent)
    if f"{key}_per_metre" in table and key not in table:
        table.wrong(f"{key}_per_metre", "it lacks {key}", key=key)
    return None if at_zero is None else LinearLimit(at_zero, 0.0 if per_metre is None else per_metre)


def _is_inverted(piece: BandPiece) -> bool:
    if piece.upper is None or piece.lower is None:
        return False
    ends_mm = (piece.from_mm, piece.to_mm if piece.to_mm < math.inf else 10_000.0)
    return any(piece.upper.at(mm) < piece.lower.at(mm) for mm in ends_mm)


def _check_overlaps(table: TomlTable, pieces: tuple[BandPiece, ...]) -> None:
    for index, piece in enumerate(pieces):
        for other in pieces[:index]:
            low, high = sorted((piece, other), key=lambda p: (p.from_mm, not p.from_included))
            touching = low.to_mm == high.from_mm and low.to_included and high.from_included
            if low.to_mm > high.from_mm or touching:
                table.problems.add_unnamed((*table.path, "band", index), "two bands hold for the same height")
                return


def _limit(table: TomlTable) -> Limit | None:
    common = _common(table)
    unit = _required_text(table, "unit", _VALUE_READERS)
    side = _required_text(table, "side", SIDES)
    value = table.read("value", _VALUE_READERS[unit]) if unit is not None else None
    published = _required_text(table, "value")
    within_h = table.read("within", lambda text: float(read_hours(text, None)))
    setting = table.flag("setting")
    if common["id"] is None or unit is None or side is None or value is None or published is None:
        return None
    return Limit(
        **cast("dict[str, Any]", common),
        value=value,
        unit=unit,
        as_published=published,
        side=cast("Side", side),
        datum=table.text("datum") or "",
        load_state=table.text("load_state") or "",
        setting=bool(setting),
        instead_of=table.text("instead_of") or "",
        within_h=within_h,
    )


def _restoration_rule(table: TomlTable) -> RestorationRule | None:
    common = _common(table)
    target, low, high = (table.read(key, _restored_percent) for key in ("target", "low", "high"))
    if low is not None and high is not None and low > high:
        table.wrong("low", "it lies above the high end")
    if common["id"] is None:
        return None
    return RestorationRule(**cast("dict[str, Any]", common), target_percent=target, low_percent=low, high_percent=high)


def _tape(table: TomlTable) -> TapeRule | None:
    common = _common(table)
    fixed, per_metre, end = (table.read(key, _length_mm) for key in ("fixed", "per_metre", "end"))
    steps = tuple(step for row in table.tables("step", _STEP_KEYS) if (step := _step(row)) is not None)
    if ("fixed" in table) == ("step" in table):
        table.missing('a tape has either "fixed" or steps')
    if list(steps) != sorted(steps, key=lambda step: step.at_most_mm):
        table.wrong("step", "the steps must rise")
    if common["id"] is None:
        return None
    return TapeRule(
        **cast("dict[str, Any]", common),
        fixed_mm=fixed or 0.0,
        per_metre_mm=per_metre or 0.0,
        end_mm=end or 0.0,
        steps=steps,
    )


def _step(table: TomlTable) -> TapeStep | None:
    at_most, limit = table.read("at_most", _distance_mm), table.read("limit", _distance_mm)
    _required_text(table, "at_most")
    _required_text(table, "limit")
    return None if at_most is None or limit is None else TapeStep(at_most, limit)


def _length_mm(text: str) -> float:
    return read_length(text, None).mm


def _distance_mm(text: str) -> float:
    mm = _length_mm(text)
    if mm == 0:
        raise RuleValueError("this must be more than nothing")
    return mm


def _percent(text: str) -> float:
    return float(read_percent(text))


def _restored_percent(text: str) -> float:
    percent = _percent(text)
    if percent < 0:
        raise RuleValueError("this cannot be below zero")
    return percent


def _nominal_deg(text: str) -> float:
    deg = math.degrees(math.atan(_percent(text) / 100)) if "%" in text else read_angle(text, None).deg
    if abs(deg) > STEEPEST_DEG:
        raise RuleValueError("no low beam is aimed more than {most}° from level", most=f"{STEEPEST_DEG:g}")
    return deg


def _road_km(text: str) -> float:
    match = re.fullmatch(r"(\d{1,6}(?:\.\d+)?) ?(km|mi)", text)
    if match is None:
        raise RuleValueError("write a distance on the road as 80 km or 50 mi")
    return float(match[1]) * (KM_PER_MILE if match[2] == "mi" else 1.0)


_Unit = Literal["mm", "kPa", "N", "%", "deg", "h", "km"]

_VALUE_READERS: dict[str, Callable[[str], float]] = {
    "mm": lambda text: read_signed_length(text, None).mm,
    "kPa": lambda text: read_pressure(text, None).kPa,
    "N": lambda text: read_force(text, None).N,
    "%": _percent,
    "deg": lambda text: read_angle(text, None).deg,
    "h": lambda text: float(read_hours(text, None)),
    "km": _road_km,
    "K": lambda text: float(read_temperature_step(text, None)),
    "N/mm": lambda text: float(read_rate(text, None)),
}
