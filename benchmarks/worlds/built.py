"""The built roof answers: four readings in the first hole, what they teach, and where the springs go then."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from loftwright.choice.next_move import Move, next_moves
from loftwright.choice.update import draws_after
from loftwright.core.motion import Array
from worlds.draw import (
    BATCH,
    CENTRE_HEIGHT,
    DRAG,
    EACH,
    MOUNT,
    SCALES,
    TAPE,
    World,
)
from worlds.judge import Judge
from worlds.knowledge import Drawn, drawn, expected, lift_of
from worlds.product import KNOWN_TO, LEVEL, PLACES, SCALE_LEAST, SCALE_SHARE, day, fit_of, one, truly_read

DRAWS = 400
NAMES = (
    "at_hinge", "at_lip", "lip", "rise", "height", "drag", "delivered", "ratio", "loop", "length",
    "foot_x", "foot_z", "head_x", "head_z", "kelvin", "q_low_up", "q_low_down", "q_high_up", "q_high_down",
)  # fmt: skip
_EVEN = 1 / np.sqrt(3)
SD = np.array(
    [SCALES, SCALES, TAPE, TAPE, np.ptp(CENTRE_HEIGHT) / 2, np.ptp(DRAG) / 2, np.hypot(BATCH, EACH / np.sqrt(2))
     / (BATCH + EACH), 1.0, 1 / np.sqrt(2), 1 / np.sqrt(2), MOUNT, MOUNT, MOUNT, MOUNT, KNOWN_TO, *(4 * [LEVEL])]
) * _EVEN  # fmt: skip
"""Standard deviation of every input before any reading, all of them even chances or sums of such."""


def table_of(d: Drawn, kelvin: Array, angles: Array) -> Array:
    """Return inputs that know nothing of each other, [draws, inputs]."""
    at_lip = d.mass * d.centre_x / d.lip
    columns = [d.mass - at_lip, at_lip, d.lip, d.lip * np.sin(d.opening), d.centre_z, d.drag, d.delivered, d.ratio]
    columns += [d.loop, d.length, d.foot_x, d.foot_z, d.head_x, d.head_z, kelvin]
    return np.column_stack([*columns, angles])


def drawn_of(table: Array, like: Drawn) -> Drawn:
    """Return draws from a table of inputs; what readings cannot tell stays as in `like`."""
    column = dict(zip(NAMES, table.T, strict=True))
    mass = column["at_hinge"] + column["at_lip"]
    same = {name: column[name] for name in ("lip", "drag", "delivered", "ratio", "loop", "length")}
    ends = {name: column[name] for name in ("foot_x", "foot_z", "head_x", "head_z")}
    return replace(
        like,
        mass=mass,
        centre_x=column["at_lip"] * column["lip"] / mass,
        centre_z=column["height"],
        opening=np.arcsin(column["rise"] / column["lip"]),
        **same,
        **ends,
    )


KELVIN, DELIVERED = NAMES.index("kelvin"), NAMES.index("delivered")
ANGLES = tuple(NAMES.index(name) for name in NAMES if name.startswith("q_"))
"""Places of inputs that are asked for by name."""


@dataclass(frozen=True)
class Learnt:
    """Draws after the readings, and what was expected before them, [draws, 4] [N]."""

    draws: Drawn
    before: Drawn
    predicted: Array
    noise_sd: Array


def scale_sd(force: Array) -> Array:
    """Return one standard deviation of a luggage scale [N]."""
    return np.asarray(np.hypot(SCALE_SHARE * np.abs(force), SCALE_LEAST) * _EVEN)


def predict(world: World, table: Array, like: Drawn, row: Array) -> Array:
    """Return the four readings expected for every row of a table, [rows, 4] [N]."""
    d, spring = drawn_of(table, like), one(world.entries, int(row[0]))
    column = dict(zip(NAMES, table.T, strict=True))
    found = []
    for (share, moving), angle in zip(PLACES, NAMES[-4:], strict=True):
        q = share * d.opening + column[angle]
        force = expected(d, spring, row[None], q, column["kelvin"], moving, upright=world.roof.upright)
        found.append(force[0])
    return np.stack(found, axis=1)


def slopes(world: World, middle: Array, like: Drawn, row: Array) -> Array:
    """Return the derivative of every reading by every input at the middle, [4, inputs]."""
    few = like.only(np.zeros(2 * len(NAMES), dtype=np.intp))
    step = 0.1 * SD
    table = np.repeat(middle[None], 2 * len(NAMES), axis=0)
    at = np.arange(len(NAMES))
    table[at, at] += step
    table[at + len(NAMES), at] -= step
    found = predict(world, table, few, row)
    return np.asarray(((found[: len(NAMES)] - found[len(NAMES) :]) / (2 * step[:, None])).T)


def learnt(
    world: World, row: Array, readings: Array, said: float, random: np.random.Generator, count: int = DRAWS
) -> Learnt:
    """Return what four readings in one hole teach."""
    like = drawn(world, count, random)
    angles = random.uniform(-LEVEL, LEVEL, (count, 4))
    before = table_of(like, said + random.uniform(-KNOWN_TO, KNOWN_TO, count), angles)
    predicted = predict(world, before, like, row)
    sd = scale_sd(readings)
    jacobian = slopes(world, before.mean(axis=0), like, row)
    half = SD / _EVEN
    low, high = before.mean(axis=0) - half, before.mean(axis=0) + half
    for name, edge in (
        ("height", CENTRE_HEIGHT),
        ("drag", DRAG),
        ("delivered", (-1, 1)),
        ("ratio", (-1, 1)),
        ("loop", (-1, 1)),
        ("length", (-1, 1)),
    ):
        low[NAMES.index(name)], high[NAMES.index(name)] = edge
    e = sd * random.normal(size=(count, 4))
    spread = SD.copy()
    # The raised weighing has narrowed the height of the centre already.
    spread[NAMES.index("height")] = max(float(before[:, NAMES.index("height")].std()), 1e-4)
    after = draws_after(before, readings - e - predicted, spread, jacobian, sd, low=low, high=high)
    off = readings - e - predict(world, after, like, row)
    after = draws_after(before, off, spread, jacobian, sd, at=after, low=low, high=high)
    return Learnt(drawn_of(after, like), like, predicted, sd)


def better(world: World, got: Learnt, rows: Array, here: Array, random: np.random.Generator) -> Move:
    """Return what the product does after the readings; `rows`: holes that are there, `here`: where the springs are."""
    lifts = (
        lift_of(draws, upright=world.roof.upright, limits=world.limits)
        for draws in (got.draws, got.draws.other_springs(random))
    )
    return next_moves(
        *lifts, world.pair, world.entries, fit_of(here), [fit_of(row) for row in rows], seed=world.number
    )[0]


def after_readings(world: World, judge: Judge, rows: Array, start: int) -> Move:
    """Return what is done with the springs of the real roof after four readings in the first hole."""
    random = world.random(40)
    at = day(1, random)
    readings = truly_read(world, judge, rows[start], float(at.true[0]), random)
    got = learnt(world, rows[start], readings, float(at.said[0]), random)
    return better(world, got, rows, rows[start], random)
