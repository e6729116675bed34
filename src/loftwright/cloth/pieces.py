"""A panel as a pattern piece: cut line, stitch line, match marks, words, grain and the heights to draw it by.

Lines are flat, [n, 2] in metres, x to the right seen from outside; arcs along the rim belong to their points, [n].
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.cloth.allowances import Finish
from loftwright.cloth.cut_lines import EDGES, Net, cut_line
from loftwright.core.motion import Array
from loftwright.core.pattern import Contour, ContourKind, Notch, PatternPiece, Words

OUTSIDE_UP: Final = "right side (outside) up"
INSIDE_UP: Final = "wrong side (inside) up"

OFF_CENTRE: Final = 0.4
"""Where the odd mark of a panel lies along its rim, from its left seam [1]; so no panel fits turned over."""


def eased(lower: Array, upper: Array, ease: float) -> Array:
    """Return the upper line [k, 2] [m] raised by `ease` [m] of extra height.

    Both ends move up along their own seams, so that both seams grow by just `ease` and neighbours stay alike; points
    between move along the direction between the two, by their share of the length. `lower` [m, 2] and `upper` [m].
    """
    left, right = upper[0] - lower[0], upper[-1] - lower[-1]
    share = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(upper, axis=0).T))])
    share = (share / share[-1])[:, None]
    way = (1.0 - share) * left / np.hypot(*left) + share * right / np.hypot(*right)
    return np.asarray(upper + ease * way / np.hypot(way[:, 0], way[:, 1])[:, None])


def before_shrinking(finished: float, shrinkage: float) -> float:
    """Return the length to cut [m] so that `finished` [m] is left after a `shrinkage` [1]: L / (1 - s) (1).

    Adding s L instead falls short by s^2 L / (1 - s). ValueError unless 0 <= s < 0.5.

    >>> round(before_shrinking(2.0, 0.03), 6)
    2.061856
    """
    if not 0.0 <= shrinkage < 0.5:
        raise ValueError("shrinkage is a share of the length, from 0 to 0.5")
    return finished / (1.0 - shrinkage)


def before_shrinking_piece(piece: PatternPiece, along: float, up: float) -> PatternPiece:
    """Return a piece as it must be cut when its cloth still shrinks by `along` [1] in x and `up` [1] in y.

    Everything on it is stretched by 1 / (1 - s) either way (1), allowances too, for they shrink as well. Arcs become
    short straight lines within 0.02 mm unless both shrink by the same. Its ordinates stay true where its lower ends
    lie level; `panel_piece` takes them anew.
    """
    kx, ky = before_shrinking(1.0, along), before_shrinking(1.0, up)
    if kx == ky == 1.0:
        return piece

    def moved(at: tuple[float, float]) -> tuple[float, float]:
        return at[0] * kx, at[1] * ky

    def stretched(contour: Contour) -> Contour:
        if kx == ky:
            return replace(contour, vertices=tuple((x * kx, y * ky, b) for x, y, b in contour.vertices))
        points = contour.flattened(0.00002)
        points = points[:-1] if contour.closed else points
        return replace(contour, vertices=tuple((x * kx, y * ky, 0.0) for x, y in points))

    def turned(out: tuple[float, float]) -> tuple[float, float]:
        x, y = out[0] / kx, out[1] / ky
        return x / math.hypot(x, y), y / math.hypot(x, y)

    return replace(
        piece,
        contours=tuple(stretched(contour) for contour in piece.contours),
        notches=tuple(replace(notch, at=moved(notch.at), out=turned(notch.out)) for notch in piece.notches),
        words=tuple(replace(words, at=moved(words.at)) for words in piece.words),
        grain=None if piece.grain is None else (moved(piece.grain[0]), moved(piece.grain[1])),
        ordinates=tuple((a * kx, low * ky, high * ky) for a, low, high in piece.ordinates),
    )


def arc_along(line: Array) -> Array:
    """Return how far along a line [n, 2] [m] each of its points lies [n] [m]."""
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])


def place_at(line: Array, arc: Array, at: float) -> tuple[Array, Array]:
    """Return the point of a line [n, 2] [m] at arc `at` [m] of its own `arc` [n] [m], and its unit normal to the right.

    ValueError outside the line.
    """
    if not arc[0] - 1e-9 <= at <= arc[-1] + 1e-9:
        raise ValueError("a match mark must lie on its edge")
    k = int(np.clip(np.searchsorted(arc, at, side="right") - 1, 0, len(arc) - 2))
    step = line[k + 1] - line[k]
    point = line[k] + (at - arc[k]) / (arc[k + 1] - arc[k]) * step
    way = step / np.hypot(*step)
    return np.asarray(point), np.asarray([way[1], -way[0]])


def rim_marks(first: float, last: float, spacing: float = 0.25, clear: float = 0.03) -> tuple[tuple[float, str], ...]:
    """Return the match marks of a panel on the rim: arc [m] and sign; the same on cloth, ring and shell.

    Every whole `spacing` [m] of the rim between `first` and `last` [m], numbered round the rim, at least `clear` [m]
    from the seams; and one odd mark "*" at `OFF_CENTRE` of the panel, which no panel turned over would meet.
    """
    odd = first + OFF_CENTRE * (last - first)
    whole = range(math.ceil((first + clear) / spacing - 1e-9), math.floor((last - clear) / spacing + 1e-9) + 1)
    found = [(k * spacing, str(k)) for k in whole if abs(k * spacing - odd) >= clear / 2.0]
    return tuple(sorted([*found, (odd, "*")]))


def seam_marks(length: float, number: int) -> tuple[tuple[float, str], ...]:
    """Return the match marks of a seam `length` [m] long, from its lower end: distance [m] and sign.

    Seam `number` has marks at 0.25 + 0.04 k and 0.55 + 0.04 k of its length with k = (number - 1) mod 6 (2): never
    even about the middle, and no two of six seams alike, so a panel sewn to the wrong neighbour does not match.
    """
    k = (number - 1) % 6
    return tuple(((0.25 + 0.30 * i + 0.04 * k) * length, f"S{number}") for i in range(2))


@dataclass(frozen=True, slots=True)
class RimArc:
    """Rim arc of each point of the lower and the upper line, from left to right [m]."""

    lower: Array
    upper: Array


@dataclass(frozen=True, slots=True)
class Cloth:
    """What a piece is cut of: its name, shrinkage along and across the roll [1], whether its threads have a nap.

    `warp_along` says that the length of the roll runs along the wall (x), not up it.
    """

    material: str
    warp_shrinks: float = 0.0
    weft_shrinks: float = 0.0
    nap: bool = False
    warp_along: bool = True

    @property
    def shrinks(self) -> bool:
        """Whether its pieces are cut larger by what it still shrinks."""
        return self.warp_shrinks > 0.0 or self.weft_shrinks > 0.0

    @property
    def kept(self) -> float:
        """Share of a piece's area that is left when it has shrunk [1]."""
        return (1.0 - self.warp_shrinks) * (1.0 - self.weft_shrinks)


