"""A disk that stays full: the job goes on in another folder, with everything that was read meanwhile."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cornerwalk.store import Disk, Library
from cornerwalk.store.check import check_file
from tests.tui.driving import context_of, new_session, walk


class FullFolder(Disk):
    """A disk on which one folder takes nothing more; others do."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.full = False

    def open(self, path: Path, flags: int, mode: int = 0o600) -> int:
        """Make nothing new in that folder once it is full."""
        if self.full and path.parent == self.folder and path.suffix == ".part":
            raise OSError(28, "No space left on device")
        return super().open(path, flags, mode)


async def test_the_second_try_that_fails_asks_for_another_folder(tmp_path: Path) -> None:
    """A path that is none is refused, a folder that fails too leaves all as it was, a good one has every reading."""
    sessions, stick = tmp_path / "sessions", tmp_path / "stick"
    disk = FullFolder(sessions)
    context = context_of(tmp_path)
    context = replace(context, library=Library(sessions, clock=context.clock, by="MT", disk=disk))
    path = new_session(context)
    async with walk(tmp_path, context=context, path=path) as d:
        disk.full = True
        await d.key_in("28 5/8", "28 11/16")
        await d.press("ctrl+s")
        assert "go on in another folder" in d.text
        await d.press("ctrl+s")
        assert d.page == "ElsewhereScreen"
        await d.key_in("stick")
        assert "whole path" in d.text
        await d.press("ctrl+u")
        await d.key_in(str(sessions))
        assert d.page == "ElsewhereScreen"
        assert "the disk is full" in d.text
        await d.press("ctrl+u")
        await d.key_in("")
        assert d.page == "WalkScreen"
        assert "NOT ON DISK" in d.text
        await d.press("ctrl+s")
        await d.key_in(str(stick))
        assert d.page == "WalkScreen"
        assert "Goes on in" in d.text
        assert "NOT ON DISK" not in d.text
        await d.key_in("29 3/16")
        assert "kept: right rear" in d.said
    (there,) = stick.glob("*.json")
    checked = check_file(there)
    assert checked.ok
    assert checked.stored is not None
    assert len(checked.stored.session.stages[0].corners) == 3
    assert not path.exists(), "there are not two of one job"
