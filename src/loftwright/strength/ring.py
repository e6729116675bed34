"""The ring round the opening: a rectangular frame with cut corners, held by bow ends and by the skin that is left.

Seen from above: x from the rear edge of the opening towards the cab, y to the left, z up. The ring runs
anticlockwise from its rear right corner; its own y axis points into the opening, its z axis up.
Out of plane it bends and twists; in plane the skin round it holds it.
It says how far a ring bends on a standing van; it is no crash or roll-over assessment.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array, Flags
from loftwright.strength.frame import Frame, Solved, Stiffness, bar_axes, solve, unit_loads
from loftwright.strength.ring_roof import Bow, Roof, nearest_on_ring, side_point
from loftwright.strength.sections import Section

LONGEST_BAR = 0.2
"""The ring is drawn in bars no longer than this [m]; it is held by the skin at the joints between them."""
ARC_BARS = 3
"""Short straight bars in each rounded corner."""
BRACKET = 0.07
"""A load this near to a bow along the ring stands on it [m]: judgement, half a bracket of 90 mm and half a bow."""
LEAST_STRAIGHT = 1e-6
OUTWARD = ((0.0, -1.0), (1.0, 0.0), (0.0, 1.0), (-1.0, 0.0))
"""Away from the opening on the right, at the front, on the left, at the rear."""


@dataclass(frozen=True, slots=True)
class Mesh:
    """The ring as a frame: joints of the ring come first, in order round it; so do its bars."""

    frame: Frame
    ring: int
    """How many joints, and as many bars, the ring has."""
    stubs: NDArray[np.int_]
    """Firm ends of the bows, two of each."""
    channels: int
    """How many bars after all others are of the ring's own section."""
    held: Flags
    blocks: Array
    """What the skin does at every joint, [joints, 6, 6] [N/m], [N], [N m/rad]."""
    crossings: NDArray[np.int_]
    """Joints where bows cross, [2 bows]."""
    bows: tuple[Bow, ...]
    """The bow, or the strip of skin, that stands for every bar after the ring's."""
    load_joints: NDArray[np.int_]
    """[p]"""
    mid_sides: NDArray[np.int_]
    """Joints half way along the right side, the front, the left side and the rear, [4]."""


def _filled(stations: list[float]) -> list[float]:
    """Return the stations in order, close ones once, with more between those far apart."""
    kept: list[float] = []
    for station in sorted(stations):
        if kept and station - kept[-1] < 1e-4:
            continue
        if kept:
            extra = int(np.ceil((station - kept[-1]) / LONGEST_BAR - 1e-9))
            kept += [kept[-1] + (station - kept[-1]) * i / extra for i in range(1, extra)]
        kept.append(station)
    return kept


def _round_the_ring(
    roof: Roof, stations: list[list[float]]
) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """Return the ring's joints (x, y) [m], anticlockwise, and the strip of skin outward of each, (x, y) [m]."""
    r = roof.radius
    joints: list[tuple[float, float]] = []
    outward: list[tuple[float, float]] = []
    for side, size in enumerate((roof.length, roof.width) * 2):
        straight = [side_point(roof, side, s) for s in _filled(stations[side])]
        straight = straight if r > LEAST_STRAIGHT else straight[:-1]
        arc = _arc(roof, side, size) if r > LEAST_STRAIGHT else []
        joints += [*straight, *arc]
        wide = roof.beside(side)
        outward += [tuple(wide * np.array(OUTWARD[side]))] * len(straight)
        # In a corner the wider of both strips counts.
        slant = np.array(OUTWARD[side]) + np.array(OUTWARD[(side + 1) % 4])
        outward += [tuple(max(wide, roof.beside((side + 1) % 4)) * slant / 2**0.5)] * len(arc)
    return joints, outward


