"""Completions and the manual page: nothing the parsers know is missing, and the shells and man take them."""

from __future__ import annotations

import argparse
import re
import shlex
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from cornerwalk.cli.commands import add_commands
from cornerwalk.cli.commands.completions import SHELLS
from cornerwalk.cli.commands.manual import manual_page
from cornerwalk.cli.description import program_description
from cornerwalk.cli.parsers import top_parser
from tests.cli.calling import Said, run


def every_command() -> dict[str, argparse.ArgumentParser]:
    """The commands as argparse itself has them."""
    parser = top_parser()
    add_commands(parser).add_all()
    (found,) = (action for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    return dict(found.choices)


def every_flag() -> Iterator[tuple[str, str]]:
    """Every command, "" for none, with every option it has."""
    for name, parser in {"": top_parser(), **every_command()}.items():
        for action in parser._actions:
            for flag in action.option_strings:
                yield name, flag


def printed(capsys: Said, *arguments: str) -> str:
    assert run(*arguments) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("shell", SHELLS)
def test_every_command_option_and_choice_is_completed(shell: str, capsys: Said) -> None:
    """Nothing that argparse knows is missing from the completions of a shell."""
    text = printed(capsys, "completions", shell)
    for name in every_command():
        assert re.search(rf"\b{name}\b", text), name
    for name, flag in every_flag():
        shown = flag if shell != "fish" else (f"-l {flag[2:]}" if flag.startswith("--") else f"-s {flag[1:]}")
        lines = [line for line in text.splitlines() if not name or name in line or shell == "zsh"]
        assert any(shown in line for line in lines), (name, flag)
    for parser in every_command().values():
        for action in parser._actions:
            for choice in action.choices or ():
                assert re.search(rf"\b{choice}\b", text), choice


def test_every_command_and_option_is_in_the_manual() -> None:
    """Each has its heading or its tag, with what it does."""
    page = manual_page(program_description(), folders=(("/somewhere", "the sessions"),), printed_on="2026-05-04")
    for name, parser in every_command().items():
        chapter = page.partition(f".SS {name}\n")[2].partition("\n.SS ")[0].replace("\n", " ")
        assert chapter, name
        for action in parser._actions:
            for flag in action.option_strings:
                assert flag.replace("-", r"\-") in chapter, (name, flag)
            assert (action.help or "").replace("-", r"\-") in chapter
    for _, flag in every_flag():
        assert flag.replace("-", r"\-") in page
    assert "/somewhere" in page


def test_a_command_that_is_added_is_completed_without_more_work() -> None:
    """What the descriptions hold is what the parsers hold, in the order of the help."""
    program = program_description()
    assert [command.name for command in program.commands] == list(every_command())
    assert all(command.about and command.description and command.example for command in program.commands)


@pytest.mark.parametrize(("shell", "check"), [("bash", "-n"), ("zsh", "-n"), ("fish", "--no-execute")])
def test_the_shell_can_read_it(shell: str, check: str, tmp_path: Path, capsys: Said) -> None:
    """The shell itself finds no fault in its grammar."""
    program = shutil.which(shell)
    if program is None:
        pytest.skip(f"no {shell} here")
    script = tmp_path / "completions"
    script.write_text(printed(capsys, "completions", shell), encoding="utf-8")
    done = subprocess.run([program, check, script], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash here")
@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("cornerwalk re", {"results", "report", "replay"}),
        ("cornerwalk --un", {"--units"}),
        ("cornerwalk --units m", {"metric"}),
        ("cornerwalk --units metric re", {"results", "report", "replay"}),
        ("cornerwalk --plain wa", {"walk"}),
        ("cornerwalk report --to p", {"pdf"}),
        ("cornerwalk report van", {"van one.json", "van.json", "vans"}),
        ("cornerwalk --library va", {"vans"}),
        ("cornerwalk --library vans report --for c", {"customer"}),
        ("cornerwalk schema s", {"session", "sheet"}),
        ("cornerwalk export v", {"vans"}),
        ("cornerwalk list --find re", set()),
    ],
)
def test_bash_offers_what_fits(typed: str, offered: set[str], tmp_path: Path, capsys: Said) -> None:
    """Asked as bash asks at the Tab key, in a folder with files that have blanks in their names."""
    (tmp_path / "van one.json").touch()
    (tmp_path / "van.json").touch()
    (tmp_path / "vans").mkdir()
    script = tmp_path / ".completions"
    script.write_text(printed(capsys, "completions", "bash"), encoding="utf-8")
    asking = (
        f". {script}; COMP_WORDS=({typed}); COMP_CWORD=$((${{#COMP_WORDS[@]}} - 1)); _cornerwalk; "
        r'for each in "${COMPREPLY[@]}"; do printf "%s\n" "$each"; done'
    )
    done = subprocess.run(["bash", "-c", asking], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert set(done.stdout.splitlines()) == offered


@pytest.mark.skipif(shutil.which("fish") is None, reason="no fish here")
@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("cornerwalk re", {"results", "report", "replay"}),
        ("cornerwalk --units m", {"metric"}),
        ("cornerwalk report --to p", {"pdf"}),
        ("cornerwalk schema s", {"session", "sheet"}),
        ("cornerwalk report va", {"van.json", "vans/"}),
    ],
)
def test_fish_offers_what_fits(typed: str, offered: set[str], tmp_path: Path, capsys: Said) -> None:
    """Asked as fish asks itself at the Tab key."""
    (tmp_path / "van.json").touch()
    (tmp_path / "vans").mkdir()
    script = tmp_path / "completions.fish"
    script.write_text(printed(capsys, "completions", "fish"), encoding="utf-8")
    asking = f"source {script}; complete -C {shlex.quote(typed)}"
    done = subprocess.run(["fish", "-N", "-c", asking], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert {line.partition("\t")[0] for line in done.stdout.splitlines()} == offered


@pytest.mark.skipif(shutil.which("zsh") is None, reason="no zsh here")
@pytest.mark.parametrize(
    ("typed", "completed"),
    [
        ("cornerwalk sch", "cornerwalk schema "),
        ("cornerwalk --uni", "cornerwalk --units "),
        ("cornerwalk --units me", "cornerwalk --units metric "),
        ("cornerwalk report --to pd", "cornerwalk report --to pdf "),
        ("cornerwalk report va", "cornerwalk report van.json "),
    ],
)
def test_zsh_completes_what_fits(typed: str, completed: str, tmp_path: Path, capsys: Said) -> None:
    """Typed into a real zsh, with its Tab key; what then stands on the line is told back instead of run."""
    from tests.support.terminal import Terminal

    (tmp_path / "van.json").touch()
    (tmp_path / "_cornerwalk").write_text(printed(capsys, "completions", "zsh"), encoding="utf-8")
    (tmp_path / ".zshrc").write_text(
        f"cd {tmp_path}; PS1='ready> '; fpath=({tmp_path} $fpath); autoload -U compinit; compinit -u -D\n"
        "tell() { print -r -- \"[$BUFFER]\"; BUFFER=''; zle accept-line }; zle -N tell; bindkey '^X' tell\n",
        encoding="utf-8",
    )
    with Terminal(["env", f"ZDOTDIR={tmp_path}", "zsh", "-i"], columns=120) as shell:
        shell.wait_until("ready>")
        shell.key_in(typed)
        shell.press("Tab")
        shell.wait_still()
        shell.press("Ctrl+X")
        shell.wait_until(f"[{completed}]")


@pytest.mark.skipif(shutil.which("mandoc") is None, reason="no mandoc here")
def test_a_checker_of_manual_pages_finds_nothing(tmp_path: Path, capsys: Said) -> None:
    """Neither a fault nor a matter of style; only a folder may be longer than a line."""
    page = tmp_path / "cornerwalk.1"
    page.write_text(printed(capsys, "manual"), encoding="utf-8")
    done = subprocess.run(["mandoc", "-Tlint", page], capture_output=True, text=True, check=False)
    a_folder = "longer than 80 bytes: \\fI"
    assert [line for line in done.stdout.splitlines() if a_folder not in line] == []


@pytest.mark.skipif(shutil.which("groff") is None, reason="no groff here")
def test_the_manual_is_set_without_a_warning(tmp_path: Path, capsys: Said) -> None:
    """The program behind man finds nothing to complain of, and every command stands in what it sets."""
    page = tmp_path / "cornerwalk.1"
    page.write_text(printed(capsys, "manual"), encoding="utf-8")
    done = subprocess.run(
        ["groff", "-k", "-man", "-Tutf8", "-ww", "-P-cbou", page], capture_output=True, text=True, check=True
    )
    assert done.stderr == ""
    for name in every_command():
        assert name in done.stdout
    assert "cornerwalk guide" in done.stdout


def test_text_that_is_roff_stands_as_text() -> None:
    """A folder named like a request, or with a backslash, is shown and does nothing."""
    page = manual_page(program_description(), folders=((".SH \\fBbold", "'quoted"),), printed_on="2026-05-04")
    assert "\\fI\\&.SH \\efBbold\\fR" in page
    assert "\\&'quoted" in page
