"""Every word that does something besides answering: what it is called, what it does, what it leads to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from unicodedata import normalize

from cornerwalk.line import doing, going
from cornerwalk.line.reply import Reply, Typed
from cornerwalk.line.settings import settings
from cornerwalk.words import tr, tr_in

Run = Callable[[Typed], Reply]


@dataclass(frozen=True, slots=True)
class Word:
    """One word: its English name, its short form, the name in the user's language, what may follow it, what it does."""

    name: str
    short: str
    local: str
    after: str
    about: str
    run: Run

    @property
    def form(self) -> str:
        """`undo (u)`, `fact NAME VALUE`."""
        short = f" ({self.short})" if self.short else ""
        return f"{self.local}{short} {self.after}".strip()


def words() -> tuple[Word, ...]:
    """Every word in the user's language, in the order of the help.

    A short form that is the language's yes or no gives way to it.
    """
    answers = (tr_in("short for yes", "y"), tr_in("short for no", "n"))

    def named(name: str, local: str, about: str, run: Run, short: str = "", after: str = "") -> Word:
        return Word(name, "" if short in answers else short, local, after, about, run)

    return (
        named(
            "help", tr_in("word", "help"), tr("what can be typed; a word after it tells more"), helped, "?", tr("WORD")
        ),
        named("undo", tr_in("word", "undo"), tr("take back what was recorded last"), doing.undo, "u"),
        named("redo", tr_in("word", "redo"), tr("bring back what undo took"), doing.redo),
        named(
            "again",
            tr_in("word", "again"),
            tr("read a corner again, in place of what stands; without a corner the last one"),
            doing.again,
            after=tr("RR"),
        ),
        named(
            "repeat",
            tr_in("word", "repeat"),
            tr("read a corner once more and average it with what stands"),
            doing.repeat,
            "r",
            tr("RR"),
        ),
        named(
            "skip",
            tr_in("word", "skip"),
            tr("skip this corner or question, with the reason"),
            doing.skip,
            "s",
            tr("REASON"),
        ),
        named("note", tr_in("word", "note"), tr("keep a note about what is in hand"), doing.note, after=tr("TEXT")),
        named(
            "pressure",
            tr_in("word", "pressure"),
            tr("state or correct the pressure of this stage; left and right with ; between"),
            doing.pressure,
            "p",
            tr("25"),
        ),
        named(
            "fact",
            tr_in("word", "fact"),
            tr("state one fact, such as wheelbase 119 in; - takes it back; alone it lists what is stated"),
            doing.fact,
            after=tr("NAME VALUE"),
        ),
        named(
            "intake",
            tr_in("word", "intake"),
            tr("the facts one by one; with job, vehicle, kit, hitch, trailer, lamps or leak only those"),
            doing.intake,
            after=tr("PART"),
        ),
        named("load", tr_in("word", "load"), tr("state a load and its place"), doing.load),
        named("unload", tr_in("word", "unload"), tr("take a load off the list"), doing.unload, after=tr("NAME")),
        named("checks", tr_in("word", "checks"), tr("the checklists"), going.checks, "c", tr("LIST")),
        named("conditions", tr_in("word", "conditions"), tr("what makes this stage comparable"), going.conditions),
        named("before", tr_in("word", "before"), tr("what is found, and what a height change touches"), going.before),
        named("fitting", tr_in("word", "fitting"), tr("the work, in its order, with its cautions"), going.fitting),
        named("torque", tr_in("word", "torque"), tr("tightened joints"), going.torque),
        named("weigh", tr_in("word", "weigh"), tr("passes over a scale"), going.weigh),
        named(
            "mark",
            tr_in("word", "mark"),
            tr("the cut-off on the wall against the lamp's own height unloaded, such as 2 below"),
            doing.mark,
            after=tr("2 below"),
        ),
        named(
            "leveller",
            tr_in("word", "leveller"),
            tr("where the dial of a manual headlamp leveller stands"),
            doing.leveller,
            after=tr("POSITION"),
        ),
        named("leak", tr_in("word", "leak"), tr("begin or end the hold test"), going.leak, after=tr("start or end")),
        named(
            "soap",
            tr_in("word", "soap"),
            tr("soapy water, joint by joint, or one by its name"),
            going.soap,
            after=tr("JOINT"),
        ),
        named(
            "earlier",
            tr_in("word", "earlier"),
            tr("what this vehicle or kit did last time, and how closely you place the tape"),
            going.earlier,
        ),
        named(
            "placing",
            tr_in("word", "placing"),
            tr("take the placing of the tape that your own repeats show, in this job"),
            going.placing,
        ),
        named("road", tr_in("word", "road"), tr("the road test: heights again, then its questions"), going.road),
        named("stage", tr_in("word", "stage"), tr("begin another stage"), going.stage, after=tr("NAME")),
        named("next", tr_in("word", "next"), tr("the next chapter of the job"), going.onward),
        named("leave", tr_in("word", "leave"), tr("leave these questions; back to the walk"), going.leave),
        named("why", tr_in("word", "why"), tr("why this question is asked"), going.why),
        named("where", tr_in("word", "where"), tr("where the job stands, and what is kept"), going.where, "w"),
        named("results", tr_in("word", "results"), tr("what everything came to so far"), going.results),
        named("report", tr_in("word", "report"), tr("the whole report for the file"), going.report),
        named("customer", tr_in("word", "customer"), tr("the customer's page"), going.customer),
        named("hand over", tr_in("word", "hand over"), tr("give the vehicle back and close the job"), going.hand_over),
        named(
            "reopen",
            tr_in("word", "reopen"),
            tr("take a handed-over job up again for a follow-up"),
            going.reopen,
            after=tr("REASON"),
        ),
        named("retry", tr_in("word", "retry"), tr("try again to write what is not on the disk"), going.retry),
        named(
            "move",
            tr_in("word", "move"),
            tr("go on in another folder, where the disk fails"),
            going.move,
            after=tr("FOLDER"),
        ),
        named(
            "settings",
            tr_in("word", "settings"),
            tr("list the settings; with a name and a value, change one"),
            settings,
            after=tr("NAME VALUE"),
        ),
        named("quit", tr_in("word", "quit"), tr("leave; what is kept stays kept"), going.leave_all, "q"),
    )


