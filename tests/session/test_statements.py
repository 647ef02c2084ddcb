"""What a typed fact or load means: every kind of fact, the unit of a bare number, what is refused."""

from __future__ import annotations

import pytest

from cornerwalk.quantity import BareUnit, QuantityError
from cornerwalk.session.events import FactValue
from cornerwalk.session.facts import FACTS
from cornerwalk.session.statements import remove_load, state_fact, state_load
from cornerwalk.session.walk import EntryError
from tests.support.units import KGF, LBF, PSI


@pytest.mark.parametrize(
    ("name", "text", "unit", "value"),
    [
        ("job.customer", " Z. A. ", "inch", "Z. A."),
        ("kit.lines", "Separate", "inch", "separate"),
        ("vehicle.wheelbase", "119", "inch", 119 * 25.4),
        ("vehicle.wheelbase", "302", "cm", 3020.0),
        ("vehicle.wheelbase", "3020", "mm", 3020.0),
        ("vehicle.wheelbase", "119 in", "mm", 119 * 25.4),
        ("tape.graduation", "1/16 in", "mm", 25.4 / 16),
        ("leak.altitude", "1000", "inch", 304.8),
        ("leak.altitude", "300", "mm", 300.0),
        ("kit.max", "100", "inch", 100 * PSI),
        ("kit.max", "700", "cm", 700.0),
        ("vehicle.gvwr", "7000", "inch", 7000 * LBF),
        ("vehicle.gvwr", "3200", "mm", 3200 * KGF),
        ("table.loads", "500; 1000;", "inch", [500 * LBF, 1000 * LBF]),
        ("trailer.tongue_share_low", "10", "inch", 10.0),
        ("lamps.aim_percent", "-1.0", "inch", -1.0),
        ("vehicle.occupants", "2", "inch", 2.0),
        ("job.date", "2026-05-04", "inch", "2026-05-04T00:00:00"),
    ],
)
def test_a_fact_is_kept_as_typed_beside_its_value(name: str, text: str, unit: BareUnit, value: FactValue) -> None:
    """A number without its unit is in that of the job, and one with it means the same everywhere."""
    stated = state_fact(name, text, unit)
    assert (stated.name, stated.entered) == (name, text.strip())
    assert stated.value == (value if isinstance(value, str) else pytest.approx(value, rel=1e-12))


@pytest.mark.parametrize("name", FACTS)
def test_every_fact_is_taken_back_by_an_empty_text(name: str) -> None:
    """Clearing a field says that it is not known, whatever its kind."""
    stated = state_fact(name, "  ", "inch")
    assert (stated.entered, stated.value) == ("", None)


@pytest.mark.parametrize("name", [name for name, fact in FACTS.items() if fact.kind != "text"])
def test_no_fact_but_a_text_takes_any_words(name: str) -> None:
    """What is no value of its kind is refused in words that the edge can show, and never recorded."""
    with pytest.raises((EntryError, QuantityError)):
        state_fact(name, "as usual", "inch")


@pytest.mark.parametrize("name", [name for name, fact in FACTS.items() if fact.kind == "choice"])
def test_every_choice_is_taken_and_a_wrong_one_is_answered_with_all(name: str) -> None:
    """Capitals do not matter; whoever types another word is told which there are."""
    choices = FACTS[name].choices
    assert [state_fact(name, choice.upper(), "inch").value for choice in choices] == list(choices)
    with pytest.raises(EntryError) as refused:
        state_fact(name, "something else", "inch")
    assert all(choice in str(refused.value) for choice in choices)


def test_a_fact_of_a_wrong_name_is_answered_with_the_nearest() -> None:
    """A slip in a sheet's key is told with what was meant, where anything is near."""
    with pytest.raises(EntryError, match=r"did you mean vehicle\.wheelbase"):
        state_fact("vehicle.weelbase", "119", "inch")
    with pytest.raises(EntryError, match="did you mean …"):
        state_fact("§§§", "119", "inch")


def test_a_load_behind_the_rear_axle_counts_backwards() -> None:
    """The distance is typed as a tape gives it; the side says its sign."""
    behind = state_load(" hitch rack ", " 80 ", place="24", side="behind", unit="inch")
    assert (behind.name, behind.entered, behind.place_entered) == ("hitch rack", "80", "24 behind the rear axle")
    assert behind.weight_N == pytest.approx(80 * LBF, rel=1e-12)
    assert behind.ahead_mm == pytest.approx(-24 * 25.4)
    ahead = state_load("box", "40", place="500", side="ahead of", unit="mm")
    assert ahead.weight_N == pytest.approx(40 * KGF, rel=1e-12)
    assert ahead.ahead_mm == 500.0


def test_a_load_needs_a_name_a_weight_and_a_place() -> None:
    """Without any of them the axles cannot be told, and nothing is recorded."""
    with pytest.raises(EntryError, match="name"):
        state_load(" ", "80", place="24", side="behind", unit="inch")
    with pytest.raises(QuantityError):
        state_load("box", "", place="24", side="behind", unit="inch")
    with pytest.raises(QuantityError):
        state_load("box", "80", place="", side="behind", unit="inch")


def test_only_a_load_that_is_on_board_is_taken_out() -> None:
    """Another name changes nothing."""
    assert remove_load("box", ["box", "rack"]).name == "box"
    with pytest.raises(EntryError, match="crate"):
        remove_load("crate", ["box", "rack"])
