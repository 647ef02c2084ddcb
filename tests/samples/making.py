"""Makes the sample sessions from their job sheets, as `import` does, but with ids and times that never change.

    python -m tests.samples.making

writes them anew; look at the difference before keeping it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from uuid import NAMESPACE_DNS, uuid5

from cornerwalk import __version__
from cornerwalk.assess import assess
from cornerwalk.report.handover import handed_over_figures
from cornerwalk.samples import sample_folder
from cornerwalk.session.events import HandedOver
from cornerwalk.sheet import SheetContents, read_job_sheet, read_text_file
from cornerwalk.standards import load_standards
from cornerwalk.store import Library

NAMES = ("camper", "front-stays-up", "misread-corner", "half-done")
HANDED_OVER = {"camper": "J. Doe (invented)"}
"""Samples whose vehicle went back, and to whom: the one thing that is not on a job sheet."""

NEXT_DAY = timedelta(hours=27)
LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)
"""Never used: every sheet has its date."""


@dataclass
class Clock:
    """Stands still where it is put."""

    now: datetime

    def __call__(self) -> datetime:
        return self.now


def contents_of(name: str) -> SheetContents:
    """What a sample's job sheet says."""
    path = sample_folder() / f"{name}.toml"
    session_id = str(uuid5(NAMESPACE_DNS, f"{name}.cornerwalk.invalid"))
    return read_job_sheet(read_text_file(path), name=path.name, session_id=session_id, now=LONG_AGO)


def made(name: str) -> bytes:
    """The session file of a sample."""
    contents = contents_of(name)
    clock = Clock(contents.at)
    with TemporaryDirectory() as folder:
        library = Library(Path(folder), clock=clock, by="AK" if name == "misread-corner" else "MT")
        with library.create(*contents.events) as session:
            if name in HANDED_OVER:
                clock.now += NEXT_DAY
                figures = handed_over_figures(session.session, assess(session.session, load_standards()))
                session.record(HandedOver(to=HANDED_OVER[name], figures=figures, program=__version__))
            return session.path.read_bytes()


if __name__ == "__main__":
    for each in NAMES:
        (sample_folder() / f"{each}.json").write_bytes(made(each))
