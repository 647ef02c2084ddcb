"""The list of jobs as data: what is looked for in it, and in which order it stands. Nothing here knows a screen.

What may be typed, in any order, each narrowing the list:

| typed | finds |
|---|---|
| `trailer` | the word in title, names, vehicle, kit or file name |
| `by:mt` `vehicle:van` | part of the technician's name; of the vehicle's description or registration |
| `2026-05` `2026-05-04` | jobs opened in that month, on that day |
| `since:2026-05` `until:2026-06-15` | opened then or later; then or earlier |
| `verdict:fail` | the overall verdict begins so |
| `unfinished` `handed-over` `damaged` | as the job stands |
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Literal

from cornerwalk.session.log import VERSION
from cornerwalk.session.stages import STAGE_NAMES
from cornerwalk.store import Summary
from cornerwalk.tables.verdicts import SessionVerdict
from cornerwalk.wording.names import stage_name, verdict_word
from cornerwalk.words import tr

Order = Literal["worked on last", "opened", "vehicle", "technician", "verdict"]
ORDERS: tuple[Order, ...] = ("worked on last", "opened", "vehicle", "technician", "verdict")
State = Literal["any", "unfinished", "handed over", "damaged"]
STATES: tuple[State, ...] = ("any", "unfinished", "handed over")

_RANK: Mapping[SessionVerdict | None, int] = {
    "fail": 0,
    "conditional fail": 1,
    "not checked": 2,
    "conditional pass": 3,
    "pass": 4,
    "unreadable": 5,
}
"""The worst first."""

VERDICTS: tuple[SessionVerdict, ...] = tuple(verdict for verdict in _RANK if verdict is not None)

_DATE = re.compile(r"(\d{4})-(\d{2})(?:-(\d{2}))?")
_STATE_WORDS: dict[str, State] = {"unfinished": "unfinished", "handed-over": "handed over", "damaged": "damaged"}


@dataclass(frozen=True, slots=True)
class ListedJob:
    """One job of the list, with what is looked for in it made ready, without capitals.

    Attributes:
        summary: what the library knows of it.
        name: its file's, by which verdicts are known.
        searched: everything words are looked for in.
        by: who did it.
        vehicle: which vehicle it was.
        last: when it was worked on last, in seconds since 1970.
        day: when it was opened.
    """

    summary: Summary
    name: str
    searched: str
    by: str
    vehicle: str
    last: float
    day: date

    @classmethod
    def of(cls, summary: Summary) -> ListedJob:
        """The job of a summary."""
        return cls(
            summary=summary,
            name=summary.name,
            searched=summary.searched,
            by=summary.technician.casefold(),
            vehicle=vehicle_of(summary).casefold(),
            last=summary.last_moment.timestamp(),
            day=summary.day,
        )

    @property
    def path(self) -> Path:
        """Its file."""
        return self.summary.path


def vehicle_of(summary: Summary) -> str:
    """The vehicle as stated."""
    return " ".join(part for part in (summary.vehicle, summary.registration) if part)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is looked for; an empty one finds everything."""

    words: tuple[str, ...] = ()
    by: str = ""
    vehicle: str = ""
    since: date | None = None
    until: date | None = None
    verdict: str = ""
    state: State = "any"

    @classmethod
    def typed(cls, text: str) -> Wanted:
        """What a typed text looks for. A part that is not understood as more is a word like any other."""
        found: dict[str, object] = {}
        words = []
        for part in text.casefold().split():
            meant = _meant(part)
            if meant is None:
                words.append(part)
            else:
                found |= meant
        return cls(words=tuple(words), **found)  # type: ignore[arg-type]  # names and kinds go together in _meant

    def fits(self, job: ListedJob) -> bool:
        """Whether a job is looked for, whatever its verdict is."""
        for word in self.words:
            if word not in job.searched:
                return False
        if self.by not in job.by or self.vehicle not in job.vehicle:
            return False
        if (self.since is not None and job.day < self.since) or (self.until is not None and job.day > self.until):
            return False
        return self.state == "any" or _stands(job.summary, self.state)

    def fits_verdict(self, verdict: SessionVerdict | None) -> bool:
        """Whether a job of this verdict is looked for; one that is not known fits only where any does."""
        return not self.verdict or (verdict is not None and _named(verdict, self.verdict))


def _meant(part: str) -> dict[str, object] | None:
    if part in _STATE_WORDS:
        return {"state": _STATE_WORDS[part]}
    key, colon, value = part.partition(":")
    if not colon:
        days = _days(part)
        return {"since": days[0], "until": days[1]} if days is not None else None
    if not value:
        return None
    if key in ("by", "vehicle", "verdict"):
        return {key: value}
    days = _days(value)
    if days is None or key not in ("since", "until"):
        return None
    return {key: days[0] if key == "since" else days[1]}


