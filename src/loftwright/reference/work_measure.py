"""Tasks: measure, decide and order.

Hours are common practice without a source: one handy person, first time. Each row: id, name, hours [h] as least,
likeliest and most, what comes before.
"""

from __future__ import annotations

from typing import Final

from loftwright.reference.work_row import StandardTask, row

MEASURE: Final[tuple[StandardTask, ...]] = (
    row(
        "measure-van",
        "Measure the roof: crown, camber, bows, and where the opening goes",
        (1.5, 3, 6),
        helpers=1,
        tools="tape, straightedge, spirit level, string",
    ),
    row(
        "ask-inspector",
        "Ask the inspector and the insurer what they want to see",
        (0.5, 1, 3),
        wait=(24, 240, 1000),
        wait_is="answer",
        note="Without their answer a finished roof may not be allowed on the road.",
    ),
    row(
        "get-shell",
        "Buy the shell and bring it home",
        (2, 4, 10),
        wait=(0, 72, 720),
        wait_is="delivery",
        helpers=2,
        when=("bought",),
    ),
    row(
        "build-mould",
        "Build the mould or frame for the shell",
        (8, 20, 60),
        "measure-van",
        when=("built",),
        tools="saw, screwdriver, plane, filler",
    ),
    row(
        "lay-up-shell",
        "Laminate the shell",
        (6, 14, 40),
        "build-mould",
        wait=(24, 48, 120),
        wait_is="curing",
        helpers=1,
        when=("built",),
        tools="rollers, scales, vapour mask, gloves",
        note="Resin vapour harms: mask, gloves, fresh air; a pot that grows hot goes outside.",
    ),
    row(
        "measure-shell",
        "Measure the shell: rim, heights, thickness",
        (1, 2, 4),
        "get-shell lay-up-shell",
        tools="tape, straightedge, string",
    ),
    row(
        "weigh-shell",
        "Weigh the shell and find its centre",
        (0.5, 1, 2),
        "get-shell lay-up-shell",
        helpers=2,
        tools="bathroom scales, pipe",
    ),
    row(
        "design",
        "Put all readings into the file and go through every answer",
        (2, 5, 15),
        "measure-van measure-shell weigh-shell",
    ),
)

ORDER: Final[tuple[StandardTask, ...]] = (
    row(
        "order-metal",
        "Order ring, plates, bolts and rivets",
        (0.5, 1, 3),
        "design",
        wait=(48, 168, 500),
        wait_is="delivery",
    ),
    row(
        "order-lift",
        "Order hinges and latches",
        (0.3, 0.7, 2),
        "design",
        wait=(72, 240, 700),
        wait_is="delivery",
        when=("hinge",),
    ),
    row(
        "order-lift",
        "Order lifting arms and latches",
        (0.3, 0.7, 2),
        "design",
        wait=(72, 240, 900),
        wait_is="delivery",
        when=("arms",),
    ),
    row(
        "order-springs",
        "Order gas springs and ball studs",
        (0.3, 0.5, 1.5),
        "design",
        wait=(72, 240, 700),
        wait_is="delivery",
        when=("springs",),
    ),
    row(
        "order-seal",
        "Order seal, adhesive, primer and sealant",
        (0.3, 0.5, 1.5),
        "design",
        wait=(48, 120, 500),
        wait_is="delivery",
    ),
    row(
        "order-cloth",
        "Order cloth, film, thread and strips",
        (0.3, 0.7, 2),
        "design",
        wait=(72, 240, 800),
        wait_is="delivery",
        when=("walls",),
    ),
    row(
        "order-panel",
        "Order panel, cable, fuse and gland",
        (0.3, 0.7, 2),
        "design",
        wait=(48, 168, 600),
        wait_is="delivery",
        when=("panel",),
    ),
    row(
        "order-lining",
        "Order lining and insulation",
        (0.3, 0.5, 1.5),
        "design",
        wait=(48, 120, 500),
        wait_is="delivery",
        when=("lining",),
    ),
)
