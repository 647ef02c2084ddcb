"""A disk that fails: nothing is called kept that is not, and the ways out work."""

from __future__ import annotations

import errno
from pathlib import Path

from cornerwalk.store import Disk
from tests.line.talking import Talk, as_one, new_job, sessions_in


class FailingDisk(Disk):
    """Takes nothing while `full` is set."""

    full = False

    def fsync(self, handle: int) -> None:
        if self.full:
            raise OSError(errno.ENOSPC, "no space left on device")
        super().fsync(handle)


def talk_on(disk: FailingDisk, folder: Path) -> Talk:
    return new_job(folder, disk=disk)


def test_a_reading_that_is_not_on_the_disk_is_not_called_kept(tmp_path: Path) -> None:
    """Said loudly with every answer and before every question, until it is written."""
    disk = FailingDisk()
    talk = talk_on(disk, tmp_path)
    talk.say("28 5/8")
    disk.full = True
    said = as_one(talk.say("28 11/16"))
    assert "NOT ON DISK: the disk is full" in said
    assert "Saved" not in said
    assert talk.conversation.refused
    assert talk.prompt == "NOT SAVED. Right rear, unloaded, 3 of 4:"
    assert "2 entries are in memory only" in as_one(talk.say("29 3/16"))
    disk.full = False
    assert "Saved" in as_one(talk.say("retry"))
    assert talk.prompt == "Left rear, unloaded, 4 of 4:"
    assert [getattr(what, "entered", "") for what in talk.recorded()][-3:] == ["28 5/8", "28 11/16", "29 3/16"]


def test_leaving_what_is_not_kept_needs_a_second_word(tmp_path: Path) -> None:
    """The first `quit` says what would be lost."""
    disk = FailingDisk()
    talk = talk_on(disk, tmp_path)
    disk.full = True
    talk.say("28 5/8")
    assert "would be lost" in as_one(talk.say("quit"))
    assert not talk.conversation.done
    assert "are lost" in as_one(talk.say("quit"))
    assert talk.conversation.done


def test_the_job_goes_on_in_another_folder(tmp_path: Path) -> None:
    """`move FOLDER` where the disk fails."""
    disk = FailingDisk()
    talk = talk_on(disk, tmp_path / "first")
    disk.full = True
    talk.say("28 5/8")
    talk.say("move")
    assert talk.conversation.refused
    assert "full" in as_one(talk.say(f"move {tmp_path / 'still-full'}"))
    disk.full = False
    assert "Goes on in" in as_one(talk.say(f"move {tmp_path / 'second'}"))
    assert len(sessions_in(tmp_path / "second")) == 1


def test_a_file_changed_under_it_is_left_alone(tmp_path: Path) -> None:
    """What somebody else wrote is not written over; the readings here are in memory and said to be."""
    talk = talk_on(FailingDisk(), tmp_path)
    talk.say("28 5/8")
    (path,) = sessions_in(tmp_path)
    path.write_text("something else", encoding="utf-8")
    assert "NOT ON DISK: the file was changed by something else" in as_one(talk.say("28 11/16"))
    assert path.read_text("utf-8") == "something else"
