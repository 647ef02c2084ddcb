"""How it computes: the page cannot say anything else than the program does."""

from __future__ import annotations

import doctest
import re

import pytest

from cornerwalk.guide import page
from tests.guide.reading import fenced, prose

PAGE = page("computes")
NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?")
_IN_FORMULAS = {"0", "1", "2", "3", "12", "100"}
"""Figures of formulas and of the three weighings, which are no results."""


def test_every_example_gives_what_the_page_says() -> None:
    """All examples are run in the order of the page, in one go, as a reader would type them."""
    examples = doctest.DocTestParser().get_doctest(
        "\n".join(fenced(PAGE, "pycon")), {}, PAGE.id, f"{PAGE.id}.md", lineno=0
    )
    assert len(examples.examples) > 50
    runner = doctest.DocTestRunner(verbose=False)
    report: list[str] = []
    runner.run(examples, out=report.append)
    assert "".join(report) == ""


def test_every_figure_in_the_text_comes_from_an_example() -> None:
    """A number in a sentence stands in an example too, as what goes in or what comes out, or in a source line."""
    shown = set(NUMBER.findall("\n".join(fenced(PAGE, "pycon"))))
    paragraphs = re.split(r"\n\s*\n", prose(PAGE))
    stray = []
    for paragraph in paragraphs:
        if paragraph.startswith(("Source:", "    ")):
            continue
        told = re.sub(r"(ISO|SAE|JCGM|UN) [A-Z]*\d[\w:.]*", "", paragraph)
        stray += [number for number in NUMBER.findall(told) if number not in shown | _IN_FORMULAS]
    assert stray == []


@pytest.mark.parametrize("section", re.split(r"\n## ", PAGE.text)[1:], ids=lambda text: text.partition("\n")[0])
def test_every_section_has_an_example_and_a_source(section: str) -> None:
    """No formula stands there without being run, and none without saying where it comes from."""
    assert "```pycon" in section
    assert re.search(r"^Source: ", section, re.MULTILINE)


def test_the_check_of_figures_sees_a_stray_one() -> None:
    """The pattern finds numbers in sentences and leaves letters with numbers alone."""
    assert NUMBER.findall("It is 3.5 in, R48 says 27 and U2 not.") == ["3.5", "27"]
