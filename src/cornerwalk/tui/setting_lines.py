"""Lines of the settings page: those of the settings, then one for every key that can be another."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cornerwalk.context import Context
from cornerwalk.job.setting_lines import SettingLine, changes, setting_lines
from cornerwalk.settings import KEY_PREFIX, SettingValueError, effect_text
from cornerwalk.tui.keys import PLACES, TABLE, Key, all_shown, shown
from cornerwalk.tui.own_keys import mistakes, names_of
from cornerwalk.words import capital, tr


def page_lines(context: Context) -> tuple[SettingLine, ...]:
    """Every setting as it is kept, then every key that can be another."""
    return (
        *setting_lines(context),
        *(_key_line(key, context.active_settings.saved.keys) for key in TABLE if not key.id.endswith(".enter")),
    )


def _key_line(key: Key, own: Mapping[str, str]) -> SettingLine:
    return SettingLine(
        name=f"{KEY_PREFIX}{key.id}",
        label=tr(key.what),
        group=tr("Keys: {place}", place=tr(PLACES[key.place])),
        stands=", ".join(shown(name) for name in names_of(key)) or tr("no key"),
        own=key.id in own,
        about=tr("{what}. Type the name of a key, or several with a comma between.", what=capital(tr(key.what))),
        default=all_shown(key) or tr("no key"),
        holds=effect_text("at once"),
        example="F8, Ctrl+O",
    )


def page_changes(context: Context, line: SettingLine, text: str) -> Mapping[str, Any]:
    """What a text typed into a line would change; an empty one takes the default.

    Raises:
        SettingValueError, QuantityError: the line does not take it.
    """
    found = changes(context, line, text)
    if line.name.startswith(KEY_PREFIX):
        wrong = next(mistakes(found["keys"]), None)
        if wrong is not None:
            raise SettingValueError(wrong.template, **wrong.fields)
    return found
