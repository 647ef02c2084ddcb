"""Outlier detection: was a reading misread, and which one? All stages of a job are examined together.

Each stage's four heights have a warp W = (LF − RF − LR + RR)/4. It is the body's own and the floor's, hence the same
at every stage whatever springs and load do; the change of it is w of `attitude`. The alarm asks whether the W of all
stages agree:

    Q = Σ (Wᵢ − W̄)²/u²(Wᵢ),  W̄ their weighted mean;  alarm if Q > χ²(stages − 1) at 97 %

With two stages Q is (w/u(w))², and the alarm |w| > 2.17u(w). Asking |w| > 2u(w) of each stage in turn instead would
stop 5 to 11 of 100 honest jobs of three stages: a false alarm gets likelier with every trial, and since heights come
in whole marks of the tape, even one w jumps past 2u in up to 6 of 100. Q keeps it below 4 for any number of stages and
the tapes in use; the tests count it. A w beyond 2u is reported as `beyond` besides.

w alone cannot say which corner: a whole inch at any of the four moves it by a quarter inch. So every plausible slip
(`slips`) of every reading that would settle the alarm is weighed by what else is known of bodies on springs
(`walked_body`), and an honest reading is far more common than a slip.

A corner is named only if every slip within 1 : 50 of the likeliest is of that one reading; the true height only if
there is one such slip. Otherwise the readings it may be are listed. How often that is wrong,
the tests measure on simulated jobs of another making.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from cornerwalk.assess.assessment import Misread
from cornerwalk.assess.attitude import changes, warp_mm
from cornerwalk.assess.estimate import COVERAGE
from cornerwalk.assess.rigid_body import SLIP_CHANCE, Explanation, RigidBody, StageHeights, Tape
from cornerwalk.assess.stage_results import StageFigures
from cornerwalk.assess.usable import positive, usable
from cornerwalk.session.model import Session, Stage, StageKey
from cornerwalk.session.stages import AIR_STAGES, CORNERS, LOADED_STAGES, REFERENCE_STAGE, Corner

PLAUSIBLE = math.log(50)
"""A slip this much less likely than the likeliest (log of the odds) is left out."""


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading that may be a slip: stage by its place in the list, the slip and the height that was there.

    `slip` and `likely_mm` are None where several slips of this reading are plausible.
    """

    stage: int
    corner: Corner
    slip: str | None
    likely_mm: float | None


@dataclass(frozen=True, slots=True)
class OutlierSearch:
    """`beyond`: for each stage whether its |w| exceeds 2u(w) (the first never). `suspects`: the likeliest first."""

    alarm: bool
    beyond: tuple[bool, ...]
    suspects: tuple[Suspect, ...] = ()

    @property
    def named(self) -> Suspect | None:
        """The one reading it must be."""
        return self.suspects[0] if len(self.suspects) == 1 else None


NOTHING = OutlierSearch(alarm=False, beyond=())


def find_outliers(walked: Sequence[StageHeights], tape: Tape) -> OutlierSearch:
    """Look through the stages of a job, the unloaded one first. Stages with less than four heights are left out.

    `tape` says what the readings were taken with, since slips on an inch tape have other shapes than metric ones.
    """
    if len(walked) < 2 or not all(_complete(stage) for stage in walked):
        return NOTHING
    beyond = (False, *(_beyond(walked[0], stage) for stage in walked[1:]))
    body = RigidBody(walked)
    if not body.disagree:
        return OutlierSearch(alarm=False, beyond=beyond)
    weighed = sorted(body.explanations(tape), key=lambda found: found.log_odds, reverse=True)
    honest = body.log_odds(None) + math.log(1 - SLIP_CHANCE)
    if not weighed or honest > weighed[0].log_odds - PLAUSIBLE:
        return OutlierSearch(alarm=True, beyond=beyond)
    plausible = [found for found in weighed if found.log_odds > weighed[0].log_odds - PLAUSIBLE]
    places = dict.fromkeys((found.stage, found.corner) for found in plausible)
    return OutlierSearch(alarm=True, beyond=beyond, suspects=tuple(_suspect(place, plausible) for place in places))


def _complete(stage: StageHeights) -> bool:
    heights = (stage.heights.get(corner) for corner in CORNERS)
    return all(h is not None and usable(h.value) and positive(h.u) for h in heights)


def _beyond(reference: StageHeights, stage: StageHeights) -> bool:
    w = warp_mm(changes(stage.heights, reference.heights))
    return w is not None and abs(w.value) > COVERAGE * w.u


def _suspect(place: tuple[int, Corner], plausible: Sequence[Explanation]) -> Suspect:
    own = [found.slip for found in plausible if (found.stage, found.corner) == place]
    stage, corner = place
    return Suspect(stage, corner, own[0].code, own[0].true_mm) if len(own) == 1 else Suspect(stage, corner, None, None)


# ---- session outliers ----


@dataclass(frozen=True, slots=True)
class Misreads:
    """`alarm`: the stages do not agree with one rigid body; `of_stage` what is said at each stage."""

    alarm: bool
    of_stage: tuple[Misread | None, ...]


def misreads(session: Session, figures: Sequence[StageFigures]) -> Misreads:
    """The misread check over every stage with four heights, the unloaded one first."""
    silent = Misreads(alarm=False, of_stage=(None,) * len(figures))
    full = [each for each in figures if all(each.result.estimates.wheel[corner] is not None for corner in CORNERS)]
    if not full or full[0].result.name != REFERENCE_STAGE:
        return silent
    keys = [each.result.key for each in full]
    found = find_outliers([_walked(session, each) for each in full], _tape(session))
    if not found.alarm:
        return silent
    said = dict(_said(found, keys))
    return Misreads(alarm=True, of_stage=tuple(said.get(each.result.key) for each in figures))


def _tape(session: Session) -> Tape:
    return "inch" if session.job.unit == "inch" else "metric"


def _walked(session: Session, each: StageFigures) -> StageHeights:
    stage = session.stage(each.result.key)
    texts = {c: r[-1].entered for c in CORNERS if stage is not None and (r := stage.corner(c).readings)}
    return StageHeights(
        heights={corner: height for corner, height in each.result.estimates.wheel.items() if height is not None},
        loaded=each.result.name in LOADED_STAGES,
        air_kPa=_air_kPa(stage) if each.result.name in AIR_STAGES else 0.0,
        entered=texts,
    )


def _air_kPa(stage: Stage | None) -> float | None:
    if stage is None:
        return None
    if stage.pressure_kPa is not None:
        return stage.pressure_kPa
    sides = [kPa for kPa in (stage.left_kPa, stage.right_kPa) if kPa is not None]
    return sum(sides) / len(sides) if sides else None


def _said(found: OutlierSearch, keys: Sequence[StageKey]) -> list[tuple[StageKey, Misread]]:
    """At the named reading's own stage; else at every stage whose warp stands out, or at the last."""
    suspects = tuple((keys[suspect.stage], suspect.corner) for suspect in found.suspects)
    named = found.named
    if named is not None:
        return [(keys[named.stage], _misread(keys[named.stage], named, suspects))]
    places = [key for key, beyond in zip(keys, found.beyond, strict=True) if beyond] or [keys[-1]]
    return [(key, Misread(stage=key, corner=None, slip=None, likely_mm=None, suspects=suspects)) for key in places]


def _misread(key: StageKey, named: Suspect, suspects: tuple[tuple[StageKey, Corner], ...]) -> Misread:
    return Misread(stage=key, corner=named.corner, slip=named.slip, likely_mm=named.likely_mm, suspects=suspects)
