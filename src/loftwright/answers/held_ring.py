"""The ring round the opening, out of plane: how far it gives, what stock sections would do, and the way to the bows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.held_cut import CutFound, between, racking_of_stock
from loftwright.answers.ring_loads import CLOSED, RingLoads, ring_loads
from loftwright.answers.ring_ways import NO_BOWS, Way, hinge_ways, judge_ways
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.project.assemble_opening import (
    LEAST_GAP,
    THICKEST,
    Bows,
    Parts,
    RingPlan,
    edge_of,
    ends_of,
    ring_metal,
    ring_plan,
    ring_sizes,
    ring_stock,
    skin_metal,
)
from loftwright.reference.metals import METALS
from loftwright.reference.sections import StockSection
from loftwright.strength.ring import Influence, ring_influence
from loftwright.strength.ring_response import opened_seal, respond
from loftwright.strength.ring_roof import Roof
from loftwright.strength.ring_rules import (
    BENDS_FOR_GOOD,
    DIPS,
    PLATE_TILTS,
    SAGS,
)
from loftwright.strength.ring_stock import Piece, StockRow, ring_pieces, stock_table
from loftwright.strength.sections import section_of

if TYPE_CHECKING:
    from loftwright.answers.held_road import RoadFound
    from loftwright.answers.held_wind import WindFound

SAG_SHARE: Final = 1 / 200
"""Most that a side may sag, as a share of its length [1]: common practice, as for beams in buildings."""
TILT: Final = np.radians(1.0)
"""Most that a hinge plate may tilt with the ring [rad]: judgement, the play of a plain hinge."""
MORE: Final = LEAST_GAP + 1e-3
"""Roof beyond a bow at the opening's end that is always reckoned with [m]."""
SAME: Final = 1e-4
"""Sizes whose logarithms differ by less are not reckoned apart [1]."""


@dataclass(frozen=True, slots=True)
class StockBeside:
    """A stock section as a ring on this roof: what `StockRow` says, and racking stiffness kept, low and high [1]."""

    row: StockRow
    racking_low: float
    racking_high: float


