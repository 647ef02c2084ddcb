"""What is looked for in the list of jobs, and in which order it stands."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.job.library import LibraryView, ListedJob, Order, Wanted
from cornerwalk.store import Summary
from cornerwalk.tables.verdicts import SessionVerdict
from cornerwalk.tui.screens.library import job_row
from cornerwalk.tui.widgets.rows import row_width


def summary(name: str, **stated: object) -> Summary:
    usual = {
        "id": name,
        "title": name,
        "opened_at": "2026-05-04T08:12:31-06:00",
        "last_at": "2026-05-04T09:00:00-06:00",
        "version": 1,
    }
    return Summary.of_path(Path(f"/library/{name}.json"), **usual | stated)


SUMMARIES = (
    summary("box", title="Box trailer, Tuesday", technician="MT", vehicle="people carrier", customer="Ann"),
    summary("van", title="Camper", technician="KL", vehicle="van", registration="INV 123", kit="kit two", open=False),
    summary("old", technician="MT", vehicle="pickup", opened_at="2025-12-31T23:00:00-06:00"),
    summary("june", technician="Zoë", vehicle="Van, white", opened_at="2026-06-01T00:30:00+02:00"),
    summary("broken", damaged=True, version=0, opened_at="", last_at=""),
)
VERDICTS: dict[str, SessionVerdict] = {
    "box.json": "fail",
    "van.json": "pass",
    "old.json": "conditional fail",
    "broken.json": "unreadable",
}


def view() -> LibraryView:
    shown = LibraryView(VERDICTS)
    shown.take(tuple(map(ListedJob.of, SUMMARIES)))
    return shown


def found(text: str) -> set[str]:
    shown = view()
    shown.wanted = Wanted.typed(text)
    shown.look()
    return {job.path.stem for job in shown.rows}


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", {"box", "van", "old", "june", "broken"}),
        ("trailer", {"box"}),
        ("TRAILER tues", {"box"}),
        ("trailer wednesday", set()),
        ("ann", {"box"}),
        ("two", {"van"}),
        ("inv", {"van"}),
        ("by:mt", {"box", "old"}),
        ("by:zoë", {"june"}),
        ("vehicle:van", {"van", "june"}),
        ("vehicle:123", {"van"}),
        ("vehicle:van white", {"june"}),
        ("2026-05", {"box", "van"}),
        ("2025-12-31", {"old"}),
        ("since:2026-06", {"june"}),
        ("since:2026-05-04 until:2026-05-04", {"box", "van"}),
        ("until:2025-12", {"old", "broken"}),
        ("unfinished", {"box", "old", "june"}),
        ("handed-over", {"van"}),
        ("damaged", {"broken"}),
        ("verdict:fail", {"box", "old"}),
        ("verdict:pass", {"van"}),
        ("verdict:conditional-fail", {"old"}),
        ("verdict:unreadable", {"broken"}),
        ("unfinished by:mt 2026-05", {"box"}),
    ],
)
def test_finding(text: str, names: set[str]) -> None:
    """By words, technician, vehicle, day, month, span, state and verdict, and by any of them together."""
    assert found(text) == names


@pytest.mark.parametrize(
    "text", ["2026-13", "2026-02-30", "since:soon", "by:", "9999-99-99", ":", "verdict:", "0000-00"]
)
def test_what_is_not_understood_is_a_word(text: str) -> None:
    """A half-typed date or key finds nothing rather than everything, and is no error."""
    wanted = Wanted.typed(text)
    assert wanted.words == (text,)
    assert found(text) == set()


@given(st.text())
def test_anything_may_be_typed(text: str) -> None:
    """No text is an error, and no text finds what is not there."""
    assert found(text) <= {"box", "van", "old", "june", "broken"}


@pytest.mark.parametrize(
    ("order", "names"),
    [
        ("opened", ["june", "box", "van", "old", "broken"]),
        ("vehicle", ["box", "old", "van", "june", "broken"]),
        ("technician", ["van", "box", "old", "june", "broken"]),
        ("verdict", ["box", "old", "van", "broken", "june"]),
    ],
)
def test_orders(order: Order, names: list[str]) -> None:
    """The latest first, by name, the worst first; what is not stated or not known comes last."""
    shown = view()
    shown.order = order
    shown.look()
    assert [job.path.stem for job in shown.rows] == names


def test_the_order_of_work_follows_the_clock_of_the_world() -> None:
    """What was worked on last stands first, whatever the offset its time was recorded with."""
    shown = LibraryView({})
    early = summary("early", last_at="2026-05-04T09:00:00+02:00")
    late = summary("late", last_at="2026-05-04T08:00:00-06:00")
    shown.take((ListedJob.of(early), ListedJob.of(late)))
    assert [job.path.stem for job in shown.rows] == ["late", "early"]


def test_which_verdicts_are_needed() -> None:
    """Only where an order or a search hangs on them, and only of jobs that fit whatever else is looked for."""
    shown = view()
    assert list(shown.unjudged) == []
    shown.order = "verdict"
    shown.look()
    assert [job.path.stem for job in shown.unjudged] == ["june"]
    shown.wanted = Wanted.typed("by:mt")
    shown.look()
    assert list(shown.unjudged) == []


def test_a_verdict_that_comes_in_moves_its_job() -> None:
    """While the list is shown."""
    known = dict(VERDICTS)
    shown = LibraryView(known)
    shown.take(tuple(map(ListedJob.of, SUMMARIES)))
    shown.wanted = Wanted.typed("verdict:fail")
    shown.look()
    assert "june" not in {job.path.stem for job in shown.rows}
    known["june.json"] = "fail"
    shown.look()
    assert "june" in {job.path.stem for job in shown.rows}


@given(st.integers(1, 200), st.text(max_size=30), st.sampled_from(sorted(VERDICTS.values())))
def test_a_row_fits_its_width(width: int, title: str, verdict: SessionVerdict) -> None:
    """Whatever the title holds, in every width, and its day is never left out."""
    row = job_row(ListedJob.of(summary("x", title=title, technician=title, vehicle=title)), verdict, width)
    assert row_width(row) <= max(width, 12)
    assert row[0][1].startswith("2026-05-04")
    assert all(text.isprintable() for _, text in row)
