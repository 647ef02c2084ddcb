"""Units: how many of the program's own millimetres, newtons and kilopascals make one of each, by exact definition.

Heights in tests read as they stand on the tape: `28.625 * IN`.
"""

from __future__ import annotations

IN = 25.4
"""Millimetres to an inch."""

KGF = 9.80665
"""Newtons to the weight of a kilogram, at standard gravity."""

LBF = 4.4482216152605
"""Newtons to a pound: 0.45359237 kg at standard gravity."""

PSI = 6.894757293168361
"""Kilopascals to a pound on a square inch: 4.4482216152605 N on 645.16 mm²."""
