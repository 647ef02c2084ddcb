"""One library and one export of it, for the tests that only look."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from cornerwalk.tables.export import ExportResult, export
from tests.support.jobs import standards
from tests.tables.shop import stock, summaries


@dataclass(frozen=True)
class Shop:
    """A library, its export, and what the export said of itself."""

    library: Path
    folder: Path
    exported: ExportResult


@pytest.fixture(scope="session")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """Sixty generated sessions and the samples, exported in one process, in chunks of 20."""
    place = tmp_path_factory.mktemp("shop")
    library = stock(place / "sessions")
    exported = export(summaries(library), place / "tables", standards=standards(), jobs_in_chunk=20)
    return Shop(library, place / "tables", exported)
