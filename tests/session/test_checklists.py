"""A shop's own checklists: what is taken, and in what words a file is refused that cannot be used."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from cornerwalk.session.checklist import (
    LARGEST_FILE_BYTES,
    Checklist,
    ChecklistError,
    load_checklists,
    parse_checklist,
)

TITLE = 'id = "shop"\ntitle = "Ours"\n'
ITEM = '[[item]]\nid = "jack"\nquestion = "Jack put away?"\n'


def refusal(text: str) -> str:
    with pytest.raises(ChecklistError) as refused:
        parse_checklist(text)
    return str(refused.value)


def test_a_list_of_one_question_is_enough() -> None:
    """Asked once, with yes the answer hoped for, unless it says otherwise; a question is found by its id."""
    checklist = parse_checklist(TITLE + ITEM)
    jack = checklist.item("jack")
    assert jack is not None
    assert (checklist.asked, jack.question, jack.good, jack.stop) == ("once", "Jack put away?", "yes", "")
    assert checklist.item("stands") is None


def test_a_list_may_be_asked_at_each_stage() -> None:
    """Conditions that may change between two stages are asked again."""
    assert parse_checklist(TITLE + 'asked = "each stage"\n' + ITEM).asked == "each stage"


def test_a_text_may_have_lines() -> None:
    """A caution of several lines and tabs is no hidden character."""
    caution = "Exhaust is hot.\n\tGloves."
    (item,) = parse_checklist(TITLE + ITEM + f'caution = """{caution}"""\n').items
    assert item.caution == caution


@pytest.mark.parametrize(
    ("text", "named"),
    [
        (TITLE + "[[item", "not TOML"),
        ("x = " + "[" * 100_000, "not TOML"),
        (TITLE + "colour = 1\n" + ITEM, "'colour'"),
        (TITLE, "[[item]]"),
        (TITLE + "item = []\n", "[[item]]"),
        (TITLE + "item = [1]\n", "must be a table"),
        (TITLE + ITEM + ITEM, "'jack'"),
        (TITLE + 'asked = "never"\n' + ITEM, "'never'"),
        ('title = "Ours"\n' + ITEM, "'id'"),
        ('id = "shop"\ntitle = " "\n' + ITEM, "'title'"),
        (TITLE + ITEM + "colour = 1\n", "'colour'"),
        (TITLE + ITEM + 'not_fitted = "yes"\n', "'not_fitted'"),
        (TITLE + ITEM + "why = 3\n", "'why'"),
        (TITLE + ITEM + 'good = "perhaps"\n', "'perhaps'"),
        (TITLE + '[[item]]\nid = "jack"\n', "'question'"),
        (TITLE + '[[item]]\nquestion = "Jack put away?"\n', "'id'"),
    ],
)
def test_a_list_that_is_wrong_is_refused_naming_what_is_wrong(text: str, named: str) -> None:
    """Whoever edits the file finds the place by the word."""
    assert named in refusal(text)


@pytest.mark.parametrize("code", ["001B", "202E", "2066", "2028"])
@pytest.mark.parametrize("key", ["title", "question", "why"])
def test_no_hidden_character_comes_in_by_a_list(code: str, key: str) -> None:
    """Neither a terminal's escapes nor what turns the direction of a text reaches the screen; its number is told."""
    question = "x" if key != "question" else rf"x\u{code}"
    title = "x" if key != "title" else rf"x\u{code}"
    why = "x" if key != "why" else rf"x\u{code}"
    item = f'[[item]]\nid = "a"\nquestion = "{question}"\nwhy = "{why}"\n'
    told = refusal(f'id = "shop"\ntitle = "{title}"\n{item}')
    assert repr(key) in told
    assert f"U+{code}" in told
    assert told.isprintable()


def test_the_lists_of_the_job_are_there_without_a_shop(tmp_path: Path) -> None:
    """No folder of the shop's, or one that is not there, is no fault."""
    packaged = load_checklists()
    assert packaged.refused == ()
    assert load_checklists(tmp_path / "none") == packaged
    with pytest.raises(KeyError, match="shop"):
        packaged["shop"]


def test_a_shops_list_takes_the_place_of_the_packaged_one_and_others_follow(tmp_path: Path) -> None:
    """The same id stands where it stood; a list of the shop's own comes last."""
    packaged = load_checklists()
    (tmp_path / "road.toml").write_text('id = "road"\ntitle = "Our road"\n' + ITEM, "utf-8")
    (tmp_path / "shop.toml").write_text(TITLE + ITEM, "utf-8")
    (tmp_path / "notes.txt").write_text("no list", "utf-8")
    found = load_checklists(tmp_path)
    assert found.refused == ()
    assert [each.id for each in found.lists] == [*(each.id for each in packaged.lists), "shop"]
    assert found["road"].title == "Our road"
    assert found["conditions"] == packaged["conditions"]


def test_files_that_cannot_be_used_are_named_and_the_packaged_lists_stay(tmp_path: Path) -> None:
    """A folder, a pipe, too large a file, one that is no text and one that is wrong: each told by its name."""
    (tmp_path / "a-folder.toml").mkdir()
    os.mkfifo(tmp_path / "b-pipe.toml")
    with (tmp_path / "c-large.toml").open("wb") as large:
        large.truncate(LARGEST_FILE_BYTES + 1)
    (tmp_path / "d-bytes.toml").write_bytes(b"\xff\xfe")
    (tmp_path / "e-road.toml").write_text('id = "road"\n' + ITEM, "utf-8")
    (tmp_path / "f-endless.toml").symlink_to("/dev/zero")
    found = load_checklists(tmp_path)
    assert found.lists == load_checklists().lists
    reasons = {each.name[2:]: each.reason for each in found.refused}
    assert list(reasons) == ["folder.toml", "pipe.toml", "large.toml", "bytes.toml", "road.toml", "endless.toml"]
    assert all("not a file" in reasons[f"{name}.toml"] for name in ("folder", "pipe", "endless"))
    assert "larger" in reasons["large.toml"]
    assert all(reasons.values())


def test_a_list_as_large_as_it_may_be_is_taken(tmp_path: Path) -> None:
    """The limit itself is within the limit."""
    text = TITLE + ITEM
    (tmp_path / "shop.toml").write_text(text + "#" * (LARGEST_FILE_BYTES - len(text)), "utf-8")
    assert isinstance(load_checklists(tmp_path)["shop"], Checklist)
