"""Stock sections set side by side as rings, and the pieces to cut for one of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from loftwright.core.motion import Array
from loftwright.reference.metals import METALS
from loftwright.reference.sections import STOCK_SECTIONS, StockSection
from loftwright.strength.frame import Solved, solve
from loftwright.strength.ring import Influence, Mesh, bar_stiffness, ring_mesh, unit_cases
from loftwright.strength.ring_response import respond
from loftwright.strength.ring_roof import Roof
from loftwright.strength.sections import Section, flat, section_of

Joint = Literal["mitre", "square"]

OVERLAP = 0.06
"""A corner plate runs along each bar by two and a half of its widths, and by this at least [m]; judgement."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One kind of piece to cut: `length` [m] over its longer side, `count`, `mitre` of both ends off square [rad]."""

    name: str
    length: float
    count: int
    mitre: float


@dataclass(frozen=True, slots=True)
class StockRow:
    """What a ring of one stock section does for its weight and money.

    `mass` [kg]; `price_low`, `price_high` [price]; `kept` stiffness up and down at the bow crossings over that of the
    uncut roof [1]; `given_back` share of what cutting the bows took [1], None where cutting took nothing; under the
    standard load the greatest `dip` [m], `tilt` [rad] and `use` stress over yield [1]; `racking` is
    filled by others [1].
    """

    stock: StockSection
    section: Section
    mass: float
    price_low: float
    price_high: float
    kept: float
    given_back: float | None
    dip: float
    tilt: float
    use: float
    racking: float | None = None


def ring_pieces(roof: Roof, stock: StockSection, *, joint: Joint = "mitre") -> tuple[Piece, ...]:
    """Return the pieces of a ring [m].

    "mitre": four bars round the outside, L + 2 b over their longer side with b the bar's width across, both ends at 45
    degrees (1), and four corner plates that carry the joint and the rounded corner of the cut. "square": bars from
    tangent to tangent, L - 2 r (2), and four plates cut to the corner radius that overlap both bars.
    """
    b = stock.across
    lap = max(2.5 * b, OVERLAP)
    if joint == "mitre":
        extra, mitre, plate = 2 * b, np.pi / 4, b + roof.radius + lap
    else:
        extra, mitre, plate = -2 * roof.radius, 0.0, b + roof.radius + lap
    return (
        Piece("long side", roof.length + extra, 2, float(mitre)),
        Piece("short side", roof.width + extra, 2, float(mitre)),
        Piece("corner plate", float(plate), 4, 0.0),
    )


def ring_mass(roof: Roof, stock: StockSection) -> float:
    """Return the mass of the bars of a mitred ring [kg], without corner plates and bolts."""
    return METALS[stock.metal].density * section_of(stock).area * _bar_length(roof, stock)


def _bar_length(roof: Roof, stock: StockSection) -> float:
    return sum(p.length * p.count for p in ring_pieces(roof, stock) if p.name != "corner plate")


def crossing_stiffness(mesh: Mesh, young: Array, shear: Array, sections: tuple[Section, ...]) -> Array:
    """Return how stiff the long sides are up and down where bows cross them [N/m], [sections].

    k = (sum f)^2 / (f . u) for like pushes f at every crossing, at mid-sides if there is none (3): a mean that
    stiffening any part cannot lower. `young` and `shear` [Pa] [sections] of the ring's bars.
    """
    loads = np.zeros((1, len(mesh.frame.joints), 6))
    loads[0, mesh.crossings if mesh.crossings.size else mesh.mid_sides[[0, 2]], 2] = 1.0
    solved = solve(mesh.frame, bar_stiffness(mesh, young, shear, sections), loads, mesh.held, blocks=mesh.blocks)
    work = (loads * solved.moved).sum(axis=(-1, -2))[:, 0]
    return np.asarray(loads.sum() ** 2 / work)


def _bare(roof: Roof, *, cut: bool) -> float:
    """Return the stiffness at the crossings without a ring: a strip of skin on bows cut or whole [N/m]."""
    bows = tuple(replace(bow, cut=cut, tied=True) for bow in roof.bows)
    strip = flat(roof.edge, roof.skin)
    young = np.array([roof.skin_young])
    mesh = ring_mesh(replace(roof, bows=bows))
    return float(crossing_stiffness(mesh, young, young / 2.6, (strip,))[0])


def stock_table(
    roof: Roof,
    points: tuple[tuple[float, float], ...],
    force: Array,
    height: Array,
    *,
    stock: Sequence[StockSection] = STOCK_SECTIONS,
) -> tuple[StockRow, ...]:
    """Return every stock section as a ring round this opening, the stiffest first.

    The standard load: `force` [p, 3] [N] at `points` (x, y) [m], `height` [p] [m] above the ring. Stiffness is
    compared with the roof before the cut, its bows whole and a strip of skin as wide as the edge in the ring's
    place, and with the same roof with every bow cut and tied to that strip:
    given back = (k_ring - k_cut) / (k_whole - k_cut) (4).
    Validity: the skin over the opening and the crown's arching are left out of all three.
    """
    rows = []
    mesh = ring_mesh(roof, points)
    sections = tuple(section_of(s) for s in stock)
    young = np.array([METALS[s.metal].young for s in stock])
    shear = np.array([METALS[s.metal].shear for s in stock])
    whole, cut = _bare(roof, cut=False), _bare(roof, cut=True)
    stiff = crossing_stiffness(mesh, young, shear, sections)
    loads, line = unit_cases(mesh)
    solved = solve(
        mesh.frame, bar_stiffness(mesh, young, shear, sections), loads, mesh.held, blocks=mesh.blocks, line=line
    )
    where = np.array(points, dtype=np.float64).reshape(-1, 2)
    for i, (bar, section) in enumerate(zip(stock, sections, strict=True)):
        metal, length = METALS[bar.metal], _bar_length(roof, bar)
        one = Solved(solved.moved[i], solved.ends[i], solved.reactions[i])
        found = respond(
            Influence(mesh, section, metal.young, metal.shear, where, one), force[None], height[None], np.zeros(1)
        )
        rows.append(
            StockRow(
                bar,
                section,
                metal.density * section.area * length,
                bar.price_low * length,
                bar.price_high * length,
                float(stiff[i]) / whole,
                (float(stiff[i]) - cut) / (whole - cut) if whole > cut * (1 + 1e-9) else None,
                float(found.dip[0]),
                float(found.tilt[0]),
                float(found.stress[0]) / metal.yielding,
            )
        )
    return tuple(sorted(rows, key=lambda row: -row.kept))
