"""Takes the pictures of the README from the sample sessions, on pages as the app shows them.

    python -m tests.samples.pictures

writes them anew beside the samples, look at them before keeping them.
"""

from __future__ import annotations

import asyncio
import re
import shutil
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from cornerwalk.context import Context, WalkView
from cornerwalk.samples import sample_folder
from cornerwalk.settings import ActiveSettings, Settings
from cornerwalk.standards import load_standards
from cornerwalk.store import Library
from tests.tui.driving import Driver, driven

PICTURES = {
    "side": ("front-stays-up", ("f12",), (100, 30)),
    "trials": ("front-stays-up", ("f9", "6"), (100, 30)),
}
"""Name of the picture: the sample, the keys pressed on it, and the window."""

FETCHED_FONTS = re.compile(r"@font-face \{.*?\}\s*", flags=re.DOTALL)
"""A picture asks nobody for its letters."""


def _clock() -> datetime:
    return datetime(2026, 5, 4, 15, 0, tzinfo=UTC)


def context_in(folder: Path) -> Context:
    return Context(
        library=Library(folder, clock=_clock, by="MT"),
        active_settings=ActiveSettings(folder / "settings.toml", Settings(bell=False)),
        standards=load_standards,
        clock=_clock,
        user="MT",
        presets_folder=folder / "presets",
        rules_folder=folder / "rules",
        checklists_folder=folder / "checklists",
    )


async def picture(name: str) -> str:
    """The SVG of one picture."""
    sample, keys, size = PICTURES[name]
    with TemporaryDirectory() as folder:
        path = Path(shutil.copy(sample_folder() / f"{sample}.json", folder))
        async with driven(context_in(Path(folder)), WalkView(path), size=size) as d:
            await d.press(*keys)
            return await screenshot(d)


async def screenshot(d: Driver) -> str:
    """The screen as SVG, once nothing on it changes any more."""
    shot = ""
    while (now := FETCHED_FONTS.sub("", d.app.export_screenshot(title="cornerwalk", simplify=True))) != shot:
        shot = now
        await d.app.workers.wait_for_complete()
        await d.pilot.pause(0.2)
    return shot


def main() -> None:
    """Write every picture beside the samples."""
    for name in PICTURES:
        (sample_folder() / f"{name}.svg").write_text(asyncio.run(picture(name)), encoding="utf-8")


if __name__ == "__main__":
    main()
