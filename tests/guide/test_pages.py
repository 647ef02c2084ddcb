"""The pages: in order, whole, naming only what there is."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from cornerwalk.cli.description import program_description
from cornerwalk.guide import GuidePage, UnknownPageError, page, pages
from cornerwalk.line.words import spoken
from cornerwalk.quantity import read_height
from cornerwalk.session.checklist import parse_checklist
from cornerwalk.session.events import HeightRead, JobOpened
from cornerwalk.session.log import RecordedEvent, event_to_json, record_event
from cornerwalk.settings import SETTINGS, Settings, read_settings
from cornerwalk.sheet import read_job_sheet
from cornerwalk.standards import load_standards
from cornerwalk.tui.keys import TABLE, shown
from cornerwalk.tui.own_keys import mistakes
from cornerwalk.words import languages
from cornerwalk.words.findings import finding_words
from tests.guide.reading import every_block, fenced, prose
from tests.support.jobs import NOW

ORDER = [
    "start", "tutorial", "before", "corners", "loaded", "scale", "bars", "installation", "air", "headlights", "leak",
    "road", "handover", "follow-up", "not-level", "not-checked", "findings", "dictation", "paper", "review", "computes",
    "files", "python", "words", "lines", "terminal", "commands", "keys", "settings", "setup",
]  # fmt: skip
"""The order of a job, then what people ask, then what is looked up."""

PAGES = Path(__file__).parents[2] / "src" / "cornerwalk" / "guide" / "pages"
LINK = re.compile(r"\[([^\]]+)\]\(#([^)]*)\)")
KEY = re.compile(r"\b(?:(?:Ctrl|Shift)\+[A-Z0-9]+|F\d{1,2})\b")


def by_id(shown_page: GuidePage) -> str:
    return shown_page.id


def test_the_pages_follow_a_job() -> None:
    """Every page is there, in reading order, with a title of its own."""
    assert [each.id for each in pages()] == ORDER
    titles = [each.title for each in pages()]
    assert len(set(titles)) == len(titles)
    assert all(titles)


def test_a_page_that_is_not_there_names_the_nearest() -> None:
    """A slip of the hand is told what was probably meant."""
    assert page("corners").title == "The four corners"
    with pytest.raises(UnknownPageError, match="no page corner; did you mean corners"):
        page("corner")


@pytest.mark.parametrize("each", pages(), ids=by_id)
def test_a_page_names_only_pages_keys_and_words_there_are(each: GuidePage) -> None:
    """Pages by their id, keys by the table of keys; a key that moved is noticed here."""
    told = prose(each)
    keys = {shown(name) for key in TABLE for name in key.keys.split(",") if name}
    assert set(KEY.findall(told)) - keys == set()
    links = LINK.findall(told)
    assert {target for _, target in links} <= set(ORDER)
    assert [(text, target) for text, target in links if text != f"`{target}`"] == []
    assert re.findall(r"\bpages? `", told) == []  # each is a link


@pytest.mark.parametrize("each", pages(), ids=by_id)
def test_a_page_is_fit_to_be_read_and_printed(each: GuidePage) -> None:
    """One title, no empty section, no line too long to edit, nothing of a machine or a network in it."""
    assert each.text.count("\n# ") == 0
    assert max(map(len, each.text.splitlines())) <= 130
    assert not re.search(r"https?://|www\.|/home/|/root/|[A-Z]:\\", each.text)
    assert not re.search(r"^##+ .*\n+#", each.text, re.MULTILINE)


def test_the_start_page_names_every_other() -> None:
    """The list of contents has every page, in reading order, with what it answers."""
    contents = page("start").text.partition("\n## Contents\n")[2]
    assert re.findall(r"^\| \[`([a-z-]+)`\]\(#\1\) \| .+ \|$", contents, re.MULTILINE) == ORDER[1:]


def test_every_command_and_option_of_all_is_in_the_table() -> None:
    """The page of commands lists what the program has, no more and no less."""
    told = page("commands").text
    listed = re.findall(r"^\| `([a-z]+)(?: [A-Z]+)?` \|", told, re.MULTILINE)
    assert sorted(listed) == sorted(command.name for command in program_description().commands)
    for option in program_description().itself.options:
        assert option.flags[-1] in told


def test_the_words_are_in_order() -> None:
    """So that one can be found."""
    terms = page("words").text.partition("\n## ")[0]
    listed = re.findall(r"^\| ([^|]+) \|", terms, re.MULTILINE)[2:]
    assert listed == sorted(listed, key=str.casefold)
    assert len(listed) > 30


def test_the_heights_shown_are_read_as_the_table_says() -> None:
    """Every way of typing in the table of the corners page is taken, and all but the last two rows mean one height."""
    rows = re.findall(r"^\| (`.*) \|", page("corners").text, re.MULTILINE)
    typed = [re.findall(r"`([^`]+)`", row.split("|")[0]) for row in rows]
    means = {text: read_height(text, "inch").mm for texts in typed for text in texts}
    assert {round(means[text], 3) for text in ("28 5/8", "28-5/8", "28+10", "2' 4 5/8\"")} == {727.075}
    assert means["28.5"] == means["28,5"] == pytest.approx(723.9)
    assert means["727 mm"] == means["72.7cm"] == pytest.approx(727.0)
    assert len(means) == 8


def test_what_dictation_types_is_read_as_the_page_says() -> None:
    """Every form on the page is taken: those of the table as 28 5/8 in, those of gauges whatever the job's unit."""
    text = page("dictation").text
    rows = re.findall(r"^\| (`.*`) \| 28 5/8 in \|$", text, re.MULTILINE)
    typed = [each for row in rows for each in re.findall(r"`([^`]+)`", row)]
    assert len(typed) > 5
    assert [read_height(each, "inch").mm for each in typed] == pytest.approx([727.075] * len(typed))
    gauges = {"0.727m": 727.0, "727.1 mm": 727.1, "28.625in": 727.075}
    assert all(f"`{each}`" in text for each in gauges)
    assert all(read_height(each, "mm").mm == pytest.approx(mm) for each, mm in gauges.items())


