"""What a sheet says, and the terms its readings are taken in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar, cast

from cornerwalk.quantity import QuantityError
from cornerwalk.session.happenings import Happening
from cornerwalk.session.parts import BareUnit, Job
from cornerwalk.session.walk import WalkError
from cornerwalk.textfiles import WrittenError

T = TypeVar("T")

UNIT_LINE = 'unit = "inch", "mm" or "cm"'
_UNIT_MISSING = '"{text}" has no unit, and the sheet states none; add {line}'


class SheetError(WrittenError):
    """A job sheet or a list of heights says something wrong; nothing of it was taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetContents:
    """A sheet as happenings, `JobOpened` first.

    `at` is when it happened: the sheet's date, else the time that was handed in. `job` is how heights are taken in it;
    `unit` is the unit of a bare height, None where the sheet does not say.
    """

    happenings: tuple[Happening, ...]
    at: datetime
    job: Job
    unit: BareUnit | None


class Bare:
    """What a number without a unit means in one sheet; `unit` is None where nothing says so."""

    def __init__(self, unit: BareUnit | None) -> None:
        self.unit = unit
        self._told = False

    def reading(self, reader: Callable[[str, BareUnit], T]) -> Callable[[str], T]:
        """`reader` with the unit filled in.

        The result raises what `reader` raises, and WalkError for the first text whose meaning hangs on a unit that
        nobody stated: one missing line must not be told once for every number of the sheet.
        """

        def read(text: str) -> T:
            if self.unit is not None:
                return reader(text, self.unit)
            in_inches, in_mm = _tried(reader, text, "inch"), _tried(reader, text, "mm")
            if isinstance(in_inches, QuantityError) and isinstance(in_mm, QuantityError):
                raise in_inches
            if in_inches != in_mm and not self._told:
                self._told = True
                raise WalkError(_UNIT_MISSING, text=text, line=UNIT_LINE)
            return cast("T", in_mm if isinstance(in_inches, QuantityError) else in_inches)

        return read


def _tried(reader: Callable[[str, BareUnit], T], text: str, unit: BareUnit) -> T | QuantityError:
    try:
        return reader(text, unit)
    except QuantityError as error:
        return error
