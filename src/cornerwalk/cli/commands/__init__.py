"""Commands, one module each: imported when it is named; what it needs is loaded when it runs."""

from __future__ import annotations

from argparse import Action, ArgumentParser, Namespace, _SubParsersAction
from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING, Any

from cornerwalk.cli.parsers import Parser
from cornerwalk.words import tr

__all__ = ["Commands", "add_commands"]

MODULES: dict[str, str] = {
    "demo": "demo",
    "walk": "walk",
    "import": "import_sheet",
    "results": "results",
    "report": "report",
    "replay": "replay",
    "list": "list_sessions",
    "check": "check",
    "compare": "compare",
    "export": "export_tables",
    "ask": "ask_tables",
    "rules": "rules",
    "settings": "settings",
    "guide": "guide",
    "schema": "schema",
    "completions": "completions",
    "manual": "manual",
}
"""The module of every command, in the order in which the help shows them."""


if TYPE_CHECKING:
    _Commands = _SubParsersAction[Parser]
else:
    _Commands = _SubParsersAction


class Commands(_Commands):
    """The commands: the module of one is imported when it is named, those of all when the help wants them."""

    def __init__(self, **given: Any) -> None:
        super().__init__(**given)
        self.choices: dict[str, Any] = dict.fromkeys(MODULES)

    def add_all(self) -> None:
        """Import what is not imported yet; then `choices` holds every parser."""
        for name in MODULES:
            self._add(name)

    def __call__(
        self,
        parser: ArgumentParser,
        namespace: Namespace,
        values: str | Sequence[Any] | None,
        option_string: str | None = None,
    ) -> None:
        """Go on with the parser of the command that was named."""
        if values:
            self._add(values[0])
        super().__call__(parser, namespace, values, option_string)

    def _get_subactions(self) -> list[Action]:
        """A line for each in the help."""
        self.add_all()
        return super()._get_subactions()

    def _add(self, name: str) -> None:
        if self.choices[name] is None:
            import_module(f"{__name__}.{MODULES[name]}").add(self)
            self.choices[name] = self._name_parser_map[name]


def add_commands(parser: Parser) -> Commands:
    """Every command."""
    commands = parser.add_subparsers(title=tr("commands"), metavar=tr("COMMAND"), parser_class=Parser, action=Commands)
    assert isinstance(commands, Commands)
    return commands
