"""The page on Python and SQL, and the notebook made from it: each example gives the answer shown."""

from __future__ import annotations

import code
import contextlib
import doctest
import io
import json
import shutil
from pathlib import Path

import pytest

from cornerwalk.guide import page
from cornerwalk.samples import sample_folder
from tests.guide.reading import fenced
from tests.samples.notebook import NAME, as_text

pytest.importorskip("duckdb")


@pytest.fixture
def samples(tmp_path: Path) -> Path:
    """A copy: a library leaves an index beside its files."""
    copy = tmp_path / "sample_sessions"
    shutil.copytree(sample_folder(), copy)
    return copy


def test_every_example_gives_what_the_page_says(samples: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Run in the order of the page, in the folder that the program came in.

    Two answers are worked out by hand: atan(1.875/121) is 0.8878 degrees, and 300 in times 1.875/121 is 4.65 in.
    """
    monkeypatch.chdir(samples.parent)
    blocks = fenced(page("python"), "pycon")
    examples = doctest.DocTestParser().get_doctest("\n".join(blocks), {}, "python", "python.md", lineno=0)
    assert len(examples.examples) > 15
    report: list[str] = []
    doctest.DocTestRunner(verbose=False).run(examples, out=report.append)
    assert "".join(report) == ""


def test_the_notebook_is_the_page() -> None:
    """After a change of the page, `python -m tests.samples.notebook` writes it anew."""
    assert (sample_folder() / NAME).read_text("utf-8") == as_text()


def test_the_notebook_runs_where_it_lies(samples: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Cell by cell among the samples, as a kernel would; each answers what stands below it."""
    monkeypatch.chdir(samples)
    kernel = code.InteractiveInterpreter()
    for cell in json.loads((samples / NAME).read_text("utf-8"))["cells"]:
        if cell["cell_type"] != "code":
            continue
        said = io.StringIO()
        with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
            assert not kernel.runsource("".join(cell["source"]) + "\n", symbol="single")
        assert said.getvalue() == "".join(line for output in cell["outputs"] for line in output["text"])
