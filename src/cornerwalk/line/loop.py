"""The thin loop between a conversation and two streams: a question out, a line in, until either side ends.

No cursor is moved and no colour is set. What the stream's encoding lacks is written in ASCII. When the lines end, or
the program is interrupted or killed, everything that was said to be kept is on the disk. A signal that asks the
program to end closes the file first (`ending`).
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TextIO

from cornerwalk.line.conversation import Conversation
from cornerwalk.line.ending import EndingSignals
from cornerwalk.words.safe import plain_ascii

BELL = "\a"
_NARROWEST = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Manner:
    """How a stream is spoken to.

    Attributes:
        columns: lines are wrapped at; None for a reader that wraps by itself.
        bell: there is one to sound when an answer is not taken.
        answers_shown: the answers stand beside their questions, as they do where a person types them.
    """

    columns: int | None = None
    bell: bool = False
    answers_shown: bool = True


def converse(talk: Conversation, lines: TextIO, out: TextIO, manner: Manner) -> None:
    """Ask and answer until the user leaves or no more lines come.

    Raises:
        KeyboardInterrupt: the user interrupted; the file is closed by then.
        OSError: a stream is gone; the file is closed by then.
        SystemExit: a signal asked the program to end; the file is closed by then.
    """
    with EndingSignals() as signals:
        try:
            _say(out, talk.greeting(), manner)
            while not talk.done:
                _ask(out, talk.prompt(), manner)
                with signals.waiting():
                    line = lines.readline()
                if not line:
                    _say(out, [""], manner)
                    break
                _say(out, talk.answer(line), manner)
                if talk.refused and manner.bell and talk.bell:
                    out.write(BELL)
        finally:
            last = talk.close()
            with suppress(OSError, ValueError):
                _say(out, [*([""] if signals.number else []), *([last] if last else [])], manner)


def _ask(out: TextIO, question: str, manner: Manner) -> None:
    *before, last = list(_wrapped(question, manner)) or [""]
    for line in before:
        _write(out, line + "\n")
    _write(out, last + (" " if manner.answers_shown else "\n"))
    out.flush()


def _say(out: TextIO, said: Sequence[str], manner: Manner) -> None:
    for sentence in said:
        for line in _wrapped(sentence, manner) or ("",):
            _write(out, line + "\n")
    out.flush()


def _wrapped(text: str, manner: Manner) -> Sequence[str]:
    if manner.columns is None or len(text) <= manner.columns:
        return (text,)
    width = max(_NARROWEST, manner.columns)
    indent = " " * (len(text) - len(text.lstrip()))
    return textwrap.wrap(text, width, subsequent_indent=indent, break_on_hyphens=False, break_long_words=False)


def _write(out: TextIO, text: str) -> None:
    """The text, in ASCII where the stream's encoding lacks some of it; a stream without one takes any text."""
    try:
        text.encode(out.encoding or "utf-8")
    except (UnicodeEncodeError, LookupError):
        text = plain_ascii(text)
    out.write(text)
