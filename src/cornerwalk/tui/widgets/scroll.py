"""A part of a page that scrolls when it has to, and leaves the arrow keys to the page: there they turn questions."""

from __future__ import annotations

from textual.containers import VerticalScroll


class Scroll(VerticalScroll, inherit_bindings=False, can_focus=False):
    """Scrolled by the wheel, by whatever is brought into sight, and by the page's own keys."""
