"""The whole job with every way out of the machine forbidden by the interpreter itself."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

PROJECT = Path(__file__).parents[2]

GUARD = """
import sys
OUTWARD = ("socket.connect", "socket.bind", "socket.sendto", "socket.sendmsg", "socket.getaddrinfo",
           "socket.gethostbyname", "socket.gethostbyaddr", "socket.getnameinfo",
           "urllib.Request", "http.client.connect", "smtplib.connect", "ftplib.connect", "webbrowser.open",
           "subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.spawn")
tried = []
def guard(event, arguments):
    if event in OUTWARD:
        tried.append(event)
        raise PermissionError(f"{event} is forbidden here: {arguments}")
sys.addaudithook(guard)
"""
"""A hook cannot be taken away again, and it sees calls that compiled code makes through the interpreter too."""

PLAIN = """
from pathlib import Path
from tests.line import whole_job
from tests.line.talking import new_job, sessions_in
folder = Path(sys.argv[1])
talk = new_job(folder)
for line in whole_job.SCRIPT:
    talk.say(line)
    assert not talk.conversation.refused, line
talk.conversation.close()
(session,) = sessions_in(folder)
"""

COMMANDS = """
from cornerwalk.cli import main
def run(*arguments):
    status = main(["--library", str(folder), *map(str, arguments)])
    assert not status, (arguments, status)
out = folder / "out"
out.mkdir()
for kind in ("txt", "html", "pdf", "csv"):
    run("report", session, "--out", out / f"a.{kind}")
    run("report", session, "--for", "customer", "--out", out / f"c.{kind}")
run("results", session, "--out", out / "r.json")
run("check", session)
run("list")
run("list", "--order", "verdict")
run("replay", session)
run("compare", session)
run("rules")
run("guide", "all")
run("report", "--blank", "--to", "pdf", "--out", out / "blank.pdf")
run("export", out / "tables")
run("ask", "unfinished")
assert len(list(out.iterdir())) == 11, list(out.iterdir())
"""

SCREEN = """
import os
os.environ["TEXTUAL_FPS"] = "1000"  # before the screen library is there: see tests/support/at_rest.py
from tests.tui.whole_job import whole_job
assert len(whole_job().events) > 100
"""

END = """
assert tried == [], tried
print("done")
"""


def run_guarded(script: str, *arguments: Path) -> subprocess.CompletedProcess[str]:
    """Run a script in an interpreter that lets nothing out."""
    return subprocess.run(
        [sys.executable, "-c", GUARD + script + END, *map(str, arguments)],
        cwd=PROJECT,
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_guard_stops_what_goes_out() -> None:
    """Looking up a name, connecting and starting another program all fail, even where the failure is swallowed."""
    for attempt in (
        "import socket; socket.getaddrinfo('localhost', 80)",
        "import socket; socket.socket().connect(('127.0.0.1', 9))",
        "import subprocess; subprocess.run(['true'])",
    ):
        done = run_guarded(f"try:\n    {attempt}\nexcept OSError:\n    pass\n")
        assert done.returncode == 1, attempt
        assert "AssertionError" in done.stderr


def test_a_whole_job_line_by_line_with_its_reports_sends_nothing(tmp_path: Path) -> None:
    """From the intake to the follow-up, then every report, the results, the check, the list and the tables."""
    done = run_guarded(PLAIN + COMMANDS, tmp_path)
    assert (done.returncode, done.stdout.splitlines()[-1:]) == (0, ["done"]), done.stderr


def test_a_whole_job_on_the_screen_sends_nothing() -> None:
    """Three days of it, from the keyboard alone."""
    done = run_guarded(SCREEN)
    assert (done.returncode, done.stdout.splitlines()[-1:]) == (0, ["done"]), done.stderr
