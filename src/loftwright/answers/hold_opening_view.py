"""The hole in the roof and the ring round it, ready to show: figures, cut plan, corner templates, pieces, sections."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_said import answer, given, nominal, of_part, percent, share
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.hold_views import CutPlan, Flat, HoldSection, PlanBow, Template
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import MISSING, Wording
from loftwright.project.assemble_opening import ring_sizes
from loftwright.project.plane import CROSSWISE
from loftwright.reference.sections import StockSection
from loftwright.strength.racking import Racking

KIND_WORDS: Final = {"angle": "angle", "tube": "tube", "channel": "channel", "flat": "flat", "round tube": "round tube"}
EDGES: Final = ("edges free to stretch", "edges that keep their length")
"""The two edge conditions in few words, in the order of `CutFound.racking`; a real body lies between."""
FOOT_SIZE: Final = (0.10, 0.03)
"""Length and width at which a spring's foot is drawn in the plan [m]."""
LATCH_SIZE: Final = (0.05, 0.04)
ARC_PIECES: Final = 24
MOST_TILT: Final = math.radians(20.0)
"""Tilts beyond this [rad] are not written: the ring has given way long before."""
DENSEST: Final = 12
"""Stock sections that are shown, the stiffest first; the plan's own ring is judged above."""


def opening_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the hole and its ring."""
    opening, mine = held.found.opening, of_part(checks, "opening")
    cut = opening.cut
    kept = _range([one.kept_cut for one in cut.racking], say)
    back = _range([one.kept_ring for one in cut.racking], say)
    known = (
        f"of the skin's stiffness against racking the hole leaves {kept}, with the ring it is {back}; the ring dips "
        f"{say.short_length(nominal(opening.ring.dip))} at most"
    )
    return HoldSection(
        "opening",
        "The hole and its ring",
        answer(mine, "The ring does enough", "Do not cut yet", known),
        _facts(held, kept, back, say),
        tuple(_grids(held, say)),
        tuple(check_row(check, say) for check in mine),
        (*opening.said, *cut.torsion.reasons),
    )


def _times(both: tuple[Racking, Racking]) -> str:
    """Return by how much the ring stiffens the cut roof."""
    ends = sorted(nominal(one.kept_ring) / nominal(one.kept_cut) for one in both)
    low, high = (f"{v:.1f}" for v in ends)
    return f"{low} times" if low == high else f"{low} to {high} times"


def _range(values: list[np.ndarray], say: Wording) -> str:
    ends = sorted(nominal(v) for v in values)
    return share(ends[0], ends[-1], say)


def _facts(held: HeldNumbers, kept: str, back: str, say: Wording) -> tuple[Fact, ...]:
    opening = held.found.opening
    cut, ring = opening.cut, opening.ring
    return (
        Fact("Hole", f"{say.length(cut.plan.length)} x {say.length(cut.plan.width)}", f"corners {_radius(cut.plan.radius, say)}"),
        Fact("Racking stiffness kept, cut", kept, "of the whole skin's, between the two edge conditions"),
        Fact("Racking stiffness kept, with the ring", back, f"{_times(cut.racking)} as stiff as without it"),
        Fact("Stiffness against twist kept", _twist(held, say), "a range: only the tape across the door settles it"),
        Fact("The ring dips", say.short_length(nominal(ring.dip)), "at most, in the worst of its loads"),
        Fact("A side sags", say.short_length(nominal(ring.sag)), "at its middle"),
        Fact("Stress in the ring", say.rule_value(nominal(ring.stress), "Pa")),
        Fact("Sawn out", say.mass(nominal(opening.cut_mass)), "skin and bows"),
        Fact("Ring", say.mass(nominal(opening.ring_mass)), bar_words(ring.bar, say)),
    )


def _radius(radius: float | None, say: Wording) -> str:
    return "not decided yet" if radius is None else f"of radius {say.short_length(radius)}"


def _twist(held: HeldNumbers, say: Wording) -> str:
    torsion = held.found.opening.cut.torsion
    return share(nominal(torsion.kept_ring_low), nominal(torsion.kept_ring_high), say)


def bar_words(bar: StockSection, say: Wording) -> str:
    """Return a bar's kind and sizes."""
    sizes = (bar.across, bar.thick) if bar.kind == "flat" else (bar.across, bar.deep, bar.thick)
    if say.units == "metric":
        figures = " x ".join(f"{1000.0 * v:g}" for v in sizes) + " mm"
    else:
        figures = " x ".join(say.short_length(v).removesuffix(" in") for v in sizes) + " in"
    return f"{KIND_WORDS.get(bar.kind, bar.kind)} {figures}"


