"""Every label the pages show stands in DEVELOPERS.md with where it comes from."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cornerwalk.report.document import Facts, Heading, Table
from cornerwalk.session.facts import FACTS
from cornerwalk.session.stages import STAGE_NAMES
from cornerwalk.tui.keys import TABLE
from cornerwalk.tui.screens.help import HelpScreen
from cornerwalk.tui.widgets.lists import LineList
from cornerwalk.tui.widgets.outlook import Outlook
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.prose import Prose
from cornerwalk.tui.widgets.tabs import Tabs
from cornerwalk.wording.names import stage_name
from tests.samples.screens import SCENES, moments, on
from tests.tui.driving import Driver

PAGE = Path(__file__).parents[2] / "DEVELOPERS.md"

FROM_THE_JOB = re.compile(
    r"\d|Box trailer|^fitted, trial|^after the road test,|loaded, no air –|^[^a-z]*$", re.IGNORECASE
)
"""Figures, names of this job, stages with their pressure, bare signs: shown in the place of a label, and none."""


@pytest.fixture(autouse=True)
def _job_done() -> None:
    """The job that the pages show is done before any page is opened: it runs a loop of its own."""
    moments()


def shown_by(d: Driver) -> Iterator[str]:
    """The labels on the page: of paragraphs and facts, headings, heads of columns, lines of lists, tabs."""
    page = d.app.screen
    if isinstance(page, HelpScreen):
        return  # its labels are names of keys, as printed on them
    for prose in page.query(Prose):
        yield from (paragraph.label for paragraph in prose.paragraphs)
    for outlook in page.query(Outlook):
        yield from (paragraph.label for paragraph in (*outlook.view.meaning, *outlook.view.coming))
    for paper in page.query(Paper):
        for block in paper._blocks:
            match block:
                case Table(head=head):
                    yield from head
                case Facts(rows=rows):
                    yield from (name for name, _ in rows)
                case Heading(text=text):
                    yield text
    for lines in page.query(LineList):
        for line in lines._lines:
            if not line.group.startswith("Keys"):
                yield from (line.name, line.group)
    for tabs in page.query(Tabs):
        yield from tabs._names


async def _on_every_page() -> set[str]:
    seen: set[str] = set()
    for scene in SCENES.values():
        async with on(scene, (120, 40)) as d:
            seen.update(shown_by(d))
    return seen


def labels() -> set[str]:
    """Every label there is: on the pages, and in the registers of keys, facts and stages."""
    seen = asyncio.run(_on_every_page())
    seen |= (
        {key.label for key in TABLE}
        | {fact.label for fact in FACTS.values()}
        | {stage_name(name) for name in STAGE_NAMES}
    )
    return {label.casefold() for label in seen if label and not FROM_THE_JOB.search(label)}


def listed() -> dict[str, str]:
    """The labels of the table in DEVELOPERS.md, each with its origin."""
    section = PAGE.read_text("utf-8").partition("### Labels")[2].partition("\n#")[0]
    rows = [line.strip("| ").split(" | ") for line in section.splitlines() if line.startswith("| ")][1:]
    return {label.strip().casefold(): row[0] for row in rows for label in row[1].split(";")}


def test_every_label_has_its_origin() -> None:
    """What a page shows as a label is in the table; a new one is put there by whoever makes it."""
    shown, known = labels(), listed()
    assert len(shown) > 250
    assert sorted(shown - known.keys()) == []
    assert set(known.values()) > {"a standard", "the trade", "our own"}


def test_the_table_holds_no_label_twice() -> None:
    """A label has one origin."""
    section = PAGE.read_text("utf-8").partition("### Labels")[2].partition("\n#")[0]
    rows = [line.strip("| ").split(" | ")[1] for line in section.splitlines() if line.startswith("| ")][1:]
    told = [label.strip().casefold() for row in rows for label in row.split(";")]
    assert len(told) == len(set(told)), sorted(label for label in set(told) if told.count(label) > 1)
