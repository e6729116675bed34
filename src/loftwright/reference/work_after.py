"""Tasks after the roof is closed, and the way back.

Hours are common practice without a source: one handy person, first time. Each row: id, name, hours [h] as least,
likeliest and most, what comes before.
"""

from __future__ import annotations

from typing import Final

from loftwright.reference.work_row import StandardTask, row

FINISH: Final[tuple[StandardTask, ...]] = (
    row(
        "catch-on",
        "Fit the second catch and the sign at the driver's seat",
        (0.5, 1, 3),
        "closed",
        tools="drill, spanners",
    ),
    row(
        "walls-on",
        "Fix the walls, as tried on the frame",
        (2, 4, 8),
        "closed sew-cloth",
        helpers=1,
        when=("trial", "walls"),
        tools="staple gun, screwdriver",
    ),
    row(
        "walls-on",
        "Fix the walls, set their length and look at the fold",
        (3, 8, 20),
        "closed sew-cloth",
        helpers=1,
        when=("walls",),
        unless=("trial",),
        tools="staple gun, screwdriver",
    ),
    row(
        "lining-in",
        "Line the shell and lay its cables",
        (2, 5, 12),
        "closed order-lining",
        wait=(12, 24, 48),
        wait_is="curing",
        when=("lining",),
        tools="knife, adhesive, vapour mask",
    ),
    row(
        "panel-on",
        "Fix the panel and seal each hole",
        (1, 2.5, 6),
        "closed panel-frame",
        wait=(8, 24, 48),
        wait_is="curing",
        helpers=1,
        when=("panel",),
        weather=True,
        tools="drill, spanners, sealant gun",
    ),
    row(
        "panel-wire",
        "Lay the cable with its loop, gland and fuse",
        (1.5, 3, 8),
        "~panel-on",
        when=("panel",),
        tools="crimping pliers, meter",
        note="Cover the panel while you wire it: it gives current in any light.",
    ),
    row("put-back", "Put lining and trim back inside", (2, 5, 12), "closed door-after", tools="knife, screwdriver"),
    row(
        "battery-on",
        "Connect the battery again and try everything electric",
        (0.2, 0.4, 1),
        "put-back panel-wire",
        tools="spanner, meter",
    ),
    row(
        "first-lift",
        "First lift with two helpers: prop, readings, latches, water",
        (1, 2, 4),
        "walls-on lining-in panel-on catch-on put-back",
        helpers=2,
        tools="bathroom scales, tape, hose",
    ),
    row("papers", "Write the new height on the dash and hang up the driver's card", (0.3, 0.5, 1), "first-lift"),
    row("inspection", "Show it to the inspector", (1, 2, 5), "first-lift battery-on ask-inspector"),
    row(
        "first-road",
        "First fast road: short, then look at latches, catch and seal",
        (0.7, 1.2, 3),
        "papers catch-on inspection battery-on",
        helpers=1,
    ),
)

WAY_BACK: Final[tuple[StandardTask, ...]] = (
    row("back-cover", "Stop and put the rain cover on", (0.3, 0.5, 1)),
    row(
        "back-strip",
        "Take off springs, brace and arms with the shell propped",
        (1, 2, 4),
        "back-cover",
        helpers=2,
        tools="spanners, props",
        note="Stop strap off, prop higher until a spring is at its full length, only then unhook it; never push it in.",
    ),
    row("back-clean", "Clean and rough the ring and the rim", (1, 2, 4), "back-strip", tools="sandpaper, cleaner"),
    row(
        "back-bed",
        "Lay the shell on the ring in adhesive and bolt it down all round",
        (2, 4, 8),
        "back-clean",
        wait=(24, 48, 120),
        wait_is="curing",
        helpers=3,
        weather=True,
        tools="adhesive gun, drill, spanners",
    ),
    row(
        "back-seal",
        "Seal the joint inside and out",
        (1, 2, 4),
        "back-bed",
        wait=(8, 24, 48),
        wait_is="curing",
        weather=True,
        tools="sealant gun",
    ),
    row("back-water", "Water from a hose all round", (0.4, 0.8, 2), "back-seal", helpers=1, tools="hose, lamp"),
    row(
        "back-inspector",
        "Show the fixed roof to the inspector; the opening stays cut",
        (1, 2, 4),
        "back-water",
        wait=(24, 168, 700),
        wait_is="answer",
        note="A shell that is fixed is no proof that the cut body is as strong as before: the inspector decides.",
    ),
)
