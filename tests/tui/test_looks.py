"""The looks: enough contrast in every pair that meets on a screen, with many colours, sixteen, or none."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from rich.color import Color, ColorSystem
from rich.terminal_theme import TerminalTheme

from cornerwalk.context import WalkView
from cornerwalk.tui.themes import LOOKS, PAIRS, PARTS, Look
from tests.tui.driving import LOADED, TRIAL_15, UNLOADED, Driver, context_of, driven, new_session, walk

TUI = Path(__file__).parents[2] / "src" / "cornerwalk" / "tui"


def luminance(colour: str) -> float:
    """Relative luminance of #rrggbb."""
    # Source: W3C, Web Content Accessibility Guidelines 2.1, "relative luminance" (its threshold 0.03928 as printed).
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    """Contrast ratio, 1 to 21."""
    # Source: the same, "contrast ratio": (L1 + 0.05) / (L2 + 0.05), the lighter first.
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_function_agrees_with_known_pairs() -> None:
    """Black on white is 21:1; #767676 on white is the published grey that just passes 4.5:1."""
    # Source: WCAG 2.1, understanding success criterion 1.4.3: 21:1 is the largest. #767676: from memory.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
@pytest.mark.parametrize("pair", PAIRS, ids="-on-".join)
def test_every_pair_reaches_seven_to_one(look: Look, pair: tuple[str, str]) -> None:
    """Figures and cautions in glare and by night: 7:1 throughout (WCAG's AAA for text)."""
    writing, ground = (look.part(part) for part in pair)
    assert contrast(writing, ground) >= 7


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
def test_drawn_lines_can_be_seen(look: Look) -> None:
    """Lines that are no text reach 3:1, as WCAG asks of graphics."""
    assert contrast(look.line, look.paper) >= 3


async def _seen(driver: Driver) -> set[tuple[str, str]]:
    """Every (writing, ground) that stands on the screen now, blanks and drawn lines left out."""
    pairs: set[tuple[str, str]] = set()
    for strip in driver.app.screen._compositor.render_strips():
        for segment in strip:
            words = re.sub(r"[\s─│╭╮╰╯▐█▌▀▄◖◗▁-▇🔎]", "", segment.text)
            if not words or segment.style is None or segment.style.color is None or segment.style.bgcolor is None:
                continue
            writing, ground = segment.style.color, segment.style.bgcolor
            if segment.style.reverse:
                writing, ground = ground, writing
            assert writing.triplet is not None
            assert ground.triplet is not None
            pairs.add((writing.triplet.hex, ground.triplet.hex))
    return pairs


PAGES = ((), ("f4",), ("escape", "f5"), ("4",), ("escape", "f1"), ("escape", "f2"), ("ctrl+p",))


@pytest.mark.parametrize("look", LOOKS)
async def test_every_text_on_every_page_reaches_seven_to_one(tmp_path: Path, look: str) -> None:
    """Not the intended colours but those that arrive on the screen, page by page, palette included."""
    async with walk(tmp_path, settings={"theme": look}) as d:
        await d.key_in(*UNLOADED, "", *LOADED, "99", "15", *TRIAL_15[:3])
        await d.type(TRIAL_15[3])
        for keys in PAGES:
            await d.press(*keys)
            await d.pilot.pause(0.1)
            poor = {pair: round(contrast(*pair), 2) for pair in await _seen(d) if contrast(*pair) < 7}
            assert not poor, (d.page, keys)


# The sixteen colours of a common terminal, as its maker documents them. Source: xterm, XTerm-col.ad (from memory).
SIXTEEN = TerminalTheme(
    (0, 0, 0),
    (229, 229, 229),
    [(0, 0, 0), (205, 0, 0), (0, 205, 0), (205, 205, 0), (0, 0, 238), (205, 0, 205), (0, 205, 205), (229, 229, 229)],
    [
        (127, 127, 127), (255, 0, 0), (0, 255, 0), (255, 255, 0),
        (92, 92, 255), (255, 0, 255), (0, 255, 255), (255, 255, 255),
    ],
)  # fmt: skip


@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
@pytest.mark.parametrize("pair", PAIRS, ids="-on-".join)
def test_sixteen_colours_keep_writing_and_ground_apart(look: Look, pair: tuple[str, str]) -> None:
    """A terminal with sixteen colours takes the nearest of them; what is written stays readable."""
    writing, ground = (
        Color.parse(look.part(part)).downgrade(ColorSystem.STANDARD).get_truecolor(SIXTEEN).hex for part in pair
    )
    assert contrast(writing, ground) >= 3


def test_style_sheets_name_parts_and_no_colours() -> None:
    """A colour that is not one of the parts could not be checked above."""
    names = "|".join(PARTS)
    for sheet in [*TUI.rglob("*.tcss"), *TUI.rglob("widgets/*.py")]:
        for declared in re.findall(r"(?<![\w-])(?:color|background)\s*:\s*([^;}\n]+)", sheet.read_text("utf-8")):
            # "auto" is black or white, whichever stands out; the test of every text measures it too.
            assert re.fullmatch(rf"\$({names})|auto", declared.strip()), (sheet.name, declared)


async def test_meaning_survives_without_any_colour(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With NO_COLOR the corner that is due, what is not kept yet, and a caution are told by sign and word."""
    monkeypatch.setenv("NO_COLOR", "1")
    context = context_of(tmp_path)
    path = new_session(context)
    async with driven(context, WalkView(path)) as d:
        await d.key_in(*UNLOADED, "", *LOADED[:3])
        await d.type(LOADED[3])
        assert "▸ left rear" in d.text
        assert "if kept" in d.text
        assert "Caution:" in d.text
        assert "▸ loaded" in d.text or "loaded: 3 of 4" in d.text


async def test_the_look_is_turned_by_a_key(tmp_path: Path) -> None:
    """Ctrl+T goes through the looks, and every one comes from the settings too."""
    async with walk(tmp_path, settings={"theme": "night"}) as d:
        seen = []
        for _ in LOOKS:
            seen.append(d.app.theme)
            await d.press("ctrl+t")
        assert sorted(seen) == sorted(LOOKS)


def test_the_style_of_a_page_stays_on_its_page() -> None:
    """Style sheets hold for the whole app once loaded, so every rule of a page names the page."""
    for sheet in TUI.glob("screens/*.tcss"):
        rules = re.sub(r"/\*.*?\*/", "", sheet.read_text("utf-8"), flags=re.DOTALL)
        for selectors in re.findall(r"([^{}]+)\{", rules):
            for selector in selectors.split(","):
                assert re.match(r"[A-Z]\w+Screen\b", selector.strip()), (sheet.name, selector.strip())
