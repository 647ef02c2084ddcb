"""Crash page: where an error nobody foresaw ends up, as a report in the library folder and in plain words."""

from __future__ import annotations

import platform
import traceback
from pathlib import Path

from cornerwalk import __version__
from cornerwalk.context import Context
from cornerwalk.textfiles import replace_file
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless_lines

MOST_CHARACTERS = 200_000


class Crash(Exception):  # noqa: N818 - it is one
    """An error that nobody foresaw, as it is told once the screen is gone.

    Attributes:
        report: the file that holds what went wrong, None if it could not be written.
        lines: what the user reads: that it happened, that nothing kept is lost, what to do.
    """

    def __init__(self, error: BaseException, context: Context, session: Path | None) -> None:
        super().__init__(str(error))
        text = _report(error)
        self.report = _written(text, context)
        self.lines = _told(text, self.report, session)

    def __rich__(self) -> str:
        """The page, as the screen library prints it on its way out."""
        from rich.markup import escape

        return escape(harmless_lines("\n".join(self.lines)))


def _report(error: BaseException) -> str:
    trace = "".join(traceback.format_exception(error))
    where = f"cornerwalk {__version__}, Python {platform.python_version()}, {platform.platform()}"
    return f"{where}\n\n{trace}"[:MOST_CHARACTERS]


def _written(text: str, context: Context) -> Path | None:
    path = context.library.folder / f"crash-{context.clock():%Y-%m-%d-%H%M%S}.txt"
    try:
        replace_file(path, text.encode("utf-8", "backslashreplace"))
    except OSError:
        return None
    return path


def _told(text: str, report: Path | None, session: Path | None) -> list[str]:
    told = [tr("cornerwalk has made a mistake and had to stop.")]
    if session is not None:
        told.append(tr("Every reading it called saved is in {file}. Start it again and go on.", file=str(session)))
    else:
        told.append(tr("Every reading it called saved is on disk. Start it again and go on."))
    if report is not None:
        told.append(tr("What went wrong is in {file}: please send it in.", file=str(report)))
    else:
        told += [tr("What went wrong (it could not be written to a file):"), text]
    return [*told, tr("If the terminal looks odd now, type: reset")]
