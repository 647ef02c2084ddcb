"""Sessions of every sort to try outputs on: any part of a job missing, any text hostile."""

from __future__ import annotations

from hypothesis import strategies as st

from cornerwalk.session import events as h
from tests.support.jobs import InventedJob, job_of_events, separate_lines, worked_case

HOSTILE_TEXTS = (
    "\x1b]0;owned\x07\x1b[2J",
    "\u202eexe.fdp\u202c",
    "<script>alert(1)</script><img src=x onerror=alert(1)>",
    "[bold red]markup[/] $(rm -rf) `id`",
    '=HYPERLINK("x")',
    ") Tj ET Q BT (pwned) Tj /URI (x) >> endobj",
    "]]></style><svg onload=alert(1)>",
    "{0} {title} %s %n",
    "line\nbreak\r\ttab",
    "half \ud800 character",
    "王小明 김철수 さくら",
    "محمد علي",
    "דוד לוי",
    "สมชาย",
    "Łukasz Žižek Ἀθηνᾶ Дмитрий",
    "a" * 300,
    "𝔘𝔫𝔦 👨‍👩‍👧",
)
"""Texts a field may hold by accident or by ill will; a half character cannot be stored and is left out of sessions."""

STORABLE = tuple(text for text in HOSTILE_TEXTS if "\ud800" not in text)

texts = st.one_of(st.sampled_from(STORABLE), st.text(max_size=40))

_events = [event.payload for make in (worked_case, separate_lines) for event in make().events[1:]]


@st.composite
def jobs(draw: st.DrawFn) -> InventedJob:
    """A session of some of the events of two whole jobs, with hostile texts wherever there is a free text."""
    kept = draw(st.lists(st.sampled_from(range(len(_events))), unique=True, max_size=len(_events)))
    text = draw(texts)
    events: list[h.Event] = [
        h.JobOpened(session="x", job=draw(st.sampled_from(("fit", "adjust", "load check"))), title=text, program="0"),
        *(_events[position] for position in sorted(kept)),
    ]
    if draw(st.booleans()):
        events += hostile_events(text)
    return job_of_events(events)


def hostile_events(text: str) -> list[h.Event]:
    """The same text in every place where a free text can stand."""
    facts = ("job.customer", "job.complaint", "vehicle.description", "vehicle.registration", "kit.name", "kit.sheet")
    return [
        *(h.FactStated(name=name, entered=text, value=text) for name in (*facts, "lamps.rule", "hitch.setting")),
        h.LoadStated(name=text, entered="1 lb", weight_N=4.448, place_entered=text, ahead_mm=-1000.0),
        h.CornerSkipped(stage="follow-up", corner="LF", reason=text),
        h.LevellerSet(stage="loaded", position=text),
        h.CheckAnswered(check=text, answer="no", note=text),
        h.TorqueRecorded(
            joint=text,
            specified_entered=text,
            specified_Nm=None,
            source=text,
            reached_entered=text,
            reached_Nm=None,
        ),
        h.JointSoaped(joint=text, bubbles=True, note=text),
        h.NoteWritten(text=text),
        h.HandedOver(to=text, figures={}, program=text),
        h.JobReopened(reason=text),
    ]
