"""One key of the app: what it is called, where it works, what it does. The table of all of them is `keys.TABLE`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Place = Literal[
    "everywhere",
    "job",
    "walk",
    "new",
    "form",
    "results",
    "replay",
    "list",
    "library",
    "report",
    "comparison",
    "help",
    "chapters",
    "chapter",
    "air",
    "side",
    "sheet",
    "settings",
]

PLACES: dict[Place, str] = {
    "everywhere": "Everywhere",
    "job": "In a job",
    "walk": "On the walk",
    "new": "On the page for a new job",
    "form": "In a form",
    "results": "In the results",
    "replay": "In a replay",
    "list": "In a list",
    "library": "In the list of jobs",
    "report": "In a report",
    "comparison": "In a comparison",
    "chapters": "On the page of the whole job",
    "chapter": "In a chapter of the job",
    "air": "On the air page",
    "side": "In the side view",
    "sheet": "On the customer's sheet",
    "settings": "In the settings",
    "help": "In the help",
}
"""Headings of the help page, in its order; "job" keys work on every page of a job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One command.

    Attributes:
        id: what a remapping names.
        keys: comma-separated names of the screen library, the one to show first; empty: palette only.
        label: a word or two for the footer.
        what: a sentence for help and palette.
        place: where it works.
        action: what runs; by default the part of the id after the point.
        rank: place in the footer, 0 not there. Lower ranks stay when the footer is narrow.
        opens: the page it opens, as `module:Class` under `screens`, or `module:Class:what` of it.
        badge: what help and footer show in place of the first key, where it stands for two.
    """

    id: str
    keys: str
    label: str
    what: str
    place: Place
    action: str = ""
    rank: int = 0
    opens: str = ""
    badge: str = ""

    @property
    def does(self) -> str:
        """The action as the screen library calls it."""
        if self.opens:
            return f"app.open_page('{self.id}')"
        return self.action or self.id.partition(".")[2].replace("-", "_")

    @property
    def first(self) -> str:
        """The key that help and footer show."""
        return self.keys.split(",")[0]