def _days(text: str) -> tuple[date, date] | None:
    """First and last day of a month or of a day; None where the text is neither."""
    match = _DATE.fullmatch(text)
    if match is None:
        return None
    try:
        if match[3] is not None:
            day = date.fromisoformat(text)
            return day, day
        first = date(int(match[1]), int(match[2]), 1)
    except ValueError:
        return None
    return first, first.replace(day=calendar.monthrange(first.year, first.month)[1])


def _stands(summary: Summary, state: State) -> bool:
    match state:
        case "damaged":
            return summary.damaged
        case "unfinished":
            return summary.unfinished
        case _:
            return not summary.open and not summary.damaged


def _named(verdict: SessionVerdict, wanted: str) -> bool:
    """Whether a verdict begins so, in English or in the user's language; spaces may be left out or be a -."""
    plain = wanted.replace("-", "").replace(" ", "")
    names = (verdict,) if verdict == "unreadable" else (verdict, verdict_word(verdict))
    return any(name.casefold().replace(" ", "").startswith(plain) for name in names)


class LibraryView:
    """All jobs, what is looked for, and the rows that fit, in order.

    Attributes:
        jobs: all of them.
        verdicts: those known, by file name; they may come in while the list is shown.
        wanted: what is looked for.
        order: how the rows are ordered.
        rows: what fits, in order.
        unjudged: jobs whose verdict decides whether or where they stand, and is not known yet.
    """

    def __init__(self, verdicts: Mapping[str, SessionVerdict]) -> None:
        self.jobs: Sequence[ListedJob] = ()
        self.verdicts = verdicts
        self.wanted = Wanted()
        self.order: Order = "worked on last"
        self.rows: list[ListedJob] = []
        self.unjudged: Sequence[ListedJob] = ()
        self._ordered: dict[Order, list[ListedJob]] = {}

    def take(self, jobs: Sequence[ListedJob]) -> None:
        """Show these jobs."""
        self.jobs = jobs
        self._ordered = {}
        self.look()

    def look(self) -> None:
        """Find what fits, anew. Only an order by verdicts is made anew too: the others stay while the jobs do."""
        if self.order == "verdict" or self.order not in self._ordered:
            self._ordered[self.order] = sorted(self.jobs, key=self._keys()[self.order])
        fits = self.wanted.fits
        self.rows = [job for job in self._ordered[self.order] if fits(job)]
        self.unjudged = ()
        if self.needs_verdicts:
            self.unjudged = [job for job in self.rows if job.name not in self.verdicts]
        if self.wanted.verdict:
            known = self.verdicts.get
            self.rows = [job for job in self.rows if self.wanted.fits_verdict(known(job.name))]

    def _keys(self) -> dict[Order, Callable[[ListedJob], tuple[object, ...]]]:
        return {
            "worked on last": lambda job: (-job.last, job.name),
            "opened": lambda job: (-job.day.toordinal(), -job.last, job.name),
            "vehicle": lambda job: (not job.vehicle, job.vehicle, -job.last),
            "technician": lambda job: (not job.by, job.by, -job.last),
            "verdict": lambda job: (_RANK.get(self.verdicts.get(job.name), len(_RANK)), -job.last),
        }

    @property
    def needs_verdicts(self) -> bool:
        """Whether what is shown hangs on verdicts that may not be known yet."""
        return bool(self.wanted.verdict) or self.order == "verdict"

    def place_of(self, path: Path) -> int:
        """Where a job stands among the rows; 0 where it does not."""
        return next((place for place, job in enumerate(self.rows) if job.name == path.name), 0)


# ---- how the list says it ----


def verdict_in_words(verdict: SessionVerdict | None) -> str:
    """A verdict as the list shows it; … while it is not known."""
    if verdict is None:
        return "…"
    if verdict == "unreadable":
        return tr("unreadable")
    return verdict_word(verdict)


def state_of(summary: Summary) -> str:
    """How a job stands."""
    if summary.damaged:
        return tr("damaged")
    if summary.version > VERSION:
        return tr("of a newer program")
    if not summary.open:
        return tr("handed over")
    last = next((name for name in STAGE_NAMES if summary.stages and name == summary.stages[-1]), None)
    return tr("unfinished") if last is None else tr("open, {stage}", stage=stage_name(last))


def state_name(state: State) -> str:
    """What the jobs are called that stand so."""
    return {
        "any": tr("all"),
        "unfinished": tr("unfinished"),
        "handed over": tr("handed over"),
        "damaged": tr("damaged"),
    }[state]


def order_in_words(order: Order) -> str:
    """What the order is called."""
    return {
        "worked on last": tr("most recent first"),
        "opened": tr("opened last first"),
        "vehicle": tr("by vehicle"),
        "technician": tr("by technician"),
        "verdict": tr("worst first"),
    }[order]
