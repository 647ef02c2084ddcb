"""What moved between two stages, in words."""

from __future__ import annotations

from cornerwalk.assess.compare import Moved
from cornerwalk.tui.widgets.prose import Paragraph
from cornerwalk.wording.names import stage_title
from cornerwalk.wording.wording import Wording
from cornerwalk.words import tr

_SAME_KPA = 0.5


def moved_paragraphs(told: Moved, wording: Wording) -> tuple[Paragraph, ...]:
    """How far each end moved, and what to make of it."""
    figures = [
        tr("front {moved}", moved=wording.change_pm(told.front_mm, told.u_front_mm)),
        tr("rear {moved}", moved=wording.change_pm(told.rear_mm, told.u_rear_mm)),
    ]
    if told.nose_up_deg is not None:
        figures.append(wording.tilt(told.nose_up_deg, told.u_nose_up_deg))
    against = tr("Against {stage}: {figures}.", stage=stage_title(told.start), figures=", ".join(figures))
    lines = [Paragraph(against, tr("Moved"), "strong")]
    if told.pressure_kPa is None:
        lines.append(Paragraph(tr("A pressure is not stated, and air alone moves the body."), part="caution"))
    elif abs(told.pressure_kPa) > _SAME_KPA:
        pressure = wording.pressure(abs(told.pressure_kPa))
        more = tr("{pressure} more in than then.", pressure=pressure)
        less = tr("{pressure} less in than then.", pressure=pressure)
        lines.append(Paragraph(more if told.pressure_kPa > 0 else less, part="caution"))
    elif told.surely:
        text = tr("It moved by more than the tape's uncertainty: look for what settled, and read it again.")
        lines.append(Paragraph(text, part="caution"))
    else:
        lines.append(Paragraph(tr("Within what the tape can tell, it stands where it stood.")))
    return tuple(lines)
