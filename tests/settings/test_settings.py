"""The settings file: read strictly, written so that it can be read back, never written over while it is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.quantity import BareUnit
from cornerwalk.session.facts import FACTS
from cornerwalk.session.statements import state_fact
from cornerwalk.settings import (
    KEYS_TABLE,
    SETTINGS,
    ActiveSettings,
    KeyProblem,
    Settings,
    SettingsError,
    SettingValueError,
    change_settings,
    changes_for,
    load_settings,
    read_settings,
    settings_text,
)

FULL = Settings(
    units="metric",
    technician="MT",
    language="de",
    library_folder="~/jobs",
    tape_graduation="1 mm",
    tape_place="0.8 mm",
    datum="wheel centre to arch lip",
    start_corner="RR",
    direction="anticlockwise",
    preset="Van",
    aim_rule="us-vol",
    screen_distance="10 m",
    altitude="300 m",
    gauge_graduation="0.1 bar",
    allowed_loss="15 kPa",
    side_to_side="12 mm",
    tongue_share_low="5 %",
    tongue_share_high="10 %",
    retorque_distance="800 km",
    shop_name="Example Garage",
    shop_phone="555-0100",
    shop_logo="~/logo.png",
    theme="night",
    bell=False,
    say_back=True,
    keys={"undo": "f8"},
)
VALUES = {field.name: getattr(FULL, field.name) for field in fields(Settings)}


def test_every_setting_is_in_the_file() -> None:
    """The table of settings and the fields of `Settings` are the same names."""
    assert sorted([*(setting.name for setting in SETTINGS), KEYS_TABLE]) == sorted(
        field.name for field in fields(Settings)
    )


def test_no_file_means_the_defaults(tmp_path: Path) -> None:
    """The program starts without any settings."""
    assert load_settings(tmp_path / "settings.toml") == Settings()


@pytest.mark.parametrize("changes", [{}, {"theme": "shop"}, VALUES], ids=["nothing", "one", "all"])
def test_changed_settings_are_read_back(tmp_path: Path, changes: dict[str, Any]) -> None:
    """The file is made, in a folder that is made too; what stands in it is what was asked for."""
    path = tmp_path / "folder" / "settings.toml"
    assert change_settings(path, changes) == replace(Settings(), **changes)
    assert load_settings(path) == replace(Settings(), **changes)


def test_what_is_not_set_stands_ready_as_a_comment() -> None:
    """The file shows every setting, those not in use as comments."""
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
        ('altitude = "12 psi"', [
            'line 1: altitude: "12 psi": the unit psi does not fit here; use one of in, ft, mm, cm, m']),
        ('library_folder = "jobs"', [
            'line 1: library_folder: "jobs": give the whole path, from the root of the disk or from ~']),
        ('language = "xx"', ['line 1: language: "xx": the program speaks en, de, es']),
        ('bell = "loud"', ['line 1: bell: this is either "yes" or "no"']),
        ("keys = 3", ["line 1: keys: this is a table: write [keys] on a line of its own"]),
        ("[keys]\nundo = 8", ['line 2: undo: put it in quotes, as you would type it: undo = "8"']),
        ('units = "inch"\nunits = "metric"', ["line 2: this key stands twice"]),
        ("theme = day", ['line 1: a value stands in quotes, as you would type it: theme = "day"']),
    ],
)  # fmt: skip
def test_what_is_said_of_a_mistake(text: str, told: list[str]) -> None:
    """Each mistake is told with its line and what would be right, all at once."""
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
        change_settings(path, VALUES)
    assert path.read_bytes() == content


def test_a_folder_in_its_place_is_refused(tmp_path: Path) -> None:
    """A folder of that name is said to be one."""
    with pytest.raises(SettingsError, match="folder"):
        load_settings(tmp_path)


def test_a_wrong_value_is_not_saved(tmp_path: Path) -> None:
    """What could not be read again is never written."""
    path = tmp_path / "settings.toml"
    with pytest.raises(SettingsError):
        change_settings(path, {"tape_graduation": "fine"})
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
    assert Settings(units=units).display_units(read_in) == shown


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


# ---- the owner's own lines ----

OWN = """# the shop's settings, kept by Ann
theme = 'shop'   # we are indoors

# tape_graduation = "" # the new one has none

units = "both"
[keys]
# thumbs
"undo" = "f9"  # left hand
"redo" = "f10"
"""


def test_comments_stay_where_they_are(tmp_path: Path) -> None:
    """A change touches its own line and no other; what a comment prepared is filled in."""
    path = tmp_path / "settings.toml"
    path.write_text(OWN, encoding="utf-8")
    change_settings(
        path,
        {
            "theme": "night",
            "tape_graduation": "1 mm",
            "bell": False,
            "keys": {"redo": "f12", "quit": "f3", "undo": "f9"},
        },
    )
    assert (
        path.read_text("utf-8")
        == """# the shop's settings, kept by Ann
theme = "night"   # we are indoors

tape_graduation = "1 mm"

