"""What holds for every test: nothing of the machine gets in, and a text once agreed to does not change unseen."""

from __future__ import annotations

import asyncio
import inspect
import os
import signal
import sys
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

import hypothesis
import pytest

from hatch_build import CATALOGS, compile_catalogs
from tests.support.clock import FrozenClock
from tests.support.isolation import isolate, unwanted
from tests.support.snapshots import UPDATE, SnapshotText

if TYPE_CHECKING:
    from tests.support.terminal import Terminal

ON_BUILD_MACHINE = bool(os.environ.get("CI"))

# The screen library reads these once, when it is first imported: they must be gone before any test file is.
for _name in unwanted(list(os.environ)):
    del os.environ[_name]
os.environ["TEXTUAL_ANIMATIONS"] = "none"
os.environ["TEXTUAL_FPS"] = "1000"  # a pilot need not wait long until a change is drawn

# What a shell starts in the background ignores Ctrl+C, and so does all that it starts: tests that press it would hang.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# Machines under test are slow and shared, so time is no failure here; a build must be the same twice over.
_slow_is_fine = [hypothesis.HealthCheck.too_slow]
hypothesis.settings.register_profile("here", deadline=None, suppress_health_check=_slow_is_fine)
hypothesis.settings.register_profile(
    "build", deadline=None, suppress_health_check=_slow_is_fine, derandomize=True, print_blob=True, database=None
)
hypothesis.settings.load_profile("build" if ON_BUILD_MACHINE else "here")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(UPDATE, action="store_true", help="keep the texts shown now as the ones to compare with")


def pytest_configure(config: pytest.Config) -> None:
    if config.getoption(UPDATE) and ON_BUILD_MACHINE:
        raise pytest.UsageError(f"{UPDATE} is for a person who looks at the difference; a build never updates")
    if not hasattr(config, "workerinput"):  # once, before any worker starts
        compile_catalogs(config.rootpath / CATALOGS)


@pytest.hookimpl(tryfirst=True)
def pytest_pyfunc_call(pyfuncitem: pytest.Function) -> bool | None:
    """Run an `async def` test in an event loop of its own."""
    if not inspect.iscoroutinefunction(pyfuncitem.obj):
        return None
    names = pyfuncitem._fixtureinfo.argnames
    asyncio.run(pyfuncitem.obj(**{name: pyfuncitem.funcargs[name] for name in names}))
    return True


@pytest.fixture(autouse=True)
def _machine_kept_out(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Every test has an empty home, plain English, a plain terminal and UTC; one of the app goes on when that rests."""
    isolate(monkeypatch, tmp_path_factory.mktemp("home"))
    if "textual.pilot" in sys.modules:
        from tests.support.at_rest import wait_by_the_event_loop

        wait_by_the_event_loop(monkeypatch)
    yield
    words = sys.modules.get("cornerwalk.words")
    if words is not None:
        words.use_language("en")


@pytest.fixture
def snapshot_text(request: pytest.FixtureRequest) -> SnapshotText:
    """`snapshot_text(text, "name")` fails unless the text is the one kept under `snapshots/`."""
    return SnapshotText.of_test(request)


@pytest.fixture
def frozen_clock() -> FrozenClock:
    """A clock to hand in: `frozen_clock()` is the time now, `frozen_clock.advance(minutes=3)` moves it on."""
    return FrozenClock()


@pytest.fixture
def open_terminal() -> Iterator[Callable[..., Terminal]]:
    """`open_terminal("walk", "sheet.toml", columns=80, lines=24)` runs the installed program on a terminal.

    Takes the arguments of `tests.support.terminal.Terminal.cornerwalk`; every terminal is closed after the test.
    """
    if sys.platform == "win32":
        pytest.skip("needs a POSIX pseudo-terminal")
    from tests.support.terminal import Terminal

    opened: list[Terminal] = []

    def open_one(*arguments: str | os.PathLike[str], columns: int = 80, lines: int = 24) -> Terminal:
        opened.append(Terminal.cornerwalk(*arguments, columns=columns, lines=lines))
        return opened[-1]

    yield open_one
    for terminal in opened:
        terminal.close()
