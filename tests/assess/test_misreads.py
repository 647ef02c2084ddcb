"""From a session to its misread readings: what the check is asked, and where what it finds is said."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from cornerwalk.assess.assessment import Misread
from cornerwalk.assess.outlier import Misreads, OutlierSearch, Suspect, misreads
from cornerwalk.assess.rigid_body import StageHeights, Tape
from cornerwalk.assess.stage_results import compute_stages, reading_terms
from cornerwalk.session.model import Session, StageKey
from tests.support.jobs import SEPARATE_LINES, WORKED_CASE, job_of, standards
from tests.support.units import IN, PSI

UNLOADED: StageKey = ("unloaded", 1)
LOADED: StageKey = ("loaded", 1)


def of(session: Session) -> Misreads:
    return misreads(session, compute_stages(session, reading_terms(session, standards()), None))


def looked_through(sheet: str) -> Misreads:
    return of(job_of(sheet).session)


def told(found: Misreads) -> dict[int, Misread]:
    return {place: each for place, each in enumerate(found.of_stage) if each is not None}


def test_an_honest_job_is_let_through() -> None:
    """Four stages that agree with one rigid body raise no alarm, and nothing is said of any."""
    for sheet in (WORKED_CASE, SEPARATE_LINES):
        assert looked_through(sheet) == Misreads(alarm=False, of_stage=(None,) * 4)


# Each job is an honest one with one reading spoilt: what was there before is what must be found again.
@pytest.mark.parametrize(
    ("sheet", "was", "spoilt", "place", "corner", "slip", "true_mm"),
    [
        (WORKED_CASE, '"27 5/8"', '"28 5/8"', 1, "RR", "whole inch", 27.625 * IN),
        (WORKED_CASE, '"28 11/16"\nLR', '"29 11/16"\nLR', 3, "RR", "whole inch", 28.6875 * IN),
        (SEPARATE_LINES, '"703"\nLR', '"730"\nLR', 2, "RR", "swapped digits", 703.0),
        (SEPARATE_LINES, '"681"', '"618"', 1, "LR", "swapped digits", 681.0),
    ],
)
def test_a_spoilt_reading_is_found_again(
    sheet: str, was: str, spoilt: str, place: int, corner: str, slip: str, true_mm: float
) -> None:
    """The stage and corner that were spoilt are named there and nowhere else, with the slip and the height before."""
    assert sheet.count(was) == 1
    found = looked_through(sheet.replace(was, spoilt))
    assert found.alarm is True
    (named,) = told(found).values()
    assert told(found).keys() == {place}
    assert (named.corner, named.slip) == (corner, slip)
    assert named.likely_mm == pytest.approx(true_mm)
    assert named.suspects == ((named.stage, corner),)


def test_what_cannot_be_pinned_down_is_listed() -> None:
    """10 mm at one rear corner loaded may be either of the two: the stage is told, with both, and no corner named."""
    found = looked_through(SEPARATE_LINES.replace('RR = "688"', 'RR = "698"'))
    assert found.alarm is True
    (said,) = told(found).values()
    assert (said.stage, said.corner, said.slip, said.likely_mm) == (LOADED, None, None, None)
    assert set(said.suspects) == {(LOADED, "RR"), (LOADED, "LR")}


def test_a_reading_that_no_slip_explains_is_said_where_it_stands_out() -> None:
    """A quarter of an inch is no slip of the tape: something is off at the loaded stage, nobody knows what."""
    found = looked_through(WORKED_CASE.replace('RR = "27 5/8"', 'RR = "27 3/8"'))
    assert found.alarm is True
    assert told(found) == {1: Misread(stage=LOADED, corner=None, slip=None, likely_mm=None, suspects=())}


def test_stages_that_are_not_whole_are_left_out() -> None:
    """A stage with a corner missing is passed over and the others keep their places; without the first no check."""
    spoilt = WORKED_CASE.replace('RR = "28 11/16"', 'RR = "29 11/16"')
    gap = looked_through(spoilt.replace('LF = "28 7/8"\nRF = "28 15/16"\nRR = "27 5/8"', 'RR = "27 5/8"'))
    assert [(place, each.stage) for place, each in told(gap).items()] == [(3, ("fitted", 2))]
    headless = looked_through(spoilt.replace('LF = "28 5/8"\n', ""))
    assert headless == Misreads(alarm=False, of_stage=(None,) * 4)
    assert looked_through('[job]\ntitle = "Just opened"\n') == Misreads(alarm=False, of_stage=())


# ---- what the check is asked, and what its answers become ----


def asked(
    monkeypatch: pytest.MonkeyPatch, sheet: str, answer: OutlierSearch
) -> tuple[list[StageHeights], Tape, Misreads]:
    """The stages and the tape that a job hands to the check, and what becomes of this answer."""
    session = job_of(sheet).session
    handed: list[tuple[list[StageHeights], Tape]] = []

    def find_outliers(walked: Sequence[StageHeights], tape: Tape) -> OutlierSearch:
        handed.append((list(walked), tape))
        return answer

    with monkeypatch.context() as patch:
        patch.setattr("cornerwalk.assess.outlier.find_outliers", find_outliers)
        found = of(session)
    ((walked, tape),) = handed
    return walked, tape, found


SILENT = OutlierSearch(alarm=False, beyond=(False,) * 4)


def test_the_check_knows_tape_load_air_and_what_was_typed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Inches: nothing aboard, then the load, then 15 and 25 psi, each corner with the text it was typed as."""
    walked, tape, _ = asked(monkeypatch, WORKED_CASE, SILENT)
    assert tape == "inch"
    assert [stage.loaded for stage in walked] == [False, True, True, True]
    assert [stage.air_kPa for stage in walked] == pytest.approx([0.0, 0.0, 15 * PSI, 25 * PSI])
    assert walked[1].entered == {"LF": "28 7/8", "RF": "28 15/16", "RR": "27 5/8", "LR": "27 3/4"}
    assert {corner: height.value for corner, height in walked[1].heights.items()} == pytest.approx(
        {"LF": 28.875 * IN, "RF": 28.9375 * IN, "RR": 27.625 * IN, "LR": 27.75 * IN}
    )