def _grids(held: HeldNumbers, say: Wording) -> list[Grid]:
    opening = held.found.opening
    cut, ring = opening.cut, opening.ring
    torsion = cut.torsion
    grids = [
        Grid(
            "Racking stiffness kept, of the whole skin's",
            ("Outer edge", "Cut", "With ring", "Given back"),
            tuple(_racking(words, one, say) for words, one in zip(EDGES, cut.racking, strict=True)),
            f"The edge decides more than anything else, and a body lies between these two. A rigid frame would make one "
            f"believe {percent(cut.rigid_frame_kept, say)} are left: that is not so.",
        ),
        Grid(
            "Stiffness of the body against twist kept",
            ("", "Least", "Most"),
            (
                ("Cut", *_ends(torsion.kept_cut_low, torsion.kept_cut_high, say)),
                ("With the ring", *_ends(torsion.kept_ring_low, torsion.kept_ring_high, say)),
                *(
                    (f"By the tape, {when}", *_ends(kept, kept, say))
                    for when, kept in (("cut", cut.tape_cut), ("with the ring", cut.tape_ring))
                    if kept is not None
                ),
            ),
            "A range, and the reasons for it stand below; the diagonals of a door before, after the cut and with the ring "
            "settle it.",
        ),
        Grid(
            "Loads on the ring",
            ("Load", "Dips", "Side sags", "Stress", "Plates tilt"),
            tuple(
                (
                    case[:1].upper() + case[1:],
                    say.short_length(float(one[0])),
                    say.short_length(float(one[1])),
                    say.rule_value(float(one[2]), "Pa"),
                    _tilt(float(one[3]), say),
                )
                for case, one in zip(ring.loads.cases, ring.by_case, strict=True)
            ),
        ),
    ]
    if ring.ways:
        grids.append(
            Grid(
                "From the hinges to the bows",
                ("Plates", "Lift", "Turning", "Bows reached", "Left over"),
                tuple(
                    (
                        way.name,
                        say.force(nominal(way.lift)),
                        say.moment(nominal(way.turning)),
                        str(way.path.count),
                        say.moment(nominal(way.path.left_over)),
                    )
                    for way in ring.ways
                ),
                "One plate, where it pushes hardest; up is positive. What is left over bends skin and ring.",
            )
        )
    return grids


def _tilt(angle: float, say: Wording) -> str:
    """Return how far plates tilt; far beyond what the sums are good for, only that it is more."""
    return f"over {say.angle(MOST_TILT)}" if abs(angle) > MOST_TILT else say.angle(angle)


def _racking(words: str, one: Racking, say: Wording) -> tuple[str, str, str, str]:
    shares = (nominal(one.kept_cut), nominal(one.kept_ring), nominal(one.given_back))
    kept_cut, kept_ring, back = (percent(v, say) for v in shares)
    return words, kept_cut, kept_ring, back


def _ends(low: np.ndarray, high: np.ndarray, say: Wording) -> tuple[str, str]:
    return percent(nominal(low), say), percent(nominal(high), say)


# --- what is marked out and cut --------------------------------------------------------------------


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
        PlanBow(nominal(at(f"bow.{i}.at")), nominal(at(f"bow.{i}.width")) / 2.0, bow.kept, f"bow {i + 1}")
        for i, bow in enumerate(held.project.bow)
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
            "The straight edges lie on the two pencilled lines; the saw starts in the hole and follows the arc. Turn it "
            "over for the other hand.",
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
        ),
        "Lengths over the longer side. Corner plates are cut to the corner's radius and lap both bars.",
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
                percent(row.kept, say),
                MISSING if row.given_back is None else percent(row.given_back, say),
                share(one.racking_low, one.racking_high, say),
                say.short_length(row.dip),
                percent(row.use, say),
                say.mass(row.mass),
                f"{row.price_low:.0f} to {say.money(row.price_high, currency)}",
            )
        )
    return Grid(
        "Stock sections as this ring",
        ("Section", "Bending kept", "Given back", "Racking kept", "Dips", "Of its yield", "Weighs", "Costs"),
        tuple(rows),
        "The stiffest first. Bending: up and down at the bows, of the uncut roof's. Racking: in the roof's plane, of the "
        "whole skin's, between the two edge conditions. Prices are rough.",
    )
