"""Command `rules`: every aim rule with its limits, its source and how well that source is known."""

from __future__ import annotations

import textwrap
from argparse import Namespace, _SubParsersAction
from collections.abc import Iterator
from math import inf
from typing import TYPE_CHECKING

from cornerwalk.cli.output import say, tell
from cornerwalk.cli.parsers import DONE, Parser, add_command
from cornerwalk.words import number, tr
from cornerwalk.words.safe import harmless

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.standards import AimRule, BandPiece
    from cornerwalk.standards.aim import LinearLimit
    from cornerwalk.wording.figures import Wording

_WIDTH = 78


def add(commands: _SubParsersAction[Parser]) -> None:
    """Add the command."""
    add_command(
        commands,
        "rules",
        tr("list the aim specs with their sources"),
        more=tr("Each with its limits and how well its source is known."),
        example="cornerwalk --units metric rules",
        run=run,
    )


def run(_arguments: Namespace, environment: Environment) -> int:
    """Print them, and what was refused of the shop's own."""
    from cornerwalk.wording.figures import Wording

    wording = Wording(environment.units_shown("inch"))
    for rule in environment.standards.aim_rules.values():
        say(f"{rule.id}: {tr(rule.title)}")
        for text in _rule_lines(rule, wording):
            say(textwrap.fill(harmless(text), _WIDTH, initial_indent="    ", subsequent_indent="    "))
        say("")
    for refused in environment.standards.refused:
        tell(*refused.lines(tr), tr("Nothing of this file is used."))
    say(tr("None of them is chosen silently: a job names its own. Local law and the vehicle maker come first."))
    return DONE


def _rule_lines(rule: AimRule, wording: Wording) -> Iterator[str]:
    from cornerwalk.wording.names import standing_word

    if rule.nominal_deg is not None:
        yield tr("aim: {aim}", aim=wording.aim(rule.nominal_deg, None, rule.nominal_percent))
    if rule.deviation_mm is not None:
        length, screen = wording.length(rule.deviation_mm), wording.screen(rule.distance_mm)
        yield tr("limits: {length} either way at {distance}", length=length, distance=screen)
    for piece in rule.pieces:
        text = tr("limits: {limits}", limits=_limits(rule, piece, wording))
        yield text if piece.standing == rule.standing else f"{text} ({standing_word(piece.standing)})"
    if rule.load_state:
        yield tr("measured: {state}", state=tr(rule.load_state))
    if rule.note:
        yield tr(rule.note)
    source = tr(rule.source) if not rule.clause else f"{tr(rule.source)}, {tr(rule.clause)}"
    yield tr("source: {source} ({standing})", source=source, standing=standing_word(rule.standing))


def _limits(rule: AimRule, piece: BandPiece, wording: Wording) -> str:
    """`0.5 % down to 2.75 % down, for lamps up to 850 mm (lower edge)`."""
    from cornerwalk.wording.names import lamp_datum_word

    ends = [_limit(line) for line in (piece.upper, piece.lower)]
    upper, lower = (end or tr("no limit") for end in ends)
    limits = tr("{upper} to {lower}", upper=upper, lower=lower)
    low = wording.length(piece.from_mm) if piece.from_mm > 0 else ""
    high = wording.length(piece.to_mm) if piece.to_mm < inf else ""
    datum = lamp_datum_word(rule.datum)
    if low and high:
        return tr(
            "{limits}, for headlights from {low} to {high} ({datum})", limits=limits, low=low, high=high, datum=datum
        )
    if low:
        return tr("{limits}, for headlights from {low} up ({datum})", limits=limits, low=low, datum=datum)
    if high:
        return tr("{limits}, for headlights up to {high} ({datum})", limits=limits, high=high, datum=datum)
    return limits


def _limit(line: LinearLimit | None) -> str:
    if line is None:
        return ""
    if line.per_metre:
        formula = f"{line.at_zero:g} {'+' if line.per_metre > 0 else '−'} {abs(line.per_metre):g}·h"
        return tr("{formula} % (up positive, h the height in m)", formula=formula)
    figure = number(f"{abs(line.at_zero):g}") + " %"
    if line.at_zero == 0:
        return tr("level")
    return tr("{figure} up", figure=figure) if line.at_zero > 0 else tr("{figure} down", figure=figure)
