"""Reports on paper, read with readers that have nothing to do with the writer."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import Any, Literal

import pytest
from hypothesis import given, settings
from pypdf import PdfReader

from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.document import Document, Paragraph
from cornerwalk.report.file_report import file_report
from cornerwalk.report.pdf import PagesMissingError, as_pdf
from cornerwalk.report.text import as_text
from cornerwalk.report.worksheet import blank_worksheet
from cornerwalk.session.events import FactStated, NoteWritten
from cornerwalk.wording.figures import Wording
from tests.support.anything import STORABLE, hostile_events, jobs
from tests.support.jobs import WORKED_CASE, InventedJob, half_done, job_of, nothing_yet, separate_lines, worked_case
from tests.support.known import known

Paper = Literal["letter", "A4"]


def sheet(job: InventedJob, units: Any = "inch") -> Document:
    return customer_sheet(job.session, job.assessment, Wording.for_tape(units, job.assessment.reading.graduation_mm))


def report(job: InventedJob, units: Any = "inch") -> Document:
    wording = Wording.for_tape(units, job.assessment.reading.graduation_mm)
    return file_report(job.events, job.session, job.assessment, wording)


@cache
def printed(document: Document, paper: Paper) -> bytes:
    """A report printed once for all tests that only read it."""
    return as_pdf(document, paper)


def read_by_pypdf(file: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(file)).pages)


def read_by_poppler(content: bytes, folder: Path) -> str:
    program = shutil.which("pdftotext")
    if program is None:
        pytest.skip("needs pdftotext of poppler-utils")
    file = folder / "printed.pdf"
    file.write_bytes(content)
    done = subprocess.run([program, "-enc", "UTF-8", str(file), "-"], capture_output=True, check=True)
    return done.stdout.decode("utf-8")


def bare(text: str) -> str:
    """Without spaces and line breaks, which readers set as they see fit."""
    return "".join(text.split()).replace("\N{NO-BREAK SPACE}", "")


def figures_of(document: Document) -> set[str]:
    """Every word with a digit in the text form of the report."""
    return {word.strip("().,;") for word in as_text(document, 10_000).split() if re.search(r"\d", word)}


@pytest.mark.parametrize("units", ["inch", "metric", "both"])
@pytest.mark.parametrize("make", [worked_case, separate_lines])
def test_every_figure_can_be_read_back(make: Any, units: str, tmp_path: Path) -> None:
    """Two independent readers find each figure of the report in the file's text, on both kinds of report."""
    job = make()
    for document in (sheet(job, units), report(job, units)):
        content = printed(document, "A4")
        # The code beside the title is a picture: its words are those of the page.
        wanted = figures_of(
            Document(title=document.title, subtitle=document.subtitle, blocks=document.blocks, footer="")
        )
        for read in (read_by_pypdf(content), read_by_poppler(content, tmp_path)):
            found = bare(read)
            assert sorted(figure for figure in wanted if bare(figure) not in found) == []


@pytest.mark.parametrize("paper", ["letter", "A4"])
@pytest.mark.parametrize("make", [worked_case, separate_lines, half_done, nothing_yet])
def test_the_customers_sheet_is_one_page(make: Any, paper: Paper) -> None:
    """On both papers, whole or half-done jobs, the sheet is a single page of the right size."""
    pages = PdfReader(io.BytesIO(printed(sheet(make()), paper))).pages
    assert len(pages) == 1
    width, height = (float(side) / 72 * 25.4 for side in pages[0].mediabox[2:])
    # ISO 216 A4; ANSI/ASME Y14.1 letter (from memory).
    assert (width, height) == pytest.approx((210, 297) if paper == "A4" else (215.9, 279.4), abs=0.5)


def test_a_sheet_that_cannot_fit_runs_over_and_says_so() -> None:
    """Nothing is cut: the rest stands on a second page, and the pages are numbered."""
    job = worked_case()
    long = Document(
        title="t", subtitle="", blocks=tuple(Paragraph(f"paragraph {n}") for n in range(300)), footer="", one_page=True
    )
    read = read_by_pypdf(as_pdf(long, "A4"))
    assert "paragraph 299" in read
    assert "page 2 of" in read
    assert "page 1 of 1" in read_by_pypdf(printed(sheet(job), "A4"))


@pytest.mark.parametrize("make", [worked_case, half_done])
def test_the_same_session_gives_the_same_bytes(make: Any) -> None:
    """Neither the clock nor the run is in the file; another session gives another identifier."""
    for document in (sheet(make()), report(make())):
        assert as_pdf(document, "letter") == printed(document, "letter")
    ids = {str(PdfReader(io.BytesIO(printed(sheet(m()), "letter"))).trailer["/ID"]) for m in (worked_case, half_done)}
    assert len(ids) == 2


def test_the_same_bytes_in_another_process(tmp_path: Path) -> None:
    """Another interpreter with another hash seed writes the same file."""
    program = (
        "import sys; sys.path.insert(0, sys.argv[1])\n"
        "from tests.support.jobs import worked_case\n"
        "from tests.report.test_pdf import sheet\n"
        "from cornerwalk.report.pdf import as_pdf\n"
        "open(sys.argv[2], 'wb').write(as_pdf(sheet(worked_case()), 'A4'))\n"
    )
    root = str(Path(__file__).parents[2])
    file = tmp_path / "other.pdf"
    seed = "2" if os.environ.get("PYTHONHASHSEED") == "1" else "1"
    environment = {"PYTHONHASHSEED": seed, "PATH": "/usr/bin:/bin", "HOME": str(tmp_path)}
    subprocess.run([sys.executable, "-c", program, root, str(file)], check=True, env=environment)
    assert file.read_bytes() == printed(sheet(worked_case()), "A4")


