"""Takes the moving picture of the README: four corners of a sample job typed on the walk, and the beam that moves.

    python -m tests.samples.animation

writes it anew beside the samples; look at it before keeping it. The pages are the app's own, one frame after each key
that matters. What stays the same from frame to frame is drawn once. Whoever asks for reduced motion sees the last one.
"""

from __future__ import annotations

import asyncio
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path
from tempfile import TemporaryDirectory

from cornerwalk.context import WalkView
from cornerwalk.samples import sample_folder
from cornerwalk.session.events import HeightRead
from tests.samples.making import contents_of
from tests.samples.pictures import context_in, screenshot
from tests.tui.driving import driven

NAME = "walking.svg"
SAMPLE = "front-stays-up"
SIZE = (120, 40)
SECONDS_TYPED, SECONDS_READ, SECONDS_LAST = 1.2, 1.6, 5.0

CELL = (12.2, 24.4)
"""Width and height of a character in the framework's pictures."""
MARGIN = 12

_RECT = re.compile(r'<rect fill="(#\w+)" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="24.65"')
_TEXT = re.compile(
    r'<text class="terminal-\d+-(r\d+)" x="([\d.]+)" y="([\d.]+)" textLength="([\d.]+)" '
    r'clip-path="url\(#terminal-\d+-line-(\d+)\)">([^<]*)</text>'
)
_STYLE = re.compile(r"\.terminal-\d+-(r\d+) \{([^}]*)\}")


async def frames() -> list[str]:
    """The screen as SVG before the first corner, then typed and read at each of the four."""
    events = contents_of(SAMPLE).events
    loaded = [at for at, event in enumerate(events) if isinstance(event, HeightRead) and event.stage == "loaded"]
    readings = [event for event in events if isinstance(event, HeightRead) and event.stage == "loaded"]
    taken: list[str] = []
    with TemporaryDirectory() as folder:
        context = context_in(Path(folder))
        with context.library.create(*events[: loaded[0]]) as session:
            path = session.path
        async with driven(context, WalkView(path), size=SIZE) as d:
            taken.append(await screenshot(d))
            for reading in readings:
                await d.type(reading.entered)
                taken.append(await screenshot(d))
                await d.press("enter")
                taken.append(await screenshot(d))
    return taken


def animated(screens: Sequence[str]) -> str:
    """One SVG that shows the screens one after the other, for ever; what stays is drawn once."""
    names: dict[str, str] = {}
    drawn = [_lines(screen, names) for screen in screens]
    spans: dict[tuple[int, int], list[str]] = {}
    for line in range(SIZE[1]):
        for span, content in _spans([frame.get(line, "") for frame in drawn]):
            spans.setdefault(span, []).append(content)
    width, height = (cells * size + 2 * MARGIN for cells, size in zip(SIZE, CELL, strict=True))
    rules = "\n".join(f".{name}{{{rule}}}" for rule, name in names.items())
    times = _times(list(spans), len(screens))
    groups = "\n".join(
        f'<g class="f{first}-{last}">\n' + "\n".join(contents) + "\n</g>" for (first, last), contents in spans.items()
    )
    paper = f'x="{-MARGIN}" y="{-MARGIN}" width="{width:.0f}" height="{height:.0f}" fill="{_paper(screens[0])}"'
    return (
        f'<svg viewBox="{-MARGIN} {-MARGIN} {width:.0f} {height:.0f}" xmlns="http://www.w3.org/2000/svg">\n<style>\n'
        f"text{{font-family:Fira Code,monospace;font-size:20px}}\n{rules}\n{times}\n</style>\n"
        f"<rect {paper}/>\n{groups}\n</svg>\n"
    )


def _paper(screen: str) -> str:
    """The color behind most cells."""
    widths: Counter[str] = Counter()
    for fill, _, _, width in _RECT.findall(screen):
        widths[fill] += round(float(width))
    return widths.most_common(1)[0][0]


def _lines(screen: str, names: dict[str, str]) -> dict[int, str]:
    """The elements of each line of a screen, with the names of their styles the same in every screen."""
    styles = {own: names.setdefault(rule.strip(), f"r{len(names)}") for own, rule in _STYLE.findall(screen)}
    paper = _paper(screen)
    lines: dict[int, list[str]] = {}
    for fill, x, y, width in _RECT.findall(screen):
        if fill != paper:
            lines.setdefault(round((float(y) - 1.5) / CELL[1]), []).append(
                f'<rect fill="{fill}" x="{x}" y="{y}" width="{width}" height="24.65" shape-rendering="crispEdges"/>'
            )
    for own, x, y, length, line, text in _TEXT.findall(screen):
        if text.replace("&#160;", ""):
            lines.setdefault(int(line), []).append(
                f'<text class="{styles[own]}" x="{x}" y="{y}" textLength="{length}">{text}</text>'
            )
    return {line: "".join(elements) for line, elements in lines.items()}


def _spans(contents: Sequence[str]) -> Iterator[tuple[tuple[int, int], str]]:
    """First and last frame of each run in which a line is the same, and the line; empty lines are left out."""
    at = 0
    for content, run in groupby(contents):
        last = at + len(list(run)) - 1
        if content:
            yield (at, last), content
        at = last + 1


def _times(spans: Sequence[tuple[int, int]], count: int) -> str:
    """When each run of frames is seen: the rest of the time it is hidden."""
    lengths = [SECONDS_LAST if n == count - 1 else SECONDS_TYPED if n % 2 else SECONDS_READ for n in range(count)]
    total = sum(lengths)
    rules = []
    for first, last in spans:
        if (first, last) == (0, count - 1):
            continue
        begin, end = (100 * sum(lengths[:n]) / total for n in (first, last + 1))
        name = f"f{first}-{last}"
        steps = [] if first == 0 else ["0%{opacity:0}"]
        steps.append(f"{begin:.3f}%{{opacity:1}}")
        steps += [f"{end:.3f}%{{opacity:0}}"] if last < count - 1 else []
        rules.append(f".{name}{{animation:{name} {total:.1f}s step-end infinite}}@keyframes {name}{{{''.join(steps)}}}")
    still = "".join(f".f{first}-{last}{{opacity:0}}" for first, last in spans if last < count - 1)
    return "\n".join(rules) + f"\n@media (prefers-reduced-motion:reduce){{g{{animation:none!important}}{still}}}"


def made() -> str:
    """The picture."""
    return animated(asyncio.run(frames()))


if __name__ == "__main__":
    (sample_folder() / NAME).write_text(made(), encoding="utf-8")
