"""A file of the right shape that says what no tape, gauge or scale can: it is refused, or everything can be told of it.

    python -m tests.faults.strange_values 2000 [SEED]

A forger can compute the chain anew, so a number of any size may stand behind it.
"""

# ruff: noqa: T201 - it prints its figures

from __future__ import annotations

import json
import random
import sys
from collections import Counter
from collections.abc import Iterator
from typing import Any

from cornerwalk.assess import assess
from cornerwalk.job.replay_steps import Steps
from cornerwalk.report.audit import audit
from cornerwalk.report.customer import customer_sheet
from cornerwalk.report.file_report import file_report
from cornerwalk.report.html import as_html
from cornerwalk.report.results_csv import results_csv
from cornerwalk.report.text import as_text
from cornerwalk.samples import sample_folder
from cornerwalk.session.checklist import load_checklists
from cornerwalk.store import StoredSession, StoreError
from cornerwalk.store.loader import load_session
from cornerwalk.wording.figures import Wording
from tests.faults.strange_files import PATH, forged
from tests.support.jobs import standards
from tests.support.known import known

NUMBERS = (0, 5e-324, 1e-12, 1e-6, 0.01, 0.5, 1, 25.4, 90, 100, 1e3, 2e3, 2e4, 25e3, 1e5, 1e6, -1, -1e3, 1.7e308)
MOST_CHANGES = 4
CHECKLISTS = load_checklists()


def samples() -> list[dict[str, Any]]:
    """The sample sessions as plain documents."""
    return [json.loads(path.read_bytes()) for path in sorted(sample_folder().glob("*.json"))]


def strange_document(document: dict[str, Any], chance: random.Random) -> bytes:
    """The document with some of its numbers replaced, chained anew."""
    changed = json.loads(json.dumps(document))
    places = list(_numbers(changed["events"]))
    for _ in range(chance.randint(1, MOST_CHANGES)):
        holder, key = chance.choice(places)
        holder[key] = chance.choice(NUMBERS)
    return known(forged(json.dumps(changed).encode()))


def _numbers(part: Any) -> Iterator[tuple[Any, Any]]:
    """Every place of a number, but for those of counting and of the figures handed over, which nothing is made from."""
    items = part.items() if isinstance(part, dict) else enumerate(part)
    for key, value in items:
        if key in ("seq", "figures"):
            continue
        if isinstance(value, dict | list):
            yield from _numbers(value)
        elif isinstance(value, int | float) and not isinstance(value, bool):
            yield part, key


def tell_everything(stored: StoredSession) -> None:
    """Everything that the program tells of a session, in words and figures."""
    session = stored.session
    found = assess(session, standards())
    for units in ("inch", "metric"):
        wording = Wording.for_tape(units, found.reading.graduation_mm)
        for paper in (
            customer_sheet(session, found, wording, CHECKLISTS),
            file_report(stored.events, session, found, wording, CHECKLISTS),
        ):
            as_text(paper)
            as_html(paper)
        steps = Steps(stored.events, standards(), wording)
        steps.text(len(steps))
        steps.effect(len(steps))
    results_csv(session, found)
    list(audit(stored.events, standards()))


def try_one(document: dict[str, Any], chance: random.Random) -> str:
    """Whether one strange document was refused or told."""
    try:
        stored = load_session(PATH, strange_document(document, chance))
    except StoreError:
        return "refused"
    if stored.damage is not None:
        return "refused"
    tell_everything(stored)
    return "told"


def main() -> None:
    """Try so many, and print what came of it."""
    tries = int(sys.argv[1])
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.randrange(2**32)
    chance = random.Random(seed)
    documents = samples()
    came: Counter[str] = Counter()
    for _ in range(tries):
        came[try_one(chance.choice(documents), chance)] += 1
    print(f"seed: {seed} tries: {tries} refused: {came['refused']} told: {came['told']} tracebacks: 0")


if __name__ == "__main__":
    main()