def test_every_finding_is_on_its_page() -> None:
    """Each has its heading, its name and its four parts, and no field of a template is left."""
    text = page("findings").text
    words = finding_words()
    assert re.findall(r"^`([a-z-]+)`: ", text, re.MULTILINE) == list(words)
    assert [each.heading for each in words.values() if f"## {each.heading}\n" not in text] == []
    assert text.count("*Why:* ") == text.count("*What to do:* ") == len(words)
    assert not re.search(r"[{}]", text)


def test_the_words_of_the_line_mode_shown_are_its_words() -> None:
    """Each word in the table of the page on the line mode is taken there."""
    rows = re.findall(r"^\| (`.*?) \|", page("lines").text, re.MULTILINE)
    typed = [text for row in rows for text in re.findall(r"`([^`]+)`", row)]
    assert len(typed) > 15
    assert [text for text in typed if spoken(text, alone=False) is None] == []


# ---- the examples of files ----


def test_the_job_sheet_shown_is_one() -> None:
    """It is read whole, as it stands on the page."""
    (text,) = fenced(page("paper"), "toml")
    contents = read_job_sheet(text, name="shown.toml", session_id="11111111-2222-4333-8444-555555555555", now=NOW)
    heights = [what for what in contents.events if isinstance(what, HeightRead)]
    assert [what.entered for what in heights] == ["28 5/8", "28 11/16", "29 3/16", "29 1/4", "29 1/4", "28 7/8"]


def test_the_settings_shown_are_all_there_are() -> None:
    """The file as it stands on the page is read whole; it shows every setting, and a key that exists."""
    (told,) = fenced(page("settings"), "toml")
    read = read_settings(told, name="settings.toml")
    assert [setting.name for setting in SETTINGS if f"{setting.name} = " not in told] == []
    assert read != Settings()
    assert read.language in languages()
    assert read.keys
    assert list(mistakes(read.keys)) == []


def test_the_aim_rule_and_the_checklist_shown_load(tmp_path) -> None:  # type: ignore[no-untyped-def]
    """Both files as they stand on the page are taken by the program."""
    rule, checklist = fenced(page("files"), "toml")
    (tmp_path / "ours.toml").write_text(rule, encoding="utf-8")
    standards = load_standards(tmp_path)
    assert standards.refused == ()
    assert standards.aim_rules["shop-2in"].deviation_mm == pytest.approx(50.8)
    assert parse_checklist(checklist).items[0].id == "key-back"


def test_the_event_shown_is_one() -> None:
    """The example of the session file has the keys, in the order, and the value that the program writes."""
    (text,) = fenced(page("files"), "json")
    shown_event = json.loads(text)
    opened = JobOpened(session="s", job="fit", title="", program="")
    earlier: list[RecordedEvent] = [record_event([], opened, at="2026-05-04T08:12:00-06:00", by="MT")]
    height = HeightRead(stage="loaded", corner="RR", entered="27 5/8", mm=read_height("27 5/8", "inch").mm)
    written = event_to_json(record_event(earlier, height, at=shown_event["at"], by="MT"))
    assert list(shown_event) == list(written)
    assert {k: v for k, v in shown_event.items() if k not in ("seq", "chain")} == {
        k: v for k, v in written.items() if k not in ("seq", "chain")
    }


def test_every_block_is_of_a_kind_that_is_tried() -> None:
    """No example on any page goes untested: each block is marked as one of the kinds that some test reads."""
    tried = ("sh", "toml", "json", "pycon", "talk", "install", "keys", "screen")
    total = sum(text.count("\n```") // 2 for text in (each.text for each in pages()))
    assert sum(len(list(every_block(kind))) for kind in tried) == total


def test_the_languages_named_are_those_it_speaks() -> None:
    """The page of words names every language that there is a catalogue for."""
    told = {"en": "English", "de": "German", "es": "Spanish"}
    assert languages() == list(told)
    assert all(name in prose(page("words")) for name in told.values())
