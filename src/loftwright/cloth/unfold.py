"""Rolling a strip of triangles out flat, and setting flat outlines against one another.

Triangle by triangle with true side lengths, all rows at once. The edges run to the right for someone who stands
outside the wall; so do the flat ones, with the lower edge's chord along +x and the cloth above it.
"""

from __future__ import annotations

import numpy as np

from loftwright.cloth.triangulate import Word, checked
from loftwright.core.motion import Array


def bridges_of(word: Word) -> tuple[Word, Word]:
    """Return the lower and the upper point of each bridge of a `word` [1], each [moves + 1]."""
    upper = np.concatenate([[0], np.cumsum(word)]).astype(np.intp)
    return np.arange(len(upper)) - upper, upper


def unfold(lower: Array, upper: Array, word: Word) -> tuple[Array, Array]:
    """Return the flat lower edge [..., m, 2] and upper edge [..., k, 2], in [m].

    Every triangle keeps its three sides. The bridge turns about the edge that stands still by the triangle's angle a
    there, left when the lower edge steps, right when the upper one does (1): phi' = phi +- a. The point that steps
    moves by the difference of the two bridges as complex numbers, z' = z +- (L' exp(i phi') - L exp(i phi)) (2).

    `lower` [m, shape ... by m by 3] and `upper` [m, shape ... by k by 3], rows broadcast; `word` holds m - 1 noughts
    and k - 1 ones. The first lower point is the origin, the chord of the lower edge lies along +x (of the upper edge
    where the lower one is a point or ends where it began).
    ValueError: edges as in `checked`, or a word that does not fit them.
    Source: derivation, geometry of triangles; no length or angle inside a triangle changes.

    >>> low, high = np.array([[0.0, 0, 0], [0, -2, 0]]), np.array([[0.0, 0, 1], [0, -2, 1]])
    >>> np.abs(np.round(unfold(low, high, np.array([0, 1]))[1], 6)).tolist()
    [[0.0, 1.0], [2.0, 1.0]]
    """
    low, high = checked(lower, upper)
    m, k = low.shape[-2], high.shape[-2]
    word = np.asarray(word, dtype=np.intp)
    if word.shape != (m + k - 2,) or int(np.sum(word)) != k - 1 or not np.all((word == 0) | (word == 1)):
        raise ValueError(f"the word must hold {m - 1} noughts and {k - 1} ones")
    i, j = bridges_of(word)
    bridge = high[..., j, :] - low[..., i, :]
    length = np.linalg.norm(bridge, axis=-1)
    if np.any(length == 0.0):
        raise ValueError("a lower and an upper point that are joined stand in one place")
    one, two = bridge[..., :-1, :], bridge[..., 1:, :]
    angle = np.arctan2(np.linalg.norm(np.cross(one, two), axis=-1), np.sum(one * two, axis=-1))
    turn = np.cumsum(np.where(word == 0, angle, -angle), axis=-1)
    phi = np.concatenate([np.zeros_like(turn[..., :1]), turn], axis=-1)
    arm = length * np.exp(1j * phi)
    step = np.diff(arm, axis=-1)
    start = np.zeros_like(arm[..., :1])
    flat_low = np.concatenate([start, np.cumsum(-step[..., word == 0], axis=-1)], axis=-1)
    flat_high = np.concatenate([start, np.cumsum(step[..., word == 1], axis=-1)], axis=-1) + arm[..., :1]
    chord = flat_low[..., -1:] - flat_low[..., :1]
    other = flat_high[..., -1:] - flat_high[..., :1]
    size = np.max(length, axis=-1, keepdims=True)
    chord = np.where(np.abs(chord) > 1e-9 * size, chord, other)
    turned = np.exp(-1j * np.angle(chord))
    return _pairs(flat_low * turned), _pairs(flat_high * turned)


def _pairs(numbers: np.ndarray[tuple[int, ...], np.dtype[np.complex128]]) -> Array:
    return np.stack([numbers.real, numbers.imag], axis=-1)


