"""Themes: three looks of our own, day (paper and pencil, for sun), shop (a blackboard and chalk), night (a lamp).

Every colour has a part to play, the same in each look, and style sheets name the part (`$ink`, `$due`), never a
colour. Words carry every meaning; a colour only repeats it, so that nothing is lost without any.

| part | plays |
|---|---|
| `paper` | what is written on |
| `ink` | figures and sentences |
| `quiet` | labels, units, hints: read second |
| `due` | the corner that is due and what belongs to it |
| `caution` | what can hurt somebody, what is above a limit, what is not on disk |
| `slot` | the place to type in |
| `line` | drawn lines; never text |

`PAIRS` lists the parts that may meet as writing and ground: each is at least 7:1 by WCAG 2, in every look.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.theme import Theme

PARTS = ("paper", "ink", "quiet", "due", "caution", "slot", "line")

PAIRS: tuple[tuple[str, str], ...] = (
    ("ink", "paper"),
    ("quiet", "paper"),
    ("due", "paper"),
    ("caution", "paper"),
    ("ink", "slot"),
    ("quiet", "slot"),
    ("due", "slot"),
    ("caution", "slot"),
    ("paper", "due"),
    ("paper", "caution"),
    ("paper", "ink"),
)
"""(writing, ground) pairs that the style sheets use."""


@dataclass(frozen=True, slots=True)
class Look:
    """The colours of one theme, by part."""

    name: str
    paper: str
    ink: str
    quiet: str
    due: str
    caution: str
    slot: str
    line: str
    dark: bool

    def part(self, name: str) -> str:
        """The colour that plays this part, as #rrggbb."""
        return str(getattr(self, name))


DAY = Look(
    name="day",
    paper="#fffdf4",
    ink="#14130f",
    quiet="#45423a",
    due="#0b3c8c",
    caution="#8f1408",
    slot="#efe9d3",
    line="#6f6a5c",
    dark=False,
)
SHOP = Look(
    name="shop",
    paper="#12201b",
    ink="#f5f2e6",
    quiet="#b9c6bd",
    due="#ffe07a",
    caution="#ffb49e",
    slot="#1e332b",
    line="#7f9589",
    dark=True,
)
NIGHT = Look(
    name="night",
    paper="#0a0604",
    ink="#e3a878",
    quiet="#cf9d76",
    due="#ffcf9a",
    caution="#ff9a86",
    slot="#1d110a",
    line="#84603f",
    dark=True,
)
LOOKS: dict[str, Look] = {look.name: look for look in (DAY, SHOP, NIGHT)}


def theme(look: Look) -> Theme:
    """The look as a theme of the screen library; its own parts of the screen (palette, scroll bars) follow too."""
    return Theme(
        name=look.name,
        primary=look.due,
        secondary=look.due,
        accent=look.due,
        warning=look.caution,
        error=look.caution,
        success=look.ink,
        foreground=look.ink,
        background=look.paper,
        surface=look.paper,
        panel=look.slot,
        dark=look.dark,
        text_alpha=1.0,
        variables={
            **{part: look.part(part) for part in PARTS},
            "text-muted": look.quiet,
            "text-disabled": look.quiet,
            "border": look.line,
            "block-cursor-background": look.due,
            "block-cursor-foreground": look.paper,
            "block-cursor-text-style": "bold",
            "block-hover-background": look.slot,
            "input-selection-background": look.due,
            "scrollbar": look.line,
            "scrollbar-hover": look.quiet,
            "scrollbar-active": look.due,
            "scrollbar-background": look.paper,
            "scrollbar-background-hover": look.paper,
            "scrollbar-background-active": look.paper,
            "scrollbar-corner-color": look.paper,
        },
    )
