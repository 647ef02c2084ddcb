"""One module a command. Each adds itself to the parser; what it needs it loads when it runs."""

from __future__ import annotations

from cornerwalk.cli.commands import (
    ask_tables,
    check,
    compare,
    completions,
    demo,
    export_tables,
    guide,
    import_sheet,
    list_sessions,
    manual,
    replay,
    report,
    results,
    rules,
    schema,
    walk,
)
from cornerwalk.cli.commands.app import open_app
from cornerwalk.cli.parsers import Parser
from cornerwalk.words import tr

__all__ = ["add_commands", "open_app"]

_IN_ORDER = (
    demo,
    walk,
    import_sheet,
    results,
    report,
    replay,
    list_sessions,
    check,
    compare,
    export_tables,
    ask_tables,
    rules,
    guide,
    schema,
    completions,
    manual,
)


def add_commands(parser: Parser) -> None:
    """Every command, in the order in which the help shows them."""
    commands = parser.add_subparsers(title=tr("commands"), metavar=tr("COMMAND"), parser_class=Parser)
    for command in _IN_ORDER:
        command.add(commands)
