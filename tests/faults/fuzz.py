"""Coverage-guided fuzzing of session files; the inputs that reach new code stay in the corpus.

    python -m tests.faults.fuzz tests/faults/corpus -max_total_time=300 -max_len=4000

Needs the fuzzer `atheris`, which is no dependency of the tests: they try every file of the corpus.
"""

from __future__ import annotations

import sys
from importlib import import_module

atheris = import_module("atheris")

with atheris.instrument_imports(include=["cornerwalk", "tests.faults.strange_files"]):
    import cornerwalk.session.schema  # noqa: F401 - loaded late by the store, and to be instrumented too
    from tests.faults.strange_files import try_everything


def main() -> None:
    atheris.Setup(sys.argv, try_everything)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
