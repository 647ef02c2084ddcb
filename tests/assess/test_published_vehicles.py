"""Two published cars: heights made from their rates by statics give the rates, loads, changes and pressures back.

Source: parameter sets 1 and 2 of the package `commonroad-vehicle-models` (wheelbase, spring and tyre rates, from US
Department of Transportation data). Loads, overhang and helper springs are invented. The statics here is the test's own:
each wheel a spring on a tyre, the body rigid, air a force across the suspension that the tyre does not see.
"""

from __future__ import annotations

import importlib
from dataclasses import dataclass

import pytest

from cornerwalk.assess.air import KitLimits, recommend, unloaded_target
from cornerwalk.assess.air_line import Trial, fit_line
from cornerwalk.assess.axles import (
    LoadAt,
    axle_gains,
    carried_load,
    load_of_rear_gain,
    rear_gain_of_drop,
    ride_rate,
)
from cornerwalk.assess.estimate import Estimate
from cornerwalk.assess.restoration import restoration_by_heights, restoration_by_weights
from cornerwalk.assess.tires import compliance_mm_per_N, squash_mm
from cornerwalk.assess.weighing import ScaleTicket
from tests.support.known import known

pytest.importorskip("vehiclemodels", reason="the package with the published parameter sets is not installed")

TONGUE_N, OVERHANG_mm = 900.0, 1050.0
AIR_N_PER_kPa = 6.0  # both helper springs together
U_MM = 0.65
UNLOADED_FRONT_mm, UNLOADED_REAR_mm = 690.0, 700.0


@dataclass(frozen=True)
class Car:
    """Per axle, both wheels together."""

    wheelbase_mm: float
    front_N: float
    rear_N: float
    front_springs: float
    rear_springs: float
    tyres: float

    @property
    def front_rate(self) -> float:
        return 1 / (1 / self.front_springs + 1 / self.tyres)

    @property
    def rear_rate(self) -> float:
        return 1 / (1 / self.rear_springs + 1 / self.tyres)

    @property
    def rear_gain_N(self) -> float:
        return TONGUE_N + self.front_loss_N

    @property
    def front_loss_N(self) -> float:
        return TONGUE_N * OVERHANG_mm / self.wheelbase_mm

    def rear_mm(self, gain_N: float, pressure_kPa: float = 0.0) -> float:
        """Tyres sink under the gain; springs under the gain less what the air bears."""
        spring_N = gain_N - AIR_N_PER_kPa * pressure_kPa
        return UNLOADED_REAR_mm - gain_N / self.tyres - spring_N / self.rear_springs


@pytest.fixture(params=[1, 2])
def car(request: pytest.FixtureRequest) -> Car:
    module = importlib.import_module(f"vehiclemodels.parameters_vehicle{request.param}")
    p = getattr(module, f"parameters_vehicle{request.param}")()
    wheelbase_m = p.a + p.b
    return Car(
        wheelbase_mm=wheelbase_m * 1000,
        front_N=p.m * 9.80665 * p.b / wheelbase_m,
        rear_N=p.m * 9.80665 * p.a / wheelbase_m,
        front_springs=2 * p.K_sf / 1000,
        rear_springs=2 * p.K_sr / 1000,
        tyres=2 * p.K_zt / 1000,
    )


def height(mm: float) -> Estimate:
    return Estimate(mm, U_MM)


def test_the_sets_are_the_published_ones(car: Car) -> None:
    """The package still holds the wheelbases, mm, and rear spring rates, N/mm, that these tests know."""
    published = ((2392.68, 2 * 21.898332), (2578.91, 2 * 19.635505))
    assert any((car.wheelbase_mm, car.rear_springs) == pytest.approx(pair, rel=1e-5) for pair in published)


