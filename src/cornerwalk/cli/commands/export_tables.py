"""Command `export`: the library as tidy tables."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say, show_progress, tell
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_without_customer
from cornerwalk.words import tr, tr_n

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "export",
        tr("export the library as tables"),
        more=tr(
            "Parquet, JSON Lines and CSV, with a dictionary of every column and a list of what was left out. The "
            "folder must be new, empty or an earlier export."
        ),
        example="cornerwalk export tables --without-customer",
        run=run,
    )
    parser.add_argument("folder", type=Path, metavar=tr("FOLDER"), help=tr("where the tables go"))
    parser.add_argument(
        "--scheduler",
        metavar=tr("ADDRESS"),
        help=tr("a Dask scheduler to share the work, or local for every processor of this machine"),
    )
    add_without_customer(parser)


def run(arguments: Namespace, environment: Environment) -> int:
    """Write them, and say what was written.

    Raises:
        TablesError: an engine is missing, the folder holds something else, or the cluster cannot do it.
        StoreError: the library cannot be read.
        OSError: the disk failed; what was in the folder is as it was.
    """
    from cornerwalk.report.privacy import events_without_customer
    from cornerwalk.tables.export import export

    exported = export(
        environment.library().summaries(),
        arguments.folder,
        standards=environment.standards,
        scheduler=arguments.scheduler,
        event_filter=events_without_customer if arguments.without_customer else tuple,
        progress=show_progress,
    )
    say(tr_n("{count} session in {folder}", "{count} sessions in {folder}", exported.sessions, folder=exported.folder))
    for table, rows in exported.rows.items():
        say(f"  {rows:>8}  {table}")
    if exported.left_out:
        tell(tr("{count} files were left out; left_out.csv says why", count=len(exported.left_out)))
    return DONE