@dataclass(frozen=True, slots=True)
class RingFound:
    """What the ring does out of its plane.

    `dip` greatest give at loads and mid-sides, `sag` at mid-sides [m], `stress` [Pa], `tilt` of hinge plates [rad], and
    `gap` by which the closed shell's seal opens [m], the worst of all cases, each [rows]; `by_case` [cases, 4] the
    first four of the nominal ring; `mass` of its bars [kg], [rows]; `pieces` to cut of the nominal ring, of the bar
    `bar`; `stock`: stock sections beside it, the stiffest first, under the nominal case in which the ring gives most;
    `ways` from hinge plates to the bows.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    loads: RingLoads
    plan: RingPlan
    dip: Array
    sag: Array
    stress: Array
    tilt: Array
    gap: Array
    by_case: Array
    mass: Array
    pieces: tuple[Piece, ...]
    bar: StockSection
    stock: tuple[StockBeside, ...]
    ways: tuple[Way, ...]


@lru_cache(maxsize=128)
def influence_of(roof: Roof, bar: StockSection, points: tuple[tuple[float, float], ...]) -> Influence:
    """Return what a ring of one bar does under unit loads, solved once; `points` (x, y) [m]."""
    metal = METALS[bar.metal]
    return ring_influence(roof, section_of(bar), metal.young, metal.shear, points)


@lru_cache(maxsize=16)
def table_of(
    roof: Roof, points: tuple[tuple[float, float], ...], force: tuple[tuple[float, ...], ...], height: tuple[float, ...]
) -> tuple[StockRow, ...]:
    """Return the table of stock sections, worked out once; `force` [N] at `points` and `height` above the ring [m]."""
    return stock_table(roof, points, np.array(force), np.array(height))


def ring_found(base: Basis, bows: Bows, parts: Parts, cut: CutFound, wind: WindFound, road: RoadFound) -> RingFound:
    """Return what the ring does out of its plane, with these bows and its section in `parts`."""
    at, project = base.at, base.project
    loads = ring_loads(base, wind, road)
    plan = ring_plan(project, at, bows, tuple(loads.points[i] for i in loads.hinges))
    worst, by_case = _answers(base, loads, plan, bows)
    dip, sag, stress, tilt, gap = worst.T
    ways = hinge_ways(base, loads, bows)
    bar = ring_stock(project, plan.ring)
    flat = base.full(ring_sizes(project, at)[0])
    around = 2 * (base.full(at("opening.length")) + at("opening.width")) + 8 * flat
    said = [
        *loads.said,
        "Ends of cut bows are taken as tied to the ring without slip, the side rails and the roof's ends as firm: both "
        "flatter the ring.",
        "The inner channel is taken to be of the ring's own bar.",
        "What skin and whole bows do for the ring is reckoned from their dip under a weight. That the skin also works "
        "as a part of the ring's and the cut bows' own section, and the lining, are left out, on the safe side.",
    ]
    if project.cut.corner_radius is None:
        said.append("The ring is reckoned with corners of 50 mm radius while nobody has decided on them.")
    return RingFound(
        (*_judge(base, worst, by_case, loads), *judge_ways(base, ways, plan, parts)),
        tuple(said),
        loads,
        plan,
        dip,
        sag,
        stress,
        tilt,
        gap,
        by_case[:, :4],
        np.asarray(ring_metal(project).density * parts.area * around),
        ring_pieces(plan.roof(skin_metal(project).young), bar),
        bar,
        _beside(base, loads, plan, by_case, cut),
        ways,
    )


def _worst(
    influence: Influence, loads: RingLoads, force: Array, height: Array, cloth: Array, closed: Flags | bool
) -> Array:
    """Return dip, sag [m], stress [Pa], tilt of hinges [rad] and opened seal [m], [rows, 5]; loads as in `respond`.

    The seal counts where the shell lies on it: where `closed`, [rows] or a number.
    """
    one = respond(influence, force, height, cloth)
    turned = np.hypot(one.turned[..., 0], one.turned[..., 1])[:, list(loads.hinges)].max(axis=-1, initial=0.0)
    gap = np.where(closed, opened_seal(influence, one, loads.shell, loads.far), 0.0)
    return np.stack([one.dip, np.abs(one.at_mid_sides).max(axis=-1), one.stress, turned, gap], axis=-1)


def _answers(base: Basis, loads: RingLoads, plan: RingPlan, bows: Bows) -> tuple[Array, Array]:
    """Return the worst of dip, sag, stress, tilt and opened seal, [rows, 5], and the nominal ones, [cases, 5].

    Loads count row by row on the nominal ring. What changes its stiffness (its section, each bow, the skin, how far
    the side rails are off) is reckoned under the nominal loads alone at both ends; in between the logarithms of the
    answers run straight, and those of several add (1). Places of loads and bows are the nominal ones.
    """
    ring = _influence(base, plan, loads)
    every = np.stack(
        [
            _worst(ring, loads, loads.force[:, case], loads.height, loads.cloth[:, case], case in CLOSED)
            for case in range(len(loads.cases))
        ],
        axis=1,
    )
    worst = every.max(axis=1)
    if base.rows == 1:
        return worst, every[0]
    least = np.maximum(worst[0], 1e-12)
    # The nominal loads alone, every case a row.
    closed = np.isin(np.arange(len(loads.cases)), CLOSED)
    alone = (loads, loads.force[0], np.broadcast_to(loads.height[0], loads.force.shape[1:3]), loads.cloth[0], closed)

    def shifted(other: RingPlan) -> Array:
        found = _worst(_influence(base, other, loads), *alone).max(axis=0)
        return np.asarray(np.log(np.maximum(found, 1e-12) / least))

    shift = np.zeros((base.rows, 5))
    for column, change in _changes(base, plan, bows):
        logs = np.log(column)
        ends = [row for row in (int(column.argmin()), int(column.argmax())) if abs(logs[row] - logs[0]) > SAME]
        if ends:
            shift += between(
                logs, {float(logs[0]): np.zeros(5)} | {float(logs[r]): shifted(change(float(column[r]))) for r in ends}
            )
    return np.asarray(worst * np.exp(shift)), every[0]


def _influence(base: Basis, plan: RingPlan, loads: RingLoads) -> Influence:
    return influence_of(plan.roof(skin_metal(base.project).young), ring_stock(base.project, plan.ring), loads.points)


def _changes(base: Basis, plan: RingPlan, bows: Bows) -> Iterator[tuple[Array, Callable[[float], RingPlan]]]:
    """Return what changes the ring's stiffness: its values [rows], and how each makes another plan."""
    flat_bar = base.project.ring.shape == "flat"
    for i, size in enumerate(ring_sizes(base.project, base.at)):
        # A flat bar's height is its wall.
        if not (flat_bar and i == 1):
            yield base.full(size), partial(_resized, plan, i, flat_bar)
    ends = plan.end_bows()
    for k, place in enumerate(plan.places):
        if 0.0 < place < plan.length or k in ends:
            yield (bows.whole if k in ends else bows.lift)[:, k], partial(_stiffened, plan, k)
    yield base.full(base.at("body.skin")), lambda value: replace(plan, skin=value)
    yield base.full(edge_of(base.at)), lambda value: replace(plan, edge=value)
    yield base.full(base.at("body.edge_dip")), lambda value: replace(plan, dip=value)
    # A strip is never moved to the other side of a bow.
    behind, ahead = ends_of(base.at)
    past = -min((plan.places[k] for k in ends if plan.places[k] <= 0.0), default=0.0)
    yield np.maximum(base.full(behind), past + MORE), lambda value: replace(plan, behind=value)
    past = max((plan.places[k] for k in ends if plan.places[k] > 0.0), default=plan.length) - plan.length
    yield np.maximum(base.full(ahead), past + MORE), lambda value: replace(plan, ahead=value)


