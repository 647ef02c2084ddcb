"""How figures are said."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import MILLIMETER, SIXTEENTH_INCH, Force, Length, Pressure, Torque, read_graduation
from cornerwalk.wording.figures import SCALES, Wording, graduation_label
from tests.support.units import IN

INCH = Wording("inch", SIXTEENTH_INCH)
METRIC = Wording("metric", MILLIMETER)
BOTH = Wording("both", SIXTEENTH_INCH)


# Source: the worked case of the method (invented vehicle; every figure recomputed independently): u of a mean change
# 0.0360844 in, of the pitch 0.024565°, of the beam 0.128629 in. The digits follow from GUM 7.2.6 (two significant
# digits at most) and the rule for choosing between one and two (from memory).
@pytest.mark.parametrize(
    ("said", "words"),
    [
        (INCH.height(27.625 * IN), "27 5/8"),
        (INCH.height_with_unit(27.625 * IN), "27 5/8 in"),
        (INCH.exact(701.675), "27.625 in · 701.7 mm"),
        (METRIC.exact(701.675), "701.7 mm · 27.625 in"),
        (METRIC.height(701.675), "702"),
        (Wording("metric", read_graduation("0.5 mm")).height(701.5), "701.5"),
        (INCH.change(-1.5625 * IN), "down 1 9/16"),
        (INCH.change(0.25 * IN), "up 1/4"),
        (INCH.change(0.0), "unchanged"),
        (INCH.change_pm(-1.53125 * IN, 0.0360844 * IN), "down 1.53 in ± 0.07"),
        (METRIC.change_pm(-1.53125 * IN, 0.0360844 * IN), "down 38.9 mm ± 1.8"),
        (BOTH.change_pm(-1.53125 * IN, 0.0360844 * IN), "down 1.53 in ± 0.07 (38.9 mm ± 1.8)"),
        (INCH.change_pm(0.0, 0.0360844 * IN), "unchanged ± 0.07 in"),
        (INCH.tilt(0.857567, 0.024565), "nose up 0.86° ± 0.05"),
        (INCH.tilt(-0.857567, 0.024565), "nose down 0.86° ± 0.05"),
        (INCH.tilt(0.001, 0.024565), "level ± 0.05°"),
        (INCH.lean(0.027129, 0.0443), "leans right 0.03° ± 0.09"),
        (INCH.lean(-0.1, 0.0443), "leans left 0.10° ± 0.09"),
        (INCH.beam(4.490296 * IN, 0.128629 * IN, 7620.0), "4.49 in ± 0.26 higher at 25 ft"),
        (METRIC.beam(-4.490296 * IN, 0.128629 * IN, 7620.0), "114 mm ± 7 lower at 7.62 m"),
        (INCH.wall(5.204319 * IN, None, 7620.0), "5.20 in above the unloaded mark at 25 ft"),
        (INCH.aim(0.457567, 0.024565, 0.798622), "aims 0.46° ± 0.05 above level (0.80 % up)"),
        (INCH.aim(-0.053943, 0.024569, -0.094147), "aims 0.05° ± 0.05 below level (0.09 % down)"),
        (INCH.reach(None, above_level=True), "never: it aims above level"),
        (INCH.reach(2561.3 * 0.3048, above_level=False), "2561 ft ahead"),
        (INCH.reach(2561.3 * 0.3048, 1340.0 * 0.3048, above_level=False), "2561 ft ahead, perhaps only 1340 ft"),
        (INCH.pressure(15 * 6.894757293168361), "15 psi"),
        (INCH.pressure(35.7143 * 6.894757293168361, 1.480 * 6.894757293168361), "35.7 psi ± 3.0"),
        (INCH.weight(410 * 4.4482216152605), "410 lb"),
        (METRIC.weight(410 * 4.4482216152605), "186 kg"),
        (INCH.gain(-158.487 * 4.4482216152605), "158 lb less"),
        (INCH.rate(65.0171), "371 lb/in"),
        (METRIC.rate(65.0171), "65.0 N/mm"),
        (INCH.slope(0.04375 * IN / 6.894757293168361, 0.0036084 * IN / 6.894757293168361), "0.044 in/psi ± 0.007"),
        (INCH.temperature((72 - 32) / 1.8), "72 °F"),
        (METRIC.temperature(22.2), "22.2 °C"),
        (INCH.hours(14.0), "14 h"),
        (INCH.hours(75.0), "about 3 days"),
        (INCH.hours(0.4), "about 24 minutes"),
        (INCH.band(50.0, 7.0), "36 % to 64 %"),
        (INCH.sides(-0.0625 * IN, 0.05 * IN), "right 0.06 in ± 0.10 higher"),
    ],
)
def test_figures_are_said_as_the_trade_says_them(said: str, words: str) -> None:
    """Each kind of figure comes out in its unit, on its side, with its ± to the same decimals."""
    assert said == words


def test_what_is_not_known_is_said_so() -> None:
    """No method fails for a figure that is missing, and none leaves an empty place."""
    said = [
        *(method(None) for method in (INCH.height, INCH.height_with_unit, INCH.exact, INCH.fine, INCH.change)),
        *(method(None) for method in (INCH.length, INCH.pressure, INCH.weight, INCH.rate, INCH.slope, INCH.percent)),
        *(method(None) for method in (INCH.temperature, INCH.torque, INCH.hours, INCH.distance_m)),
        *(method(None, None) for method in (INCH.change_pm, INCH.tilt, INCH.lean, INCH.gain, INCH.sides, INCH.band)),
        INCH.beam(None, None, 7620.0),
        INCH.wall(None, None, 7620.0),
        INCH.aim(None, None, None),
        INCH.reach(None, above_level=False),
    ]
    assert set(said) == {"not known"}


@given(st.floats(-1e6, 1e6), st.one_of(st.none(), st.floats(0, 1e4)))
def test_a_direction_is_a_word_and_never_a_sign(value: float, u: float | None) -> None:
    """Wherever a figure has a side, no minus sign is shown and the word for the other side is absent."""
    for said, above, below in (
        (INCH.change_pm(value, u), "up", "down"),
        (METRIC.beam(value, u, 7620.0), "higher", "lower"),
        (METRIC.tilt(value / 1e5, u), "nose up", "nose down"),
        (INCH.gain(value, u), "more", "less"),
    ):
        assert "-" not in said
        assert "−" not in said
        assert (below if value > 0 else above) not in said.split()


@given(st.floats(-5000, 5000), st.floats(0.001, 100))
def test_value_and_uncertainty_end_at_the_same_decimal(value: float, u: float) -> None:
    """`1.53 ± 0.07`, never `1.531 ± 0.07`: GUM 7.2.6."""
    said = METRIC.length(value, u)
    found = re.fullmatch(r"−?(?P<value>\d+(\.\d+)?) mm ± (?P<U>\d+(\.\d+)?)", said)
    assert found is not None, said
    assert len(found["value"].partition(".")[2]) == len(found["U"].partition(".")[2])


def test_the_tape_decides_how_heights_are_told() -> None:
    """A tape of sixteenths tells inches in sixteenths; a job read in mm is told in mm to its marks."""
    assert Wording.for_tape("inch", IN / 32).height(27.65625 * IN) == "27 21/32"
    assert Wording.for_tape("metric", 1.0).height(701.675) == "702"
    assert Wording.for_tape("inch", 1.0).height(701.675) == "27 5/8"
    assert (graduation_label(IN / 16), graduation_label(1.0), graduation_label(0.5)) == ("1/16 in", "1 mm", "0.5 mm")


def test_the_factors_are_those_of_the_quantities() -> None:
    """Every unit shown is the same as the exact one of the quantity room, which is held to reference libraries."""
    assert SCALES["torque"]["inch"].factor == pytest.approx(Torque.from_Nm(1).lbf_ft, rel=1e-14)
    assert SCALES["weight"]["metric"].factor == pytest.approx(Force.from_N(1).kgf, rel=1e-14)
    inch_per_psi = Length.from_mm(1).inches / Pressure.from_kPa(1).psi
    assert SCALES["slope"]["inch"].factor == pytest.approx(inch_per_psi, rel=1e-14)
    lb_per_inch = Force.from_N(1).lbf / Length.from_mm(1).inches
    assert SCALES["rate"]["inch"].factor == pytest.approx(lb_per_inch, rel=1e-14)


def test_wording_loads_nothing_heavy() -> None:
    """The first screen says figures without waiting for units, shapes, pages or arrays."""
    program = "import sys, cornerwalk.wording.figures, cornerwalk.report.customer; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, check=True, text=True)
    loaded = set(done.stdout.split())
    assert loaded.isdisjoint({"pint", "pydantic", "numpy", "fpdf", "segno", "fontTools", "PIL", "pyarrow"})
