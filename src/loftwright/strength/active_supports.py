"""Which one-way supports act: the least of a convex energy whose slope is piecewise linear.

E(u) = u K0 u / 2 + sum k max(0, b . u - gap)^2 / 2 - w . u (1), K0 the stiffness of what always acts. On one set of
active legs E is a parabola; a Newton step leads to its bottom, and where that lies on another set, an exact search
along the step (the root of a piecewise linear function) finds the least of E on the way. Every step lowers E by at
least a fixed multiple of the slope squared, so that the steps close in on the least of E. Slopes have no jumps: near
enough, whatever set one is on has the least of E as its own bottom, and a whole step lands on it. So it ends.

A set that does not hold the shell has no bottom. So that every set has one, a weak spring in every direction is added,
a share of the mean stiffness: first one that keeps the sums well conditioned, then, from what that gave, one so weak
that it counts for nothing where the supports hold the shell.
Source: derivation, docs/theory-strength.md.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array, Flags

Rows = NDArray[np.intp]
_STEPS = 40
"""Most steps in either round; cases that hold take up to a dozen. Who calls checks the balance of what comes out."""
_ROUGH, _FINE = 1e-8, 1e-13
"""Weak springs of the first and of the second round, as shares of the mean stiffness [1]."""
_ADRIFT = 10.0
"""A shell that the first round moves by this much, [m] or [rad], nothing holds: no second round."""


@dataclass(frozen=True, slots=True)
class System:
    """All supports as arrays over the rows that differ, [s].

    `always` [s, 6, 6] is the stiffness of what always acts [N/m], `mean` [s] the mean of all stiffness [N/m]; each
    one-way leg pulls with k (way . u - gap) once that is above nought: `way` [s, legs, 6], `k` [N/m] and `gap` [m],
    [s, legs].
    Arguments of the methods: `row` [1], [n], the row of each load; `load` [N] and [N m], motion `u` and `step` [m]
    and [rad], each [n, 6]; `weak` [1], the weak spring as a share of the mean stiffness.
    """

    always: Array
    mean: Array
    way: Array
    k: Array
    gap: Array

    def past(self, row: Rows, u: Array) -> Array:
        """Return by how much each leg is past its gap [m]."""
        return np.asarray(np.einsum("nmi,ni->nm", self.way[row], u) - self.gap[row])

    def solve(self, row: Rows, active: Flags, load: Array, weak: float) -> Array:
        """Return the motion with a given set of active legs: each pair of row and set is inverted once."""
        rows, legs = self.k.shape
        bits = np.arange(legs, dtype=np.int64)
        keys, back = np.unique(row + rows * (active.astype(np.int64) @ (1 << bits)), return_inverse=True)
        r, back = keys % rows, back.reshape(-1)
        k = self.k[r] * ((keys // rows)[:, None] >> bits & 1)
        whole = self.always[r] + np.einsum("sm,smi,smj->sij", k, self.way[r], self.way[r])
        base = weak * self.mean
        inverse = np.linalg.inv(whole + base[r, None, None] * np.eye(6))
        right = load + np.einsum("sm,smi->si", k * self.gap[r], self.way[r])[back]
        u = np.einsum("nij,nj->ni", inverse[back], right)
        if weak == _FINE:
            # Refinement takes back what an inverse loses, and what the weak spring carries where the set holds.
            for _ in range(2):
                rest = right - np.einsum("nij,nj->ni", whole[back], u)
                u = u + np.einsum("nij,nj->ni", inverse[back], rest)
        return np.asarray(u)

    def search(self, row: Rows, u: Array, step: Array, load: Array, weak: float) -> Array:
        """Return the share of `step` at which the energy is least: the root of its piecewise linear slope."""
        k, start = self.k[row], self.past(row, u)
        rate = np.einsum("nmi,ni->nm", self.way[row], step)
        stiff = np.einsum("nij,nj->ni", self.always[row], step) + (weak * self.mean[row])[:, None] * step
        first = np.einsum("ni,ni->n", stiff, u) - np.einsum("ni,ni->n", load, step)
        second = np.einsum("ni,ni->n", stiff, step)
        with np.errstate(divide="ignore", invalid="ignore"):
            turn = np.where(rate != 0, -start / rate, 0.0)
        turn = np.sort(np.where(np.isfinite(turn) & (turn > 0), turn, 0.0), axis=-1)
        turn = np.concatenate([np.zeros_like(turn[:, :1]), turn], axis=-1)
        past = np.maximum(start[:, None] + turn[..., None] * rate[:, None], 0.0)
        slope = first[:, None] + turn * second[:, None] + np.einsum("nm,ntm->nt", k * rate, past)
        last = np.maximum(np.sum(slope < 0, axis=-1) - 1, 0)[:, None]
        low = np.take_along_axis(turn, last, -1)[:, 0]
        after = np.take_along_axis(np.append(turn, turn[:, -1:] + 1.0, axis=-1), last + 1, -1)[:, 0]
        inside = start + (0.5 * (low + after))[:, None] * rate > 0
        curve = second + np.sum(k * rate**2 * inside, axis=-1)
        return np.asarray(low - np.take_along_axis(slope, last, -1)[:, 0] / np.maximum(curve, 1e-300))

    def descend(self, row: Rows, u: Array, load: Array, weak: float) -> Array:
        """Return the motion of least energy, found from `u` on."""
        found, left = u.copy(), np.arange(row.size)
        for _ in range(_STEPS):
            active = self.past(row[left], u) > 0
            new = self.solve(row[left], active, load[left], weak)
            past = self.past(row[left], new)
            close = 1e-10 * np.max(np.abs(new), axis=-1, keepdims=True) + 1e-15
            true = np.all(((past > 0) == active) | (np.abs(past) < close), axis=-1)
            found[left] = new
            left, u, new = left[~true], u[~true], new[~true]
            if not left.size:
                break
            share = self.search(row[left], u, new - u, load[left], weak)
            u = u + share[:, None] * (new - u)
            found[left] = u
        return found

    def equilibrium(self, row: Rows, load: Array) -> Array:
        """Return the motion of least energy for each load [n, 6] of a `row` [n]."""
        every = np.ones((row.size, self.k.shape[1]), dtype=np.bool_)
        found = self.descend(row, self.solve(row, every, load, _ROUGH), load, _ROUGH)
        near = np.max(np.abs(found), axis=-1) < _ADRIFT
        found[near] = self.descend(row[near], found[near], load[near], _FINE)
        return found
