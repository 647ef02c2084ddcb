"""Comparison page: figure by figure, how two sessions or stages differ, and whether that means anything."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from cornerwalk.assess.compare import BY_CHANCE, Caution, Comparison, Difference, FigureName, StagePair
from cornerwalk.assess.estimate import Estimate
from cornerwalk.report.document import Block, Bullets, Document, Heading, Paragraph, Table
from cornerwalk.report.text import WIDTH, as_text
from cornerwalk.session.stages import CORNERS
from cornerwalk.wording.figures import GAIN, FigureText, Wording, not_known
from cornerwalk.wording.names import air_place, corner_name
from cornerwalk.wording.results import stage_head
from cornerwalk.words import number, tr, tr_n

_FEW = 10
"""With fewer differences, none is expected beyond its U by chance."""


def compare_text(comparison: Comparison, wording: Wording, names: tuple[str, str], width: int = WIDTH) -> str:
    """The comparison as lines of at most `width` columns; `names` are what the two are called."""
    return as_text(comparison_page(comparison, wording, names), width)


def comparison_page(comparison: Comparison, wording: Wording, names: tuple[str, str]) -> Document:
    """The comparison as a report, for any form."""
    one, other = names
    blocks: list[Block] = []
    for pair in comparison.pairs:
        heads = _heads(pair, wording)
        blocks += [Heading(heads[0] if heads[0] == heads[1] else tr("{one} – {other}", one=heads[0], other=heads[1]))]
        blocks += _tables(pair.differences, wording, heads if one == other else names)
    if comparison.whole:
        blocks += [Heading(tr("The whole job")), *_tables(comparison.whole, wording, names)]
    if not comparison.pairs:
        blocks.append(Paragraph(tr("The two have no stage in common.")))
    blocks += [Heading(tr("Before you believe it")), Bullets(tuple(_notes(comparison)))]
    return Document(
        title=tr("Comparison"),
        subtitle=one if one == other else tr("{one} and {other}", one=one, other=other),
        blocks=tuple(blocks),
        footer=tr(
            "± U is twice the standard uncertainty (k = 2, about 95 %). A difference within U says nothing either way."
        ),
    )


def _heads(pair: StagePair, wording: Wording) -> tuple[str, str]:
    return stage_head(pair.one, wording), stage_head(pair.other, wording)


def _tables(differences: Sequence[Difference], wording: Wording, names: tuple[str, str]) -> Iterator[Block]:
    """What differs first, then what may not, then what cannot be compared."""
    if not differences:
        yield Paragraph(tr("Nothing is known in both."))
    groups = (
        (tr("These differences mean something:"), True),
        (tr("These lie within their uncertainty and say nothing either way:"), False),
        (tr("These cannot be compared:"), None),
    )
    for title, meaning in groups:
        rows = tuple(_row(each, wording) for each in differences if each.means_something is meaning)
        if rows:
            yield Paragraph(title)
            yield Table(head=("", *names, tr("difference")), rows=rows)


def _row(each: Difference, wording: Wording) -> tuple[str, ...]:
    text_of, difference_text = _figure_text(each.figure, wording)
    name = figure_name(each.figure)
    return (
        name if not each.place else tr("{figure}, {place}", figure=name, place=air_place(each.place)),
        _estimate_text(each.one, text_of),
        _estimate_text(each.other, text_of),
        "" if each.difference is None else _estimate_text(each.difference, difference_text),
    )


def _estimate_text(estimate: Estimate | None, text_of: FigureText) -> str:
    return not_known() if estimate is None else text_of(estimate.value, estimate.u)


def _figure_text(name: FigureName, wording: Wording) -> tuple[FigureText, FigureText]:
    """How a figure and a difference of it are worded."""
    if name in _RATES:
        text_of = _RATES[name](wording)
        return text_of, _more_or_less(text_of)
    match name:
        case "rake":
            return wording.rake, wording.rake
        case "nose up":
            return wording.tilt, wording.tilt
        case "left up":
            return wording.lean, wording.lean
        case "front change" | "rear change" | "ball":
            return wording.change_pm, wording.change_pm
        case "beam":
            return wording.moved, wording.moved
        case "wall" | "mark":
            return wording.above_mark if name == "wall" else wording.length, wording.moved
        case "measured aim":
            return lambda deg, u: wording.aim(deg, u, None), wording.tilt
        case _:
            return lambda mm, _: wording.height_with_unit(mm), wording.change_pm


def _in_an_hour(wording: Wording) -> FigureText:
    return lambda kPa, u: tr("{pressure} in an hour", pressure=wording.pressure(kPa, u))


_RATES: dict[FigureName, Callable[[Wording], FigureText]] = {
    "slope": lambda wording: wording.slope,
    "pressure": lambda wording: wording.pressure,
    "ride rate": lambda wording: wording.rate,
    "leak rate": _in_an_hour,
}
"""Figures whose difference is more or less, without a side."""


def _more_or_less(text_of: FigureText) -> FigureText:
    def difference_text(value: float, u: float | None) -> str:
        return GAIN.side(value or 1, text_of(abs(value), u))  # a difference of 0 is "0 more"

    return difference_text


def figure_name(name: FigureName) -> str:
    """What a figure is called."""
    corners = {f"height {corner}": corner_name(corner) for corner in CORNERS}
    if name in corners:
        return corners[name]
    return {
        "front height": tr("front, mean"),
        "rear height": tr("rear, mean"),
        "rake": tr("front against rear"),
        "front change": tr("front, moved"),
        "rear change": tr("rear, moved"),
        "nose up": tr("pitch"),
        "left up": tr("lean"),
        "ball": tr("hitch ball"),
        "beam": tr("low beam"),
        "wall": tr("cutoff on the wall"),
        "mark": tr("wall mark, as read"),
        "measured aim": tr("aim, from the wall mark"),
        "slope": tr("height gained with pressure"),
        "pressure": tr("pressure for the target height"),
        "ride rate": tr("rear ride rate"),
        "leak rate": tr("leak rate"),
    }[name]


def _notes(comparison: Comparison) -> Iterator[str]:
    differences = comparison.found
    meaning = sum(bool(each.means_something) for each in differences)
    yield tr_n(
        "{meaning} of {count} difference lies beyond its uncertainty.",
        "{meaning} of {count} differences lie beyond their uncertainty.",
        len(differences),
        meaning=meaning,
    )
    if len(differences) >= _FEW:
        expected = number(f"{len(differences) * BY_CHANCE:.1f}")
        yield tr("By chance alone about {expected} would, if nothing differed at all.", expected=expected)
    for caution in comparison.cautions:
        yield caution_text(caution)
    if any(each.figure == "ride rate" for each in differences):
        yield tr("The ride rate's uncertainty is that of the heights; how well the loads are known is not in it.")


def caution_text(caution: Caution) -> str:
    """What to know before a difference is believed, in a sentence."""
    return {
        "other day": tr("Floor, tire pressures, fuel and driver may differ from day to day; no ± here covers that."),
        "other vehicle": tr("These two are not the same vehicle, by license plate or description."),
        "other datum": tr("Heights were taken from different points, so they are not compared."),
        "other loads": tr("The loads differ, and with them everything a load moves."),
        "other kit": tr("The kits differ, by name."),
        "other wall": tr("The walls stood at different distances, so the beam at the wall is not compared."),
        "other pressure": tr("Stages with air are compared at different pressures."),
        "levelling": tr("Headlight leveling may have moved a beam by itself, or is not entered: beams are predicted."),
        "place assumed": tr("Tape repeatability is assumed; repeat readings would measure it."),
    }[caution]
