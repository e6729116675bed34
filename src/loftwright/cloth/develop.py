"""The flat piece of one wall: rolled out two ways, with what tells whether it can be trusted.

The way of rolling out comes from the first row and is kept for all others, so that rows differ only by their edges.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.cloth import develop_rules as rules
from loftwright.cloth.naive import Straight, straight
from loftwright.cloth.triangulate import Word, checked, triangulate
from loftwright.cloth.unfold import (
    breadth,
    creases,
    misfit,
    outline,
    strip_area,
    unfold,
)
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array


@dataclass(frozen=True, slots=True)
class Panel:
    """One wall rolled out flat, in [m], rows first.

    `lower` [..., m, 2] and `upper` [..., k, 2]: its edges, seen from outside, the chord of the lower one along +x.
    `word`: how it is rolled out [1]. `sharpest`: the greatest angle between neighbouring triangles [rad], [...].
    `area` [m2], [...]. `left_seam`, `right_seam`: lengths of the seams [m], [...]. `two_ways`: how far the outline by
    the second measure differs after a rigid fit [m], first row. `refined`: how far it would move if every other point
    were left out [m], first row: about three times the error that is left. `straight`: what a ruler would miss by.
    """

    lower: Array
    upper: Array
    word: Word
    sharpest: Array
    area: Array
    left_seam: Array
    right_seam: Array
    two_ways: float
    refined: float
    straight: Straight

    @property
    def outline(self) -> Array:
        """The outline counter-clockwise from the lower left corner [m, ... by points by 2]."""
        return outline(self.lower, self.upper)


def develop(lower: ArrayLike, upper: ArrayLike) -> Panel:
    """Return the flat piece between two edges in space.

    Rolled out by least bending, unfolded exactly; rolled out again by least twist, and by bending with every other
    point, for comparison. `lower` [m, ... by m by 3] and `upper` [m, ... by k by 3] run to the right seen from
    outside; their ends are the seams, points given there exactly. Rows broadcast; the first row decides the word.
    ValueError: edges as in `triangulate.checked`.
    Validity: 100 to 200 points an edge, junctions of lines and arcs among them; corners that are sharp must be seams.
    Source: `triangulate.WANG_TANG`; exact unfolding by derivation.
    """
    low, high = checked(np.asarray(lower, dtype=np.float64), np.asarray(upper, dtype=np.float64))
    rows = np.broadcast_shapes(low.shape[:-2], high.shape[:-2])
    low = np.broadcast_to(low, rows + low.shape[-2:])
    high = np.broadcast_to(high, rows + high.shape[-2:])
    first = low.reshape(-1, *low.shape[-2:])[0], high.reshape(-1, *high.shape[-2:])[0]
    word = triangulate(*first)
    flat = unfold(low, high, word)
    own = outline(*unfold(*first, word))
    other = outline(*unfold(*first, triangulate(*first, "twist")))
    angles = np.abs(creases(low, high, word))
    return Panel(
        lower=flat[0],
        upper=flat[1],
        word=word,
        sharpest=np.max(angles, axis=-1, initial=0.0),
        area=strip_area(low, high, word),
        left_seam=np.asarray(np.linalg.norm(high[..., 0, :] - low[..., 0, :], axis=-1)),
        right_seam=np.asarray(np.linalg.norm(high[..., -1, :] - low[..., -1, :], axis=-1)),
        two_ways=float(misfit(own, other)),
        refined=_refined(*first, own),
        straight=straight(*flat),
    )


def _refined(low: Array, high: Array, own: Array) -> float:
    """Return how far the outline moves when every other point of both edges is left out [m]."""
    keep = [_every_other(len(edge)) for edge in (low, high)]
    coarse = low[keep[0]], high[keep[1]]
    word = triangulate(*coarse)
    there = np.concatenate([keep[0], len(low) + len(high) - 1 - keep[1][::-1]])
    return float(misfit(outline(*unfold(*coarse, word)), own[there]))


def _every_other(points: int) -> Word:
    kept = np.arange(0, points, 2, dtype=np.intp)
    return kept if kept[-1] == points - 1 else np.append(kept, points - 1)


@dataclass(frozen=True, slots=True)
class Spread:
    """How far an outline is unsure, in [m]: `each` row against the first, [rows]; `median`; `most` of 95 in 100."""

    each: Array
    median: float
    most: float


def spread(flat_outlines: Array) -> Spread:
    """Return how far outlines of disturbed rims differ from the first after a rigid fit.

    `flat_outlines` [m, rows by points by 2]: the first row as measured, the others drawn.
    ValueError: fewer than two rows.
    """
    if flat_outlines.ndim != 3 or len(flat_outlines) < 2:
        raise ValueError("outlines must be [rows, points, 2] with the measured one first and at least one more")
    each = misfit(flat_outlines[:1], flat_outlines)
    return Spread(each, float(np.median(each[1:])), float(np.quantile(each[1:], 0.95)))


def judged(
    panel: Panel,
    name: str,
    *,
    roll: ArrayLike | None = None,
    grain: float = 0.0,
    allowances: ArrayLike = 0.0,
    unsure: ArrayLike | None = None,
    unsure_limit: ArrayLike = rules.SPREAD_LIMIT,
    two_ways_limit: ArrayLike = rules.TWO_WAYS_LIMIT,
    crease_limit: ArrayLike = rules.CREASE_LIMIT,
) -> tuple[Judged, ...]:
    """Return what can be said of one panel called `name`.

    `roll`: width of the cloth between its selvedges [m]; `grain`: direction on the piece along the roll [rad]; both
    `allowances` across the roll together [m]; `unsure`: how far the outline may be out [m, ...], left out where no
    draws were made; limits: `unsure_limit` [m], `two_ways_limit` [m], `crease_limit` [rad].
    """
    found = [
        against(rules.TWO_WAYS, np.full(panel.sharpest.shape, panel.two_ways), two_ways_limit, name),
        against(rules.SHARP, panel.sharpest, crease_limit, name),
    ]
    if roll is None:
        wide = breadth(panel.outline, grain) + np.asarray(allowances)
        found.append(Judged(rules.TOO_WIDE, wide, None, name, unknown="the width of the cloth", missing="roll"))
    else:
        found.append(against(rules.TOO_WIDE, breadth(panel.outline, grain) + np.asarray(allowances), roll, name))
    if unsure is not None:
        found.append(against(rules.RIMS_UNSURE, unsure, unsure_limit, name))
    return tuple(found)
