"""Settings page: one setting at a time, with what it does and what holds while it is not set; Enter writes the file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.containers import Container

from cornerwalk.context import Context
from cornerwalk.job.dialog import MOST_AT_ONCE
from cornerwalk.job.notice import Notice
from cornerwalk.job.setting_lines import (
    SettingChange,
    SettingChanges,
    SettingLine,
    about_rule,
    changes,
    kept_setting,
    refused_setting,
    setting_back_again,
    setting_lines,
    setting_taken_back,
)
from cornerwalk.job.start import settings_problem
from cornerwalk.quantity import QuantityError
from cornerwalk.settings import KEY_PREFIX, SettingValueError, effect_text
from cornerwalk.tui.keys import PLACES, TABLE, Key, Places, all_shown, shown
from cornerwalk.tui.messages import SettingsChanged
from cornerwalk.tui.own_keys import key_shown, mistakes, names_of
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.footer import Foot
from cornerwalk.tui.widgets.lists import LineList, ListLine
from cornerwalk.tui.widgets.prose import Ruler
from cornerwalk.tui.widgets.question import AnswerChoice, Asker, AskerView
from cornerwalk.tui.widgets.rows import Scroll
from cornerwalk.words import capital, tr

_ROOM_FOR_BOTH = 16
"""Windows lower than this show what was said in place of what the setting does."""


class SettingsScreen(PageScreen):
    """Every setting and every key; a change is in the file before it is called kept."""

    CSS_PATH = "settings.tcss"
    AUTO_FOCUS = "Asker"
    places: Places = ("everywhere", "settings")

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._lines = page_lines(context)
        self._at = 0
        self._said: Notice | None = None
        self._changes = SettingChanges(context)

    @property
    def line(self) -> SettingLine:
        """The one in hand."""
        return self._lines[self._at]

    @property
    def help_text(self) -> tuple[str, ...]:
        """The setting in hand, then how the page goes and where the file lies."""
        line = self.line
        return (
            f"{line.label}: {line.about}",
            tr("Without a setting of yours: {default}. {holds}", default=line.default, holds=line.holds),
            tr("A choice is taken by its number or a click, a text by Enter. Enter alone goes on and changes nothing. "
               "↑↓ goes to any setting, PgUp and PgDn to the next heading."),
            tr("{undo_key} undoes the last change, {redo_key} redoes it, {default_key} resets a setting.",
               undo_key=key_shown("settings.undo"), redo_key=key_shown("settings.redo"),
               default_key=key_shown("settings.default")),
            tr("All of it is one text file that any editor opens; your comments in it stay: {path}",
               path=self.context.active_settings.path),
        )  # fmt: skip

    def compose_page(self) -> ComposeResult:
        """Heading, the setting in hand, and all of them."""
        yield Ruler(id="where")
        with Container(id="setting"):
            with Scroll(id="work"):
                yield Asker(typed=self.typed, entered=self.entered, chosen=self.chosen, id="asker")
            with Scroll(id="beside"):
                yield LineList(id="lines")

    def on_mount(self) -> None:
        """Draw it."""
        self.show()

    def show(self) -> None:
        """Draw all of it, as the settings are kept."""
        self._lines = page_lines(self.context)
        own = sum(line.own for line in self._lines)
        counted = tr("{count} of your own", count=own)
        self.query_one("#where", Ruler).say(("quiet", counted), ("due", tr("settings")))
        listed = tuple(
            ListLine(line.name, line.label, line.stands, "done" if line.own else "open", line.group)
            for line in self._lines
        )
        self.query_one(LineList).show_lines(listed, self.line.name)
        self.query_one(Foot).show_keys()
        self._show_asked()

    def _show_asked(self) -> None:
        """Draw the setting in hand, and what is typed for it."""
        asker, line = self.query_one(Asker), self.line
        only_said = self._said is not None and self.app.size.height < _ROOM_FOR_BOTH
        options = [] if only_said else list(enumerate(line.options, start=1))
        asker.show_view(
            AskerView(
                title=capital(line.label),
                context=line.group,
                question="" if only_said else line.about,
                caution=self._trouble(),
                choices=tuple(AnswerChoice(str(n), words, words == line.stands) for n, (_, words) in options),
                typing=not 0 < len(line.options) <= MOST_AT_ONCE,
                hint=tr("for example {example}", example=line.example) if line.example and not line.options else "",
                echo=self._echo(asker.text),
                about=self._about(),
            )
        )
        self.query_one("#work").scroll_home(animate=False)

    def _trouble(self) -> str:
        told = settings_problem(self.context)
        return told and told + " " + tr("Fix that line in an editor; until then nothing is changed here.")

    def _echo(self, text: str) -> tuple[Notice, ...]:
        if self._said is not None:
            return (self._said,)
        if not text.strip() or len(self.line.options) > MOST_AT_ONCE:
            return ()
        try:
            page_changes(self.context, self.line, text)
        except (SettingValueError, QuantityError) as error:
            return (Notice(refused_setting(error), part="quiet"),)
        return (Notice(tr("Enter saves it"), part="quiet"),)

    def _about(self) -> tuple[Notice, ...]:
        line, asked = self.line, self.context.active_settings.overrides
        told = [Notice(line.stands, tr("Now"), "strong", "quiet")]
        title = about_rule(self.context, self.context.active_settings.saved.aim_rule) if line.name == "aim_rule" else ""
        if title:
            told.append(Notice(title, "", "quiet"))
        if line.name in asked:
            told.append(
                Notice(tr("This run was started with {value}, which is not saved.", value=asked[line.name]), "", "due")
            )
        if line.own:
            told.append(Notice(line.default, tr("At first"), "quiet", "quiet"))
        return (*told, Notice(line.holds, "", "quiet"))

    def tell(self, text: str, part: str = "ink") -> None:
        """Below the setting, where the eyes are, until the next key."""
        self._said = Notice(text, part=part) if text else None
        self._show_asked()

    def refuse(self, reason: str) -> None:
        """Say why something was not done, and sound the bell if it is wanted."""
        self.tell(reason, "caution")
        if self.context.settings.bell:
            self.app.bell()

    # ---- the entry ----

    def typed(self, text: str) -> None:
        """Take a choice at its digit; say back a text."""
        self._said = None
        options = self.line.options
        if text.isascii() and text.isdecimal() and options and len(options) <= MOST_AT_ONCE:
            self.chosen(text)
        else:
            self._show_asked()

    def chosen(self, number: str) -> None:
        """A choice by its number, typed or clicked."""
        self.query_one(Asker).put("")
        place = int(number) - 1
        if 0 <= place < len(self.line.options):
            self._set(self.line.options[place][0])
        else:
            self.refuse(tr("Choose one of the numbers."))

    def entered(self, text: str) -> None:
        """Keep what is typed and go on; with nothing typed only go on."""
        typed = text.strip()
        if not typed:
            self._go(self._at + 1)
        elif typed.isascii() and typed.isdecimal() and self.line.options:
            self.chosen(typed)
        else:
            self._set(typed)

    def _set(self, text: str) -> None:
        """Change the setting in hand; an empty text puts it back to its default."""
        try:
            wanted = page_changes(self.context, self.line, text)
        except (SettingValueError, QuantityError) as error:
            self.refuse(refused_setting(error))
            return
        if all(getattr(self.context.active_settings.saved, name) == value for name, value in wanted.items()):
            self._go(self._at + 1)
        elif trouble := self._changes.make(self.line.name, wanted):
            self.refuse(trouble)
        else:
            self.query_one(Asker).put("")
            self._hold(wanted)
            self._kept(kept_setting)

    def _hold(self, wanted: Mapping[str, Any]) -> None:
        """Let it hold."""
        self.app.post_message(SettingsChanged(frozenset(wanted)))

    def _kept(self, sentence: Callable[[SettingLine], str]) -> None:
        self._lines = page_lines(self.context)
        self._said = Notice(sentence(self.line), part="due")
        self.call_later(self.show)  # once the app has taken the keys and the look over

    # ---- keys ----

    def _go(self, at: int) -> None:
        self._said = None
        self.query_one(Asker).put("")
        self._at = max(0, min(len(self._lines) - 1, at))
        self.show()

    @on(LineList.Chosen)
    def line_clicked(self, message: LineList.Chosen) -> None:
        """Take the one that was clicked in hand."""
        message.stop()
        self._go(next(at for at, line in enumerate(self._lines) if line.name == message.line_id))

    def action_earlier(self) -> None:
        """The setting above."""
        self._go(self._at - 1)

    def action_later(self) -> None:
        """The setting below."""
        self._go(self._at + 1)

    def action_earlier_group(self) -> None:
        """The first setting of the heading before."""
        begins = [at for at in self._begins() if at < self._at]
        self._go(begins[-1] if begins else 0)

    def action_later_group(self) -> None:
        """The first setting of the next heading."""
        self._go(next((at for at in self._begins() if at > self._at), len(self._lines) - 1))

    def _begins(self) -> list[int]:
        groups = [line.group for line in self._lines]
        return [at for at, group in enumerate(groups) if at == 0 or groups[at - 1] != group]

    def action_read_on(self) -> None:
        """Scroll what the setting does, in a window too small for all of it."""
        self.query_one("#work").scroll_relative(y=3, animate=False)

    def action_read_back(self) -> None:
        """Scroll back."""
        self.query_one("#work").scroll_relative(y=-3, animate=False)

    def action_undo(self) -> None:
        """Take the last change back, in the file too."""
        self._turn(self._changes.undo(), setting_taken_back)

    def action_redo(self) -> None:
        """Bring back the change that undo took."""
        self._turn(self._changes.redo(), setting_back_again)

    def _turn(self, change: SettingChange | str, sentence: Callable[[SettingLine], str]) -> None:
        if isinstance(change, str):
            self.refuse(change)
            return
        self._at = next(at for at, line in enumerate(self._lines) if line.name == change.line)
        self._hold(change.wanted)
        self._kept(sentence)

    def action_default(self) -> None:
        """Put the setting in hand back to what it was at first."""
        if self.line.own:
            self._set("")
        else:
            self.refuse(tr("Back to the original value."))

    async def action_back(self) -> None:
        """Out of what is typed, then to the page before."""
        if self.query_one(Asker).text:
            self._go(self._at)
        else:
            await super().action_back()


# ---- its lines: those of the settings, then one for every key that can be another ----


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
