"""Figures handed over then beside those computed now."""

from __future__ import annotations

from typing import Any

import pytest

from cornerwalk import __version__
from cornerwalk.report.audit import figure_text, today_blocks
from cornerwalk.report.document import Block, Bullets, Paragraph, Table
from cornerwalk.report.handover import handed_over_figures
from cornerwalk.report.text import as_text
from cornerwalk.session import RecordedEvent
from cornerwalk.session.events import HandedOver, HeightRead
from tests.support import jobs

FIGURES = handed_over_figures(jobs.worked_case().session, jobs.worked_case().assessment)


def handed_over(figures: dict[str, Any], program: str = __version__) -> tuple[RecordedEvent, ...]:
    over = HandedOver(to="J. Doe (invented)", figures=figures, program=program)
    return jobs.job_of_events([*(event.payload for event in jobs.worked_case().events), over]).events


def tables(blocks: tuple[Block, ...]) -> list[Table]:
    return [block for block in blocks if isinstance(block, Table)]


def paragraphs(blocks: tuple[Block, ...]) -> str:
    return " ".join(block.text for block in blocks if isinstance(block, Paragraph))


def test_every_figure_stands_then_and_now() -> None:
    """Where nothing differs there is one table, with every figure that was handed over."""
    blocks = today_blocks(handed_over(FIGURES), jobs.standards())
    (table,) = tables(blocks)
    assert len(table.rows) == len(FIGURES)
    assert all(then == now for _, then, now in table.rows)
    assert f"{len(FIGURES)} figures are as this program computes them" in paragraphs(blocks)


def test_what_differs_stands_first() -> None:
    """The figure as it was handed over, and as the readings before it give it."""
    # Source: the worked case: rear changed by -1.53125 in, which is -38.89375 mm.
    blocks = today_blocks(handed_over(FIGURES | {"stage.loaded.1.rear_mm": -40.0}, "0.0.9"), jobs.standards())
    differing, same = tables(blocks)
    assert differing.rows == (("loaded, no air: rear, moved, mm", "-40", "-38.8938"),)
    assert len(same.rows) == len(FIGURES) - 1
    assert "1 figure differs." in paragraphs(blocks)
    assert "with version 0.0.9" in paragraphs(blocks)


def test_what_happened_after_a_handover_has_no_part_in_it() -> None:
    """A follow-up reading changes what the session means now, not what followed from the readings then."""
    later = HeightRead(stage="follow-up", corner="RR", entered="27", mm=685.8)
    events = jobs.job_of_events([*(event.payload for event in handed_over(FIGURES)), later]).events
    (table,) = tables(today_blocks(events, jobs.standards()))
    assert all(then == now for _, then, now in table.rows)


def test_without_a_handover_it_says_so() -> None:
    """And with which version the job was opened."""
    blocks = today_blocks(jobs.worked_case().events, jobs.standards())
    assert tables(blocks) == []
    assert "Nothing was handed over up to here." in paragraphs(blocks)
    assert f"opened with version {__version__}" in paragraphs(blocks)


def test_values_that_do_not_follow_are_told() -> None:
    """Beside the figures that may come from them."""
    wrong = HeightRead(stage="unloaded", corner="LF", entered="28 5/8", mm=700.0)
    opened = jobs.nothing_yet().events[0].payload
    blocks = today_blocks(jobs.job_of_events([opened, wrong]).events, jobs.standards())
    (bullets,) = [block for block in blocks if isinstance(block, Bullets)]
    assert bullets.items == ('event 2: 700.0 mm is stored, but "28 5/8" is 727.075 mm',)


@pytest.mark.parametrize(
    ("figure", "words"),
    [(None, "–"), ("", "–"), ("fail", "fail"), (-38.893751, "-38.8938"), (0.0, "0"), (1e300, "1e+300")],
)
def test_figures_as_they_are_told(figure: Any, words: str) -> None:
    """Six digits, or the word."""
    assert figure_text(figure) == words


def test_it_can_be_printed() -> None:
    """The blocks are those of any report."""
    from cornerwalk.report.document import Document

    blocks = today_blocks(handed_over(FIGURES), jobs.standards())
    assert "ride rate, N/mm" in as_text(Document(title="t", subtitle="", blocks=blocks, footer=""))
