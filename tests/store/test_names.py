from __future__ import annotations

import re
from pathlib import Path, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cornerwalk.store.lock_owner import this_program
from cornerwalk.store.names import (
    free_path,
    is_our_name,
    is_session_name,
    lock_path,
    owner_path,
    session_name,
    session_of_lock,
    temporary_path,
    writer_of,
)

DAY = "2026-05-04T08:12:31-06:00"


@given(title=st.text() | st.sampled_from(["../../etc/passwd", "CON", "nul.json", "a" * 500, "C:\\x", "x\0y", ".", "-"]))
def test_a_name_is_safe_whatever_the_job_is_called(title: str) -> None:
    """A date, plain small letters, digits and hyphens: no path, no reserved name, of bounded length, on any system."""
    name = session_name(opened_at=DAY, title=title, session="1A2B3C4D-5e6f")
    assert re.fullmatch(r"2026-05-04-[a-z0-9]+(-[a-z0-9]+)*-1a2b3c4d", name)
    assert len(name) <= 70
    assert is_our_name(f"{name}.json")
    assert is_session_name(f"{name}.json")
    assert PureWindowsPath(f"{name}.json").name == f"{name}.json"


@pytest.mark.parametrize(
    ("title", "session", "name"),
    [
        ("Box trailer, Tuesday", "1a2b3c4d-5e6f", "2026-05-04-box-trailer-tuesday-1a2b3c4d"),
        ("Wohnwagen Müller", "1a2b3c4d", "2026-05-04-wohnwagen-muller-1a2b3c4d"),
        ("прицеп", "1a2b3c4d", "2026-05-04-job-1a2b3c4d"),
        ("", "", "2026-05-04-job-0"),
        ("x", "../..", "2026-05-04-x-0"),
    ],
)
def test_names_people_will_see(title: str, session: str, name: str) -> None:
    """What is left of a title is readable; a title with no plain letter is a job; the id tells jobs of a day apart."""
    assert session_name(opened_at=DAY, title=title, session=session) == name


def test_a_free_path_is_free(tmp_path: Path) -> None:
    """Whatever stands under a name, even a link to nothing, gets a number put after it."""
    (tmp_path / "s.json").symlink_to(tmp_path / "nowhere")
    assert free_path(tmp_path, "s") == tmp_path / "s-2.json"
    (tmp_path / "s-2.json").touch()
    assert free_path(tmp_path, "s") == tmp_path / "s-3.json"


@pytest.mark.parametrize("name", [".index.json", "notes.txt", "a.json.part", ".a.json.lock"])
def test_other_files_are_no_sessions(name: str) -> None:
    """Hidden files and other endings are not looked at."""
    assert not is_session_name(name)


def test_a_temporary_name_says_who_writes(tmp_path: Path) -> None:
    """From the name alone a later start tells the writer; two names are never the same; a long name does no harm."""
    here = this_program()
    path = tmp_path / ("x" * 250 + ".json")
    first, second = temporary_path(path, here), temporary_path(path, here)
    assert first != second
    assert first.parent == tmp_path
    who = writer_of(first.name)
    assert who is not None
    assert (who.machine, who.pid, who.started) == (here.machine, here.pid, here.started)
    assert len(first.name) < 255


@pytest.mark.parametrize(
    "name", ["notes.part", ".x.part", ".0badf00d.1-2-3-4.part", "0badf00d.1-{m}-{m}-0badf00d.part"]
)
def test_no_other_name_is_taken_for_one_of_ours(name: str) -> None:
    """Only the exact pattern is ours to remove."""
    assert writer_of(name.replace("{m}", "0" * 16)) is None


def test_a_holder_names_its_session(tmp_path: Path) -> None:
    """The session of a lock or a holder's file is known from its name; other names are of no session."""
    path = tmp_path / "s.json"
    assert session_of_lock(owner_path(path)) == session_of_lock(lock_path(path)) == path
    for other in ("s.json.holder", ".holder", ".json.lock", ".x.lock"):
        assert session_of_lock(tmp_path / other) is None
