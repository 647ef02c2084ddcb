"""Command `completions`: completions for bash, zsh and fish, made from the parsers; nothing is written by hand."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

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
        "completions",
        tr("print completions for a shell"),
        more=tr("The first line of what is printed says where it goes."),
        example="cornerwalk completions bash --out ~/.local/share/bash-completion/completions/cornerwalk",
        run=run,
    )
    parser.add_argument("shell", choices=tuple(SHELLS), help=tr("which shell"))
    add_out(parser)


def run(arguments: Namespace, _desk: Environment) -> int:
    """Print them.

    Raises:
        OSError: the answer cannot be written.
    """
    from cornerwalk.cli.description import program_description

    deliver(SHELLS[arguments.shell](program_description()), arguments.out)
    return DONE


def bash(program: Program) -> str:
    """For bash 3.2 and later; needs no other completion package."""
    itself = program.itself
    names = [command.name for command in program.commands]
    lines = [
        f"# bash completion for {itself.name}: put it into ~/.local/share/bash-completion/completions/{itself.name}",
        f'_{itself.name}_words() {{ COMPREPLY+=($(compgen -W "$1" -- "$word")); }}',
        f"_{itself.name}_files() {{ local IFS=$'\\n'; COMPREPLY+=($(compgen -f -- \"$word\")); }}",
        f"_{itself.name}_folders() {{ local IFS=$'\\n'; COMPREPLY+=($(compgen -d -- \"$word\")); }}",
        f"_{itself.name}() {{",
        '    local word="${COMP_WORDS[COMP_CWORD]}" before="${COMP_WORDS[COMP_CWORD-1]}" command="" place=1 skip=""',
        "    COMPREPLY=()",
        "    # The command is the first word that is neither an option nor an option's value.",
        "    while [ $place -lt $COMP_CWORD ]; do",
        '        case "$skip${COMP_WORDS[place]}" in',
        *(f'            {"|".join(option.flags)}) skip="value of " ;;' for option in _valued(itself)),
        '            "value of "*) skip="" ;;',
        "            -*) ;;",
        '            *) command="${COMP_WORDS[place]}"; break ;;',
        "        esac",
        "        place=$((place + 1))",
        "    done",
        '    case "$command $before" in',
    ]
    for command in (itself, *program.commands):
        name = "" if command is itself else command.name
        for option in _valued(command):
            pattern = "|".join(f'"{name} {flag}"' for flag in option.flags)
            lines.append(f"        {pattern}) {_bash_values(itself.name, option)}; return ;;")
    lines += ["    esac", '    case "$command:$word" in']
    for command in (itself, *program.commands):
        name = "" if command is itself else command.name
        flags = " ".join(flag for option in command.options for flag in option.flags)
        lines.append(f'        "{name}:-"*) _{itself.name}_words "{flags}" ;;')
        lines.append(f'        "{name}:"*) {_bash_places(itself.name, command, names if command is itself else [])} ;;')
    lines += ["    esac", "}", f"complete -o filenames -F _{itself.name} {itself.name}", ""]
    return "\n".join(lines)


def _valued(command: Command) -> Iterator[Argument]:
    return (option for option in command.options if option.takes != "nothing")


def _bash_values(program: str, argument: Argument) -> str:
    match argument.takes:
        case "one of":
            return f'_{program}_words "{" ".join(argument.choices)}"'
        case "folder":
            return f"_{program}_folders"
        case "file":
            return f"_{program}_files"
        case _:
            return ":"


def _bash_places(program: str, command: Command, names: list[str]) -> str:
    """What may stand where no option does: names, choices, files."""
    words = [*names, *(choice for place in command.places for choice in place.choices)]
    calls = [f'_{program}_words "{" ".join(words)}"'] if words else []
    if any(place.takes == "file" for place in command.places):
        calls.append(f"_{program}_files")
    elif any(place.takes == "folder" for place in command.places):
        calls.append(f"_{program}_folders")
    return "; ".join(calls) or ":"


def zsh(program: Program) -> str:
    """For zsh, with what each command and option does."""
    itself = program.itself
    lines = [
        f"#compdef {itself.name}",
        f"# zsh completion for {itself.name}: put it into a folder of $fpath as _{itself.name}",
    ]
    for command in program.commands:
        lines += ["", f"_{itself.name}_{command.name}() {{", "    _arguments -s \\"]
        lines += [f"        {spec} \\" for spec in _zsh_specs(command)]
        lines += ["        && return 0", "}"]
    lines += [
        "",
        f"_{itself.name}() {{",
        "    local context state state_descr line",
        "    typeset -A opt_args",
        "    local -a commands",
    ]
    lines.append("    commands=(")
    lines += [f"        {_zsh_quoted(f'{command.name}:{_zsh_colons(command.about)}')}" for command in program.commands]
    lines += ["    )", "    _arguments -C -s \\"]
    lines += [f"        {spec} \\" for spec in _zsh_specs(itself)]
    lines += ["        '1: :->command' '*:: :->rest' && return 0", "    case $state in"]
    lines += [f"        command) _describe -t commands {_zsh_quoted('command')} commands ;;", "        rest)"]
    lines += ["            case $words[1] in"]
    lines += [f"                {command.name}) _{itself.name}_{command.name} ;;" for command in program.commands]
    lines += ["            esac ;;", "    esac", "}", "", f'_{itself.name} "$@"', ""]
    return "\n".join(lines)


def _zsh_specs(command: Command) -> Iterator[str]:
    for option in command.options:
        about = _zsh_about(option.about)
        for flag in option.flags:
            yield _zsh_quoted(f"{flag}[{about}]{_zsh_action(option)}")
    for number, place in enumerate(command.places, start=1):
        where = "*" if place.repeated else f"{number}"
        optional = "" if place.needed else ":"
        yield _zsh_quoted(f"{where}:{optional}{_zsh_colons(place.about)}:{_zsh_values(place)}")


def _zsh_action(option: Argument) -> str:
    return "" if option.takes == "nothing" else f":{_zsh_colons(option.shown)}:{_zsh_values(option)}"


def _zsh_values(argument: Argument) -> str:
    match argument.takes:
        case "one of":
            return f"({' '.join(argument.choices)})"
        case "folder":
            return "_files -/"
        case "file":
            return "_files"
        case _:
            return ""


def _zsh_about(text: str) -> str:
    return text.replace("\\", "\\\\").replace("[", "\\[").replace("]", "\\]")


def _zsh_colons(text: str) -> str:
    return text.replace("\\", "\\\\").replace(":", "\\:")


def _zsh_quoted(text: str) -> str:
    return "'" + text.replace("'", "'\\''") + "'"


def fish(program: Program) -> str:
    """For fish, with what each command and option does."""
    itself = program.itself
    lines = [f"# fish completion for {itself.name}: put it into ~/.config/fish/completions/{itself.name}.fish"]
    lines.append(f"complete -c {itself.name} -f")
    lines += [_fish_option(itself.name, "__fish_use_subcommand", option) for option in itself.options]
    for command in program.commands:
        about = _fish_quoted(command.about)
        lines.append(f"complete -c {itself.name} -n __fish_use_subcommand -a {command.name} -d {about}")
        seen = _fish_quoted(f"__fish_seen_subcommand_from {command.name}")
        lines += [_fish_option(itself.name, seen, option) for option in command.options]
        for place in command.places:
            if place.choices:
                lines.append(f"complete -c {itself.name} -n {seen} -a {_fish_quoted(' '.join(place.choices))}")
            elif place.takes == "file":
                lines.append(f"complete -c {itself.name} -n {seen} -F")
            elif place.takes == "folder":
                lines.append(f"complete -c {itself.name} -n {seen} -a '(__fish_complete_directories)'")
    return "\n".join([*dict.fromkeys(lines), ""])


def _fish_option(name: str, when: str, option: Argument) -> str:
    flags = " ".join(f"-l {flag[2:]}" if flag.startswith("--") else f"-s {flag[1:]}" for flag in option.flags)
    values = {
        "nothing": "",
        "one of": f" -x -a {_fish_quoted(' '.join(option.choices))}",
        "file": " -r -F",
        "folder": " -x -a '(__fish_complete_directories)'",
        "text": " -x",
    }[option.takes]
    return f"complete -c {name} -n {when} {flags}{values} -d {_fish_quoted(option.about)}"


def _fish_quoted(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


SHELLS: dict[str, Callable[[Program], str]] = {"bash": bash, "zsh": zsh, "fish": fish}
"""Every shell that completions are made for."""
