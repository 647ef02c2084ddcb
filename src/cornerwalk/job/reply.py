"""Reply: what a typed text is understood to be, what stands beside it, and what Enter would do with it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from cornerwalk.job.prompts import Prompt
from cornerwalk.quantity import QuantityError
from cornerwalk.quantity.errors import IncompleteText, MoreThanOne
from cornerwalk.session.events import Event
from cornerwalk.session.walk import EntryError
from cornerwalk.words import tr

Style = Literal["ink", "strong", "quiet", "due", "caution"]
Echo = tuple[Style, str]
Refusal = (QuantityError, EntryError)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """What a text is understood to be, and what Enter would do.

    Attributes:
        large: the figures to draw large, "" for none.
        meant: the value that was understood, in both systems of units where that helps.
        beside: what is worth knowing beside it: what it compares with, what to watch.
        enter: what Enter does, "" where that goes without saying; `enter_part` how it is drawn.
        trouble: why Enter would refuse, "" if it would not.
        unfinished: the trouble is only that more is to come: "27 5/" may yet be a height.
        suggestion: the likely meaning of a refused text.
        doubt: a remark that asks for a second Enter, "" for none.
        would: what Enter records.
        loses: what Enter does loses something for good, as `enter` says.
        told: what is said once that is done; "" for what was recorded.
        then: the question that follows, None for what is due.
        opens: the page that Enter opens, by its control.
        keeps_text: whether the text stays for the next question.
        judged: whether the results may be shown as they would be.
    """

    large: str = ""
    meant: str = ""
    beside: tuple[Echo, ...] = ()
    enter: str = ""
    enter_part: Style = "quiet"
    trouble: str = ""
    unfinished: bool = False
    suggestion: str = ""
    doubt: str = ""
    would: tuple[Event, ...] = ()
    loses: bool = False
    told: str = ""
    then: Prompt | None = None
    opens: str = ""
    keeps_text: bool = False
    judged: bool = False

    @property
    def lines(self) -> tuple[Echo, ...]:
        """All of it below the entry, first to last."""
        meant: tuple[Echo, ...] = (("ink", self.meant),) if self.meant else ()
        enter: tuple[Echo, ...] = ((self.enter_part, self.enter),) if self.enter else ()
        return (*meant, *self.beside, *enter)


def refusal(error: QuantityError | EntryError) -> Reply:
    """Why a text is refused, in words."""
    return Reply(
        trouble=tr(error.template, **error.fields),
        unfinished=isinstance(error, IncompleteText | MoreThanOne),
        suggestion=(error.suggestion or "") if isinstance(error, QuantityError) else "",
    )
