"""A new session for the walk: what the technician's settings add to a job sheet, and what they leave alone."""

from __future__ import annotations

from pathlib import Path

from cornerwalk.cli.commands.sessions import add_settings, read_sheet
from cornerwalk.cli.environment import Environment, Options
from cornerwalk.session.events import FactStated, JobOpened

SETTINGS = """\
units = "metric"
technician = "ZZ"
tape_graduation = "1 mm"
start_corner = "RR"
aim_rule = "uk-mot"
"""


def stated(sheet: str, tmp_path: Path) -> dict[str, str]:
    path = tmp_path / "sheet.toml"
    path.write_text(sheet)
    environment = Environment()
    events = add_settings(environment, read_sheet(environment, path))
    assert isinstance(events[0], JobOpened)
    facts = [what for what in events if isinstance(what, FactStated)]
    assert len({fact.name for fact in facts}) == len(facts)
    return {fact.name: fact.entered for fact in facts}


def test_settings_state_what_the_sheet_leaves_open(settings_file: Path, tmp_path: Path) -> None:
    """The shop's usual unit, tape and rule go on record where the sheet says nothing; its own values win."""
    settings_file.write_text(SETTINGS)
    facts = stated("[vehicle]\nwheelbase = '3000 mm'\n", tmp_path)
    assert facts == {
        "job.unit": "mm",
        "job.technician": "ZZ",
        "job.start_corner": "RR",
        "job.direction": "clockwise",
        "tape.graduation": "1 mm",
        "lamps.rule": "uk-mot",
        "vehicle.wheelbase": "3000 mm",
    }


def test_the_sheet_comes_first(settings_file: Path, tmp_path: Path) -> None:
    """A sheet in inches stays in inches, with its own tape and rule, whatever the settings say."""
    settings_file.write_text(SETTINGS)
    sheet = "unit = 'inch'\n[tape]\ngraduation = '1/16 in'\n[lamps]\nrule = 'us-vol'\n[job]\nstart_corner = 'LR'\n"
    facts = stated(sheet, tmp_path)
    assert facts["job.unit"] == "inch"
    assert facts["tape.graduation"] == "1/16 in"
    assert facts["lamps.rule"] == "us-vol"
    assert facts["job.start_corner"] == "LR"
    assert facts["job.technician"] == "ZZ"


def test_units_said_before_the_command_hold_for_a_new_job_too(settings_file: Path, tmp_path: Path) -> None:
    """What is typed and what is shown stay the same: `--units` comes before the settings, and a sheet before both."""
    settings_file.write_text(SETTINGS)
    environment = Environment()
    environment.options = Options(units="inch")
    for sheet, unit in (("", "inch"), ("unit = 'cm'", "cm")):
        path = tmp_path / "sheet.toml"
        path.write_text(sheet)
        facts = [
            what for what in add_settings(environment, read_sheet(environment, path)) if isinstance(what, FactStated)
        ]
        assert next(fact.entered for fact in facts if fact.name == "job.unit") == unit
