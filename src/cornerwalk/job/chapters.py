"""The chapters of the job in words: what each is called, what it holds, how far it is, what leaving it out costs."""

from __future__ import annotations

from datetime import datetime

from cornerwalk.job.open_job import OpenJob
from cornerwalk.session.chapters import Chapter
from cornerwalk.session.hold_test import hours_since, running
from cornerwalk.session.stages import ChapterId
from cornerwalk.words import tr


def chapter_name(chapter: ChapterId) -> str:
    """What it is called."""
    return {
        "intake": tr("Intake"),
        "before": tr("Before anything is changed"),
        "unloaded": tr("Heights unloaded"),
        "loaded": tr("Heights loaded, no air"),
        "fitting": tr("Fitting"),
        "air": tr("Air, trial by trial"),
        "leak": tr("Leak check"),
        "road": tr("Road test"),
        "handover": tr("Handover"),
        "follow-up": tr("Follow-up"),
    }[chapter]


def chapter_about(chapter: ChapterId) -> str:
    """What it holds."""
    return {
        "intake": tr("The customer's question; vehicle, ratings, lamps, kit, loads, hitch, the scale; presets."),
        "before": tr("What can end the job at once, what the height touches, what is found on the vehicle."),
        "unloaded": tr("The four heights that every change is counted from, under the same conditions each time."),
        "loaded": tr("The four heights as it will be driven, no air in: how far it hangs, where the beam points."),
        "fitting": tr("The work in its order, each caution at its step, and the torques by the maker's figures."),
        "air": tr("Pressure up in steps, the heights after each; which pressure brings it back, and how sure that is."),
        "leak": tr("Gauge and temperature at both ends of a night, soapy water on every joint, valve core and gauge."),
        "road": tr("The heights once more, what moved, what rubbed, what got hot; and the empty vehicle with air in."),
        "handover": tr("What was done, found and left; what the customer is told; the sheet and its code."),
        "follow-up": tr("Days or months later: the heights again, held against those of the handover."),
    }[chapter]


def chapter_cost(chapter: ChapterId) -> str:
    """What leaving it out costs."""
    return {
        "intake": tr("Left out: heights are still told, but no tilt, beam, axle load or limit."),
        "before": tr("Left out: a brake valve that forbids the springs is not seen, and old damage becomes yours."),
        "unloaded": tr("The job waits for this: without it nothing can be called a change."),
        "loaded": tr("The job waits for this: without it nobody knows what the springs have to bring back."),
        "fitting": tr("Left out: the record cannot show that it was done as the kit's sheet asks."),
        "air": tr("With one trial only no pressure can be told, with two it can, with three it is checked."),
        "leak": tr("Left out: a slow leak is found by the customer, on the road."),
        "road": tr("Left out: what settles or rubs shows only after miles."),
        "handover": tr("Left out: the job stays open, and the customer has no sheet."),
        "follow-up": tr("Left out: nothing; it is there for when the vehicle comes back."),
    }[chapter]


def chapter_state(job: OpenJob, chapter: Chapter, now: datetime) -> str:
    """How far it is, in a few words."""
    if chapter.id == "leak" and running(job.session):
        hours = hours_since(running(job.session)[0], now)
        return tr("holding for {hours}", hours=job.wording.hours(hours)) if hours is not None else tr("holding")
    if chapter.id == "handover":
        return tr("done") if chapter.done else tr("open")
    if chapter.id == "follow-up" and not chapter.done:
        return ""
    if chapter.id == "air":
        trials = len(job.session.trials)
        return tr("{count} trials", count=trials) if trials != 1 else tr("1 trial")
    return tr("{done} of {total}", done=chapter.done, total=chapter.total)


def look_name(key_id: str) -> str:
    """A page that is looked at, by its key, in the list of the whole job."""
    return {
        "job.stage": tr("this stage's conditions and marks"),
        "job.side": tr("from the side and from above"),
        "job.vehicle": tr("all facts, page by page"),
        "job.results": tr("what all readings mean"),
        "job.sheet": tr("the customer's sheet, its code"),
    }[key_id]
