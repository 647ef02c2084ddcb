"""Takes a picture of every page of the app, at four sizes in three looks, for people to look at.

    python -m tests.samples.screens FOLDER [PAGE …]

writes `page-80x24-day.svg` and so on, and a PNG beside each where cairosvg is installed. What is shown is the invented
job of `tests/tui/whole_job.py`, broken off where each page is at its fullest. The pages and sizes serve
`tests/tui/test_screens.py` too, which holds what can be held without eyes.
"""

from __future__ import annotations

import asyncio
import re
import sys
from collections.abc import Sequence
from contextlib import asynccontextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from cornerwalk.context import InitialView, ReplayView, StartView, WalkView
from cornerwalk.session import RecordedEvent
from cornerwalk.session.events import CheckAnswered, Event, FactStated, HandedOver, HeightRead
from cornerwalk.tui.themes import LOOKS
from tests.support.clock import FrozenClock
from tests.tui.chapters import cut_off
from tests.tui.driving import Driver, context_of, driven
from tests.tui.whole_job import whole_job

if TYPE_CHECKING:
    from collections.abc import AsyncIterator

SIZES = ((60, 20), (80, 24), (120, 40), (200, 60))


@dataclass(frozen=True, slots=True)
class Scene:
    """How to come to a page.

    Attributes:
        at: the moment of the job (see `moments`); "" for the start page.
        keys: pressed one after the other. A text after `'` is typed, and entered if it ends with `⏎`; `page:` opens a
            page that has no key.
        replayed: whether the job is replayed rather than gone on with.
    """

    at: str
    keys: tuple[str, ...] = ()
    replayed: bool = False


SCENES: dict[str, Scene] = {
    "start": Scene(""),
    "new job": Scene("", ("2",)),
    "library": Scene("", ("3",)),
    "report": Scene("", ("3", "f5")),
    "settings": Scene("", ("f11",)),
    "job": Scene("two trials", ("f9",)),
    "intake": Scene("opened", ("f9", "1")),
    "intake, a choice": Scene("kit named", ("f9", "1")),
    "before": Scene("first checks", ("f9", "2")),
    "conditions": Scene("first conditions", ("f10",)),
    "walk": Scene("before the heights"),
    "walk, reading typed": Scene("three of four loaded", ("'27 3/4",)),
    "walk, between stages": Scene("unloaded"),
    "walk, refused": Scene("three of four loaded", ("'27 17/16⏎",)),
    "walk, pressure": Scene("loaded"),
    "walk, over the maximum": Scene("loaded", ("'45⏎",)),
    "walk, all read": Scene("two trials"),
    "walk, road test": Scene("half of the road test"),
    "walk, note": Scene("three of four loaded", ("f3", "'wet floor")),
    "walk, pad": Scene("three of four loaded", ("ctrl+k",)),
    "vehicle": Scene("loaded", ("f4",)),
    "fitting": Scene("fitting", ("f9", "5")),
    "air": Scene("two trials", ("f9", "6")),
    "air, one trial": Scene("one trial", ("f9", "6")),
    "side": Scene("two trials", ("f12",)),
    "leak": Scene("holding", ("f9", "7")),
    "road": Scene("road test", ("f9", "8")),
    "handover": Scene("before the handover", ("f9", "9")),
    "sheet": Scene("handed over", ("page:job.sheet",)),
    "sheet, code": Scene("handed over", ("page:job.sheet", "f6")),
    "follow-up": Scene("came back", ("f9", "0")),
    **{f"results {page}": Scene("road test", ("f5", str(page))) for page in range(1, 6)},
    "compare": Scene("road test", ("page:job.compare",)),
    "help": Scene("three of four loaded", ("f1",)),
    "palette": Scene("three of four loaded", ("ctrl+p",)),
    "replay": Scene("handed over", ("end",), replayed=True),
    "replay, then and now": Scene("handed over", ("end", "f6"), replayed=True),
    "replay, events": Scene("handed over", ("slash",), replayed=True),
}
"""Every page, by name."""


