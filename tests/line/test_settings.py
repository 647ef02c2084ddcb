"""The settings, line by line."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.context import SettingsView
from cornerwalk.settings import SETTINGS, load_settings
from tests.line.talking import new_job, talk_in


def test_listed_explained_changed_and_taken_back(tmp_path: Path) -> None:
    """Before a job is open: every setting has a line; a name tells, a value is in the file, undo takes it back."""
    talk = talk_in(tmp_path)
    said = talk.say("4")
    assert all(any(f"({setting.name}): " in line for line in said) for setting in SETTINGS)
    assert "Day for glare, shop for indoors, night for the dark." in talk.say("theme")
    assert talk.say("theme night")[0].startswith("Saved: theme, night.")
    path = tmp_path / "settings.toml"
    assert load_settings(path).theme == "night"
    assert talk.say("undo") == ["Undone: theme is day again."]
    assert load_settings(path).theme == "day"
    talk.say("theme dusk")
    assert talk.conversation.refused
    assert "New job" in " ".join(talk.say(""))


def test_the_command_opens_them(tmp_path: Path) -> None:
    """`cornerwalk settings --plain` begins with the list."""
    talk = talk_in(tmp_path, SettingsView())
    assert any("(theme): day" in line for line in talk.conversation.greeting())


def test_in_a_job_they_hold_at_once_and_the_question_stays(tmp_path: Path) -> None:
    """The word changes one in the middle of the walk; figures are said in the new units from the next reading on."""
    talk = new_job(tmp_path)
    talk.say("28 5/8", "28 11/16", "29 3/16", "29 1/4", "")
    question = talk.prompt
    assert talk.say("settings units metric")[0].startswith("Saved: units shown, metric.")
    assert talk.prompt == question
    said = " ".join(talk.say("28 7/8", "28 15/16", "27 5/8", "27 3/4"))
    assert " mm" in said
    assert " in " not in said.replace("in it", "")


def test_the_preset_of_the_settings_is_one_enter_away(tmp_path: Path) -> None:
    """Enter alone takes it, 0 takes none."""
    (tmp_path / "presets").mkdir()
    for name, length in (("Car", "105 in"), ("Van", "119 in")):
        (tmp_path / "presets" / f"{name}.toml").write_text(f'[vehicle]\nwheelbase = "{length}"\n', "utf-8")
    talk = talk_in(tmp_path)
    talk.say("4", "preset Van", "", "1", "", "1")
    assert "Enter alone takes Van" in talk.prompt
    talk.say("")
    assert talk.session.vehicle.wheelbase_mm == 119 * 25.4


def test_initials_stand_beside_what_the_next_job_records(tmp_path: Path) -> None:
    """A job that is made after the change is recorded in the new name."""
    talk = talk_in(tmp_path)
    talk.say("4", "technician AB", "", "1", "", "1", "28 5/8")
    assert {event.by for event in talk.stored} == {"AB"}
