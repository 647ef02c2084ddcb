"""Names in words: corners, stages, jobs, verdicts, answers, weighings. Never a figure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cornerwalk.session.stages import _STAGE_KINDS, JobKind, StageName
from cornerwalk.words import tr, tr_in

if TYPE_CHECKING:
    from collections.abc import Iterable

    from cornerwalk.assess.assessment import Level, Overall
    from cornerwalk.assess.verdict import Verdict
    from cornerwalk.session.events import Answer, Weighing
    from cornerwalk.session.model import StageKey
    from cornerwalk.session.stages import Corner


def corner_name(corner: Corner) -> str:
    """`left front`; left and right are the driver's."""
    return {
        "LF": tr("left front"),
        "RF": tr("right front"),
        "RR": tr("right rear"),
        "LR": tr("left rear"),
    }[corner]


def corner_short(corner: Corner) -> str:
    """The same on a card of the drawing, which has room for ten characters: a translator may shorten it there."""
    return {
        "LF": tr_in("on a card of ten characters", "left front"),
        "RF": tr_in("on a card of ten characters", "right front"),
        "RR": tr_in("on a card of ten characters", "right rear"),
        "LR": tr_in("on a card of ten characters", "left rear"),
    }[corner]


def stage_name(name: StageName) -> str:
    """The state the vehicle is in at a stage of that name."""
    return tr(_STAGE_KINDS[name].label)


def stage_title(key: StageKey) -> str:
    """A stage of the session: `loaded, no air`, `fitted, trial 2`, `follow-up, no. 2`."""
    name, number = key
    if name == "fitted":
        return tr("installed, trial {number}", number=number)
    if number == 1:
        return stage_name(name)
    return tr("{stage}, no. {number}", stage=stage_name(name), number=number)


def is_stage_name(text: str) -> bool:
    """Whether this is the name of a stage, as a check's text may end with one."""
    return text in _STAGE_KINDS


def job_name(kind: JobKind) -> str:
    """What was to be done."""
    return {
        "fit": tr("helper spring installation"),
        "adjust": tr("helper spring adjustment"),
        "load check": tr("load check"),
    }[kind]


def level_word(level: Level) -> str:
    """How serious a finding is."""
    return {"stop": tr("STOP"), "caution": tr("Caution"), "note": tr("Note")}[level]


def verdict_word(verdict: Verdict | Overall) -> str:
    """A verdict in a word or two."""
    return {
        "pass": tr("pass"),
        "conditional pass": tr("marginal pass"),
        "not checked": tr("not checked"),
        "conditional fail": tr("marginal fail"),
        "fail": tr("fail"),
    }[verdict]


def overall_sentence(overall: Overall) -> str:
    """What the worst verdict means for the whole job."""
    return {
        "pass": tr("Every check asked for was made and passed."),
        "conditional pass": tr("Every check passed, at least one too close to its limit to be certain."),
        "not checked": tr("Nothing failed, but not every check could be made: see what was not checked."),
        "conditional fail": tr("At least one check failed, but too close to its limit to be certain."),
        "fail": tr("At least one check failed."),
    }[overall]


def answer_word(answer: Answer | str) -> str:
    """An answer of a checklist."""
    known = {
        "yes": tr("yes"),
        "no": tr("no"),
        "not checked": tr("not checked"),
        "not fitted": tr("not equipped"),
        "referred": tr("referred"),
        "customer declined": tr("customer declined"),
    }
    return known.get(answer, answer)


def standing_word(standing: str) -> str:
    """How well the source of a limit is known."""
    known = {
        "seen": tr("read at the source"),
        "seen second-hand": tr("read second-hand"),
        "second-hand": tr("read second-hand"),
        "memory": tr("from memory"),
        "common practice": tr("common practice, no source"),
        "derived": tr("derived"),
        "own": tr("entered for this job"),
        "assumed": tr("assumed"),
    }
    return known.get(standing) or tr(standing)


def air_place(where: str) -> str:
    """The bags a fit of air belongs to, or the axle of a check: `the rear`, `left rear`, `front`."""
    known = {
        "rear": tr("rear"),
        "front": tr("front"),
        "LR": tr("left rear"),
        "RR": tr("right rear"),
        "both": tr("both bags"),
        "left": tr("left"),
        "right": tr("right"),
    }
    return known.get(where, where)


def air_reason(reason: str | None) -> str:
    """Why there is no recommended pressure."""
    known = {
        None: "",
        "no trials": tr("no trials"),
        "one trial": tr("only one pressure was tried"),
        "one pressure": tr("one pressure"),
        "readings missing": tr("readings missing"),
        "air does not raise the rear": tr("air does not raise the rear"),
        "pressures too close": tr("pressures too close"),
        "target missing": tr("target missing"),
        "kit limits missing": tr("kit limits missing"),
        "kit limits crossed": tr("kit limits crossed"),
        "out of all proportion": tr("out of all proportion"),
        "more air did not raise the rear": tr(
            "more air did not raise the rear: look for a leak, a kinked line or a bag not seated"
        ),
        "level control at work": tr("a level control is at work: switch it off, then read again"),
        "air lowered the rear": tr("the rear is lower with air than without: load, reading or hose"),
        "kit too strong": tr("this kit is too strong for this load: its minimum already lifts the rear too far"),
    }
    return known.get(reason, str(reason))


