"""The owner's card: each sentence where it belongs, and nothing that only a technician understands."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from cornerwalk.assess import assess
from cornerwalk.report.customer import Shop, customer_sheet
from cornerwalk.report.document import CutOutCard, Document, LargeFigure, Pictures, Table
from cornerwalk.report.html import as_html
from cornerwalk.report.pdf import Paper, as_pdf
from cornerwalk.report.text import as_text
from cornerwalk.samples import sample_folder
from cornerwalk.session.checklist import load_checklists
from cornerwalk.session.events import LevellerSet
from cornerwalk.store.loader import load_session
from cornerwalk.tui.widgets.paper import Paper as PaperWidget
from cornerwalk.wording.figures import Units, Wording
from cornerwalk.words import use_language
from tests.support.jobs import WORKED_CASE, InventedJob, half_done, job_of, standards, worked_case

SHOP = Shop("Corner Garage (invented)", "555 0100")


def card_of(job: InventedJob, units: Units = "inch", shop: Shop = SHOP) -> Document:
    wording = Wording.for_tape(units, job.assessment.reading.graduation_mm)
    return customer_sheet(job.session, job.assessment, wording, load_checklists(), shop)


def sample_job(path: Path) -> InventedJob:
    stored = load_session(path, path.read_bytes())
    return InventedJob(stored.events, stored.session, assess(stored.session, standards()))


def told(job: InventedJob, units: Units = "inch", shop: Shop = SHOP) -> str:
    return " ".join(as_text(card_of(job, units, shop), 300).split())


def test_the_card_is_written_for_whoever_drives() -> None:
    """No ±, no U or k, no "not known": a sentence without a fact that is missing."""
    job = worked_case()
    document = card_of(job)
    text = as_text(Document(title=document.title, subtitle="", blocks=document.blocks, footer=document.footer))
    for technical in ("±", "k = 2", " U ", "not known", "°"):
        assert technical not in text.replace("10 °F", ""), technical


def test_one_pressure_stands_large_and_on_the_card() -> None:
    """The pressure recommended, once large, once to cut out, with the kit's limits beside it."""
    document = card_of(worked_case())
    (large,) = (block for block in document.blocks if isinstance(block, LargeFigure))
    (card,) = (block for block in document.blocks if isinstance(block, CutOutCard))
    assert card.rows == (("Loaded", large.figure), ("Unloaded, and never below", "8 psi"), ("Never over", "40 psi"))


@pytest.mark.parametrize(("missing", "row"), [("min", "Empty"), ("max", "Never over")])
def test_a_limit_that_is_not_stated_is_not_printed(missing: str, row: str) -> None:
    """Instead the owner is sent to the kit's instructions."""
    lines = [line for line in WORKED_CASE.splitlines() if not line.startswith(f"{missing} = ")]
    job = job_of("\n".join(lines))
    assert row not in [name for block in card_of(job).blocks if isinstance(block, CutOutCard) for name, _ in block.rows]
    assert "find them before you change the pressure" in told(job)


def test_what_was_left_in_the_bags_is_told_as_it_was_read() -> None:
    """The last trial of the worked case stood at 25 psi, whatever is recommended."""
    assert "Left in the bags: 25 psi." in told(worked_case())


# Sources: the gas law at a steady volume, (30 psi + 14.696 psi) · (10/1.8 K) / 293.15 K = 0.847 psi, and (207 kPa +
# 101.325 kPa) · 10 K / 293.15 K = 10.5 kPa; ISO 2533: 101.325 kPa at sea level, 97.72 kPa at 1,000 ft, 89.87 kPa at
# 1,000 m: 0.52 psi and 11.4 kPa.
def test_cold_and_height_follow_the_gas_law_and_the_standard_atmosphere() -> None:
    """At 33 psi, recommended here: 47.7 psi · 0.01895 = 0.90 psi in 10 °F; 328.9 kPa · 0.0341 = 11.2 kPa in 10 °C."""
    assert "about 0.9 psi less for every 10 °F colder, 0.5 psi more for every 1,000 ft up" in told(worked_case())
    assert "about 11 kPa less for every 10 °C colder, 11 kPa more for every 1,000 m up" in told(worked_case(), "metric")


