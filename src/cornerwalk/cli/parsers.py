"""Argument parser: every command with its help and an example, in the user's language."""

from __future__ import annotations

import argparse
import re
import sys
from argparse import _SubParsersAction
from collections.abc import Callable, Iterable
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Literal, NoReturn

from cornerwalk import __version__
from cornerwalk.words import capital, tr
from cornerwalk.words.errors import TemplateError

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment

Run = Callable[[argparse.Namespace, "Environment"], int]
"""A command: does its work and returns its exit status."""

DONE = 0
FAILED = 1
BAD_INPUT = 2
INTERRUPTED = 130
PIPE_SHUT = 141
"""As a shell tells the end by SIGPIPE."""

_WIDTH = 78


class Parser(argparse.ArgumentParser):
    """A parser in the user's language, without abbreviated options."""

    def __init__(self, **given: object) -> None:
        given.setdefault("formatter_class", HelpFormat)
        given.setdefault("allow_abbrev", False)
        super().__init__(add_help=False, **given)  # type: ignore[arg-type]  # argparse's own arguments, passed through
        self.color = False  # Python 3.14 would color one stream depending on whether the other is a terminal
        self._positionals.title, self._optionals.title = tr("arguments"), tr("options")
        self.add_argument("-h", "--help", action="help", help=tr("show this help and exit"))

    def error(self, message: str) -> NoReturn:
        """Print the usage and what is wrong with the command line, and exit."""
        self.print_usage(sys.stderr)
        self.exit(BAD_INPUT, f"{self.prog}: {complaint(message)}\n")


def top_parser() -> Parser:
    """The parser of everything that stands before the command."""
    parser = Parser(
        prog="cornerwalk",
        description=tr(
            "Walk around a vehicle, read the height at each corner, and know at once what the readings mean\nfor "
            "springs, load and headlights. Without a command the app opens."
        ),
        epilog=tr(
            "`cornerwalk COMMAND --help` explains a command. Exit status: 0 done, 1 a check failed, 2 bad input."
        ),
    )
    parser.add_argument(
        "--version", action="version", version=f"cornerwalk {__version__}", help=tr("show version and exit")
    )
    parser.add_argument(
        "--library", type=Path, metavar=tr("FOLDER"), help=tr("use this folder of sessions instead of yours")
    )
    parser.add_argument(
        "--units", choices=("inch", "metric", "both"), help=tr("units shown, in place of those of the settings")
    )
    parser.add_argument("--plain", action="store_true", help=_about_plain())
    return parser


def _about_plain() -> str:
    return tr("line by line instead of full screen: for a screen reader, serial console or old terminal")


def add_plain(parser: Parser) -> None:
    """`--plain` after a command that opens the app, as well as before it."""
    parser.add_argument("--plain", action="store_true", default=argparse.SUPPRESS, help=_about_plain())


def add_command(
    commands: _SubParsersAction[Parser], name: str, about: str, *, example: str, run: Run, more: str = ""
) -> Parser:
    """Add a command: `about` is its line in the list, `more` what its own help adds, `example` a whole line."""
    program_description = f"{capital(about)}. {more}".rstrip()
    epilog = tr("example: {command}", command=example)
    parser = commands.add_parser(name, help=about, description=fill(program_description, _WIDTH), epilog=epilog)
    parser.set_defaults(run=run)
    return parser


def add_session_file(parser: Parser, *, nargs: Literal["?"] | None = None) -> None:
    """The argument that most commands take: one session; with "?" it may be left out."""
    parser.add_argument(
        "file", nargs=nargs, type=Path, metavar=tr("FILE"), help=tr("a session file, or its name within the library")
    )


def add_form(parser: Parser, forms: tuple[str, ...]) -> None:
    """The form of the answer; the first is the usual one."""
    parser.add_argument("--to", choices=forms, default=forms[0], help=tr("format; default text"))


def add_without_customer(parser: Parser) -> None:
    """Leave out what is the customer's own."""
    parser.add_argument(
        "--without-customer",
        action="store_true",
        help=tr("leave out title, customer, license plate, site, complaint, notes and who picked the vehicle up"),
    )


def add_out(parser: Parser) -> None:
    """Where the answer goes."""
    parser.add_argument("--out", type=Path, metavar=tr("FILE"), help=tr("write to this file; - is the standard output"))


# ---- the parser's own texts ----
#
# argparse words its complaints in English and hands over only the sentence. The common ones are taken apart here and
# worded again, with the nearest choice; others stay as they are.


class HelpFormat(argparse.RawDescriptionHelpFormatter):
    """Keeps line ends, and translates the heading of the usage."""

    def add_usage(
        self,
        usage: str | None,
        actions: Iterable[argparse.Action],
        groups: Iterable[argparse._MutuallyExclusiveGroup],
        prefix: str | None = None,
    ) -> None:
        """As argparse does, with the heading translated."""
        super().add_usage(usage, actions, groups, f"{tr('usage')}: " if prefix is None else prefix)


def complaint(message: str) -> str:
    """What is wrong with a command line, from argparse's own sentence.

    >>> complaint("the following arguments are required: SHEET")
    'still missing: SHEET'
    """
    for pattern, reword in _COMPLAINTS:
        match = pattern.fullmatch(message)
        if match is not None:
            return reword(**match.groupdict())
    return message


def _not_a_choice(argument: str, text: str, choices: str) -> str:
    import difflib

    known = [choice.strip().strip("'") for choice in choices.split(",")]
    nearest = difflib.get_close_matches(text, known, n=1)
    if nearest:
        problem = tr('"{text}" is not one of them; did you mean {nearest}?', text=text, nearest=nearest[0])
    else:
        problem = tr('"{text}" is not one of: {choices}', text=text, choices=", ".join(known))
    return tr("{name}: {said}", name=argument, said=problem)


def _no_value(argument: str) -> str:
    return tr("{name}: {said}", name=argument, said=tr("a value has to follow"))


_COMPLAINTS: tuple[tuple[re.Pattern[str], Callable[..., str]], ...] = (
    (
        re.compile(r"argument (?P<argument>.+?): invalid choice: '(?P<text>.*)' \(choose from (?P<choices>.*)\)"),
        _not_a_choice,
    ),
    (re.compile(r"argument (?P<argument>.+?): expected (?:one|at least one) argument"), _no_value),
    (
        re.compile(r"the following arguments are required: (?P<names>.+)"),
        lambda names: tr("still missing: {names}", names=names),
    ),
    (
        re.compile(r"unrecognized arguments: (?P<names>.+)"),
        lambda names: tr("not known here: {names}", names=names),
    ),
)


class CommandError(TemplateError):
    """Bad input that no inner room sees."""
