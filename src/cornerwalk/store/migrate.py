"""Old files: one step from each version of the format to the next.

A step gets the verified document of its version, as plain JSON values, and returns that of the next, with its chain
computed anew; the program then treats it as its own. Files of every version ever released lie frozen in the tests.
There is one version so far, so there is no step yet.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from cornerwalk.session.journal import VERSION

Document = dict[str, Any]
Step = Callable[[Document], Document]

STEPS: Mapping[int, Step] = {}
"""For each older version, the step to the next."""


def migrated(document: Document, version: int, *, steps: Mapping[int, Step] = STEPS, to: int = VERSION) -> Document:
    """The document in the version `to`, itself where it is of that version."""
    for each in range(version, to):
        document = steps[each](document)
    return document
