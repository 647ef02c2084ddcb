"""Presets: what was stated of a vehicle, a kit or a whole set-up, there again in the next job with the same values."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import BareUnit
from cornerwalk.report.audit import audit
from cornerwalk.session import Session, fold
from cornerwalk.session.events import Event, FactStated, LoadStated
from cornerwalk.session.statements import AxleSide, state_fact, state_load
from cornerwalk.session.walk import EntryError
from cornerwalk.sheet.preset import (
    PresetKind,
    can_save_preset,
    list_presets,
    load_with_units,
    preset_events,
    preset_text,
    save_preset,
    with_units,
)
from cornerwalk.textfiles import TextFileError
from tests.session.support import events_of, opened
from tests.support.jobs import NOW, WORKED_CASE, job_of, separate_lines, standards, worked_case

UNITS: tuple[BareUnit, ...] = get_args(BareUnit)


def session_in(unit: BareUnit, *events: Event) -> Session:
    return fold(events_of(opened(), FactStated(name="job.unit", entered=unit, value=unit), *events))


def typed_in(unit: BareUnit) -> Session:
    """A job whose numbers were typed without a unit."""
    typed = {
        "vehicle.wheelbase": "119",
        "vehicle.gawr_rear": "1400",
        "vehicle.lamp_height": "28 1/2" if unit == "inch" else "28.5",
        "kit.min": "5",
        "kit.max": "35",
        "kit.lines": "separate",
        "lamps.rule": "us-vol",
        "leak.altitude": "1200",
        "table.loads": "300; 410",
        "service.retorque_distance": "60 miles",
    }
    load = state_load("tongue", "190", place="46", side="behind", unit=unit)
    return session_in(unit, *(state_fact(name, text, unit) for name, text in typed.items()), load)


@pytest.mark.parametrize("kept_in", UNITS)
@pytest.mark.parametrize("used_in", UNITS)
def test_a_preset_means_the_same_in_every_unit(kept_in: BareUnit, used_in: BareUnit, tmp_path: Path) -> None:
    """A wheelbase of 119 inches is no wheelbase of 119 mm in the next job, and the audit agrees with every text."""
    before = typed_in(kept_in)
    path = save_preset(before, "set-up", "Van and trailer", tmp_path)
    started = preset_events(path, NOW)
    unit = FactStated(name="job.unit", entered=used_in, value=used_in)
    events = events_of(opened(), unit, *started)
    after = fold(events)
    assert (after.vehicle, after.kit, after.lamps, after.leak) == (
        before.vehicle,
        before.kit,
        before.lamps,
        before.leak,
    )
    assert (after.table, after.service, after.loads) == (before.table, before.service, before.loads)
    assert after.job.unit == used_in
    assert audit(events, standards()) == ()


@pytest.mark.parametrize("job", [worked_case, separate_lines], ids=["inch", "metric"])
def test_a_whole_job_comes_back_as_it_was_stated(job: object, tmp_path: Path) -> None:
    """Texts that had their unit are kept to the letter."""
    before = job().session  # type: ignore[operator]
    started = preset_events(save_preset(before, "set-up", "all", tmp_path), NOW)
    stated = {what.name: what.entered for what in started if isinstance(what, FactStated)}
    parts = ("vehicle", "lamps", "kit", "hitch", "trailer")
    expected = {name: text for name, text in before.entered.items() if name.partition(".")[0] in parts}
    expected.pop("vehicle.registration", None)
    assert {name: text for name, text in stated.items() if name.partition(".")[0] in parts} == expected


def test_nothing_of_the_customer_or_the_day_is_kept(tmp_path: Path) -> None:
    """A preset is handed from job to job; whose vehicle it was is nobody's business there."""
    text = preset_text(worked_case().session, "set-up")
    session = worked_case().session
    for told in (session.job.customer, session.vehicle.registration, session.job.complaint, session.job.title):
        assert told
        assert told not in text


@pytest.mark.parametrize("what", ["vehicle", "kit", "set-up"])
@pytest.mark.parametrize(
    "facts", ["", '[vehicle]\nregistration = "INV 123"\n', '[kit]\nname = "invented"\n', WORKED_CASE]
)
def test_what_can_be_kept_is_what_a_sheet_would_hold(facts: str, what: PresetKind) -> None:
    """Keeping is offered exactly where the preset would not be empty."""
    session = job_of(facts).session
    assert can_save_preset(session, what) == bool(preset_text(session, what))


