"""The page of the keys is the table of the app, in every language."""

from __future__ import annotations

import re

import pytest

from cornerwalk.guide import page
from cornerwalk.tui.keys import as_markdown
from cornerwalk.words import languages, use_language
from tests.guide.test_pages import PAGES
from tests.support.snapshots import UPDATE

INTRODUCTIONS = {
    "en": """# Keys

Every command of the app by the page where it holds, with its key and its id. The id goes into the settings, under
`[keys]`, to give a command another key (page [`settings`](#settings)). Ctrl+P finds every command by its name, those
without a key too.

""",
    "de": """# Tasten

Jeder Befehl der App nach der Seite, auf der er gilt, mit Taste und Kennung. Die Kennung kommt in die Einstellungen,
unter `[keys]`, um einem Befehl eine andere Taste zu geben (Seite [`settings`](#settings)). Ctrl+P findet jeden Befehl
mit seinem Namen, auch die ohne Taste.

""",
    "es": """# Teclas

Cada orden de la aplicación según la página donde vale, con su tecla y su identificador. El identificador va en los
ajustes, bajo `[keys]`, para darle otra tecla (página [`settings`](#settings)). Ctrl+P encuentra cada orden por su
nombre, también las que no tienen tecla.

""",
}


@pytest.mark.parametrize("code", languages())
def test_it_shows_every_key_as_the_app_has_it(code: str, request: pytest.FixtureRequest) -> None:
    """Keys, what they do and ids; `--update-snapshots` writes the page anew."""
    use_language(code)
    table = re.sub(r"^\*\*(.+)\*\*$", r"## \1", as_markdown().strip(), flags=re.MULTILINE)
    wanted = f"{INTRODUCTIONS[code]}{table}\n"
    if request.config.getoption(UPDATE):
        folder = PAGES if code == "en" else PAGES / code
        (folder / "28-keys.md").write_text(wanted, encoding="utf-8")
        return
    assert page("keys").text == wanted
