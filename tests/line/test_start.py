"""Before a job is open: the menu, new jobs, presets, earlier jobs, files that cannot simply be opened."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.context import WalkView
from cornerwalk.store import Library
from tests.line.talking import VEHICLE, WORKED_WALK, as_one, job_from, new_job, sessions_in, talk_in


def test_an_empty_library_offers_a_new_job(tmp_path: Path) -> None:
    """Three Enters make the usual job without a name, at its first corner."""
    talk = talk_in(tmp_path)
    assert "1  New job" in talk.conversation.greeting()
    talk.say("", "", "")
    assert talk.prompt == "Left front, unloaded, 1 of 4:"
    assert talk.session.job.kind == "fit"


def test_the_unfinished_job_comes_first(tmp_path: Path) -> None:
    """One Enter goes on with it."""
    first = new_job(tmp_path)
    first.say("28 5/8")
    first.conversation.close()
    talk = talk_in(tmp_path)
    assert (
        "1  Go on with Box trailer, Tuesday. last saved 2026-05-04 08:12; no stage read to the end; 1 readings"
        in talk.conversation.greeting()
    )
    talk.say("")
    assert talk.prompt == "Right front, unloaded, 2 of 4:"


def test_an_earlier_job_is_found_by_its_words(tmp_path: Path) -> None:
    """A handed-over job is opened from the list, where it is looked for by its title."""
    first = new_job(tmp_path)
    first.say(*WORKED_WALK, "hand over", "", "y", "quit")
    first.conversation.close()
    talk = talk_in(tmp_path)
    talk.say("2")
    assert "No such job." in talk.say("caravan")
    talk.say("trailer")
    assert as_one(talk.say("1")).startswith("Box trailer, Tuesday")
    assert talk.prompt.startswith("Handed over:")


@pytest.mark.parametrize("answer", ["9", "x", "0"])
def test_a_wrong_number_is_asked_again(tmp_path: Path, answer: str) -> None:
    """In the menu and for the kind."""
    talk = talk_in(tmp_path)
    talk.say(answer)
    assert talk.conversation.refused
    talk.say("1", "name", answer)
    assert talk.conversation.refused


def test_a_job_starts_from_a_preset(tmp_path: Path) -> None:
    """Its facts and loads are stated in the new job; a preset with a mistake says which line."""
    presets = tmp_path / "presets"
    presets.mkdir()
    (presets / "van.toml").write_text(VEHICLE, encoding="utf-8")
    (presets / "wrong.toml").write_text("[vehicle]\nweelbase = '3 m'\n", encoding="utf-8")
    talk = talk_in(tmp_path)
    talk.say("1", "Tuesday")
    assert "1  van" in talk.say("1")
    assert "line 2" in as_one(talk.say("2"))
    talk.say("1")
    assert talk.session.vehicle.wheelbase_mm == pytest.approx(119 * 25.4)
    assert talk.session.job.title == "Tuesday"
    assert talk.prompt == "Left front, unloaded, 1 of 4:"


def test_a_job_that_is_open_elsewhere_is_not_opened_twice(tmp_path: Path) -> None:
    """Who has it is said, and Enter goes back to the menu."""
    first = job_from(tmp_path, VEHICLE)
    (path,) = sessions_in(tmp_path)
    talk = talk_in(tmp_path, WalkView(path))
    assert "open in another program" in as_one(talk.conversation.greeting())
    assert "Go on with" in as_one(talk.say(""))
    first.conversation.close()
    talk.say("1")
    assert talk.prompt == "Left front, unloaded, 1 of 4:"


def test_a_damaged_file_is_gone_on_from_in_a_new_one(tmp_path: Path) -> None:
    """What can be read is said; the damaged file stays as it is."""
    first = job_from(tmp_path, VEHICLE)
    first.say(*WORKED_WALK[:3])
    first.conversation.close()
    (path,) = sessions_in(tmp_path)
    damaged = path.read_text("utf-8").replace('"29 3/16"', '"29 5/16"')
    path.write_text(damaged, encoding="utf-8")
    talk = talk_in(tmp_path, WalkView(path))
    assert "The damaged file stays as it is." in as_one(talk.conversation.greeting())
    talk.say("1")
    assert talk.prompt == "Right rear, unloaded, 3 of 4:"
    assert path.read_text("utf-8") == damaged


def test_a_file_that_is_no_session_is_refused_with_its_name(tmp_path: Path) -> None:
    """And the menu is an Enter away."""
    (tmp_path / "letter.json").write_text("{}", encoding="utf-8")
    talk = talk_in(tmp_path, WalkView(tmp_path / "letter.json"))
    assert "letter.json:" in as_one(talk.conversation.greeting())
    assert "New job" in as_one(talk.say(""))


def test_leaving_before_a_job_is_open_makes_nothing(tmp_path: Path) -> None:
    """`quit` in the menu."""
    talk = talk_in(tmp_path)
    talk.say("1", "name", "quit")
    assert talk.conversation.done
    assert sessions_in(tmp_path) == []


def test_the_menu_is_told_again_on_help(tmp_path: Path) -> None:
    """`help` before a job is open repeats the choices."""
    assert "1  New job" in talk_in(tmp_path).say("help")


def test_a_library_of_many_lists_the_last_ones(tmp_path: Path) -> None:
    """Twenty at most, the one most recent first; words find the others."""
    for number in range(23):
        made = job_from(tmp_path, VEHICLE.replace("Tuesday", f"number {number:02}"))
        made.conversation.close()
    talk = talk_in(tmp_path)
    said = talk.say("3")
    assert len([line for line in said if "Box trailer" in line]) == 20
    assert any("number 01" in line for line in talk.say("number 01"))
    assert len(Library(tmp_path, clock=talk.clock, by="MT").summaries()) == 23
