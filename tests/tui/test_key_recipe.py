"""A new key is one row of the table and its action: a copy of the program gets one and shows it everywhere."""

from __future__ import annotations

import filecmp
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "src" / "cornerwalk"

ROW = '    Key("walk.added", "f15", "added key", "an added sentence", rank=1),\n'
ACTION = '''
    def action_added(self) -> None:
        """What the added key does."""
        self.tell("The added action ran.")

'''
PAGE_ROW = '    Key("job.added-page", "f16", "added page", "an added page", opens="added:AddedScreen"),\n'
PAGE = '''"""Added page: a page of the job."""
from cornerwalk.tui.keys import Places
from cornerwalk.tui.screens.job_screen import JobScreen


class AddedScreen(JobScreen):
    """Says one thing."""

    places: Places = ("everywhere", "job")

    def show(self) -> None:
        """Say it."""
        super().show()
        self.tell("The added page is open.")
'''

DRIVE = """
import json, sys
from pathlib import Path
import cornerwalk
from cornerwalk.settings import Settings
from cornerwalk.tui.keys import as_markdown
from cornerwalk.tui.own_keys import mistakes
from tests.tui.driving import walk

seen = {"package": str(Path(cornerwalk.__file__).parent), "table": as_markdown()}
seen["mistakes"] = [found.template for found in mistakes({"walk.added": "Ctrl+X"})]

async def as_it_is(d):
    seen["footer"] = d.text.splitlines()[-1]
    seen["palette"] = {each.title: each.help for each in d.app.get_system_commands(d.app.screen)}
    await d.press("f15")
    seen["pressed"] = d.text
    await d.press("f16")
    seen["page"] = d.text
    await d.press("escape", "f1")
    seen["help"] = d.text

async def remapped(d):
    await d.press("f15")
    seen["old key"] = d.text
    await d.press("ctrl+x")
    seen["own key"] = d.text

folder = Path(sys.argv[1])
walk(folder / "table", as_it_is, size=(120, 90))
walk(folder / "own", remapped, size=(120, 40), settings={"keys": {"walk.added": "Ctrl+X"}})
print(json.dumps(seen))
"""


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package with the row of a key, its action, the row of a page and its file."""
    house = tmp_path_factory.mktemp("added") / "cornerwalk"
    shutil.copytree(HOUSE, house, ignore=shutil.ignore_patterns("__pycache__"))
    _put_before(house / "tui/keys.py", '    Key("walk.note"', ROW)
    _put_before(house / "tui/keys.py", '    Key("job.undo"', PAGE_ROW)
    _put_before(house / "tui/screens/walk.py", "    def action_note(self)", ACTION)
    (house / "tui/screens/added.py").write_text(PAGE, "utf-8")
    return house


def _put_before(file: Path, place: str, added: str) -> None:
    text = file.read_text("utf-8")
    assert text.count(place) == 1
    file.write_text(text.replace(place, added.lstrip("\n") + place), "utf-8")


@pytest.fixture(scope="module")
def seen(copy: Path) -> dict[str, object]:
    """What the copy shows when it is driven."""
    done = subprocess.run(
        [sys.executable, "-c", DRIVE, str(copy.parent)],
        env={
            **os.environ,
            "PYTHONPATH": os.pathsep.join((str(copy.parent), str(ROOT))),
            "PYTHONDONTWRITEBYTECODE": "1",
        },
        cwd=copy.parent,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    told: dict[str, object] = json.loads(done.stdout.splitlines()[-1])
    assert told["package"] == str(copy)
    return told


def test_a_key_costs_its_row_and_its_action(copy: Path) -> None:
    """And a page its row and its file: nothing else was touched."""
    files = (file.relative_to(copy) for file in copy.rglob("*") if file.is_file())
    changed = {
        file.as_posix()
        for file in files
        if not (HOUSE / file).exists() or not filecmp.cmp(HOUSE / file, copy / file, shallow=False)
    }
    assert changed == {"tui/keys.py", "tui/screens/walk.py", "tui/screens/added.py"}


@pytest.mark.parametrize(
    ("where", "told"),
    [
        ("footer", "F15 added key"),
        ("help", "an added sentence"),
        ("help", "an added page"),
        ("table", "| F15 | an added sentence | `walk.added` |"),
        ("table", "| F16 | an added page | `job.added-page` |"),
    ],
)
def test_it_is_shown_wherever_keys_are_shown(seen: dict[str, str], where: str, told: str) -> None:
    """The footer by its rank, the help and the guide's table by its sentence."""
    assert told in seen[where]


def test_the_palette_has_it(seen: dict[str, dict[str, str]]) -> None:
    """By its label, with its sentence and its key."""
    assert seen["palette"]["added key"] == "an added sentence (F15)"
    assert seen["palette"]["added page"] == "an added page (F16)"


def test_it_works(seen: dict[str, str]) -> None:
    """The key does its action, the page opens."""
    assert "The added action ran." in seen["pressed"]
    assert "The added page is open." in seen["page"]


def test_it_can_have_another_key(seen: dict[str, object]) -> None:
    """A remapping by its id is right, holds, and frees the key of the table."""
    assert seen["mistakes"] == []
    assert "The added action ran." not in str(seen["old key"])
    assert "The added action ran." in str(seen["own key"])
