"""The glovebox table of a job: what another tongue load asks for with everything else aboard as it was.

Oracle: automatic propagation. The vehicle and its loads are invented.
"""

from __future__ import annotations

from typing import Any

import pytest
from uncertainties import ufloat

from tests.support.jobs import job_of

U_MM = ((1.0**2) / 12 + 0.6**2) ** 0.5
"""A 1 mm tape put on the same point to 0.6 mm."""

HEAD = """unit = "mm"
[tape]
graduation = "1 mm"
place = "0.6 mm"
[vehicle]
wheelbase = "2800 mm"
[kit]
min = "40 kPa"
max = "260 kPa"
[[load]]
name = "cargo"
weight = "100 kg"
ahead_of_rear_axle = "700 mm"
[[load]]
name = "tongue"
weight = "80 kg"
behind_rear_axle = "1000 mm"
[table]
loads = ["60 kg"]
"""


def stage(name: str, right_mm: int, left_mm: int, air: str = "") -> str:
    """A stage whose rear corners stand so."""
    fronts = 'LF = "703"\nRF = "705"'
    return f'[[stage]]\nname = "{name}"\n{air}\n{fronts}\nRR = "{right_mm}"\nLR = "{left_mm}"\n'


UNLOADED, LOADED = stage("unloaded", 720, 724), stage("loaded", 690, 692)
TRIALS = stage("fitted", 704, 700, 'pressure = "100 kPa"') + stage("fitted", 712, 716, 'pressure = "180 kPa"')


def mean(right_mm: int, left_mm: int) -> Any:
    return (ufloat(right_mm, U_MM) + ufloat(left_mm, U_MM)) / 2


@pytest.mark.parametrize(("allowed", "drop_mm"), [("", 0.0), ('drop_allowed = "6 mm"\n', 6.0)])
def test_the_table_keeps_the_other_loads_aboard(allowed: str, drop_mm: float) -> None:
    """A row for another tongue load: the drop goes with the rear's gain, cargo and all, and the line gives the air.

    By hand: with drop D and gains G, G' the pressure is where the line stands D·G'/G − d above the loaded height.
    """
    (row,) = job_of(HEAD + allowed + UNLOADED + LOADED + TRIALS).assessment.pressure_table
    gain, other = (100 * (2800 - 700) / 2800 + kg * (2800 + 1000) / 2800 for kg in (80, 60))
    unloaded, loaded, first, second = mean(720, 724), mean(690, 692), mean(704, 700), mean(712, 716)
    needed = loaded + (unloaded - loaded) * (other / gain) - drop_mm
    kPa = 100 + (needed - first) * 80 / (second - first)
    assert row.load_N == pytest.approx(60 * 9.80665, rel=1e-9)
    assert row.pressure_kPa == pytest.approx(kPa.nominal_value, rel=1e-9)
    assert row.u_pressure_kPa == pytest.approx(kPa.std_dev, rel=1e-9)
    assert (row.recommended_kPa, row.beyond) == (row.pressure_kPa, None)


@pytest.mark.parametrize("stages", [UNLOADED + TRIALS, LOADED + TRIALS, UNLOADED + LOADED])
def test_no_row_without_what_it_rests_on(stages: str) -> None:
    """Without the rear's height unloaded, loaded without air, or the trials, no row is made up."""
    assert job_of(HEAD + stages).assessment.pressure_table == ()