@cache
def moments() -> dict[str, int]:
    """How many events of the whole job have happened at each moment that a page is shown at."""
    events = whole_job().events
    heights = [at for at, event in enumerate(events, start=1) if isinstance(event.payload, HeightRead)]
    checks = _first(events, CheckAnswered)
    return {
        "opened": 4,
        "kit named": _first(events, FactStated, "kit.rated_support"),
        "before the heights": checks - 1,
        "first checks": checks + 3,
        "first conditions": checks + 15,
        "unloaded": heights[3],
        "three of four loaded": heights[6],
        "loaded": heights[7],
        "fitting": heights[7] + 5,
        "one trial": heights[11],
        "two trials": heights[15],
        "holding": _first(events, FactStated, "leak.allowed_loss"),
        "half of the road test": heights[17],
        "road test": heights[19],
        "before the handover": _first(events, HandedOver) - 7,
        "handed over": _first(events, HandedOver),
        "came back": len(events),
    }


def _first(events: Sequence[RecordedEvent], kind: type[Event], name: str = "") -> int:
    """Events until the first of a kind, or the first about a fact, has happened."""
    return next(
        at
        for at, event in enumerate(events, start=1)
        if isinstance(event.payload, kind) and getattr(event.payload, "name", "") in ("", name)
    )


@asynccontextmanager
async def on(scene: Scene, size: tuple[int, int], *, look: str = "day") -> AsyncIterator[Driver]:
    """The app on this page."""
    happened = moments()[scene.at or "two trials"]
    clock = FrozenClock()
    clock.advance(hours=17 if happened > moments()["two trials"] else 2)
    with TemporaryDirectory() as name:
        folder = Path(name)
        context = context_of(folder, clock, theme=look)
        path = cut_off(folder, whole_job().events[:happened])
        async with driven(context, _opening(scene, path), size=size) as d:
            for key in scene.keys:
                await _press(d, key)
            yield d


def _opening(scene: Scene, path: Path) -> InitialView:
    if scene.replayed:
        return ReplayView(path)
    return WalkView(path) if scene.at else StartView()


async def turn(d: Driver, look: str) -> None:
    """To another look; what lies above the page, too, which the library leaves as it was."""
    d.app.theme = look
    d.app.stylesheet.update(d.app.screen)
    await d.pilot.pause(0.05)


async def _press(d: Driver, key: str) -> None:
    """A key, a text after `'`, or an action of a page that has no key of its own."""
    if key.startswith("'"):
        text = key[1:]
        await (d.key_in(text[:-1]) if text.endswith("⏎") else d.type(text))
    elif key.startswith("page:"):
        await d.app.screen.run_action(f"app.open_page('{key[5:]}')")
    else:
        await d.press(key)
    await d.pilot.pause(0.05)
    await d.app.workers.wait_for_complete()
    await d.pilot.pause()


_FONTS = re.compile(r"@font-face \{.*?\}\s*", flags=re.DOTALL)
_BRAILLE = re.compile(r"<text ([^>]*>[^<]*[\u2800-\u28ff])")
"""Few monospaced fonts have these."""


async def pictures(name: str, scene: Scene, folder: Path) -> None:
    """Every picture of one page: the app is opened once a size, and the look changed under it."""
    for size in SIZES:
        async with on(scene, size) as d:
            for look in LOOKS:
                await turn(d, look)
                svg = _FONTS.sub("", d.app.export_screenshot(title=f"{name}, {size[0]}x{size[1]}, {look}"))
                stem = f"{name.replace(', ', '-').replace(' ', '-')}-{size[0]}x{size[1]}-{look}"
                (folder / f"{stem}.svg").write_text(svg, encoding="utf-8")
                _png(svg, folder / f"{stem}.png")


def _png(svg: str, path: Path) -> None:
    try:
        from cairosvg import svg2png  # type: ignore[import-untyped,import-not-found,unused-ignore]
    except ImportError:
        return
    dotted = _BRAILLE.sub(r'<text style="font-family:DejaVu Sans;font-size:16.66px" \1', svg)
    svg2png(dotted.replace("Fira Code", "DejaVu Sans Mono").encode(), write_to=str(path))


def main(folder: str, *names: str) -> None:
    """Take the pictures of these pages, or of all."""
    Path(folder).mkdir(parents=True, exist_ok=True)
    moments()
    for name, scene in SCENES.items():
        if not names or name in names:
            asyncio.run(pictures(name, scene, Path(folder)))


if __name__ == "__main__":
    main(*sys.argv[1:])
