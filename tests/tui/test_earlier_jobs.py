"""What earlier jobs of the library say beside the results of a new one: a figure to take as the setting, and a hint."""

from __future__ import annotations

import asyncio
from pathlib import Path

from cornerwalk.context import Walk
from cornerwalk.session.corners import CLOCKWISE
from cornerwalk.session.happenings import Happening, HeightRead, JobOpened, StageBegun
from cornerwalk.session.statements import state_fact
from tests.tui.driving import Driver, context_of, driven

VAN = {"vehicle.description": "van, invented", "vehicle.wheelbase": "119 in", "job.technician": "MT"}


def opened(name: str) -> list[Happening]:
    """A job on the van, with what is known of it."""
    first = JobOpened(session=name, job="fit", title=name, program="0")
    return [first, *(state_fact(fact, text, "inch") for fact, text in VAN.items())]


def read(stage: str, number: int, heights_mm: tuple[float, ...], repeat_mm: float = 0.0) -> list[Happening]:
    """Four heights, each read a second time `repeat_mm` higher where that is asked for."""
    told: list[Happening] = []
    for corner, mm in zip(CLOCKWISE, heights_mm, strict=True):
        place = {"stage": stage, "number": number, "corner": corner}
        told.append(HeightRead(**place, entered=f"{mm} mm", mm=mm))  # type: ignore[arg-type]
        if repeat_mm:
            again_mm = mm + repeat_mm
            told.append(HeightRead(**place, entered=f"{again_mm} mm", mm=again_mm, how="repeat"))  # type: ignore[arg-type]
    return told


def an_earlier_job() -> list[Happening]:
    """Twelve corners read twice, 1 mm apart (invented): s = 1/√2 mm of 12 degrees of freedom; two trials of air."""
    return [
        *opened("earlier"),
        *read("unloaded", 1, (727.0, 728.0, 741.0, 742.0), 1.0),
        StageBegun(stage="fitted", number=1, pressure_entered="15 psi", pressure_kPa=15 * 6.894757293168361),
        *read("fitted", 1, (733.0, 735.0, 717.0, 720.0), 1.0),
        StageBegun(stage="fitted", number=2, pressure_entered="25 psi", pressure_kPa=25 * 6.894757293168361),
        *read("fitted", 2, (733.0, 735.0, 728.0, 731.0), 1.0),
    ]


async def pages(folder: Path, *, earlier: bool) -> tuple[str, str]:
    """What the pages on air and on sureness say of a new job on the same van."""
    context = context_of(folder)
    if earlier:
        context.library.create(*an_earlier_job()).close()
    path = context.library.create(*opened("new"))
    path.close()
    said: list[str] = []

    async def see(d: Driver, page: str) -> None:
        await d.press(page)
        await d.app.workers.wait_for_complete()
        await d.pilot.pause()
        await d.press("end")
        said.append(d.text)

    async with driven(context, Walk(path.path)) as d:
        await d.press("f5")
        await see(d, "3")
        await see(d, "5")
    return said[0], said[1]


def test_an_earlier_job_on_the_vehicle_is_a_hint(tmp_path: Path) -> None:
    """The page on air says where the last job began, the page on sureness offers the placing that its repeats show."""
    air, sure = asyncio.run(pages(tmp_path, earlier=True))
    assert "last time on a vehicle of this description" in air
    assert "began at 15 psi" in air
    assert "0.028 in" in sure  # 1/√2 mm = 0.0278 in
    assert "may be taken as the setting" in sure


def test_without_earlier_jobs_nothing_is_said(tmp_path: Path) -> None:
    """A first job is no hint to itself."""
    air, sure = asyncio.run(pages(tmp_path, earlier=False))
    assert "last time" not in air
    assert "puts the tape" not in sure
