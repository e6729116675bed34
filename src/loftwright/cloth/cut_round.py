"""A cut line with one allowance all round, for panels whose own allowances do not fit together at their corners.

And what holes leave of an area.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from loftwright.cloth.cut_lines import MITRE, verify
from loftwright.core.motion import Array
from loftwright.core.pattern import XY


def crosses(outline: Array) -> bool:
    """Return whether a closed line `outline` [n, 2] [m], without its first point again, crosses or touches itself."""
    from shapely.geometry import Polygon

    return not Polygon(outline).is_valid


def all_round(net: Array, by: float) -> Array:
    """Return the closed line `by` [m] outside a stitch line `net` [n, 2] [m], turning left, corners mitred.

    Corners that would stand out more than `MITRE` times as far are cut square. Nought: the stitch line itself.
    ValueError where the stitch line crosses itself.

    >>> all_round(np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]), 0.1).min(axis=0).round(6).tolist()
    [-0.1, -0.1]
    """
    from shapely.geometry import Polygon

    if crosses(net):
        raise ValueError("its stitch lines cross one another")
    if by <= 0.0:
        return net
    ring = Polygon(net).buffer(by, join_style="mitre", mitre_limit=MITRE).exterior
    found = np.asarray(ring.coords)[:-1]
    found = np.asarray(found if ring.is_ccw else found[::-1])
    verify(net, found)
    return found


def area_left(outline: tuple[XY, ...], holes: Iterable[tuple[XY, ...]]) -> float:
    """Return the area inside a closed line less that inside other closed ones [m2], each without its first point again.

    Parts of holes beyond the line take nothing, and what lies in two holes is taken once. All in [m].

    >>> area_left(((0, 0), (2, 0), (2, 1), (0, 1)), [((1.5, 0.5), (3, 0.5), (3, 2), (1.5, 2))])
    1.75
    """
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    inner = Polygon(outline).buffer(0.0)
    return float(inner.difference(unary_union([Polygon(hole).buffer(0.0) for hole in holes])).area)
