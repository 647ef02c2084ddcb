"""The aim rules as data against the published texts they come from."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.standards import AimRule, Standards, load_standards
from tests.support.known import known

STANDARDS: Standards = load_standards()


def rule(rule_id: str) -> AimRule:
    return STANDARDS.aim_rule(rule_id)


def band(rule_id: str, height_mm: float | None = None) -> tuple[float | None, float | None]:
    """Upper and lower limit of a rule, per cent."""
    found = known(rule(rule_id).band_percent(height_mm))
    return found.upper_percent, found.lower_percent


# Source: FMVSS No. 108, 49 CFR 571.108 S14.2.5.5.3.1 and .2 (second-hand): cut-off at 0.4° down, and at H-H.
def test_federal_aims_of_left_and_right_cut_offs() -> None:
    """The two federal rules name 0.4° down and level, and no limits for a vehicle in use."""
    assert rule("us-vol").nominal_deg == -0.4
    assert rule("us-vor").nominal_deg == 0.0
    for rule_id in ("us-vol", "us-vor"):
        assert rule(rule_id).band_percent(700.0) is None
        assert rule(rule_id).why_no_band(700.0) == "no limits"
        assert rule(rule_id).standing == "second-hand"
        assert rule(rule_id).distance_mm == 7620.0


# Source: derived from FMVSS 108 S14.2.5.5.3.1: 0.4° is 0.6981 % down.
def test_federal_aim_in_per_cent() -> None:
    """0.4° down is 0.6981 % down."""
    assert rule("us-vol").nominal_percent == pytest.approx(-0.6981, abs=5e-5)
    assert rule("un-r48-09").nominal_percent is None


# Source: Utah Admin. Code R714-160-13(1) (seen), 4 in at 10 ft; SAE J599 (memory), 4 in at 25 ft. Derived: 3.3333 % and
# 1.3333 %, 1.90915° and 0.76390°.
def test_same_four_inches_at_two_distances() -> None:
    """Trap: 4 in is two and a half times the angle at Utah's 10 ft that it is at 25 ft."""
    widths = {}
    for rule_id, percent, degrees in (("us-utah-10ft", 3.3333, 1.90915), ("us-4in-25ft-right", 1.3333, 0.76390)):
        upper, lower = band(rule_id)
        assert upper is not None
        assert lower is not None
        half = (upper - lower) / 2
        widths[rule_id] = half
        assert half == pytest.approx(percent, abs=5e-5)
        assert math.degrees(math.atan(half / 100)) == pytest.approx(degrees, abs=5e-6)
    assert widths["us-utah-10ft"] == pytest.approx(2.5 * widths["us-4in-25ft-right"])
    assert rule("us-utah-10ft").distance_mm == 3048.0


def test_deviation_is_counted_from_the_nominal() -> None:
    """A rule of so many inches either way lies about its nominal aim, on the screen."""
    upper, lower = band("us-4in-25ft")
    nominal = 100 * math.tan(math.radians(-0.4))
    assert upper == pytest.approx(nominal + 100 * 4 / 300, abs=1e-12)
    assert lower == pytest.approx(nominal - 100 * 4 / 300, abs=1e-12)


# Source: UN R48 09 series, 6.2.6.1.2 (second-hand); points recomputed from its formula.
@pytest.mark.parametrize(
    ("height_mm", "upper", "lower"),
    [
        (500.0, -0.5000, -1.7000),
        (700.0, -0.5000, -1.9000),
        (800.0, -0.5000, -2.0000),
        (900.0, -0.5000, -2.1000),
        (900.0000001, -0.5030, -2.1030),
        (1000.0, -0.7200, -2.3200),
        (1100.0, -0.9370, -2.5370),
        (1200.0, -1.1540, -2.7540),
    ],
)
def test_un_r48_09_formula(height_mm: float, upper: float, lower: float) -> None:
    """The 09-series band follows the published formula, with its 0.003 step just above 0.9 m."""
    assert band("un-r48-09", height_mm) == pytest.approx((upper, lower), abs=1e-9)


def test_un_r48_09_ends_where_its_text_does() -> None:
    """Outside 0.5 to 1.2 m the rule gives no band and says that the height is the reason."""
    for height_mm in (499.9, 1200.1):
        assert rule("un-r48-09").band_percent(height_mm) is None
        assert rule("un-r48-09").why_no_band(height_mm) == "height outside the rule"
    assert rule("un-r48-09").why_no_band(None) == "height needed"


