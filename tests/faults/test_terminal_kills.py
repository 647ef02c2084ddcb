from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from cornerwalk.session.events import HeightRead, JobOpened
from cornerwalk.store import Library
from cornerwalk.store.lock_owner import this_program
from cornerwalk.store.names import temporary_path
from tests.faults.test_faults import ran
from tests.support.clock import FrozenClock


@pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX pseudo-terminal")
def test_kills_of_the_program_on_a_terminal_lose_nothing(record_property: Callable[[str, object], None]) -> None:
    """Four SIGKILLs while readings are typed. Hundreds: `python -m tests.faults.terminal_kills 200`."""
    figures = ran("terminal_kills", "4", "7")
    record_property("terminal_kills", figures["kills"])
    assert figures["kills"] == 4
    assert figures["readings said kept"] > 0, "nothing was promised, so nothing was tried"
    assert figures["lost"] == figures["broken files"] == figures["left over"] == figures["not resumed"] == 0


@pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX pseudo-terminal")
def test_what_the_screen_promised_and_the_file_has_not_is_a_loss(tmp_path: Path) -> None:
    """A reading, or a time, that the screen called kept and no event has is found missing; what is there is not."""
    from tests.faults.terminal_kills import Promised

    library = Library(tmp_path, clock=FrozenClock(), by="MT")
    with library.create(
        JobOpened(session="1a2b3c4d", job="fit", title="Invented", program="0"),
        HeightRead(stage="unloaded", corner="LF", entered="700.1", mm=700.1),
    ) as session:
        stored = library.read(session.path)
    promised = Promised()
    promised.look(" Invented      kept 08:12:31\n  right rear   kept: left front 700.1 mm, down 2 mm\n")
    assert promised == Promised({"700.1"}, {"08:12:31"})
    assert promised.missing(stored) == set()
    promised.look(" Invented      kept 08:12:32\n  right rear   kept: right front 700.2\n")
    assert promised.missing(stored) == {"700.2", "08:12:32"}
    assert promised.missing(None) == {"700.1", "700.2", "08:12:31", "08:12:32"}


@pytest.mark.skipif(sys.platform == "win32", reason="needs a POSIX pseudo-terminal")
def test_what_the_running_program_is_writing_is_not_left_over(tmp_path: Path) -> None:
    """A half-written file is left over where its writer is another program, or where nobody knows whose it is."""
    from tests.faults.terminal_kills import left_by_others

    own, other = (temporary_path(tmp_path / "a", replace(this_program(), pid=pid)).name for pid in (17, 18))
    assert left_by_others([own, other, ".strange.part"], 17) == [other, ".strange.part"]
    assert left_by_others([own], 17) == []
