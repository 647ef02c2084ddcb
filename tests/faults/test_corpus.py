from __future__ import annotations

from pathlib import Path

from tests.faults.strange_files import read_strange, try_everything

CORPUS = Path(__file__).parent / "corpus"
FROZEN = Path(__file__).parents[1] / "store" / "frozen"


def test_every_strange_file_that_was_ever_found_is_read_or_refused() -> None:
    """What a fuzzer found in reaching every corner of the reading code raises nothing but the store's own errors."""
    files = sorted(path for path in CORPUS.iterdir() if not path.name.startswith("."))
    assert len(files) > 50
    for path in files:
        try_everything(path.read_bytes())


def test_a_good_file_passes_the_same_tries() -> None:
    """The tries accept what is right: a file of the first version, every event of it."""
    stored = read_strange((FROZEN / "v1.json").read_bytes())
    assert stored is not None
    assert stored.damage is None
