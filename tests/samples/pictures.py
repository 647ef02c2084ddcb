"""Takes the pictures of the README from the sample sessions, on pages as the app shows them.

    python -m tests.samples.pictures

writes them anew beside the samples; look at them before keeping them.
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
from cornerwalk.tui.app import CornerwalkApp

PICTURES = {
    "walk": ("half-done", ("3", "2", "space", "1", "slash", "4"), (120, 38)),
    "side": ("front-stays-up", ("f12",), (100, 30)),
    "results": ("misread-corner", ("f5",), (100, 30)),
}
"""Name of the picture: the sample, the keys pressed on it, and the window."""

_FETCHED_FONTS = re.compile(r"@font-face \{.*?\}\s*", flags=re.DOTALL)
"""A picture asks nobody for its letters."""


def _clock() -> datetime:
    return datetime(2026, 5, 4, 15, 0, tzinfo=UTC)


def _context(folder: Path) -> Context:
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
        app = CornerwalkApp(lambda: (_context(Path(folder)), WalkView(path)))
        async with app.run_test(size=size) as pilot:
            await pilot.pause(0.5)
            for key in keys:
                await pilot.press(key)
            await pilot.pause(0.5)
            return _FETCHED_FONTS.sub("", app.export_screenshot(title="cornerwalk", simplify=True))


def main() -> None:
    """Write every picture beside the samples."""
    for name in PICTURES:
        (sample_folder() / f"{name}.svg").write_text(asyncio.run(picture(name)), encoding="utf-8")


if __name__ == "__main__":
    main()
