"""A whole invented job as it is typed, from the customer's question to the follow-up."""

from __future__ import annotations

from tests.line.talking import WORKED_WALK

INTAKE = (
    "intake",
    "A. Customer (invented)", "hangs low, lamps in the trees", "mid-size people carrier, invented", "INV 123",
    "", "yard",
    "119 in", "66", "46", "", "", "",
    "invented kit", "invented sheet 3", "8", "40", "960 lb", "1", "1",
    "2900", "3100", "5800", "", "", "", "",
    "28 1/2", "", "31", "1", "25 ft", "4", "",
    "trailer tongue", "410", "46", "1",
    "1", "", "", "",
    "", "", "", "",
    "", "",
    "1/4", "300; 410",
    "1/16 in", "", "",
    "", "", "",
    "fact second_reader Sam, holding the tape",
)  # fmt: skip
"""Every question of the intake answered or left out, one load, and out of it."""

BEFORE = (
    "before", "n", "f", "4", "-", "y", "n", "a finger's width",
    "y it leaned left a little", "y left rear weeps", "n", "n", "n", "1", "", "n",
)  # fmt: skip
WORK = (
    "fitting", *["y"] * 4, "f", "4", *["1"] * 10,
    "100 lbf·ft", "vehicle maker's manual (invented)", "100 lbf·ft", "", "", "60 miles",
)  # fmt: skip
WEIGHING = ("weigh", "2640", "2300", "2480", "2870", "3690")
MARKS = ("mark 2 1/8 below",)
LEAK_BEGUN = ("leak start", "30", "72", "1", *["1"] * 5, "2 one bubble a second", "leave")
LEAK_ENDED = ("leak end", "27", "41", "1", "leave")
ROAD = (
    "road", "25", "28 7/8", "28 15/16", "28 5/8", "28 3/4",
    "road", "n", "n", "2", "y", "3/4 in", "y 1 in", "n", "",
)  # fmt: skip
TOLD = ("checks handover", *["1"] * 7)
HANDED_OVER = ("hand over", "A. Customer (invented)", "bubble at the gauge: customer comes back Friday", "1")
FOLLOW_UP = ("reopen gauge replaced", "25", "28 7/8", "28 15/16", "28 5/8", "28 3/4")
CLOSED_AGAIN = ("hand over", "", "gauge replaced, no bubbles now", "y")

CONDITIONS = ("conditions", "y", "y", "y", "y", "full", "n", "y", "y", "y", "f", "leave")
AS_BEFORE = ("conditions", "same", "leave")

SCRIPT = (
    *INTAKE,
    *BEFORE,
    *WORKED_WALK[:4],
    *CONDITIONS,
    *MARKS,
    *WORKED_WALK[4:9],
    *AS_BEFORE,
    *WEIGHING,
    *WORK,
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
