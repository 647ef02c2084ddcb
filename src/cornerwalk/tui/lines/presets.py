"""Presets as lines: start from what was kept for next time, and keep what is stated now."""

from __future__ import annotations

from collections.abc import Iterator

from cornerwalk.sheet.preset import What, can_be_kept, keep_preset, preset_happenings, presets
from cornerwalk.tui.answers.say_back import SayBack
from cornerwalk.tui.job import OpenJob
from cornerwalk.tui.lines.line import Line, Option, Part, Texts, Troubles, one, trouble_of
from cornerwalk.words import tr, tr_n
from cornerwalk.words.safe import harmless


def start_lines(job: OpenJob) -> Iterator[Line]:
    """One line to start from a preset, where there is any."""
    found = presets(job.context.presets_folder)
    if not found:
        return
    options = tuple(Option(str(n), harmless(preset.name), preset.name) for n, preset in enumerate(found, start=1))
    paths = {preset.name: preset.path for preset in found}

    def keeps(texts: Texts) -> SayBack:
        try:
            would = preset_happenings(paths[texts[0]], job.context.clock())
        except Troubles as error:
            return SayBack(trouble=trouble_of(error))
        told = tr_n("{count} entry is taken over", "{count} entries are taken over", len(would))
        return SayBack(lines=(("quiet", told),), would=would)

    yield Line(
        id="preset.start",
        name=tr("start from a preset"),
        group=tr("Kept for next time"),
        part=one(Part(question=tr("Start from which?"), options=options)),
        keeps=keeps,
        why=tr("Vehicle, kit and loads as they were kept; every value can be stated anew."),
    )


def keep_lines(job: OpenJob) -> Iterator[Line]:
    """A line for each part that can be kept."""
    kinds: tuple[tuple[What, str, str], ...] = (
        ("vehicle", tr("keep the vehicle"), job.session.vehicle.description),
        ("kit", tr("keep the kit"), job.session.kit.name),
        ("set-up", tr("keep all of it"), job.session.vehicle.description),
    )
    for what, name, suggested in kinds:
        if can_be_kept(job.session, what):
            yield _keep_line(job, what, name, harmless(suggested))


def _keep_line(job: OpenJob, what: What, name: str, suggested: str) -> Line:
    def does(texts: Texts) -> str:
        path = keep_preset(job.session, what, texts[0] or suggested, job.context.presets_folder)
        return tr("kept for next time: {name}", name=path.stem)

    def part(texts: Texts) -> Part | None:
        if texts:
            return None
        told = (tr("Nothing of the customer, the day or the readings goes along."),)
        hint = tr("Enter alone leaves it") if not suggested else ""
        return Part(question=tr("Under which name is it kept for next time?"), stands=suggested, hint=hint, told=told)

    return Line(
        id=f"preset.keep.{what}",
        name=name,
        group=tr("Kept for next time"),
        part=part,
        does=does,
        keeps=lambda _texts: SayBack(lines=(("quiet", tr("Enter keeps it for next time.")),)),
    )
