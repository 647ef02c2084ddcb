"""The settings, line by line: listed, explained, changed by their name and a value."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cornerwalk.context import Context
from cornerwalk.line.reply import Reply, Typed
from cornerwalk.line.start import Menu, Taken
from cornerwalk.quantity import QuantityError
from cornerwalk.settings import (
    SETTING_BY_NAME,
    SETTINGS,
    SettingsError,
    SettingValueError,
    changes_for,
    effect_text,
    setting_text,
    value_text,
)
from cornerwalk.words import tr, tr_in


class ChangeSettings:
    """One question before a job is open: a setting and its value."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._before: Mapping[str, Any] = {}

    def opening(self) -> tuple[str, ...]:
        """All of them, and how they are changed."""
        return (*listed(self._context), _how())

    def prompt(self) -> str:
        """A name and a value."""
        return tr("Setting and value; Enter alone goes back:")

    def take(self, text: str) -> Taken:
        """Change one, explain one, or go back."""
        if not text:
            return Taken(then=Menu(self._context))
        if text.casefold() in ("undo", "u", tr_in("word", "undo").casefold()):
            return self._undo()
        kept = self._context.active_settings.saved
        told, refused = answered(self._context, text)
        changed = self._context.active_settings.saved
        names = [setting.name for setting in SETTINGS]
        before = {name: getattr(kept, name) for name in names if getattr(kept, name) != getattr(changed, name)}
        self._before = before or self._before
        return Taken(said=told, refused=refused)

    def _undo(self) -> Taken:
        if not self._before:
            return Taken(said=(tr("Nothing can be taken back."),), refused=True)
        trouble = _kept(self._context, self._before)
        told = trouble or tuple(_stands(self._context, name) for name in self._before)
        self._before = {}
        return Taken(said=told, refused=bool(trouble))


def settings(at: Typed) -> Reply:
    """List them, or change the one that is named."""
    context = at.job.context
    if not at.rest:
        return Reply(said=(*listed(context), _how()), stays=True)
    told, refused = answered(context, at.rest)
    at.job.reworded()
    return Reply(said=told, stays=not refused, refused=refused)


def listed(context: Context) -> tuple[str, ...]:
    """Every setting as it is kept, and the file."""
    return (
        *(_stands(context, setting.name) for setting in SETTINGS),
        tr("In the file {path}", path=context.active_settings.path),
    )


def answered(context: Context, text: str) -> tuple[tuple[str, ...], bool]:
    """What is said to `NAME` or `NAME VALUE`, and whether it was refused."""
    name, _, value = text.partition(" ")
    name = name.casefold().rstrip(":=")
    setting = SETTING_BY_NAME.get(name)
    if setting is not None and not value.strip():
        choices = ", ".join(value_text(choice) for choice in setting.choices)
        about = (setting.about, *((tr("Choices: {choices}.", choices=choices),) if choices else ()))
        return (_stands(context, name), *about, effect_text(setting.effect)), False
    try:
        wanted = changes_for(context.active_settings.saved, name, "" if value.strip() == "-" else value)
    except (SettingValueError, QuantityError) as error:
        return (tr(error.template, **error.fields),), True
    trouble = _kept(context, wanted)
    if trouble or setting is None:
        return trouble, bool(trouble)
    return (tr("Kept: {what}.", what=_stands(context, name)), effect_text(setting.effect)), False


def _kept(context: Context, wanted: Mapping[str, Any]) -> tuple[str, ...]:
    """Write them; why not, where that failed."""
    try:
        context.active_settings.save(wanted)
    except SettingsError as error:
        return tuple(error.lines(tr))
    except OSError as error:
        return (tr("It could not be written: {reason}.", reason=error.strerror or str(error)),)
    return ()


def _stands(context: Context, name: str) -> str:
    setting = SETTING_BY_NAME[name]
    value = setting_text(context.active_settings.saved, name) or setting.default_text
    return tr("{label} ({name}): {value}", name=name, value=value, label=setting.label)


def _how() -> str:
    return tr("Type a name and a value, such as theme night; a name alone tells about it; - takes the default.")