def _resized(plan: RingPlan, index: int, flat_bar: bool, value: float) -> RingPlan:
    flat, upright, wall = (value if i == index else size for i, size in enumerate(plan.ring))
    ring = (flat, wall, wall) if flat_bar else (flat, upright, min(wall, THICKEST * min(flat, upright)))
    return replace(plan, ring=ring)


def _stiffened(plan: RingPlan, index: int, value: float) -> RingPlan:
    return replace(plan, lifts=tuple(value if i == index else lift for i, lift in enumerate(plan.lifts)))


def _judge(base: Basis, worst: Array, by_case: Array, loads: RingLoads) -> tuple[Judged, ...]:
    """Return the judgements of the ring; each names the case that is the worst for the planned one."""
    at = base.at
    room = np.maximum(at("fit.seal_most") - at("fit.seal_least"), 0.0)
    longest = np.maximum(at("opening.length"), at("opening.width"))
    limits = (
        (4, DIPS, np.minimum(at("ring.sag_limit"), room)),
        (1, SAGS, longest * SAG_SHARE),
        (2, BENDS_FOR_GOOD, ring_metal(base.project).yielding / at("safety.metal")),
        (3, PLATE_TILTS, np.asarray(TILT)),
    )
    found = []
    for k, rule, limit in limits:
        if rule is PLATE_TILTS and not loads.hinges:
            continue
        if base.project.bow:
            found.append(Judged(rule, worst[:, k], base.full(limit), loads.cases[int(by_case[:, k].argmax())]))
        else:
            found.append(Judged(rule, None, None, "", NO_BOWS))
    return tuple(found)


def _beside(base: Basis, loads: RingLoads, plan: RingPlan, by_case: Array, cut: CutFound) -> tuple[StockBeside, ...]:
    """Return every stock section as a ring here, under the nominal case in which the planned ring gives most."""
    case = int(by_case[:, 0].argmax())
    force = tuple(tuple(round(float(v), 1) for v in one) for one in loads.force[0, case])
    height = tuple(round(float(v), 4) for v in loads.height[0])
    rows = table_of(plan.roof(skin_metal(base.project).young), loads.points, force, height)
    low_high = racking_of_stock(cut, base, tuple(row.stock for row in rows))
    return tuple(StockBeside(row, float(low), float(high)) for row, (low, high) in zip(rows, low_high, strict=True))
