"""A job of the library as a row: as many columns as there is room for, the title always."""

from __future__ import annotations

from rich.cells import cell_len

from cornerwalk.job.library import Job, Order, State, vehicle_of
from cornerwalk.session.log import VERSION
from cornerwalk.session.stages import STAGE_NAMES
from cornerwalk.store import Summary
from cornerwalk.tables.verdicts import SessionVerdict
from cornerwalk.tui.widgets.rows import Row, fitted
from cornerwalk.wording.names import stage_name, verdict_word
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

VERDICT_FROM, VERDICT_COLUMNS = 52, 16
STATE_FROM, STATE_COLUMNS = 72, 20
BY_FROM, BY_COLUMNS = 90, 8
"""From which width on a column is shown, and how wide it is."""

_LEAST_ABOUT = 4


def job_row(job: Job, verdict: SessionVerdict | None, width: int) -> Row:
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


def left_out(job: Job, width: int) -> str:
    """Title, vehicle and customer in full where the row has not room for them; "" where it has."""
    row = job_row(job, None, width)
    if not row[-1][1].endswith("…"):
        return ""
    summary = job.summary
    parts = (summary.title or summary.stem, vehicle_of(summary), summary.customer)
    return ", ".join(harmless(part) for part in parts if part)


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
        "worked on last": tr("worked on last first"),
        "opened": tr("opened last first"),
        "vehicle": tr("by vehicle"),
        "technician": tr("by technician"),
        "verdict": tr("worst verdict first"),
    }[order]
