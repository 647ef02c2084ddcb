"""Recipes: what is added costs as few files as DEVELOPERS.md says, and is there wherever it belongs.

A copy of the program gets one of each and uses them. What is added is invented.
"""

from __future__ import annotations

import json
import re
from fnmatch import fnmatch
from pathlib import Path

import pytest

from tests.support.house_copy import ROOT, HouseCopy

CATALOGS = {f"words/locale/{language}/LC_MESSAGES/cornerwalk.po" for language in ("de", "es")}
RECIPES = {
    "an aim rule, a limit": {"standards/data/aim-added.toml"},
    "a unit": {"quantity/units.py"},
    "a stage": {"session/stages.py"},
    "a checklist step": {"session/checklists/4-fitting.toml"},
    "a fact": {"session/facts.py", "session/model.py"} | CATALOGS,
    "a check": {"assess/height_checks.py"} | CATALOGS,
    "a finding": {"assess/findings.py", "words/findings.toml"} | CATALOGS,
    "a key": {"tui/keys.py", "tui/screens/walk.py"},
    "a page of the app": {"tui/keys.py", "tui/screens/added.py"},
    "a question": {"job/road.py"} | CATALOGS,
    "a chapter": {"session/stages.py", "session/chapters.py", "job/chapters.py"} | CATALOGS,
}
"""The files that each touches, by its row in DEVELOPERS.md."""

MOST_FILES = 3
"""Besides a catalog for each language: a fact and a finding take two, a chapter has its order and its questions."""

