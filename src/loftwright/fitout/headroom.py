"""Headroom as a map over the floor plan: how high the ceiling is everywhere, open and closed, and what fits under it.

A map is an array [..., ny, nx]: rows of uncertain numbers first, then across, then along the van. x and y are the
middles of its cells [m]; every cell is dx by dy. Walls of cloth are taken as upright at the edge of the opening.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Flags, array_of
from loftwright.reference.people import HAT, SHOES, STATURE, share_below

BODY_WIDTH: Final = 0.6
"""Width of floor that a person walks on [m]: shoulders of 95 in 100 men, 0.567 m, and a hand's breadth. Judgement."""


def ceiling(
    x: ArrayLike,
    y: ArrayLike,
    under_shell: ArrayLike,
    under_roof: ArrayLike,
    opening_length: ArrayLike,
    opening_width: ArrayLike,
) -> Array:
    """Return the ceiling [m], [..., ny, nx]: the shell over the opening, the van's own lining elsewhere.

    Parameters
    ----------
    x: middles of cells [m], [nx]. y: [m], [ny], nought in the middle of the van.
    under_shell, under_roof: heights of the two undersides [m], [..., ny, nx] or [..., 1, 1].
    opening_length: from x = 0 forward [m], [...]. opening_width: across [m], [...].
    """
    far, wide = array_of(opening_length)[..., None, None], array_of(opening_width)[..., None, None]
    along, across = array_of(x)[None, :], array_of(y)[:, None]
    through = (along >= 0.0) & (along <= far) & (np.abs(across) <= wide / 2)
    return np.asarray(np.where(through, array_of(under_shell), array_of(under_roof)))


def room_over(ceiling_height: ArrayLike, floor_height: ArrayLike) -> Array:
    """Return the height free over floor, bed or bench [m], [..., ny, nx]: `ceiling_height` less `floor_height` [m]."""
    return np.asarray(np.maximum(array_of(ceiling_height) - array_of(floor_height), 0.0))


def standing_area(room: ArrayLike, need: ArrayLike, dx: float, dy: float, blocked: Flags | None = None) -> Array:
    """Return the floor area on which there is at least `need` of height [m2], [...].

    A = dx dy (number of cells with room >= need and nothing in the way)                         (1)

    `room` [m], [..., ny, nx]; `need` [m], [...]; `dx`, `dy` size of a cell [m]; `blocked` [ny, nx] where furniture
    stands. Validity: true to about half a cell all round its edge.
    """
    return np.asarray(_free(room, need, blocked).sum(axis=(-2, -1)) * dx * dy)


def _free(room: ArrayLike, need: ArrayLike, blocked: Flags | None) -> Flags:
    free = array_of(room) >= array_of(need)[..., None, None] - 1e-9
    return np.asarray(free if blocked is None else free & ~np.asarray(blocked))


def _longest_run(free: Flags) -> Array:
    """Return the greatest number of cells in a row along the last axis, over all rows of each map."""
    run = np.zeros(free.shape[:-1])
    best = np.zeros(free.shape[:-1])
    for at in range(free.shape[-1]):
        run = np.where(free[..., at], run + 1.0, 0.0)
        best = np.maximum(best, run)
    return np.asarray(best.max(axis=-1))


def _wide_enough(free: Flags, cells: int) -> Flags:
    """Return where `cells` neighbours across, from each one on, are all free; [..., ny - cells + 1, nx]."""
    count = free.shape[-2] - cells + 1
    return np.asarray(np.logical_and.reduce([free[..., i : i + count, :] for i in range(cells)]))


@dataclass(frozen=True, slots=True)
class Walk:
    """The longest straight walk standing upright, `along` the van and `across` it [m], [...]."""

    along: Array
    across: Array


def longest_walk(
    room: ArrayLike,
    need: ArrayLike,
    dx: float,
    dy: float,
    *,
    body_width: float = BODY_WIDTH,
    blocked: Flags | None = None,
) -> Walk:
    """Return the longest straight strips of floor, as wide as a person, with `need` of height all over.

    Parameters
    ----------
    room: map of height free [m], [..., ny, nx]. need: height wanted [m], [...].
    dx, dy: size of a cell [m].
    body_width: width of the strip [m], rounded up to whole cells.
    blocked: where furniture stands, [ny, nx].

    Returns
    -------
    `Walk` [m]: nought where no strip of that width is free. The counts are whole cells.
    """
    free = _free(room, need, blocked)

    def one_way(cells: Flags, wide: float, long: float) -> Array:
        count = max(int(np.ceil(body_width / wide - 1e-9)), 1)
        if count > cells.shape[-2]:
            return np.zeros(cells.shape[:-2])
        return np.asarray(_longest_run(_wide_enough(cells, count)) * long)

    return Walk(one_way(free, dy, dx), one_way(np.swapaxes(free, -1, -2), dx, dy))


@dataclass(frozen=True, slots=True)
class Upright:
    """Share of `men` and of `women` who can stand upright [1], [...]."""

    men: Array
    women: Array


def who_stands(room: ArrayLike, shoes: float = SHOES, hat: float = 0.0) -> Upright:
    """Return which share of men and women can stand upright under a height `room` [m], [...].

    Stature below room - shoes - hat (2). `shoes` and `hat` [m] are taken off; `reference.people.HAT` for one.
    Source: Gordon and others, 2012 Anthropometric Survey of US Army Personnel; see `reference.people.ANSUR`.
    """
    left = array_of(room) - shoes - hat
    return Upright(share_below(STATURE["men"], left), share_below(STATURE["women"], left))


def height_to_stand(stature: ArrayLike, shoes: float = SHOES, hat: float = HAT) -> Array:
    """Return the headroom [m], [...], that a person of this `stature` [m] needs in `shoes` and with a `hat` [m].

    >>> round(float(height_to_stand(1.870, hat=0.0)), 3)
    1.895
    """
    return np.asarray(array_of(stature) + shoes + hat)
