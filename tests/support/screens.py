"""What a full-screen app under test shows, as text, with nothing on it that moves.

Animations are off for every test (`tests/conftest.py`). A blinking cursor is a style and not in the text; it matters
for pictures only, and `hold_still` stops it there.
"""

from __future__ import annotations

from typing import Any

import pytest
from textual.app import App
from textual.widgets import Input, TextArea


def hold_still(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the cursor of every entry field opened from now on from blinking."""
    for widget in (Input, TextArea):
        monkeypatch.setattr(widget.cursor_blink, "_default", False)


def screen_text(app: App[Any]) -> str:
    """What the app shows now: one line of text for each row, without colours or trailing spaces."""
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips)