def test_rate_and_load_come_back(car: Car) -> None:
    """The drop made by springs and tyres in series gives their rate; another drop gives its tongue load."""
    gains = known(axle_gains([LoadAt(Estimate(TONGUE_N), Estimate(-OVERHANG_mm))], Estimate(car.wheelbase_mm)))
    assert gains.rear.value == pytest.approx(car.rear_gain_N, rel=1e-12)
    rate = known(ride_rate(gains.rear, height(UNLOADED_REAR_mm), height(car.rear_mm(gains.rear.value))).rate)
    assert rate.value == pytest.approx(car.rear_rate, rel=1e-10)
    half_drop_mm = UNLOADED_REAR_mm - car.rear_mm(gains.rear.value / 2)
    gain = known(rear_gain_of_drop(rate, Estimate(half_drop_mm, U_MM)))
    tongue_N = load_of_rear_gain(gain.value, car.wheelbase_mm, -OVERHANG_mm)
    assert tongue_N == pytest.approx(TONGUE_N / 2, rel=1e-10)


def test_pressure_for_the_unloaded_height_comes_back(car: Car) -> None:
    """The pressure found from two trials is the one at which the statics stands at its unloaded height."""
    trials = [Trial(Estimate(p), Estimate(car.rear_mm(car.rear_gain_N, p), U_MM)) for p in (100.0, 170.0)]
    ours = recommend(
        fit_line(trials), unloaded_target(height(UNLOADED_REAR_mm)), KitLimits(minimum_kPa=34.5, maximum_kPa=1000.0)
    )
    assert car.rear_mm(car.rear_gain_N, known(ours.recommended_kPa)) == pytest.approx(UNLOADED_REAR_mm, abs=1e-9)


def test_what_the_springs_carry_needs_the_tyres(car: Car) -> None:
    """With the tires' compliance, or heights from the wheel center, the load carried is exact; without, a tenth low."""
    pressure_kPa = 150.0
    true_N = AIR_N_PER_kPa * pressure_kPa
    gain, loaded_mm = Estimate(car.rear_gain_N), car.rear_mm(car.rear_gain_N)
    unloaded, loaded = height(UNLOADED_REAR_mm), height(loaded_mm)
    fitted_mm = car.rear_mm(car.rear_gain_N, pressure_kPa)
    without = known(carried_load(gain, unloaded, loaded, height(fitted_mm)))
    assert 0.88 < without.force_N / true_N < 0.91
    with_tires = known(carried_load(gain, unloaded, loaded, height(fitted_mm), Estimate(1 / car.tyres)))
    assert with_tires.force_N == pytest.approx(true_N, rel=1e-9)
    sunk_mm = car.rear_gain_N / car.tyres
    from_center = known(carried_load(gain, unloaded, height(loaded_mm + sunk_mm), height(fitted_mm + sunk_mm)))
    assert from_center.force_N == pytest.approx(true_N, rel=1e-9)


def test_wheel_center_heights_come_back_to_the_ground(car: Car) -> None:
    """What the tires gave way, taken off a change read from the wheel center, is the change read from the ground."""
    over_ground_mm = car.rear_mm(car.rear_gain_N) - UNLOADED_REAR_mm
    from_center_mm = over_ground_mm + car.rear_gain_N / car.tyres
    compliance = compliance_mm_per_N(car.tyres / 2, 2, 0)
    assert from_center_mm - squash_mm(Estimate(car.rear_gain_N), compliance).value == pytest.approx(over_ground_mm)


@pytest.mark.parametrize("share", [0.0, 0.5, 0.8, 1.0, 1.3])
def test_weights_and_heights_agree_on_what_is_restored(car: Car, share: float) -> None:
    """A hitch that gives back this share of the front's loss shows the same per cent on scale and tape."""
    weights_N = (car.front_N, car.front_N - car.front_loss_N, car.front_N - (1 - share) * car.front_loss_N)
    heights_mm = [UNLOADED_FRONT_mm + (car.front_N - weight_N) / car.front_rate for weight_N in weights_N]
    by_weights = restoration_by_weights(
        unhitched=ScaleTicket(front_N=weights_N[0]),
        hitched=ScaleTicket(front_N=weights_N[1]),
        distributed=ScaleTicket(front_N=weights_N[2]),
    )
    by_heights = restoration_by_heights(*(Estimate(mm, U_MM) for mm in heights_mm))
    assert by_weights.percent == pytest.approx(100 * share, abs=1e-6)
    assert by_heights.percent == pytest.approx(100 * share, abs=1e-6)
