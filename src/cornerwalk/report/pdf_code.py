"""A code for telephones on a printed page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cornerwalk.report.qr import Matrix

if TYPE_CHECKING:
    from fpdf import FPDF


def draw_code(page: FPDF, matrix: Matrix, x: float, y: float, width: float) -> None:
    """A code as black squares on white, each run of dark modules one rectangle."""
    module = width / len(matrix)
    page.set_fill_color(255, 255, 255)
    page.rect(x, y, width, width, style="F")
    page.set_fill_color(0, 0, 0)
    for row, modules in enumerate(matrix):
        for start, end in _runs(modules):
            page.rect(x + start * module, y + row * module, (end - start) * module, module, style="F")


def _runs(modules: tuple[bool, ...]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for place, dark in enumerate(modules):
        if not dark:
            continue
        if runs and runs[-1][1] == place:
            runs[-1] = (runs[-1][0], place + 1)
        else:
            runs.append((place, place + 1))
    return runs