def ring_mesh(roof: Roof, points: tuple[tuple[float, float], ...] = ()) -> Mesh:
    """Return the ring as a frame with joints at the bows, half way along each side, and nearest to each load point.

    `points` (x, y) [m]; one whose bracket overlaps a tied bow acts there, with its moment. Bows that are cut become
    stubs from the ring to the firm edge, uncut ones run on across the opening (3); untied bows bear nothing. At every
    joint a strip of skin runs to the firm edge, or to the bow beyond the end, which spans from rail to rail and is held
    by more skin on its far side. Not on the safe side: the firm edge does not give, bows are built in there, a tied
    joint does not slip. ValueError for a bow beyond the straight part of the long sides.
    """
    sides = (roof.length, roof.width, roof.length, roof.width)
    r = roof.radius
    if any(not r <= bow.x <= roof.length - r for bow in roof.bows):
        raise ValueError("a bow crosses the opening beyond the straight part of its sides")
    stations = [[r, size / 2, size - r] for size in sides]
    spots = [_on_bow(roof, *nearest_on_ring(roof, x, y)) for x, y in points]
    ways = [nearest_on_ring(roof, x, y) for x, y in roof.channels]
    for side, along in (*spots, *ways):
        stations[side].append(along)
    for bow in roof.bows:
        stations[0].append(bow.x)
        stations[2].append(roof.length - bow.x)
    joints, outward = _round_the_ring(roof, stations)
    ring = len(joints)
    flat = np.array(joints)

    def joint_at(x: float, y: float) -> int:
        return int(np.argmin(np.hypot(flat[:, 0] - x, flat[:, 1] - y)))

    crossings = np.array(
        [joint_at(bow.x, sign * roof.width / 2) for bow in roof.bows for sign in (-1.0, 1.0)], dtype=np.int_
    )
    bars = [(i, (i + 1) % ring) for i in range(ring)]
    share = np.zeros(ring)
    np.add.at(share, np.array(bars).ravel(), np.repeat(np.linalg.norm(flat - np.roll(flat, -1, axis=0), axis=1) / 2, 2))
    carried: list[Bow] = []
    ground: list[tuple[int, tuple[float, float], float]] = []
    stubs: list[int] = []

    def bar(start: int, end: int, of: Bow) -> None:
        bars.append((start, end))
        carried.append(of)

    def joint(x: float, y: float) -> int:
        joints.append((x, y))
        return len(joints) - 1

    for bow in (bow for bow in roof.bows if bow.tied):
        ends = [joint_at(bow.x, sign * roof.width / 2) for sign in (-1.0, 1.0)]
        for end, sign in zip(ends, (-1.0, 1.0), strict=True):
            stubs.append(joint(bow.x, sign * (roof.width / 2 + roof.edge)))
            bar(end, stubs[-1], bow)
        if not bow.cut:
            bar(ends[0], ends[1], bow)
    on_bow: dict[int, int] = {}
    for front in (True, False):
        beyond = roof.end_bow(front)
        if beyond is None:
            continue
        on_edge = np.flatnonzero(np.abs(flat[:, 0] - (roof.length if front else 0.0)) < 1e-9)
        in_order = [int(at) for at in on_edge[np.argsort(flat[on_edge, 1])]]
        row = [joint(beyond.x, float(flat[at, 1])) for at in in_order]
        on_bow |= dict(zip(in_order, row, strict=True))
        rails = [joint(beyond.x, sign * (roof.width / 2 + roof.edge)) for sign in (-1.0, 1.0)]
        stubs += rails
        chain = [rails[0], *row, rails[1]]
        for one, other in pairwise(chain):
            bar(one, other, beyond)
        # The skin goes on beyond that bow to the roof's end.
        rest = (roof.length + roof.beside(1) if front else -roof.beside(3)) - beyond.x
        for at, under in zip(in_order, row, strict=True):
            ground.append((under, (rest, 0.0), roof.strip(abs(rest)) * float(share[at])))
    for at in range(ring):
        to = on_bow.get(at)
        away = outward[at] if to is None else (joints[to][0] - joints[at][0], 0.0)
        strip = roof.strip(float(np.hypot(*away))) * float(share[at])
        if to is None:
            ground.append((at, away, strip))
        else:
            bar(at, to, Bow(0.0, strip, 0.0, 0.0))
    leads = [at for at in (joint_at(*side_point(roof, *way)) for way in ways) if at in on_bow]
    bars += [(at, on_bow[at]) for at in leads]
    where = np.column_stack([np.array(joints), np.zeros(len(joints))])
    frame = Frame(where, np.array(bars), np.tile([0.0, 0.0, 1.0], (len(bars), 1)))
    held = np.zeros((len(joints), 6), dtype=np.bool_)
    held[stubs] = True
    blocks = np.zeros((len(joints), 6, 6))
    for at, away, strip in ground:
        blocks[at] += strip_block(away, strip)
    blocks[np.arange(ring), :2, :2] += (share * roof.skin_young * roof.skin / np.hypot(*np.array(outward).T))[
        :, None, None
    ] * np.eye(2)
    loads = np.array([joint_at(*side_point(roof, *spot)) for spot in spots], dtype=np.int_)
    middles = np.array([joint_at(*side_point(roof, side, size / 2)) for side, size in enumerate(sides)])
    return Mesh(
        frame,
        ring,
        np.array(stubs, dtype=np.int_),
        len(leads),
        held,
        blocks,
        crossings,
        tuple(carried),
        loads,
        middles,
    )


