"""Reading a session for a command."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from cornerwalk.cli.commands.refused import Refused
from cornerwalk.cli.output import tell
from cornerwalk.words import tr

if TYPE_CHECKING:
    from cornerwalk.cli.desk import Desk
    from cornerwalk.store import StoredSession


def whole(desk: Desk, path: Path) -> StoredSession:
    """A session that is as it was written.

    Raises:
        Refused: it is damaged; figures from half a session would be taken for those of a whole one.
        StoreError: it cannot be read at all.
    """
    stored = desk.stored(path)
    if stored.damage is not None:
        raise Refused(
            "{path} is damaged: {what}. `cornerwalk check` says more; opening it in the app goes on from what is left.",
            path=path,
            what=tr(stored.damage.template, **stored.damage.fields),
        )
    return stored


def readable(desk: Desk, path: Path) -> StoredSession:
    """A session as far as it can be read; damage is said beside the answer.

    Raises:
        StoreError: it cannot be read at all, or nothing of it.
    """
    stored = desk.stored(path)
    if stored.damage is not None:
        tell(tr("{path} is damaged: {what}", path=path, what=tr(stored.damage.template, **stored.damage.fields)))
    if not stored.events:
        from cornerwalk.store import NothingReadable

        raise NothingReadable("not even the first event of {path} can be read", path=str(path))
    return stored
