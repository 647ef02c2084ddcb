"""An answer in words: the user's units, each figure with its ± U, and nothing typed that acts."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import pytest

from cornerwalk.report.text import as_text, columns
from cornerwalk.tables.answer_page import answer_page
from cornerwalk.tables.ask import ResultSet, SqlQuestion, ask, question, question_of_text, questions
from cornerwalk.wording.figures import Units, Wording
from cornerwalk.words import use_language
from tests.tables.conftest import Shop


def told(values: dict[str, Any], units: Units = "inch") -> str:
    """One row, on one line."""
    meanings = {name: f"what {name} means" for name in values}
    asked = SqlQuestion("x", "A question", "What it answers.", meanings, "")
    answer = ResultSet(asked, tuple(values), (tuple(values.values()),))
    return " ".join(as_text(answer_page(answer, Wording(units)), 400).split())


# By hand: 0.16 mm/kPa · 6.894757 kPa/psi / 25.4 mm/in = 0.04343 in/psi; ± 2 · 0.01 likewise 0.0054.
# 4448.22 N = 1000 lb; 175.127 N/mm = 1000 lb/in; 6.894757 kPa = 1 psi; 25.4 mm = 1 in.
@pytest.mark.parametrize(
    ("values", "inch", "metric"),
    [
        ({"rise_mm_per_kPa": 0.16, "u_rise_mm_per_kPa": 0.01}, "0.043 in/psi ± 0.005", "0.160 mm/kPa ± 0.020"),
        ({"load_N": 4448.2216, "u_load_N": 44.482216}, "1000 lb ± 20", "454 kg ± 9"),
        ({"rate_N_per_mm": 175.1268, "u_rate_N_per_mm": 8.75634}, "1000 lb/in ± 100", "175 N/mm ± 18"),
        ({"pressure_kPa": 6.894757293168361}, "1 psi", "7 kPa"),
        ({"mean_kPa_per_h": 6.894757, "u_mean_kPa_per_h": 0.6894757}, "1.00 psi ± 0.20 in an hour", "6.9 kPa ± 1.4 in"),
        ({"place_mm": 25.4, "u_place_mm": 2.54}, "1.00 in ± 0.20", "25 mm ± 5"),
        ({"aim_deg": -0.5, "u_aim_deg": 0.02}, "0.50° ± 0.04 down", "0.50° ± 0.04 down"),
        ({"aim_deg": 0.5, "u_aim_deg": 0.02}, "0.50° ± 0.04 up", "0.50° ± 0.04 up"),
        ({"share_percent": 12.5}, "12.5 %", "12.5 %"),
    ],
)
def test_figures_are_told_in_the_units_asked_for(values: dict[str, Any], inch: str, metric: str) -> None:
    """Its unit stands with each figure, and its u has no column of its own."""
    assert inch in told(values)
    assert metric in told(values, "metric")
    assert "what u_" not in told(values)
    assert "u " not in told(values).partition("What the columns mean")[0].replace("quest", "")


def test_everything_else_is_told_as_it_is() -> None:
    """Counts, days, times, verdicts, and what is not known."""
    text = told(
        {
            "jobs": 12,
            "opened_on": date(2026, 5, 4),
            "last_utc": datetime(2026, 5, 4, 14, 12, 31),  # noqa: DTZ001 - as the table holds it
            "verdict": "conditional fail",
            "kit": None,
            "aim_deg": None,
            "u_aim_deg": None,
        }
    )
    assert "12 2026-05-04 2026-05-04 14:12 UTC marginal fail – –" in text


@pytest.fixture
def german() -> Iterator[None]:
    use_language("de")
    yield
    use_language("en")


@pytest.mark.parametrize(
    ("name", "text", "german_text"),
    [
        ("kind", "adjust", "Einstellen"),
        ("stage", "fitted 2", "Druckstufe 2"),
        ("stages_read", "unloaded 1; loaded 1", "unbeladen; beladen"),
        ("check", "front axle against its rating", "Vorderachse"),
        ("rating", "rear axle against its rating", "Hinterachse"),
        ("needs", "the rating, from its label", "Schild"),
        ("place", "LR", "hinten links"),
        ("verdict", "fail", "durchgefallen"),
    ],
)
@pytest.mark.usefixtures("german")
def test_what_the_program_named_is_told_in_the_users_language(name: str, text: str, german_text: str) -> None:
    """Names of checks, stages, kinds and places are words of the program, not of a person."""
    said = told({name: text}).partition("Was die Spalten bedeuten")[0]
    assert german_text in said
    assert text not in said


@pytest.mark.usefixtures("german")
def test_what_a_person_wrote_stays_as_it_is() -> None:
    """A vehicle called `fit`, a stage of another program, a check of the shop's own."""
    assert "fit" in told({"vehicle": "fit"})
    assert "stage nine" in told({"stage": "stage nine"})
    assert "our own check" in told({"check": "our own check"})


