"""A job over the night in which the clocks are changed, kept, read back and reckoned."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from cornerwalk.assess import assess
from cornerwalk.session.events import LeakMoment, LeakRead
from cornerwalk.store import Library
from cornerwalk.store.check import check_file
from tests.session.support import opened
from tests.store.support import QuickDisk
from tests.support.jobs import standards

# Two hours ahead of UTC in summer and one in winter, as in the middle of Europe: in 2026 the clocks there are put
# forward on 29 March and set back on 25 October, both at 01:00 UTC (standing: MEMORY; nothing below hangs on the
# dates). Offsets instead of the zone's name, since not every system has a table of zones.
SUMMER, WINTER = timezone(timedelta(hours=2)), timezone(timedelta(hours=1))
CHANGES = {
    "set back": (datetime(2026, 10, 24, 20, 0, tzinfo=SUMMER), WINTER),
    "put forward": (datetime(2026, 3, 28, 19, 0, tzinfo=WINTER), SUMMER),
}
NIGHT = timedelta(hours=14)


def gauge(moment: LeakMoment, at: datetime) -> LeakRead:
    return LeakRead(
        moment=moment,
        line="both",
        pressure_entered="200 kPa",
        pressure_kPa=200.0,
        temperature_entered="20 C",
        temperature_C=20.0,
        read_at=at.isoformat(timespec="seconds"),
    )


@pytest.mark.parametrize("change", list(CHANGES))
def test_a_hold_test_over_the_change_of_the_clocks(tmp_path: Path, change: str) -> None:
    """14 hours are 14 hours, each time keeps its own offset in the file, and the check finds nothing to remark."""
    evening, afterwards = CHANGES[change]
    now = [evening]
    library = Library(tmp_path, clock=lambda: now[0], by="MT", disk=QuickDisk())
    with library.create(opened(), gauge("start", now[0])) as session:
        now[0] = (evening + NIGHT).astimezone(afterwards)
        session.record(gauge("end", now[0]))
    stored = library.read(session.path)
    times = [event.at for event in stored.events]
    assert times == [moment.isoformat(timespec="seconds") for moment in (evening, evening, now[0])]
    (leak,) = assess(stored.session, standards()).leak
    assert leak.hours == pytest.approx(14.0)
    assert check_file(session.path).findings == ()


def test_the_hour_that_comes_twice(tmp_path: Path) -> None:
    """02:50 of summer time and then 02:10 of winter time: 20 minutes on, though the hands went back 40."""
    now = [datetime(2026, 10, 25, 2, 50, tzinfo=SUMMER)]
    library = Library(tmp_path, clock=lambda: now[0], by="MT", disk=QuickDisk())
    with library.create(opened(title="Earlier (invented)"), gauge("start", now[0])) as earlier:
        pass
    now[0] = datetime(2026, 10, 25, 2, 10, tzinfo=WINTER)
    with library.create(opened(title="Later (invented)"), gauge("start", now[0])) as later:
        assert later.events[0].at[11:16] < earlier.events[0].at[11:16], "told by the hands alone it is earlier"
    summaries = library.summaries()
    assert [summary.path for summary in summaries] == [later.path, earlier.path], "the one worked on last is first"
    assert summaries[0].last_moment - summaries[1].last_moment == timedelta(minutes=20)
    unfinished = library.latest_unfinished()
    assert unfinished is not None
    assert unfinished.path == later.path
    assert check_file(earlier.path).findings == check_file(later.path).findings == ()
