"""QR code of the key figures, read by a telephone without a network. The code library is loaded on first use."""

from __future__ import annotations

from cornerwalk.assess.assessment import AirResult, Assessment
from cornerwalk.session.model import Session
from cornerwalk.wording.figures import Wording
from cornerwalk.wording.findings import finding_text
from cornerwalk.wording.names import air_place
from cornerwalk.words import tr

Matrix = tuple[tuple[bool, ...], ...]
"""Rows of modules, dark is True, the quiet zone included."""

QUIET_ZONE = 4
"""Modules of light around the code; ISO/IEC 18004 asks for four (from memory)."""

_INK = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


class CodesMissingError(RuntimeError):
    """The library for codes is not installed; the text says how to install it."""

    def __str__(self) -> str:
        """The English text."""
        return tr("Codes for telephones need one more package: pip install cornerwalk[qr]")


def key_figures(session: Session, assessment: Assessment, wording: Wording) -> str:
    """What an owner needs at the roadside, one line each. Figures only: no text that a person typed."""
    lines = [tr("cornerwalk {date}", date=(session.job.date or session.opened_at)[:10])]
    lines += [tr("STOP: {what}", what=finding_text(stop, wording).heading) for stop in assessment.stops]
    if not assessment.stops:
        lines += [_set_to(air, wording) for air in assessment.air if air.recommended_kPa is not None]
    kit = session.kit
    if kit.min_kPa is not None and kit.max_kPa is not None and not assessment.forbids_air:
        low, high = wording.pressure(kit.min_kPa), wording.pressure(kit.max_kPa)
        lines.append(tr("unloaded {low}, never below; never over {high}", low=low, high=high))
    lines.append(tr("Helper springs raise no rating."))
    return "\n".join(lines)


def _set_to(air: AirResult, wording: Wording) -> str:
    pressure = wording.pressure(air.recommended_kPa)
    if air.where == "rear":
        return tr("loaded {pressure}", pressure=pressure)
    return tr("{where}: loaded {pressure}", where=air_place(air.where), pressure=pressure)


def code_matrix(text: str) -> Matrix:
    """The code of a text, of middle error correction.

    Raises:
        CodesMissingError: the library is not installed.
    """
    try:
        import segno
    except ImportError as error:
        raise CodesMissingError from error
    code = segno.make(text, error="m", micro=False, boost_error=False)
    return tuple(tuple(bool(module) for module in row) for row in code.matrix_iter(border=QUIET_ZONE))


def half_blocks(matrix: Matrix) -> str:
    """Two rows of modules a line, dark modules as ink: for black on white. Swap the colours, never the blocks."""
    rows = [*matrix, *([tuple(False for _ in matrix[0])] if len(matrix) % 2 else [])]
    pairs = zip(rows[::2], rows[1::2], strict=True)
    return "\n".join("".join(_INK[(upper, lower)] for upper, lower in zip(*pair, strict=True)) for pair in pairs)
