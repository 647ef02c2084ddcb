"""Tightened joints: what was asked for, by whom, and what was reached. The specification is always the maker's."""

from __future__ import annotations

from typing import Literal

from cornerwalk.quantity import read_torque
from cornerwalk.session.happenings import TorqueRecorded
from cornerwalk.session.parts import Session, Torque
from cornerwalk.session.walk import WalkError

TorquePart = Literal["specified", "source", "reached"]

USUAL_JOINTS = ("wheel nuts", "control-arm bolts, at ride height")
"""Joints that every such fitting loosens; common practice, no source. Others are named as they come."""


def torque_of(session: Session, joint: str) -> Torque | None:
    """What is known of a joint, None if it was not named yet."""
    return next((torque for torque in session.torques if torque.joint == joint), None)


def record_torque(session: Session, joint: str, part: TorquePart, text: str) -> TorqueRecorded:
    """The joint with one thing about it typed anew; the rest stays as it is.

    Raises:
        WalkError: the joint has no name.
        QuantityError: a torque cannot be read; it needs its unit.
    """
    if not joint.strip():
        raise WalkError("a tightened joint needs a name")
    known = torque_of(session, joint)
    entered = {
        "specified": known.specified_entered if known is not None else "",
        "source": known.source if known is not None else "",
        "reached": known.reached_entered if known is not None else "",
    }
    entered[part] = text.strip()
    return TorqueRecorded(
        joint=joint.strip(),
        specified_entered=entered["specified"],
        specified_Nm=_torque_Nm(entered["specified"]),
        source=entered["source"],
        reached_entered=entered["reached"],
        reached_Nm=_torque_Nm(entered["reached"]),
    )


def _torque_Nm(text: str) -> float | None:
    return read_torque(text).Nm if text else None


def reached_of_specified(torque: Torque) -> float | None:
    """Reached over specified, 1 where the joint is as tight as asked for; None where either is not known."""
    if torque.specified_Nm is None or torque.reached_Nm is None or torque.specified_Nm <= 0:
        return None
    return torque.reached_Nm / torque.specified_Nm
