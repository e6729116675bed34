"""The cut and the ring as they are made, ready to show: plan, corner templates, pieces, stock sections."""

from __future__ import annotations

import math
from typing import Final

from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_said import given, nominal, percent, share
from loftwright.core.hold_views import CutPlan, Flat, PlanBow, Template
from loftwright.core.views import Grid
from loftwright.core.wording import MISSING, Wording
from loftwright.project.assemble_opening import ring_sizes
from loftwright.project.plane import CROSSWISE
from loftwright.reference.sections import StockSection

KIND_WORDS: Final = {"angle": "angle", "tube": "tube", "channel": "channel", "flat": "flat", "round tube": "round tube"}
FOOT_SIZE: Final = (0.10, 0.03)
"""Length and width at which a spring's foot is drawn in the plan [m]."""
LATCH_SIZE: Final = (0.05, 0.04)
ARC_PIECES: Final = 24
DENSEST: Final = 12
"""Stock sections that are shown, the stiffest first; the plan's own ring is judged above."""


def bar_words(bar: StockSection, say: Wording) -> str:
    """Return a bar's kind and sizes."""
    sizes = (bar.across, bar.thick) if bar.kind == "flat" else (bar.across, bar.deep, bar.thick)
    if say.units == "metric":
        figures = " x ".join(f"{1000.0 * v:g}" for v in sizes) + " mm"
    else:
        figures = " x ".join(say.short_length(v).removesuffix(" in") for v in sizes) + " in"
    return f"{KIND_WORDS.get(bar.kind, bar.kind)} {figures}"


def cut_plan(held: HeldNumbers, say: Wording) -> CutPlan:
    """Return the roof from above with the cut line, the ring, bows, plates and dimensions."""
    base, plan = held.found.basis, held.found.opening.cut.plan
    at, rim = base.at, held.found.fit.shapes.rim
    half, side = plan.width / 2.0, nominal(at("body.roof_width")) / 2.0
    length, width = nominal(rim.length), nominal(rim.width)
    rear = nominal(rim.rear) + nominal(held.found.fit.seat.shift)
    left = width / 2.0
    if base.plane is CROSSWISE:
        rear, left = (plan.length - length) / 2.0, half + nominal(at(base.plane.overhang))
    front = plan.length + plan.front
    bows = tuple(
        PlanBow(place, nominal(at(f"bow.{i}.width")) / 2.0, kept or not 0.0 < place < plan.length, f"bow {i + 1}")
        for i, (place, kept) in enumerate(
            (nominal(at(f"bow.{i}.at")), bow.kept) for i, bow in enumerate(held.project.bow)
        )
    )
    sizes: list[tuple[Flat, Flat, str]] = [
        ((0.0, -half), (plan.length, -half), say.short_length(plan.length)),
        ((plan.length, -half), (plan.length, half), say.short_length(plan.width)),
        ((-plan.rear, -side), (0.0, -side), say.short_length(plan.rear)),
        ((plan.length, -side), (front, -side), say.short_length(plan.front)),
        ((-plan.rear, side), (front, side), say.short_length(plan.rear + front)),
        ((front, half), (front, side), say.short_length(side - half)),
        *(((0.0, half), (bow.at, half), say.short_length(bow.at)) for bow in bows if 0.0 < bow.at < plan.length),
    ]
    return CutPlan(
        roof=(-plan.rear, side, front, side),
        opening=(0.0, half, plan.length, half),
        shell=(rear, width - left, rear + length, left),
        radius=plan.radius,
        ring=nominal(ring_sizes(held.project, at)[0]),
        bows=bows,
        plates=_plates(held),
        starts=tuple((float(x), float(y)) for x, y in plan.starts),
        sizes=tuple(sizes),
        diagonal=say.short_length(plan.diagonal),
    )


def _plates(held: HeldNumbers) -> tuple[tuple[str, float, float, float, float], ...]:
    """Return what stands on the ring, by name: place, length and width [m]; latches stand over its stops."""
    loads = held.found.opening.ring.loads
    plate = (given(held, "fit.plate_length"), given(held, "fit.plate_width"))
    found = []
    for i, (name, (x, y)) in enumerate(zip(loads.names, loads.points, strict=True)):
        size = plate if i in loads.hinges else LATCH_SIZE if "stop" in name else FOOT_SIZE
        found.append((name, x, y, *size))
    return tuple(found)


