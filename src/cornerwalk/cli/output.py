"""Output: to a stream of any encoding that may close at any time, or to a file."""

from __future__ import annotations

import codecs
import os
import sys
from contextlib import suppress
from io import TextIOWrapper
from pathlib import Path

from cornerwalk.words import tr
from cornerwalk.words.safe import harmless, plain_ascii

PLAIN_ERRORS = "cornerwalk-plain"
"""Name of the error handler that writes in ASCII what a stream's encoding lacks."""


def ready_streams() -> None:
    """Make the standard streams write any text: an old locale must not end a command, nor turn 28½ into 28?."""
    codecs.register_error(PLAIN_ERRORS, _plain)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors=PLAIN_ERRORS)


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return plain_ascii(error.object[error.start : error.end]), error.end


def shut_pipe() -> None:
    """The reader is gone: send the rest nowhere, so that the program ends quietly."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def say(text: str) -> None:
    """Print a line of the answer."""
    print(text)


def tell(*lines: str) -> None:
    """Print lines on stderr: what went wrong, or what else to know."""
    for line in lines:
        print(harmless(line), file=sys.stderr)


def show_progress(done: int, total: int) -> None:
    """Show progress on one line that is written over; nothing where stderr is no terminal."""
    if sys.stderr.isatty():
        end = "\n" if done >= total else ""
        print("\r" + tr("{done} of {total} sessions", done=done, total=total), end=end, file=sys.stderr, flush=True)


def has_screen() -> bool:
    """Whether both streams are a terminal."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def paints() -> bool:
    """Whether the terminal claims to show a full screen at all: one in an editor often cannot."""
    return os.environ.get("TERM") != "dumb"


def deliver(text: str, out: Path | None) -> None:
    """Write the answer to a file or to the stream.

    Raises:
        OSError: the file cannot be written.
    """
    if is_stream(out):
        sys.stdout.write(text)
        sys.stdout.flush()
    else:
        deliver_bytes(text.encode("utf-8"), out)


def deliver_bytes(content: bytes, out: Path | None) -> None:
    """Write the answer as bytes: to the stream, or as a file in one step; pipes and devices are written into.

    Raises:
        OSError: the file cannot be written.
    """
    if out is None or is_stream(out):
        sys.stdout.flush()
        sys.stdout.buffer.write(content)
        sys.stdout.buffer.flush()
        return
    if out.exists() and not out.is_file():
        out.write_bytes(content)
    else:
        from cornerwalk.textfiles import replace_file

        replace_file(out, content)
    tell(tr("written: {path}", path=out))


def is_stream(out: Path | None) -> bool:
    """Whether the answer goes to the standard output."""
    return out is None or str(out) == "-"


def writes_utf8() -> bool:
    """Whether the answer reaches its reader as UTF-8."""
    return codecs.lookup(sys.stdout.encoding or "ascii").name == "utf-8"