RULE = """
[[aim_rule]]
id = "added-rule"
title = "An added rule"
source = "agreed for a test"
standing = "own"
datum = "lamp centre"
nominal = "0.5 deg down"
deviation = "3 in"
"""
STEP = """
[[item]]
id = "added-step"
question = "Is the added step done?"
caution = "An added caution."
"""
UNIT = 'Unit("MPa", "MPa", "mpa", "1000 * kPa"),\n    '
STAGE = 'StageKind(name="overnight", label="after a night", loaded=True, with_air=True, chapter="road"),\n        '
FACT = """    Fact("vehicle.added_track", "length", "added track", "An added help.",
        cost="an added cost", example=("64 in", "1626 mm")),
"""
CHECK = """
ADDED = CheckKind(
    id="added-check", name="an added check", needs="an added need", source="an added source", standing="own"
)


def _added(found: CheckContext) -> None:
    for stage in found.stages:
        if stage.name == "unloaded":
            found.need(ADDED)
        else:
            found.hold(ADDED, 1.0, 2.0, U=0.1, unit="mm", side="upper", stage=stage.key)


"""
FINDING = '    yield Finding(code="added-finding", level="caution", fields={"added_mm": 25.4})\n'
FINDING_WORDS = """
[added-finding]
heading = "An added heading"
text = ["An added sentence of {added_mm}."]
reason = "An added reason."
action = "An added action."
"""
KEY = '    Key("walk.added", "f15", "added key", "an added sentence", rank=1),\n'
ACTION = '''    def action_added(self) -> None:
        """What the added key does."""
        self.tell("The added action ran.")

'''
PAGE_KEY = '    Key("job.added-page", "f16", "added page", "an added page", opens="added:AddedScreen"),\n'
PAGE = '''"""Added page: a page of the job."""
from cornerwalk.tui.keys import Places
from cornerwalk.tui.screens.job_screen import JobScreen


class AddedScreen(JobScreen):
    """Says one thing."""

    places: Places = ("everywhere", "job")

    def show(self) -> None:
        """Say it."""
        super().show()
        self.tell("The added page is open.")
'''
QUESTION = """

def _added(job: OpenJob) -> Question:
    def keeps(texts: Texts) -> Reply:
        return Reply(trouble=tr("An added refusal.")) if texts[0] == "no" else Reply()

    part = Part(question=tr("An added question?"), words=True)
    return Question(id="added", name=tr("an added line"), group=tr("An added group"), part=one(part), keeps=keeps)
"""
CHAPTER_LINES = """def _added_lines(job: OpenJob) -> tuple[Question, ...]:
    part = Part(question=tr("A question of the added chapter?"), options=(Option("1", tr("an added answer"), "x"),))
    return (Question(id="added", name=tr("an added line"), group=tr("An added group"), part=one(part)),)


"""
CHAPTER = """    ChapterKind("added", "An added chapter", "What it holds.", "Left out: nothing.", _added_lines),
"""
CHAPTER_CASE = """        case "added":
            return Chapter(chapter, 0, 1)
"""
TRANSLATIONS = {
    "An added refusal.": "Eine hinzugefügte Ablehnung.",
    "An added question?": "Eine hinzugefügte Frage?",
    "an added line": "eine hinzugefügte Zeile",
    "An added group": "Eine hinzugefügte Gruppe",
    "A question of the added chapter?": "Eine Frage des hinzugefügten Kapitels?",
    "an added answer": "eine hinzugefügte Antwort",
    "An added chapter": "Ein hinzugefügtes Kapitel",
    "What it holds.": "Was es enthält.",
    "Left out: nothing.": "Ausgelassen: nichts.",
    "added track": "hinzugefügte Spur",
    "An added help.": "Eine hinzugefügte Hilfe.",
    "an added cost": "ein hinzugefügter Preis",
    "an added check": "eine hinzugefügte Prüfung",
    "an added need": "etwas Hinzugefügtes",
    "an added source": "eine hinzugefügte Quelle",
    "An added heading": "Eine hinzugefügte Überschrift",
    "An added sentence of {added_mm}.": "Ein hinzugefügter Satz von {added_mm}.",
    "An added reason.": "Ein hinzugefügter Grund.",
    "An added action.": "Eine hinzugefügte Handlung.",
}
SHEET = """
unit = "inch"
[vehicle]
wheelbase = "119 in"
added_track = "64 in"
[lamps]
rule = "added-rule"
[kit]
max = "0.25 MPa"
[[stage]]
name = "unloaded"
LF = "28 5/8"
RF = "28 11/16"
RR = "29 3/16"
LR = "29 1/4"
[[stage]]
name = "overnight"
pressure = "25 psi"
LF = "28 7/8"
RF = "28 15/16"
RR = "28 11/16"
LR = "28 13/16"
"""
UNEVEN = """
unit = "inch"
[[stage]]
name = "unloaded"
LF = "28 5/8"
RF = "28 5/8"
RR = "29 3/16"
LR = "29 3/16"
[[stage]]
name = "loaded"
LF = "28 5/8"
RF = "28 5/8"
RR = "28 11/16"
LR = "27 13/16"
"""
DRIVE = """
import json, sys
from pathlib import Path
import cornerwalk
from cornerwalk.job.form import fields_of
from cornerwalk.session import Session
from cornerwalk.tables.catalog import TABLES
from cornerwalk.tui.keys import as_markdown
from cornerwalk.tui.own_keys import mistakes
from tests.line.talking import new_job
from tests.tui.chapters import ask, words
from tests.tui.driving import walk

seen = {"package": str(Path(cornerwalk.__file__).parent), "table": as_markdown()}
seen["columns"] = [name for table in TABLES for name in table.names]
(added,) = [field for field in fields_of(Session(), "vehicle") if field.name == "vehicle.added_track"]
seen["field"] = [added.label, added.cost, added.hint]
seen["mistakes"] = [found.template for found in mistakes({"walk.added": "Ctrl+X"})]

async def as_it_is(d):
    seen["footer"] = d.text.splitlines()[-1]
    seen["palette"] = {each.title: each.help for each in d.app.get_system_commands(d.app.screen)}
    await d.press("f15")
    seen["pressed"] = d.text
    await d.press("f16")
    seen["page"] = d.text
    await d.press("escape", "f1")
    seen["help"] = d.text
    await d.press("escape", "f4")
    seen["form"] = d.text

async def chapters(d):
    await d.press("f9")
    seen["chapters"] = d.text
    await d.press("9")
    seen["added chapter"] = words(d)
    await d.press("f9", "8")
    await ask(d, "added")
    seen["question"] = words(d)
    await d.type("no")
    await d.press("enter")
    seen["refusal"] = words(d)

async def remapped(d):
    await d.press("f15")
    seen["old key"] = d.text
    await d.press("ctrl+x")
    seen["own key"] = d.text

folder = Path(sys.argv[1])
talk = new_job(folder / "talk")
seen["line chapters"] = talk.say("chapter")
seen["line chapter"] = [*talk.say("An added chapter"), talk.prompt]
talk.say("leave", "road")
for _ in range(20):
    if "An added question?" not in talk.prompt:
        talk.say("")
seen["line question"] = talk.prompt
seen["line refusal"] = talk.say("no")
seen["line"] = new_job(folder / "line").say("fact added track 65 in", "fact added track", "why")
walk(folder / "table", as_it_is, size=(120, 90), facts={})
walk(folder / "chapters", chapters, size=(120, 40))
walk(folder / "own", remapped, size=(120, 40), settings={"keys": {"walk.added": "Ctrl+X"}})
print(json.dumps(seen))
"""


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> HouseCopy:
    """The copy with one of each, and in its folder a job that needs them."""
    copy = HouseCopy(tmp_path_factory.mktemp("added"))
    copy.write("standards/data/aim-added.toml", RULE)
    copy.append("session/checklists/4-fitting.toml", STEP)
    copy.put_before("quantity/units.py", 'Unit("bar",', UNIT)
    copy.replace("session/stages.py", '"road-test", "follow-up"]', '"road-test", "overnight", "follow-up"]')
    copy.put_before("session/stages.py", 'StageKind(name="follow-up"', STAGE)
    copy.put_before("session/facts.py", '    Fact("vehicle.lamp_height"', FACT)
    copy.put_before("session/model.py", "    lamp_height_mm:", "    added_track_mm: float | None = None\n")
    copy.put_before("assess/height_checks.py", "\nHEIGHT_CHECKS", CHECK)
    copy.replace("assess/height_checks.py", "_rear_height, _conditions)", "_rear_height, _conditions, _added)")
    copy.put_before("assess/findings.py", '    yield Finding(code="no-rating-raised"', FINDING)
    copy.append("words/findings.toml", FINDING_WORDS)
    copy.put_before("tui/keys.py", '    Key("walk.note"', KEY)
    copy.put_before("tui/screens/walk.py", "    def action_note(self)", ACTION)
    copy.put_before("tui/keys.py", '    Key("job.undo"', PAGE_KEY)
    copy.write("tui/screens/added.py", PAGE)
    copy.replace(
        "job/road.py",
        '(after, *check_lines(job, "road"), empty)',
        '(after, *check_lines(job, "road"), empty, _added(job))',
    )
    copy.append("job/road.py", QUESTION)
    copy.replace(
        "session/stages.py",
        '    "handover",\n    "follow-up",\n]',
        '    "handover",\n    "follow-up",\n    "added",\n]',
    )
    copy.replace(
        "session/chapters.py",
        '        "road",\n        "handover",',
        '        "road",\n        "added",\n        "handover",',
    )
    copy.put_before("session/chapters.py", '        case "follow-up":', CHAPTER_CASE)
    copy.put_before("job/chapters.py", "_ROWS = (", CHAPTER_LINES)
    copy.put_before("job/chapters.py", '    ChapterKind(\n        "handover",', CHAPTER)
    copy.translate("de", TRANSLATIONS)
    copy.translate("es", {text: f"{text} (es)" for text in TRANSLATIONS})
    (copy.folder / "job.toml").write_text(SHEET, "utf-8")
    copy.says("import", "job.toml", "--out", "job.json")
    return copy


