"""What tells whose vehicle it is stays with whoever recorded it: permissions, and reports without the customer."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pypdf
import pytest
import zxingcpp

from cornerwalk.cli import main
from cornerwalk.samples import sample_folder
from cornerwalk.tui.crash import Crash
from tests.cli.calling import CAMPER, run
from tests.tui.driving import context_of

SECRETS = ("J. Doe", "shop, bay 2", "rear sags", "Camper, kitchen", "left at 27 psi")
"""What the sample says of its invented customer, and what only the customer would recognise the job by."""

posix = pytest.mark.skipif(sys.platform == "win32", reason="permissions are for POSIX")

JOB = """
import os, sys
from pathlib import Path
os.umask(0o022)
from cornerwalk.cli import main
folder, samples = Path(sys.argv[1]), Path(sys.argv[2])
def run(*arguments):
    status = main(["--library", str(folder / "new" / "sessions"), *map(str, arguments)])
    assert not status, (arguments, status)
run("import", samples / "half-done.toml", "--out", folder / "imported.json")
camper = samples / "camper.json"
for form in ("text", "html", "pdf", "csv"):
    run("report", camper, "--to", form, "--out", folder / "reports" / f"report.{form}")
run("results", camper, "--out", folder / "results.json")
run("compare", camper, "--out", folder / "compare.txt")
run("import", samples / "half-done.toml")
run("list")
run("list", "--order", "verdict")
run("export", folder / "tables")
"""


@posix
def test_nobody_else_can_read_what_is_made(tmp_path: Path) -> None:
    """After a job with every report, the tables and the lists: files 0600, folders 0700, whatever the account has."""
    made = tmp_path / "made"
    made.mkdir(mode=0o700)
    done = subprocess.run(
        [sys.executable, "-c", JOB, str(made), str(sample_folder())], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    modes = {path: stat.S_IMODE(path.lstat().st_mode) for path in made.rglob("*")}
    assert len(modes) > 20
    assert {path: oct(mode) for path, mode in modes.items() if mode & 0o077} == {}


@pytest.fixture
def open_account() -> Iterator[None]:
    """An account whose new files everybody may read."""
    before = os.umask(0o022)
    yield
    os.umask(before)


@posix
@pytest.mark.usefixtures("open_account")
def test_nobody_else_can_read_a_crash_report(tmp_path: Path) -> None:
    """A trace repeats what was being done, names included."""
    context = context_of(tmp_path)
    crash = Crash(ValueError("the customer's name"), context, None)
    assert crash.report is not None
    assert stat.S_IMODE(crash.report.stat().st_mode) == 0o600
    assert stat.S_IMODE(crash.report.parent.stat().st_mode) == 0o700


@posix
@pytest.mark.usefixtures("open_account")
def test_the_commands_make_private_files_whatever_the_account_does(tmp_path: Path) -> None:
    """The first thing that the program does is to take everybody else's rights from what it will make."""
    assert main(["results", str(CAMPER), "--out", str(tmp_path / "new" / "r.json")]) == 0
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o700
    assert os.umask(0o022) == 0o077


def told_by(file: Path) -> str:
    """All that a report tells, the metadata of a PDF and the codes on it included."""
    if file.suffix != ".pdf":
        return file.read_text("utf-8-sig")
    pages = pypdf.PdfReader(file)
    images = [image.image for page in pages.pages for image in page.images]
    codes = [code.text for image in images if image is not None for code in zxingcpp.read_barcodes(image)]
    return " ".join((*(page.extract_text() for page in pages.pages), str(pages.metadata), *codes))


@pytest.mark.parametrize("form", ["text", "html", "csv", "pdf"])
@pytest.mark.parametrize("reader", ["file", "customer"])
def test_a_report_without_the_customer(form: str, reader: str, tmp_path: Path) -> None:
    """Neither what was stated at intake nor who took it back tells whose vehicle it is; with them it would be told."""
    told = []
    for name, wish in (("with", ()), ("without", ("--without-customer",))):
        out = tmp_path / f"{name}.{form}"
        assert run("report", CAMPER, "--to", form, "--for", reader, *wish, "--out", out) == 0
        told.append(told_by(out))
    assert [secret for secret in SECRETS if secret in told[0]] or form == "csv"
    assert not [secret for secret in SECRETS if secret in told[1]]
