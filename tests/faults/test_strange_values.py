from __future__ import annotations

import json
import random

import pytest

from cornerwalk.samples import sample_folder
from cornerwalk.session.bounds import beyond
from cornerwalk.session.events import Event, HeightRead, PressureStated
from cornerwalk.session.statements import state_fact, state_load
from cornerwalk.store import UnknownContentError
from cornerwalk.store.loader import load_session
from tests.faults.strange_files import PATH, forged
from tests.faults.strange_values import samples, strange_document, try_one


@pytest.mark.parametrize("seed", range(20))
def test_any_numbers_behind_a_good_chain_are_refused_or_told(seed: int) -> None:
    """Whatever numbers a forger writes, every report is made or the file is refused. Thousands: see the script."""
    chance = random.Random(seed)
    assert try_one(chance.choice(samples()), chance) in ("refused", "told")


def test_strange_numbers_get_past_the_chain() -> None:
    """The documents are chained anew, so what refuses them is what they say: the test above can fail."""
    made = strange_document(samples()[0], random.Random(1))
    assert forged(made) == made


@pytest.mark.parametrize("mm", [1.7e308, 1e12, -1.0])
def test_a_height_that_no_vehicle_has_is_refused_by_event_and_field(mm: float) -> None:
    """The reason names the event and the field; the file is not called damaged, since its chain is right."""
    document = json.loads((sample_folder() / "camper.json").read_bytes())
    event = next(event for event in document["events"] if event["kind"] == "height read")
    event["mm"] = mm
    made = forged(json.dumps(document).encode())
    assert made is not None
    with pytest.raises(UnknownContentError, match=f"event {event['seq']}, mm: "):
        load_session(PATH, made)


# The largest and smallest values that the readers of typed text take, as `quantity` tells them in its refusals.
@pytest.mark.parametrize(
    "what",
    [
        HeightRead(stage="loaded", corner="LF", entered="2.5 m", mm=2500.0),
        HeightRead(stage="loaded", corner="LF", entered="0", mm=0.0),
        PressureStated(stage="fitted", pressure_entered="2000 kPa", pressure_kPa=2000.0),
        state_fact("vehicle.wheelbase", "100 m", "mm"),
        state_fact("tape.graduation", "0.01 mm", "mm"),
        state_fact("tape.graduation", "1 in", "mm"),
        state_fact("leak.altitude", "9000 m", "mm"),
        state_fact("leak.altitude", "-500 m", "mm"),
        state_fact("lamps.aim_percent", "-100 %", "mm"),
        state_fact("table.loads", "500 kN; 0 N", "mm"),
        state_load("boxes", "500 kN", place="100 m", side="behind", unit="mm"),
    ],
    ids=str,
)
def test_everything_that_can_be_typed_can_be_read_back(what: Event) -> None:
    """The bounds of a file lie beyond those of the keyboard: no reading that was kept is refused later."""
    assert list(beyond(what)) == []
