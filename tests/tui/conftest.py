"""What holds for every test that drives the app."""

from __future__ import annotations

import pytest

from tests.support.at_rest import wait_by_the_event_loop


@pytest.fixture(autouse=True)
def _no_wait_for_an_idle_processor(monkeypatch: pytest.MonkeyPatch) -> None:
    wait_by_the_event_loop(monkeypatch)
