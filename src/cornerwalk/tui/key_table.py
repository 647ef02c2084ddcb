"""The table of keys as text, for documents: what the README shows is made here, so that it cannot differ."""

from __future__ import annotations

from cornerwalk.tui.keys import PLACES, Key, keys_of, shown
from cornerwalk.words import tr


def key_names(key: Key) -> str:
    """All keys of a command as people write them: `F2, Ctrl+Z`."""
    return ", ".join(shown(name) for name in key.keys.split(",") if name) or tr("by its name, Ctrl+P")


def as_markdown() -> str:
    """Every key by place, with its id for a remapping in the settings."""
    lines: list[str] = []
    for place, heading in PLACES.items():
        keys = keys_of(place)
        if not keys:
            continue
        lines += ["", f"**{tr(heading)}**", "", f"| {tr('key')} | {tr('does')} | {tr('id')} |", "|---|---|---|"]
        lines += [f"| {key_names(key)} | {tr(key.what)} | `{key.id}` |" for key in keys]
    return "\n".join(lines[1:]) + "\n"
