"""Palette search: a command is found by its name, and by the words that say what it does."""

from __future__ import annotations

from textual.command import Hit, Hits
from textual.system_commands import SystemCommandsProvider

_BY_WHAT_IT_DOES = 0.5
"""A word of the sentence counts less than one of the name, which so comes first."""


class CommandSearch(SystemCommandsProvider):
    """Every command of the page below."""

    async def search(self, query: str) -> Hits:
        """Those whose name is like it, then those that do something of the kind."""
        matcher = self.matcher(query)
        for name, what, callback, *_ in self.app.get_system_commands(self.screen):
            by_name = matcher.match(name)
            words = query.casefold().split()
            does = all(word in what.casefold() for word in words)
            if by_name > 0 or does:
                shown = matcher.highlight(name) if by_name > 0 else name
                yield Hit(by_name or _BY_WHAT_IT_DOES, shown, callback, help=what)
