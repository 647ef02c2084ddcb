"""The settings wanted before all of them are read: found in any file that the strict reader takes, and in more."""

from __future__ import annotations

from pathlib import Path

import pytest

from cornerwalk.cli.environment import LARGEST_BYTES, EarlySettings, read_early_settings
from cornerwalk.settings import change_settings, load_settings

TEXT = 'theme = "night"\r\nlanguage = "de"\r\nlibrary_folder = "~/jobs"\r\nbell = false  # quiet\r\n'
SEEN = EarlySettings(theme="night", language="de", library_folder="~/jobs")


@pytest.mark.parametrize("begins", [b"", b"\xef\xbb\xbf"], ids=["plain", "with a byte order mark"])
def test_as_editors_save_it(tmp_path: Path, begins: bytes) -> None:
    """Lines that end as on Windows, and the mark that some editors put first: seen here, read there, changed there."""
    path = tmp_path / "settings.toml"
    path.write_bytes(begins + TEXT.encode())
    assert read_early_settings(path) == SEEN
    assert load_settings(path).library_folder == "~/jobs"
    changed = change_settings(path, {"bell": True, "side_to_side": "14 mm"})
    assert changed == load_settings(path)
    assert b"bell = true  # quiet\r\n" in path.read_bytes()
    assert read_early_settings(path) == SEEN


@pytest.mark.parametrize(
    ("content", "seen"),
    [
        (b"", EarlySettings()),
        (b'theme = "dusk"\nlibrary_folder = "/jobs"\n', EarlySettings(theme="dusk", library_folder="/jobs")),
        (b'theme = 3\nlanguage = "es"\n', EarlySettings(language="es")),
        (b"theme = \n", EarlySettings()),
        (b"\xff\xfe\x00", EarlySettings()),
        (b"x = " + b"[" * 2_000, EarlySettings()),
        (b"#" * (LARGEST_BYTES + 1), EarlySettings()),
    ],
)
def test_nothing_is_raised(tmp_path: Path, content: bytes, seen: EarlySettings) -> None:
    """Of a file with mistakes what can be seen, of one that is no TOML nothing; the strict reader tells about it."""
    path = tmp_path / "settings.toml"
    path.write_bytes(content)
    assert read_early_settings(path) == seen


def test_no_file_and_a_folder(tmp_path: Path) -> None:
    """As before the first setting, and as after a slip."""
    assert read_early_settings(tmp_path / "none.toml") == EarlySettings()
    assert read_early_settings(tmp_path) == EarlySettings()
