"""What another pressure or load would do: stepped with the arrows, told in words, and drawn as if it were read."""

from __future__ import annotations

from cornerwalk.assess.assessment import StageResult
from cornerwalk.assess.load_results import tongue_load
from cornerwalk.assess.what_if import WhatIfChange, WhatIfResult, as_stage, basis, what_if
from cornerwalk.job.notice import Notice
from cornerwalk.job.open_job import OpenJob
from cornerwalk.quantity import Force, Pressure
from cornerwalk.words import tr

AIR_STEP_KPA = {"inch": Pressure.from_psi(1).kPa, "metric": 10.0}
LOAD_STEP_N = {"inch": Force.from_lbf(10).N, "metric": Force.from_N(49.03325).N}
"""A step of the arrows: 1 psi or 10 kPa, 10 lb or 5 kg."""

_SLACK = 1e-9


class WhatIf:
    """A pressure and a tongue load that are tried out in thought, beginning with those that were read last.

    None as a value means that it was not touched.
    """

    def __init__(self, job: OpenJob) -> None:
        self._job = job
        self._start = basis(job.session, job.context.standards())
        load = tongue_load(job.session)
        self._load_N = load.weight_N if load is not None else None
        self.pressure_kPa: float | None = None
        self.sides_kPa: tuple[float, float] | None = None
        self.tongue_N: float | None = None

    @property
    def touched(self) -> bool:
        """Anything was changed."""
        return self.pressure_kPa is not None or self.sides_kPa is not None or self.tongue_N is not None

    @property
    def at_kPa(self) -> float | None:
        """The pressure in thought: the one stepped to, else that of the last trial.

        None for a load tried out before two trials: that is told for the vehicle on its own springs.
        """
        if self.pressure_kPa is not None:
            return self.pressure_kPa
        return None if self.touched and self._start.air is None else self._start.rest_kPa

    @property
    def at_sides_kPa(self) -> tuple[float, float] | None:
        """Left and right in thought, else those of the last trial; None with joined lines."""
        return self.sides_kPa if self.sides_kPa is not None else self._start.rest_sides_kPa

    def step_air(self, steps: int) -> str:
        """So many steps more air, on both sides alike; why not, where the kit forbids it or nothing can be told.

        "" if it is done.
        """
        sides_kPa = self.at_sides_kPa
        if self._start.sides is not None and sides_kPa is not None:
            left, right = (self._stepped(kPa, steps) for kPa in sides_kPa)
            if isinstance(left, str) or isinstance(right, str):
                return left if isinstance(left, str) else str(right)
            self.sides_kPa = (left, right)
            return ""
        if self._start.air is None:
            return tr("What another pressure would do is told once two pressures were tried.")
        stepped = self._stepped(self.at_kPa or 0.0, steps)
        if isinstance(stepped, str):
            return stepped
        self.pressure_kPa = stepped
        return ""

    def try_air(self, kPa: float) -> str:
        """This pressure on both sides alike; why not, where the kit forbids it or nothing can be told ("" if done)."""
        if self._start.air is None and self._start.sides is None:
            return tr("What another pressure would do is told once two pressures were tried.")
        tried = self._within_kit(kPa, kPa)
        if isinstance(tried, str):
            return tried
        if self._start.sides is not None:
            self.sides_kPa = (tried, tried)
        else:
            self.pressure_kPa = tried
        return ""

    def _stepped(self, now: float, steps: int) -> float | str:
        """The pressure so many whole steps on, kPa, at most to the kit's limit; a sentence where it is there."""
        step_kPa = AIR_STEP_KPA[self._system]
        place = now / step_kPa
        wanted = (round(place) if abs(place - round(place)) < 1e-6 else (int(place) + (steps < 0))) + steps
        return self._within_kit(now, wanted * step_kPa)

    def _within_kit(self, now: float, kPa: float) -> float | str:
        """The pressure, at most to the kit's limits; a sentence where `now` is at or beyond them."""
        kit = self._job.session.kit
        if kit.max_kPa is not None and kPa > kit.max_kPa * (1 + _SLACK):
            maximum = self._job.wording.pressure(kit.max_kPa)
            if now >= kit.max_kPa * (1 - _SLACK):
                return tr("{maximum} is the kit's maximum. Never go over it.", maximum=maximum)
            kPa = kit.max_kPa
        if kit.min_kPa is not None and kPa < kit.min_kPa * (1 - _SLACK):
            minimum = self._job.wording.pressure(kit.min_kPa)
            if now <= kit.min_kPa * (1 + _SLACK):
                return tr("{minimum} is the kit's minimum: with less air the bag folds.", minimum=minimum)
            kPa = kit.min_kPa
        return max(0.0, kPa)

    def step_load(self, steps: int) -> str:
        """So many steps more load on the tongue; why not ("" if it is done)."""
        if self._load_N is None:
            return tr("What another load would do needs a load with its place: the intake takes it.")
        step_N = LOAD_STEP_N[self._system]
        now = self.tongue_N if self.tongue_N is not None else self._load_N
        self.tongue_N = max(0.0, (round(now / step_N) + steps) * step_N)
        return ""

    def forget(self) -> None:
        """Back to what was read."""
        self.pressure_kPa = self.sides_kPa = self.tongue_N = None

    @property
    def _system(self) -> str:
        return "metric" if self._job.wording.units == "metric" else "inch"

    @property
    def expected(self) -> WhatIfResult:
        """What would be read."""
        return what_if(
            self._start, WhatIfChange(pressure_kPa=self.pressure_kPa, sides_kPa=self.sides_kPa, tongue_N=self.tongue_N)
        )

    def stage(self) -> StageResult | None:
        """The last stage as it would be read then; as it was read while nothing is touched."""
        stages = [s for s in self._job.assessment.stages if s.front_mm is not None and s.rear_mm is not None]
        if not stages:
            return None
        if not self.touched:
            return stages[-1]
        return as_stage(self._job.session, stages[-1], self.expected, self.at_kPa, self.at_sides_kPa)

    def height_mm(self) -> float | None:
        """The rear height expected at the pressure in thought."""
        unloaded = next((s for s in self._job.assessment.stages if s.name == "unloaded"), None)
        rear = self.expected.rear_mm
        if unloaded is None or unloaded.rear_height_mm is None or rear is None:
            return None
        return unloaded.rear_height_mm + rear

    def heading(self) -> str:
        """What is tried."""
        wording, told = self._job.wording, []
        sides_kPa = self.at_sides_kPa
        if self._start.sides is not None and sides_kPa is not None:
            left, right = (wording.pressure(kPa) for kPa in sides_kPa)
            told.append(tr("{left} left, {right} right", left=left, right=right))
        elif self.at_kPa is not None:
            told.append(wording.pressure(self.at_kPa))
        elif self.touched:
            told.append(tr("no air"))
        load_N = self.tongue_N if self.tongue_N is not None else self._load_N
        if load_N is not None:
            told.append(tr("{load} tongue weight", load=wording.weight(load_N)))
        what = ", ".join(told)
        if not what:
            return tr("what if")
        return tr("what if: {what}", what=what) if self.touched else tr("as read: {what}", what=what)

    def words(self) -> tuple[Notice, ...]:
        """What was read, or would be, and what that does not say."""
        expected = self.expected
        stage = self.stage()
        if stage is None:
            needs = expected.needs or "the four heights unloaded and loaded"
            return (Notice(tr("needs {needs}", needs=tr(needs)), tr("What if"), "quiet"),)
        told = self._figures(stage)
        if not self.touched:
            return told
        wording = self._job.wording
        if self.tongue_N is not None and expected.rear_gain_N is not None:
            rear, front = wording.gain(expected.rear_gain_N), wording.gain(expected.front_gain_N)
            axles = tr("rear axle {rear}, front axle {front}", rear=rear, front=front)
            told = (*told, Notice(axles, tr("Axles")))
        return (*told, *self._doubts(expected))

    def _figures(self, stage: StageResult) -> tuple[Notice, ...]:
        """Body and lamps of a stage, read or expected."""
        wording, lamp = self._job.wording, stage.lamp
        body = [tr("rear {change}", change=wording.change_pm(stage.rear_mm, stage.u_rear_mm))]
        if stage.nose_up_deg is not None:
            body.append(wording.tilt(stage.nose_up_deg, stage.u_nose_up_deg))
        told = [Notice(", ".join(body), tr("Body"))]
        if lamp is not None and lamp.shift_mm is not None:
            screen_mm = self._job.assessment.screen_mm
            lamps = [tr("beam {moved}", moved=wording.beam(lamp.shift_mm, lamp.u_shift_mm, screen_mm))]
            if lamp.aim_deg is not None:
                lamps.append(wording.aim(lamp.aim_deg, lamp.u_aim_deg, None))
            above = lamp.aim_deg is not None and lamp.aim_deg > 0
            told.append(Notice("; ".join(lamps), tr("Headlights"), "caution" if above else "ink"))
        return tuple(told)

    def _doubts(self, expected: WhatIfResult) -> list[Notice]:
        doubts = []
        if expected.above_unloaded:
            doubts.append(tr("The rear would stand above its unloaded height: too much air."))
        if expected.beyond_trials:
            doubts.append(tr("That is far from the pressures tried; a trial there is better."))
        if self.tongue_N is not None:
            doubts.append(tr("It says nothing of whether the axles may carry that load."))
        return [Notice(text, tr("Caution"), "caution", "caution") for text in doubts]
