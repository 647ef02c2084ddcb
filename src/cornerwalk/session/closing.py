"""The end of a job and what comes after: handing over, and taking it up again. Neither can be taken back."""

from __future__ import annotations

from collections.abc import Mapping

from cornerwalk.session.happenings import HandedOver, Happening, JobReopened, NoteWritten
from cornerwalk.session.parts import Session
from cornerwalk.session.walk import WalkError


def hand_over(
    session: Session,
    to: str,
    figures: Mapping[str, float | str | None],
    program: str,
    decision: str = "",
) -> tuple[Happening, ...]:
    """The vehicle goes back with these figures; `decision` is what was decided where a STOP stands.

    Raises:
        WalkError: it is handed over already.
    """
    if not session.open:
        raise WalkError("the job is handed over already; reopen it for a follow-up first")
    handed = HandedOver(to=to.strip(), figures=dict(figures), program=program)
    if not decision.strip():
        return (handed,)
    return (NoteWritten(text=decision.strip()), handed)


def reopen(session: Session, reason: str) -> tuple[Happening, ...]:
    """The job taken up again; what was handed over stays as it was.

    Raises:
        WalkError: it is open, or no reason is given.
    """
    if session.open:
        raise WalkError("the job is open; nothing needs to be reopened")
    if not reason.strip():
        raise WalkError("write why the job is taken up again, for whoever reads this later")
    return (JobReopened(reason=reason.strip()),)