def test_the_date_of_the_file_is_the_sessions() -> None:
    """Its creation date is the time of the last event."""
    job = worked_case()
    made = known(PdfReader(io.BytesIO(printed(sheet(job), "A4"))).metadata)
    assert known(made.creation_date).isoformat() == job.session.last_at


def test_every_font_is_embedded() -> None:
    """Whatever machine opens it, the letters are in the file."""
    reader = PdfReader(io.BytesIO(printed(report(worked_case()), "A4")))
    fonts: dict[str, Any] = {}
    for page in reader.pages:
        resources: Any = page["/Resources"]
        fonts |= {name: font.get_object() for name, font in resources["/Font"].items()}
    assert fonts
    for font in fonts.values():
        descriptor = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert "/FontFile2" in descriptor
        assert "/ToUnicode" in font


WRITTEN = ("job.customer", "job.complaint", "vehicle.description", "vehicle.registration")
"""Facts of the sheet that hold whatever somebody types."""


def with_names(*names: str) -> bytes:
    """A customer's sheet on which these stand."""
    stated = [FactStated(name=fact, entered=name, value=name) for fact, name in zip(WRITTEN, names, strict=False)]
    return printed(sheet(job_of(WORKED_CASE, *stated)), "A4")


@pytest.mark.parametrize(
    "names",
    [("Łukasz Žižek", "Дмитрий Иванов", "Ἀθηνᾶ Παπαδοπούλου", "½ ° − ± ¾ ⅝"), ("王小明", "김철수", "さくら 田中")],
    ids=["in the usual font", "in the East Asian one"],
)
def test_any_customers_name_comes_out(names: tuple[str, ...], tmp_path: Path) -> None:
    """Names of many scripts are drawn with letters and read back as they were typed."""
    content = with_names(*names)
    read = bare(read_by_poppler(content, tmp_path))
    assert [name for name in names if bare(name) not in read] == []
    assert "\\u" not in read_by_pypdf(content)


def test_names_that_run_from_the_right_are_joined_and_turned(tmp_path: Path) -> None:
    """Arabic and Hebrew are shaped: the readers give back the name's own letters, none of them as a code."""
    pytest.importorskip("uharfbuzz", reason="letters that join need the shaper")
    names = ("محمد علي", "דוד לוי")
    read = read_by_poppler(with_names(*names), tmp_path)
    assert {letter for letter in bare("".join(names)) if letter not in read} == set()
    assert "\\u06" not in read
    assert "\\u05" not in read


def test_what_no_font_can_draw_is_said() -> None:
    """Letters that would come out as empty boxes are written as codes, and the page says that it did so."""
    read = read_by_pypdf(with_names("สมชาย"))
    assert "\\u0e2a\\u0e21" in bare(read)
    assert "written as codes" in read
    assert "written as codes" not in read_by_pypdf(printed(sheet(worked_case()), "A4"))


def test_no_text_acts() -> None:
    """No link, action, script, form or attached file comes into the file by way of a text."""
    job = job_of(WORKED_CASE, *(what for text in STORABLE for what in hostile_events(text)))
    for document in (sheet(job), report(job)):
        reader = PdfReader(io.BytesIO(as_pdf(document, "A4")))
        for page in reader.pages:
            assert set(page) <= {"/Type", "/Parent", "/MediaBox", "/Contents", "/Resources", "/Group", "/TrimBox"}
        root: Any = reader.trailer["/Root"]
        assert set(root) <= {"/Type", "/Pages", "/OpenAction", "/PageLayout", "/Lang"}
        assert root["/OpenAction"][1:] == ["/Fit"]
        assert set(reader.trailer) <= {"/Size", "/Root", "/Info", "/ID"}


@settings(max_examples=12)
@given(jobs())
def test_any_session_can_be_printed(job: InventedJob) -> None:
    """Whatever is missing and whatever the texts hold, both reports print and open."""
    for document in (sheet(job), report(job)):
        assert len(PdfReader(io.BytesIO(as_pdf(document, "letter"))).pages) >= 1


def test_the_worksheet_prints_in_the_order_of_the_walk() -> None:
    """The corners stand in the order they will be typed in."""
    read = bare(read_by_pypdf(as_pdf(blank_worksheet("fit", "RR", "anticlockwise"), "letter")))
    order = [read.index(corner) for corner in ("1.rightrear", "2.rightfront", "3.leftfront", "4.leftrear")]
    assert order == sorted(order)


def test_without_the_page_library_the_message_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plain message with the command, and no traceback's text."""
    monkeypatch.setitem(sys.modules, "fpdf", None)
    with pytest.raises(PagesMissingError) as raised:
        as_pdf(sheet(worked_case()), "A4")
    assert "pip install cornerwalk[pdf]" in str(raised.value)


def test_a_note_of_many_lines_is_kept_whole() -> None:
    """A page-long note runs on and loses no word."""
    words = " ".join(f"word{n}" for n in range(1500))
    job = job_of(WORKED_CASE, NoteWritten(text=words))
    read = read_by_pypdf(as_pdf(report(job), "A4"))
    assert "word0" in read
    assert "word1499" in read