def _contour(line: Array, kind: ContourKind, name: str) -> Contour:
    return Contour(kind, tuple((float(x), float(y), 0.0) for x, y in line), True, name)


def _notches(net: Net, edge: str, arc: Array, marks: Sequence[tuple[float, str]], out: float) -> list[Notch]:
    """Return marks of an edge that run along its own direction in `net`, set out on the cut line."""
    found = []
    for at, sign in marks:
        point, normal = place_at(net.edge(edge), arc, at)
        point = point + out * normal
        found.append(Notch((float(point[0]), float(point[1])), (float(normal[0]), float(normal[1])), sign, float(at)))
    return found


def ordinates(net: Net, spacing: float = 0.1) -> tuple[tuple[float, float, float], ...]:
    """Return heights of the stitch line over the chord of the lower line every `spacing` [m] along it.

    Each as along, low, high [m]. The four corners are among them. Distances start at the left end of the lower line,
    so some may be negative.
    """
    start, chord = net.bottom[0], net.bottom[-1] - net.bottom[0]
    way = chord / np.hypot(*chord)
    outline = net.outline - start
    ring = np.stack([outline @ way, outline @ np.asarray([-way[1], way[0]])], axis=-1)
    ends = np.asarray([line[0] - start for line in (net.bottom, net.right, net.top, net.left)]) @ way
    low, high = float(ring[:, 0].min()), float(ring[:, 0].max())
    whole = np.arange(math.ceil(low / spacing - 1e-9), math.floor(high / spacing + 1e-9) + 1) * spacing
    stations = np.unique(np.round(np.concatenate([ends, np.clip(whole, low, high)]), 9))
    a, b = ring, np.roll(ring, -1, axis=0)
    step = b[:, 0] - a[:, 0]
    found = []
    for at in stations:
        steep = np.abs(step) < 1e-12
        share = (at - a[:, 0]) / np.where(steep, 1.0, step)
        hit = (share >= -1e-7) & (share <= 1 + 1e-7) & ~steep
        level = steep & (np.abs(a[:, 0] - at) < 1e-8)
        heights = np.concatenate([(a[:, 1] + share * (b[:, 1] - a[:, 1]))[hit], a[level, 1], b[level, 1]])
        if heights.size:
            found.append((float(at), float(heights.min()), float(heights.max())))
    return tuple(found)


