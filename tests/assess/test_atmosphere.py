"""The standard atmosphere: against a reference library and printed tables, and which altitude is meant."""

from __future__ import annotations

import math

import pytest
from fluids.atmosphere import ATMOSPHERE_1976
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.leak import local_atmosphere, pressure_at_geopotential_kPa, standard_pressure_kPa
from tests.support.units import PSI

FOOT_M = 0.3048


@pytest.mark.parametrize("altitude_m", [-400, 0, 100, 500, 1000, 1500, 2000, 3000, 4500, 6000, 10000])
def test_reference_library_agrees(altitude_m: float) -> None:
    """A library's U.S. Standard Atmosphere 1976 gives the same pressure to 0.02 Pa."""
    ours = standard_pressure_kPa(altitude_m)
    assert ours is not None
    assert ours * 1000 == pytest.approx(ATMOSPHERE_1976(altitude_m).P, abs=0.02)


# Source: constants of U.S. Standard Atmosphere 1976 (seen), the two columns recomputed with two libraries; Pa.
@pytest.mark.parametrize(
    ("altitude_m", "geometric_Pa", "geopotential_Pa"),
    [
        (0, 101325.00, 101325.00),
        (500, 95461.29, 95460.84),
        (1000, 89876.29, 89874.57),
        (1500, 84559.68, 84556.00),
        (2000, 79501.42, 79495.22),
        (3000, 70121.16, 70108.54),
    ],
)
def test_geometric_is_not_geopotential(altitude_m: float, geometric_Pa: float, geopotential_Pa: float) -> None:
    """The altitude of a map is the geometric one; the formula's own is another, 3.7 Pa off at 1500 m."""
    geometric, geopotential = standard_pressure_kPa(altitude_m), pressure_at_geopotential_kPa(altitude_m)
    assert geometric is not None
    assert geopotential is not None
    assert round(geometric * 1000, 2) == geometric_Pa
    assert round(geopotential * 1000, 2) == geopotential_Pa


# Source: a printed pressure-altitude table (seen): 5,000 ft 12.230 psia, 10,000 ft 10.108 psia.
@pytest.mark.parametrize(("feet", "psia"), [(5000, 12.230), (10000, 10.108)])
def test_printed_table(feet: float, psia: float) -> None:
    """A printed table agrees to 0.003 psi, its own consistency."""
    ours = pressure_at_geopotential_kPa(feet * FOOT_M)
    assert ours is not None
    assert ours / PSI == pytest.approx(psia, abs=0.003)


def test_barometer_wins_over_altitude_and_both_over_sea_level() -> None:
    """A reading at the place is better than a standard, a stated altitude better than an assumed one."""
    assert local_atmosphere(altitude_m=1500.0, barometer_kPa=84.0).basis == "barometer"
    assert local_atmosphere(altitude_m=1500.0).basis == "altitude"
    assert local_atmosphere().basis == "sea level, assumed"
    assert local_atmosphere().pressure_kPa == 101.325


@pytest.mark.parametrize("barometer_kPa", [0.0, 1.0132, 760.0, 1013.25, float("nan")])
def test_no_air_pressure_of_any_road(barometer_kPa: float) -> None:
    """A barometer in the wrong unit is not taken for the atmosphere."""
    assert local_atmosphere(barometer_kPa=barometer_kPa).basis == "sea level, assumed"


# Oracle: the reference library again; z = r₀·H/(r₀ − H) brings the layer's ends to the altitudes it takes.
@pytest.mark.parametrize("geopotential_m", [-5000.0, 11000.0])
def test_the_layer_ends_with_its_ends(geopotential_m: float) -> None:
    """At its lowest and its highest altitude the layer still has a pressure; a metre beyond none is given."""
    geometric_m = 6356766.0 * geopotential_m / (6356766.0 - geopotential_m)
    ours = pressure_at_geopotential_kPa(geopotential_m)
    assert ours is not None
    assert ours * 1000 == pytest.approx(ATMOSPHERE_1976(geometric_m).P, rel=1e-6)
    assert pressure_at_geopotential_kPa(geopotential_m + math.copysign(1.0, geopotential_m)) is None


def test_no_air_at_the_middle_of_the_earth() -> None:
    """Where the formula of the altitude would divide by nought there is no road, and no pressure is given."""
    assert standard_pressure_kPa(-6356766.0) is None


@pytest.mark.parametrize(
    ("barometer_kPa", "basis"),
    [
        (19.9, "sea level, assumed"),
        (20.0, "barometer"),
        (120.0, "barometer"),
        (120.1, "sea level, assumed"),
    ],
)
def test_a_barometer_counts_from_20_to_120_kPa(barometer_kPa: float, basis: str) -> None:
    """Both ends count; what lies beyond is no air pressure of any road (judgement, no source)."""
    assert local_atmosphere(barometer_kPa=barometer_kPa).basis == basis


@given(st.none() | st.floats(), st.none() | st.floats())
def test_any_altitude(altitude_m: float | None, barometer_kPa: float | None) -> None:
    """Whatever is stated, the answer is a pressure that air can have."""
    assert 20.0 <= local_atmosphere(altitude_m=altitude_m, barometer_kPa=barometer_kPa).pressure_kPa <= 180.0
    for answer in (standard_pressure_kPa(altitude_m), pressure_at_geopotential_kPa(altitude_m)):
        assert answer is None or 20.0 <= answer <= 180.0
