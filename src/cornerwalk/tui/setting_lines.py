"""The lines of the settings page: every setting and every key, with what may be typed and what a text would change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from cornerwalk.context import Context
from cornerwalk.settings import (
    KEY_PREFIX,
    SETTINGS,
    Setting,
    SettingValueError,
    changes_for,
    choice_labels,
    effect_text,
    group_name,
    setting_text,
)
from cornerwalk.tui.keys import PLACES, TABLE, Key, all_shown, shown
from cornerwalk.tui.own_keys import mistakes, names_of
from cornerwalk.words import capital, tr
from cornerwalk.words.safe import harmless


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingLine:
    """One line.

    Attributes:
        name: of the setting, or `keys.` and the id of an action.
        label: what it is called.
        group: the heading it stands under.
        stands: what holds, in words.
        own: whether the user has set it.
        about: what it does.
        default: what holds where it is not set, in words.
        holds: when a change holds, as a sentence.
        options: texts to choose from, each with its words.
        example: what may be typed.
    """

    name: str
    label: str
    group: str
    stands: str
    own: bool
    about: str
    default: str
    holds: str
    options: tuple[tuple[str, str], ...] = ()
    example: str = ""


def setting_lines(context: Context) -> tuple[SettingLine, ...]:
    """Every setting as it is kept, then every key that can be another."""
    return (
        *(_line(setting, context) for setting in SETTINGS),
        *(_key_line(key, context.active_settings.saved.keys) for key in TABLE if not key.id.endswith(".enter")),
    )


def _line(setting: Setting, context: Context) -> SettingLine:
    kept = context.active_settings.saved
    return SettingLine(
        name=setting.name,
        label=setting.label,
        group=group_name(setting.group),
        stands=harmless(setting_text(kept, setting.name)) or setting.default_text,
        own=getattr(kept, setting.name) != setting.default,
        about=setting.about,
        default=setting.default_text,
        holds=effect_text(setting.effect),
        options=_options(setting, context),
        example=setting.example,
    )


def _options(setting: Setting, context: Context) -> tuple[tuple[str, str], ...]:
    if setting.kind == "flag":
        return (("yes", tr("yes")), ("no", tr("no")))
    if setting.choices:
        return tuple((choice, choice_labels()[choice]) for choice in setting.choices)
    if setting.name == "language":
        from cornerwalk.words import languages

        return tuple((code, code) for code in languages())
    if setting.name == "aim_rule":
        return tuple((rule, rule) for rule in context.standards().aim_rules)
    if setting.name == "preset":
        from cornerwalk.sheet.preset import list_presets

        return tuple((preset.name, harmless(preset.name)) for preset in list_presets(context.presets_folder))
    return ()


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


def changes(context: Context, line: SettingLine, text: str) -> Mapping[str, Any]:
    """What a text typed into a line would change; an empty one takes the default.

    Raises:
        SettingValueError, QuantityError: the line does not take it.
    """
    found = changes_for(context.active_settings.saved, line.name, text)
    if line.name.startswith(KEY_PREFIX):
        wrong = next(mistakes(found["keys"]), None)
        if wrong is not None:
            raise SettingValueError(wrong.template, **wrong.fields)
    known = [option for option, _ in line.options]
    if text.strip() and line.name in ("aim_rule", "preset") and text.strip() not in known:
        raise SettingValueError('"{text}" is not one of: {choices}', text=text.strip(), choices=", ".join(known) or "–")
    return found


def about_rule(context: Context, rule_id: str) -> str:
    """The title of a headlamp rule, "" where there is none."""
    rule = context.standards().aim_rules.get(rule_id)
    return tr(rule.title) if rule is not None else ""