# Source: UN R48 up to the 08 series, 6.2.6.1 (memory; the lowest band second-hand from an EU directive's text).
@pytest.mark.parametrize(
    ("rule_id", "height_mm", "expected"),
    [
        ("un-r48-08", 799.0, (-0.5, -2.5)),
        ("un-r48-08", 1000.0, (-0.5, -2.5)),
        ("un-r48-08", 1000.1, (-1.0, -3.0)),
        ("un-r48-08-low", 799.9, (-0.5, -2.5)),
        ("un-r48-08-low", 800.0, (-1.0, -3.0)),
    ],
)
def test_un_r48_bands_before_the_09_series(rule_id: str, height_mm: float, expected: tuple[float, float]) -> None:
    """The older bands change at 1 m, or at 0.8 m where the maker chose so; they say that they are from memory."""
    assert band(rule_id, height_mm) == expected
    found = known(rule(rule_id).band_percent(height_mm))
    assert found.standing == "memory"


# Source: UN R48, both series as above. Case: h = 0.8 m, beam 2.3 % down.
def test_old_bands_and_new_formula_disagree() -> None:
    """Trap: a beam 2.3 % down from 0.8 m is inside the old band and outside the new one."""
    old, new = band("un-r48-08", 800.0), band("un-r48-09", 800.0)
    assert old[1] is not None
    assert new[1] is not None
    assert old[1] <= -2.3 < new[1]


# Source: UK authority's announcement, from 24 March 2016 (seen): up to 850 mm 0.5 to 2.75 % down; above 850 mm 1.25 to
# 2.75 % down (second-hand).
@pytest.mark.parametrize(
    ("height_mm", "upper", "standing"), [(850.0, -0.5, "seen"), (850.1, -1.25, "second-hand"), (600.0, -0.5, "seen")]
)
def test_uk_bands_by_height(height_mm: float, upper: float, standing: str) -> None:
    """The UK bands change above 850 mm to the lamp centre, and each carries its own standing."""
    found = known(rule("uk-mot").band_percent(height_mm))
    assert (found.upper_percent, found.lower_percent, found.standing) == (upper, -2.75, standing)


# Source: NZ VIRM In-Service v2 amendment 2 (2005), p. 4-1-4 (second-hand): 30 to 45 mm at 3 m; 1.3 % is 39 mm there.
def test_new_zealand_band_is_lengths_at_3_m() -> None:
    """The New Zealand band is 30.00 to 45.00 mm at 3 m, and 1.3 % falls 39.00 mm there, inside it."""
    upper, lower = band("nz-virm", 765.0)
    assert upper is not None
    assert lower is not None
    distance_mm = rule("nz-virm").distance_mm
    assert (distance_mm * -upper / 100, distance_mm * -lower / 100) == pytest.approx((30.0, 45.0), abs=1e-9)
    assert distance_mm * 1.3 / 100 == pytest.approx(39.0, abs=1e-9)
    assert lower < -1.3 < upper


# Source: 49 CFR 571.108 S6.1.4 (lamp centre), UN R48 5.4 and 6.2.6.1 (lower edge), UK test (lamp centre).
def test_height_datum_differs_between_rules() -> None:
    """Trap: US and UK rules go by the lamp centre, UN R48 by the lower edge of the lit surface."""
    by_datum = {rule.id: rule.datum for rule in STANDARDS.aim_rules.values()}
    assert {rule_id for rule_id, datum in by_datum.items() if datum == "lower edge"} == {
        "un-r48-09",
        "un-r48-08",
        "un-r48-08-low",
    }
    assert by_datum["us-vol"] == by_datum["uk-mot"] == "lamp centre"


def test_none_chosen_judges_nothing() -> None:
    """The rule "none" is one like any other, with neither an aim nor limits."""
    assert rule("none").nominal_deg is None
    assert rule("none").band_percent(700.0) is None
    assert rule("none").why_no_band(700.0) == "no limits"


@given(st.sampled_from(sorted(STANDARDS.aim_rules)), st.floats(min_value=0.0, max_value=3000.0))
def test_every_band_is_a_band(rule_id: str, height_mm: float) -> None:
    """At any height a rule gives a band with its upper limit above its lower one, or says why it gives none."""
    found = rule(rule_id).band_percent(height_mm)
    assert (found is None) == (rule(rule_id).why_no_band(height_mm) is not None)
    if found is not None and found.upper_percent is not None and found.lower_percent is not None:
        assert found.lower_percent < found.upper_percent


def test_every_rule_names_its_source_and_standing() -> None:
    """No aim rule is without a title, a source and a standing; one from memory never says it was seen."""
    for each in STANDARDS.aim_rules.values():
        assert each.title
        assert each.source
        assert each.standing in ("seen", "second-hand", "memory", "common practice", "own")
    from_memory = {each.id for each in STANDARDS.aim_rules.values() if each.standing == "memory"}
    assert from_memory == {"us-4in-25ft", "us-4in-25ft-right", "un-r48-08", "un-r48-08-low"}
