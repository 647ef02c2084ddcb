"""The page of the keys is the table of the app."""

from __future__ import annotations

import re

import pytest

from cornerwalk.guide import page
from cornerwalk.tui.keys import as_markdown
from tests.guide.test_pages import PAGES
from tests.support.snapshots import UPDATE

INTRODUCTION = """# Keys

Every command of the app by the page where it holds, with its key and its id. The id goes into the settings, under
`[keys]`, to give a command another key (page [`settings`](#settings)). Ctrl+P finds every command by its name, those
without a key too.

"""


def test_it_shows_every_key_as_the_app_has_it(request: pytest.FixtureRequest) -> None:
    """Keys, what they do and ids; `--update-snapshots` writes the page anew."""
    table = re.sub(r"^\*\*(.+)\*\*$", r"## \1", as_markdown().strip(), flags=re.MULTILINE)
    wanted = f"{INTRODUCTION}{table}\n"
    if request.config.getoption(UPDATE):
        (PAGES / "28-keys.md").write_text(wanted, encoding="utf-8")
        return
    assert page("keys").text == wanted
