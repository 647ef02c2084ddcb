"""Mutants: each is one mistake, and a sample of them stays the same."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

import pytest

from tests.mutation.mutants import SOURCE, mutants_of, mutated, sample

SNIPPET = '''
    """What it is for."""
    LIMIT: "Literal['no mutant']" = 2

    def within(value, low):
        """Whether it is."""
        if value < low and not low == 0:
            print("below")
        return low <= value <= LIMIT * 2
'''

CHANGES = (
    "2 → '3'", "value < low → value <= low", "value < low → value > low", "low == 0 → low != 0", "0 → '1'",
    "not low == 0 → without Not", "value < low and (not low == 0) → Or",
    "if value < low and (not low == 0) → if not", "'below' → 'belowXX'", "leave out print('below')",
    "LIMIT * 2 → Div", "2 → '3'", "low <= value <= LIMIT * 2 → low < value <= LIMIT * 2",
    "low <= value <= LIMIT * 2 → low <= value < LIMIT * 2", "low <= value <= LIMIT * 2 → low >= value <= LIMIT * 2",
    "low <= value <= LIMIT * 2 → low <= value >= LIMIT * 2", "return low <= value <= LIMIT * 2 → return None",
)  # fmt: skip


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A small module."""
    file = tmp_path / "snippet.py"
    file.write_text(dedent(SNIPPET))
    return file


def test_every_mistake_that_can_be_made(file: Path) -> None:
    """Values, comparisons, conditions, texts, statements, returns are changed; docstrings, annotations are not."""
    assert sorted(mutant.change for mutant in mutants_of(file)) == sorted(CHANGES)


def test_a_mutant_has_its_one_mistake(file: Path) -> None:
    """The file with a mistake in it does something else, and nothing but that."""
    (off_by_one,) = (mutant for mutant in mutants_of(file) if mutant.change.endswith("low <= value < LIMIT * 2"))
    space: dict[str, object] = {}
    exec(mutated(off_by_one), space)
    within = space["within"]
    assert [within(value, 1) for value in (0, 1, 3, 4)] == [False, True, True, False]  # type: ignore[operator]


def test_a_sample_stays_the_same_while_other_code_is_edited(file: Path) -> None:
    """What is chosen depends on the function and the change, not on the lines around them."""
    before = [mutant.change for mutant in sample(mutants_of(file), 5, seed=1)]
    file.write_text("import os\n\n" + file.read_text())
    assert [mutant.change for mutant in sample(mutants_of(file), 5, seed=1)] == before


def test_every_room_has_mutants() -> None:
    """The rooms' own files can be read so."""
    assert len(mutants_of(SOURCE / "assess" / "attitude.py")) > 20
