"""The drawings: what is up is drawn up, and one scale holds for both pictures."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, isfinite

import pytest
from hypothesis import given, settings

from cornerwalk.report.drawing import Circle, Label, Polygon, Stroke, plan_drawing, side_drawings
from cornerwalk.report.geometry import SideView, side_views
from cornerwalk.wording.figures import Wording
from tests.support.anything import jobs
from tests.support.jobs import InventedJob, worked_case
from tests.support.known import known

WORDING = Wording("inch")


def views(job: InventedJob, *names: int) -> list[SideView]:
    stages = tuple(job.assessment.stages[n] for n in names)
    made = side_views(job.session, job.assessment, stages)
    return [view for view in made if view is not None]


def test_the_body_tilts_as_it_was_read_times_the_factor() -> None:
    """Nose up draws the front of the outline higher than the rear by the factor times what was read, and no more."""
    job = worked_case()
    level, loaded = views(job, 0, 1)
    assert loaded.factor > 1
    stage = job.assessment.stages[1]
    assert stage.nose_up_deg is not None
    for (x, z), (x0, z0) in zip(loaded.body, level.body, strict=True):
        assert x == x0
        change_mm = -38.89375 + (6.35 + 38.89375) * x / 3022.6
        assert z - z0 == pytest.approx(loaded.factor * change_mm)
    assert loaded.body[-1][1] - level.body[-1][1] > 0 > loaded.body[0][1] - level.body[0][1]


# Source: the worked case: hitch ball down 2.219800 in when loaded; cut-off 5.204319 in above its unloaded mark.
def test_ball_and_beam_move_by_the_same_factor() -> None:
    """The ball and the cutoff on the wall are drawn where the figures say, magnified like the body."""
    level, loaded = views(worked_case(), 0, 1)
    assert known(loaded.ball)[1] - known(level.ball)[1] == pytest.approx(-2.219800 * 25.4 * loaded.factor, rel=1e-5)
    assert known(loaded.beam).end[1] - known(level.beam).end[1] == pytest.approx(
        5.204319 * 25.4 * loaded.factor, rel=1e-5
    )


def test_a_beam_above_level_is_drawn_above_level() -> None:
    """Loaded it ends above the line of a level beam, unloaded below: the picture agrees with the words."""
    level, loaded = views(worked_case(), 0, 1)
    assert level.beam is not None
    assert loaded.beam is not None
    assert loaded.beam.end[1] > loaded.beam.level_z
    assert level.beam.end[1] < level.beam.level_z


def test_pictures_side_by_side_have_one_factor_and_say_it() -> None:
    """Two stages can be compared by eye, and the exaggeration is written under each."""
    job = worked_case()
    made = views(job, 1, 3)
    assert made[0].factor == made[1].factor
    stages = (job.assessment.stages[1], job.assessment.stages[3])
    for drawing in side_drawings(job.session, job.assessment, stages, WORDING):
        words = [shape.text for shape in drawing.shapes if isinstance(shape, Label)]
        assert any(f"{made[0].factor} times" in text for text in words)


def test_the_picture_is_told_in_words() -> None:
    """Who cannot see it gets the figures with their ± as its title."""
    job = worked_case()
    (drawing,) = side_drawings(job.session, job.assessment, (job.assessment.stages[1],), WORDING)
    assert "rear down 1.53 in ± 0.07" in drawing.title
    assert "above level" in drawing.title


def test_the_plan_shows_each_corner_in_its_place() -> None:
    """Left is left and front is up, as the driver sits."""
    drawing = plan_drawing(worked_case().assessment.stages[1], WORDING)
    places = {shape.text: shape.at for shape in drawing.shapes if isinstance(shape, Label)}
    assert places["28 7/8"][0] < places["28 15/16"][0]
    assert places["28 7/8"][1] < places["27 3/4"][1]
    assert places["27 3/4"][0] < places["27 5/8"][0]


@settings(max_examples=60)
@given(jobs())
def test_nothing_is_drawn_outside_the_picture(job: InventedJob) -> None:
    """Every point of every drawing is a finite number; the bodies stay within the frame, however far they moved."""
    stages = job.assessment.stages
    drawings = [
        *side_drawings(job.session, job.assessment, stages, WORDING),
        *(plan_drawing(stage, WORDING) for stage in stages),
    ]
    for drawing in drawings:
        for shape in drawing.shapes:
            match shape:
                case Polygon(_, points):
                    found = list(points)
                case Stroke(_, start, end):
                    found = [start, end]
                case Circle(_, centre, radius):
                    found = [centre]
                    assert radius > 0
                case Label(_, at, _, _, _):
                    found = [at]
            assert all(isfinite(x) and isfinite(y) for x, y in found)
            if not isinstance(shape, Stroke):
                assert all(-0.3 * drawing.width <= x <= 1.3 * drawing.width for x, _ in found)


def test_a_body_that_hardly_moved_is_not_blown_up_without_end() -> None:
    """The factor stops at ten, and falls to one where the movement is large already."""
    job = worked_case()
    still = replace(job.assessment.stages[1], front_mm=0.1, rear_mm=-0.1, ball_mm=-0.1, lamp=None)
    far = replace(job.assessment.stages[1], front_mm=300.0, rear_mm=-500.0, lamp=None)
    made = [side_views(job.session, job.assessment, (stage,))[0] for stage in (still, far)]
    assert [view.factor for view in made if view is not None] == [10, 1]


def test_wheels_stay_on_the_ground() -> None:
    """The body moves, the wheels do not."""
    for view in views(worked_case(), 0, 1, 3):
        for x, z in view.wheels:
            assert z == view.wheel_radius_mm
            assert x in (0.0, view.wheelbase_mm)
        assert hypot(*view.wheels[0]) == view.wheel_radius_mm
