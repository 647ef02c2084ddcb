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
from contextlib import asynccontextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from cornerwalk.context import Context, Opening, Replay, StartPage, Walk
from cornerwalk.session import Event
from cornerwalk.session.happenings import HeightRead
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
        broken_off: how many events of the whole job have happened; 0 for the start page.
        keys: pressed one after the other. `"28 5/8"` in quotes is typed, with `⏎` at its end it is also entered.
        replayed: whether the job is replayed rather than gone on with.
    """

    broken_off: int
    keys: tuple[str, ...] = ()
    replayed: bool = False


def _heights(count: int) -> int:
    """Events until so many heights are read."""
    places = [at for at, event in enumerate(whole_job().events, start=1) if isinstance(event.what, HeightRead)]
    return places[count - 1]


def _first(kind: str, after: int = 0) -> int:
    """Events until the first of a kind has happened."""
    events = whole_job().events
    return next(at for at, event in enumerate(events, start=1) if at > after and type(event.what).__name__ == kind)


def scenes() -> dict[str, Scene]:
    """Every page, by name, in the order of a job."""
    opened = 4
    asked = _first("CheckAnswered") - 1
    unloaded, loaded, trial_1, trial_2 = (_heights(count) for count in (4, 8, 12, 16))
    leaking, road = _first("FactStated", trial_2) + 2, _heights(20)
    handed_over = _first("HandedOver")
    return {
        "start": Scene(0),
        "new job": Scene(0, ("2",)),
        "library": Scene(0, ("3",)),
        "job": Scene(trial_2, ("f9",)),
        "intake": Scene(opened, ("f9", "1")),
        "intake of a choice": Scene(opened + 11, ("f9", "1")),
        "before": Scene(asked + 4, ("f9", "2")),
        "conditions": Scene(asked + 16, ("f10",)),
        "walk": Scene(asked),
        "walk, reading typed": Scene(loaded - 1, ("'27 3/4",)),
        "walk, between stages": Scene(unloaded),
        "walk, refused": Scene(loaded - 1, ("'27 17/16⏎",)),
        "walk, pressure": Scene(loaded),
        "walk, over the maximum": Scene(loaded, ("'40⏎",)),
        "walk, all read": Scene(trial_2),
        "walk, road test": Scene(road - 2),
        "walk, note": Scene(loaded - 1, ("f3", "'wet floor")),
        "walk, pad": Scene(loaded - 1, ("ctrl+k",)),
        "vehicle": Scene(loaded, ("f4",)),
        "fitting": Scene(loaded + 5, ("f9", "5")),
        "air": Scene(trial_2, ("f9", "6")),
        "air, one trial": Scene(trial_1, ("f9", "6")),
        "side": Scene(trial_2, ("f12",)),
        "leak": Scene(leaking, ("f9", "7")),
        "road": Scene(road, ("f9", "8")),
        "handover": Scene(handed_over - 7, ("f9", "9")),
        "sheet": Scene(handed_over, ("page:job.sheet",)),
        "sheet, code": Scene(handed_over, ("page:job.sheet", "f6")),
        "follow-up": Scene(_heights(len(_readings())), ("f9", "0")),
        **{f"results {page}": Scene(road, ("f5", str(page))) for page in range(1, 6)},
        "compare": Scene(road, ("page:job.compare",)),
        "help": Scene(loaded - 1, ("f1",)),
        "palette": Scene(loaded - 1, ("ctrl+p",)),
        "replay": Scene(handed_over, ("end",), replayed=True),
        "replay, then and now": Scene(handed_over, ("end", "f6"), replayed=True),
        "replay, events": Scene(handed_over, ("slash",), replayed=True),
        "report": Scene(0, ("3", "f5")),
    }


def _readings() -> list[Event]:
    return [event for event in whole_job().events if isinstance(event.what, HeightRead)]


@asynccontextmanager
async def on(scene: Scene, size: tuple[int, int], *, look: str = "day") -> AsyncIterator[Driver]:
    """The app on this page."""
    events = whole_job().events
    clock = FrozenClock()
    clock.advance(hours=17 if scene.broken_off > _heights(16) else 2)
    with TemporaryDirectory() as name:
        folder = Path(name)
        context = context_of(folder, clock, theme=look)
        path = cut_off(folder, events[: scene.broken_off or _heights(16)])
        async with driven(context, _opening(scene, context, path), size=size) as d:
            for key in scene.keys:
                await _press(d, key)
            yield d


def _opening(scene: Scene, context: Context, path: Path) -> Opening:
    if scene.replayed:
        return Replay(path)
    return Walk(path) if scene.broken_off else StartPage()


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
                d.app.theme = look
                await d.pilot.pause(0.05)
                svg = _FONTS.sub("", d.app.export_screenshot(title=f"{name}, {size[0]}x{size[1]}, {look}"))
                stem = f"{name.replace(', ', '-').replace(' ', '-')}-{size[0]}x{size[1]}-{look}"
                (folder / f"{stem}.svg").write_text(svg, encoding="utf-8")
                _png(svg, folder / f"{stem}.png")


def _png(svg: str, path: Path) -> None:
    try:
        from cairosvg import svg2png  # type: ignore[import-untyped,unused-ignore]
    except ImportError:
        return
    dotted = _BRAILLE.sub(r'<text style="font-family:DejaVu Sans;font-size:16.66px" \1', svg)
    svg2png(dotted.replace("Fira Code", "DejaVu Sans Mono").encode(), write_to=str(path))


def main(folder: str, *names: str) -> None:
    """Take the pictures of these pages, or of all."""
    Path(folder).mkdir(parents=True, exist_ok=True)
    for name, scene in scenes().items():
        if not names or name in names:
            asyncio.run(pictures(name, scene, Path(folder)))


if __name__ == "__main__":
    main(*sys.argv[1:])
