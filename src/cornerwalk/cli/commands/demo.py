"""Command `demo`: an invented job to try; nothing of it is kept."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver, has_screen, tell
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_plain
from cornerwalk.words import tr

if TYPE_CHECKING:
    from contextlib import ExitStack

    from cornerwalk.cli.environment import Environment
    from cornerwalk.context import Context, InitialView


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "demo",
        tr("try a made-up, half-finished job"),
        more=tr("Nothing of it is saved. Without a terminal, the report of a finished one is printed."),
        example="cornerwalk demo",
        run=run,
    )
    add_plain(parser)
    parser.set_defaults(on_screen=True)


def run(_arguments: Namespace, environment: Environment) -> int:
    """Open a copy of the sample, or print a report."""
    if not environment.options.plain and not has_screen():
        tell(tr("An invented job; `cornerwalk demo` in a terminal lets you walk one."))
        return _print_report(environment)
    from contextlib import ExitStack

    from cornerwalk.cli.commands.app import show

    with ExitStack() as until_left:
        return show(environment, partial(_sample, until_left, environment), title=tr("An invented job"))


def _sample(until_left: ExitStack, environment: Environment) -> tuple[Context, InitialView]:
    import shutil
    from tempfile import TemporaryDirectory

    from cornerwalk.context import DemoView
    from cornerwalk.samples import WALK_SAMPLE, sample_folder

    folder = Path(until_left.enter_context(TemporaryDirectory(prefix="cornerwalk-demo-", ignore_cleanup_errors=True)))
    session = Path(shutil.copy(sample_folder() / WALK_SAMPLE, folder))
    return environment.context(environment.library(folder)), DemoView(session)


def _print_report(environment: Environment) -> int:
    from cornerwalk.assess import assess
    from cornerwalk.cli.commands.report import document
    from cornerwalk.report.text import as_text
    from cornerwalk.samples import REPORT_SAMPLE, sample_folder

    stored = environment.library().read(sample_folder() / REPORT_SAMPLE)
    assessment = assess(stored.session, environment.standards)
    deliver(as_text(document(environment, stored.events, stored.session, assessment, "file")), None)
    return DONE
