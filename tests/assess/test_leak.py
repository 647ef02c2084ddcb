"""The hold test: open textbooks' tyres, the trap of gauge pressures, and what a short or coarse test may say."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from cornerwalk.assess.leak import GaugeReading, HoldTest, hold_test, local_atmosphere
from tests.support.units import PSI

ATM_KPA = 101.325


def expected(
    pressure_kPa: float, start_C: float, end_C: float, *, air_kPa: float = ATM_KPA, end_air_kPa: float = 0
) -> float:
    """The gauge that a sound line must show at the end."""
    test = hold_test(
        GaugeReading(pressure_kPa=pressure_kPa, temperature_C=start_C, atmosphere_kPa=air_kPa),
        GaugeReading(pressure_kPa=pressure_kPa, temperature_C=end_C, atmosphere_kPa=end_air_kPa or air_kPa),
        graduation_kPa=PSI,
    )
    assert test.expected_kPa is not None
    return test.expected_kPa


def fahrenheit(degrees: float) -> float:
    return (degrees - 32) * 5 / 9


# Source: OpenStax University Physics Vol. 2, module m58391 (also College Physics 2e, m42216): a bicycle tyre of
# 7.00×10⁵ Pa absolute from 18.0 to 35.0 °C has 7.41×10⁵ Pa (seen, recomputed 7.40872×10⁵).
def test_bicycle_tyre_of_open_textbook() -> None:
    """Handed in as gauge, the absolute pressure of the book comes out to its three digits."""
    absolute_kPa = expected(700.0 - ATM_KPA, 18.0, 35.0) + ATM_KPA
    assert round(absolute_kPa) == 741
    assert absolute_kPa == pytest.approx(740.872, abs=0.001)


# Source: OpenStax College Physics 2e, m42216, answer printed: gauge 2.50×10⁵ N/m², 35.0 → −40.0 °C: 1.62 atm gauge
# (seen; 1.64492×10⁵ Pa with 273.15). Done with gauge pressures only it would be 1.8665 atm.
def test_car_tyre_of_open_textbook_and_the_gauge_trap() -> None:
    """A cold tyre gives the printed answer, which a ratio of gauge pressures misses by 15 %."""
    gauge_kPa = expected(250.0, 35.0, -40.0)
    assert round(gauge_kPa / ATM_KPA, 2) == 1.62
    assert gauge_kPa == pytest.approx(164.492, abs=0.001)
    trap_atm = 250.0 * (273.15 - 40) / (273.15 + 35) / ATM_KPA
    assert trap_atm == pytest.approx(1.8665, abs=0.0005)
    assert abs(gauge_kPa / ATM_KPA - trap_atm) > 0.2


# Source: OpenStax Chemistry 2e, module m68751: a can of 360 kPa from 24 to 50 °C has 390 kPa; nitrogen of 600 torr from
# 27 to −73 °C has 400 torr (seen; recomputed 391.515 kPa and, with 273, 400.0).
def test_closed_vessels_of_open_textbook() -> None:
    """A can and a bulb, absolute, agree with the print to its two digits."""
    can_kPa = expected(360.0 - ATM_KPA, 24.0, 50.0) + ATM_KPA
    assert float(f"{can_kPa:.2g}") == 390.0
    assert can_kPa == pytest.approx(391.50, abs=0.02)
    torr_kPa = ATM_KPA / 760
    bulb_torr = (expected(600 * torr_kPa - ATM_KPA, 27.0, -73.0) + ATM_KPA) / torr_kPa
    assert bulb_torr == pytest.approx(400.0, abs=0.1)


# Source: OpenStax College Physics 2e, m42195: a 34 psi tyre is 48.7 psi absolute, 336 kPa (seen, recomputed 335.7747).
def test_gauge_plus_atmosphere_is_absolute() -> None:
    """At one temperature and under no atmosphere a gauge would show what it hides now."""
    in_space_kPa = expected(34 * PSI, 20.0, 20.0, end_air_kPa=1e-6)
    assert round(in_space_kPa / PSI, 1) == 48.7
    assert round(in_space_kPa) == 336


# Source: gas law, rigid volume, sea level, 68 → 58 °F (derived): change in psi for a gauge of so many psi.
@pytest.mark.parametrize(
    ("psi", "change_psi"),
    [
        (5, -0.3733),
        (20, -0.6575),
        (30, -0.8470),
        (35, -0.9418),
        (50, -1.2261),
        (70, -1.6051),
        (80, -1.7946),
        (100, -2.1736),
    ],
)
def test_ten_degrees_colder(psi: float, change_psi: float) -> None:
    """10 °F colder costs less than the rule of thumb's 1 psi below 38 psi, more above it."""
    change = expected(psi * PSI, fahrenheit(68), fahrenheit(58)) / PSI - psi
    assert change == pytest.approx(change_psi, abs=5e-5)
    assert (change > -1) == (psi < 38.0711)


# Source: derived with the standard atmosphere: a rigid line of 50 psi at sea level shows 52.4316 psi at 1500 m; 35 psi
# at 70 °F shows 32.1853 psi at 40 °F.
def test_altitude_and_cold() -> None:
    """Driven up a mountain a sound line reads more, left in the cold less, and neither is a leak."""
    mountain_kPa = local_atmosphere(altitude_m=1500.0).pressure_kPa
    uphill = expected(50 * PSI, 20.0, 20.0, end_air_kPa=mountain_kPa)
    assert uphill / PSI == pytest.approx(52.4316, abs=5e-5)
    assert expected(35 * PSI, fahrenheit(70), fahrenheit(40)) / PSI == pytest.approx(32.1853, abs=5e-5)