@pytest.fixture(scope="module")
def report(copy: HouseCopy) -> str:
    """The report of that job."""
    return copy.says("report", "job.json")


@pytest.fixture(scope="module")
def in_german(copy: HouseCopy) -> str:
    """The same in German."""
    return copy.says("report", "job.json", language="de_DE.UTF-8")


@pytest.fixture(scope="module")
def results(copy: HouseCopy) -> dict[str, list[dict[str, object]]]:
    """The results of that job, for machines."""
    document: dict[str, list[dict[str, object]]] = json.loads(copy.says("results", "job.json"))
    return document


@pytest.fixture(scope="module")
def seen(copy: HouseCopy) -> dict[str, object]:
    """What app and line mode of the copy show when they are driven."""
    told = copy.runs(DRIVE)
    assert told["package"] == str(copy.house)
    return told


def test_nothing_else_was_touched(copy: HouseCopy) -> None:
    """The copy knows one of each by the files of the recipes alone."""
    assert copy.changed() == set().union(*RECIPES.values())


@pytest.mark.parametrize("added", RECIPES)
def test_the_developers_page_says_so(added: str) -> None:
    """Its row names every file, or the folder it lies in, and the catalogs where there are texts."""
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    (row,) = re.findall(rf"^\| {re.escape(added)} \| (.+) \|$", page, flags=re.MULTILINE)
    named = re.findall(r"`([^` ]+)`", row)
    for file in RECIPES[added] - CATALOGS:
        assert any(fnmatch(file, name) or (name.endswith("/") and file.startswith(name)) for name in named), file
    assert ("catalog" in row) is (RECIPES[added] >= CATALOGS)
    assert len(RECIPES[added] - CATALOGS) <= MOST_FILES


