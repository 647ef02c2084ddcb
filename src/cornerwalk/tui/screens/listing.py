"""List page: what pages with a list have in common, a place to type what is looked for and the list below it."""

from __future__ import annotations

from textual import events, on
from textual.app import ComposeResult

from cornerwalk.job.notice import Notice, Span
from cornerwalk.tui.keys import Places
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.widgets.entry import Entry
from cornerwalk.tui.widgets.long_list import LongList
from cornerwalk.tui.widgets.prose import Prose, Ruler
from cornerwalk.tui.widgets.rows import Row


class ListingScreen(PageScreen):
    """A subclass makes the rows (`row`), looks for what is typed (`typed`), and does what Enter asks (`taken`)."""

    CSS_PATH = "start.tcss"
    AUTO_FOCUS = "Entry"
    places: Places = ("list", "everywhere")

    def __init__(self, name: str, *, hint: str) -> None:
        super().__init__()
        self._name_shown = name
        self._hint = hint

    def compose_page(self) -> ComposeResult:
        """What is looked for, how many there are, and the list."""
        yield Prose((Notice(self._name_shown, part="strong"),), id="name")
        yield Entry(typed=self.typed, entered=self.entered, hint=self._hint)
        yield Ruler()
        yield LongList(self.row)

    @property
    def listing(self) -> LongList:
        """The list."""
        return self.query_one(LongList)

    @property
    def text(self) -> str:
        """What is typed."""
        return self.query_one(Entry).text

    @text.setter
    def text(self, text: str) -> None:
        self.query_one(Entry).text = text

    def say(self, *words: str | Span) -> None:
        """Set these words into the line above the list."""
        self.query_one(Ruler).say(*(("quiet", word) if isinstance(word, str) else word for word in words))

    def row(self, place: int, width: int) -> Row:
        """The row at this place."""
        raise NotImplementedError

    def typed(self, text: str) -> None:
        """Look for this."""
        raise NotImplementedError

    def taken(self, place: int) -> None:
        """Do what Enter asks for the row at this place."""
        raise NotImplementedError

    def on_key(self, event: events.Key) -> None:
        """Keys that were quicker than the page came up belong to the entry too; it lets alone what it knows not."""
        self.query_one(Entry).on_key(event)

    def entered(self, _text: str) -> None:
        """Enter takes the marked row."""
        if self.listing.mark is not None:
            self.taken(self.listing.mark)

    @on(LongList.Taken)
    def clicked(self, message: LongList.Taken) -> None:
        """A click on the marked row is Enter."""
        message.stop()
        self.entered("")

    def action_earlier(self) -> None:
        """The row above."""
        self.listing.move(-1)

    def action_later(self) -> None:
        """The row below."""
        self.listing.move(1)

    def action_earlier_page(self) -> None:
        """A page up."""
        self.listing.move_page(-1)

    def action_later_page(self) -> None:
        """A page down."""
        self.listing.move_page(1)

    def action_first(self) -> None:
        """The first row."""
        self.listing.move_to(0)

    def action_last(self) -> None:
        """The last row."""
        self.listing.move_to(len(self.listing))

    async def action_back(self) -> None:
        """Empty what is typed; from there, to the page before."""
        if self.text:
            self.text = ""
            self.typed("")
        else:
            await super().action_back()
