"""The standard list of tasks for a lifting roof, and the order that safety demands."""

from __future__ import annotations

from typing import Final

from loftwright.reference.work_after import FINISH, WAY_BACK
from loftwright.reference.work_cut import CUT_DAY, READY
from loftwright.reference.work_make import MAKE, TRIAL
from loftwright.reference.work_measure import MEASURE, ORDER
from loftwright.reference.work_open import OPEN
from loftwright.reference.work_row import StandardTask

CHAPTERS: Final[tuple[tuple[str, tuple[StandardTask, ...]], ...]] = (
    ("Measure and decide", MEASURE),
    ("Order", ORDER),
    ("Make", MAKE),
    ("Try on the timber frame", TRIAL),
    ("Before the cut", READY),
    ("The day of the cut", CUT_DAY),
    ("While the roof is open", OPEN),
    ("After it is closed", FINISH),
)

BACK: Final = ("The way back: the hole closed with the shell fixed", WAY_BACK)

SAFE_ORDER: Final[tuple[tuple[str, str, str], ...]] = (
    ("isolate-battery", "cut", "a saw that meets a live cable starts a fire or fires an air bag"),
    ("look-behind", "cut", "cables, air bags and belt mounts may lie behind the skin"),
    ("clear-way", "cut", "what lies behind the skin must be out of the way of the saw"),
    ("door-before", "cut", "without a reading before the cut nobody can tell what it did to the body"),
    ("make-ring", "cut", "the ring goes in on the day of the cut"),
    ("make-rain-cover", "cut", "rain comes when there is a hole"),
    ("ask-helpers", "cut", "one person cannot hold the cut panel and the saw"),
    ("weather-window", "cut", "adhesive and bare metal must stay dry"),
    ("go-no-go", "cut", "a cut cannot be taken back"),
    ("cut", "cover-on", "rain comes when there is a hole"),
    ("cut", "prime-edge", "bare edges rust at once"),
    ("prime-edge", "fit-ring", "under the ring nobody reaches the bare edge again"),
    ("fit-ring", "lift-on", "without its ring the roof cannot carry the shell"),
    ("make-prop", "lift-on", "nobody is under a shell that is not propped"),
    ("lift-on", "prop-up", "nobody is under a shell that is not propped"),
    ("prop-up", "springs-on", "springs alone do not hold the shell over people"),
    ("prop-up", "brace-on", "nobody is under a shell that is not propped"),
    ("prop-up", "set-latches", "nobody is under a shell that is not propped"),
    ("seal-ring", "closed", "an unsealed ring lets water in behind the lining"),
    ("water-test", "closed", "what drips is found before the lining hides it"),
    ("make-prop", "frame-hinges", "the shell is as heavy on the frame as on the van"),
    ("catch-on", "first-road", "the latches alone must not be all that holds the shell"),
    ("first-lift", "first-road", "latches are tried standing before they are tried at speed"),
)
"""Pairs: the first task comes before the second, near or far, and why. Common practice."""

ONE_DAY: Final = ("cut", "cover-on", "prime-edge", "fit-ring")
"""What must be done on one and the same day."""
