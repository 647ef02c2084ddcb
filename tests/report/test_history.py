"""What happened, in words."""

from __future__ import annotations

from cornerwalk.session import events as h
from cornerwalk.wording.events import _WORDS, event_words, history
from tests.support.jobs import WORKED_CASE, job_of


def test_every_event_has_words() -> None:
    """A new kind of event cannot be added without its words."""
    assert set(_WORDS) == set(h.EVENTS)


def test_values_are_told_as_they_were_typed() -> None:
    """The history shows the text of the technician, not a value made of it."""
    words = event_words(h.HeightRead(stage="loaded", corner="RR", entered="27 5/8", mm=701.675))
    assert words == "right rear, loaded, no air: 27 5/8"
    assert "in place of" in event_words(
        h.HeightRead(stage="loaded", corner="RR", entered="27 11/16", mm=703.2625, how="instead")
    )
    assert event_words(h.FactStated(name="kit.max", entered="35 psi", value=241.3)) == "kit's maximum pressure: 35 psi"
    assert event_words(h.FactStated(name="kit.max", entered="", value=None)) == "kit's maximum pressure undone"


def test_what_was_taken_back_is_marked_and_stays() -> None:
    """An undone reading stands in its place and does not count; so does the undo. An undo of the undo revives it."""
    reading = h.HeightRead(stage="fitted", number=3, corner="RR", entered="30", mm=762.0)
    number = len(job_of(WORKED_CASE).events) + 1
    undone = history(job_of(WORKED_CASE, reading, h.Undone(undoes=number)).events)
    assert [step.counts for step in undone[-2:]] == [False, False]
    revived = history(job_of(WORKED_CASE, reading, h.Undone(undoes=number), h.Undone(undoes=number + 1)).events)
    assert [step.counts for step in revived[-3:]] == [True, False, False]


def test_a_hostile_text_is_told_in_one_visible_line() -> None:
    """Line breaks and escapes in a note are spelled out."""
    words = event_words(h.NoteWritten(text="a\nb\x1b[31m\u202e"))
    assert words == "note: a\\u000ab\\u001b[31m\\u202e"
