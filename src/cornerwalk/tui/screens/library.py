"""Library page: find a job, go on with it, replay it, read its report, compare it with another.

What takes longer than a key may is done in a thread: reading the list, and the verdicts, which need whole sessions.
Verdicts are computed for the rows in sight, and for all only where what is looked for hangs on them.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from pathlib import Path

from rich.cells import cell_len
from textual import on, work
from textual.message import Message
from textual.worker import Worker, get_current_worker

from cornerwalk.context import Context
from cornerwalk.job.library import (
    ORDERS,
    STATES,
    LibraryView,
    ListedJob,
    State,
    Wanted,
    order_in_words,
    state_name,
    state_of,
    vehicle_of,
    verdict_in_words,
)
from cornerwalk.job.notice import Span
from cornerwalk.store import StoreError
from cornerwalk.tables.verdicts import SessionVerdict, Verdicts
from cornerwalk.tui.keys import Places
from cornerwalk.tui.messages import OpenFile, ReplayFile
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.listing import ListingScreen
from cornerwalk.tui.widgets.long_list import LongList
from cornerwalk.tui.widgets.rows import Row, fitted
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless

VERDICT_FROM, VERDICT_COLUMNS = 52, 16
STATE_FROM, STATE_COLUMNS = 72, 20
BY_FROM, BY_COLUMNS = 90, 8
"""From which width on a column is shown, and how wide it is."""

_LEAST_ABOUT = 4


def job_row(job: ListedJob, verdict: SessionVerdict | None, width: int) -> Row:
    """Day, verdict, state, initials, and what the job is called."""
    summary = job.summary
    row: Row = [("quiet", f"{harmless(summary.opened_at[:10]) or '?':<11}")]
    if width >= VERDICT_FROM:
        part = "caution" if verdict in ("fail", "conditional fail", "unreadable") else "quiet"
        row.append((part, f"{fitted(verdict_in_words(verdict), VERDICT_COLUMNS)} "))
    if width >= STATE_FROM:
        row.append(("due" if summary.unfinished else "quiet", f"{fitted(state_of(summary), STATE_COLUMNS)} "))
    if width >= BY_FROM:
        row.append(("quiet", f"{fitted(harmless(summary.technician), BY_COLUMNS)} "))
    title = harmless(summary.title) or harmless(summary.stem)
    about = ", ".join(harmless(part) for part in (vehicle_of(summary), summary.customer) if part)
    room = max(1, width - sum(cell_len(text) for _, text in row))
    title = fitted(title, min(cell_len(title), room))
    row.append(("ink", title))
    if about and room - cell_len(title) > _LEAST_ABOUT:
        row.append(("quiet", fitted(f", {about}", room - cell_len(title))))
    return row


def left_out(job: ListedJob, width: int) -> str:
    """Title, vehicle and customer in full where the row has not room for them; "" where it has."""
    row = job_row(job, None, width)
    if not row[-1][1].endswith("…"):
        return ""
    summary = job.summary
    parts = (summary.title or summary.stem, vehicle_of(summary), summary.customer)
    return ", ".join(harmless(part) for part in parts if part)


PROGRESS_AFTER_S = 0.4
PROGRESS_EVERY_S = 0.25
"""What takes longer than half a second says how far it is."""


class LibraryScreen(ListingScreen):
    """Type to find; Enter goes on with the marked job."""

    places: Places = ("list", "library", "everywhere")

    class Progress(Message):
        """Sent while the list is read: how many files are done, of how many."""

        def __init__(self, done: int, total: int) -> None:
            self.done = done
            self.total = total
            super().__init__()

        def can_replace(self, message: Message) -> bool:
            """Only the last one counts."""
            return isinstance(message, LibraryScreen.Progress)

    class ListRead(Message):
        """Sent when the list is read."""

        def __init__(self, jobs: Sequence[ListedJob], problem: StoreError | None = None) -> None:
            self.jobs = jobs
            self.problem = problem
            super().__init__()

    class Judged(Message):
        """Sent when verdicts have become known, and when there are no more to compute."""

        def can_replace(self, message: Message) -> bool:
            """Only the last one counts."""
            return isinstance(message, LibraryScreen.Judged)

    def __init__(self, context: Context) -> None:
        super().__init__(tr("Past jobs"), hint=tr("words, by:MT, vehicle:van, 2026-05, verdict:fail, unfinished"))
        self.context = context
        self._known: dict[str, SessionVerdict] = {}
        self._view = LibraryView(self._known)
        self._state: State = "any"
        self._in_sight: tuple[ListedJob, ...] = ()
        self._judging: Worker[None] | None = None
        self._verdicts: Verdicts | None = None
        self._first: Path | None = None
        self._listed = False

    @property
    def help_text(self) -> tuple[str, ...]:
        """What can be typed."""
        return (
            tr("Type what you look for; every word narrows the list: title, names, vehicle, kit, file."),
            tr("by:MT finds a technician, vehicle:van a vehicle, 2026-05 a month, 2026-05-04 a day; since: and "
                "until: take either. verdict:fail finds verdicts that start that way; also unfinished, handed-over, "
                "damaged."),
            tr("↑ ↓ mark a job, Enter goes on with it. Nothing is changed by looking."),
        )  # fmt: skip

    # ---- reading the list ----

    def on_screen_resume(self) -> None:
        """Jobs may have come or gone meanwhile."""
        self._read_list()

    @work(thread=True, exclusive=True, group="list")
    def _read_list(self) -> None:
        worker = get_current_worker()
        told_at = time.monotonic() + PROGRESS_AFTER_S

        def progress(done: int, total: int) -> None:
            nonlocal told_at
            if worker.is_cancelled:
                raise _LeftError
            if time.monotonic() >= told_at:
                told_at = time.monotonic() + PROGRESS_EVERY_S
                self.post_message(self.Progress(done, total))

        try:
            summaries = self.context.library.summaries(progress=progress)
            self.post_message(self.ListRead(tuple(map(ListedJob.of, summaries))))
        except StoreError as error:
            self.post_message(self.ListRead((), error))
        except _LeftError:
            return

    @on(Progress)
    def _tell_progress(self, message: Progress) -> None:
        message.stop()
        if not self._listed:
            self.say(tr("reading {done} of {total}", done=f"{message.done:,}", total=f"{message.total:,}"))

    @on(ListRead)
    def _show_list(self, message: ListRead) -> None:
        message.stop()
        self._listed = True
        if message.problem is not None:
            self.tell(tr(message.problem.template, **message.problem.fields), "caution")
        before = {job.name: job.summary for job in self._view.jobs}
        for job in message.jobs:
            if before.get(job.name, job.summary) != job.summary:
                self._known.pop(job.name, None)
        self._view.take(message.jobs)
        self._show()

    # ---- showing it ----

    @property
    def marked(self) -> Path | None:
        """The file of the marked job."""
        place = self.listing.mark
        return self._view.rows[place].path if place is not None and place < len(self._view.rows) else None

    def typed(self, text: str) -> None:
        """Find what is typed."""
        wanted = Wanted.typed(text)
        if self._state != "any" and wanted.state == "any":
            wanted = Wanted.typed(f"{text} {self._state.replace(' ', '-')}")
        self._view.wanted = wanted
        self._look()

    def _look(self) -> None:
        marked = self.marked
        self._view.look()
        self._show(marked)

    def _show(self, marked: Path | None = None) -> None:
        """Draw the rows; the job that was marked stays so while it is among them."""
        kept = marked or self.marked
        place = self._view.place_of(kept) if kept is not None else 0
        empty = tr("There is no job here yet.") if not self._view.jobs else tr("No job fits.")
        self.listing.show(len(self._view.rows), mark=place, empty=empty)
        self._show_counts()

    def _show_counts(self) -> None:
        rows, jobs = len(self._view.rows), len(self._view.jobs)
        count = tr_n("{count} job", "{count} jobs", jobs, count=f"{jobs:,}")
        if rows != jobs:
            count = tr("{rows} of {jobs} jobs", rows=f"{rows:,}", jobs=f"{jobs:,}")
        words: list[str | Span] = [count, order_in_words(self._view.order)]
        if self._state != "any":
            words.append(("due", tr("{state} only", state=state_name(self._state))))
        missing = len(self._view.unjudged)
        if missing and self._judging is not None:
            words.append(("due", tr("verdicts: {count} to go", count=f"{missing:,}")))
        if self._first is not None:
            words.append(("due", tr("compare {file} with …", file=harmless(self._first.stem))))
        self.say(*words)

    def row(self, place: int, width: int) -> Row:
        """One job."""
        job = self._view.rows[place]
        return job_row(job, self._known.get(job.name), width)

    # ---- verdicts ----

    @on(LongList.Marked)
    def _rows_in_sight(self, message: LongList.Marked) -> None:
        message.stop()
        rows = self._view.rows
        self._in_sight = tuple(rows[place] for place in self.listing.in_sight if place < len(rows))
        self._tell_what_is_left_out()
        self._judge_more()

    def _tell_what_is_left_out(self) -> None:
        """Say at the foot what the marked row had no room for; a choice that is being made stays said there."""
        place = self.listing.mark
        if self._first is not None or place is None or place >= len(self._view.rows):
            return
        self.tell(left_out(self._view.rows[place], self.listing.row_width))

    def _judge_more(self) -> None:
        if self._judging is None and self._next_to_judge() is not None:
            self._judging = self._judge()

    def _next_to_judge(self) -> ListedJob | None:
        """A row in sight whose verdict is not known; then whatever else it decides about."""
        wanted = (*self._in_sight, *self._view.unjudged)
        return next((job for job in wanted if job.name not in self._known), None)

    @work(thread=True, group="verdicts")
    def _judge(self) -> None:
        worker = get_current_worker()
        verdicts = self._verdicts or self._remembered()
        told_at = time.monotonic() + PROGRESS_EVERY_S
        while not worker.is_cancelled and (job_due := self._next_to_judge()) is not None:
            begun_at = time.monotonic()
            self._known[job_due.name] = verdicts.of(job_due.path)
            if time.monotonic() >= told_at:
                told_at = time.monotonic() + PROGRESS_EVERY_S
                self.post_message(self.Judged())
            time.sleep(time.monotonic() - begun_at)  # half of the processor is left to whoever types
        verdicts.save()

    def _remembered(self) -> Verdicts:
        """The verdicts of this library; those that are remembered are known at once. Made once, by the first thread."""
        self._verdicts = verdicts = Verdicts(self.context.library, self.context.standards())
        for job in self._view.jobs:
            verdict = verdicts.cached(job.path)
            if verdict is not None:
                self._known[job.name] = verdict
        return verdicts

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """The verdicts asked for are there; more may have been asked for meanwhile."""
        if event.worker is self._judging and event.worker.is_finished:
            self._judging = None
            self.post_message(self.Judged())

    @on(Judged)
    def _show_verdicts(self, message: Judged) -> None:
        message.stop()
        if self._view.needs_verdicts:
            self._look()
        else:
            self.listing.redraw()
            self._show_counts()
        self._judge_more()

    # ---- keys ----

    def taken(self, place: int) -> None:
        """Go on with the job."""
        self.post_message(OpenFile(self._view.rows[place].path))

    def action_replay(self) -> None:
        """Go through the marked job event by event."""
        if self.marked is not None:
            self.post_message(ReplayFile(self.marked))

    def action_report(self) -> None:
        """The report of the marked job."""
        if self.marked is not None:
            from cornerwalk.tui.screens.report import ReportScreen

            self.app.push_screen(ReportScreen(self.context, self.marked))

    def action_order(self) -> None:
        """The next of the orders."""
        self._view.order = ORDERS[(ORDERS.index(self._view.order) + 1) % len(ORDERS)]
        self._look()

    def action_state(self) -> None:
        """All jobs, only unfinished ones, only those handed over."""
        self._state = STATES[(STATES.index(self._state) + 1) % len(STATES)]
        self.typed(self.text)

    def action_compare(self) -> None:
        """Choose the first of two, then the second; the same one twice compares its own stages."""
        if self.marked is None:
            return
        if self._first is None:
            self._first = self.marked
            self.tell(
                tr(
                    "Mark another job and press {key} again; this one again compares its stages.",
                    key=key_shown("library.compare"),
                )
            )
            self._show_counts()
            return
        from cornerwalk.tui.screens.comparison import ComparisonScreen

        first, self._first = self._first, None
        self.tell("")
        self._show_counts()
        self.app.push_screen(ComparisonScreen(self.context, first, self.marked))

    async def action_back(self) -> None:
        """Let go of what was chosen first; then as on every list."""
        if self._first is not None:
            self._first = None
            self.tell("")
            self._show_counts()
        else:
            await super().action_back()


class _LeftError(Exception):
    """The page was left while its list was read."""
