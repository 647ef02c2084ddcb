"""House copy: the package in a folder of its own, changed there, and what its commands and its pages say then."""

from __future__ import annotations

import filecmp
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from hatch_build import compile_catalogs

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "src" / "cornerwalk"
_MAIN = "import sys; from cornerwalk.cli import main; sys.exit(main())"
_LEFT_BEHIND = ("__pycache__", "*.mo", "*.new")


class HouseCopy:
    """A copy of the package."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.house = folder / "cornerwalk"
        shutil.copytree(HOUSE, self.house, ignore=shutil.ignore_patterns(*_LEFT_BEHIND))

    def write(self, name: str, text: str) -> None:
        """A new file."""
        assert not (self.house / name).exists()
        (self.house / name).write_text(text, "utf-8")

    def append(self, name: str, text: str) -> None:
        """More at the end of a file."""
        file = self.house / name
        file.write_text(file.read_text("utf-8") + text, "utf-8")

    def put_before(self, name: str, place: str, text: str) -> None:
        """More before a text that stands there once."""
        self.replace(name, place, text + place)

    def replace(self, name: str, before: str, after: str) -> None:
        """Another text for one that stands there once."""
        file = self.house / name
        text = file.read_text("utf-8")
        assert text.count(before) == 1, f"{before!r} stands {text.count(before)} times in {name}"
        file.write_text(text.replace(before, after), "utf-8")

    def translate(self, language: str, words: dict[str, str]) -> None:
        """More translations in a catalog, by their English."""
        rows = (f'\nmsgid "{text}"\nmsgstr "{told}"\n' for text, told in words.items())
        self.append(f"words/locale/{language}/LC_MESSAGES/cornerwalk.po", "".join(rows))
        compile_catalogs(self.house / "words" / "locale")

    def changed(self) -> set[str]:
        """The files that are not as they were, or new."""
        files = (file.relative_to(self.house) for file in self.house.rglob("*") if file.is_file())
        sources = (file for file in files if file.suffix not in (".pyc", ".mo"))
        return {
            file.as_posix()
            for file in sources
            if not (HOUSE / file).exists() or not filecmp.cmp(HOUSE / file, self.house / file, shallow=False)
        }

    def says(self, *arguments: str, language: str = "C") -> str:
        """What a command of the copy prints, its line ends and spaces made one."""
        return " ".join(self._run(_MAIN, *arguments, LANG=language).split())

    def runs(self, program: str) -> dict[str, object]:
        """The JSON that a program prints last, which may import the copy and the tests' own helpers."""
        told: dict[str, object] = json.loads(self._run(program, str(self.folder)).splitlines()[-1])
        return told

    def _run(self, program: str, *arguments: str, **environment: str) -> str:
        known = {"HOME": str(self.folder), "PYTHONDONTWRITEBYTECODE": "1", "TERM": "xterm-256color"}
        done = subprocess.run(
            [sys.executable, "-c", program, *arguments],
            env={"PYTHONPATH": os.pathsep.join((str(self.folder), str(ROOT))), **known, **environment},
            cwd=self.folder,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode in (0, 1), done.stderr
        return done.stdout
