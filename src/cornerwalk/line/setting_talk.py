"""Setting talk: the settings listed, explained, and changed by a name and a value."""

from __future__ import annotations

from cornerwalk.context import Context
from cornerwalk.job.setting_lines import (
    SettingChanges,
    SettingLine,
    changes,
    kept_setting,
    refused_setting,
    setting_lines,
    setting_taken_back,
)
from cornerwalk.quantity import QuantityError
from cornerwalk.settings import SettingValueError, changes_for
from cornerwalk.words import tr


def setting_list(context: Context) -> list[str]:
    """Every setting as it is kept, the file, and how one is changed."""
    return [
        *(_stands(line) for line in setting_lines(context)),
        tr("In the file {path}", path=context.active_settings.path),
        tr("Type a name and a value, such as theme night; a name alone tells about it; - takes the default."),
    ]


def change(context: Context, text: str, made: SettingChanges | None = None) -> tuple[list[str], bool]:
    """What is said to `NAME` or `NAME VALUE`, and whether it was refused; `made` remembers the change."""
    name, _, value = text.partition(" ")
    name = name.casefold().rstrip(":=")
    line = _line(context, name)
    if line is not None and not value.strip():
        choices = ", ".join(words for _, words in line.options)
        about = [line.about, *([tr("Choices: {choices}.", choices=choices)] if choices else [])]
        return [_stands(line), *about, line.holds], False
    typed = "" if value.strip() == "-" else value
    try:
        saved = context.active_settings.saved
        wanted = changes(context, line, typed) if line is not None else changes_for(saved, name, typed)
    except (SettingValueError, QuantityError) as error:
        return [refused_setting(error)], True
    trouble = (made or SettingChanges(context)).make(name, wanted)
    changed = _line(context, name)
    return [trouble or (kept_setting(changed) if changed is not None else text)], bool(trouble)


def take_back(context: Context, made: SettingChanges) -> tuple[list[str], bool]:
    """What is said to `undo`, and whether it was refused."""
    change_made = made.undo()
    if isinstance(change_made, str):
        return [change_made], True
    line = _line(context, change_made.line)
    return [setting_taken_back(line)] if line is not None else [], False


def _line(context: Context, name: str) -> SettingLine | None:
    return next((line for line in setting_lines(context) if line.name == name), None)


def _stands(line: SettingLine) -> str:
    return f"{line.label} ({line.name}): {line.stands}"
