"""How latches share what pulls at a lip, and points what rests on a rigid shell: bar and plate on elastic points."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Bug
from loftwright.core.motion import Array

STATIONS = 41
"""Points along the bar at which its bending is looked at."""
ROLLED = -9 / 70
"""12 int eta U_1 d eta of the antisymmetric load over the bar [1]: exact."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A latch bar across the lip, or the lip itself.

    `at` are the latches' places y from the middle [m], [n] or [..., n]; `width` [m], `bending` EI [N m2], stiffness of
    each latch with its bolts `latch` [N/m], and `roll` [N m/rad], with which the shell on its hinges resists being
    lifted at one side only, each [...].
    """

    at: tuple[float, ...] | Array
    width: Array
    bending: Array
    latch: Array
    roll: Array

    @property
    def count(self) -> int:
        """How many latches there are."""
        return int(np.shape(self.at)[-1])


@dataclass(frozen=True, slots=True)
class BarShares:
    """How a unit force spread over the bar is carried, and how the bar bends.

    `share` of each latch [1], [..., n]; `rise` of the bar [m/N], [..., stations]; `roll`, the moment on the hinges per
    force [m], [...].
    """

    share: Array
    rise: Array
    roll: Array


def _spread(at: Array) -> tuple[Array, Array]:
    """Return the bending by an even and by an antisymmetric unit load, up to a straight line; `at` in widths."""
    ahead, behind = 0.5 - at, 0.5 + at
    even = (ahead**4 + behind**4) / 48
    leaning = (ahead**5 - behind**5) / 5 + at * (ahead**4 + behind**4) / 4
    return even, leaning


def bar_shares(bar: Bar, *, lost: int | None = None) -> BarShares:
    """Return how the latches share a force spread evenly over the bar.

    In widths of the bar, with kappa = k b^3 / EI and rho = k_roll b / EI, the rise is
    v = a + c eta - sum R_j |eta - eta_j|^3 / 12 + U(eta) - rho theta U_1(eta) (1), R_i = kappa v_i (2), sum R = 1 (3),
    sum R eta = -rho theta (4): a beam free at both ends on elastic points, loaded evenly (U) and by what the hinges
    hold against rolling (U_1, antisymmetric, linear over the bar). theta is the bar's mean slope
    12 int v eta d eta = c - sum R_j U_1(eta_j) + 9/70 rho theta, on which that load does its work. Latch and stop sit
    together, so that each point holds both ways.
    A stiff bar shares by statics alone; a limp one like a continuous beam on rigid supports. `lost` is the place in
    `bar.at` of a latch that has let go. Bug when no latch is left, or a latch lies beyond the bar.
    Source: timoshenko-strength-1, beams; derivation.
    """
    left = [place for place in range(bar.count) if place != lost]
    if not left:
        raise Bug("a bar without latches holds nothing")
    width, bending, latch, roll = np.broadcast_arrays(bar.width, bar.bending, bar.latch, bar.roll)
    at = np.asarray(bar.at, dtype=np.float64)[..., left] / width[..., None]
    if np.any(np.abs(at) > 0.5 + 1e-9):
        raise Bug("a latch lies beyond its bar")
    count = len(left)
    kappa, rho = latch * width**3 / bending, roll * width / bending
    even, leaning = _spread(at)
    turned = 1 + ROLLED * rho
    system = np.zeros((*width.shape, count + 2, count + 2))
    right = np.zeros((*width.shape, count + 2))
    weigh = (kappa / (1 + kappa))[..., None]
    between = np.abs(at[..., :, None] - at[..., None, :]) ** 3 / 12
    own = between - at[..., :, None] * leaning[..., None, :]
    system[..., :count, :count] = weigh[..., None] * own + np.eye(count) * (1 / (1 + kappa))[..., None, None]
    system[..., :count, count] = -weigh
    system[..., :count, count + 1] = -weigh * (at * turned[..., None] - rho[..., None] * leaning)
    right[..., :count] = weigh * even
    system[..., count, :count] = 1.0
    right[..., count] = 1.0
    system[..., count + 1, :count] = at
    system[..., count + 1, count + 1] = rho
    found = np.linalg.solve(system, right[..., None])[..., 0]
    forces, level, lean = found[..., :count], found[..., count, None], found[..., count + 1, None]
    slope = lean * turned[..., None] + (forces * leaning).sum(axis=-1, keepdims=True)
    eta = np.linspace(-0.5, 0.5, STATIONS)
    even, leaning = _spread(eta)
    by_latches = (forces[..., None, :] * np.abs(eta[:, None] - at[..., None, :]) ** 3 / 12).sum(axis=-1)
    rise = (level + slope * eta - by_latches + even - rho[..., None] * lean * leaning) * (width**3 / bending)[..., None]
    share = np.zeros((*width.shape, bar.count))
    share[..., left] = forces
    return BarShares(share, np.asarray(rise), np.asarray(rho * lean[..., 0] * width))


def point_shares(x: ArrayLike, y: ArrayLike, load_x: ArrayLike, load_y: ArrayLike) -> Array:
    """Return how points of equal stiffness under a rigid shell share a unit force, [..., n].

    R_i = 1/n + A x_i + B y_i about the points' middle, from the balance of force and of both moments (5). `x` and `y`
    [m] are the points, [n]; `load_x` and `load_y` [m] the place of the force, [...]. Negative shares are held by
    what keeps the shell down. Points in one line share along it only. Bug for fewer than two points.
    Source: timoshenko-strength-1, rigid body on elastic supports; derivation.

    >>> point_shares([0, 2, 2, 0], [0, 0, 1, 1], 0.5, 0.5).tolist()
    [0.375, 0.125, 0.125, 0.375]
    """
    at = np.stack([np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)], axis=-1)
    if len(at) < 2:
        raise Bug("one point cannot carry a shell")
    middle = at.mean(axis=0)
    arms = at - middle
    load = np.stack(np.broadcast_arrays(np.asarray(load_x, dtype=np.float64), np.asarray(load_y, dtype=np.float64)), -1)
    slope = (load - middle) @ np.linalg.pinv(arms.T @ arms, hermitian=True)
    return np.asarray(1 / len(at) + slope @ arms.T)
