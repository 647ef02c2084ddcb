"""Command `settings`: the settings on the screen, printed, or one of them changed."""

from __future__ import annotations

from argparse import Namespace, _SubParsersAction
from typing import TYPE_CHECKING

from cornerwalk.cli.commands.app import show
from cornerwalk.cli.output import has_screen, say, tell
from cornerwalk.cli.parsers import BAD_INPUT, DONE, CommandError, Parser, add_command, add_plain
from cornerwalk.words import tr

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cornerwalk.cli.environment import Environment
    from cornerwalk.context import Context, InitialView


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    parser = add_command(
        commands,
        "settings",
        tr("show or change the settings"),
        more=tr(
            "Alone it opens them on the screen, or prints them where there is none. A name prints that one, "
            'a name and a value change it; the value "" means the default.'
        ),
        example="cornerwalk settings theme night",
        run=run,
    )
    parser.add_argument("name", nargs="?", metavar=tr("NAME"), help=tr("which setting"))
    parser.add_argument("value", nargs="?", metavar=tr("VALUE"), help=tr("new value"))
    parser.add_argument("--file", action="store_true", help=tr("print where the settings file lies"))
    add_plain(parser)


def run(arguments: Namespace, environment: Environment) -> int:
    """Open, print or change them.

    Raises:
        CommandError: there is no such setting, or it does not take the value.
        SettingsError: the file holds a mistake, so that it is not written.
        OSError: it cannot be written.
    """
    from cornerwalk.settings import settings_text

    if arguments.file:
        say(str(environment.settings_path))
        return DONE
    if arguments.name is not None:
        return _one(arguments, environment)
    if environment.options.plain or has_screen():
        return show(environment, lambda: _opened(environment), title=tr("Settings"))
    if environment.settings_problem is not None:
        return BAD_INPUT
    say(settings_text(environment.active_settings.saved).rstrip("\n"))
    tell(tr("In the file {path}", path=environment.settings_path))
    return DONE


def _opened(environment: Environment) -> tuple[Context, InitialView]:
    from cornerwalk.context import SettingsView

    return environment.context(), SettingsView()


def _one(arguments: Namespace, environment: Environment) -> int:
    from cornerwalk.quantity import QuantityError
    from cornerwalk.settings import SETTING_BY_NAME, SettingValueError, changes_for, effect_text, setting_text

    try:
        changes = changes_for(environment.active_settings.saved, arguments.name, arguments.value or "")
    except (SettingValueError, QuantityError) as error:
        raise CommandError(error.template, **error.fields) from error
    if arguments.value is not None:
        _refuse_wrong_keys(arguments.name, changes)
        environment.active_settings.save(changes)
        setting = SETTING_BY_NAME.get(arguments.name)
        tell(
            tr("Saved in {path}.", path=environment.settings_path), *((effect_text(setting.effect),) if setting else ())
        )
        return DONE
    if arguments.name in SETTING_BY_NAME:
        say(
            setting_text(environment.active_settings.saved, arguments.name)
            or SETTING_BY_NAME[arguments.name].default_text
        )
    else:
        say(environment.active_settings.saved.keys.get(arguments.name.partition(".")[2], ""))
    return DONE


def _refuse_wrong_keys(name: str, changes: Mapping[str, object]) -> None:
    """Raise CommandError for a key that does not exist or is taken: it has no line in the file yet."""
    keys = changes.get("keys")
    if isinstance(keys, dict):
        from cornerwalk.tui.own_keys import mistakes

        for mistake in mistakes(keys):
            if name.endswith(mistake.action):
                raise CommandError(mistake.template, **mistake.fields)
