"""What a sheet says, and the terms its readings are taken in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from cornerwalk.quantity import QuantityError
from cornerwalk.session.happenings import Happening, StageBegun
from cornerwalk.session.parts import BareUnit, Job
from cornerwalk.session.walk import WalkError
from cornerwalk.written import WrittenError

T = TypeVar("T")

UNIT_LINE = 'unit = "inch", "mm" or "cm"'


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

    @property
    def is_preset(self) -> bool:
        """Nothing has been done yet: vehicle, kit and loads only."""
        return not any(isinstance(what, StageBegun) for what in self.happenings)


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
            in_inches = reader(text, "inch")
            if not self._told and not _same_in_mm(reader, text, in_inches):
                self._told = True
                raise WalkError(
                    '"{text}" has no unit, and the sheet states none; add {line}', text=text, line=UNIT_LINE
                )
            return in_inches

        return read


def _same_in_mm(reader: Callable[[str, BareUnit], T], text: str, in_inches: T) -> bool:
    try:
        return reader(text, "mm") == in_inches
    except QuantityError:  # a bare fraction, which only inches have
        return False
