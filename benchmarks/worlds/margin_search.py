"""The thing to beat: a search by margins, which knows nothing of chance.

It takes the middle of all that is known and looks for the springs and places that keep the most limited rule furthest
from its limit, each margin as a share of what the springs push with there. (Margins as shares of their limits do
worse.) Told the truth, it says whether a world can be solved at all.
"""

from __future__ import annotations

import numpy as np

from loftwright.core.motion import Array
from worlds.draw import Roof, Springs, World, hand_path
from worlds.judge import COARSE, FINE, Judge, geometry

ROOM = 0.2
"""Stroke [m] that counts as much as the whole push of the springs: 20 mm for a tenth of it."""
FIRST, KEPT, ROUNDS, AROUND = 3000, 24, 9, 24


def score(judge: Judge, fits: Array) -> Array:
    """Return the worst margin of each fit as a share of the springs' push there, [fits]."""
    shares = np.array([0.0, 0.5, 1.0])
    _, arm = geometry(judge.roof, fits, shares)
    per_turn = hand_path(np.float64(judge.roof.lip), judge.roof.opening * shares, judge.roof.upright)
    force = judge.springs.force_1[fits[:, 0].astype(np.intp)].sum(axis=1)
    closed, middle, top = (force[:, None] * np.abs(arm) / per_turn).T + 1e-9
    size = np.stack([closed, closed, middle, top, top, *(2 * [np.full_like(top, ROOM)])], axis=1)
    return np.asarray((judge.margins(fits) / size).min(axis=1))


def box(world: World) -> tuple[Array, Array]:
    """Return the lowest and highest foot x, foot z, head x, head z [m]."""
    foot, head = world.pair.foot, world.pair.head
    return (
        np.array([foot.x_low, foot.z_low, head.x_low, head.z_low]),
        np.array([foot.x_high, foot.z_high, head.x_high, head.z_high]),
    )


def fitting(roof: Roof, springs: Springs, bodies: Array, mounts: Array) -> Array:
    """Return every entry at every mount where its length fits, as fits."""
    length, _ = geometry(roof, np.column_stack([np.zeros(len(mounts)), mounts]), COARSE)
    low, high = length.min(axis=1), length.max(axis=1)
    found = []
    for body in np.unique(bodies):
        entries = np.flatnonzero(bodies == body)
        extended, stroke = springs.extended[entries], springs.stroke[entries[0]]
        fits = (high < extended.min()) & (low > extended.max() - stroke)
        rows = mounts[fits]
        found.append(np.column_stack([np.repeat(entries, len(rows)), np.tile(rows, (len(entries), 1))]))
    return np.concatenate(found)


def crude(judge: Judge, fits: Array) -> Array:
    """Return the least margin of three rules that are cheap to tell, [fits], to leave the hopeless aside."""
    roof, springs = judge.roof, judge.springs
    entry = fits[:, 0].astype(np.intp)
    shares = np.array([0.0, 1.0])
    length, arm = geometry(roof, fits, shares)
    c = springs.extended[entry].mean(axis=1)[:, None] - length
    left = 1 - (1 - 1 / springs.ratio[entry])[:, None] * c / springs.stroke[entry][:, None]
    push = 2 * springs.force_1[entry].mean(axis=1)[:, None] / left * arm
    q = roof.opening * shares
    weight = 9.81 * roof.mass * (roof.centre_x * np.cos(q) - roof.centre_z * np.sin(q))
    hand = (push - weight) / hand_path(np.float64(roof.lip), q, roof.upright)
    return np.asarray(
        np.minimum.reduce([-hand[:, 0], hand[:, 0] + judge.limits.start, hand[:, 1], judge.limits.pull - hand[:, 1]])
    )


def search(world: World, roof: Roof, springs: Springs, random: np.random.Generator) -> tuple[Array, float]:
    """Return the fit with the best worst margin and that margin."""
    low, high = box(world)
    rough, fine = (Judge(roof, springs, shares, world.limits) for shares in (COARSE, FINE))
    # A Latin square: every coordinate is spread evenly by itself.
    square = np.stack([random.permutation(FIRST) for _ in range(4)], axis=1)
    mounts = low + (high - low) * (square + random.random((FIRST, 4))) / FIRST
    fits = fitting(roof, springs, world.entries.body, mounts)
    fits = fits[crude(rough, fits) > -20]
    if not len(fits):
        return np.array([0, *low]), -np.inf
    found = score(rough, fits)
    best = np.argsort(found)[::-1][:KEPT]
    fits, found = fits[best], found[best]
    width = 0.15
    for _ in range(ROUNDS):
        moved = np.repeat(fits, AROUND, axis=0)
        moved[:, 1:] += width * (high - low) * random.normal(size=(len(moved), 4))
        moved[:, 1:] = np.clip(moved[:, 1:], low, high)
        # Now and then another force of the same body.
        jump = random.integers(-1, 2, len(moved)) * (random.random(len(moved)) < 0.4)
        other = np.clip(moved[:, 0] + jump, 0, len(world.entries.names) - 1).astype(np.intp)
        same = world.entries.body[other] == world.entries.body[moved[:, 0].astype(np.intp)]
        moved[:, 0] = np.where(same, other, moved[:, 0])
        fits, found = np.concatenate([fits, moved]), np.concatenate([found, score(rough, moved)])
        best = np.argsort(found)[::-1][:KEPT]
        fits, found = fits[best], found[best]
        width *= 0.7
    exact = score(fine, fits)
    top = int(np.argmax(exact))
    return fits[top], float(exact[top])
