"""One file's bytes, whatever they are, put to everything that reads a session: only the store's own errors come out."""

from __future__ import annotations

import json
from pathlib import Path

from cornerwalk.session.log import FIRST_CHAIN, chain_of
from cornerwalk.store import StoredSession, StoreError, Summary
from cornerwalk.store.format import file_bytes
from cornerwalk.store.loader import load_session
from cornerwalk.store.summary import summarize

PATH = Path("2026-05-04-strange-1a2b3c4d.json")


def read_strange(data: bytes) -> StoredSession | None:
    """What the bytes say, None where they were refused; every promise about what was read is tried.

    Raises:
        AssertionError: a promise was broken.
    """
    summary = summarize(PATH, data)
    assert summary is None or isinstance(summary, Summary)
    assert isinstance(summary.searched if summary else "", str)
    try:
        stored = load_session(PATH, data)
    except StoreError as error:
        str(error)  # the message can be made, whatever it repeats of the file
        return None
    assert len(stored.events) == len(stored.lines)
    # What was read can be written, and is then read as it was, without damage.
    if stored.events:
        again = load_session(PATH, file_bytes(stored.session.id, stored.lines))
        assert again.damage is None
        assert again.events == stored.events
        assert again.session == stored.session
    return stored


def forged(data: bytes) -> bytes | None:
    """The same document with every chain computed anew, which brings strange values past it; None if it cannot be."""
    try:
        document = json.loads(data)
        before = FIRST_CHAIN
        for event in document["events"]:
            event.pop("chain", None)
            before = event["chain"] = chain_of(before, event)
        return json.dumps(document).encode()
    except (ValueError, TypeError, LookupError, AttributeError, RecursionError):
        return None


def try_everything(data: bytes) -> None:
    """Read the bytes as they are, and as a forger would pass them on."""
    read_strange(data)
    anew = forged(data)
    if anew is not None:
        read_strange(anew)