def corner_templates(held: HeldNumbers, say: Wording) -> tuple[Template, ...]:
    """Return the template of the opening's corners; none while no radius is decided on."""
    plan = held.found.opening.cut.plan
    if plan.template is None or plan.radius is None or plan.radius <= 0.0:
        return ()
    radius, leg = plan.template
    steps = [k * math.pi / 2.0 / ARC_PIECES for k in range(ARC_PIECES + 1)]
    arc = [(radius * (1.0 - math.cos(a)), radius * (1.0 - math.sin(a))) for a in steps]
    near = radius * (1.0 - math.sqrt(0.5))
    hole = plan.start_diameter
    return (
        Template(
            "All four corners",
            "The straight edges lie on the two pencilled lines; the saw starts in the hole and follows the arc. Turn "
            "it over for the other hand.",
            ((0.0, leg), *arc, (leg, 0.0), (leg, leg)),
            (((radius, radius), (radius, 0.0)), ((radius, radius), (0.0, radius))),
            ((radius, hole / 2.0, hole),),
            (
                ((radius, radius), (near, near), f"R {say.short_length(radius)}"),
                ((0.0, leg), (leg, leg), say.short_length(leg)),
                ((leg, 0.0), (leg, leg), say.short_length(leg)),
            ),
        ),
    )


def ring_pieces(held: HeldNumbers, say: Wording) -> Grid:
    """Return the pieces of the ring to cut."""
    ring = held.found.opening.ring
    bar = bar_words(ring.bar, say)
    total = sum(piece.count * piece.length for piece in ring.pieces if "plate" not in piece.name)
    return Grid(
        "Ring, cutting list",
        ("Piece", "Count", "Section", "Length", "Ends"),
        tuple(
            (
                piece.name.capitalize(),
                str(piece.count),
                "sheet as thick as the ring's wall" if "plate" in piece.name else bar,
                say.short_length(piece.length),
                f"mitred {say.angle(piece.mitre)}" if piece.mitre else "square",
            )
            for piece in ring.pieces
        )
        + _channel(held, say),
        f"Lengths over the longer side: {say.length(total)} of bar in all, and the saw cuts. Corner plates are cut "
        "to the corner's radius and lap both bars.",
    )


def _channel(held: HeldNumbers, say: Wording) -> tuple[tuple[str, ...], ...]:
    """Return the inner channels under the hinges as a row of the cutting list, where there are any."""
    length = nominal(held.found.basis.at("ring.channel"))
    if length <= 0.0 or not held.found.opening.ring.ways:
        return ()
    return (
        (
            "Inner channel under a hinge",
            "2",
            bar_words(held.found.opening.ring.bar, say),
            say.short_length(length),
            "square",
        ),
    )


def stock_table(held: HeldNumbers, say: Wording) -> Grid:
    """Return stock sections as a ring on this roof: what each gives back, for which weight and money."""
    currency = held.project.settings.currency
    ring = held.found.opening.ring
    rows = []
    for one in ring.stock[:DENSEST]:
        row = one.row
        rows.append(
            (
                f"{bar_words(row.stock, say)}, {row.stock.name.split()[-1]}",
                percent(row.kept, say) if held.project.bow else MISSING,
                MISSING if not held.project.bow or row.given_back is None else percent(row.given_back, say),
                share(one.racking_low, one.racking_high, say),
                say.short_length(row.dip),
                percent(row.use, say),
                say.mass(row.mass),
                f"{row.price_low:.0f} to {say.money(row.price_high, currency)}",
            )
        )
    return Grid(
        "Stock sections as this ring",
        ("Section", "Bending kept", "Given back", "Square kept", "Dips", "Of its strength", "Weighs", "Costs"),
        tuple(rows),
        "The stiffest first. Bending: up and down at the bows, of the uncut roof's. Square: what keeps the "
        "roof's rectangle square, of the whole skin's, for two ways its edge may be held. Prices are rough.",
    )
