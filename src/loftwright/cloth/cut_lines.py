"""From the stitch line of a panel to its cut line: each edge moved out by its own allowance, corners trued.

A panel's edges run round it to the left: bottom from left to right, right seam up, top from right to left, left seam
down. Points are [n, 2], in metres. The side seams are sewn first, bottom and top finished after.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from loftwright.cloth.allowances import Finish
from loftwright.core.errors import Bug
from loftwright.core.motion import Array, Flags

EDGES: Final = ("bottom", "right seam", "top", "left seam")
MITRE: Final = 2.5
"""Farthest a corner may stand out, as a multiple of the allowance [1]; beyond it is trimmed square: judgement."""
_NEAR: Final = 1e-5
"""Points closer than this are one [m]."""
_REACH: Final = 0.005
"""How far a seam is run on to meet the cut line of an edge that bends near its corner [m]."""


def cleaned(line: Array) -> Array:
    """Return a line [n, 2] [m] without points closer than 0.01 mm to the last one kept; both ends stay."""
    line = np.asarray(line, dtype=np.float64)
    kept = [line[0]]
    for point in line[1:-1]:
        if min(np.hypot(*(point - kept[-1])), np.hypot(*(point - line[-1]))) > _NEAR:
            kept.append(point)
    return np.asarray([*kept, line[-1]])


@dataclass(frozen=True, slots=True)
class Net:
    """The stitch lines of a panel, each [n, 2] [m], in the order and direction of `EDGES`."""

    bottom: Array
    right: Array
    top: Array
    left: Array

    def edge(self, name: str) -> Array:
        """Return one of `EDGES`."""
        return dict(zip(EDGES, (self.bottom, self.right, self.top, self.left), strict=True))[name]

    @property
    def outline(self) -> Array:
        """The closed outline, [n, 2], without its first point again [m]."""
        return np.concatenate([line[:-1] for line in (self.bottom, self.right, self.top, self.left)])


def net_of(lower: Array, upper: Array, right: Array | None = None, left: Array | None = None) -> Net:
    """Return the stitch lines of a flat panel from its lower and upper line, both from left to right, [m, 2], [k, 2].

    `right` and `left` are the seams from bottom to top [m], straight where they are not given. All in [m].
    ValueError where the lines do not meet or the panel is turned over.
    """
    low, high = cleaned(lower), cleaned(upper)
    up = np.asarray([low[-1], high[-1]]) if right is None else cleaned(right)
    down = np.asarray([low[0], high[0]]) if left is None else cleaned(left)
    for end, seam_end in ((low[-1], up[0]), (high[-1], up[-1]), (low[0], down[0]), (high[0], down[-1])):
        if np.hypot(*(end - seam_end)) > 10 * _NEAR:
            raise ValueError("the seams of a panel must join the ends of its lower and upper line")
    found = Net(low, up, high[::-1], down[::-1])
    if _area(found.outline) <= 0.0:
        raise ValueError("a panel's lower line must run from left to right below its upper line")
    return found


def _area(outline: Array) -> float:
    x, y = outline[:, 0], outline[:, 1]
    return float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)) / 2.0)


def _units(line: Array) -> Array:
    step = np.diff(line, axis=0)
    return np.asarray(step / np.hypot(step[:, 0], step[:, 1])[:, None])


def _out(ways: Array) -> Array:
    """Return the outward normals of directions [n, 2] of a line with the piece on its left."""
    return np.stack([ways[..., 1], -ways[..., 0]], axis=-1)


def offset(line: Array, by: float) -> Array:
    """Return a line [n, 2] [m] moved to its right `by` [m]: parallel to every part, parts joined where they meet.

    A vertex between unit normals a and b moves by (a + b) / (1 + a . b) (1); where that would be more than `MITRE`
    times as far it is trimmed square. Loops that arise on the inner side of a sharp bend are cut away.
    """
    line = cleaned(line)
    normals = _out(_units(line))
    if by == 0.0:
        return line
    found = [line[0] + by * normals[0]]
    for here, a, b in zip(line[1:-1], normals[:-1], normals[1:], strict=True):
        lean = 1.0 + float(a @ b)
        sharp = float(a[0] * b[1] - a[1] * b[0]) > 0.0
        if lean < 2.0 / MITRE**2 and sharp:
            found += [here + by * a, here + by * b]
        else:
            found.append(here + by * (a + b) / max(lean, 1e-3))
    found.append(line[-1] + by * normals[-1])
    return _without_loops(np.asarray(found))


def _cross(a: Array, b: Array) -> Array:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _meets(p: Array, q: Array, others: Array) -> tuple[Array, Array]:
    """Return along p-q and along each part of `others` where their lines meet; nan where they are parallel."""
    way, step = q - p, np.diff(others, axis=0)
    across = _cross(way, step)
    with np.errstate(divide="ignore", invalid="ignore"):
        safe = np.where(np.abs(across) < 1e-18, np.nan, across)
        return np.asarray(_cross(others[:-1] - p, step) / safe), np.asarray(_cross(others[:-1] - p, way) / safe)


def _without_loops(line: Array) -> Array:
    """Return a line without the loops that it runs through: from where it meets itself on from the last such place."""
    kept, at, start = [line[0]], 0, line[0]
    while at < len(line) - 1:
        along, other = _meets(start, line[at + 1], line[at + 2 :])
        hit = (along > 1e-9) & (along <= 1.0) & (other >= 0.0) & (other <= 1.0)
        if np.any(hit):
            part = int(np.flatnonzero(hit)[-1])
            at, start = at + 2 + part, start + along[part] * (line[at + 1] - start)
        else:
            at, start = at + 1, line[at + 1]
        kept.append(start)
    return cleaned(np.asarray(kept))


def _crossing(one: Array, other: Array) -> tuple[int, int, Array]:
    """Return the part of `one` and of `other` that cross and where, the first along `one`."""
    for k in range(len(one) - 1):
        along, across = _meets(one[k], one[k + 1], other)
        hit: Flags = (along >= -1e-9) & (along <= 1 + 1e-9) & (across >= -1e-9) & (across <= 1 + 1e-9)
        if np.any(hit):
            part = int(np.flatnonzero(hit)[0])
            return k, part, np.asarray(one[k] + along[part] * (one[k + 1] - one[k]))
    raise ValueError("two edges of a panel do not meet beyond their corner; check their allowances")


def _flap(neighbour: Array, way: Array, finish: Finish, *, left: bool) -> Array:
    """Return where the turned-under part of an edge must end beside a corner, [n, 2] relative to it.

    `neighbour` [k, 2]: the line that it must follow once turned, from the corner inward; `way`: the edge's own unit
    direction away from the panel along the edge; `left`: whether the panel lies to its left. In the edge's frame (u
    along `way`, w inward) the neighbour is u(w); a point `d` outward lies at w(d) when turned (Finish.lies_at), so it
    must stand at u(w(d)) (1), which for a single turn is the neighbour mirrored about the fold.
    """
    inward = np.asarray([-way[1], way[0]]) * (1.0 if left else -1.0)
    local = neighbour - neighbour[0]
    u, w = local @ way, local @ inward
    rising = int(np.argmin(np.append(np.diff(w) > 0.0, False)))
    u, w = u[: rising + 1], w[: rising + 1]
    if rising == 0:
        raise ValueError("a corner of the panel is too sharp or too blunt to be turned; round or move it")
    depths = [0.0, *(turn for turn in finish.turns if turn < finish.allowance), finish.allowance]
    stops = set(depths)
    for d0, d1 in pairwise(depths):
        w0, w1 = finish.lies_at(d0), finish.lies_at(d1)
        low, high = min(w0, w1), max(w0, w1)
        stops |= {d0 + (d1 - d0) * (float(at) - w0) / (w1 - w0) for at in w[1:] if low < at < high}
    out = np.asarray(sorted(stops))
    lies = np.asarray([finish.lies_at(d) for d in out])
    first, last = (u[1] - u[0]) / (w[1] - w[0]), (u[-1] - u[-2]) / (w[-1] - w[-2])
    at = np.where(
        lies < 0.0, first * lies, np.where(lies > w[-1], u[-1] + last * (lies - w[-1]), np.interp(lies, w, u))
    )
    most = np.sqrt(MITRE**2 - 1.0) * finish.allowance
    return np.asarray(np.clip(at, -most, most)[:, None] * way - out[:, None] * inward)


@dataclass(frozen=True, slots=True)
class CutLine:
    """The cut line of a panel.

    `outline` [n, 2] closed, without its first point again; `sewn` the side seams as they are sewn, with their run
    through the allowances of bottom and top, upward, right and left; `edges` the part of the cut line of each edge.
    """

    outline: Array
    sewn: tuple[Array, Array]
    edges: Mapping[str, Array]


def _longer(line: Array, by: float) -> Array:
    ways = _units(line)
    return np.concatenate([[line[0] - by * ways[0]], line, [line[-1] + by * ways[-1]]])


def _between(line: Array, start: tuple[int, Array], end: tuple[int, Array]) -> Array:
    return cleaned(np.concatenate([[start[1]], line[start[0] + 1 : end[0] + 1], [end[1]]]))


def _trimmed(ring: Array, corner: Array, way: Array, reach: float) -> Array:
    """Return a closed line cut off square where it stands out more than `reach` beyond a corner along `way`."""
    beyond = (ring - corner) @ way - reach
    if np.all(beyond <= 0.0):
        return ring
    found = []
    for a, b, over, next_over in zip(ring, np.roll(ring, -1, axis=0), beyond, np.roll(beyond, -1), strict=True):
        if over <= 0.0:
            found.append(a)
        if (over <= 0.0) != (next_over <= 0.0):
            found.append(a + over / (over - next_over) * (b - a))
    return np.asarray(found)


def cut_line(net: Net, finishes: Mapping[str, Finish]) -> CutLine:
    """Return the cut line of a panel whose edges are finished as `finishes` says by the names of `EDGES`.

    Each edge is moved out by its own allowance (see `offset`). The side seams run on through the allowance of bottom
    and top so that the turned part follows them, and what stands beyond a seam follows bottom and top when it is
    turned (see `_flap`); a corner that would stand out more than `MITRE` allowances is trimmed square.
    ValueError where the cut line crosses itself or does not hold the whole net, or an edge has no finish. In [m].
    """
    missing = [name for name in EDGES if name not in finishes]
    if missing:
        raise ValueError(f"no finish is given for {', '.join(missing)}")
    size = float(np.ptp(net.outline, axis=0).max())
    ends = {name: _longer(offset(net.edge(name), finishes[name].allowance), size) for name in ("bottom", "top")}
    sides, corners = {}, {}
    for name in ("right seam", "left seam"):
        # Both sides are treated as they run: the corner behind, then the corner ahead.
        behind, ahead = ("bottom", "top") if name == "right seam" else ("top", "bottom")
        line = net.edge(name)
        before = _units(net.edge(behind))[-1]
        after = -_units(net.edge(ahead))[0]
        start = line[0] + _flap(line, before, finishes[behind], left=True)
        stop = line[-1] + _flap(line[::-1], after, finishes[ahead], left=False)
        sewn = cleaned(np.concatenate([start[::-1][:-1], line, stop[1:]]))
        first = _crossing(_longer(sewn[:2], _REACH)[::-1], ends[behind])
        last = _crossing(_longer(sewn[-2:], _REACH), ends[ahead])
        sewn[0], sewn[-1] = first[2], last[2]
        beyond = finishes[name]
        ways = _units(sewn)
        inner_first = np.concatenate([[first[2]], ends[behind][: first[1] + 1][::-1][:-1]])
        inner_last = np.concatenate([[last[2]], ends[ahead][last[1] + 1 : -1]])
        corner_first = first[2] + _flap(cleaned(inner_first), -ways[0], beyond, left=False)
        corner_last = last[2] + _flap(cleaned(inner_last), ways[-1], beyond, left=True)
        moved = offset(sewn, beyond.allowance)
        moved[0], moved[-1] = corner_first[-1], corner_last[-1]
        sides[name] = (sewn, moved)
        corners[name, behind], corners[name, ahead] = (first[1], corner_first), (last[1], corner_last)
    right, left = sides["right seam"], sides["left seam"]
    ends_kept = {}
    for name, begins, stops in (("bottom", "left seam", "right seam"), ("top", "right seam", "left seam")):
        a, b = corners[begins, name], corners[stops, name]
        ends_kept[name] = _between(ends[name], (a[0], a[1][0]), (b[0], b[1][0]))
    ring = [
        ends_kept["bottom"],
        corners["right seam", "bottom"][1],
        right[1],
        corners["right seam", "top"][1][::-1],
        ends_kept["top"],
        corners["left seam", "top"][1],
        left[1],
        corners["left seam", "bottom"][1][::-1],
    ]
    whole = cleaned(np.concatenate(ring))
    if np.hypot(*(whole[0] - whole[-1])) <= _NEAR:
        whole = whole[:-1]
    for name, before in zip(EDGES, (EDGES[-1], *EDGES[:-1]), strict=True):
        ways = _units(net.edge(name))[0] - _units(net.edge(before))[-1]
        reach = MITRE * max(finishes[name].allowance, finishes[before].allowance)
        whole = _trimmed(whole, net.edge(name)[0], -ways / np.hypot(*ways), reach)
    verify(net.outline, whole)
    parts = {"bottom": ends_kept["bottom"], "right seam": right[1], "top": ends_kept["top"], "left seam": left[1]}
    return CutLine(whole, (right[0], left[0][::-1]), parts)


def verify(net: Array, cut: Array) -> None:
    """Refuse a cut line [n, 2] that crosses itself or does not hold the stitch line `net` [m, 2], both closed, in [m].

    ValueError in plain words; nothing is mended silently. Bug where the net crosses itself.
    """
    from shapely.geometry import Polygon

    inner, outer = Polygon(net), Polygon(cut)
    if not inner.is_valid:
        raise Bug("the stitch line of a panel crosses itself")
    if not outer.is_valid:
        raise ValueError("the cut line crosses itself: an allowance is wider than a bend or corner of its edge bears")
    if inner.difference(outer.buffer(_NEAR)).area > 0.0:
        raise ValueError("the cut line does not hold the whole panel: the allowances of a corner do not fit together")
