"""Command `results`: the figures of a session as JSON."""

from __future__ import annotations

import json
from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver, writes_utf8
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_out, add_session_file
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "results",
        tr("print every figure of a session as JSON"),
        more=tr("Each name carries its unit, and each figure has its uncertainty beside it."),
        example="cornerwalk results van.json --out van-results.json",
        run=run,
    )
    add_session_file(parser)
    add_out(parser)


def run(arguments: Namespace, environment: Environment) -> int:
    """Compute and print.

    Raises:
        StoreError: the file cannot be read, or is damaged.
        OSError: the answer cannot be written.
    """
    from cornerwalk.assess import assess
    from cornerwalk.cli.commands.sessions import read_undamaged
    from cornerwalk.report.results import results_document

    session = read_undamaged(environment, arguments.file).session
    document = results_document(session, assess(session, environment.standards))
    text = json.dumps(document, indent=2, ensure_ascii=arguments.out is None and not writes_utf8(), allow_nan=False)
    deliver(_visible(text) + "\n", arguments.out)
    return DONE


def _visible(text: str) -> str:
    """The same document with every character that would act on a terminal as the escape that JSON has for it."""
    if text.isascii() and "\x7f" not in text:
        return text
    return "".join(c if c.isprintable() or c == "\n" else _escape(c) for c in text)


def _escape(character: str) -> str:
    return json.dumps(character)[1:-1] if character != "\x7f" else "\\u007f"
