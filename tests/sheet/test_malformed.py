"""Sheets with mistakes: one file a case, its first lines saying what must be said of it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.sheet import SheetError, read_job_sheet
from cornerwalk.sheet.heights_csv import read_heights_csv

HERE = Path(__file__).parent
CASES = sorted((HERE / "malformed").glob("*.toml"))
WORKED_CASE = (HERE / "sheets" / "worked-case.toml").read_text("utf-8").splitlines()
NOW = datetime(2026, 7, 1, tzinfo=UTC)
SAYS = "# says: "


def read(text: str) -> None:
    read_job_sheet(text, name="sheet", session_id="x", now=NOW)


@pytest.mark.parametrize("case", CASES, ids=lambda path: path.stem)
def test_what_is_said_of_a_mistake(case: Path) -> None:
    """Every problem of the sheet is told, with its line, in the order of the lines, and nothing else."""
    text = case.read_text("utf-8")
    expected = [line.removeprefix(SAYS) for line in text.splitlines() if line.startswith(SAYS)]
    with pytest.raises(SheetError) as caught:
        read(text)
    told = [line.removeprefix("sheet, ").removeprefix("sheet: ") for line in str(caught.value).splitlines()]
    assert told == expected


def test_there_are_cases() -> None:
    """The folder is found; an empty one would pass everything above."""
    assert len(CASES) > 50


def test_many_problems_are_counted_not_poured_out() -> None:
    """Twenty are told, the rest is a number."""
    with pytest.raises(SheetError) as caught:
        read("".join(f"key{n} = 1\n" for n in range(100)))
    told = str(caught.value).splitlines()
    assert len(told) == 21
    assert told[-1] == "sheet: and 80 more"


def test_half_a_character_is_refused() -> None:
    """A text that no file can hold is refused with its line."""
    with pytest.raises(SheetError, match="line 2: there is half a character"):
        read("[job]\ntitle = '\ud800'\n")


@pytest.mark.parametrize("key", ["a." * 100_000 + "a", '"a".' * 40_000 + "a"])
@pytest.mark.parametrize("line", ["{key} = 1", "[{key}]", "[[{key}]]", "a = {{ {key} = 1 }}"])
def test_a_key_of_endless_parts_is_refused_at_once(key: str, line: str) -> None:
    """The parser of the standard library would take minutes to hours; nothing that a file can hold holds us up."""
    with pytest.raises(SheetError, match=r"line 1: a line of .* characters is too long"):
        read(line.format(key=key))


VALUES = st.sampled_from(
    [
        "1", "-0.0", "nan", "inf", "1e400", "true", "[]", "[[]]", "{}", "{ a = 1 }", '""', "'x'", "1979-05-27",
        "07:32:00", "1979-05-27T07:32:00Z", '["28 5/8", 3]', "0x1f", "'''a\nb'''", '"\\u202e"', '"28 5/8"', '"5 psi"',
    ]
)  # fmt: skip


@given(st.data())
def test_a_sheet_changed_anywhere_is_read_or_refused_in_words(data: st.DataObject) -> None:
    """Lines of a good sheet dropped, doubled, moved or given another value: never another error than the sheet's."""
    lines = data.draw(st.lists(st.sampled_from(WORKED_CASE), max_size=30))
    changed = []
    for line in lines:
        key, equals, _ = line.partition("=")
        use_other = equals and data.draw(st.booleans())
        changed.append(f"{key}= {data.draw(VALUES)}" if use_other else line)
    refused_or_read(lambda: read("\n".join(changed)))


@given(st.text(max_size=300) | st.binary(max_size=300).map(lambda raw: raw.decode("latin-1")))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    """No text, however odd, brings anything but a session or the sheet's own error."""
    refused_or_read(lambda: read(text))


@given(st.text(alphabet="stage,;\t\"'\r\npresuLFR0123456789/. hightconm()", max_size=200))
def test_any_list_of_heights_is_read_or_refused_in_words(text: str) -> None:
    """The same of a spreadsheet, with a heading or without."""
    for whole in (text, f"stage,LF,RF\n{text}"):
        refused_or_read(lambda: read_heights_csv(whole, name="s", session_id="x", now=NOW))  # noqa: B023 - called at once


def refused_or_read(reading: Callable[[], object]) -> None:
    told = ""
    try:
        reading()
    except SheetError as error:
        told = str(error)
    assert all(line.isprintable() for line in told.split("\n"))
