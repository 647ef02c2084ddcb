"""What an audit found, in words; and what a check of a file can and cannot prove."""

from __future__ import annotations

from cornerwalk.report.audit import AuditProblem
from cornerwalk.session.happenings import Scalar
from cornerwalk.words import tr
from cornerwalk.words.safe import harmless

LONGEST_SHOWN = 80
"""Characters of one text or value that a line repeats; a file can hold a text of a million."""


def problem_words(problem: AuditProblem) -> str:
    """One problem as a sentence: `event 23: 701.675 mm is stored, but 27 9/16 is 700.0875 mm`.

    Values are told with every digit: what differs may be the last of them.
    """
    fields = {
        "seq": problem.seq,
        "about": _cut(harmless(problem.about)),
        "stored": _value(problem.stored, problem.unit),
        "follows": _value(problem.follows, problem.unit),
        "program": _cut(harmless(problem.program)) or tr("not known"),
    }
    match problem.kind:
        case "no text":
            return tr('event {seq}: {stored} is stored, but the text "{about}" says no such value', **fields)
        case "value":
            return tr('event {seq}: {stored} is stored, but "{about}" is {follows}', **fields)
        case "figure":
            return tr(
                "event {seq}, {about}: {stored} was handed over by this version, but {follows} follows from the "
                "readings",
                **fields,
            )
        case "figures missing":
            return tr("event {seq}: figures that this version hands over are missing: {about}", **fields)
        case "another program's figure":
            return tr(
                "event {seq}, {about}: {stored} was handed over by version {program}; this version computes {follows}",
                **fields,
            )
        case "figure of a rule not known here":
            return tr(
                "event {seq}, {about}: {stored} was handed over under a rule that is not known here; without it "
                "{follows} is computed",
                **fields,
            )


def _value(value: Scalar, unit: str) -> str:
    match value:
        case None:
            return tr("nothing")
        case str():
            return f'"{_cut(harmless(value))}"'
        case list():
            return _cut(", ".join(_value(each, unit) for each in value))
        case _:
            return f"{value!r} {unit}".rstrip()


def _cut(text: str) -> str:
    return text if len(text) <= LONGEST_SHOWN else f"{text[: LONGEST_SHOWN - 1]}…"


def what_a_check_proves() -> tuple[str, ...]:
    """What the chain and the arithmetic show, and what they cannot, a paragraph each."""
    return (
        tr(
            "Every event carries a chain: a SHA-256 checksum over the event and the chain of the one before it. A "
            "changed, missing, added or moved event breaks the chain from there on, down to a single character."
        ),
        tr(
            "Every value is computed anew from the text beside it, and every figure that was handed over from the "
            "readings before it. A value or figure that does not follow fails, even where the chain is whole. A figure "
            "that another version of the program handed over, or that hangs on a rule not known here, is told and "
            "fails nothing: a newer program may rightly compute it otherwise."
        ),
        tr(
            "A clock that ran backwards is told and fails nothing: summer time ends, and batteries go flat. Times are "
            "those of the machine, which anybody can set."
        ),
        tr(
            "What it cannot show: the chain holds no secret. Whoever changes a reading, its value, the figures handed "
            "over and then computes every chain anew leaves a file that passes. Nor does it show a whole file that was "
            "thrown away, or a reading that was wrong when it was typed."
        ),
        tr(
            "Events that were cut off neatly at the end, or an older copy of the file in its place, leave a file that "
            "is whole in itself. They show only in the library, whose list remembers how many events it has seen in "
            "each file, and only while that list is kept; a file from elsewhere shows nothing of it."
        ),
        tr(
            "For proof against a forger, keep something out of reach: the chain of the last event, printed on the "
            "report for the file, pins down everything before it."
        ),
    )
