"""Which page of the board, sheet of the book and command help with a chapter of the work, and with single tasks."""

from __future__ import annotations

from typing import Final

HELP_OF_CHAPTER: Final[dict[str, tuple[str, str, str]]] = {
    "Measure and decide": ("What you have", "measuring sheet", "loftwright sheet"),
    "Order": ("Parts", "list of parts", "loftwright parts"),
    "Make": ("Joints", "every hole", "loftwright hold"),
    "Try on the timber frame": ("Papers", "timber frame", "loftwright book"),
    "Before the cut": ("The opening", "before the cut", "loftwright hold"),
    "The day of the cut": ("The opening", "cut plan", "loftwright hold"),
    "While the roof is open": ("Papers", "steps of fitting", "loftwright book"),
    "After it is closed": ("Plan", "hand-over", "loftwright handover"),
    "The way back: the hole closed with the shell fixed": ("Plan", "the way back", "loftwright plan"),
    "Your own": ("Plan", "order of work", "loftwright plan"),
}
"""Title of a page of the board, sheet of the book, command, by chapter."""

HELP_OF_TASK: Final[dict[str, tuple[str, str, str]]] = {
    "ask-inspector": ("Plan", "for the inspector", "loftwright handover"),
    "measure-shell": ("Fit", "measuring sheet", "loftwright sheet"),
    "design": ("Drawing", "verdicts", "loftwright check"),
    "order-springs": ("What lifts it", "request to a supplier", "loftwright book"),
    "order-cloth": ("Walls", "bill of cloth", "loftwright walls"),
    "order-panel": ("What rides on it", "wiring", "loftwright fitout"),
    "order-lining": ("What rides on it", "lining", "loftwright fitout"),
    "order-actuators": ("What rides on it", "powered lift", "loftwright fitout"),
    "make-packers": ("Fit", "packers", "loftwright hold"),
    "make-ring": ("The opening", "ring", "loftwright hold"),
    "make-prop": ("Wind and road", "wind card", "loftwright hold"),
    "make-rain-cover": ("Plan", "rain cover", "loftwright plan"),
    "cut-cloth": ("Walls", "patterns", "loftwright walls"),
    "sew-cloth": ("Walls", "order of sewing", "loftwright walls"),
    "panel-frame": ("What rides on it", "panel's frame", "loftwright fitout"),
    "frame-springs": ("What lifts it", "drilling plan", "loftwright book"),
    "frame-walls": ("Walls", "fold and trial", "loftwright walls"),
    "frame-readings": ("Proof", "readings", "loftwright prove"),
    "ask-helpers": ("Plan", "order of work", "loftwright plan"),
    "weather-window": ("Plan", "order of work", "loftwright plan"),
    "go-no-go": ("Plan", "go or no-go", "loftwright plan"),
    "fit-ring": ("The opening", "ring", "loftwright hold"),
    "van-plates": ("Joints", "every hole", "loftwright hold"),
    "seal-on": ("What rides on it", "seal", "loftwright fitout"),
    "springs-on": ("What lifts it", "drilling plan", "loftwright book"),
    "springs-tried": ("Proof", "readings", "loftwright prove"),
    "brace-on": ("Wind and road", "wind card", "loftwright hold"),
    "set-latches": ("Wind and road", "steps of fitting", "loftwright hold"),
    "actuators-on": ("What rides on it", "powered lift", "loftwright fitout"),
    "walls-on": ("Walls", "tucking in", "loftwright walls"),
    "lining-in": ("What rides on it", "lining", "loftwright fitout"),
    "panel-on": ("What rides on it", "panel's frame", "loftwright fitout"),
    "panel-wire": ("What rides on it", "wiring", "loftwright fitout"),
}
"""The same for tasks that another page explains better than that of their chapter."""