def creases(lower: Array, upper: Array, word: Word) -> Array:
    """Return the angle [rad] between the two triangles beside each inner bridge, [..., moves - 1].

    Positive where the cloth bends towards the inside, as round the outside of a corner. `lower` [m, ... by m by 3]
    and `upper` [m, ... by k by 3] as in `unfold`.
    """
    low, high = checked(lower, upper)
    i, j = bridges_of(word)
    a, b = low[..., i, :], high[..., j, :]
    bridge = b - a
    side = np.where((word == 0)[:, None], np.diff(a, axis=-2), np.diff(b, axis=-2))
    normal = np.cross(side, bridge[..., :-1, :])
    one, two = normal[..., :-1, :], normal[..., 1:, :]
    across = np.cross(one, two)
    size = np.arctan2(np.linalg.norm(across, axis=-1), np.sum(one * two, axis=-1))
    sense = np.sum(across * bridge[..., 1:-1, :], axis=-1)
    return np.asarray(np.where(sense < 0.0, -size, size))


def strip_area(lower: Array, upper: Array, word: Word) -> Array:
    """Return the area [m2] of the strip, [...], from the edges `lower` and `upper` in space or flat [m]."""
    low, high = np.asarray(lower, dtype=np.float64), np.asarray(upper, dtype=np.float64)
    if low.shape[-1] == 2:
        low, high = (np.concatenate([edge, np.zeros_like(edge[..., :1])], axis=-1) for edge in (low, high))
    i, j = bridges_of(word)
    bridge = high[..., j, :] - low[..., i, :]
    return np.asarray(np.sum(np.linalg.norm(np.cross(bridge[..., :-1, :], bridge[..., 1:, :]), axis=-1), axis=-1) / 2.0)


def edge_length(edge: Array) -> Array:
    """Return the length [m] of an `edge` [m, ... by points by 2 or 3], [...]."""
    return np.asarray(np.sum(np.linalg.norm(np.diff(edge, axis=-2), axis=-1), axis=-1))


def arcs(edge: Array) -> Array:
    """Return how far along the `edge` [m, ... by points by 2 or 3] each point lies, from 0, [m, ... by points]."""
    steps = np.linalg.norm(np.diff(edge, axis=-2), axis=-1)
    return np.concatenate([np.zeros_like(np.sum(steps, axis=-1, keepdims=True)), np.cumsum(steps, axis=-1)], axis=-1)


def bow(edge: Array) -> Array:
    """Return how far a flat `edge` [m, ... by points by 2] leaves its chord, [...], in [m].

    The offset of the point that lies farthest off, positive to the left of the way it runs: up, for the edges of
    `unfold`. ValueError when it ends where it began.
    """
    chord = edge[..., -1, :] - edge[..., 0, :]
    length = np.linalg.norm(chord, axis=-1)
    if np.any(length == 0.0):
        raise ValueError("the edge ends where it began: it has no chord")
    off = edge - edge[..., :1, :]
    across = (chord[..., None, 0] * off[..., 1] - chord[..., None, 1] * off[..., 0]) / length[..., None]
    far = np.argmax(np.abs(across), axis=-1)
    return np.asarray(np.take_along_axis(across, far[..., None], axis=-1)[..., 0])


def misfit(one: Array, two: Array) -> Array:
    """Return the greatest distance [m] between like points of two flat outlines after the best rigid fit, [...].

    Least squares over shift and turn, without turning over: with both about their means as complex numbers, the turn
    is the angle of the sum of conj(a) b (1). `one` and `two` [m, ... by points by 2], rows broadcast.
    Source: derivation, least squares of a plane turn.
    """
    a = one[..., 0] + 1j * one[..., 1]
    b = two[..., 0] + 1j * two[..., 1]
    a = a - np.mean(a, axis=-1, keepdims=True)
    b = b - np.mean(b, axis=-1, keepdims=True)
    turn = np.angle(np.sum(np.conj(a) * b, axis=-1, keepdims=True))
    return np.asarray(np.max(np.abs(a * np.exp(1j * turn) - b), axis=-1))


def outline(flat_lower: Array, flat_upper: Array) -> Array:
    """Return the outline, counter-clockwise from the lower left corner, [m, ... by points by 2], not closed.

    `flat_lower` [m, ... by m by 2] and `flat_upper` [m, ... by k by 2] as from `unfold`.
    """
    return np.concatenate([flat_lower, flat_upper[..., ::-1, :]], axis=-2)


def breadth(flat_outline: Array, grain: float = 0.0) -> Array:
    """Return how much of the roll's width a piece takes, [...], in [m].

    `flat_outline` [m, ... by points by 2]; `grain` [rad] is the direction on the piece that lies along the roll: 0 for
    the wall's length along the roll, pi/2 for the wall's height along the roll.
    """
    across = -np.sin(grain) * flat_outline[..., 0] + np.cos(grain) * flat_outline[..., 1]
    return np.asarray(np.max(across, axis=-1) - np.min(across, axis=-1))
