"""The line mode says what earlier jobs of the library say, once, without a question waiting for it."""

from __future__ import annotations

import threading
import time
from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.job.open_job import OpenJob
from cornerwalk.line.conversation import Conversation
from cornerwalk.session.events import CheckAnswered, Event, FactStated, JobOpened
from cornerwalk.tables.earlier_jobs import EarlierJobs
from tests.line.talking import context_in
from tests.tui.test_earlier_jobs import an_earlier_job, opened

HINT = "started at 15 psi, left at 25 psi. A hint of"


class Heard:
    """A new job after an earlier one, talked about."""

    def __init__(self, folder: Path, *events: Event) -> None:
        context = context_in(folder)
        context.library.create(*an_earlier_job()).close()
        file = context.library.create(*events)
        file.close()
        self.library, self.path = context.library, file.path
        self.talk = Conversation(context, WalkView(file.path))
        self.greeting = self.talk.greeting()

    @property
    def job(self) -> OpenJob:
        assert self.talk.talk is not None
        return self.talk.talk.job

    def wait(self) -> None:
        """Until what was asked is known."""
        assert self.talk.talk is not None
        self.talk.talk.wait_for_earlier()

    def say(self, text: str) -> str:
        """What is said to it once earlier jobs were heard."""
        self.wait()
        return "\n".join(self.talk.answer(text + "\n"))

    def recorded(self) -> list[Event]:
        return [event.payload for event in self.library.read(self.path).events]


def test_it_is_said_once_with_the_next_answer(tmp_path: Path) -> None:
    """Slope, where it began, and the placing on offer; not again with every reading."""
    heard = Heard(tmp_path, *opened("new"))
    first = heard.say("28 5/8")
    assert "Last time 0.04" in first
    assert HINT in first
    assert "placing uses your own tape repeatability, 0.0278 in (12 corners read again)" in first
    assert "Last time" not in heard.say("28 11/16")


def test_the_word_says_it_again(tmp_path: Path) -> None:
    """Whenever it is asked for."""
    heard = Heard(tmp_path, *opened("new"))
    heard.say("28 5/8")
    assert HINT in heard.say("earlier")


def test_a_vehicle_named_later_is_heard_of_then(tmp_path: Path) -> None:
    """A job of which nothing is known hears nothing; the fact changes that."""
    heard = Heard(tmp_path, JobOpened(session="new", job="fit", title="new", program="0"))
    assert "Last time" not in heard.say("28 5/8")
    named = heard.say("fact vehicle.description van, invented")  # heard at once, where the thread is quick
    assert (named + heard.say("28 11/16")).count(HINT) == 1


def test_the_own_placing_is_taken_as_what_it_is(tmp_path: Path) -> None:
    """A fact with what it rests on, kept, and the question stays."""
    heard = Heard(tmp_path, *opened("new"))
    heard.say("28 5/8")
    before = heard.talk.prompt()
    said = heard.say("placing")
    assert "0.028 in (from own repeats: 12 corners read again in one job). Saved" in said
    assert heard.talk.prompt() == before
    fact = heard.recorded()[-1]
    assert isinstance(fact, FactStated)
    assert (fact.name, fact.entered, fact.basis[:16]) == ("tape.place", "0.028 in", "from own repeats")


def test_nothing_on_offer_is_refused(tmp_path: Path) -> None:
    """In a library of one job."""
    context = context_in(tmp_path)
    file = context.library.create(*opened("new"))
    file.close()
    talk = Conversation(context, WalkView(file.path))
    talk.greeting()
    assert "No tape repeatability of your own yet" in "\n".join(talk.answer("placing\n"))
    assert talk.refused


def test_where_springs_are_forbidden_no_pressure_is_hinted(tmp_path: Path) -> None:
    """A brake valve ends the matter."""
    heard = Heard(tmp_path, *opened("new"), CheckAnswered(check="brake-valve", answer="yes"))
    assert "15 psi" not in heard.say("28 5/8")


def test_no_answer_waits_for_the_asking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While it goes on, `earlier` says how far it is, and a reading is kept."""
    import threading

    held = threading.Event()

    def slow(*_arguments: object) -> None:
        held.wait(20)

    monkeypatch.setattr("cornerwalk.tables.earlier_jobs.earlier_jobs", slow)
    heard = Heard(tmp_path, *opened("new"))
    assert "Saved" in "\n".join(heard.talk.answer("28 5/8\n"))
    assert "Past jobs are being read: ask again." in heard.talk.answer("earlier\n")
    held.set()


def test_the_asking_has_ended_when_a_job_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is written into the folder any more: that of the demo is removed next."""
    heard = Heard(tmp_path, *opened("new"))
    heard.wait()
    begun, ended = threading.Event(), threading.Event()

    def slow(*_asked: object) -> EarlierJobs:
        begun.set()
        time.sleep(0.3)
        ended.set()
        return EarlierJobs()

    monkeypatch.setattr("cornerwalk.tables.earlier_jobs.earlier_jobs", slow)
    heard.talk.answer("fact vehicle.description another van, invented\n")
    assert begun.wait(20)
    heard.talk.answer("quit\n")
    heard.talk.close()
    assert ended.is_set()