def test_the_shop_and_its_number() -> None:
    """Where the settings give them; no line without."""
    assert "Corner Garage (invented) · 555 0100" in told(worked_case())
    assert "call 555 0100" in told(worked_case())
    assert "call" not in told(worked_case(), shop=Shop())


def test_the_safety_lines_stand_on_every_card() -> None:
    """Ratings, level, stands, a bag that goes flat, the pressure each week: whatever else is known."""
    for job in (worked_case(), half_done(), job_of("")):
        text = told(job)
        assert "raise no rating, take no load off an axle and give none back to the front axle" in text
        assert "A level body is not a safe load." in text
        assert "on rated stands only" in text
        assert "A bag goes flat: slow down" in text
        assert "Check pressure weekly" in text


def test_the_installation_list_that_nobody_answered_is_not_checked() -> None:
    """Stands, arm bolts and wheel torque are among what nobody knows."""
    assert "the installation list, 0 of 16 answered (stands, arm bolts and wheel torque are on it)" in told(half_done())


def test_the_dial_of_the_headlights() -> None:
    """Its position at this load where it was noted; not a word where the lamps have none."""
    manual = WORKED_CASE.replace('levelling = "none"', 'levelling = "manual"')
    assert 'levelling = "manual"' in manual
    assert "Set the headlight dial by its own table" in told(job_of(manual))
    noted = job_of(manual, LevellerSet(stage="fitted", number=2, position="2"))
    assert "Headlight dial: 2 with this load." in told(noted)
    assert "dial" not in told(job_of(WORKED_CASE))


def test_a_beam_that_was_not_checked_is_not_called_right() -> None:
    """Without an aim nothing is claimed of it."""
    assert "Low beams were not checked with this load." in told(job_of(""))


def test_a_reading_in_doubt_gives_no_pressure_and_no_drawing() -> None:
    """The sample with a misread corner: nothing that rests on it is handed to the owner."""
    job = sample_job(sample_folder() / "misread-corner.json")
    assert any(stage.misread is not None for stage in job.assessment.stages)
    document = card_of(job)
    assert not [block for block in document.blocks if isinstance(block, LargeFigure | Pictures)]
    assert "A height that was read is in doubt, so no pressure is given." in told(job)
    assert "Low beams were not checked" in told(job)


@pytest.mark.parametrize("paper", ["letter", "A4"])
@pytest.mark.parametrize("language", ["en", "de", "es"])
@pytest.mark.parametrize("sample", sorted(sample_folder().glob("*.json")), ids=lambda path: path.stem)
def test_every_sample_is_one_side(sample: Path, language: str, paper: Paper) -> None:
    """On both papers, in three languages; the pressure on paper is that of the web page."""
    use_language(language)
    try:
        document = card_of(sample_job(sample))
        reader = PdfReader(io.BytesIO(as_pdf(document, paper)))
        page = as_html(document)
    finally:
        use_language("en")
    assert len(reader.pages) == 1
    printed = " ".join(reader.pages[0].extract_text().split())
    for block in document.blocks:
        if isinstance(block, LargeFigure):
            assert block.figure in printed
            assert block.figure.replace(" ", "&nbsp;") in page


def test_the_screen_shows_the_same_pressure() -> None:
    """The page in the app has the large figure and the card as well."""
    shown = PaperWidget()
    shown._blocks = card_of(worked_case()).blocks
    rows = ["".join(text for _, text in row).split() for row in shown.rows(100)]
    assert ["33", "psi"] in rows
    assert ["Loaded", "33", "psi"] in rows


def test_the_table_of_other_loads_goes_first() -> None:
    """A card that is too long loses the table, and no sentence about safety."""
    document = card_of(worked_case())
    assert [type(block) for block in document.left_out_first] == [Table]
    assert document.left_out_first[0] in document.blocks
