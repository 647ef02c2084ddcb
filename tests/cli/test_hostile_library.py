"""A library of good sessions among everything else that a folder can hold."""

from __future__ import annotations

import asyncio
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from cornerwalk.samples import sample_folder
from cornerwalk.store import Library
from tests.support.clock import FrozenClock
from tests.support.strange_library import GOOD, StrangeLibrary, strange_library
from tests.tui.driving import context_of, driven

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs pipes, links and names of any bytes")

PROJECT = Path(__file__).parents[2]
MOST_MEMORY = 1 << 30
"""Bytes of address space: less than the largest file of the library alone."""
LONGEST_S = 240

COMMANDS = """
import json, resource, sys
resource.setrlimit(resource.RLIMIT_AS, (int(sys.argv[1]), int(sys.argv[1])))
from cornerwalk.cli import main
for line in sys.stdin:
    try:
        status = main(json.loads(line))
    except SystemExit as leaving:
        status = leaving.code
    print("status", json.dumps([json.loads(line), status]), file=sys.__stdout__, flush=True)
"""
"""Runs commands one after the other, each as a shell would; an error that is no answer ends it."""


@pytest.fixture
def strange(tmp_path: Path) -> Iterator[StrangeLibrary]:
    made = strange_library(tmp_path / "sessions")
    before = made.looks()
    yield made
    assert made.looks() == before, "what came from outside was changed, or something was put beside it"
    assert not [path for path in (tmp_path, made.folder, Path.cwd()) if (path / "owned").exists()]


def ran(library: StrangeLibrary, *commands: list[str]) -> tuple[dict[str, int], str]:
    """The exit status of each command by its last argument, and all that was said; memory and time are bounded."""
    lines = [json.dumps(["--library", str(library.folder), *command]) for command in commands]
    done = subprocess.run(
        [sys.executable, "-c", COMMANDS, str(MOST_MEMORY)],
        input="\n".join(lines).encode() + b"\n",
        cwd=PROJECT,
        capture_output=True,
        timeout=LONGEST_S,
        check=False,
    )
    said = done.stdout.decode() + done.stderr.decode()
    assert done.returncode == 0, said[-3000:]
    assert "Traceback" not in said
    statuses = [json.loads(line[7:]) for line in done.stdout.decode().splitlines() if line.startswith("status ")]
    assert len(statuses) == len(commands)
    return {command[-1]: status for command, status in statuses}, done.stdout.decode()


def nothing_acts(text: str) -> None:
    """No control character but the line's end, no override of the direction, no half character."""
    assert not [c for c in text if (not c.isprintable() and c != "\n") or c in "\u202e\x1b\x07"]


def test_the_list_shows_the_good_ones(strange: StrangeLibrary) -> None:
    """`list`, twice (the second time from the index): every good session is there, nothing acts, nothing hangs."""
    statuses, said = ran(strange, ["list"], ["list", "--order", "verdict"], ["list", "--find", "camper"])
    assert set(statuses.values()) == {0}
    for name in GOOD:
        assert said.count(f"  {name}\n") >= 2
    nothing_acts(said)


def test_each_file_is_refused_with_its_reason(strange: StrangeLibrary) -> None:
    """`check`, `replay`, `report`, `results` and `compare` of each: an answer, or one line that says why not."""
    verbs = (["check"], ["replay"], ["report"], ["results"], ["compare", str(strange.good[0])])
    for verb in verbs:
        statuses, said = ran(strange, *([*verb, "--", str(path)] for path in strange.strange))
        nothing_acts(said)
        assert set(statuses.values()) <= {0, 1, 2}
        refused = {Path(name).name for name, status in statuses.items() if status}
        assert ("folder.json" in refused) is (verb != ["check"])  # it holds a good session
        for name in ("link", "loop", "nowhere", "endless", "up", "pipe", "socket"):
            assert f"{name}.json" in refused, verb
        for name in ("gigabyte", "nested", "utf-16", "newer", "foreign", "empty", "zeros", "huge-integer"):
            assert f"2026-05-04-{name}-1a2b3c4d.json" in refused, verb


def test_the_export_has_the_good_ones_and_says_what_it_left_out(strange: StrangeLibrary, tmp_path: Path) -> None:
    """Each file that is not in the tables is in `left_out.csv` with its reason; the good ones are in the tables."""
    statuses, _ = ran(strange, ["export", str(tmp_path / "tables")])
    assert set(statuses.values()) == {0}
    sessions = "".join(
        path.read_text("utf-8") for path in (tmp_path / "tables").rglob("*.csv") if "sessions" in str(path)
    )
    for name in GOOD:
        assert name in sessions
    left_out = (tmp_path / "tables" / "left_out.csv").read_text("utf-8-sig")
    for name in ("truncated", "bit-flipped", "huge-integer", "half-a-character"):
        assert f"2026-05-04-{name}-1a2b3c4d.json" in left_out
    nothing_acts(left_out.replace("\r", ""))


async def test_the_app_starts_and_shows_the_library(strange: StrangeLibrary) -> None:
    """The start page, and the library page from its first row to its last: nothing acts, the good ones are there."""
    async with asyncio.timeout(LONGEST_S), driven(context_of(strange.folder.parent)) as d:
        assert "Go on with" in d.text
        await d.press("3")
        assert d.page == "LibraryScreen"
        shown = d.text
        for _ in Library(strange.folder, clock=FrozenClock(), by="MT").summaries():
            await d.press("down")
            shown += d.text
        nothing_acts(shown)
        assert "Camper, kitchen in the back" in shown
        assert "exe.\\u202enosj" in shown


async def test_the_app_opens_each_or_says_why_not(strange: StrangeLibrary) -> None:
    """Each file opened to go on with it, and replayed: its page, or one that says why not; nothing acts."""
    async with asyncio.timeout(LONGEST_S), driven(context_of(strange.folder.parent)) as d:
        for path in strange.strange:
            for open_it in (d.app.open_file, d.app.replay_file):
                open_it(path)
                await d.pilot.pause()
                await d.pilot.pause()
                nothing_acts(d.text)
                assert d.app._exception is None, path
                d.app.pop_screen()
                await d.pilot.pause()
            d.app.close_job()


@pytest.mark.parametrize("own", [".index.json", "set-aside"])
@pytest.mark.parametrize("what", ["folder", "pipe", "endless", "nested", "text"])
def test_the_programs_own_files_may_be_anything(tmp_path: Path, own: str, what: str) -> None:
    """What the program keeps beside the sessions may have been replaced by anything: the list is as without it."""
    folder = tmp_path / "sessions"
    folder.mkdir()
    for name in GOOD:
        (folder / name).write_bytes((sample_folder() / name).read_bytes())
    made = StrangeLibrary(folder, tuple(folder / name for name in GOOD), ())
    path = made.folder / own
    match what:
        case "folder":
            path.mkdir()
        case "pipe":
            os.mkfifo(path)
        case "endless":
            path.symlink_to("/dev/zero")
        case "nested":
            path.write_bytes(b"[" * 200_000)
        case "text":
            path.write_bytes(b'{"format": "cornerwalk library index 3", "strangers": {"a": [1, NaN, "\xff"]}}\n[[1]]\n')
    statuses, said = ran(made, ["list"], ["check", str(made.good[0])])
    assert set(statuses.values()) == {0}
    for name in GOOD:
        assert f"  {name}\n" in said
