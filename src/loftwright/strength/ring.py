"""The ring round the opening: a rectangular frame with cut corners, held by bow ends and by the skin that is left.

Seen from above: x from the rear edge of the opening towards the cab, y to the left, z up. The ring runs
anticlockwise from its rear right corner; its own y axis points into the opening, its z axis up.
Out of plane it bends and twists; in plane the skin round it holds it.
It says how far a ring bends on a standing van; it is no crash or roll-over assessment.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array, Flags
from loftwright.strength.frame import Frame, Solved, Stiffness, bar_axes, solve, unit_loads
from loftwright.strength.sections import Section

LONGEST_BAR = 0.25
"""The ring is drawn in bars no longer than this [m]; lengths do not change the answer without springs."""
ARC_BARS = 3
"""Short straight bars in each rounded corner."""
LEAST_STRAIGHT = 1e-6


@dataclass(frozen=True, slots=True)
class Bow:
    """A roof bow that crosses the opening's long sides at `x` [m]: E I up and down, E A [N], G J [N m2].

    `cut` says that it ends at the ring; `tied` that it is fastened to the ring so that it can push, pull and bend it.
    """

    x: float
    lift: float
    axial: float
    twist: float
    cut: bool = True
    tied: bool = True


@dataclass(frozen=True, slots=True)
class Roof:
    """The opening and the roof left round it.

    `length` along x and `width` along y of the opening, corner `radius`, `edge` from the opening's side to where bows
    and skin are firm (the van's side rail), `skin` thickness, all [m]; `skin_young` [Pa]. `bows` within the
    opening's length.
    """

    length: float
    width: float
    radius: float
    edge: float
    skin: float
    skin_young: float
    bows: tuple[Bow, ...] = ()

    def __post_init__(self) -> None:
        if not min(self.length, self.width, self.edge, self.skin, self.skin_young) > 0:
            raise ValueError("the sizes of a roof must be positive")
        if not 0 <= self.radius < min(self.length, self.width) / 2:
            raise ValueError("the corner radius must be less than half the opening")

    @property
    def skin_lift(self) -> float:
        """Stiffness of a metre of the skin's edge up and down [N/m2]: 3 D / edge^3, D = E t^3 / (12 0.91) (1)."""
        return 3 * self.skin_young * self.skin**3 / (12 * 0.91) / self.edge**3

    @property
    def skin_pull(self) -> float:
        """Stiffness of a metre of the skin's edge in its own plane [N/m2]: E t / edge (2)."""
        return self.skin_young * self.skin / self.edge


@dataclass(frozen=True, slots=True)
class Mesh:
    """The ring as a frame: joints of the ring come first, in order round it; so do its bars."""

    frame: Frame
    ring: int
    """How many joints, and as many bars, the ring has."""
    held: Flags
    springs: Array
    """[joints, 6] [N/m], [N m/rad]."""
    crossings: NDArray[np.int_]
    """Joints where bows cross, [2 bows]."""
    bows: tuple[Bow, ...]
    """The bow of every bar after the ring's."""
    load_joints: NDArray[np.int_]
    """[p]"""
    mid_sides: NDArray[np.int_]
    """Joints half way along the right side, the front, the left side and the rear, [4]."""


def nearest_on_ring(roof: Roof, x: float, y: float) -> tuple[int, float]:
    """Return the side (0 right, 1 front, 2 left, 3 rear) and the place along it [m] nearest to a point `x`, `y` [m]."""
    half, r = roof.width / 2, roof.radius
    along = (x, y + half, roof.length - x, half - y)
    sides = (roof.length, roof.width, roof.length, roof.width)
    across = (abs(y + half), abs(roof.length - x), abs(y - half), abs(x))
    best = min(range(4), key=lambda side: across[side] + max(-along[side], along[side] - sides[side], 0.0))
    return best, float(np.clip(along[best], r, sides[best] - r))


def _side_point(roof: Roof, side: int, along: float) -> tuple[float, float]:
    half = roof.width / 2
    return (
        (along, -half),
        (roof.length, along - half),
        (roof.length - along, half),
        (0.0, half - along),
    )[side]


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


def ring_mesh(roof: Roof, points: tuple[tuple[float, float], ...] = ()) -> Mesh:
    """Return the ring as a frame with joints at the bows, half way along each side, and nearest to each load point.

    `points` (x, y) [m]. Bows that are cut become stubs from the ring to the firm edge, uncut ones run on across the
    opening (3); untied bows bear nothing. Not on the safe side: the firm edge does not give and a tied joint does not
    slip. ValueError for a bow beyond the straight part of the long sides.
    """
    sides = (roof.length, roof.width, roof.length, roof.width)
    r = roof.radius
    tied = tuple(bow for bow in roof.bows if bow.tied)
    if any(not r <= bow.x <= roof.length - r for bow in roof.bows):
        raise ValueError("a bow crosses the opening beyond the straight part of its sides")
    stations = [[r, size / 2, size - r] for size in sides]
    spots = [nearest_on_ring(roof, x, y) for x, y in points]
    for side, along in spots:
        stations[side].append(along)
    for bow in roof.bows:
        stations[0].append(bow.x)
        stations[2].append(roof.length - bow.x)
    joints: list[tuple[float, float]] = []
    for side, size in enumerate(sides):
        straight = [_side_point(roof, side, s) for s in _filled(stations[side])]
        joints += straight if r > LEAST_STRAIGHT else straight[:-1]
        if r > LEAST_STRAIGHT:
            joints += _arc(roof, side, size)
    ring = len(joints)
    flat = np.array(joints)

    def joint_at(x: float, y: float) -> int:
        return int(np.argmin(np.hypot(flat[:, 0] - x, flat[:, 1] - y)))

    crossings = np.array(
        [joint_at(bow.x, sign * roof.width / 2) for bow in roof.bows for sign in (-1.0, 1.0)], dtype=np.int_
    )
    bars = [(i, (i + 1) % ring) for i in range(ring)]
    carried: list[Bow] = []
    for bow in tied:
        ends = []
        for sign in (-1.0, 1.0):
            ends.append(joint_at(bow.x, sign * roof.width / 2))
            joints.append((bow.x, sign * (roof.width / 2 + roof.edge)))
            bars.append((ends[-1], len(joints) - 1))
            carried.append(bow)
        if not bow.cut:
            bars.append((ends[0], ends[1]))
            carried.append(bow)
    where = np.column_stack([np.array(joints), np.zeros(len(joints))])
    frame = Frame(where, np.array(bars), np.tile([0.0, 0.0, 1.0], (len(bars), 1)))
    held = np.zeros((len(joints), 6), dtype=np.bool_)
    held[ring:] = True
    share = np.zeros(len(joints))
    length, _ = bar_axes(frame)
    np.add.at(share, frame.bars[:ring].ravel(), np.repeat(length[:ring] / 2, 2))
    springs = share[:, None] * np.array([roof.skin_pull, roof.skin_pull, roof.skin_lift, 0.0, 0.0, 0.0])
    loads = np.array([joint_at(*_side_point(roof, *spot)) for spot in spots], dtype=np.int_)
    middles = np.array([joint_at(*_side_point(roof, side, size / 2)) for side, size in enumerate(sides)])
    return Mesh(frame, ring, held, springs, crossings, tuple(carried), loads, middles)


def _arc(roof: Roof, side: int, size: float) -> list[tuple[float, float]]:
    """Return the joints inside the rounded corner after a side."""
    r = roof.radius
    start = np.array(_side_point(roof, side, size - r))
    ahead = np.array(_side_point(roof, side, size)) - start
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
        return np.concatenate([np.repeat(ring_values[:, None], mesh.ring, axis=1), tail], axis=1)

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
    solved = solve(mesh.frame, stiffness, loads, mesh.held, springs=mesh.springs, line=line)
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