def word(name: str) -> Word:
    """The word of that English name.

    Raises:
        KeyError: there is none.
    """
    for each in words():
        if each.name == name:
            return each
    raise KeyError(name)


def spoken(text: str, *, alone: bool) -> tuple[Word, str] | None:
    """The word a text begins with, and the rest; None for an answer. `alone`: only where nothing follows the word.

    Accents may be left out: not every keyboard in a shop has them.
    """
    folded = _folded(text)
    for each in words():
        for called in (each.name, _folded(each.local), each.short):
            if called and folded == called:
                return each, ""
            if called and not alone and folded.startswith(f"{called} "):
                return each, text[len(called) :].strip()
    return None


def _folded(text: str) -> str:
    return "".join(normalize("NFD", character)[0] for character in text).casefold()


def helped(at: Typed) -> Reply:
    """What this question asks, and every word; with a word after it, that word."""
    found = spoken(at.rest, alone=True) if at.rest else None
    if found is not None:
        return Reply(said=(f"{found[0].form}: {found[0].about}.",), stays=True)
    if at.rest.casefold() in ("all", tr("all").casefold()):
        return Reply(said=tuple(f"{each.form}: {each.about}." for each in words()), stays=True)
    names = ", ".join(f"{each.local} ({each.short})" if each.short else each.local for each in words())
    said = (
        *at.question.opening(at.job),
        tr("Answer the question, or type one of these words: {words}.", words=names),
        tr("help and a word tells what it does, help all tells all of them."),
        tr("In a question that takes any words, begin with = to answer with one of these."),
    )
    return Reply(said=said, stays=True)
