"""A tour of an installed program, told by how it is started: what a user would try first, on a clean machine."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.support.terminal import Terminal

SHEET = """\
unit = "inch"

[job]
title = "First try"

[vehicle]
wheelbase = "119 in"

[kit]
min = "8 psi"
max = "40 psi"
"""
HEIGHTS = {"LF": "28 5/8", "RF": "28 11/16", "RR": "29 3/16", "LR": "29 1/4"}
ON_PAPER = """
[[stage]]
name = "unloaded"
LF = "28 5/8"
RF = "28 11/16"
RR = "29 3/16"
LR = "29 1/4"

[[stage]]
name = "loaded"
LF = "28 7/8"
RF = "28 15/16"
RR = "27 5/8"
LR = "27 3/4"
"""
PATIENCE_s = 90.0
"""A first start compiles the whole program, on a machine that may be slow."""


@dataclass(frozen=True)
class Tour:
    """The program as it was installed, and an empty folder to work in."""

    program: Sequence[str]
    folder: Path

    def take(self) -> None:
        """All of it, in the order of a first day; raises AssertionError at what does not work."""
        assert self.said("--version").startswith("cornerwalk 0.")
        self.demo()
        self.walk()
        self.readings_from_paper()
        self.guide()

    def said(self, *arguments: str) -> str:
        """What the program says; it must end with status 0 and complain of nothing but what it is meant to say."""
        done = subprocess.run(
            [*self.program, *arguments], cwd=self.folder, stdin=subprocess.DEVNULL, capture_output=True, check=False
        )
        complaint = done.stderr.decode()
        assert done.returncode == 0, f"{arguments} ended with {done.returncode}: {complaint}"
        assert not re.search(r"Traceback|\w*Warning:", complaint), complaint
        return done.stdout.decode()

    def demo(self) -> None:
        """The sample's report where nobody can type; the sample itself on a terminal."""
        assert "Level does not mean safe" in self.said("demo")
        with Terminal([*self.program, "demo"]) as screen:
            screen.wait_until(re.compile("RIGHT REAR|Right rear"), PATIENCE_s)
            screen.press("Ctrl+Q")
            assert screen.wait_end(PATIENCE_s) == 0

    def walk(self) -> None:
        """A job from a sheet: Enter begins the stage, then a height and Enter for each corner; all on disk."""
        sheet, library = self.folder / "van.toml", self.folder / "walked"
        sheet.write_text(SHEET, encoding="utf-8")
        with Terminal([*self.program, "--library", str(library), "walk", str(sheet)]) as screen:
            screen.wait_until("then Enter", PATIENCE_s)
            screen.press("Enter")
            for height in HEIGHTS.values():
                screen.wait_still()
                screen.key_in(height)
                screen.wait_until(f"{height}", PATIENCE_s)
                screen.press("Enter")
            screen.wait_until("kept", PATIENCE_s)
            screen.wait_still()
            screen.press("Ctrl+Q")
            assert screen.wait_end(PATIENCE_s) == 0
        (session,) = (path for path in library.glob("*.json") if not path.name.startswith("."))
        events = json.loads(session.read_text("utf-8"))["events"]
        assert {event["corner"]: event["entered"] for event in events if event["kind"] == "height read"} == HEIGHTS

    def readings_from_paper(self) -> None:
        """A session from a sheet; its figures, its pages in every form, and the check of it."""
        (self.folder / "paper.toml").write_text(SHEET + ON_PAPER, encoding="utf-8")
        self.said("import", "paper.toml", "--out", "job.json")
        stages = json.loads(self.said("results", "job.json"))["stages"]
        # Reckoned apart from the program, as on the guide's page "How it computes".
        assert abs(stages[1]["nose_up_deg"] - 0.857567) < 1e-6
        self.said("check", "job.json")
        self.said("report", "job.json", "--for", "customer", "--to", "pdf", "--out", "job.pdf")
        assert (self.folder / "job.pdf").read_bytes().startswith(b"%PDF-")
        self.said("report", "job.json", "--to", "html", "--out", "job.html")
        assert "nose up" in self.said("report", "job.json")

    def guide(self) -> None:
        """Its pages, the rules, completions and the manual page."""
        assert self.said("guide", "leak").startswith("Leak check")
        assert self.said("guide", "all", "--to", "html").count("<section") > 15
        assert "Source" in self.said("rules") or "source" in self.said("rules")
        assert "complete" in self.said("completions", "bash")
        assert ".TH CORNERWALK" in self.said("manual")
