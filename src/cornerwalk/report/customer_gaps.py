"""Gaps of a job in an owner's words: what was not checked, and why it matters to whoever drives the vehicle."""

from __future__ import annotations

from collections.abc import Iterator

from cornerwalk.assess.assessment import Assessment
from cornerwalk.session.model import Session
from cornerwalk.wording.checks import check_name
from cornerwalk.wording.names import rating_word
from cornerwalk.words import tr

_RATINGS = {
    "front-axle-rating": "front axle",
    "rear-axle-rating": "rear axle",
    "front-tires-rating": "front tyres",
    "rear-tires-rating": "rear tyres",
    "gross-rating": "gross",
    "combined-rating": "combined",
    "trailer-rating": "trailer",
    "loading-label": "",
    "weighings-agree": "",
}
"""Checks that need a scale, by the rating they look at."""

_HITCHED = "-hitched"
_OPEN_ANSWERS = ("not checked", "customer declined")
INSTALLATION = (
    "stands",
    "nothing-hanging",
    "bolts-at-height",
    "wheels-torqued",
    "bag-seated",
    "line-route",
    "clearance-loaded",
)
"""Questions whose answer an owner would ask for first."""


def gap_lines(session: Session, assessment: Assessment) -> tuple[str, ...]:
    """What was not checked, a sentence each with its reason, each reason once; the installation first."""
    lines = [*_installation(session), *_weights(assessment)]
    lines += [_reason(gap.id) or check_name(gap) for gap in assessment.not_checked if not _is_weight(gap.id)]
    return tuple(dict.fromkeys(lines))


def open_questions(session: Session) -> frozenset[str]:
    """The questions of `INSTALLATION` that nobody answered, or that were left open."""
    if session.job.kind != "fit" or not any(stage.name == "fitted" for stage in session.stages):
        return frozenset()
    answered = {answer.check for answer in session.answers if answer.answer not in _OPEN_ANSWERS}
    joints = {torque.joint for torque in session.torques}
    answered |= {"wheels-torqued"} if "wheel nuts" in joints else set()
    answered |= {"bolts-at-height"} if "control-arm bolts, at ride height" in joints else set()
    return frozenset(INSTALLATION) - answered


def _installation(session: Session) -> Iterator[str]:
    left_open = open_questions(session)
    texts = {
        "stands": tr("Jack stands and lift points: a wrong lift point can bend or dent the underbody."),
        "nothing-hanging": tr("Brake hoses and cables left hanging: a stretched hose can leak later."),
        "bolts-at-height": tr("Control-arm bolts at ride height: tightened elsewhere, bushings twist and wear out."),
        "wheels-torqued": tr("Lug nuts with a torque wrench: a loose wheel can come off."),
        "bag-seated": tr("How the bags sit in the coils: a pinched bag wears through."),
        "line-route": tr("Air line clear of exhaust and tires: a burned or rubbed line lets a bag go flat."),
        "clearance-loaded": tr("Clearance around the bags with the load on: a bag that rubs wears through."),
    }
    for question in INSTALLATION:
        if question in left_open:
            yield texts[question]


def _is_weight(check: str) -> bool:
    return check.removesuffix(_HITCHED) in _RATINGS


def _weights(assessment: Assessment) -> Iterator[str]:
    checks = [gap.id.removesuffix(_HITCHED) for gap in assessment.not_checked if _is_weight(gap.id)]
    names = dict.fromkeys(rating_word(_RATINGS[check]) for check in checks if _RATINGS[check])
    if names:
        yield tr(
            "Weight against the ratings ({what}): heights do not show an overload. Have the loaded vehicle weighed.",
            what=", ".join(names),
        )
    elif checks:
        yield tr("Weight against the labels: heights do not show an overload. Have the loaded vehicle weighed.")


def _reason(check: str) -> str:
    """Why the check matters, by its code; "" for one that has no sentence here."""
    beam = tr("Where the low beams aim: they may blind oncoming drivers, or light too little of the road.")
    spec = tr("Low beams against a written aim spec: whoever aims the headlights should use one.")
    heights = tr("All four heights: without them nobody knows what load and air did to the vehicle.")
    lean = tr("Whether the vehicle leans: a lean can mean a weak coil spring or a load to one side.")
    leak = tr("Whether the air stays in: a slow leak can leave a bag flat overnight. Check it tomorrow.")
    limits = tr("The kit's pressure limits: too little air pinches a bag, too much can burst it.")
    hitch = tr("Tongue weight: too little lets a trailer sway, too much overloads the hitch and the rear axle.")
    bars = tr("What the hitch's spring bars put back on the front axle: a light front steers and brakes badly.")
    known = {
        "brake-valve": tr("A rear brake valve that senses height or load: with one, the vehicle may stop too late."),
        "conditions": tr(
            "Ground, tires, fuel and driver at each reading: if they changed, the heights are a little off."
        ),
        "beam-below-level": beam,
        "beam-within-rule": spec,
        "beam-within-rule-upper": spec,
        "beam-within-rule-lower": spec,
        "lamp-height-lowest": spec,
        "lamp-height-highest": spec,
        "heights": heights,
        "heights-unloaded": heights,
        "heights-loaded": heights,
        "heights-fitted": heights,
        "corners-on-a-plane": tr("Whether a height was misread: one wrong reading changes the pressure we give."),
        "side-to-side-front": lean,
        "side-to-side-rear": lean,
        "rear-not-above-unloaded": tr("Whether the rear stands too high: that makes the front light."),
        "pressure-maximum": limits,
        "pressure-minimum": limits,
        "rated-support": tr("The load on the bags against what the kit may carry: too much can damage bag or mounts."),
        "pressure-held": leak,
        "pressure-held-both": leak,
        "pressure-held-left": leak,
        "pressure-held-right": leak,
        "soaped-joints": leak,
        "hitch-rating": hitch,
        "tongue-share": hitch,
        "front-axle-restored": bars,
        "front-axle-restored-by-rule": bars,
        "front-axle-restored-lower": bars,
        "front-axle-restored-upper": bars,
    }
    return known.get(check, "")
