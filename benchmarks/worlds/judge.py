"""The judge: what a roof really does with given springs in given places, from moments about the hinge alone.

Nothing here uses the choice of springs. With the hinge at the origin and the shell turned by q, a point of the shell
at (x, z) lies at (x cos q - z sin q, x sin q + z cos q). A spring from foot to head of length L turns the shell with
F (foot x head) / L, the distance of its line from the hinge times its force. The gas pushes with F + half a loop
at the list's 20 C; at T that is multiplied by nitrogen's pressure at T over that at 20 C, for which the product's
fit of the reference equation of state is used. Between the ends of the stroke the gas keeps to Boyle's law.

A fit is a row of five numbers: entry, foot x, foot z, head x, head z [m].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array
from loftwright.mechanics.gas_spring import temperature_factor
from worlds.draw import LIMITS, Limits, Roof, Springs, hand_path

GRAVITY = 9.80665
COLD, MILD, HOT = 268.15, 293.15, 313.15
STARTED = 0.10
RULES = ("stays shut", "push to start", "rises by itself", "stays up", "pull down", "closed length", "open length")


def stations(steps: int) -> Array:
    """Return shares of the travel that hold 0.10 and 0.45: `steps` a multiple of 20."""
    return np.arange(steps + 1) / steps


FINE, COARSE = stations(100), stations(20)


@dataclass(frozen=True)
class Warm:
    """Springs of all entries at one temperature: F1 [N] and F2/F1, [entries, springs]."""

    force_1: Array
    ratio: Array


def warm(springs: Springs, kelvin: float) -> Warm:
    """Return the springs at a temperature: gas forces scale, friction does not."""
    half, area = springs.loop / 2, np.pi / 4 * springs.rod[:, None] ** 2

    def at(force: Array) -> Array:
        gas = force + half
        return np.asarray(gas * temperature_factor(gas / area, np.float64(kelvin)) - half)

    first, second = at(springs.force_1), at(springs.force_1 * springs.ratio[:, None])
    return Warm(first, second / first)


def geometry(roof: Roof, fits: Array, shares: Array) -> tuple[Array, Array]:
    """Return length [m] and lever arm [m] of the spring's line, each [fits, stations]."""
    x, z, hx, hz = (fits[:, 1 + i, None] + roof.mount[i] for i in range(4))
    q = roof.opening * shares
    px, pz = hx * np.cos(q) - hz * np.sin(q), hx * np.sin(q) + hz * np.cos(q)
    length = np.hypot(px - x, pz - z)
    return length, (x * pz - z * px) / length


def gas_moment(springs: Springs, at: Warm, entry: Array, length: Array, arm: Array, moving: float) -> Array:
    """Return the moment of both springs [N m], [fits, stations]; `moving` 1 raising, -1 lowering, 0 friction gone.

    Friction is half a loop against the spring's own movement.
    """
    s = springs.stroke[entry][:, None, None]
    c = springs.extended[entry][:, :, None] - length[:, None, :]
    left = np.maximum(1 - (1 - 1 / at.ratio[entry][:, :, None]) * c / s, 0.1)
    gas = at.force_1[entry][:, :, None] / left
    half = springs.loop[entry][:, :, None] / 2
    way = moving * np.sign(arm)[:, None, :]
    return np.asarray(((gas + half - half * way) * arm[:, None, :]).sum(axis=1))


def load_moment(roof: Roof, shares: Array) -> tuple[Array, Array]:
    """Return the moment of weight and cloth [N m] and the hand's path per radian [m], each [stations]."""
    q = roof.opening * shares
    weight = -GRAVITY * roof.mass * (roof.centre_x * np.cos(q) - roof.centre_z * np.sin(q))
    per_turn = hand_path(np.float64(roof.lip), q, roof.upright)
    cloth = -roof.cloth * np.clip(2 * shares - 1, 0, 1) * roof.lip * np.cos(q)
    return weight + cloth, per_turn


class Judge:
    """A roof with its springs, ready to judge many fits at once."""

    def __init__(self, roof: Roof, springs: Springs, shares: Array = FINE, limits: Limits = LIMITS) -> None:
        self.roof, self.springs, self.shares, self.limits = roof, springs, shares, limits
        self.cold, self.mild, self.hot = (warm(springs, kelvin) for kelvin in (COLD, MILD, HOT))
        self.load, self.per_turn = load_moment(roof, shares)

    def margins(self, fits: Array) -> Array:
        """Return how far each rule is kept, [fits, rules]: newtons at the handle, metres of stroke last."""
        roof, shares, springs, limits = self.roof, self.shares, self.springs, self.limits
        entry = fits[:, 0].astype(np.intp)
        length, arm = geometry(roof, fits, shares)
        start, rises = shares <= STARTED + 1e-9, shares >= limits.rises - 1e-9

        def hand(at: Warm, where: Array, moving: float) -> Array:
            """Return what the roof lifts with at the handle [N]: negative where it must be pushed up."""
            push = gas_moment(springs, at, entry, length[:, where], arm[:, where], moving)
            return np.asarray((self.load[where] + push - moving * roof.drag) / self.per_turn[where])

        everywhere = np.ones_like(start)
        c = springs.extended[entry][:, :, None] - length[:, None, :]
        found = (
            -hand(self.hot, shares == 0, 0.0).max(axis=1) - limits.shut,
            limits.start + hand(self.cold, start, 1.0).min(axis=1),
            hand(self.mild, rises, 1.0).min(axis=1),
            hand(self.cold, shares == 1, 0.0).min(axis=1) - limits.stays,
            limits.pull - hand(self.hot, everywhere, -1.0).max(axis=1),
            springs.stroke[entry] - c.max(axis=(1, 2)),
            c.min(axis=(1, 2)),
        )
        return np.stack(found, axis=1)

    def holds(self, fits: Array) -> Array:
        """Return whether every rule is kept, [fits]."""
        margins = self.margins(np.atleast_2d(fits))
        return np.asarray((margins[:, :5] >= 0).all(axis=1) & (margins[:, 5:] > 0).all(axis=1))

    def reading(self, fit: Array, share: float, kelvin: float, moving: float, *, handle_drag: float = 0.0) -> float:
        """Return the upward (moving 1) or downward (-1) force [N] that moves the handle at a share of the travel.

        `handle_drag` [N] is friction felt at the handle.
        """
        fits, shares = np.atleast_2d(fit), np.array([share])
        entry = fits[:, 0].astype(np.intp)
        few = Springs(**{name: getattr(self.springs, name)[entry] for name in Springs.__dataclass_fields__})
        length, arm = geometry(self.roof, fits, shares)
        load, per_turn = load_moment(self.roof, shares)
        push = gas_moment(few, warm(few, kelvin), np.zeros(1, dtype=np.intp), length, arm, moving)
        drag = self.roof.drag + handle_drag * per_turn
        return float(-moving * (load + push - moving * drag)[0, 0] / per_turn[0])
