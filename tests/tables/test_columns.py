"""What a column makes of a value: its unit, its time, and nothing that no table could hold."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import pytest

from cornerwalk.tables.columns import day, plain, unit_of, utc


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("height_LF_mm", "mm"),
        ("u_c1_mm_per_kPa", "mm/kPa"),
        ("ride_rate_N_per_mm", "N/mm"),
        ("rate_kPa_per_h", "kPa/h"),
        ("falr_percent", "%"),
        ("lamp_reach_m", "m"),
        ("hours_to_minimum", "h"),
        ("start_C", "°C"),
        ("corner", ""),
        ("mm", ""),
    ],
)
def test_the_unit_is_the_end_of_the_name(name: str, unit: str) -> None:
    """The longest end that is a unit; a name that is nothing but one has none."""
    assert unit_of(name) == unit


@pytest.mark.parametrize(
    ("at", "moment", "on"),
    [
        ("2026-05-04T23:12:31-06:00", datetime(2026, 5, 5, 5, 12, 31), date(2026, 5, 4)),  # noqa: DTZ001
        ("2026-03-29T02:30:00+02:00", datetime(2026, 3, 29, 0, 30), date(2026, 3, 29)),  # noqa: DTZ001
        ("2026-05-04T08:12:31", None, date(2026, 5, 4)),
        ("0001-01-01T00:00:00+14:00", None, date(1, 1, 1)),
        ("9999-12-31T23:59:59-12:00", None, date(9999, 12, 31)),
        ("yesterday", None, None),
        ("", None, None),
    ],
)
def test_times_are_told_in_utc_where_there_is_one(at: str, moment: datetime | None, on: date | None) -> None:
    """Without an offset, and beyond the calendar, there is none; the day is that of the place."""
    assert utc(at) == moment
    assert day(at) == on


@pytest.mark.parametrize(
    ("value", "held"),
    [
        (1.5, 1.5), (3, 3), (True, True), ("x", "x"), (None, None), ("", None), (float("nan"), None),
        (float("inf"), None), ((), None), ([], None), (("a", "b"), "a; b"), ([1.5, 2], "1.5; 2"),
    ],
)  # fmt: skip
def test_what_is_not_known_is_null(value: Any, held: Any) -> None:
    """Empty texts, empty lists and what is no number; several values are one text."""
    assert plain(value) == held


def test_what_no_table_holds_is_refused() -> None:
    """A value of another kind is a mistake in the table, and is not written as its name."""
    with pytest.raises(TypeError, match="nothing a table holds"):
        plain({"a": 1})
