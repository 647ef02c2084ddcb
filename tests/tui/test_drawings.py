"""The canvas and what is drawn on it: dots where the figures are, in braille and in blocks."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.assess.air_line import Line, Trial, fit_line, height_band
from cornerwalk.assess.estimate import Estimate
from cornerwalk.report.geometry import side_views
from cornerwalk.tui.widgets.air_plot import AirPlotView, Curve, Level, PlottedTrial, Upright
from cornerwalk.tui.widgets.air_plot import paint as paint_plot
from cornerwalk.tui.widgets.raster import BLOCKS, BRAILLE, Alphabet, Raster
from cornerwalk.tui.widgets.rows import Row, row_width
from cornerwalk.tui.widgets.side import Scene
from cornerwalk.tui.widgets.side import paint as paint_side
from tests.support.jobs import worked_case
from tests.support.units import PSI

ALPHABETS = (BRAILLE, BLOCKS)


def text_of(rows: list[Row]) -> list[str]:
    return ["".join(text for _, text in row) for row in rows]


def parts_of(rows: list[Row], part: str) -> str:
    return "".join(text for row in rows for each, text in row if each == part)


# ---- dots ----


# Source: The Unicode Standard, block U+2800: dot 1 is bit 0, then down the left column, the right one, 7 and 8 below.
@pytest.mark.parametrize(
    ("x", "y", "character"),
    [(0, 0, "⠁"), (0, 1, "⠂"), (0, 2, "⠄"), (1, 0, "⠈"), (1, 1, "⠐"), (1, 2, "⠠"), (0, 3, "⡀"), (1, 3, "⢀")],
)  # fmt: skip
def test_a_dot_is_the_braille_dot_at_its_place(x: int, y: int, character: str) -> None:
    """Each of the eight dots of a cell sets its own bit of the character."""
    raster = Raster(1, 1, BRAILLE)
    raster.dot(x, y, "ink")
    assert text_of(raster.rows()) == [character]


@pytest.mark.parametrize(("x", "y", "character"), [(0, 0, "▘"), (1, 0, "▝"), (0, 1, "▖"), (1, 1, "▗")])
def test_a_dot_is_the_quadrant_at_its_place(x: int, y: int, character: str) -> None:
    """Each of the four dots of a cell in blocks is its own quarter."""
    raster = Raster(1, 1, BLOCKS)
    raster.dot(x, y, "ink")
    assert text_of(raster.rows()) == [character]


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6), st.sampled_from(ALPHABETS))
def test_a_dot_anywhere_is_set_or_ignored(x: float, y: float, alphabet: Alphabet) -> None:
    """Nothing is drawn outside the canvas, and nothing breaks."""
    raster = Raster(3, 2, alphabet)
    raster.dot(x, y, "ink")
    inside = 0 <= x < raster.width and 0 <= y < raster.height
    assert any(text.strip() for text in text_of(raster.rows())) is inside


@given(
    st.tuples(*[st.floats(-1e5, 1e5)] * 4),
    st.sampled_from(ALPHABETS),
    st.integers(0, 12),
    st.integers(0, 6),
)
def test_a_line_of_any_length_fills_the_same_cells_of_text(
    ends: tuple[float, float, float, float], alphabet: Alphabet, columns: int, rows: int
) -> None:
    """However far its ends lie outside, a canvas stays as wide and as high as it was made."""
    raster = Raster(columns, rows, alphabet)
    raster.line(ends[:2], ends[2:], "ink")
    assert [row_width(row) for row in raster.rows()] == [columns] * rows


def test_a_line_goes_from_end_to_end() -> None:
    """Both ends are set, and a level line sets every dot between and no other."""
    raster = Raster(4, 1, BLOCKS)
    raster.line((1, 1), (6, 1), "ink")
    assert text_of(raster.rows()) == ["▗▄▄▖"]


def test_words_that_do_not_fit_are_not_written_in_part() -> None:
    """A figure is on the drawing as a whole or not at all."""
    raster = Raster(8, 1, BRAILLE)
    assert not raster.write(4, 0, "28 5/8", "ink")
    assert raster.write(1, 0, "28 5/8", "ink")
    assert text_of(raster.rows()) == [" 28 5/8 "]


# ---- height against pressure ----

LOADED_MM, UNLOADED_MM = 702.5, 742.0


def plot(*trials: tuple[float, float]) -> AirPlotView:
    """The picture of these trials (psi, mm), each with u = 0.65 mm."""
    made = [Trial(Estimate(psi * PSI), Estimate(mm, 0.65)) for psi, mm in trials]
    line = fit_line(made)
    pressures = [place * 40 * PSI / 60 for place in range(61)]
    return AirPlotView(
        curves=(
            Curve(
                tuple(PlottedTrial(t.pressure.value, t.height.value, t.height.U, "●") for t in made),
                height_band(line, pressures) if isinstance(line, Line) else (),
            ),
        ),
        levels=(Level(UNLOADED_MM, "target", "due"), Level(LOADED_MM, "no air", "quiet")),
        uprights=(Upright(40 * PSI, "▲", "due"),),
        least_kPa=8 * PSI,
        most_kPa=40 * PSI,
        pressures_kPa=(0.0, 40 * PSI),
        heights_mm=(695.0, 750.0),
        pressure_ticks=tuple((psi * PSI, str(psi)) for psi in range(0, 41, 10)),
        height_ticks=((710.0, "710"), (730.0, "730")),
    )


def band_dots(picture: AirPlotView, column: int) -> int:
    """Dots that the band alone sets in some columns of a large picture in blocks."""
    with_band = paint_plot(picture, 80, 40, BLOCKS)
    bare = replace(picture, curves=tuple(replace(curve, band=()) for curve in picture.curves))
    without = paint_plot(bare, 80, 40, BLOCKS)
    quarters = {character: bits.bit_count() for bits, character in enumerate(BLOCKS.characters)}
    dots = 0
    for drawn, plain in zip(text_of(with_band), text_of(without), strict=True):
        for place in range(column, column + 8):
            dots += quarters.get(drawn[place], 0) - quarters.get(plain[place], 0)
    return dots


def test_the_band_narrows_with_a_third_trial_and_widens_away_from_the_trials() -> None:
    """What is drawn grows and shrinks with how sure the line is; the sureness itself is tested with the fit."""
    two, three = plot((15, 719), (20, 724.5)), plot((15, 719), (20, 724.5), (33, 738.5))
    far, near = 66, 40
    assert band_dots(two, far) > 1.5 * band_dots(three, far)
    assert band_dots(two, far) > 1.5 * band_dots(two, near)


@pytest.mark.parametrize("alphabet", ALPHABETS, ids=lambda alphabet: alphabet.name)
def test_what_the_kit_forbids_is_hatched_and_nothing_else_is(alphabet: Alphabet) -> None:
    """Right of the maximum there is caution's part in every row, left of it none."""
    rows = paint_plot(plot((15, 719)), 70, 20, alphabet)[:-1]
    for row in rows:
        column = 0
        for part, text in row:
            if part == "caution":
                # 35 of 40 psi, on the 61 columns right of the names
                assert column >= 9 + 61 * 35 / 40 - 2
            column += len(text)
    assert parts_of(rows, "caution").strip()