def test_an_aim_rule_judges_the_beam(copy: HouseCopy, report: str) -> None:
    """It is listed, shown by its title where the beam is judged, with its own source."""
    assert "added-rule" in copy.says("rules")
    assert "An added rule" in report
    assert "agreed for a test" in report


# Source: SI brochure: 1 MPa is 1000 kPa.
def test_a_unit_is_read_by_its_definition(copy: HouseCopy) -> None:
    """The kit's maximum of 0.25 MPa is kept as typed and as 250 kPa."""
    events = json.loads((copy.folder / "job.json").read_text("utf-8"))["events"]
    (fact,) = [event for event in events if event.get("name") == "kit.max"]
    assert (fact["entered"], fact["value"]) == ("0.25 MPa", 250.0)


def test_a_stage_is_walked_and_reckoned(copy: HouseCopy, report: str) -> None:
    """It is named in words, taken as loaded on its springs, and part of both schemas."""
    assert "after a night" in report
    assert "Level does not mean safe" in report
    assert '"overnight"' in copy.says("schema", "session")
    assert '"overnight"' in copy.says("schema", "sheet")


def test_a_checklist_step_is_asked(copy: HouseCopy) -> None:
    """It stands on the worksheet with its caution, as on every page that asks the list."""
    worksheet = copy.says("report", "--blank")
    assert "Is the added step done?" in worksheet
    assert "An added caution." in worksheet


def test_a_fact_is_taken_from_paper_and_told(copy: HouseCopy, report: str, in_german: str) -> None:
    """The sheet has its key and the sheet's schema too; the report tells it by its name, in the user's language."""
    assert '"added_track"' in copy.says("schema", "sheet")
    assert "added track 64 in" in report
    assert "hinzugefügte Spur 64 in" in in_german


def test_a_fact_is_asked(seen: dict[str, list[str]]) -> None:
    """The form has its line with what a skip costs and an example; the line mode takes it and explains it."""
    assert seen["field"] == ["added track", "without it: an added cost", "64 in"]
    assert "added track" in str(seen["form"])
    line = "\n".join(seen["line"])
    assert "Added track: 65 in; " in line
    assert "An added help." in line
    assert "vehicle_added_track_mm" in seen["columns"]


