"""Command `guide`: the guide, read on the spot."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.output import deliver
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_form, add_out
from cornerwalk.words import language, tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.guide import GuidePage

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
    add_form(parser, FORMS)
    add_out(parser)


def run(arguments: Namespace, _desk: Environment) -> int:
    """Print it.

    Raises:
        UnknownPageError: there is no such page.
        OSError: the answer cannot be written.
    """
    from cornerwalk.guide import page, pages

    if arguments.page is None and arguments.to == "text":
        deliver(_contents(pages()), arguments.out)
        return DONE
    chosen = pages() if arguments.page in (None, EVERYTHING) else (page(arguments.page),)
    deliver(_in_form(arguments, chosen), arguments.out)
    return DONE


def _contents(every: tuple[GuidePage, ...]) -> str:
    width = max(len(page.id) for page in every)
    lines = [f"{page.id:<{width}}  {page.title}" for page in every]
    if language() != "en":
        lines.append(tr("The guide is in English."))
    return "\n".join([*lines, tr("`cornerwalk guide PAGE` shows one of them."), ""])


def _in_form(arguments: Namespace, chosen: tuple[GuidePage, ...]) -> str:
    if arguments.to == "markdown":
        return "\n\n".join(page.text.rstrip("\n") for page in chosen) + "\n"
    from cornerwalk.guide.rendering import as_html, as_lines

    if arguments.to == "html":
        return as_html(chosen)
    return "\n\n\n".join("\n".join(as_lines(page, _width(arguments))) for page in chosen) + "\n"


def _width(arguments: Namespace) -> int:
    import shutil
    import sys

    from cornerwalk.guide.rendering import WIDTH

    on_screen = arguments.out is None and sys.stdout.isatty()
    return min(_WIDEST, shutil.get_terminal_size().columns) if on_screen else WIDTH
