"""Replay: the walk as it stood after each event, gone through event by event, by a search or played."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from rich.cells import cell_len
from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.timer import Timer

from cornerwalk.job.notice import Span
from cornerwalk.job.prompt_words import short_stage
from cornerwalk.job.prompts import asked_by
from cornerwalk.job.replay import STEPS_A_SECOND, USUAL_PACE, ReplayedJob
from cornerwalk.job.replay_steps import StepText
from cornerwalk.report.audit import today_blocks
from cornerwalk.tui.keys import BY_ID, Key, Places, bindings, keys_of
from cornerwalk.tui.own_keys import key_shown
from cornerwalk.tui.screens.listing import ListingScreen
from cornerwalk.tui.screens.page import PageScreen
from cornerwalk.tui.screens.walk import WalkScreen
from cornerwalk.tui.widgets.long_list import LongList
from cornerwalk.tui.widgets.paper import Paper
from cornerwalk.tui.widgets.plan import Plan
from cornerwalk.tui.widgets.question import Panel
from cornerwalk.tui.widgets.rows import Row
from cornerwalk.tui.widgets.timeline import EventText, Timeline, TimelineView, shared
from cornerwalk.words import number, tr, tr_n
from cornerwalk.words.safe import harmless

OnFound = Callable[[int, str], None]
"""Is told the number of the chosen event, and the words that were searched for."""


class StepsScreen(ListingScreen):
    """Every event of a replay in a list: words show only those that have them, Enter goes to the marked one."""

    def __init__(self, job: ReplayedJob, words: str, found: OnFound) -> None:
        super().__init__(tr("Events of the replay"), hint=tr("words to search for"))
        self._job = job
        self._found = found
        self._words = words
        self._numbers: list[int] = []

    @property
    def help_text(self) -> tuple[str, ...]:
        """How to search."""
        return (
            tr("Type words: a corner, a stage, initials, a value as it was entered, undone, read again."),
            tr("↑ ↓ mark an event, Enter goes there."),
        )

    def on_mount(self) -> None:
        """With the words of the last search."""
        self.text = self._words
        self.typed(self._words)

    def typed(self, text: str) -> None:
        """Only the events with these words; the one it stands at is marked, or the next after it."""
        wanted = text.casefold().split()
        self._numbers = [number for number in range(1, self._job.last + 1) if self._job.has(number, wanted)]
        mark = next((at for at, number in enumerate(self._numbers) if number >= self._job.number), len(self._numbers))
        self.listing.show(len(self._numbers), mark=mark, empty=tr("No event has these words."))
        told = tr_n("{count} event", "{count} events", len(self._numbers))
        self.say(told if not wanted else tr("{found} of {last}", found=told, last=self._job.last))

    def row(self, place: int, width: int) -> Row:
        """One event."""
        stamp, step = self._parts(place)
        remark = f" {step.remark}" if step.remark else ""
        text, remark = shared(step.text, remark, max(1, width - cell_len(stamp)))
        return [("quiet", stamp), ("ink" if step.counts else "quiet", text), ("due", remark)]

    def _parts(self, place: int) -> tuple[str, StepText]:
        step = self._job.steps.text(self._numbers[place])
        return f"{step.event.seq:>3} {step.event.at[11:19]} {harmless(step.event.by):<2} ", step

    @on(LongList.Marked)
    def tell_in_full(self, message: LongList.Marked) -> None:
        """Say at the foot what the marked row had no room for."""
        message.stop()
        place = self.listing.mark
        if place is None:
            self.tell("")
            return
        stamp, step = self._parts(place)
        whole = f"{step.text} {step.remark}".rstrip()
        fits = cell_len(stamp) + cell_len(whole) <= self.listing.row_width
        self.tell("" if fits else f"{step.event.seq}: {whole}")

    def taken(self, place: int) -> None:
        """Go there."""
        self.app.pop_screen()
        self._found(self._numbers[place], self.text)


PAGES_FROM_HERE = ("job.vehicle", "job.results", "job.compare")
"""Pages of a job that open from a replay, as the job stood then. Its other keys change a job."""

MOST_BESIDE = 12
"""Neighbours that the largest window has room for."""

TRUE_PACE = 0.0


class ReplayScreen(WalkScreen, inherit_bindings=False):
    """Shows what the technician saw, with the walk's own widgets. Nothing can be typed or changed here.

    A timer runs only while it plays.
    """

    CSS_PATH = ["walk.tcss", "replay.tcss"]  # type: ignore[assignment]  # noqa: RUF012 - one file there, two here
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings("replay", "everywhere"),
        *(binding for binding in bindings("job") if binding.id in PAGES_FROM_HERE),
    ]
    places: Places = ("replay", "everywhere")
    job: ReplayedJob

    def __init__(self, job: ReplayedJob) -> None:
        super().__init__(job)
        self._timer: Timer | None = None
        self._pace = USUAL_PACE
        self._words = ""
        self._told_here: Span = ("ink", "")
        self._list: StepsScreen | None = None

    def own_keys(self) -> Sequence[Key]:
        """The replay's own first."""
        pages = [key for key in keys_of("job") if key.id in PAGES_FROM_HERE]
        return (*keys_of("replay"), *pages, *keys_of("everywhere"))

    @property
    def help_text(self) -> tuple[str, ...]:
        """What is seen here."""
        return (
            tr("The screen of the walk as it stood after each event, drawn by this program from what was recorded."),
            tr("The line at the foot shows where you stand. What was undone or read again says so."),
            tr(
                "{play_key} plays; {faster_key} and {slower_key} change the pace. At the true pace, pauses of more "
                "than a minute are cut short.",
                play_key=key_shown("replay.play"),
                faster_key=key_shown("replay.faster"),
                slower_key=key_shown("replay.slower"),
            ),
            tr("Nothing here changes the session, and its file is neither written nor locked."),
        )

    def compose_page(self) -> ComposeResult:
        """The walk, and where it stands."""
        yield from super().compose_page()
        with VerticalScroll(id="today", can_focus=False):
            yield Paper(id="today-paper")
        yield Timeline(self.go_to, id="timeline")

    def on_mount(self) -> None:
        """Nothing is typed in a replay."""
        self.query_one(Panel).can_focus = False

    def on_unmount(self) -> None:
        """Nothing plays on."""
        self._stop()

    # ---- drawing ----

    def show(self) -> None:
        """Draw the walk as it stood, and where that is."""
        self._asked = asked_by(self.job.session)
        super().show()
        self.query_one(Timeline).show_view(self._timeline())
        if self.has_class("-today"):
            self.query_one("#today-paper", Paper).show_blocks(
                today_blocks(self.job.events, self.job.context.standards())
            )

    def kept_word(self) -> Span:
        """When what is shown was kept."""
        if self.job.damage is not None:
            return ("caution", tr("replay of what can be read"))
        return ("quiet", tr("replay; saved {time}", time=self.job.session.last_at[11:19]))

    def tell(self, text: str, part: str = "ink") -> None:
        """In place of the line of time: the walk above shows what the technician was told."""
        self._told_here = (part, text)
        self.query_one(Timeline).show_view(self._timeline())

    def _timeline(self) -> TimelineView:
        job = self.job
        here = job.number
        return TimelineView(
            last=job.last,
            here=self._beside(here),
            effect=job.steps.effect(here),
            starts=tuple((start.number, short_stage(start.key)) for start in job.stages()),
            before=tuple(self._beside(n) for n in range(here - 1, max(0, here - 1 - MOST_BESIDE), -1)),
            after=tuple(self._beside(n) for n in range(here + 1, min(job.last, here + MOST_BESIDE) + 1)),
            pace=self._pace_words() if self._timer is not None else "",
            told=self._told_here,
        )

    def _beside(self, number: int) -> EventText:
        step = self.job.steps.text(number)
        stamp = f"{step.event.at[11:19]} {harmless(step.event.by)}"
        return EventText(number, stamp, step.text, step.remark, step.counts)

    def _pace_words(self) -> str:
        if self._pace == TRUE_PACE:
            return tr("playing, true pace")
        return tr("playing, {pace} a second", pace=number(f"{self._pace:g}"))

    # ---- moving ----

    def go_to(self, event_number: int) -> None:
        """Stand after this event."""
        self.job.go_to(event_number)
        self._told_here = ("ink", "")
        self.show()

    def action_later(self) -> None:
        """The next event."""
        self._stop()
        self.go_to(self.job.number + 1)

    def action_earlier(self) -> None:
        """The event before."""
        self._stop()
        self.go_to(self.job.number - 1)

    def action_later_stage(self) -> None:
        """Where the next stage begins."""
        self.go_to(self.job.stage_beside(1))

    def action_earlier_stage(self) -> None:
        """Where the stage before begins."""
        self.go_to(self.job.stage_beside(-1))

    def action_first(self) -> None:
        """The first event."""
        self.go_to(1)

    def action_last(self) -> None:
        """The last event."""
        self._stop()
        self.go_to(self.job.last)

    def action_scroll_down(self) -> None:
        """Read on where the page is longer than the window."""
        self._scrolled().scroll_relative(y=1, animate=False)

    def action_scroll_up(self) -> None:
        """Read back."""
        self._scrolled().scroll_relative(y=-1, animate=False)

    def _scrolled(self) -> VerticalScroll | ReplayScreen:
        return self.query_one("#today", VerticalScroll) if self.has_class("-today") else self

    # ---- playing ----

    def action_play(self) -> None:
        """Play from here, from the beginning where it stands at the end; or stop."""
        self._told_here = ("ink", "")
        if self._timer is not None:
            self._stop()
            self.show()
            return
        if self.job.number == self.job.last:
            self.job.go_to(1)
        self._wait()
        self.show()

    def _wait(self) -> None:
        pause_s = self.job.true_pause_s() if self._pace == TRUE_PACE else 1 / self._pace
        self._timer = self.set_timer(pause_s, self._play_on)

    def _play_on(self) -> None:
        self._timer = None
        self.job.go_to(self.job.number + 1)
        if self.job.number < self.job.last:
            self._wait()
        self.show()

    def _stop(self) -> None:
        if self._timer is not None:
            self._timer.stop()
            self._timer = None

    def on_screen_suspend(self) -> None:
        """Another page is open: nothing moves behind it."""
        self._stop()

    def action_faster(self) -> None:
        """The next faster pace."""
        self._play_at(next((pace for pace in STEPS_A_SECOND if pace > self._pace), STEPS_A_SECOND[-1]))

    def action_slower(self) -> None:
        """The next slower pace."""
        slower = [pace for pace in STEPS_A_SECOND if pace < self._pace]
        self._play_at(slower[-1] if slower else STEPS_A_SECOND[0])

    def action_true_pace(self) -> None:
        """As it happened, pauses cut short."""
        self._play_at(TRUE_PACE)

    def _play_at(self, pace: float) -> None:
        self._pace = pace
        if self._timer is not None:
            self._stop()
            self._wait()
        self.show()
        if self._timer is None:
            words = self._pace_words()
            self.tell(tr("{pace}, once {key} is pressed", pace=words, key=tr("Space")))

    # ---- finding ----

    def on_key(self, event: events.Key) -> None:
        """What is typed right after the key for the search belongs to it, even before its page is up."""
        if self._list is not None:
            event.stop()
            self._list.post_message(events.Key(event.key, event.character))
        elif event.key in self._search_keys():
            event.stop()
            self.action_search()

    def _search_keys(self) -> Sequence[str]:
        own = self.job.context.settings.keys.get("replay.search", BY_ID["replay.search"].keys)
        return own.split(",")

    def on_screen_resume(self) -> None:
        """The list of events is gone again."""
        self._list = None

    def action_search(self) -> None:
        """Every event in a list, to search in and to choose from."""
        self._stop()
        self._list = StepsScreen(self.job, self._words, self._found)
        self.app.push_screen(self._list)

    def _found(self, event_number: int, words: str) -> None:
        self._words = words
        self.go_to(event_number)

    def action_next_match(self) -> None:
        """The next event with the words searched for last."""
        self._match(1)

    def action_match_before(self) -> None:
        """The event before with the words searched for last."""
        self._match(-1)

    def _match(self, step: int) -> None:
        if not self._words:
            self.action_search()
            return
        found = self.job.matching(self._words, step)
        if found is None:
            self.refuse(tr('No further event has "{words}".', words=self._words))
        else:
            self.go_to(found)

    # ---- what this program makes of it ----

    def action_today(self) -> None:
        """Beside it, or in its place where there is no room: the figures handed over, then and now."""
        self.toggle_class("-today")
        self.show()

    @on(Plan.CornerChosen)
    def corner_of_the_past(self, message: Plan.CornerChosen) -> None:
        """Nothing is asked in a replay."""
        message.stop()
        message.prevent_default()

    async def action_back(self) -> None:
        """Close what stands beside; from the bare replay, to the page before."""
        if self.has_class("-today"):
            self.action_today()
        else:
            await PageScreen.action_back(self)
