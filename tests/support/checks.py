"""Check kinds: every kind of check there is, as the modules that make the checks declare them."""

from __future__ import annotations

from collections.abc import Iterator

from cornerwalk.assess import air_checks, height_checks, lamp_checks, load_checks
from cornerwalk.assess.assessment import CheckKind


def check_kinds() -> Iterator[CheckKind]:
    """Each of them once, those in a table too."""
    for module in (height_checks, lamp_checks, load_checks, air_checks):
        for value in vars(module).values():
            held = value.values() if isinstance(value, dict) else [value]
            yield from (each for each in held if isinstance(each, CheckKind))
