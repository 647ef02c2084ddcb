"""App: opened without a command, on a full screen or line by line; shared by every command that opens it."""

from __future__ import annotations

import shutil
import sys
from argparse import Namespace
from collections.abc import Callable
from importlib import import_module
from importlib.util import find_spec
from io import TextIOWrapper
from typing import TYPE_CHECKING, Literal

from cornerwalk.cli.output import has_screen, shut_pipe
from cornerwalk.cli.parsers import DONE, CommandError
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.environment import Environment
    from cornerwalk.context import Context, InitialView

WITHOUT_SCREEN = (
    "demo, import, results, report, replay, compare, list, check, export, ask, rules, settings, guide, schema, "
    "completions, manual"
)
"""Commands that need no terminal."""


def require_screen(environment: Environment) -> None:
    """Ask first: without a terminal a full screen would paint into a pipe and wait for ever.

    Raises:
        CommandError: there is none; it names what needs none.
    """
    if not environment.options.plain and not has_screen():
        raise CommandError(
            "the full screen needs a terminal. Without one --plain asks line by line, and there are: {commands}",
            commands=WITHOUT_SCREEN,
        )


def open_app(_arguments: Namespace, environment: Environment) -> int:
    """The app on its start page.

    Raises:
        CommandError: there is no terminal.
    """
    require_screen(environment)

    def arrive() -> tuple[Context, InitialView]:
        from cornerwalk.context import StartView

        return environment.context(), StartView()

    return _line_by_line(*arrive()) if environment.options.plain else _on_start_page(environment, arrive)


def show(environment: Environment, arrive: Callable[[], tuple[Context, InitialView]], *, title: str) -> int:
    """The app, opened on a job, as was asked for before the command.

    Args:
        environment: of this machine.
        arrive: makes what the app opens on. The full screen calls it once its first frame is painted.
        title: what is opened, as far as that is known before.

    Raises:
        Exception: what `arrive` raises.
    """
    if environment.options.plain:
        return _line_by_line(*arrive())
    sentence = tr("Opening. You can keep typing.")
    return _on_screen(environment, arrive, title, sentence, "left")


def _on_start_page(environment: Environment, arrive: Callable[[], tuple[Context, InitialView]]) -> int:
    sentence = tr("Four corners, three times around: what ride heights tell you.")
    return _on_screen(environment, arrive, "cornerwalk", sentence, "right")


def _on_screen(
    environment: Environment,
    arrive: Callable[[], tuple[Context, InitialView]],
    title: str,
    sentence: str,
    vehicle: Literal["left", "right"],
) -> int:
    load_without_openssl()
    from cornerwalk.tui.app import run_app
    from cornerwalk.tui.first_frame import Frame

    return run_app(arrive, Frame(title, sentence, vehicle, environment.early_settings.theme))


def _line_by_line(context: Context, opening: InitialView) -> int:
    from cornerwalk.line.conversation import Conversation
    from cornerwalk.line.loop import Manner, converse

    if isinstance(sys.stdin, TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")
    seen = sys.stdout.isatty()
    manner = Manner(
        columns=shutil.get_terminal_size().columns if seen else None,
        bell=seen,
        answers_shown=sys.stdin.isatty(),
    )
    try:
        converse(Conversation(context, opening), sys.stdin, sys.stdout, manner)
    except SystemExit:  # by a signal: its status stands, though the terminal may be gone with words not yet written
        try:
            sys.stdout.flush()
        except OSError:
            shut_pipe()
        raise
    return DONE


_OWN_DIGESTS = (("_md5",), ("_sha1",), ("_sha2", "_sha256"), ("_sha2", "_sha512"), ("_sha3",), ("_blake2",))
"""What Python has for each digest besides OpenSSL, `_sha2` from 3.12 on; some distributions are built without."""


def load_without_openssl() -> None:
    """Load the event loop and the digests as Python loads them where there is no OpenSSL.

    Both are made to do without it: a loop that opens no encrypted connection, digests in Python's own C code. Where
    that code was left out when Python was built, digests are OpenSSL's as usual. Whoever imports `ssl` later gets it.
    """
    hidden = ["ssl", *(["_hashlib"] if _has_own_digests() else [])]
    hidden = [name for name in hidden if name not in sys.modules]
    # None says "not found" to every import (Python's language reference, 5.3.1, The module cache).
    sys.modules.update(dict.fromkeys(hidden))  # type: ignore[arg-type]
    try:
        for name in ("asyncio", "hashlib", "hmac"):
            import_module(name)
    finally:
        for name in hidden:
            del sys.modules[name]


def _has_own_digests() -> bool:
    return all(any(find_spec(name) is not None for name in either) for either in _OWN_DIGESTS)
