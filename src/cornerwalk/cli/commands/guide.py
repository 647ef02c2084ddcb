"""`cornerwalk guide [PAGE]`: the guide, read on the spot."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver
from cornerwalk.cli.parsers import DONE, CommandError, Parser, add_command, add_out
from cornerwalk.words import language, tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.guide import Page

FORMS = ("text", "markdown", "html")
EVERYTHING = "all"
_WIDEST = 100


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "guide",
        tr("read the guide"),
        more=tr("Without a page, the pages are listed; all prints every one. As html it can be printed."),
        example="cornerwalk guide corners",
        run=run,
    )
    parser.add_argument("page", nargs="?", metavar=tr("PAGE"), help=tr("which page; all is every one"))
    parser.add_argument("--to", choices=FORMS, default="text", help=tr("the form; text if none is said"))
    add_out(parser)


def run(arguments: Namespace, _desk: Desk) -> int:
    """Print it.

    Raises:
        CommandError: there is no such page.
        OSError: the answer cannot be written.
    """
    from cornerwalk.guide import UnknownPageError, page, pages

    if arguments.page is None and arguments.to == "text":
        deliver(_contents(pages()), arguments.out)
        return DONE
    try:
        shown = pages() if arguments.page in (None, EVERYTHING) else (page(arguments.page),)
    except UnknownPageError as error:
        raise CommandError(error.template, **error.fields) from error
    deliver(_in_form(arguments, shown), arguments.out)
    return DONE


def _contents(every: tuple[Page, ...]) -> str:
    width = max(len(page.id) for page in every)
    lines = [f"{page.id:<{width}}  {page.title}" for page in every]
    if language() != "en":
        lines.append(tr("The guide is in English."))
    return "\n".join([*lines, tr("`cornerwalk guide PAGE` shows one of them."), ""])


def _in_form(arguments: Namespace, shown: tuple[Page, ...]) -> str:
    if arguments.to == "markdown":
        return "\n\n".join(page.text.rstrip("\n") for page in shown) + "\n"
    from cornerwalk.guide.rendering import as_html, as_lines

    if arguments.to == "html":
        return as_html(shown)
    return "\n\n\n".join("\n".join(as_lines(page, _width(arguments))) for page in shown) + "\n"


def _width(arguments: Namespace) -> int:
    import shutil
    import sys

    from cornerwalk.guide.rendering import WIDTH

    on_screen = arguments.out is None and sys.stdout.isatty()
    return min(_WIDEST, shutil.get_terminal_size().columns) if on_screen else WIDTH
