"""The one table of keys: complete, free of clashes, and the source of everything that is said about keys."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

import pytest

from cornerwalk.tui.keys import BY_ID, PLACES, TABLE, all_shown, as_markdown, shown
from cornerwalk.tui.screens.page import PageScreen
from tests.tui.driving import walk

SCREENS = Path(__file__).parents[2] / "src" / "cornerwalk" / "tui" / "screens"


def _pages() -> list[type[PageScreen]]:
    for file in sorted(SCREENS.glob("*.py")):
        import_module(f"cornerwalk.tui.screens.{file.stem}")
    found: list[type[PageScreen]] = [PageScreen]
    for page in found:
        found.extend(page.__subclasses__())
    return [page for page in dict.fromkeys(found) if page.__module__.startswith("cornerwalk.")]


def test_ids_are_unique_and_every_place_has_a_heading() -> None:
    """A remapping names exactly one command, and the help has a heading for it."""
    assert len(BY_ID) == len(TABLE)
    assert {key.place for key in TABLE} <= set(PLACES)


@pytest.mark.parametrize("page", _pages(), ids=lambda page: page.__name__)
def test_no_key_means_two_things_on_one_page(page: type[PageScreen]) -> None:
    """Whatever is pressed on a page, one command answers."""
    taken: dict[str, str] = {}
    for key in TABLE:
        if key.place not in page.places or not key.keys:
            continue
        for name in key.keys.split(","):
            # A page's own key may take the place of one that works everywhere.
            other = taken.get(name)
            assert other is None or BY_ID[other].place != key.place, (page.__name__, name, other, key.id)
            taken[name] = key.id


@pytest.mark.parametrize("page", _pages(), ids=lambda page: page.__name__)
def test_every_key_of_a_page_does_something(page: type[PageScreen]) -> None:
    """No line of the table is a promise: each names a method of the page, or a page that exists."""
    for key in TABLE:
        if key.place not in page.places or key.id.endswith(".enter"):
            continue
        if key.opens:
            module, name, *_ = key.opens.split(":")
            assert hasattr(import_module(f"cornerwalk.tui.screens.{module}"), name), key.id
        elif not key.does.startswith("app."):
            method = key.does.partition("(")[0]
            native = key.keys in ("up", "down", "pageup", "pagedown", "home", "end")
            assert native or hasattr(page, f"action_{method}") or page is PageScreen, (page.__name__, key.id)


def test_no_command_hides_behind_a_key_that_terminals_keep() -> None:
    """Every key that some terminal or layout takes for itself has a second one."""
    # Source: the facts of the framework this app is built on, as its users reported them.
    for key in TABLE:
        names = key.keys.split(",")
        if names[0] in ("ctrl+q", "ctrl+s", "ctrl+backslash"):
            assert len(names) > 1 or key.id == "job.retry", key.id


def test_the_table_for_documents_names_every_key() -> None:
    """Keys, sentence and id of every command stand in it."""
    text = as_markdown()
    for key in TABLE:
        assert f"| {all_shown(key) or 'by its name, Ctrl+P'} | {key.what} | `{key.id}` |" in text


def test_names_of_keys_are_readable() -> None:
    """As on the caps of the keyboard."""
    assert [shown(name) for name in ("ctrl+p", "shift+f2", "pageup", "up", "f5", "enter")] == [
        "Ctrl+P", "Shift+F2", "PgUp", "↑", "F5", "Enter",
    ]  # fmt: skip


async def test_a_click_on_a_key_is_the_key(tmp_path: Path) -> None:
    """The words at the foot can be clicked."""
    async with walk(tmp_path) as d:
        foot = d.text.splitlines()[-1]
        await d.pilot.click("Foot", offset=(foot.index("F5 results") + 3, 0))
        await d.press()
        assert d.page == "ResultsScreen"


@pytest.mark.parametrize(("bell", "rings"), [(True, 1), (False, 0)])
async def test_the_bell_rings_when_an_entry_is_refused(tmp_path: Path, *, bell: bool, rings: int) -> None:
    """Once for each refusal, and not at all if it is not wanted."""
    async with walk(tmp_path, settings={"bell": bell}) as d:
        rung: list[int] = []
        d.app.bell = lambda: rung.append(1)  # type: ignore[method-assign]
        await d.key_in("nonsense")
        assert len(rung) == rings
