"""Entry point: from the command line to an exit status: 0 done, 1 a check failed, 2 bad input, 130 interrupted."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, cast

from cornerwalk.cli.commands import add_commands
from cornerwalk.cli.commands.app import open_app
from cornerwalk.cli.environment import Environment, Options
from cornerwalk.cli.output import has_screen, paints, ready_streams, shut_pipe, tell
from cornerwalk.cli.parsers import BAD_INPUT, INTERRUPTED, PIPE_SHUT, top_parser
from cornerwalk.words import tr, use_language

if TYPE_CHECKING:
    import argparse

    from cornerwalk.textfiles import Refusal, TextFileError


UMASK = 0o077
"""Files and folders are the user's alone: customers stand in most of them."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status. What goes wrong is told in a line or a few, never as a traceback."""
    os.umask(UMASK)
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
    except _text_file_errors() as error:
        tell(*cast("TextFileError", error).lines(tr))
        return BAD_INPUT
    except _refusals() as error:
        refusal = cast("Refusal", error)
        tell(tr(refusal.template, **refusal.fields))
        return BAD_INPUT
    except OSError as error:
        tell(_os_error_text(error))
        return BAD_INPUT
    return status


def _run(argv: Sequence[str] | None) -> int:
    environment = Environment()
    _set_language(environment)
    parser = top_parser()
    add_commands(parser)
    arguments = parser.parse_args(argv)
    plain = arguments.plain or not paints()
    environment.options = Options(library=arguments.library, units=arguments.units, plain=plain)
    run = getattr(arguments, "run", open_app)
    if plain and not arguments.plain and has_screen() and (run is open_app or "on_screen" in arguments):
        tell(tr("This terminal (TERM=dumb) shows no full screen: the questions come line by line."))
    if run is not open_app and not _opens_screen(arguments, environment) and environment.settings_problem is not None:
        tell(*environment.settings_problem.lines(tr), tr("These settings are not used; the file was left as it is."))
    return int(run(arguments, environment))


def _opens_screen(arguments: argparse.Namespace, environment: Environment) -> bool:
    """Whether the command opens the app, which then reads the settings and shows what is wrong with them."""
    return "on_screen" in arguments and not environment.options.plain and has_screen()


def _set_language(environment: Environment) -> None:
    """Use the language of the settings, even of a file that is refused, else of the machine."""
    stated = (os.environ.get(name, "") for name in ("LC_ALL", "LC_MESSAGES", "LANG"))
    use_language(environment.early_settings.language or next(filter(None, stated), ""))


def _text_file_errors() -> tuple[type[Exception], ...]:
    from cornerwalk.textfiles import TextFileError

    return (TextFileError,)


def _refusals() -> tuple[type[Exception], ...]:
    """Errors with a text for the user; imported only when one is raised."""
    from cornerwalk.quantity import QuantityError
    from cornerwalk.session.walk import EntryError
    from cornerwalk.store.errors import StoreError
    from cornerwalk.words.errors import TemplateError

    return (TemplateError, StoreError, EntryError, QuantityError)


def _os_error_text(error: OSError) -> str:
    reason = error.strerror or str(error)
    return tr("{path}: {reason}", path=error.filename, reason=reason) if error.filename else reason
