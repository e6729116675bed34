"""Tasks: make the parts and try them on a timber frame.

Hours are common practice without a source: one handy person, first time. Each row: id, name, hours [h] as least,
likeliest and most, what comes before.
"""

from __future__ import annotations

from typing import Final

from loftwright.reference.work_row import StandardTask, row

MAKE: Final[tuple[StandardTask, ...]] = (
    row(
        "trim-shell",
        "Trim and sand the rim of the shell",
        (1, 3, 8),
        "design",
        tools="sanding block, saw, dust mask, goggles",
        note="Glass-fibre dust harms: mask, goggles, vacuum.",
    ),
    row(
        "stiffen-shell",
        "Laminate stiffeners and bolt pads into the shell",
        (3, 8, 20),
        "trim-shell",
        wait=(24, 48, 120),
        wait_is="curing",
        when=("laminate",),
        tools="rollers, scales, vapour mask, gloves",
    ),
    row(
        "make-packers", "Cut the packers to their wedge angles", (2, 4, 10), "design", tools="plane, saw, spirit level"
    ),
    row(
        "make-brackets",
        "Cut, drill and paint plates and brackets",
        (3, 6, 15),
        "order-metal",
        wait=(12, 24, 72),
        wait_is="curing",
        tools="saw, drill, file",
    ),
    row(
        "make-ring",
        "Cut the pieces of the ring and try them on a paper pattern of the opening",
        (3, 6, 14),
        "order-metal",
        tools="saw, file, drill, square",
        note="The ring goes in on the day of the cut, so every piece must be ready and tried.",
    ),
    row(
        "make-prop",
        "Make the prop and try it",
        (0.5, 1, 3),
        "design",
        tools="saw, drill",
        note="Nobody works under a shell that gas springs alone hold up.",
    ),
    row(
        "make-rain-cover",
        "Make the rain cover and try it over the roof",
        (1, 2, 5),
        "measure-van",
        tools="tarpaulin, boards, straps",
        note="It must be there and fit before there is a hole.",
    ),
    row(
        "paint-shell",
        "Paint the shell",
        (2, 5, 12),
        "trim-shell stiffen-shell",
        wait=(24, 48, 168),
        wait_is="curing",
        weather=True,
        tools="sandpaper, roller, vapour mask",
    ),
    row(
        "cut-cloth",
        "Cut the cloth",
        (2, 5, 12),
        "order-cloth",
        helpers=1,
        when=("walls",),
        tools="scissors, steel rule",
    ),
    row("sew-cloth", "Sew the walls", (6, 16, 40), "cut-cloth", when=("walls",), tools="sewing machine, clips"),
    row("panel-frame", "Make the frame for the panel", (1.5, 3, 8), "order-panel", when=("panel",), tools="saw, drill"),
)

TRIAL: Final[tuple[StandardTask, ...]] = (
    row("buy-timber", "Buy timber and screws for the trial frame", (1, 2, 4), "design", when=("trial",)),
    row(
        "build-frame",
        "Build the timber trial frame",
        (4, 8, 16),
        "buy-timber make-packers",
        helpers=1,
        when=("trial",),
        tools="saw, screwdriver, square, spirit level",
    ),
    row(
        "frame-hinges",
        "Bolt hinges to frame and shell and try the travel by hand",
        (2, 4, 10),
        "build-frame order-lift make-brackets make-prop stiffen-shell trim-shell",
        helpers=2,
        when=("trial", "hinge"),
        tools="drill, spanners, spirit level",
    ),
    row(
        "frame-hinges",
        "Bolt lifting arms to frame and shell and try the travel by hand",
        (3, 7, 16),
        "build-frame order-lift make-brackets make-prop stiffen-shell trim-shell",
        helpers=2,
        when=("trial", "arms"),
        tools="drill, spanners, spirit level",
        note="Props and two helpers hold the shell: arms shear fingers.",
    ),
    row(
        "frame-springs",
        "Fit the springs on the frame and weigh the hand force",
        (1.5, 3, 8),
        "frame-hinges order-springs",
        helpers=1,
        when=("trial", "springs"),
        tools="spanners, bathroom scales",
        note="Roof on its prop, springs at their full length: never push one in by hand, nobody in line with its rod.",
    ),
    row(
        "frame-latches",
        "Fit stops and latches on the frame",
        (1, 2.5, 6),
        "frame-hinges order-seal",
        when=("trial",),
        tools="drill, spanners",
    ),
    row(
        "frame-brace",
        "Fit the brace on the frame",
        (1, 2, 5),
        "frame-hinges",
        when=("trial", "brace"),
        tools="drill, spanners",
    ),
    row(
        "frame-walls",
        "Hang the cloth on the frame, shut the roof and look at the fold",
        (2, 4, 10),
        "frame-springs frame-latches sew-cloth",
        helpers=1,
        when=("trial", "walls"),
        tools="staple gun, clips",
    ),
    row(
        "frame-readings",
        "Take readings on the frame, write them into the file, move what must be moved",
        (1, 3, 10),
        "frame-springs frame-latches frame-brace frame-walls",
        helpers=1,
        when=("trial",),
        tools="bathroom scales, tape",
        note="Going on is decided by these readings.",
    ),
)