def test_u_of_loss_agrees_with_independent_propagation() -> None:
    """Graduation at both ends, thermometer at both ends and weather carry through as differentiation says."""
    u_gauge = PSI / 12**0.5
    p1, p2 = ufloat(206.8, u_gauge), ufloat(186.2, u_gauge)
    t1, t2 = ufloat(295.37, 0.5), ufloat(278.15, 0.5)
    loss = (p1 + 101.325) * t2 / t1 - (101.1 + ufloat(0, 0.2)) - p2
    ours = hold_test(
        GaugeReading(pressure_kPa=p1.n, temperature_C=t1.n - 273.15, atmosphere_kPa=101.325),
        GaugeReading(pressure_kPa=p2.n, temperature_C=t2.n - 273.15, atmosphere_kPa=101.1),
        graduation_kPa=PSI,
        u_temperature_K=0.5,
        u_weather_kPa=0.2,
    )
    assert (ours.loss_kPa, ours.u_loss_kPa) == pytest.approx((loss.n, loss.s), rel=1e-9)


def held(
    end_psi: float, hours: float | None, *, period_h: float | None = 24.0, graduation_psi: float = 1.0
) -> HoldTest:
    reading = GaugeReading(pressure_kPa=30 * PSI, temperature_C=20.0, atmosphere_kPa=ATM_KPA)
    return hold_test(
        reading,
        GaugeReading(pressure_kPa=end_psi * PSI, temperature_C=20.0, atmosphere_kPa=ATM_KPA),
        graduation_kPa=graduation_psi * PSI,
        hours=hours,
        minimum_kPa=5 * PSI,
        period_h=period_h,
    )


def test_a_short_test_is_not_taken_for_a_day() -> None:
    """One hour without loss is marked short of the limit's period, and scaled to that period it has its own ±."""
    hour, day = held(30, 1.0), held(30, 24.0)
    assert (hour.shorter, day.shorter) == (True, False)
    assert hour.u_per_period_kPa == pytest.approx(24 * hour.u_loss_kPa)  # type: ignore[operator]
    assert day.u_per_period_kPa == pytest.approx(day.u_loss_kPa)
    assert held(30, None).shorter is None
    assert held(30, 1.0, period_h=None).shorter is None


def test_when_the_minimum_is_reached() -> None:
    """A loss of 10 psi in 10 h from 30 leaves 15 h to the minimum of 5; at the minimum already, none."""
    leak = held(20, 10.0)
    assert leak.leaking is True
    assert leak.rate_kPa_per_h == pytest.approx(PSI)
    assert leak.hours_to_minimum == pytest.approx(15.0)
    assert held(4, 10.0).hours_to_minimum == 0.0


def test_what_the_gauge_cannot_show_is_no_leak() -> None:
    """Half a division lost on a coarse gauge is within U: no leak, and no time is foretold."""
    coarse, fine = held(29.5, 10.0, graduation_psi=2.0), held(29.5, 10.0, graduation_psi=0.1)
    assert (coarse.leaking, coarse.hours_to_minimum) == (False, None)
    assert fine.leaking is True
    assert fine.hours_to_minimum is not None


def test_without_a_temperature_nothing_is_said_but_the_difference() -> None:
    """The raw difference is shown; whether it is a leak is not guessed."""
    ours = hold_test(
        GaugeReading(pressure_kPa=200.0, temperature_C=20.0, atmosphere_kPa=ATM_KPA),
        GaugeReading(pressure_kPa=190.0, temperature_C=None, atmosphere_kPa=ATM_KPA),
        graduation_kPa=PSI,
    )
    assert ours == HoldTest(raw_loss_kPa=10.0, reason="temperature missing")
    assert hold_test(None, None, graduation_kPa=PSI).reason == "readings missing"


@pytest.mark.parametrize(("pressure_kPa", "temperature_C"), [(200.0, -300.0), (-150.0, 20.0)])
def test_impossible_readings_are_named(pressure_kPa: float, temperature_C: float) -> None:
    """Colder than absolute zero or emptier than a vacuum is a misreading, not a result."""
    bad = GaugeReading(pressure_kPa=pressure_kPa, temperature_C=temperature_C, atmosphere_kPa=ATM_KPA)
    assert hold_test(bad, bad, graduation_kPa=PSI).reason == "impossible reading"


_amount = st.none() | st.floats(allow_nan=True, allow_infinity=True)
_reading = st.none() | st.builds(
    GaugeReading,
    pressure_kPa=st.floats(allow_nan=True, allow_infinity=True),
    temperature_C=_amount,
    atmosphere_kPa=st.floats(allow_nan=True, allow_infinity=True),
)


@given(_reading, _reading, _amount, _amount, _amount, _amount, st.floats(), st.floats())
def test_any_readings_any_of_them_missing(
    start: GaugeReading | None,
    end: GaugeReading | None,
    graduation_kPa: float | None,
    hours: float | None,
    minimum_kPa: float | None,
    period_h: float | None,
    u_temperature_K: float,
    u_weather_kPa: float,
) -> None:
    """No input makes a NaN, an infinity or a crash; there is a loss or a reason."""
    ours = hold_test(
        start,
        end,
        graduation_kPa=graduation_kPa,
        hours=hours,
        minimum_kPa=minimum_kPa,
        period_h=period_h,
        u_temperature_K=u_temperature_K,
        u_weather_kPa=u_weather_kPa,
    )
    assert (ours.loss_kPa is None) == (ours.reason is not None)
    figures = [getattr(ours, name) for name in ours.__slots__ if name not in ("reason", "leaking", "shorter")]
    assert all(figure is None or math.isfinite(figure) for figure in figures)
