"""No English is left where another language is spoken: every word shown is translated, a name, or the user's own.

The language here is made up: each text of ours is shown with a mark over every letter, so that a plain letter is one
that never passed through a catalogue.
"""

from __future__ import annotations

import json
import re
import string
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from functools import cache
from pathlib import Path

import pytest

from cornerwalk.cli import entry, main
from cornerwalk.cli.description import program_description
from cornerwalk.standards import load_standards
from cornerwalk.words import translation
from tests.line.talking import VEHICLE, WORKED_WALK, job_from, new_job
from tests.line.whole_job import SCRIPT
from tests.words.listening import ROOT, Listener, gathered

MISTYPED = ("three", "reprot")
PLAIN = string.ascii_letters
MARKED = "ȧƀċḋėḟġḣịĵķŀṁṅȯṗʠṙṡṫụṿẇẋẏż" + "ȦɃĊḊĖḞĠḢİĴĶĿṀṄȮṖⱣṘṠṪŲṾẆẊẎŻ"
OURS = str.maketrans(PLAIN, MARKED)
WORD = re.compile(r"(?<![\w.\-/])[A-Za-z]{3,}(?![\w/])")
SAMPLES = sorted((ROOT / "sample_sessions").glob("*.json"))


def words_of(value: object) -> set[str]:
    """Every word in the texts of a document."""
    match value:
        case str():
            return set(re.findall(r"[A-Za-z]{3,}", value))
        case dict():
            return set().union(*(words_of(held) for held in value.values()))
        case list() | tuple():
            return set().union(*(words_of(held) for held in value))
    return set()


NAMES = words_of(
    "cornerwalk Ctrl Enter Esc Tab PgUp PgDn JSON TOML CSV SQL PDF HTML UTF UTC SHA "
    "Shift Space Backspace Delete Del Home End Ins PgUp PgDn "
    "psi kPa bar lbf lbm degF degC miles inch "
    "FMVSS SAE NHTSA UMTRI NIST VIRM CFR MOT VOL VOR RCW GAWR GVWR GCWR Utah Admin Code Service "
    "stage file job vehicle kit hitch trailer lamps leak text html csv pdf"
)
"""Names of things that have no other name: keys, units, formats, laws, and what is typed as it stands."""


def marked(text: str) -> str:
    """The text in the made-up language; its {fields} stay."""
    return "".join(part if part.startswith("{") else part.translate(OURS) for part in re.split(r"(\{[^{}]*\})", text))


class MadeUp(Listener):
    """Knows every text of the program, and nothing else."""

    def gettext(self, message: str) -> str:
        return marked(message) if message in self.held else message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return marked(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:
        return marked(message)


@cache
def held() -> frozenset[str]:
    """Every text and plural form that a catalogue has."""
    texts = (message.id for message in gathered() if message.id)
    return frozenset(form for text in texts for form in ((text,) if isinstance(text, str) else text))


@contextmanager
def made_up() -> Iterator[None]:
    """Speak it meanwhile."""
    spoken = translation._spoken
    translation._spoken = translation._Language("xx", MadeUp(held()), ",")
    try:
        yield
    finally:
        translation._spoken = spoken


@cache
def own_words() -> set[str]:
    """What the invented people of the samples and of the tests said and typed."""
    typed = [*SCRIPT, *WORKED_WALK, *MISTYPED, VEHICLE, *(path.name for path in SAMPLES), "Box trailer, Tuesday", "MT"]
    told = [event for path in SAMPLES for event in json.loads(path.read_text("utf-8"))["events"]]
    kept = [value for event in told for key, value in event.items() if key not in ("kind", "stage", "line", "name")]
    kept += [event["name"] for event in told if event["kind"] == "load stated"]
    return words_of(typed) | words_of(kept)


@cache
def command_words() -> set[str]:
    """Commands, options and what they may be given, ids of rules: typed as they stand in every language."""
    program = program_description()
    commands = (program.itself, *program.commands)
    arguments = [argument for command in commands for argument in (*command.options, *command.places)]
    names = [command.name for command in commands] + [command.example for command in commands]
    given = [text for argument in arguments for text in (*argument.flags, *argument.choices)]
    questions = [path.stem for path in (ROOT / "src" / "cornerwalk" / "tables" / "questions").glob("*.sql")]
    return words_of([*names, *given, *questions, *load_standards().aim_rules])


def left_english(said: str, allowed: set[str]) -> set[str]:
    """The plain words of what was said that nobody typed."""
    return {word for line in said.splitlines() for word in WORD.findall(line) if word not in allowed}


def test_a_whole_job_line_by_line(tmp_path: Path) -> None:
    """From the intake to the follow-up, with its results and both reports."""
    with made_up():
        talk = new_job(tmp_path / "whole")
        said = talk.say(*SCRIPT, "help", "help all", "results", "report", "customer", "where", "fact")
        other = job_from(tmp_path / "other", VEHICLE)
        said += other.say(
            *WORKED_WALK, "undo", "redo", "again RR", "", "checks", "", "stage", "", "leave", "next", *MISTYPED
        )
    assert len(said) > 500
    assert left_english("\n".join(said), NAMES | own_words() | command_words()) == set()


COMMANDS = [
    *(
        [*line, str(sample)]
        for sample in SAMPLES
        for line in (["report"], ["report", "--for", "customer"], ["replay"], ["check"], ["compare"])
    ),
    ["report", "--blank"], ["rules"], ["ask"], ["list"], ["--help"], ["report", "--help"], [MISTYPED[1]],
]  # fmt: skip


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: "-".join(Path(part).stem for part in command))
def test_a_command(command: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """What it prints, and what it complains of."""
    monkeypatch.setattr(entry, "_set_language", lambda _environment: None)
    allowed = NAMES | own_words() | command_words()
    with made_up(), suppress(SystemExit):
        main(command)
    out, complaint = capsys.readouterr()
    assert out + complaint
    assert left_english(out + complaint, allowed) == set()


def test_it_would_be_seen() -> None:
    """The check finds a word that was never translated, and leaves marked ones and typed ones alone."""
    assert left_english(f"{marked('wheelbase')} forgotten 119 in, van", {"van"}) == {"forgotten"}