units = "both"
bell = false
[keys]
"quit" = "f3"
# thumbs
"undo" = "f9"  # left hand
"redo" = "f12"
"""
    )


def test_a_key_that_goes_takes_its_line_unless_there_is_a_comment_on_it(tmp_path: Path) -> None:
    """A remark is never deleted; the line then says that nothing is set."""
    path = tmp_path / "settings.toml"
    path.write_text(OWN, encoding="utf-8")
    assert change_settings(path, {"keys": {}}).keys == {}
    assert '"undo" = ""  # left hand' in path.read_text("utf-8")
    assert "redo" not in path.read_text("utf-8")


@pytest.mark.parametrize(
    "text",
    ['theme = """\nshop"""\n', 'keys.undo = "f9"\n', 'keys = { undo = "f9" }\n', '"the\\u006de" = "shop"\n'],
)
def test_a_file_in_another_style_is_changed_rightly_or_not_at_all(tmp_path: Path, text: str) -> None:
    """Whatever way its owner wrote it in, it afterwards says what was asked for, or is as it was."""
    path = tmp_path / "settings.toml"
    path.write_text(text, encoding="utf-8")
    try:
        wanted = change_settings(path, {"theme": "night", "keys": {"undo": "f8"}})
    except SettingsError:
        assert path.read_text("utf-8") == text
    else:
        assert load_settings(path) == wanted == Settings(theme="night", keys={"undo": "f8"})


@given(st.lists(st.sampled_from(sorted(VALUES)), unique=True), st.lists(st.sampled_from(sorted(VALUES)), unique=True))
def test_changes_in_any_order(first: list[str], then: list[str]) -> None:
    """Whatever is set and put back, the file says it, and nothing else."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "settings.toml"
        change_settings(path, {name: VALUES[name] for name in first})
        back = {name: getattr(Settings(), name) for name in then}
        left = {name: VALUES[name] for name in first if name not in then}
        assert change_settings(path, back) == load_settings(path) == replace(Settings(), **left)


def test_what_was_changed_elsewhere_meanwhile_stays(tmp_path: Path) -> None:
    """Only what is changed is written: a line that an editor wrote after the program had read the file is kept."""
    in_use = ActiveSettings.from_file(tmp_path / "settings.toml")
    change_settings(in_use.path, {"technician": "MT"})
    in_use.save({"theme": "night"})
    assert in_use.current == load_settings(in_use.path) == Settings(technician="MT", theme="night")


def test_what_was_asked_for_this_once_is_never_written(tmp_path: Path) -> None:
    """Units said before a command hold in this run, and the file does not get them from a change of something else."""
    in_use = ActiveSettings(tmp_path / "settings.toml", overrides={"units": "metric"})
    in_use.save({"theme": "night"})
    assert (in_use.current.units, load_settings(in_use.path).units) == ("metric", "as read")
    in_use.save({"units": "both"})
    assert in_use.current.units == load_settings(in_use.path).units == "both"


def test_a_mistake_that_came_into_the_file_meanwhile(tmp_path: Path) -> None:
    """Nothing is written then, and what held before goes on."""
    in_use = ActiveSettings.from_file(tmp_path / "settings.toml")
    in_use.path.write_text('theme = "dusk"\n', encoding="utf-8")
    with pytest.raises(SettingsError, match="line 1"):
        in_use.save({"theme": "night"})
    assert in_use.path.read_text("utf-8") == 'theme = "dusk"\n'
    assert in_use.current == Settings()


def test_mending_the_file_is_enough(tmp_path: Path) -> None:
    """Once its owner has mended it, a change is written again, without a new start."""
    path = tmp_path / "settings.toml"
    path.write_text('theme = "dusk"\n', encoding="utf-8")
    in_use = ActiveSettings.from_file(path)
    assert in_use.current == Settings()
    path.write_text('theme = "shop"\n', encoding="utf-8")
    in_use.save({"bell": False})
    assert in_use.problem is None
    assert in_use.current == Settings(theme="shop", bell=False)


def test_a_wrong_key_is_told_with_its_line() -> None:
    """What the app says about keys stands beside the line that has them."""

    def wrong(keys: Mapping[str, str]) -> list[KeyProblem]:
        return [KeyProblem(action, "{key} is taken", {"key": key}) for action, key in keys.items()]

    with pytest.raises(SettingsError) as caught:
        read_settings('[keys]\n"job.undo" = "f8"\n', name="file", check_keys=wrong)
    assert str(caught.value) == "file, line 2: job.undo: f8 is taken"


# ---- what typing a text would change ----


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("theme", "Night", "night"),
        ("bell", "no", False),
        ("bell", "", True),
        ("start_corner", "right rear", "RR"),
        ("side_to_side", " 14 mm ", "14 mm"),
        ("side_to_side", "", ""),
    ],
)
def test_typed_values(name: str, text: str, value: object) -> None:
    """In the file's words or the user's; nothing typed is the default."""
    assert changes_for(FULL, name, text) == {name: value}


@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("theme", "dusk", '"dusk" is not one of: day, shop, night'),
        ("bell", "loud", '"loud": this is yes or no'),
        ("theem", "day", "there is no setting theem; did you mean theme?"),
    ],
)
def test_refused_values(name: str, text: str, told: str) -> None:
    """With what would be right."""
    with pytest.raises(SettingValueError) as caught:
        changes_for(FULL, name, text)
    assert caught.value.template.format(**caught.value.fields) == told


def test_every_setting_is_explained() -> None:
    """Each has a name, a sentence, and what holds without it."""
    for setting in SETTINGS:
        assert setting.label
        assert setting.about.endswith(".")
        assert setting.default_text
        assert setting.group
        assert setting.default == getattr(Settings(), setting.name)
