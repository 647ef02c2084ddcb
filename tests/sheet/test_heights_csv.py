"""Heights from a spreadsheet: both forms, every delimiter, and what is said of mistakes."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from cornerwalk.quantity import BareUnit
from cornerwalk.session.events import FactStated, HeightRead, JobOpened, NoteWritten, StageBegun
from cornerwalk.sheet import SheetContents, SheetError, read_job_sheet
from cornerwalk.sheet.heights_csv import COLUMNS, read_heights_csv

NOW = datetime(2026, 7, 1, tzinfo=UTC)


def read(text: str, unit: BareUnit | None = None, onto: SheetContents | None = None) -> SheetContents:
    return read_heights_csv(text, name="list", session_id="x", now=NOW, unit=unit, onto=onto)


def heights(contents: SheetContents) -> list[tuple[str, int, str, str, float]]:
    taken = [what for what in contents.events if isinstance(what, HeightRead)]
    return [(what.stage, what.number, what.corner, what.entered, what.mm) for what in taken]


WIDE = "stage{d}pressure{d}LF{d}RF{d}RR{d}LR\nunloaded{d}{d}28 5/8{d}28 11/16{d}29 3/16{d}29 1/4\n"


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
def test_delimiters_and_line_ends(delimiter: str, line_end: str) -> None:
    """The delimiter is the one that makes the first line a line of known columns."""
    contents = read(WIDE.format(d=delimiter).replace("\n", line_end), unit="inch")
    assert heights(contents) == [
        ("unloaded", 1, "LF", "28 5/8", 727.075),
        ("unloaded", 1, "RF", "28 11/16", 728.6625),
        ("unloaded", 1, "RR", "29 3/16", 741.3625),
        ("unloaded", 1, "LR", "29 1/4", 742.95),
    ]
    assert [type(what) for what in contents.events[:3]] == [JobOpened, FactStated, StageBegun]


def test_one_height_a_row() -> None:
    """Rows of one stage belong together wherever they stand; a second height of a corner is a repeat."""
    text = """stage,pressure,corner,height (mm),note
loaded,,RR,701,
fitted,1 bar,RR,718,
loaded,,LR,704,kerb side
fitted,1 bar,RR,719,
fitted,2 bar,RR,731,
"""
    contents = read(text)
    assert heights(contents) == [
        ("loaded", 1, "RR", "701", 701.0),
        ("loaded", 1, "LR", "704", 704.0),
        ("fitted", 1, "RR", "718", 718.0),
        ("fitted", 1, "RR", "719", 719.0),
        ("fitted", 2, "RR", "731", 731.0),
    ]
    hows = [what.how for what in contents.events if isinstance(what, HeightRead)]
    assert hows == ["first", "first", "first", "repeat", "first"]
    note = next(what for what in contents.events if isinstance(what, NoteWritten))
    assert (note.text, note.stage, note.number) == ("kerb side", "loaded", 1)


def test_numbers_tell_trials_of_one_pressure_apart() -> None:
    """The same pressure tried twice, once coming up and once coming down, is two trials where they are numbered."""
    text = "stage,number,pressure,RR (mm)\nfitted,1,1 bar,718\nfitted,2,1 bar,722\n"
    assert [(number, mm) for _, number, _, _, mm in heights(read(text))] == [(1, 718.0), (2, 722.0)]


def test_decimal_comma_with_semicolons() -> None:
    """A list of a country with decimal commas is read as it means."""
    text = "stage;LF_mm;RF_mm\nunloaded;728,5;729\n"
    assert [mm for *_, mm in heights(read(text))] == [728.5, 729.0]


@pytest.mark.parametrize(
    ("heading", "unit"),
    [("RR (mm)", "mm"), ("RR [cm]", "cm"), ("rr_in", "inch"), ("RR (inches)", "inch"), ("RR", None)],
)
def test_the_unit_in_a_heading(heading: str, unit: BareUnit | None) -> None:
    """However a heading is written, the unit it names is the list's; without one there is none."""
    assert read(f"stage,{heading}\nunloaded,72.8 cm\n").unit == unit


def test_blank_cells_and_blank_lines_are_nothing() -> None:
    """What is left empty is not a reading of zero."""
    text = "stage,LF (mm),RF (mm)\n,,\nunloaded,728,\n\n"
    assert len(heights(read(text))) == 1