def test_two_sides_count_as_their_mean_and_repeats_as_the_last_text(monkeypatch: pytest.MonkeyPatch) -> None:
    """Millimetres, 120 with 100 kPa and 180 with 150 kPa; one side alone counts as it is, none stated as unknown."""
    walked, tape, _ = asked(monkeypatch, SEPARATE_LINES, SILENT)
    assert tape == "metric"
    assert [stage.air_kPa for stage in walked] == pytest.approx([0.0, 0.0, 110.0, 165.0])
    assert walked[0].entered["LF"] == "703"
    left = SEPARATE_LINES.replace('pressure_right = "100 kPa"\n', "").replace('pressure_right = "150 kPa"\n', "")
    assert [stage.air_kPa for stage in asked(monkeypatch, left, SILENT)[0]] == [0.0, 0.0, 120.0, 180.0]
    none = left.replace('pressure_left = "120 kPa"\n', "")
    assert [stage.air_kPa for stage in asked(monkeypatch, none, SILENT)[0]] == [0.0, 0.0, None, 180.0]


def test_an_alarm_without_a_stage_that_stands_out_is_said_at_the_last(monkeypatch: pytest.MonkeyPatch) -> None:
    """Together they disagree though none does alone: the last stage is where the technician stands."""
    *_, found = asked(monkeypatch, WORKED_CASE, OutlierSearch(alarm=True, beyond=(False,) * 4))
    assert [(place, each.stage) for place, each in told(found).items()] == [(3, ("fitted", 2))]


def test_suspects_go_to_every_stage_that_stands_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """An unloaded reading that is off shows at every later stage, and each lists the same suspects in their order."""
    suspects = (Suspect(0, "RR", "whole inch", 730.0), Suspect(0, "LR", None, None))
    *_, found = asked(monkeypatch, WORKED_CASE, OutlierSearch(True, (False, True, False, True), suspects))
    assert {place: (each.stage, each.corner, each.likely_mm) for place, each in told(found).items()} == {
        1: (LOADED, None, None),
        3: (("fitted", 2), None, None),
    }
    assert {each.suspects for each in told(found).values()} == {((UNLOADED, "RR"), (UNLOADED, "LR"))}
