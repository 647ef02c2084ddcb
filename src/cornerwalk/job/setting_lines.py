"""Setting lines: every setting with what holds and what may be typed, what a text would change, and taking it back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from cornerwalk.context import Context
from cornerwalk.quantity import QuantityError
from cornerwalk.settings import (
    SETTINGS,
    Setting,
    SettingsError,
    SettingValueError,
    changes_for,
    effect_text,
    group_name,
    setting_text,
    value_text,
)
from cornerwalk.words import tr
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
    """Every setting as it is kept."""
    return tuple(_line(setting, context) for setting in SETTINGS)


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
        return tuple((choice, value_text(choice)) for choice in setting.choices)
    if setting.name == "language":
        from cornerwalk.words import languages

        return tuple((code, code) for code in languages())
    if setting.name == "aim_rule":
        return tuple((rule, rule) for rule in context.standards().aim_rules)
    if setting.name == "preset":
        from cornerwalk.sheet.preset import list_presets

        return tuple((preset.name, harmless(preset.name)) for preset in list_presets(context.presets_folder))
    return ()


def changes(context: Context, line: SettingLine, text: str) -> Mapping[str, Any]:
    """What a text typed into a line would change; an empty one takes the default.

    Raises:
        SettingValueError, QuantityError: the line does not take it.
    """
    found = changes_for(context.active_settings.saved, line.name, text)
    known = [option for option, _ in line.options]
    if text.strip() and line.name in ("aim_rule", "preset") and text.strip() not in known:
        raise SettingValueError('"{text}" is not one of: {choices}', text=text.strip(), choices=", ".join(known) or "–")
    return found


def refused_setting(error: SettingValueError | QuantityError) -> str:
    """Why a line does not take a text."""
    return tr(error.template, **error.fields)


def about_rule(context: Context, rule_id: str) -> str:
    """The title of a headlamp rule, "" where there is none."""
    rule = context.standards().aim_rules.get(rule_id)
    return tr(rule.title) if rule is not None else ""


# ---- changing them, and taking that back ----


@dataclass(frozen=True, slots=True)
class SettingChange:
    """One change of a line: what stood before, and what was wanted, by the names of the settings."""

    line: str
    before: Mapping[str, Any]
    wanted: Mapping[str, Any]


class SettingChanges:
    """The changes made so far. Each is in the file before it is called kept."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._done: list[SettingChange] = []
        self._undone: list[SettingChange] = []

    def make(self, line: str, wanted: Mapping[str, Any]) -> str:
        """Have a line changed; why not, "" where the file took it."""
        kept = self._context.active_settings.saved
        before = {name: getattr(kept, name) for name in wanted}
        trouble = self._keep(wanted)
        if not trouble:
            self._done.append(SettingChange(line, before, wanted))
            self._undone.clear()
        return trouble

    def undo(self) -> SettingChange | str:
        """Take the last change back, in the file too; why not."""
        if not self._done:
            return tr("Nothing left to undo.")
        trouble = self._keep(self._done[-1].before)
        if trouble:
            return trouble
        self._undone.append(self._done.pop())
        return self._undone[-1]

    def redo(self) -> SettingChange | str:
        """Bring back the change that undo took; why not."""
        if not self._undone:
            return tr("Nothing to redo.")
        trouble = self._keep(self._undone[-1].wanted)
        if trouble:
            return trouble
        self._done.append(self._undone.pop())
        return self._done[-1]

    def _keep(self, wanted: Mapping[str, Any]) -> str:
        try:
            self._context.active_settings.save(wanted)
        except SettingsError as error:
            return error.lines(tr)[0]
        except OSError as error:
            return tr("It could not be written: {reason}.", reason=error.strerror or str(error))
        return ""


def kept_setting(line: SettingLine) -> str:
    """What is said of a change that is in the file."""
    return tr("Saved: {setting}, {value}. {holds}", setting=line.label, value=line.stands, holds=line.holds)


def setting_taken_back(line: SettingLine) -> str:
    """What is said once a change is taken back."""
    return tr("Undone: {setting} is {value} again.", setting=line.label, value=line.stands)


def setting_back_again(line: SettingLine) -> str:
    """What is said once a change is brought back."""
    return tr("Back again: {setting}, {value}. {holds}", setting=line.label, value=line.stands, holds=line.holds)
