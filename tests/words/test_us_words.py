"""The words of a US shop: one name for one thing, in every text of the program.

The words on the left are other countries' or a second name for a thing that has one; trade usage of the United States,
common practice, no source. Names of documents, of typed words and of file keys are left as they are.
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from tests.words.listening import HOUSE, gathered

NOT_US = {
    r"tyres?": "tire",
    r"dipped": "low beam",
    r"lamps?|headlamps?": "headlight",
    r"levell\w*": "leveling",
    r"cut-offs?": "cutoff",
    r"dampers?": "shock",
    r"bush(es)?|bushed": "bushing",
    r"centres?": "center",
    r"(milli|centi|kilo)?metres?": "meter",
    r"colou?rs?|grey|neighbours?|catalogues?|labelled": "the US spelling",
    r"anticlockwise": "counterclockwise",
    r"bonnet|boot lid": "hood, trunk",
    r"lorr(y|ies)|saloon|gearbox|kerb|spanners?": "truck, sedan, transmission, curb, wrench",
    r"arch(es)?": "wheel opening",
    r"per cent": "percent",
    r"licence": "license",
    r"registration": "license plate",
    r"dazzles?": "blind oncoming drivers",
}
SECOND_NAMES = {
    r"hold tests?|pressure held": "leak-down test",
    r"soapy( water)?": "soap test",
    r"insulators?": "isolator",
    r"own placing|placing": "tape repeatability",
    r"reckon\w*": "calculate",
    r"tongue(?:'s)? (loads?|share)": "tongue weight",
    r"load-distributing|ball only": "weight-distributing, weight-carrying",
    r"side to side": "left-right difference",
    r"marks? of|mark on the wall": "graduation, wall mark",
    r"kit's( own)? sheet|its sheet": "the kit's instructions",
    r"gross rating|gross (vehicle|combined) rating": "GVWR, GCWR",
    r"aim rules?|headlamp rules?": "aim spec",
    r"misread check": "corner check",
    r"wheel nuts": "lug nuts",
    r"crosswise": "star pattern",
    r"jacking points?": "lift points",
    r"told flat|told no rating|told lamps": "flat bag explained",
    r"as it came back": "as received",
    r"fitted|fitting of|fit the springs": "installed",
    r"taken? back|brought back|bring back": "undo, redo",
    r"stated|state (a|one|or)": "entered",
    r"kept(?! for)|keeps it|not kept": "saved",
    r"without it:|left out:": "if blank, if skipped",
    r"not surely": "marginal",
    r"customer's (page|sheet)": "customer copy",
    r"earlier jobs?": "past job",
    r"let air in|put air in": "add air",
    r"heights do not weigh": "heights are not weights",
}
ALLOWED = {
    "the facts one by one; with job, vehicle, kit, hitch, trailer, lamps or leak only those",  # typed as it is
    "loaded, fitted, fitted 2 …; given twice, the second is from the other job",  # typed as it is
}


@cache
def texts() -> tuple[str, ...]:
    """Every text that a user may see, each form of a plural by itself."""
    found = (message.id for message in gathered() if message.id and message.context != "word")
    return tuple(form for text in found for form in ((text,) if isinstance(text, str) else text))


def with_word(pattern: str, among: tuple[str, ...]) -> list[str]:
    """The texts that hold a word of the pattern."""
    looked_for = re.compile(rf"(?<![\w-])(?:{pattern})(?![\w-])", re.IGNORECASE)
    return [text for text in among if text not in ALLOWED and looked_for.search(re.sub(r"\{[^}]*\}", "", text))]


@pytest.mark.parametrize(("pattern", "instead"), [*NOT_US.items(), *SECOND_NAMES.items()])
def test_a_word_that_is_not_used(pattern: str, instead: str) -> None:
    """No text of the program holds it; the word beside it is the one."""
    assert with_word(pattern, texts()) == [], f"say {instead}"


def test_a_word_that_is_not_used_would_be_seen() -> None:
    """A text with one of them is found; one with a longer word is not."""
    assert with_word("tyres?", ("Tyres cold.", "Tires cold.", "a tyrell")) == ["Tyres cold."]


WALK = ("words/steps.py", "job/prompts.py", "job/prompt_words.py", "job/walk_replies.py", "tui/walk_view.py")
MOST_WORDS = 25


def sentences(text: str) -> list[str]:
    """A text cut at the ends of its sentences."""
    return re.split(r"(?<=[.?!:;])\s+", text)


def test_sentences_on_the_walk_are_short() -> None:
    """Whoever stands at a wheel reads at most so many words at a time."""
    sources = [(HOUSE / name).read_text("utf-8") for name in WALK]
    walk = [text for text in texts() if any(text in source for source in sources)]
    assert len(walk) > 60
    assert [part for text in walk for part in sentences(text) if len(part.split()) > MOST_WORDS] == []