def test_a_kit_is_kept_without_its_vehicle(tmp_path: Path) -> None:
    """The shop's usual kit goes into the next vehicle, whatever that is."""
    started = preset_events(save_preset(worked_case().session, "kit", "usual kit", tmp_path), NOW)
    assert {what.name.partition(".")[0] for what in started if isinstance(what, FactStated)} == {"kit", "service"}


def test_a_preset_is_never_written_over(tmp_path: Path) -> None:
    """A second one of the same name stands beside the first."""
    first = save_preset(worked_case().session, "kit", "kit", tmp_path)
    before = first.read_text(encoding="utf-8")
    second = save_preset(separate_lines().session, "kit", "kit", tmp_path)
    assert first != second
    assert first.read_text(encoding="utf-8") == before
    assert [preset.name for preset in list_presets(tmp_path)] == ["kit", "kit 2"]


@pytest.mark.parametrize(
    ("name", "file"),
    [("../../etc/passwd", "etc passwd.toml"), ("Zoë's van", "Zoë s van.toml"), (".hidden", "hidden.toml")],
)
def test_a_name_never_leads_out_of_the_folder(name: str, file: str, tmp_path: Path) -> None:
    """Whatever is typed as a name becomes one file in the folder."""
    assert save_preset(worked_case().session, "kit", name, tmp_path).relative_to(tmp_path) == Path(file)


@pytest.mark.parametrize("name", ["", "...", "/"])
def test_a_name_of_nothing_is_refused(name: str, tmp_path: Path) -> None:
    """A file needs a name that can be read in a list."""
    with pytest.raises(EntryError):
        save_preset(worked_case().session, "kit", name, tmp_path)


def test_nothing_stated_is_nothing_to_keep(tmp_path: Path) -> None:
    """An empty preset would only disappoint the next time."""
    with pytest.raises(EntryError):
        save_preset(session_in("inch"), "vehicle", "van", tmp_path)
    assert list_presets(tmp_path) == ()


def test_a_sheet_with_readings_gives_only_what_can_be_said_again(tmp_path: Path) -> None:
    """Starting from an old job's sheet takes its vehicle, not its heights."""
    sheet = tmp_path / "old.toml"
    sheet.write_text('unit = "inch"\n[vehicle]\nwheelbase = "119"\n[[stage]]\nname = "unloaded"\nLF = "28"\n')
    (stated,) = preset_events(sheet, NOW)
    assert isinstance(stated, FactStated)
    assert stated.entered == "119 in"
    assert stated.value == pytest.approx(119 * 25.4)


def test_a_preset_that_is_wrong_says_where(tmp_path: Path) -> None:
    """Nothing of a wrong file is stated, and the line is told."""
    sheet = tmp_path / "wrong.toml"
    sheet.write_text('[vehicle]\nwheelbse = "119 in"\n')
    with pytest.raises(TextFileError) as caught:
        preset_events(sheet, NOW)
    assert caught.value.line == 2


def test_a_folder_that_is_missing_has_no_presets(tmp_path: Path) -> None:
    """The folder need not exist until something is kept in it."""
    assert list_presets(tmp_path / "none") == ()


@given(
    unit=st.sampled_from(UNITS),
    weight=st.integers(1, 9_000).map(lambda number: number / 10),
    place=st.integers(0, 2_000),
    side=st.sampled_from(get_args(AxleSide)),
)
def test_any_load_means_the_same_in_every_unit(unit: BareUnit, weight: float, place: int, side: AxleSide) -> None:
    """Weight and place of a spelled-out load are read back as they were, whatever a bare number is."""
    load = state_load("tongue", str(weight), place=str(place), side=side, unit=unit)
    told: LoadStated = load_with_units(load)
    for read_in in UNITS:
        distance = told.place_entered.removesuffix(f" {side} the rear axle")
        again = state_load("tongue", told.entered, place=distance, side=side, unit=read_in)
        assert again.weight_N == pytest.approx(load.weight_N, rel=1e-12)
        assert again.ahead_mm == pytest.approx(load.ahead_mm, rel=1e-12)


@given(
    unit=st.sampled_from(UNITS), tenths=st.integers(1, 20_000), name=st.sampled_from(["vehicle.wheelbase", "kit.max"])
)
def test_any_fact_means_the_same_in_every_unit(unit: BareUnit, tenths: int, name: str) -> None:
    """The value of a spelled-out text does not depend on the unit it is read in."""
    try:
        stated = state_fact(name, str(tenths / 10), unit)
    except ValueError:
        return  # larger than such a thing can be, in this unit
    told = with_units(stated)
    for read_in in UNITS:
        assert state_fact(name, told.entered, read_in).value == pytest.approx(stated.value, rel=1e-12)