def test_a_trial_stands_at_its_pressure_and_height() -> None:
    """Twice the pressure lies twice as far right, the higher height above the lower."""
    rows = text_of(paint_plot(plot((10, 710), (20, 730)), 89, 41, BRAILLE))
    (low_x, low_y), (high_x, high_y) = sorted((line.index("●"), y) for y, line in enumerate(rows) if "●" in line)
    left = rows[-1].index("0")
    assert (high_x - left) == pytest.approx(2 * (low_x - left), abs=2)
    assert (low_y - high_y) / 40 == pytest.approx(20 / 55, abs=0.03)


@pytest.mark.parametrize("size", [(24, 4), (46, 9), (120, 30)])
@pytest.mark.parametrize("alphabet", ALPHABETS, ids=lambda alphabet: alphabet.name)
def test_a_picture_fills_its_room_exactly(size: tuple[int, int], alphabet: Alphabet) -> None:
    """Whatever the room, the picture is as wide and as high as it."""
    rows = paint_plot(plot((15, 719), (25, 731)), *size, alphabet)
    assert [row_width(row) for row in rows] == [size[0]] * size[1]


# ---- the side view ----


def scene(**changes: object) -> Scene:
    """The worked case: the second trial against the loaded stage."""
    job = worked_case()
    stages = (job.assessment.stages[-1], job.assessment.stages[1])
    now, before = side_views(job.session, job.assessment, stages)
    assert now is not None
    made = Scene(
        now=now,
        before=before,
        now_name="now",
        before_name="before",
        level_name="level",
        rule_name="rule",
        rear_words="rear down 1/2",
        front_words="front up 1/4",
        wall_words="wall at 25 ft",
        scale_words="heights and beam drawn × 6",
        above=False,
        hitched=True,
    )
    return replace(made, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("size", [(30, 4), (50, 8), (80, 14), (120, 22), (160, 8), (40, 30)])
@pytest.mark.parametrize("alphabet", ALPHABETS, ids=lambda alphabet: alphabet.name)
def test_the_side_view_fits_any_room(size: tuple[int, int], alphabet: Alphabet) -> None:
    """No row is wider than the room, and there are as many as there is room for."""
    rows = paint_side(scene(), *size, alphabet)
    assert len(rows) == size[1]
    assert max(map(row_width, rows)) <= size[0]


@pytest.mark.parametrize("alphabet", ALPHABETS, ids=lambda alphabet: alphabet.name)
def test_the_beam_ends_where_its_name_stands(alphabet: Alphabet) -> None:
    """Before the air the beam met the wall higher than now: so the names stand, and level between them or beside."""
    rows = text_of(paint_side(scene(), 100, 20, alphabet))
    where = {name: next(y for y, row in enumerate(rows) if name in row) for name in ("◂ now", "◂ before")}
    assert where["◂ before"] < where["◂ now"]


def test_the_body_is_drawn_where_the_geometry_puts_it() -> None:
    """A rear that hangs twice as low stands lower on the drawing; the wheels stay where they are."""
    job = worked_case()
    low, high = job.assessment.stages[1], job.assessment.stages[3]
    views = side_views(job.session, job.assessment, (low, high))
    assert views[0] is not None
    assert views[1] is not None
    tops = []
    for view in views:
        rows = text_of(paint_side(scene(now=view, before=None), 100, 24, BLOCKS))
        roof = next(y for y, row in enumerate(rows) if row[10:30].strip() and y > 1)
        tops.append(roof)
    assert tops[0] > tops[1]


def test_blocks_use_no_braille() -> None:
    """A terminal without braille in its font shows every mark of the drawing."""
    drawn = "".join(
        text_of(paint_side(scene(), 100, 20, BLOCKS)) + text_of(paint_plot(plot((15, 719)), 60, 12, BLOCKS))
    )
    assert not any("\u2800" <= character <= "\u28ff" for character in drawn)
    assert any(
        "\u2800" <= character <= "\u28ff" for character in "".join(text_of(paint_side(scene(), 100, 20, BRAILLE)))
    )


def test_the_rule_stands_as_a_bar_beside_the_wall_where_it_has_limits() -> None:
    """Between the limits the bar is drawn, and it is named; without limits neither is there."""
    beam = scene().now.beam
    assert beam is not None
    limited = replace(beam, upper_z=beam.level_z + 40, lower_z=beam.level_z - 260)
    with_rule = paint_side(scene(now=replace(scene().now, beam=limited)), 100, 20, BRAILLE)
    without = paint_side(scene(), 100, 20, BRAILLE)
    assert "rule" in "".join(text_of(with_rule))
    assert "rule" not in "".join(text_of(without))
    assert len(parts_of(with_rule, "due").strip()) > len(parts_of(without, "due").strip())
