"""Large letters and figures out of half blocks, readable from the far corner of the vehicle.

One pixel font, three wide and five high; a factor makes it larger. At factor 1 a line of it is three rows high, at
factor 2 five. The library's `Digits` has one size, no slash and no L, R, F.
"""

from __future__ import annotations

_FONT: dict[str, tuple[str, ...]] = {
    "0": ("###", "# #", "# #", "# #", "###"),
    "1": ("## ", " # ", " # ", " # ", "###"),
    "2": ("###", "  #", "###", "#  ", "###"),
    "3": ("###", "  #", "###", "  #", "###"),
    "4": ("# #", "# #", "###", "  #", "  #"),
    "5": ("###", "#  ", "###", "  #", "###"),
    "6": ("###", "#  ", "###", "# #", "###"),
    "7": ("###", "  #", "  #", "  #", "  #"),
    "8": ("###", "# #", "###", "# #", "###"),
    "9": ("###", "# #", "###", "  #", "###"),
    "L": ("#  ", "#  ", "#  ", "#  ", "###"),
    "R": ("## ", "# #", "## ", "# #", "# #"),
    "F": ("###", "#  ", "###", "#  ", "#  "),
    "/": ("  #", "  #", " # ", "#  ", "#  "),
    "-": ("  ", "  ", "##", "  ", "  "),
    "−": ("  ", "  ", "##", "  ", "  "),
    ".": (" ", " ", " ", " ", "#"),
    ",": (" ", " ", " ", "#", "#"),
    "'": ("#", "#", " ", " ", " "),
    '"': ("# #", "# #", "   ", "   ", "   "),
    " ": (" ",) * 5,
}
_HEIGHT = 5
_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def can_draw(text: str) -> bool:
    """Whether the font has every character of the text."""
    return all(character in _FONT for character in text)


def width(text: str, factor: int) -> int:
    """Columns the text takes."""
    glyphs = [len(_FONT[character][0]) for character in text]
    return factor * (sum(glyphs) + max(0, len(glyphs) - 1))


def height(factor: int) -> int:
    """Rows a line of text takes."""
    return (_HEIGHT * factor + 1) // 2


def draw(text: str, factor: int) -> list[str]:
    """The rows of the text, all of one width.

    Raises:
        KeyError: a character the font does not have; ask `can_draw` first.

    >>> for row in draw("1/4", 1): print(row)
    ▀█    █ █ █
     █   ▄▀ ▀▀█
    ▀▀▀  ▀    ▀
    """
    lines = [" ".join(_FONT[character][row] for character in text) for row in range(_HEIGHT)]
    pixels = [[pixel != " " for pixel in line for _ in range(factor)] for line in lines for _ in range(factor)]
    if len(pixels) % 2:
        pixels.append([False] * len(pixels[0]))
    return [
        "".join(_HALVES[above, below] for above, below in zip(upper, lower, strict=True))
        for upper, lower in zip(pixels[::2], pixels[1::2], strict=True)
    ]
