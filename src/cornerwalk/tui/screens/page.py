"""Page: what every page has, a key row at the foot, a message line, a word to a window that is too small."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen

from cornerwalk.job.notice import Notice
from cornerwalk.tui.keys import Key, Places, bindings, keys_of
from cornerwalk.tui.messages import ToStart
from cornerwalk.tui.widgets.footer import Foot
from cornerwalk.tui.widgets.prose import Prose
from cornerwalk.tui.widgets.rows import RowWidget
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.tui.widgets.pad import Pad

VAST_COLUMNS, HIGH_ROWS = 160, 52


class PageScreen(Screen[None]):
    """A page. A subclass names the `places` whose keys work on it, and composes its own part.

    `help_text` stands first in the help that is opened from here.
    """

    AUTO_FOCUS = "Entry, Panel"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("everywhere")]
    places: Places = ("everywhere",)
    takes_typed_ahead: ClassVar[bool] = True
    """Whether the keys typed before the page was there are its; not where they would answer a question unseen."""

    def __init_subclass__(cls, **given: bool) -> None:
        """Bind the keys of the places that the page has beside those of the page it derives from."""
        if "BINDINGS" not in vars(cls):
            inherited = {place for base in cls.__bases__ if issubclass(base, PageScreen) for place in base.places}
            cls.BINDINGS = [*bindings(*(place for place in cls.places if place not in inherited))]
        super().__init_subclass__(**given)

    def compose(self) -> ComposeResult:
        """The page between its head and its foot."""
        yield Foot(self.own_keys())
        yield from self.compose_head()
        yield from self.compose_page()
        yield Prose((Notice(tr("Make the window larger: at least 36 × 10.")),), id="too-small")

    def compose_head(self) -> ComposeResult:
        """What stands above the page."""
        yield from ()

    def compose_page(self) -> ComposeResult:
        """The page itself."""
        yield from ()

    @property
    def help_text(self) -> tuple[str, ...]:
        """What to do on this page, a paragraph each."""
        return ()

    def on_screen_resume(self) -> None:
        """Keys may have been given to other commands meanwhile, and the window may have another size."""
        if self.is_current:
            self.query_one(Foot).show_keys()
            self.bring_in_sight()

    def own_keys(self) -> Sequence[Key]:
        """The keys that work here."""
        return keys_of(*self.places)

    @on(events.Resize)
    def bring_in_sight_anew(self) -> None:
        """What is marked is seen in a window of another size, scrolled no further than that size needs."""
        for drawn in self._with_marks():
            if isinstance(drawn.parent, VerticalScroll):
                self.call_after_refresh(drawn.parent.scroll_home, animate=False, immediate=True)
        self.bring_in_sight()

    def bring_in_sight(self) -> None:
        """What is marked stays in sight."""
        for drawn in self._with_marks():
            self.call_after_refresh(drawn.keep_in_sight)

    def _with_marks(self) -> list[RowWidget]:
        """The widgets that have something marked, and so a place to keep in sight."""
        return [drawn for drawn in self.query(RowWidget) if type(drawn).keep_in_sight is not RowWidget.keep_in_sight]

    @on(events.Resize)
    def beyond_the_usual(self, event: events.Resize) -> None:
        """Classes for very large windows, on top of the largest of the app's breakpoints."""
        self.set_class(event.size.width >= VAST_COLUMNS, "-vast")
        self.set_class(event.size.height >= HIGH_ROWS, "-high")

    def offers(self) -> Iterable[tuple[str, str, Callable[[], object]]]:
        """What can be chosen here besides the keys, for the palette: its name, what it does, and the doing."""
        return ()

    def tell(self, text: str, part: str = "ink") -> None:
        """Say something at the foot of the page until the next thing is said; "" says nothing."""
        self.query_one(Foot).tell(text, part)

    async def on_foot_clicked(self, message: Foot.Clicked) -> None:
        """A click on a key is the key."""
        message.stop()
        await self.press(message.key)

    async def press(self, key: Key) -> None:
        """Do what a key does; Enter belongs to whatever has the focus."""
        if key.id.endswith(".enter"):
            self._type("enter", "\r")
        else:
            await self.run_action(key.does)

    def action_pad(self) -> None:
        """The number pad on the screen, or away with it."""
        from cornerwalk.tui.widgets.pad import Pad

        shown = self.query(Pad)
        if shown:
            shown.first().away()
        else:
            self.mount(Pad())

    def on_pad_pressed(self, message: Pad.Pressed) -> None:
        """A key of the pad is the key."""
        message.stop()
        self._type(message.key, message.character)

    def _type(self, key: str, character: str) -> None:
        self.app.post_message(events.Key(key, character or None))

    async def action_back(self) -> None:
        """To the page before; from the only one to the start page, and from there out."""
        if len(self.app.screen_stack) > 2:
            self.app.pop_screen()
        else:
            self.post_message(ToStart())
