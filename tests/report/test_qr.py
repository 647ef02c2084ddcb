"""The code for telephones, read by a decoder that has nothing to do with its maker."""

from __future__ import annotations

import sys

import pytest
import zxingcpp
from PIL import Image

from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.qr import CodesMissingError, Matrix, code_matrix, half_blocks, key_figures
from cornerwalk.report.text import as_text
from cornerwalk.session.events import FactStated, JointSoaped
from cornerwalk.wording.figures import Wording
from tests.support.anything import STORABLE, hostile_events
from tests.support.jobs import WORKED_CASE, half_done, job_of, nothing_yet, separate_lines, worked_case

MODULE_PIXELS = 4


def decoded(matrix: Matrix) -> str:
    """What a camera would read of the matrix, dark on light."""
    size = len(matrix)
    picture = Image.new("L", (size, size), 255)
    picture.putdata([0 if dark else 255 for row in matrix for dark in row])
    found = zxingcpp.read_barcodes(picture.resize((size * MODULE_PIXELS,) * 2, Image.Resampling.NEAREST))
    assert len(found) == 1
    return str(found[0].text)


@pytest.mark.parametrize("units", ["inch", "metric"])
@pytest.mark.parametrize("make", [worked_case, separate_lines, half_done, nothing_yet])
def test_a_telephone_reads_the_figures_of_the_sheet(make: object, units: str) -> None:
    """The code decodes to the very figures that stand on the sheet in words."""
    job = make()  # type: ignore[operator]
    wording = Wording.for_tape(units, job.assessment.reading.graduation_mm)  # type: ignore[arg-type]
    text = key_figures(job.session, job.assessment, wording)
    assert decoded(code_matrix(text)) == text
    document = customer_sheet(job.session, job.assessment, wording)
    sheet = " ".join(as_text(document, 10_000).split())
    for line in text.split("\n"):
        assert " ".join(line.split()) in sheet
    assert "raise no rating" in text


def test_the_half_blocks_of_a_terminal_are_the_same_code() -> None:
    """Drawn two rows a line, the characters still decode; each stands for two modules."""
    job = worked_case()
    text = key_figures(job.session, job.assessment, Wording("inch"))
    inks = {" ": (False, False), "▀": (True, False), "▄": (False, True), "█": (True, True)}
    rows: list[tuple[bool, ...]] = []
    for line in half_blocks(code_matrix(text)).split("\n"):
        rows.append(tuple(inks[c][0] for c in line))
        rows.append(tuple(inks[c][1] for c in line))
    assert decoded(tuple(rows[: len(rows[0])])) == text


def test_no_text_of_anybodys_is_in_the_code() -> None:
    """A hostile name or note cannot reach the telephone: the code holds our words and figures only."""
    plain = job_of(WORKED_CASE)
    for text in STORABLE:
        hostile = [
            what
            for what in hostile_events(text)
            # These two change what is found, not only what is said.
            if getattr(what, "name", "") != "lamps.rule" and not isinstance(what, JointSoaped)
        ]
        job = job_of(WORKED_CASE, FactStated(name="job.customer", entered=text, value=text), *hostile)
        told = key_figures(job.session, job.assessment, Wording("inch"))
        assert text not in told
        assert told == key_figures(plain.session, plain.assessment, Wording("inch"))


def test_the_code_is_no_address() -> None:
    """A telephone shows it as words: it does not begin like a link, a contact or a network."""
    job = worked_case()
    assert ":" not in key_figures(job.session, job.assessment, Wording("inch")).split("\n")[0]


def test_without_the_library_the_message_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plain message with the command."""
    monkeypatch.setitem(sys.modules, "segno", None)
    with pytest.raises(CodesMissingError) as raised:
        code_matrix("x")
    assert "pip install cornerwalk[qr]" in str(raised.value)
