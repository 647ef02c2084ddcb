"""Plan: the vehicle from above, front up, and at each wheel what is known there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from rich.cells import cell_len
from textual import events
from textual.message import Message

from cornerwalk.session.stages import CORNERS, Corner
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted
from cornerwalk.tui.widgets.vehicle import LARGE, SMALL, Marks, row_of_art

CornerState = Literal["due", "read", "open", "skipped"]

_CARD_ROW: dict[int, dict[Corner, int]] = {
    len(SMALL): {"LF": 1, "RF": 1, "LR": 7, "RR": 7},
    len(LARGE): {"LF": 3, "RF": 3, "LR": 13, "RR": 13},
}
_LEFT: tuple[Corner, ...] = ("LF", "LR")
_FRONT: tuple[Corner, ...] = ("LF", "RF")
_NARROWEST_CARD = 11


@dataclass(frozen=True, slots=True)
class Card:
    """What stands at a wheel: words and figures, first to last."""

    state: CornerState
    name: str
    lines: tuple[str, ...]
    typed: bool = False
    """The figures are what is being typed, not what is kept."""


@dataclass(frozen=True, slots=True)
class PlanView:
    """Everything on the plan: a card a corner, the stage in words, what is fixed to the vehicle, one line below."""

    cards: Mapping[Corner, Card]
    stage: str
    hitched: bool
    springs: bool
    below: str


class Plan(RowWidget):
    """The plan; a click at a wheel asks for that corner."""

    class CornerChosen(Message):
        """Sent when a corner is clicked."""

        def __init__(self, corner: Corner) -> None:
            self.corner = corner
            super().__init__()

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002
        super().__init__(id=id)
        self._view: PlanView | None = None

    def show_view(self, view: PlanView) -> None:
        """Draw this."""
        if view != self._view:
            self._view = view
            self.redraw()

    def on_click(self, event: events.Click) -> None:
        """Whatever quarter of the plan is clicked, its corner is meant."""
        left = event.x < self.size.width / 2
        front = event.y < self.size.height / 2
        corner: Corner = ("LF" if left else "RF") if front else ("LR" if left else "RR")
        self.post_message(self.CornerChosen(corner))

    def rows(self, width: int) -> list[Row]:
        """The largest drawing that has room, or the cards alone."""
        if self._view is None:
            return []
        height = self.size.height
        for art in (LARGE, SMALL):
            if height >= len(art) and width >= len(art[0]) + 2 * _NARROWEST_CARD:
                above = (height - len(art)) // 2
                return [[] for _ in range(above)] + _drawn(self._view, art, width)
        return _cards_alone(self._view, width, height)


def _drawn(view: PlanView, art: tuple[str, ...], width: int) -> list[Row]:
    card_width = (width - len(art[0])) // 2
    starts = _CARD_ROW[len(art)]
    due = next((corner for corner in CORNERS if view.cards[corner].state == "due"), "")
    marks = Marks(due=due, stage=view.stage, hitched=view.hitched, springs=view.springs)
    rows: list[Row] = []
    for y in range(len(art)):
        left = _card_span(view, y, starts, card_width, left=True)
        right = _card_span(view, y, starts, card_width, left=False)
        rows.append([*left, *row_of_art(art, y, marks), *right])
    if view.below:
        last = cell_len(art[-1].split("o")[0]) + card_width - 2
        rows[-1] = [("quiet", fitted(f" {view.below}", last)), *_after(rows[-1], last)]
    return rows


def _after(row: Row, column: int) -> Row:
    """The row from a column on."""
    rest: Row = []
    passed = 0
    for part, text in row:
        keep = text[max(0, column - passed) :]
        if keep:
            rest.append((part, keep))
        passed += len(text)
    return rest


def _card_span(view: PlanView, y: int, starts: Mapping[Corner, int], width: int, *, left: bool) -> Row:
    for corner in CORNERS:
        if (corner in _LEFT) != left:
            continue
        place = y - starts[corner]
        card = view.cards[corner]
        if place == 0:
            return _name_span(card, width, left=left)
        if 0 < place <= len(card.lines):
            part = _figure_part(card, place)
            return _beside(card.lines[place - 1], part, width, left=left)
    return [("ink", " " * width)]


def _figure_part(card: Card, place: int) -> str:
    if card.typed:
        return "due"
    return "strong" if place == 1 and card.state == "read" else ("quiet" if card.state != "read" else "ink")


def _name_span(card: Card, width: int, *, left: bool) -> Row:
    if card.state != "due":
        return _beside(card.name, "quiet", width, left=left)
    arrow = "▸" if left else "◂"
    name = fitted(card.name, min(width - 2, cell_len(card.name)))
    text = f"{arrow} {name}" if left else f"{name} {arrow}"
    if cell_len(text) < width:  # one column of air at the wheel, where there is one
        text = f"{text} " if left else f" {text}"
    gap = ("ink", " " * (width - cell_len(text)))
    return [gap, ("block", text)] if left else [("block", text), gap]


def _beside(text: str, part: str, width: int, *, left: bool) -> Row:
    """Against the vehicle, one column away."""
    text = fitted(text, min(cell_len(text), width - 1))
    gap = " " * (width - 1 - cell_len(text))
    return [("ink", gap), (part, text), ("ink", " ")] if left else [("ink", " "), (part, text), ("ink", gap)]


def _cards_alone(view: PlanView, width: int, height: int) -> list[Row]:
    """Two cards above two, as many lines of each as there is room for."""
    half = width // 2
    most = max(1, (height - (1 if view.below and height > 6 else 0)) // 2)
    rows: list[Row] = []
    for pair in (("LF", "RF"), ("LR", "RR")):
        block = [_plain_card(view.cards[corner], half, most) for corner in pair]
        rows += [[*left, *right] for left, right in zip(*block, strict=True)]
    if view.below and height > 2 * most:
        rows.append([("quiet", fitted(f" {view.below}", width))])
    return rows


def _plain_card(card: Card, width: int, most: int) -> list[Row]:
    name = f"▸ {card.name}" if card.state == "due" else card.name
    part = "due" if card.state == "due" else "quiet"
    rows: list[Row] = [[("ink", " "), (part, fitted(name, width - 1))]]
    for place, line in enumerate(card.lines, start=1):
        rows.append([("ink", " "), (_figure_part(card, place), fitted(line, width - 1))])
    while len(rows) < most:
        rows.append([("ink", " " * width)])
    return rows[:most]
