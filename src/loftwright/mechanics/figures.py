"""Key figures of a roof, each worked out once for screens, tables and drawings alike."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array
from loftwright.mechanics.feel import NEAR_CLOSED, Feel, Roof, state


def lip_rise(felt: Feel) -> Array:
    """Return how far the lip rises from closed to open [m], [draws]."""
    return np.asarray(felt.lip.z[..., -1] - felt.lip.z[..., 0])


def handle_height(roof: Roof, felt: Feel) -> Array:
    """Return the height of the handle of the open roof above the feet [m], [draws], its strap not counted."""
    return np.asarray(felt.hand.z[..., -1] - roof.feet_z)


def strap_needed(roof: Roof, felt: Feel, reach: Array) -> Array:
    """Return how long a strap [m] the handle needs to come within `reach` [m] above the feet, [draws]; or nought."""
    return np.maximum(handle_height(roof, felt) - reach, 0.0)


def resting_height(roof: Roof, felt: Feel) -> Array:
    """Return how far the unlatched roof stands up on its seal at the lip [m], [draws]; nought on its stops.

    Mild and new. Where closed it must be pulled down and a little further it falls, it rests where the pull turns,
    straight between stations.
    """
    pull = felt.pull_down[state("mild", "new")]
    falls = pull < 0
    rests = (pull[..., 0] > 0) & (falls & (roof.travel.fraction <= NEAR_CLOSED)).any(axis=-1)
    risen = np.broadcast_to(felt.lip.z - felt.lip.z[..., :1], pull.shape)
    after = np.argmax(falls, axis=-1)
    before = np.maximum(after - 1, 0)

    def at(values: Array, station: NDArray[np.intp]) -> Array:
        return np.asarray(np.take_along_axis(values, station[..., None], axis=-1)[..., 0])

    drop = np.maximum(at(pull, before) - at(pull, after), 1e-12)
    share = np.clip(at(pull, before) / drop, 0.0, 1.0)
    turns = at(risen, before) + share * (at(risen, after) - at(risen, before))
    return np.where(rests, turns, 0.0)


def latch_hold(felt: Feel) -> Array:
    """Return what latches must hold down at the handle's place [N], [draws]: closed, sun and new; at least nought."""
    return np.asarray(np.maximum(felt.pull_down[state("sun", "new")][..., 0], 0.0))
