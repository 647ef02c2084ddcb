"""A whole invented job as it is typed, from the customer's question to the follow-up."""

from __future__ import annotations

from tests.line.talking import WORKED_WALK

INTAKE = (
    "intake",
    "", "", "Sam, holding the tape", "A. Customer (invented)", "hangs low, lamps in the trees", "yard",
    "1/16 in", "mid-size people carrier, invented", "INV 123",
    "119 in", "66", "28 1/2", "", "31", "46",
    "2900", "3100", "5800", "", "", "", "", "", "", "", "1",
    "25 ft", "4", "",
    "invented kit", "invented sheet 3", "8", "40", "960 lb", "1", "1",
    "1", "", "", "",
    "", "", "", "",
    "", "1/4", "300; 410", "", "60 miles",
    "trailer tongue", "410", "46", "y",
    "",
)  # fmt: skip
"""Every question of the intake answered or left out, one load, and out of it."""

BEFORE = ("before", "n it leaned left a little", "n", "n", "n", "n", "y", "n", "n", "f", "f", "-", "y", "y")
LIST_OF_WORK = ("fitting", *["y"] * 4, "f", "f", *["y"] * 10)
TORQUE = ("torque", "1", "100 lbf·ft", "vehicle maker's manual (invented)", "100 lbf·ft", "leave")
WEIGHING = ("weigh", "1", "2640", "2300", "2", "2480", "2870", "3690", "")
MARKS = ("mark 2 1/8 below",)
LEAK_BEGUN = ("leak start", "72", "y", "30", *["n"] * 5, "y one bubble a second")
LEAK_ENDED = ("leak end", "41", "y", "27")
ROAD = (
    "road", "25", "28 7/8", "28 15/16", "28 5/8", "28 3/4",
    "road", "n", "n", "n", "y", "3/4 in", "y 1 in", "n",
)  # fmt: skip
TOLD = ("checks handover", *["y"] * 7)
HANDED_OVER = ("hand over", "A. Customer (invented)", "bubble at the gauge: customer comes back Friday", "y")
FOLLOW_UP = ("reopen gauge replaced", "25", "28 7/8", "28 15/16", "28 5/8", "28 3/4")
CLOSED_AGAIN = ("hand over", "", "gauge replaced, no bubbles now", "y")

CONDITIONS = ("conditions", "y", "y", "y", "y", "full", "n", "y", "y", "y", "f")
AS_BEFORE = ("conditions", "same")

SCRIPT = (
    *INTAKE,
    *BEFORE,
    *WORKED_WALK[:4],
    *CONDITIONS,
    *MARKS,
    *WORKED_WALK[4:9],
    *AS_BEFORE,
    *WEIGHING,
    *LIST_OF_WORK,
    *TORQUE,
    *WORKED_WALK[9:],
    *LEAK_BEGUN,
    *LEAK_ENDED,
    *ROAD,
    *TOLD,
    *HANDED_OVER,
    *FOLLOW_UP,
    *CLOSED_AGAIN,
)
"""All of it, from a new job without a preset."""
