"""Description of the program as plain data, read from its parsers; completions and manual page are made from it."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from cornerwalk.cli.commands import add_commands
from cornerwalk.cli.parsers import Parser, top_parser
from cornerwalk.words import tr

Takes = Literal["nothing", "one of", "file", "folder", "text"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Argument:
    """An option with its names, or an argument that stands by its place (no names)."""

    flags: tuple[str, ...]
    shown: str
    about: str
    takes: Takes
    choices: tuple[str, ...]
    needed: bool
    repeated: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Command:
    """A command, or the program itself before any command."""

    name: str
    about: str
    description: str
    example: str
    options: tuple[Argument, ...]
    places: tuple[Argument, ...]


@dataclass(frozen=True, slots=True)
class Program:
    """The program with its commands in the order of the help."""

    itself: Command
    commands: tuple[Command, ...]


def program_description() -> Program:
    """Describe the program from its own parsers."""
    parser = top_parser()
    add_commands(parser).add_all()
    return Program(_command(parser, parser.prog, ""), tuple(_commands(parser)))


def _commands(parser: argparse.ArgumentParser) -> Iterator[Command]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            about = {choice.dest: choice.help or "" for choice in action._choices_actions}
            for name, command in action.choices.items():
                yield _command(command, name, about.get(name, ""))


def _command(parser: Parser | argparse.ArgumentParser, name: str, about: str) -> Command:
    arguments = [_argument(action) for action in parser._actions if not isinstance(action, argparse._SubParsersAction)]
    return Command(
        name=name,
        about=about,
        description=" ".join((parser.description or "").split()),
        example=(parser.epilog or "").partition(": ")[2] if name != parser.prog else "",
        options=tuple(argument for argument in arguments if argument.flags),
        places=tuple(argument for argument in arguments if not argument.flags),
    )


def _argument(action: argparse.Action) -> Argument:
    metavar = action.metavar if isinstance(action.metavar, str) else ""
    choices = tuple(str(choice) for choice in action.choices or ())
    return Argument(
        flags=tuple(action.option_strings),
        shown=metavar or "|".join(choices) or action.dest.upper(),
        about=(action.help or "").replace("%%", "%"),
        takes=_takes(action, metavar),
        choices=choices,
        needed=action.required,
        repeated=action.nargs == "+",
    )


def _takes(action: argparse.Action, metavar: str) -> Takes:
    if action.nargs == 0:
        return "nothing"
    if action.choices:
        return "one of"
    if action.type is Path:
        return "folder" if metavar == tr("FOLDER") else "file"
    return "text"