def test_heights_added_to_a_job_sheet() -> None:
    """The sheet's events come first, its walk and unit hold, and stages are numbered on."""
    sheet = 'unit = "mm"\n[job]\nstart_corner = "RR"\n[[stage]]\nname = "fitted"\npressure = "1 bar"\nRR = "718"\n'
    onto = read_job_sheet(sheet, name="s", session_id="y", now=NOW)
    contents = read("stage,pressure,LF,RR\nfitted,2 bar,733,731\n", onto=onto)
    assert contents.events[: len(onto.events)] == onto.events
    assert heights(contents)[1:] == [("fitted", 2, "RR", "731", 731.0), ("fitted", 2, "LF", "733", 733.0)]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", ["line 1: the first line must name the columns, for example stage,pressure,LF,RF,RR,LR"]),
        (
            "x" * 140_000,
            ["line 1: the first line must name the columns, for example stage,pressure,LF,RF,RR,LR"],
        ),
        ("a,b\n1,2\n", ["line 1: the first line must name the columns, for example stage,pressure,LF,RF,RR,LR"]),
        (
            "stage,LF,axle\nunloaded,1,2\n",
            ['line 1: "axle" is no column; there are ' + ", ".join(COLUMNS)],
        ),
        ("stage,LF,LF\n", ["line 1: the column LF appears twice"]),
        (
            "stage,corner\nunloaded,LF\n",
            ["line 1: the columns must be stage with corner and height, or stage with LF, RF, RR and LR"],
        ),
        (
            "stage,corner,height,LF\nunloaded,LF,1,2\n",
            ["line 1: the columns must be stage with corner and height, or stage with LF, RF, RR and LR"],
        ),
        ("stage,LF (mm),RF (in)\n", ["line 1: the columns and the sheet name different units"]),
        ("stage,LF (mm)\n", ["there is no height in it"]),
        (
            "stage,LF\nunloaded,728\n",
            ['line 2: LF: "728" has no unit, and the sheet names none; add unit = "inch", "mm" or "cm"'],
        ),
        (
            "stage,LF (mm)\nunloaded,728\nunladen,720\n",
            ['line 3: stage: "unladen" is not one of: unloaded, loaded, fitted, fitted-unloaded, road-test, follow-up'],
        ),
        ("stage,corner,height (mm)\nloaded,FL,728\n", ['line 2: corner: "FL" is not one of: LF, RF, RR, LR']),
        (
            "stage,LF (mm),RF (mm)\nunloaded,728,5,729,1\n",
            ["line 2: 5 values for 3 columns; a decimal comma splits a value: save with semicolons, or write a point"],
        ),
        ("stage,LF (mm),RF (mm)\nunloaded,728\n", ["line 2: 2 values for 3 columns"]),
        ('stage,LF (mm)\nunloaded,"728\n', ["line 2: this is not CSV: unexpected end of data"]),
        ("stage,number,LF (mm)\nfitted,one,728\n", ['line 2: number: "one" is no whole number']),
        (
            "stage,number,pressure,LF (mm)\nfitted,1,1 bar,728\nfitted,1,2 bar,728\n",
            ["line 3: pressure: this stage has another pressure in an earlier line"],
        ),
        (
            "stage,pressure,pressure_left,LF (mm)\nfitted,1 bar,1 bar,728\n",
            ["line 2: pressure_left: either one pressure or left and right, not both"],
        ),
        (
            "stage,LF (mm)\n\nunloaded,7280\nloaded,=1+1\n",
            [
                'line 3: LF: "7280": a height is at most 2.5 m (98.4 in)',
                'line 4: LF: "=1+1": = has no place in it',
            ],
        ),
    ],
)
def test_what_is_said_of_a_mistake(text: str, told: list[str]) -> None:
    """Line and column of every mistake, all at once."""
    with pytest.raises(SheetError) as caught:
        read(text)
    assert [line.removeprefix("list, ").removeprefix("list: ") for line in str(caught.value).splitlines()] == told


def test_a_line_break_within_a_cell_does_not_shift_the_lines() -> None:
    """A mistake after it is told with the line the editor shows."""
    text = 'stage,LF (mm),note\nunloaded,728,"two\nlines"\nloaded,x,\n'
    with pytest.raises(SheetError, match=r"^list, line 4: LF: "):
        read(text)
