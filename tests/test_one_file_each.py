"""A new aim rule, unit, stage and checklist step cost one file each: a copy of the program gets all four and uses them.

What is added is invented.
"""

from __future__ import annotations

import filecmp
import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).parents[1] / "src" / "cornerwalk"

RULE = """
[[aim_rule]]
id = "added-rule"
title = "An added rule"
source = "agreed for a test"
standing = "own"
datum = "lamp centre"
nominal = "0.5 deg down"
deviation = "3 in"
"""
STEP = """
[[item]]
id = "added-step"
question = "Is the added step done?"
caution = "An added caution."
"""
SHEET = """
unit = "inch"
[vehicle]
wheelbase = "119 in"
[lamps]
rule = "added-rule"
[kit]
max = "0.25 MPa"
[[stage]]
name = "unloaded"
LF = "28 5/8"
RF = "28 11/16"
RR = "29 3/16"
LR = "29 1/4"
[[stage]]
name = "overnight"
pressure = "25 psi"
LF = "28 7/8"
RF = "28 15/16"
RR = "28 11/16"
LR = "28 13/16"
"""


class Copy:
    """A copy of the package with the four additions, and its commands."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.house = folder / "cornerwalk"
        self.session = folder / "job.json"
        shutil.copytree(HOUSE, self.house, ignore=shutil.ignore_patterns("__pycache__"))
        (self.house / "standards/data/aim-added.toml").write_text(RULE, "utf-8")
        fitting = self.house / "session/checklists/4-fitting.toml"
        fitting.write_text(fitting.read_text("utf-8") + STEP, "utf-8")
        self._edit("quantity/units.py", 'Unit("bar",', 'Unit("MPa", "MPa", "mpa", "1000 * kPa"),\n    Unit("bar",')
        row = 'StageKind(name="overnight", label="after a night", loaded=True, with_air=True, chapter="road"),\n    '
        self._edit("session/stages.py", '"road-test", "follow-up"]', '"road-test", "overnight", "follow-up"]')
        self._edit("session/stages.py", 'StageKind(name="follow-up"', row + 'StageKind(name="follow-up"')

    def _edit(self, name: str, before: str, after: str) -> None:
        file = self.house / name
        text = file.read_text("utf-8")
        assert text.count(before) == 1, f"{before!r} stands {text.count(before)} times in {name}"
        file.write_text(text.replace(before, after), "utf-8")

    def changed(self) -> set[str]:
        """The files that are not as they were, or new."""
        files = (file.relative_to(self.house) for file in self.house.rglob("*") if file.is_file())
        sources = (file for file in files if "__pycache__" not in file.parts)
        return {
            file.as_posix()
            for file in sources
            if not (HOUSE / file).exists() or not filecmp.cmp(HOUSE / file, self.house / file, shallow=False)
        }

    def says(self, *arguments: str) -> str:
        """What a command of the copy prints, its line ends and spaces made one."""
        program = "import sys; from cornerwalk.cli import main; sys.exit(main())"
        done = subprocess.run(
            [sys.executable, "-c", program, *arguments],
            env={"PYTHONPATH": str(self.folder), "HOME": str(self.folder), "PYTHONDONTWRITEBYTECODE": "1"},
            cwd=self.folder,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode in (0, 1), done.stderr
        return " ".join(done.stdout.split())


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Copy:
    """The copy, with a job in it that needs the new rule, unit and stage."""
    made = Copy(tmp_path_factory.mktemp("added"))
    (made.folder / "job.toml").write_text(SHEET, "utf-8")
    made.says("import", "job.toml", "--out", str(made.session))
    return made


@pytest.fixture(scope="module")
def report(copy: Copy) -> str:
    """The report of that job."""
    return copy.says("report", str(copy.session))


def test_four_additions_are_four_files(copy: Copy) -> None:
    """Nothing else was touched to make the copy know all four."""
    added = {
        "standards/data/aim-added.toml",
        "session/checklists/4-fitting.toml",
        "quantity/units.py",
        "session/stages.py",
    }
    assert copy.changed() == added


def test_an_aim_rule_judges_the_beam(copy: Copy, report: str) -> None:
    """It is listed, shown by its title where the beam is judged, with its own source."""
    assert "added-rule" in copy.says("rules")
    assert "An added rule" in report
    assert "agreed for a test" in report


# Source: SI brochure: 1 MPa is 1000 kPa.
def test_a_unit_is_read_by_its_definition(copy: Copy) -> None:
    """The kit's maximum of 0.25 MPa is kept as typed and as 250 kPa."""
    events = json.loads(copy.session.read_text("utf-8"))["events"]
    (fact,) = [event for event in events if event.get("name") == "kit.max"]
    assert (fact["entered"], fact["value"]) == ("0.25 MPa", 250.0)


def test_a_stage_is_walked_and_reckoned(copy: Copy, report: str) -> None:
    """It is named in words, taken as loaded on its springs, and part of both schemas."""
    assert "after a night" in report
    assert "Level is not the same as safe" in report
    assert '"overnight"' in copy.says("schema", "session")
    assert '"overnight"' in copy.says("schema", "sheet")


def test_a_checklist_step_is_asked(copy: Copy) -> None:
    """It stands on the worksheet with its caution, as on every page that asks the list."""
    worksheet = copy.says("report", "--blank")
    assert "Is the added step done?" in worksheet
    assert "An added caution." in worksheet
