"""Command `manual`: the manual page, made from the parsers, in the form that `man` reads (man(7))."""

from __future__ import annotations

import textwrap
from argparse import Namespace, _SubParsersAction
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cornerwalk import __version__
from cornerwalk.cli.output import deliver
from cornerwalk.cli.parsers import DONE, Parser, add_command, add_out
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.description import Argument, Command, Program
    from cornerwalk.cli.environment import Environment


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "manual",
        tr("print the manual page"),
        more=tr("In the form that man reads; the places it names are those of this machine."),
        example="cornerwalk manual --out ~/.local/share/man/man1/cornerwalk.1",
        run=run,
    )
    add_out(parser)


def run(arguments: Namespace, environment: Environment) -> int:
    """Print it.

    Raises:
        OSError: the answer cannot be written.
    """
    from cornerwalk.cli.description import program_description

    folders = (
        (str(environment.library_folder), tr("the sessions, one file each")),
        (str(environment.settings_path), tr("the settings")),
        (str(environment.presets_folder), tr("presets: job sheets without readings")),
        (str(environment.checklists_folder), tr("the shop's own checklists")),
        (str(environment.rules_folder), tr("the shop's own aim specs and limits")),
    )
    printed_on = f"{environment.clock():%Y-%m-%d}"
    deliver(manual_page(program_description(), folders=folders, printed_on=printed_on), arguments.out)
    return DONE


# ---- the page in roff ----

_WIDTH = 72
"""Width of a line of prose before escapes: checkers want less than 80."""


def manual_page(program: Program, *, folders: Sequence[tuple[str, str]], printed_on: str) -> str:
    """The page; `folders` are the places where the program keeps things, each with what lies there; ISO date."""
    itself = program.itself
    what = tr("what the heights at a vehicle's four corners tell you")
    lines = [
        r".\" -*- coding: utf-8 -*-",
        f'.TH {_text(itself.name.upper())} 1 {printed_on} "{itself.name} {_text(__version__)}"',
        ".na",  # a long folder cannot be spread over a line
        f".SH {_text(tr('NAME'))}",
        rf"{itself.name} \- {_text(what)}",
        f".SH {_text(tr('SYNOPSIS'))}",
        *_synopsis(itself, (_option_text(option) for option in itself.options), tr("COMMAND")),
        f".SH {_text(tr('DESCRIPTION'))}",
        *_prose(itself.description),
        f".SH {_text(tr('OPTIONS'))}",
        *_arguments(itself.options),
        f".SH {_text(tr('COMMANDS'))}",
    ]
    for command in program.commands:
        lines += _command(itself.name, command)
    lines += [f".SH {_text(tr('FILES'))}"]
    for place, what in folders:
        lines += [".TP", rf"\fI{_text(place)}\fR", *_prose(what)]
    lines += [f".SH {_text(tr('EXIT STATUS'))}"]
    for status, what in _statuses():
        lines += [".TP", rf"\fB{status}\fR", *_prose(what)]
    lines += [f".SH {_text(tr('NOTES'))}", _text(tr("The guide says everything at length: cornerwalk guide.")), ""]
    return "\n".join(lines)


def _statuses() -> tuple[tuple[int, str], ...]:
    return (
        (0, tr("done")),
        (1, tr("a check failed")),
        (2, tr("bad input; nothing was made")),
        (130, tr("interrupted; everything shown as saved is saved")),
        (141, tr("nobody read the answer to its end")),
    )


def _command(program: str, command: Command) -> Iterator[str]:
    yield f".SS {_text(command.name)}"
    options = [_option_text(option) for option in command.options]
    yield from _synopsis_of(f"{program} {command.name}", [*options, *(_place_text(place) for place in command.places)])
    yield ".PP"
    yield from _prose(command.description)
    yield from _arguments((*command.places, *command.options))
    if command.example:
        yield ".PP"
        yield _text(tr("Example:"))
        yield ".EX"
        yield _text(command.example)
        yield ".EE"


def _synopsis(command: Command, options: Iterator[str], then: str) -> Iterator[str]:
    return _synopsis_of(command.name, [*options, rf"[\fI{_text(then)}\fR \&...]"])


def _synopsis_of(name: str, parts: Sequence[str]) -> Iterator[str]:
    yield rf"\fB{_text(name)}\fR " + " ".join(parts)


def _option_text(option: Argument) -> str:
    flag = rf"\fB{_text(option.flags[-1])}\fR"
    return f"[{flag}]" if option.takes == "nothing" else rf"[{flag} \fI{_text(option.shown)}\fR]"


def _place_text(place: Argument) -> str:
    text = rf"\fI{_text(place.shown)}\fR" + (r" \&..." if place.repeated else "")
    return text if place.needed else f"[{text}]"


def _arguments(arguments: Sequence[Argument]) -> Iterator[str]:
    for argument in arguments:
        names = ", ".join(rf"\fB{_text(flag)}\fR" for flag in argument.flags)
        value = "" if argument.takes == "nothing" else rf"\fI{_text(argument.shown)}\fR"
        yield ".TP"
        yield " ".join(part for part in (names, value) if part)
        yield from _prose(argument.about)


def _prose(text: str) -> list[str]:
    """A text in short lines; roff fills them again."""
    return [_text(line) for line in textwrap.wrap(text, _WIDTH, break_long_words=False, break_on_hyphens=False)]


def _text(text: str) -> str:
    """A text without any meaning to roff."""
    escaped = text.replace("\\", r"\e").replace("-", r"\-")
    return rf"\&{escaped}" if escaped.startswith((".", "'")) else escaped