def _on_bow(roof: Roof, side: int, along: float) -> tuple[int, float]:
    """Return the place of a load along a side [m], moved onto a bow that its bracket overlaps."""
    if side % 2:
        return side, along
    ends = [bow.x if side == 0 else roof.length - bow.x for bow in roof.bows if bow.tied]
    near = min(ends, key=lambda end: abs(end - along), default=along)
    return side, near if abs(near - along) <= BRACKET else along


def strip_block(away: tuple[float, float], strip: float) -> Array:
    """Return what a strip of skin, built in at its far end, does at its near end, [6, 6] [N/m], [N], [N m/rad].

    `away` (x, y) [m] to the far end, w long; `strip` E I of its whole breadth [N m2]. Up and down, and turning about
    the near edge, as a bar: (E I / w^3) [12 6w; 6w 4w^2] (4). Source: slope and deflection, derivation.
    """
    w = float(np.hypot(*away))
    # The near end's slope along the strip is -(turn about the axis square to it).
    lift = np.array([0.0, 0.0, 1.0, 0.0, 0.0, 0.0])
    slope = np.array([0.0, 0.0, 0.0, away[1], -away[0], 0.0]) / w
    shape = np.array([[12.0, 6.0 * w], [6.0 * w, 4.0 * w**2]]) * strip / w**3
    both = np.stack([lift, slope])
    return np.asarray(both.T @ shape @ both)


def _arc(roof: Roof, side: int, size: float) -> list[tuple[float, float]]:
    """Return the joints inside the rounded corner after a side."""
    r = roof.radius
    start = np.array(side_point(roof, side, size - r))
    ahead = np.array(side_point(roof, side, size)) - start
    left = np.array([-ahead[1], ahead[0]])
    turn = np.arange(1, ARC_BARS) * (np.pi / 2) / ARC_BARS
    return [tuple(start + ahead * np.sin(a) + left * (1 - np.cos(a))) for a in turn]


def bar_stiffness(mesh: Mesh, young: Array, shear: Array, sections: tuple[Section, ...]) -> Stiffness:
    """Return the stiffness of every bar for each of several ring sections, each [sections, bars].

    `young` and `shear` modulus [Pa] [sections].
    """
    s = sections
    bows = mesh.bows

    def over(ring_values: Array, bow_values: list[float]) -> Array:
        tail = np.broadcast_to(np.array(bow_values), (len(s), len(bows)))
        own = np.repeat(ring_values[:, None], mesh.ring + mesh.channels, axis=1)
        return np.concatenate([own[:, : mesh.ring], tail, own[:, mesh.ring :]], axis=1)

    lift = [bow.lift for bow in bows]
    return Stiffness(
        over(young * np.array([p.area for p in s]), [bow.axial for bow in bows]),
        over(young * np.array([p.ix for p in s]), lift),
        over(young * np.array([p.iy for p in s]), lift),
        over(young * np.array([p.ixy for p in s]), [0.0] * len(bows)),
        over(shear * np.array([p.torsion for p in s]), [bow.twist for bow in bows]),
    )


@dataclass(frozen=True, slots=True)
class Influence:
    """What one ring does under unit loads: six at each load point, then one of cloth pulling inwards by 1 N/m."""

    mesh: Mesh
    section: Section
    young: float
    shear: float
    points: Array
    """Where the loads act, [p, 2] [m]."""
    solved: Solved
    """[6 p + 1, ...] over the unit loads."""


def ring_influence(
    roof: Roof, section: Section, young: float, shear: float, points: tuple[tuple[float, float], ...]
) -> Influence:
    """Return the answer of a ring to unit loads, worked out once at nominal stiffness.

    `young` and `shear` [Pa] of the ring, `points` (x, y) [m] where loads will act.
    """
    mesh = ring_mesh(roof, points)
    stiffness = bar_stiffness(mesh, np.array([young]), np.array([shear]), (section,))
    loads, line = unit_cases(mesh)
    solved = solve(mesh.frame, stiffness, loads, mesh.held, blocks=mesh.blocks, line=line)
    only = Solved(solved.moved[0], solved.ends[0], solved.reactions[0])
    return Influence(mesh, section, young, shear, np.array(points, dtype=np.float64).reshape(-1, 2), only)


def unit_cases(mesh: Mesh) -> tuple[Array, Array]:
    """Return joint loads [6 p + 1, joints, 6] [N], [N m] and line loads [6 p + 1, bars, 3] [N/m] of the unit cases."""
    joints, bars = len(mesh.frame.joints), len(mesh.frame.bars)
    loads = np.concatenate([unit_loads(joints, mesh.load_joints), np.zeros((1, joints, 6))])
    line = np.zeros((len(loads), bars, 3))
    _, axes = bar_axes(mesh.frame)
    line[-1, : mesh.ring] = axes[: mesh.ring, 1]
    return loads, line
