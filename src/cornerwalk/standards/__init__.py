"""Standards: published limits and aim rules as data, each with its source and standing, and the shop's own.

`load_standards(folder)` reads the packaged files under `data/` and then every file of the shop's folder. A file with
anything unknown in it is refused with its name, the line and the reason; the others still load.

To add an aim rule, put one file, `anything.toml`, in the shop's rules folder:

    [[aim_rule]]
    id = "shop-2in"                     # lower-case letters, digits and -; must be new
    title = "Ours: 2 in either way at 25 ft"
    source = "agreed with the inspection station, 4 May 2026"
    standing = "own"                    # seen | second-hand | memory | common practice | own
    datum = "lamp centre"               # or "lower edge": what a lamp's height means in this rule
    nominal = "0.4 deg down"            # or "-0.7 %"; leave it out where the vehicle states its own
    distance = "25 ft"                  # of the screen; 25 ft if left out
    deviation = "2 in"                  # either way from the nominal, at that distance

Optional texts are `clause`, `load_state` and `note`. In place of `deviation` a rule may have bands by lamp height, each
`[[aim_rule.band]]` with one of `at_least`, `above` and one of `at_most`, `below` (heights; none: without an end), and
`upper` and `lower` in percent (up is positive, so a lower limit is the larger dip), either of which may be left out.
A limit that changes with the height h adds `upper_per_metre` or `lower_per_metre`: limit = upper + upper_per_metre · h.
A band may have its own `standing`, `clause` and `note`. A rule with neither bands nor `deviation` shows a figure and
judges nothing.

The same files may have `[[limit]]`, `[[restoration_rule]]` and `[[tape]]`; the packaged files show their keys. Every
value is a text with its unit, as typed on screen. An unknown key is refused with its line and the nearest known key.
"""

from cornerwalk.standards.aim import AimRule, Band, BandPiece, NoBand
from cornerwalk.standards.limits import Limit, RestorationRule, Side, Standing, TapeRule
from cornerwalk.standards.loader import RefusedFile, Standards, UnknownAimRuleError, load_standards

__all__ = [
    "AimRule",
    "Band",
    "BandPiece",
    "Limit",
    "NoBand",
    "RefusedFile",
    "RestorationRule",
    "Side",
    "Standards",
    "Standing",
    "TapeRule",
    "UnknownAimRuleError",
    "load_standards",
]
