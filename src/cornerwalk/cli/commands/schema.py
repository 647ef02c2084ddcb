"""Command `schema`: the JSON Schema of a file format."""

from __future__ import annotations

import json
from argparse import Namespace, _SubParsersAction
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from cornerwalk.cli.output import deliver
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_out
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment


def _session() -> dict[str, Any]:
    from cornerwalk.session.schema import session_schema

    return session_schema()


def _results() -> dict[str, Any]:
    from cornerwalk.report.results import results_schema

    return results_schema()


def _sheet() -> dict[str, Any]:
    from cornerwalk.sheet.schema import sheet_schema

    return sheet_schema()


_SCHEMAS: dict[str, Callable[[], dict[str, Any]]] = {"session": _session, "results": _results, "sheet": _sheet}


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "schema",
        tr("print the JSON Schema of a file format"),
        more=tr("Of a session file, a results document or a job sheet (JSON Schema 2020-12)."),
        example="cornerwalk schema session --out session.schema.json",
        run=run,
    )
    parser.add_argument(
        "format",
        nargs="?",
        choices=tuple(_SCHEMAS),
        default="session",
        help=tr("which format; default session"),
    )
    add_out(parser)


def run(arguments: Namespace, _desk: Environment) -> int:
    """Print it.

    Raises:
        OSError: the answer cannot be written.
    """
    deliver(json.dumps(_SCHEMAS[arguments.format](), indent=2, ensure_ascii=True) + "\n", arguments.out)
    return DONE
