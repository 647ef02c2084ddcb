"""`cornerwalk settings`: shown, printed, changed; and where the program looks for what they name."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest

from cornerwalk.settings import Settings, load_settings, read_settings
from tests.cli.calling import Said, run
from tests.support.terminal import Terminal


def test_printed_where_there_is_no_screen(settings_file: Path, capsys: Said) -> None:
    """What is printed is a settings file itself; where the real one lies is told beside it."""
    settings_file.write_text('theme = "night"\n', "utf-8")
    assert run("settings") == 0
    said = capsys.readouterr()
    assert read_settings(said.out, name="printed") == Settings(theme="night")
    assert str(settings_file) in said.err


def test_where_the_file_lies(settings_file: Path, capsys: Said) -> None:
    """One line, for a script."""
    assert run("settings", "--file") == 0
    assert capsys.readouterr().out == f"{settings_file}\n"


def test_one_is_printed_and_changed(settings_file: Path, capsys: Said) -> None:
    """A name prints, a name and a value write, an empty value takes the default again."""
    assert run("settings", "side_to_side") == 0
    assert capsys.readouterr().out == "12 mm\n"
    assert run("settings", "side_to_side", "14 mm") == 0
    assert "next new job" in capsys.readouterr().err
    assert load_settings(settings_file).side_to_side == "14 mm"
    assert run("settings", "side_to_side") == 0
    assert capsys.readouterr().out == "14 mm\n"
    assert run("settings", "side_to_side", "") == 0
    assert load_settings(settings_file) == Settings()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("theem", "day"), "there is no setting theem; did you mean theme?"),
        (("theme", "dusk"), '"dusk" is not one of: day, shop, night'),
        (("side_to_side", "14 kg"), "the unit kg does not fit here"),
        (("keys.job.undo", "f7"), "F7 is taken already"),
        (("keys.job.undu", "f7"), "there is no action job.undu; did you mean job.undo?"),
    ],
)
def test_what_is_refused(settings_file: Path, capsys: Said, arguments: tuple[str, str], told: str) -> None:
    """Status 2, a sentence, and no file."""
    assert run("settings", *arguments) == 2
    assert told in capsys.readouterr().err
    assert not settings_file.exists()


def test_a_file_with_a_mistake_is_left(settings_file: Path, capsys: Said) -> None:
    """The line is told, also of a key that cannot work, and the file stays as it is."""
    text = '[keys]\n"job.undo" = "f7"\n'
    settings_file.write_text(text, "utf-8")
    assert run("settings", "theme", "night") == 2
    assert "line 2: job.undo: F7 is taken already" in capsys.readouterr().err
    assert run("settings") == 2
    assert settings_file.read_text("utf-8") == text


def test_units_of_one_command_are_not_kept(settings_file: Path) -> None:
    """`--units` before a command that writes the settings stays out of them."""
    assert run("--units", "metric", "settings", "bell", "no") == 0
    assert tomllib.loads(settings_file.read_text("utf-8"))["units"] == "as read"


def test_the_folder_of_the_jobs(settings_file: Path, tmp_path: Path, sample_library: Path, capsys: Said) -> None:
    """The list looks there, even where another line of the settings is wrong; `--library` goes before it."""
    settings_file.write_text(f"theme = 'dusk'\nlibrary_folder = '{sample_library}'\n", "utf-8")
    assert run("list") == 0
    assert "amper" in capsys.readouterr().out
    assert run("--library", tmp_path / "none", "list") == 0
    assert "amper" not in capsys.readouterr().out


def test_on_a_screen(settings_file: Path, open_terminal: Callable[..., Terminal]) -> None:
    """The page opens, a choice is in the file, and Esc twice leaves."""
    terminal = open_terminal("settings")
    terminal.wait_until("Units shown")
    terminal.key_in("3")
    terminal.wait_until("Saved: units shown, metric")
    assert load_settings(settings_file).units == "metric"
    terminal.press("Escape")
    terminal.wait_until("New job")
    terminal.press("Escape")
    assert terminal.wait_end() == 0


@pytest.mark.parametrize("arguments", [(), ("demo",)])
def test_a_terminal_that_cannot_paint(
    monkeypatch: pytest.MonkeyPatch, open_terminal: Callable[..., Terminal], arguments: tuple[str, ...]
) -> None:
    """TERM=dumb, as in an editor's shell: it says so and asks line by line, without a control sequence."""
    monkeypatch.setenv("TERM", "dumb")
    terminal = open_terminal(*arguments)
    terminal.wait_until("the questions come line by line")
    terminal.wait_until(":")
    terminal.key_in("quit\r")
    assert terminal.wait_end() == 0
