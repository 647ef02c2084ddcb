"""The examples in the room's docstrings."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import cornerwalk.quantity

MODULES = [module.name for module in pkgutil.iter_modules(cornerwalk.quantity.__path__, "cornerwalk.quantity.")]


@pytest.mark.parametrize("name", MODULES)
def test_examples_hold(name: str) -> None:
    """Every example in a docstring gives what it says."""
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_there_are_examples() -> None:
    """The test above has something to check."""
    finder = doctest.DocTestFinder()
    found = [test for name in MODULES for test in finder.find(importlib.import_module(name)) if test.examples]
    assert len(found) >= 5