def panel_piece(
    number: str,
    name: str,
    net: Net,
    finishes: Mapping[str, Finish],
    cloth: Cloth,
    *,
    arcs: RimArc | None = None,
    seams: tuple[int, int] | None = None,
    marks: float = 0.25,
    inside: bool = False,
    windows: Sequence[Contour] = (),
) -> PatternPiece:
    """Return a panel as a pattern piece.

    `net` holds its stitch lines and `finishes` how each edge is finished. `arcs` are the rim arcs of the points of its
    lower and upper line and `marks` the spacing of match marks along them [m]; `seams` the numbers of its right and
    left seam; `inside` whether it is drawn as it is seen from inside; `windows` further contours on it. Notches lie on
    the cut line straight out from the stitch line; their arc is that on the stitch line. Cloth that still shrinks
    makes the whole piece larger (see `before_shrinking_piece`).
    ValueError where arcs do not fit the lines, and as `cut_line` does.
    """
    line = cut_line(net, finishes)
    notches: list[Notch] = []
    if arcs is not None:
        if len(arcs.lower) != len(net.bottom) or len(arcs.upper) != len(net.top):
            raise ValueError("every point of the lower and upper line needs its rim arc")
        notches += _notches(
            net,
            "bottom",
            arcs.lower,
            rim_marks(float(arcs.lower[0]), float(arcs.lower[-1]), marks),
            finishes["bottom"].allowance,
        )
        falling = [(-at, sign) for at, sign in rim_marks(float(arcs.upper[0]), float(arcs.upper[-1]), marks)]
        tops = _notches(net, "top", -arcs.upper[::-1], falling, finishes["top"].allowance)
        notches += [replace(notch, arc=-notch.arc) for notch in tops]
    for edge, seam in zip(("right seam", "left seam"), seams or (), strict=False):
        arc = arc_along(net.edge(edge))
        upward = edge == "right seam"
        own = seam_marks(float(arc[-1]), seam)
        turned = own if upward else [(float(arc[-1]) - at, sign) for at, sign in own]
        sides = _notches(net, edge, arc, turned, finishes[edge].allowance)
        notches += sides if upward else [replace(notch, arc=float(arc[-1]) - notch.arc) for notch in sides]
    middle = net.outline.mean(axis=0)
    tall = float(np.ptp(net.outline[:, 1]))
    side = INSIDE_UP if inside else OUTSIDE_UP
    text = (f"{number} {name}", cloth.material, side, "up is this way: the top is fastened to the shell")
    size = min(0.02, tall / 12.0)
    words = tuple(
        Words((float(middle[0]), float(middle[1] + (1.5 - k) * 1.6 * size)), said, size) for k, said in enumerate(text)
    )
    reach = 0.25 * (float(np.ptp(net.outline[:, 0])) if cloth.warp_along else tall)
    way = np.asarray([1.0, 0.0] if cloth.warp_along else [0.0, 1.0])
    ends = [middle + sign * reach * way + np.asarray([0.0, -3.0 * size]) * cloth.warp_along for sign in (-1.0, 1.0)]
    piece = PatternPiece(
        number=number,
        name=name,
        material=cloth.material,
        count=1,
        side=side,
        contours=(_contour(line.outline, "cut", "cut line"), _contour(net.outline, "stitch", "stitch line"), *windows),
        notches=tuple(notches),
        words=words,
        grain=((float(ends[0][0]), float(ends[0][1])), (float(ends[1][0]), float(ends[1][1]))),
        nap=cloth.nap,
        ordinates=ordinates(net),
        edges=tuple((edge, finishes[edge].kind, finishes[edge].text()) for edge in EDGES),
    )
    along, up = (cloth.warp_shrinks, cloth.weft_shrinks)
    if not cloth.warp_along:
        along, up = up, along
    larger = np.asarray([before_shrinking(1.0, along), before_shrinking(1.0, up)])
    stretched = Net(*(net.edge(edge) * larger for edge in EDGES))
    return replace(before_shrinking_piece(piece, along, up), ordinates=ordinates(stretched))
