"""The settings file: read strictly, written so that it can be read back, never written over while it is wrong."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import BareUnit
from cornerwalk.session.facts import FACTS
from cornerwalk.session.statements import state_fact
from cornerwalk.settings import (
    KEYS,
    SETTINGS,
    Settings,
    SettingsError,
    load_settings,
    read_settings,
    save_settings,
    settings_text,
)

FULL = Settings(
    units="metric",
    technician="MT",
    language="de",
    tape_graduation="1 mm",
    tape_place="0.8 mm",
    start_corner="RR",
    direction="anticlockwise",
    aim_rule="us-vol",
    side_to_side="12 mm",
    retorque_distance="800 km",
    theme="night",
    bell=False,
    say_back=True,
    keys={"undo": "f8"},
)


def test_every_setting_is_in_the_file() -> None:
    """The table of settings and the fields of `Settings` are the same names."""
    assert [setting.name for setting in SETTINGS] + [KEYS] == [field.name for field in fields(Settings)]


def test_no_file_means_the_defaults(tmp_path: Path) -> None:
    assert load_settings(tmp_path / "settings.toml") == Settings()


@pytest.mark.parametrize("settings", [Settings(), FULL])
def test_saved_settings_are_read_back(tmp_path: Path, settings: Settings) -> None:
    path = tmp_path / "folder" / "settings.toml"
    save_settings(path, settings)
    assert load_settings(path) == settings


def test_what_is_not_set_stands_ready_as_a_comment() -> None:
    assert '# tape_graduation = ""' in settings_text(Settings()).splitlines()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('theme = "dusk"', ['line 1: theme: "dusk" is not one of: day, shop, night']),
        ('\nthem = "day"', ["line 2: them is no key of this table; did you mean theme?"]),
        ('tape_graduation = "1/16 kg"', [
            'line 1: tape_graduation: "1/16 kg": the unit kg does not fit here; use one of in, ft, mm, cm, m']),
        ("tape_graduation = 1", [
            'line 1: tape_graduation: put it in quotes, as you would type it: tape_graduation = "1"']),
        ('side_to_side = "wide"', [
            'line 1: side_to_side: "wide": there is no number where one is expected; write for example 119 in']),
        ('bell = "loud"', ['line 1: bell: this is either "yes" or "no"']),
        ("keys = 3", ["line 1: keys: this is a table: write [keys] on a line of its own"]),
        ("[keys]\nundo = 8", ['line 2: undo: put it in quotes, as you would type it: undo = "8"']),
        ('units = "inch"\nunits = "metric"', ["line 2: this key stands twice"]),
        ("theme = day", ['line 1: a value stands in quotes, as you would type it: theme = "day"']),
    ],
)  # fmt: skip
def test_what_is_said_of_a_mistake(text: str, told: list[str]) -> None:
    with pytest.raises(SettingsError) as caught:
        read_settings(text, name="file")
    assert [line.removeprefix("file, ") for line in str(caught.value).splitlines()] == told


@pytest.mark.parametrize("content", [b'theme = "dusk"\n', b"\xff\xfe", b"= = ="])
def test_a_wrong_file_is_never_written_over(tmp_path: Path, content: bytes) -> None:
    """Saving refuses and leaves every byte; what its owner meant is not lost."""
    path = tmp_path / "settings.toml"
    path.write_bytes(content)
    with pytest.raises(SettingsError):
        load_settings(path)
    with pytest.raises(SettingsError):
        save_settings(path, FULL)
    assert path.read_bytes() == content


def test_a_folder_in_its_place_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SettingsError, match="folder"):
        load_settings(tmp_path)


def test_a_wrong_value_is_not_saved(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    with pytest.raises(SettingsError):
        save_settings(path, Settings(tape_graduation="fine"))
    assert not path.exists()


@pytest.mark.parametrize("settings", [Settings(), FULL])
def test_settings_state_facts_of_a_new_job(settings: Settings) -> None:
    """Every name is a fact of the register, and every text is one that it takes."""
    facts = settings.job_facts()
    assert set(facts) <= set(FACTS)
    unit: BareUnit = "mm" if settings.units == "metric" else "inch"
    for name, text in facts.items():
        assert state_fact(name, text, unit).value is not None


@pytest.mark.parametrize(
    ("units", "read_in", "shown"),
    [
        ("as read", "inch", "inch"),
        ("as read", "mm", "metric"),
        ("as read", "cm", "metric"),
        ("metric", "inch", "metric"),
        ("inch", "mm", "inch"),
        ("both", "mm", "both"),
    ],
)
def test_units_shown(units: Any, read_in: BareUnit, shown: str) -> None:
    """The setting decides; without one a job is shown in the units it was read in."""
    assert Settings(units=units).units_shown(read_in) == shown


@given(st.text(max_size=40), st.dictionaries(st.text(max_size=10), st.text(max_size=10), max_size=3))
def test_any_text_is_kept_or_refused_never_changed(text: str, keys: dict[str, str]) -> None:
    """Quotes, backslashes, line ends and controls in a text come back as they were, or the settings are not saved."""
    settings = Settings(technician=text, keys=keys)
    try:
        back = read_settings(settings_text(settings), name="file")
    except SettingsError:
        return
    stripped = {action: key.strip() for action, key in keys.items() if key.strip()}
    assert (back.technician, back.keys) == (text.strip(), stripped)
