"""Which characters drawings are made of: braille where the terminal has it, blocks otherwise; one key changes it.

A terminal does not tell whether its font has braille, so a person does, once; it holds for every page.
"""

from __future__ import annotations

from typing import ClassVar

from cornerwalk.tui.screens.base import JobScreen
from cornerwalk.tui.widgets.raster import BLOCKS, BRAILLE, Alphabet
from cornerwalk.words import tr


class Drawing(JobScreen):
    """A page with a drawing."""

    alphabet: ClassVar[Alphabet] = BRAILLE

    def action_dots(self) -> None:
        """Draw with the other kind of characters, here and on every page."""
        Drawing.alphabet = BLOCKS if Drawing.alphabet is BRAILLE else BRAILLE
        self.show()
        self.tell(tr("Drawn in {characters} now, on every page.", characters=tr(Drawing.alphabet.name)))
