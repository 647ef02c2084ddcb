"""The program as started from a shell: pipes that shut, keys that interrupt, old locales, and what gets loaded."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from cornerwalk.samples import sample_folder

if TYPE_CHECKING:
    from tests.support.terminal import Terminal

PROGRAM = [sys.executable, "-m", "cornerwalk"]
CAMPER = str(sample_folder() / "camper.json")

posix_only = pytest.mark.skipif(sys.platform == "win32", reason="POSIX signals and pipes")


def shell(*arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [*PROGRAM, *arguments], capture_output=True, stdin=subprocess.DEVNULL, env=os.environ | environment, check=False
    )


def test_as_a_module() -> None:
    """The status of the command is that of the program."""
    assert shell("check", CAMPER).returncode == 0
    assert shell("check", str(Path(CAMPER).with_suffix(".toml"))).returncode == 1
    assert shell("results", "none.json").returncode == 2


@posix_only
@pytest.mark.parametrize("arguments", [["rules"], ["report", CAMPER], ["results", CAMPER], ["replay", CAMPER]])
def test_a_pipe_that_nobody_reads(arguments: list[str]) -> None:
    """`| head -1` ends the program quietly, with the status a shell gives for it."""
    program = subprocess.Popen([*PROGRAM, *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert program.stdout is not None
    assert program.stderr is not None
    program.stdout.close()
    errors = program.stderr.read()
    program.stderr.close()
    assert program.wait(timeout=60) == 141
    assert errors == b""


@posix_only
def test_interrupted(tmp_path: Path) -> None:
    """Ctrl+C ends it with status 130 and without a traceback."""
    import fcntl

    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    # Writing the answer into a pipe that has a reader, but one that does not read, holds the program up for certain.
    reader = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    if hasattr(fcntl, "F_SETPIPE_SZ"):
        fcntl.fcntl(reader, fcntl.F_SETPIPE_SZ, 4096)
    program = subprocess.Popen(
        [*PROGRAM, "report", CAMPER, "--to", "html", "--out", str(pipe)], stderr=subprocess.PIPE, start_new_session=True
    )
    assert program.stderr is not None
    wait_until_full(reader, program)
    program.send_signal(signal.SIGINT)
    errors = program.stderr.read()
    program.stderr.close()
    os.close(reader)
    assert program.wait(timeout=60) == 130
    assert errors == b""


def wait_until_full(reader: int, program: subprocess.Popen[bytes]) -> None:
    """Until the pipe holds something: the program is writing, and the report is larger than a pipe holds."""
    import fcntl
    import struct
    import termios

    for _ in range(600):
        held = struct.unpack("i", fcntl.ioctl(reader, termios.FIONREAD, b"\0" * 4))[0]
        if held or program.poll() is not None:
            time.sleep(0.05)
            return
        time.sleep(0.05)
    raise AssertionError("nothing was written")


@cache
def in_utf8(*arguments: str) -> str:
    """What is said where there are all characters."""
    return shell(*arguments).stdout.decode("utf-8")


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp437"])
@pytest.mark.parametrize("arguments", [["report", CAMPER], ["rules"], ["report", CAMPER, "--for", "customer"]])
def test_a_terminal_without_utf8(arguments: list[str], encoding: str) -> None:
    """Everything is said, in the characters there are; a sign that is missing never turns into a ? that hides it."""
    ended = shell(*arguments, PYTHONUTF8="0", PYTHONIOENCODING=encoding)
    assert ended.returncode == 0
    assert ended.stderr == b""
    told = ended.stdout.decode(encoding)
    assert told.count("?") == in_utf8(*arguments).count("?")


@pytest.mark.parametrize("encoding", ["ascii", "utf-16"])
def test_results_are_json_in_any_encoding(encoding: str, tmp_path: Path) -> None:
    """Whatever the locale, the results can be read by a machine."""
    sheet = tmp_path / "a.toml"
    sheet.write_text("unit = 'mm'\n[job]\ntitle = 'Zoë ½'\n", "utf-8")
    made = str(tmp_path / "a.json")
    assert shell("import", str(sheet), "--out", made).returncode == 0
    ended = shell("results", made, PYTHONUTF8="0", PYTHONIOENCODING=encoding)
    assert json.loads(ended.stdout.decode(encoding))["format"] == "cornerwalk results"


def loaded_after(statement: str) -> list[str]:
    """The modules that are loaded after a statement, in a fresh interpreter."""
    code = f"import sys\ntry:\n    {statement}\nexcept SystemExit:\n    pass\nprint(*sys.modules, file=sys.stderr)"
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, stdin=subprocess.DEVNULL, check=True)
    return ended.stderr.decode().split()


def packages(modules: list[str]) -> set[str]:
    return {name.partition(".")[0] for name in modules}


HEAVY = {"textual", "rich", "pint", "pydantic", "fpdf", "segno", "numpy", "pyarrow", "duckdb", "dask"}


@pytest.mark.parametrize(
    "statement",
    [
        "import cornerwalk.context, cornerwalk.settings",
        "from cornerwalk.cli import main; main(['--help'])",
        "from cornerwalk.cli import main; main(['list'])",
    ],
)
def test_nothing_heavy_is_loaded(statement: str) -> None:
    """Help, the list and what the app is handed need none of the large packages."""
    assert packages(loaded_after(statement)).isdisjoint(HEAVY)


def test_help_loads_no_room() -> None:
    """Help is there before anybody has time to wonder: it reads the settings and nothing of a session."""
    loaded = loaded_after("from cornerwalk.cli import main; main(['--help'])")
    rooms = {name.split(".")[1] for name in loaded if name.startswith("cornerwalk.")}
    assert rooms <= {"cli", "settings", "words", "textfiles", "quantity", "samples"}


def test_commands_load_no_screen() -> None:
    """What runs without a terminal runs where the screen library does not."""
    for arguments in (["results", CAMPER], ["report", CAMPER], ["replay", CAMPER], ["check", CAMPER], ["rules"]):
        loaded = loaded_after(f"from cornerwalk.cli import main; main({arguments!r})")
        assert packages(loaded).isdisjoint({"textual", "rich"})


def test_walk_on_a_terminal(open_terminal: Callable[..., Terminal], tmp_path: Path) -> None:
    """`walk` opens on the first due corner: four heights and Enter after each, and nothing else, are four readings."""
    sheet = tmp_path / "van.toml"
    sheet.write_text("unit = 'inch'\n[job]\ntitle = 'Tuesday van'\ntechnician = 'QX'\n")
    terminal = open_terminal("--library", tmp_path / "lib", "walk", sheet)
    terminal.wait_until("Tuesday van")
    (session,) = (path for path in (tmp_path / "lib").iterdir() if not path.name.startswith("."))
    typed = ["28 5/8", "28 11/16", "29 3/16", "29 1/4"]
    for height in typed:
        terminal.key_in(height)
        terminal.press("Enter")
        terminal.wait_until(partial(has_reading, session, height))
    events = json.loads(session.read_bytes())["events"]
    assert readings(session) == typed
    assert {event["by"] for event in events} == {"QX"}
    assert [event["mm"] for event in events if event["kind"] == "height read"] == [727.075, 728.6625, 741.3625, 742.95]


def readings(session: Path) -> list[str]:
    events = json.loads(session.read_bytes())["events"]
    return [event["entered"] for event in events if event["kind"] == "height read"]


def has_reading(session: Path, height: str, _screen: str) -> bool:
    return height in readings(session)
