"""From the English text in the source to the user's language.

The English text *is* the key: it stands where it is used, reads as a sentence, and is what is shown when no catalogue
has it. A field goes in by name, `tr("{corner} is due", corner="RR")`, so that a translator may move it.

Nothing here raises for a text: a user under a vehicle is better served by an unfilled `{field}` than by a traceback.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from gettext import GNUTranslations
    from importlib.resources.abc import Traversable

ENGLISH = "en"
DOMAIN = "cornerwalk"


class _Language(NamedTuple):
    """The language being spoken: its code, and its catalogue unless it is the English of the source."""

    code: str
    catalogue: GNUTranslations | None
    decimal_mark: str


_spoken = _Language(ENGLISH, None, ".")


def use_language(code: str, catalogues: Traversable | None = None) -> str:
    """Speak this language from now on, as far as there is a catalogue for it.

    Args:
        code: as the platform spells it: `de`, `de_AT`, `de-AT` or `de_AT.UTF-8`. The region is tried before the bare
            language. `C`, `POSIX`, the empty string and anything without a catalogue mean English.
        catalogues: the folder that holds `<language>/LC_MESSAGES/cornerwalk.mo`; the one in the package by default.

    Returns:
        The code of the catalogue that is used, or `en`.
    """
    global _spoken  # noqa: PLW0603  the one thing the program keeps for its whole life: the language it speaks
    _spoken = _find_language(code, catalogues)
    return _spoken.code


def language() -> str:
    """The code of the language being spoken, for example `en` or `de`."""
    return _spoken.code


def languages(catalogues: Traversable | None = None) -> list[str]:
    """The codes of every language that can be spoken, English first and the others in alphabetical order."""
    folder = catalogues if catalogues is not None else _packaged_catalogues()
    found = (entry.name for entry in folder.iterdir()) if folder.is_dir() else iter(())
    return [ENGLISH, *sorted(name for name in found if _catalogue_file(folder, name).is_file())]


def tr(text: str, /, **fields: object) -> str:
    """This text in the user's language, with the named fields filled in.

    A field's value is put in as it is, braces and all. A field that is not given stays visible as `{name}`.

    >>> tr("{corner} is due", corner="RR")
    'RR is due'
    """
    catalogue = _spoken.catalogue
    return _filled(text if catalogue is None else catalogue.gettext(text), text, fields)


def tr_n(singular: str, plural: str, count: int, /, **fields: object) -> str:
    """This text in the user's language, in the form that fits the count; `{count}` is filled in.

    >>> tr_n("{count} reading", "{count} readings", 3)
    '3 readings'
    """
    english = singular if count == 1 else plural
    catalogue = _spoken.catalogue
    text = english if catalogue is None else catalogue.ngettext(singular, plural, count)
    return _filled(text, english, {"count": count, **fields})


def tr_in(context: str, text: str, /, **fields: object) -> str:
    """Like `tr`, for a word that means several things: the context tells the translator which.

    >>> tr_in("side of the vehicle", "left")
    'left'
    """
    catalogue = _spoken.catalogue
    return _filled(text if catalogue is None else catalogue.pgettext(context, text), text, fields)


def tr_parts(text: str) -> str:
    """A text put together from whole parts, each in the user's language: at `; `, then before `: `.

    For sources, where a part may be a user's own words: those have no translation and stay as they are.

    >>> tr_parts("the kit's sheet: sheet 3; set by the shop")
    "the kit's sheet: sheet 3; set by the shop"
    """
    catalogue = _spoken.catalogue
    if catalogue is None or not text:
        return text
    whole = catalogue.gettext(text)
    if whole != text:
        return whole
    if "; " in text:
        return "; ".join(tr_parts(part) for part in text.split("; "))
    head, colon, rest = text.partition(": ")
    return f"{catalogue.gettext(head)}: {rest}" if colon and head else text


def decimal_mark() -> str:
    """What the user's language writes between the whole and the decimals."""
    return _spoken.decimal_mark


def number(text: str) -> str:
    """A number formatted with a point, written with the decimal mark of the user's language.

    Only text that is a number already is changed, so a version, a date or a word passes through.

    >>> number("27.625")
    '27.625'
    """
    whole, point, decimals = text.partition(".")
    if _spoken.decimal_mark == "." or not point or not decimals.isdigit() or not whole.lstrip("+-−").isdigit():
        return text
    return f"{whole}{_spoken.decimal_mark}{decimals}"


def _find_language(code: str, catalogues: Traversable | None) -> _Language:
    wanted = code.partition(".")[0].partition("@")[0].replace("-", "_")
    bare = wanted.partition("_")[0].lower()
    if bare in {"", "c", "posix", ENGLISH}:
        return _Language(ENGLISH, None, ".")
    folder = catalogues if catalogues is not None else _packaged_catalogues()
    for name in (wanted, bare):
        file = _catalogue_file(folder, name)
        if name.replace("_", "").isalnum() and file.is_file():
            return _read_language(name, file)
    return _Language(ENGLISH, None, ".")


def _read_language(code: str, file: Traversable) -> _Language:
    from gettext import GNUTranslations

    with file.open("rb") as stream:
        catalogue = GNUTranslations(stream)
    # The mark is a text like any other: the translator knows what the country writes.
    return _Language(code, catalogue, catalogue.pgettext("decimal mark", "."))


def _packaged_catalogues() -> Traversable:
    from importlib.resources import files

    return files("cornerwalk.words") / "locale"


def _catalogue_file(folder: Traversable, code: str) -> Traversable:
    return folder / code / "LC_MESSAGES" / f"{DOMAIN}.mo"


class _Unfilled:
    """Stands for a field that was not given, and shows itself as it stood in the text."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __format__(self, spec: str) -> str:
        return f"{{{self._name}:{spec}}}" if spec else f"{{{self._name}}}"

    def __getattr__(self, attribute: str) -> _Unfilled:
        return _Unfilled(f"{self._name}.{attribute}")


class _Fields(dict[str, object]):
    def __missing__(self, name: str) -> object:
        return _Unfilled(name)


def _filled(text: str, english: str, fields: dict[str, object]) -> str:
    """The text with its fields filled in; a translation that cannot be filled gives way to the English."""
    for candidate in (text, english):
        try:
            return candidate.format_map(_Fields(fields))
        except (ValueError, TypeError, LookupError, AttributeError):
            continue  # a stray brace, or a format that does not fit its value
    return english


def capital(text: str) -> str:
    """A text as a sentence begins: its first letter a capital, the others as they are.

    >>> capital("kit's maximum pressure, psi or kPa")
    "Kit's maximum pressure, psi or kPa"
    """
    return text[:1].upper() + text[1:]