def rating_word(rating: str) -> str:
    """Whose rating it is: `front axle`; gross and combined are the vehicle's, with its trailer."""
    known = {
        "front axle": tr("front axle"),
        "rear axle": tr("rear axle"),
        "front tyres": tr("front tires"),
        "rear tyres": tr("rear tires"),
        "gross": tr("gross"),
        "combined": tr("combined"),
        "hitch": tr("hitch"),
        "trailer": tr("trailer"),
    }
    return known.get(rating, rating)


def lamp_datum_word(datum: str) -> str:
    """What a rule measures the lamp's height to."""
    return {"lamp centre": tr("headlight center"), "lower edge": tr("lower edge")}.get(datum, datum)


def joint_name(joint: str) -> str:
    """A joint by the code of the usual ones; one that somebody named as it is."""
    known = {
        "wheel nuts": tr("lug nuts"),
        "control-arm bolts, at ride height": tr("control-arm bolts, at ride height"),
        "left bag": tr("left bag"),
        "right bag": tr("right bag"),
        "tee or line joints": tr("tee or line joints"),
        "valve": tr("valve"),
        "valve core, cap off": tr("valve core, cap off"),
        "gauge": tr("gauge"),
    }
    return known.get(joint, joint)


def joint_called(text: str, usual: Iterable[str]) -> str:
    """The usual joint of that name in the user's language, or of that code; any other text is a joint of one's own."""
    wanted = text.casefold()
    return next((joint for joint in usual if wanted in (joint.casefold(), joint_name(joint).casefold())), text)


def weighing_name(weighing: Weighing) -> str:
    """What stood on the scale."""
    return {
        "unhitched": tr("unhitched"),
        "hitched": tr("hitched, bars off"),
        "distributed": tr("hitched, bars on"),
    }[weighing]


def uncertainty_word(source: str) -> str:
    """What adds to an uncertainty, or what was assumed about a reading: `graduation`."""
    known = {
        "graduation": tr("graduation"),
        "placing": tr("tape repeatability"),
        "place": tr("place"),
        "wheelbase": tr("wheelbase"),
        "aim unloaded": tr("aim unloaded"),
        "friction front": tr("settling, front"),
        "friction rear": tr("settling, rear"),
        "lamp place": tr("place of the lamp"),
        "overhang": tr("ball behind the axle"),
        "load place": tr("place of the load"),
        "wall": tr("distance of the wall"),
        "mark": tr("mark on the wall"),
        "loads": tr("stated loads"),
        "scale": tr("scale"),
        "tire rate": tr("rate of the tires"),
        "gauge": tr("gauge"),
        "temperature": tr("temperature"),
        "weather": tr("weather"),
        "bag": tr("give of the bags"),
    }
    return known.get(source, source)


def uncertainty_remedy(source: str) -> str:
    """What makes the ± of this source smaller; empty where nothing is known that does."""
    settle = tr("lift and press the body, read both")
    measure = tr("measure it, and enter how surely")
    weigh = tr("weigh it")
    known = {
        "graduation": tr("a tape with finer marks"),
        "placing": tr("mark the point, read twice"),
        "friction front": settle,
        "friction rear": settle,
        "wheelbase": measure,
        "lamp place": measure,
        "overhang": measure,
        "load place": measure,
        "wall": measure,
        "mark": tr("mark it again, several times"),
        "aim unloaded": tr("mark the beam on the wall, unloaded"),
        "loads": weigh,
        "scale": tr("a scale with finer steps"),
        "tire rate": tr("enter the rate of one tire"),
        "gauge": tr("a gauge with finer marks"),
        "temperature": tr("read both ends at one temperature"),
        "weather": tr("read a barometer at both ends"),
        "bag": tr("enter the volume of one bag"),
    }
    return known.get(source, "")


def slip_word(slip: str) -> str:
    """How a height may have been misread or mistyped: `whole inch`."""
    known = {
        "whole centimetre": tr("whole centimeter"),
        "half centimetre": tr("half centimeter"),
        "whole inch": tr("whole inch"),
        "half inch": tr("half inch"),
        "wrong digit": tr("wrong digit"),
        "swapped digits": tr("swapped digits"),
        "cm for mm": tr("cm for mm"),
        "mm for cm": tr("mm for cm"),
        "fraction from the wrong end": tr("fraction from the wrong end"),
        "wrong fraction": tr("wrong fraction"),
        "wrong denominator": tr("wrong denominator"),
        "digit and fraction swapped": tr("digit and fraction swapped"),
    }
    return known.get(slip, slip)