def test_a_u_without_its_figure_is_a_column() -> None:
    """Nothing an answer holds is dropped."""
    assert "what u_place_mm means" in told({"u_place_mm": 1.0})


@pytest.mark.parametrize("name", [each.name for each in questions()])
@pytest.mark.parametrize("width", [40, 79, 200])
def test_every_answer_fits_its_width(shop: Shop, name: str, width: int) -> None:
    """Every question, on a narrow screen as on a wide one, says what its columns mean."""
    answer = ask(question(name), shop.folder)
    text = as_text(answer_page(answer, Wording("both")), width)
    assert all(columns(line) <= width for line in text.splitlines())
    assert answer.question.title.split()[0] in text
    assert "What the columns mean" in text


def test_names_of_files_are_in_one_piece(shop: Shop) -> None:
    """On a narrow screen too a name can be marked and copied, and its number says which row it is of."""
    answer = ask(question("unfinished"), shop.folder)
    lines = as_text(answer_page(answer, Wording("inch")), 79).splitlines()
    assert len(answer.rows) > 1
    for number, row in enumerate(answer.rows, 1):
        (name,) = (value for column, value in zip(answer.columns, row, strict=True) if column == "file")
        assert [line.split() for line in lines if name in line] == [[str(number), name]]


def test_no_row_is_said() -> None:
    """An empty answer is no empty page."""
    page = answer_page(
        ResultSet(SqlQuestion("x", "A question", "What it answers.", {"a": "b"}, ""), ("a",), ()), Wording("inch")
    )
    assert "no session answers this" in as_text(page)


def test_texts_from_a_file_do_nothing() -> None:
    """A vehicle's name with terminal escapes is spelled out."""
    assert "\x1b" not in told({"vehicle": "van\x1b[31m\u202e"})


def test_an_answer_to_ones_own_select_has_units_and_meanings() -> None:
    """A column of the tables keeps unit and meaning; two of one name stay two; what is no figure is as it is."""
    asked = question_of_text("SELECT ...")
    rows = ((25.4, "a", "b", Decimal("12.5"), math.nan, [1, 2]),)
    answer = ResultSet(asked, ("height_mm", "x", "x", "share_percent", "front_mm", "list"), rows)
    text = " ".join(as_text(answer_page(answer, Wording("inch")), 200).split())
    assert "Your question" in text
    assert "1.00 in" in text or "1 in" in text
    assert " a b " in text
    assert "12.5" in text
    assert "[1, 2]" in text
    assert "what the columns mean" in text.lower()


@pytest.mark.usefixtures("german")
def test_a_question_without_a_head_has_no_words_of_the_catalog() -> None:
    """An empty title is not looked up: a catalog answers it with its own head."""
    page = answer_page(ResultSet(question_of_text("SELECT 1"), ("1",), ((1,),)), Wording("inch"))
    assert "Content-Type" not in as_text(page)
