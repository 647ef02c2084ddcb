"""Own keys: the keys in force, a user's own in place of the table's; and what is wrong with a user's own.

Whatever shows a key asks here, so that footer, help, palette and sentences name the key that the user has to press.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterator, Mapping

from cornerwalk.settings import KeyProblem
from cornerwalk.tui.keys import BY_ID, ON_JOB_PAGES, SHOWN_AS, TABLE, WITHOUT_ENTRY, Key, Place, shown
from cornerwalk.words import tr

_in_force: dict[str, str] = {}


def use_keys(own: Mapping[str, str]) -> dict[str, str]:
    """From now on these actions have these keys, as the settings write them; the same in the screen library's names."""
    _in_force.clear()  # the keys of the one app that runs, as the language is the one that is spoken
    _in_force.update({action: key_names(text) for action, text in own.items() if action in BY_ID})
    return dict(_in_force)


def names_of(key: Key) -> tuple[str, ...]:
    """The keys of a command, the one to show first; none where it is found in the palette only."""
    return tuple(name for name in _in_force.get(key.id, key.keys).split(",") if name)


def first_shown(key: Key) -> str:
    """The key of a command as people write it, "" where it has none."""
    return next((shown(name) for name in names_of(key)), "")


_SAME_KEY = {"walk.replace": "walk.average", "chapter.any": "job.chapters", "chapter.fitting": "job.chapters"}
"""Controls that have no key of their own here: what turns back, and what leads to a chapter."""


def key_shown(key_id: str) -> str:
    """The key to name in a sentence; a command without one is found by the palette's key."""
    return first_shown(BY_ID[_SAME_KEY.get(key_id, key_id)]) or first_shown(BY_ID["app.palette"])


def badge_shown(key: Key) -> str:
    """What the footer shows: the badge of a pair while both have the keys of the table."""
    pair = [other for other in TABLE if (other.place, other.label) == (key.place, key.label)]
    own = any(other.id in _in_force for other in pair)
    return key.badge if key.badge and not own else first_shown(key)


# ---- what a user may write ----

_NAMED = {text.casefold(): name for name, text in SHOWN_AS.items()} | {
    name: name for name in (*SHOWN_AS, "home", "end", "insert", "delete", "backspace")
} | {"esc": "escape", "pgup": "pageup", "pgdn": "pagedown", "page up": "pageup", "page down": "pagedown"}  # fmt: skip
_FUNCTION = re.compile(r"f([1-9]|1\d|2[0-4])")
_MODIFIERS = ("ctrl", "alt", "shift")
_SIGNS = {"solidus": "slash", "reverse_solidus": "backslash", "commercial_at": "at", "hyphen_minus": "minus",
          "plus_sign": "plus", "low_line": "underscore"}  # fmt: skip
"""Where the screen library's name of a sign is not Unicode's."""

_SAME_IN_TERMINALS = {
    "ctrl+m": "enter", "ctrl+i": "tab", "ctrl+j": "enter", "ctrl+h": "backspace", "ctrl+[": "escape",
}  # fmt: skip
"""Keys that a terminal sends as another one."""

_OF_A_LINE = frozenset(
    ("left", "right", "home", "end", "backspace", "delete", "space", "ctrl+a", "ctrl+e", "ctrl+d", "ctrl+w", "ctrl+u")
)
"""Keys that the place to type in keeps."""


def key_names(text: str) -> str:
    """Keys as people write them, in the screen library's names: `F8, Ctrl+O` → `f8,ctrl+o`. Unknown ones stay."""
    return ",".join(_name(part) or part.strip() for part in text.split(",") if part.strip())


def _name(text: str) -> str | None:
    """One key by the screen library's name; None if there is no such key."""
    typed = text.strip().casefold()
    *modifiers, base = typed.split("+") if typed != "+" and not typed.endswith("++") else (*typed[:-1].split("+"), "+")
    modifiers = [each for each in modifiers if each]
    if len(set(modifiers)) != len(modifiers) or not set(modifiers) <= set(_MODIFIERS):
        return None
    named = _NAMED.get(base, base)
    if len(base) == 1 and not base.isalnum() and base not in _NAMED:
        named = unicodedata.name(base, "").lower().replace("-", "_").replace(" ", "_")
        named = _SIGNS.get(named, named)
    elif named == base and len(base) > 1 and base not in _NAMED and not _FUNCTION.fullmatch(base):
        signs = {*_SIGNS.values(), "comma", "full_stop", "question_mark", "equals_sign", "semicolon", "colon"}
        if base not in signs:
            return None
    order = [each for each in _MODIFIERS if each in modifiers]
    return "+".join((*order, named)) if named else None


def _meet(one: Place, other: Place) -> bool:
    """Whether a page has the keys of both places."""
    return (
        one == other
        or "everywhere" in (one, other)
        or ("job" in (one, other) and bool({one, other} & ON_JOB_PAGES))
        or {one, other} == {"list", "library"}
    )


def mistakes(own: Mapping[str, str]) -> Iterator[KeyProblem]:
    """What is wrong with the keys of the settings, each with its action."""
    in_force = {key.id: key_names(own.get(key.id, key.keys)).split(",") for key in TABLE}
    for action, text in own.items():
        key = BY_ID.get(action)
        if key is None:
            nearest = difflib.get_close_matches(action, BY_ID, n=1)
            fields = {"action": action, "nearest": nearest[0] if nearest else "job.undo"}
            yield KeyProblem(action, "there is no action {action}; did you mean {nearest}?", fields)
            continue
        if key.id.endswith(".enter"):
            yield KeyProblem(action, "Enter cannot be given another key")
            continue
        for written in text.split(","):
            wrong = _wrong_key(key, written) or _taken(key, written, in_force)
            if wrong is not None:
                yield wrong


def _wrong_key(key: Key, written: str) -> KeyProblem | None:
    name = _name(written)
    fields: dict[str, object] = {"key": written.strip()}
    if name is None:
        return KeyProblem(key.id, 'there is no key "{key}"; write for example F8, Ctrl+O or Shift+F3', fields)
    if name in _SAME_IN_TERMINALS:
        fields["same"] = shown(_SAME_IN_TERMINALS[name])
        return KeyProblem(key.id, "{key} cannot be told from {same} in a terminal", fields)
    *modifiers, base = name.split("+")
    is_sign = set(modifiers) <= {"shift"} and not _FUNCTION.fullmatch(base) and base not in _NAMED.values()
    if name in key.keys.split(","):
        return None
    if name == "enter" or (key.place not in WITHOUT_ENTRY and (is_sign or name in _OF_A_LINE)):
        return KeyProblem(key.id, "{key} is needed for typing there; take an F key or one with Ctrl", fields)
    return None


def _taken(key: Key, written: str, in_force: Mapping[str, list[str]]) -> KeyProblem | None:
    name = _name(written)
    for other in TABLE:
        if other.id != key.id and name in in_force[other.id] and _meet(key.place, other.place):
            fields = {"key": shown(name or ""), "other": tr(other.what), "action": other.id}
            return KeyProblem(key.id, "{key} is taken already ({other}); give {action} another key first", fields)
    return None
