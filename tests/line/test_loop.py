"""The loop between a conversation and two streams: any encoding, any width, any end; nothing but lines of text."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.line.loop import BELL, Manner, converse
from cornerwalk.session.events import FactStated, JobOpened, NoteWritten
from cornerwalk.settings import Settings
from cornerwalk.store import Library
from tests.line.talking import VEHICLE, WORKED_WALK, Ticking, job_from, talk_in

HOSTILE = "\x1b[31mred\x07\u202egnp"
"""A terminal sequence, a bell, an override of the direction of writing."""


class Written(io.BytesIO):
    """What a stream of this encoding was given."""

    def text(self) -> str:
        """All of it."""
        return self.getvalue().decode("utf-8", errors="replace")


def through(folder: Path, lines: str, *, encoding: str = "utf-8", manner: Manner | None = None) -> str:
    """Everything written while these lines are read."""
    out = Written()
    stream = io.TextIOWrapper(out, encoding=encoding, write_through=True)
    converse(job_from(folder, VEHICLE).conversation, io.StringIO(lines), stream, manner or Manner())
    return out.text()


def test_an_old_encoding_gets_ascii(tmp_path: Path) -> None:
    """±, °, · become words or signs that any terminal has; nothing becomes a question mark."""
    said = through(tmp_path, "\n".join(WORKED_WALK) + "\n", encoding="ascii")
    assert "rear down 1.53 in +/- 0.21, nose up 0.86 deg +/- 0.11" in said
    assert "?" not in said.replace("Why is", "")
    assert said.isascii()


def test_a_stream_that_has_the_signs_gets_them(tmp_path: Path) -> None:
    """Latin-1 has ± and °."""
    said = through(tmp_path, "\n".join(WORKED_WALK) + "\n", encoding="latin-1")
    assert "1.53 in \N{REPLACEMENT CHARACTER} 0.21" in said  # written as one byte, which is no UTF-8


def test_nothing_but_lines_of_text_is_written(tmp_path: Path) -> None:
    """No cursor is moved, no colour set, whatever a title, a note or a name holds."""
    clock = Ticking()
    opened = JobOpened(session="33333333-4444-4555-8666-777777777777", job="fit", title=HOSTILE, program=HOSTILE)
    customer = FactStated(name="job.customer", entered=HOSTILE, value=HOSTILE)
    made = Library(tmp_path, clock=clock, by=HOSTILE).create(opened, customer, NoteWritten(text=HOSTILE))
    made.close()
    out = io.StringIO()
    talk = talk_in(tmp_path, WalkView(made.path), clock=clock)
    lines = "28 5/8\nresults\nreport\ncustomer\nfact\nundo\nundo\nwhere\nhelp all\nquit\n"
    converse(talk.conversation, io.StringIO(lines), out, Manner())
    said = out.getvalue()
    assert not [c for c in said if not c.isprintable() and c != "\n"]
    assert "\\u001b[31mred" in said


def test_hidden_characters_in_an_answer_are_refused(tmp_path: Path) -> None:
    """An arrow key that sends its code, a bell, half a character: asked again, not recorded."""
    talk = job_from(tmp_path, VEHICLE)
    before = talk.stored
    for line in ("28 5/8\x1b[D", HOSTILE, "note \udcff", "note \N{REPLACEMENT CHARACTER}", "9" * 5000):
        talk.say(line)
        assert talk.conversation.refused
    assert talk.stored == before


def test_long_sentences_are_wrapped_at_words(tmp_path: Path) -> None:
    """No line is longer than the terminal, down to forty columns, but for a single word; none is cut."""
    wide = through(tmp_path / "wide", "\n".join(WORKED_WALK) + "\nresults\n")
    manner = Manner(columns=40, answers_shown=False)
    narrow = through(tmp_path / "narrow", "\n".join(WORKED_WALK) + "\nresults\n", manner=manner)
    assert not [line for line in narrow.splitlines() if len(line) > 40 and " " in line]
    assert set(narrow.split()) <= set(wide.split())


def test_the_bell_sounds_when_an_answer_is_not_taken(tmp_path: Path) -> None:
    """Once for a refusal, once for a doubt, not for what is kept; never where it is switched off."""
    lines = "28 5/8\ntwelve\n28 11/16\n29 3/16\n33 1/4\n\n"
    assert through(tmp_path / "on", lines, manner=Manner(bell=True)).count(BELL) == 2
    assert BELL not in through(tmp_path / "off", lines)


def test_the_end_of_the_input_ends_it_quietly(tmp_path: Path) -> None:
    """The last word says where everything is."""
    assert through(tmp_path, "28 5/8\n").endswith(".json.\n")


def test_an_interruption_leaves_the_file_to_others(tmp_path: Path) -> None:
    """Ctrl+C at a question closes the session before it goes on up."""

    class Interrupted(io.StringIO):
        def readline(self, *_size: int) -> str:  # type: ignore[override]  # as of a text stream
            raise KeyboardInterrupt

    out = io.StringIO()
    talk = job_from(tmp_path, VEHICLE)
    with pytest.raises(KeyboardInterrupt):
        converse(talk.conversation, Interrupted(), out, Manner())
    assert "Everything is saved in" in out.getvalue()
    assert talk_in(tmp_path).say("1")[0].startswith("Box trailer")


def test_a_stream_that_is_gone_leaves_the_file_to_others(tmp_path: Path) -> None:
    """A terminal that vanished ends the conversation; the next one opens the job at once."""

    class Gone(io.StringIO):
        def write(self, _text: str) -> int:
            raise BrokenPipeError

    talk = job_from(tmp_path, VEHICLE)
    with pytest.raises(BrokenPipeError):
        converse(talk.conversation, io.StringIO("28 5/8\n"), Gone(), Manner())
    assert talk_in(tmp_path).say("1")[0].startswith("Box trailer")


def test_metric_units_are_said_where_the_settings_ask_for_them(tmp_path: Path) -> None:
    """Heights read in inches are told with their unit then, so that nobody takes one for the other."""
    job_from(tmp_path, VEHICLE).conversation.close()
    talk = talk_in(tmp_path, settings=Settings(units="metric"))
    talk.say("1")
    assert talk.say("28 5/8")[-1].startswith("Left front 28 5/8; 727.1 mm · 28.625 in.")