def test_a_check_is_made_or_listed(report: str, in_german: str, results: dict[str, list[dict[str, object]]]) -> None:
    """With its value, limit and source where it is made, with what it needs where not; by its id for machines."""
    for text in ("an added check", "an added need", "an added source"):
        assert text in report
        assert TRANSLATIONS[text] in in_german
    assert [check["verdict"] for check in results["verdicts"] if check["id"] == "added-check"] == ["pass"]
    assert [check["needs"] for check in results["not_checked"] if check["id"] == "added-check"] == ["an added need"]


def test_a_finding_is_told(report: str, in_german: str, results: dict[str, list[dict[str, object]]]) -> None:
    """As what it is, with its figure, its reason and what to do; by its code for machines."""
    for text in ("An added heading", "An added sentence of 1 in", "An added reason.", "An added action."):
        assert text in report
    for text in ("Eine hinzugefügte Überschrift", "Ein hinzugefügter Satz von 1 in", "Ein hinzugefügter Grund."):
        assert text in in_german
    assert [found["level"] for found in results["findings"] if found["code"] == "added-finding"] == ["caution"]


@pytest.mark.parametrize(
    ("where", "told"),
    [
        ("footer", "F15 added key"),
        ("help", "an added sentence"),
        ("help", "an added page"),
        ("table", "| F15 | an added sentence | `walk.added` |"),
        ("table", "| F16 | an added page | `job.added-page` |"),
    ],
)
def test_a_key_is_shown_wherever_keys_are_shown(seen: dict[str, str], where: str, told: str) -> None:
    """The footer by its rank, the help and the guide's table by its sentence."""
    assert told in seen[where]


def test_the_palette_has_a_key(seen: dict[str, dict[str, str]]) -> None:
    """By its label, with its sentence and its key."""
    assert seen["palette"]["added key"] == "an added sentence (F15)"
    assert seen["palette"]["added page"] == "an added page (F16)"


def test_a_key_works(seen: dict[str, str]) -> None:
    """The key does its action, the page opens."""
    assert "The added action ran." in seen["pressed"]
    assert "The added page is open." in seen["page"]


def test_a_key_can_be_another(seen: dict[str, object]) -> None:
    """A remapping by its id is right, holds, and frees the key of the table."""
    assert seen["mistakes"] == []
    assert "The added action ran." not in str(seen["old key"])
    assert "The added action ran." in str(seen["own key"])


def test_a_question_is_asked_in_both_skins(seen: dict[str, str]) -> None:
    """Said once, it stands in the chapter's page and in the line mode, and refuses the same there."""
    for place in ("question", "line question"):
        assert "An added question?" in seen[place]
    for place in ("refusal", "line refusal"):
        assert "An added refusal." in str(seen[place])


def test_a_chapter_is_gone_through_in_both_skins(seen: dict[str, str]) -> None:
    """It is listed with how far it is, opened, and asks its question with its answers."""
    for place in ("chapters", "line chapters", "added chapter", "line chapter"):
        assert "an added chapter" in str(seen[place]).lower()
    for place in ("added chapter", "line chapter"):
        assert "A question of the added chapter?" in str(seen[place])
        assert "an added answer" in str(seen[place])


def test_a_check_that_is_renamed_is_the_same_check(tmp_path: Path) -> None:
    """Named anew at its one place, it brings the same caution: one rear wheel stands 7/8 in lower than the other."""
    copy = HouseCopy(tmp_path)
    copy.replace(
        "assess/height_checks.py", 'name="left-right difference, rear"', 'name="left against right at the back"'
    )
    (tmp_path / "job.toml").write_text(UNEVEN, "utf-8")
    copy.says("import", "job.toml", "--out", "job.json")
    document = json.loads(copy.says("results", "job.json"))
    named = {check["check"]: check["id"] for check in document["verdicts"]}
    assert named["left against right at the back"] == "side-to-side-rear"
    assert [found["stage"] for found in document["findings"] if found["code"] == "side-to-side"] == ["loaded 1"]
