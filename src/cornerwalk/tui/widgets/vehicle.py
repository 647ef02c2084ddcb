"""Vehicle drawing: from above, front up; and a widget that shows it with the names of its corners."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from rich.cells import cell_len

from cornerwalk.job.notice import Span
from cornerwalk.tui.widgets.rows import Row, RowWidget, fitted
from cornerwalk.words import tr_in

# W: a wheel. F and S: where "front" and the stage are written. o: the hitch, (): the helper springs.
SMALL = (
    "   ╭──────╮   ",
    "  ╭╯FFFFFF╰╮  ",
    "WW│╭──────╮│WW",
    "WW│╰──────╯│WW",
    "  │        │  ",
    "  │SSSSSSSS│  ",
    "  │        │  ",
    "WW│(╭────╮)│WW",
    "WW│(╰────╯)│WW",
    "  ╰────────╯  ",
    "      oo      ",
)
LARGE = (
    "      ╭────────────╮      ",
    "    ╭─╯            ╰─╮    ",
    "   ╭╯ FFFFFFFFFFFFFF ╰╮   ",
    "WWW│                  │WWW",
    "WWW│  ╭────────────╮  │WWW",
    "WWW│  │            │  │WWW",
    "WWW│  ╰────────────╯  │WWW",
    "   │                  │   ",
    "   │                  │   ",
    "   │ SSSSSSSSSSSSSSSS │   ",
    "   │                  │   ",
    "   │                  │   ",
    "   │                  │   ",
    "WWW│((╭────────────╮))│WWW",
    "WWW│((│            │))│WWW",
    "WWW│((╰────────────╯))│WWW",
    "WWW│                  │WWW",
    "   ╰──────────────────╯   ",
    "            oo            ",
)


@dataclass(frozen=True, slots=True)
class Marks:
    """What is drawn into the vehicle: the corner that is due ("" for none), a word, a hitch, the helper springs."""

    due: str = ""
    stage: str = ""
    hitched: bool = False
    springs: bool = False


@lru_cache(maxsize=256)
def row_of_art(art: tuple[str, ...], y: int, marks: Marks) -> tuple[Span, ...]:
    """One row of a drawing."""
    line = art[y]
    spans: list[Span] = []
    for x in range(len(line)):
        span = _cell(line, x, marks, front=y < len(art) / 2)
        if spans and spans[-1][0] == span[0]:
            spans[-1] = (span[0], spans[-1][1] + span[1])
        else:
            spans.append(span)
    return tuple(spans)


def _cell(line: str, x: int, marks: Marks, *, front: bool) -> tuple[str, str]:
    left = x < len(line) / 2
    match line[x]:
        case "W":
            corner = ("L" if left else "R") + ("F" if front else "R")
            return ("due" if corner == marks.due else "ink", _wheel(x, line))
        case "(" | ")":
            return ("ink", ("◖" if line[x] == "(" else "◗") if marks.springs else " ")
        case "o":
            return ("ink", ("╰" if left else "╯") if marks.hitched else " ")
        case "F" | "S":
            words = tr_in("six characters at most", "front") if line[x] == "F" else marks.stage
            room = line.count(line[x])
            written = fitted(words, min(room, cell_len(words))).center(room)
            return ("quiet" if line[x] == "F" else "ink", written[x - line.index(line[x])])
        case drawn:
            return ("line", drawn)


def _wheel(x: int, line: str) -> str:
    if x == 0 or line[x - 1] != "W":
        return "▐"
    return "▌" if x + 1 == len(line) or line[x + 1] != "W" else "█"


class VehicleArt(RowWidget):
    """The drawing with a name at each wheel, as large as there is room for, in the middle of it."""

    def rows(self, width: int) -> list[Row]:
        """The largest drawing that fits, or nothing."""
        for art, front, rear in ((LARGE, 3, 13), (SMALL, 2, 7)):
            side = (width - len(art[0])) // 2
            if side >= _NAME_WIDTH and (self.size.height >= len(art) or not self.size.height):
                names = _names(front, rear)
                return [_named(art, y, side, *names.get(y, ("", ""))) for y in range(len(art))]
        return []


_NAME_WIDTH = 12


def _names(front: int, rear: int) -> dict[int, tuple[str, str]]:
    """The corners' short names by the line of the drawing where they stand."""
    return {
        front: (
            tr_in("on a card of ten characters", "left front"),
            tr_in("on a card of ten characters", "right front"),
        ),
        rear: (tr_in("on a card of ten characters", "left rear"), tr_in("on a card of ten characters", "right rear")),
    }


def _named(art: tuple[str, ...], y: int, side: int, left: str, right: str) -> Row:
    return [
        ("quiet", f"{fitted(left, min(cell_len(left), side - 1)):>{side - 1}} "),
        *row_of_art(art, y, Marks()),
        ("quiet", f" {fitted(right, min(cell_len(right), side - 1))}"),
    ]
