"""From the command line to an exit status: 0 done, 1 a check failed, 2 bad input, 130 interrupted."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from cornerwalk.cli.commands import add_commands
from cornerwalk.cli.commands.app import open_app
from cornerwalk.cli.desk import Desk, Options
from cornerwalk.cli.output import has_screen, paints, ready_streams, shut_pipe, tell
from cornerwalk.cli.parsers import BAD_INPUT, INTERRUPTED, PIPE_SHUT, top_parser
from cornerwalk.words import tr, use_language

if TYPE_CHECKING:
    import argparse

    from cornerwalk.textfiles import Refusal, TextFileError


OTHERS = 0o077
"""What is taken away from everybody else in every file and folder made: customers stand in most of them."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status. What goes wrong is said in a line or a few, never in a traceback."""
    os.umask(OTHERS)
    ready_streams()
    try:
        status = _run(argv)
        sys.stdout.flush()
    except SystemExit:  # the end of --help and of a wrong command line: before anything is looked up for other errors
        raise
    except KeyboardInterrupt:
        return INTERRUPTED
    except BrokenPipeError:
        shut_pipe()
        return PIPE_SHUT
    except _written_errors() as error:
        tell(*cast("TextFileError", error).lines(tr))
        return BAD_INPUT
    except _refusals() as error:
        told = cast("Refusal", error)
        tell(tr(told.template, **told.fields))
        return BAD_INPUT
    except OSError as error:
        tell(_of_the_machine(error))
        return BAD_INPUT
    return status


def _run(argv: Sequence[str] | None) -> int:
    desk = Desk()
    _speak(desk)
    parser = top_parser()
    add_commands(parser)
    arguments = parser.parse_args(argv)
    plain = arguments.plain or not paints()
    desk.options = Options(library=arguments.library, units=arguments.units, plain=plain)
    run = getattr(arguments, "run", open_app)
    if plain and not arguments.plain and has_screen() and (run is open_app or "on_screen" in arguments):
        tell(tr("This terminal (TERM=dumb) shows no full screen: the questions come line by line."))
    if run is not open_app and not _opens_screen(arguments, desk) and desk.settings_problem is not None:
        tell(*desk.settings_problem.lines(tr), tr("These settings are not used; the file was left as it is."))
    return int(run(arguments, desk))


def _opens_screen(arguments: argparse.Namespace, desk: Desk) -> bool:
    """Whether the command opens the app, which reads the settings once it is there and says there what is wrong."""
    return "on_screen" in arguments and not desk.options.plain and has_screen()


def _speak(desk: Desk) -> None:
    """The language of the settings, even of some that are not used, else of the machine."""
    stated = (os.environ.get(name, "") for name in ("LC_ALL", "LC_MESSAGES", "LANG"))
    use_language(desk.first_look.language or next(filter(None, stated), ""))


def _written_errors() -> tuple[type[Exception], ...]:
    from cornerwalk.textfiles import TextFileError

    return (TextFileError,)


def _refusals() -> tuple[type[Exception], ...]:
    """Errors of the inner rooms that say in words what is wrong; looked up only when something is."""
    from cornerwalk.cli.parsers import CommandError
    from cornerwalk.quantity import QuantityError
    from cornerwalk.session.walk import EntryError
    from cornerwalk.store.errors import StoreError
    from cornerwalk.tables.engines import TablesError

    return (CommandError, StoreError, EntryError, QuantityError, TablesError)


def _of_the_machine(error: OSError) -> str:
    reason = error.strerror or str(error)
    return tr("{path}: {reason}", path=error.filename, reason=reason) if error.filename else reason
