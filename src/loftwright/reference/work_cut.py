"""Tasks: what must be ready before the cut, and the day of the cut.

Hours are common practice without a source: one handy person, first time. Each row: id, name, hours [h] as least,
likeliest and most, what comes before.
"""

from __future__ import annotations

from typing import Final

from loftwright.reference.work_row import StandardTask, row

READY: Final[tuple[StandardTask, ...]] = (
    row(
        "look-behind",
        "Take the lining out and look behind the skin: cables, air bags, belt mounts, bows",
        (1, 3, 8),
        "measure-van",
        tools="screwdriver, lamp, mirror",
        note="Know what the saw may meet.",
    ),
    row("clear-way", "Move what is in the way of the saw", (0.2, 1.5, 8), "look-behind", tools="spanners, cable ties"),
    row(
        "door-before",
        "One wheel on a kerb: measure the door diagonals",
        (0.5, 1, 2),
        "measure-van",
        helpers=1,
        tools="kerb or planks, tape",
        note="Without the reading before the cut there is nothing to compare with.",
    ),
    row(
        "mark-out",
        "Mark opening and corners on the roof and check them against the ring",
        (1, 2, 4),
        "make-ring clear-way frame-readings",
        tools="tape, square, marker",
    ),
    row("protect-van", "Mask the roof and hang sheets against chips", (1, 1.5, 3), "mark-out", tools="tape, sheets"),
    row(
        "ask-helpers",
        "Ask two helpers for the day of the cut",
        (0.2, 0.4, 1),
        "design",
        wait=(24, 96, 400),
        wait_is="answer",
        note="Two people beside you on that day.",
    ),
    row(
        "isolate-battery",
        "Isolate the battery",
        (0.1, 0.2, 0.5),
        "look-behind weather-window",
        tools="spanner",
        note="Minus first; wait ten minutes before anything near an air bag is touched.",
    ),
    row(
        "weather-window",
        "Wait until two dry days with little wind are forecast",
        (0.1, 0.2, 0.4),
        "protect-van ask-helpers make-rain-cover make-packers make-brackets order-seal order-lift order-springs "
        "door-before paint-shell make-prop frame-readings",
        wait=(0, 48, 336),
        wait_is="weather",
        note="Cut on a dry day, and with a dry one to follow.",
    ),
    row(
        "go-no-go",
        "Go through the list before the cut",
        (0.3, 0.7, 2),
        "isolate-battery ask-inspector",
        note="Every hard stop must be met.",
    ),
)

CUT_DAY: Final[tuple[StandardTask, ...]] = (
    row(
        "cut",
        "Drill the corners and cut the opening",
        (1, 2, 4),
        "go-no-go",
        helpers=2,
        roof_open=True,
        weather=True,
        one_day="cut",
        tools="drill, jigsaw, goggles, gloves, ear protection, vacuum",
        note="One helper below holds the panel so that it cannot drop or tear.",
    ),
    row(
        "cover-on",
        "Put the rain cover on for the night",
        (0.2, 0.3, 0.7),
        "cut make-rain-cover",
        roof_open=True,
        one_day="cut",
        tools="tarpaulin, straps",
        note="Cover it every evening until it is closed, whatever else is not ready.",
    ),
    row(
        "prime-edge",
        "File the edge, vacuum every chip, prime the bare metal",
        (0.5, 1, 2),
        "cut",
        wait=(0.3, 0.5, 2),
        wait_is="curing",
        roof_open=True,
        one_day="cut",
        tools="file, vacuum, brush",
    ),
    row(
        "fit-ring",
        "Bond and rivet the ring",
        (1.5, 3, 6),
        "prime-edge make-ring order-seal",
        wait=(12, 24, 72),
        wait_is="curing",
        helpers=1,
        roof_open=True,
        one_day="cut",
        tools="drill, riveter, clamps, adhesive gun",
    ),
)
