"""What a pattern drawn with a ruler would miss by: a box, square corners, or straight edges between true corners."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.cloth.unfold import arcs, bow, edge_length
from loftwright.core.motion import Array

STRAIGHT_WILL_DO = 0.003
"""Miss of a straight-edged pattern that does not show [m]. Judgement: woven canvas takes about 0.5 to 1 % along the
threads before it pulls visibly (general knowledge, not tested), which is 3 to 5 mm in half a metre."""

_STATIONS = 101


@dataclass(frozen=True, slots=True)
class Straight:
    """What patterns with straight edges miss by, each [...], in [m].

    `square_top`: top edge of a pattern with the true lower length and the true seam lengths square to it, less the
    true top edge. `bow_lower`, `bow_upper`: how far the true edges leave the straight lines between the true corners,
    up positive. `slack`, `shortage`: how much higher at most, and how much lower at most, the straight-edged piece is
    than the wall between like points of both edges, neither negative.
    """

    square_top: Array
    bow_lower: Array
    bow_upper: Array
    slack: Array
    shortage: Array

    @property
    def miss(self) -> Array:
        """The worst of bows, slack and shortage of the best straight-edged piece, [...], in [m]."""
        every = (np.abs(self.bow_lower), np.abs(self.bow_upper), self.slack, self.shortage)
        return np.asarray(np.maximum.reduce(every))

    @property
    def will_do(self) -> bool:
        """Whether a ruler is enough in every row: the worst miss does not show."""
        return bool(np.all(self.miss <= STRAIGHT_WILL_DO))


def straight(flat_lower: Array, flat_upper: Array) -> Straight:
    """Return what straight-edged patterns miss by against the true one.

    `flat_lower` [m, ... by m by 2] and `flat_upper` [m, ... by k by 2] as from `unfold`. Heights are compared between
    points at equal shares of both edges, 101 of them: |true| against |straight| (1).
    Source: derivation.
    """
    sides = edge_length(flat_lower), edge_length(flat_upper)
    seams = [np.linalg.norm(flat_upper[..., end, :] - flat_lower[..., end, :], axis=-1) for end in (0, -1)]
    square = np.hypot(sides[0], seams[1] - seams[0])
    share = np.linspace(0.0, 1.0, _STATIONS)[:, None]
    true = np.linalg.norm(_at_shares(flat_upper, share[:, 0]) - _at_shares(flat_lower, share[:, 0]), axis=-1)
    ruled = [edge[..., :1, :] * (1.0 - share) + edge[..., -1:, :] * share for edge in (flat_lower, flat_upper)]
    over = np.linalg.norm(ruled[1] - ruled[0], axis=-1) - true
    return Straight(
        np.asarray(square - sides[1]),
        bow(flat_lower),
        bow(flat_upper),
        np.asarray(np.maximum(np.max(over, axis=-1), 0.0)),
        np.asarray(np.maximum(-np.min(over, axis=-1), 0.0)),
    )


def _at_shares(edge: Array, share: Array) -> Array:
    """Return the points [..., shares, 2] at equal shares of an edge's length, straight between its points."""
    along = arcs(edge)
    wanted = along[..., -1:] * share
    before = np.sum(along[..., None, :] <= wanted[..., :, None], axis=-1) - 1
    before = np.clip(before, 0, edge.shape[-2] - 2)
    begin, end = (np.take_along_axis(along, before + step, axis=-1) for step in (0, 1))
    part = ((wanted - begin) / (end - begin))[..., None]
    one, two = (np.take_along_axis(edge, (before + step)[..., None], axis=-2) for step in (0, 1))
    return np.asarray(one + (two - one) * part)
