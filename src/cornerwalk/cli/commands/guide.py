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
_MOST_FOUND = 12


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "guide",
        tr("read the guide"),
        more=tr(
            "Without a page, the pages are listed; all prints every one. Other words are searched for. As html it can "
            "be printed."
        ),
        example="cornerwalk guide scale tickets",
        run=run,
    )
    parser.add_argument(
        "page", nargs="*", metavar=tr("PAGE"), help=tr("which page, or what to look for; all is every one")
    )
    add_form(parser, FORMS)
    add_out(parser)


def run(arguments: Namespace, _desk: Environment) -> int:
    """Print it.

    Raises:
        UnknownPageError: there is no such page, and nothing is found.
        NothingFoundError: nothing holds all of several words.
        OSError: the answer cannot be written.
    """
    from cornerwalk.guide import NothingFoundError, page, pages

    words = " ".join(arguments.page)
    if not words and arguments.to == "text":
        deliver(_contents(pages()), arguments.out)
        return DONE
    if words in ("", EVERYTHING):
        chosen = pages()
    elif " " not in words and any(each.id == words for each in pages()):
        chosen = (page(words),)
    elif found := _found(words):
        deliver(found, arguments.out)
        return DONE
    elif " " in words:
        raise NothingFoundError("no section of the guide holds all of these words: {words}", words=words)
    else:
        chosen = (page(words),)  # it names the nearest
    deliver(_in_form(arguments, chosen), arguments.out)
    return DONE


def _contents(every: tuple[GuidePage, ...]) -> str:
    return _table([(page.id, page.title) for page in every])


def _found(words: str) -> str:
    """The pages that hold the words, each with the section that holds them best; empty if there are none."""
    from cornerwalk.guide.search import search

    found = search(words)[:_MOST_FOUND]
    rows = [
        (each.page.id, each.page.title if each.heading == each.page.title else f"{each.page.title} > {each.heading}")
        for each in found
    ]
    return _table(rows) if rows else ""


def _table(rows: list[tuple[str, str]]) -> str:
    width = max(len(page_id) for page_id, _ in rows)
    lines = [f"{page_id:<{width}}  {title}" for page_id, title in rows]
    return "\n".join([*lines, tr("`cornerwalk guide PAGE` shows one of them."), ""])


def _in_form(arguments: Namespace, chosen: tuple[GuidePage, ...]) -> str:
    if arguments.to == "markdown":
        return "\n\n".join(page.text.rstrip("\n") for page in chosen) + "\n"
    from cornerwalk.guide.rendering import as_html, as_lines

    if arguments.to == "html":
        return as_html(chosen, language=language())
    return "\n\n\n".join("\n".join(as_lines(page, _width(arguments))) for page in chosen) + "\n"


def _width(arguments: Namespace) -> int:
    import shutil
    import sys

    from cornerwalk.guide.rendering import WIDTH

    on_screen = arguments.out is None and sys.stdout.isatty()
    return min(_WIDEST, shutil.get_terminal_size().columns) if on_screen else WIDTH
