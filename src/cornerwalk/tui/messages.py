"""Messages: what pages ask of the app. They travel up, data travels down."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from textual.message import Message

if TYPE_CHECKING:
    from cornerwalk.job.open_job import OpenJob
    from cornerwalk.session.stages import JobKind


class OpenFile(Message):
    """Open a session file and walk on."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__()


class ReplayFile(Message):
    """Go through a session file event by event."""

    def __init__(self, path: Path) -> None:
        self.path = path
        super().__init__()


class OpenSample(Message):
    """Open the invented sample in a library that does not stay."""


class NewJob(Message):
    """Make a new job, from a preset if one is named, and walk."""

    def __init__(self, title: str, kind: JobKind, preset: Path | None) -> None:
        self.title = title
        self.preset = preset
        self.kind: JobKind = kind
        super().__init__()


class WalkOn(Message):
    """Walk on with a job that is open."""

    def __init__(self, job: OpenJob) -> None:
        self.job = job
        super().__init__()


class ToStart(Message):
    """Leave the only page there is."""


class EarlierJobsHeard(Message):
    """Earlier jobs of the library have said something to the open one."""

    def can_replace(self, message: Message) -> bool:
        """Only the last one counts."""
        return isinstance(message, EarlierJobsHeard)


class OpenPage(Message):
    """Open the page of a key."""

    def __init__(self, key_id: str) -> None:
        self.key_id = key_id
        super().__init__()


class OpenChapter(Message):
    """Open the page of a chapter of the job."""

    def __init__(self, chapter: str) -> None:
        self.chapter = chapter
        super().__init__()


class SettingsChanged(Message):
    """These settings, by name, have been changed and are in the file."""

    def __init__(self, names: frozenset[str]) -> None:
        self.names = names
        super().__init__()
