"""Readings on the built roof that contradict it: false alarms, planted faults, gas lost between two sets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from loftwright.choice.contradiction import Cause, Finding, best_power, contradiction, one_wrong
from loftwright.core.motion import Array
from worlds.built import ANGLES, DELIVERED, KELVIN, Learnt, learnt, predict, scale_sd, table_of
from worlds.draw import Springs, World, world
from worlds.judge import Judge
from worlds.knowledge import Drawn
from worlds.measure import Row, column, share
from worlds.product import KNOWN_TO, LEVEL, first_hole, row_of, truly_read

DRAWS = 600
DRAG = 30.0
DOWN, LOST = 0.20, 0.08
RARER = 1.0


def middle_of(draws: Drawn) -> Array:
    """Return the mean of drawn inputs as one row of a table, sound."""
    none = np.zeros((draws.count, 4))
    return np.asarray(table_of(draws, np.zeros(draws.count), none).mean(axis=0))


def causes(made: World, draws: Drawn, row: Array, said: float) -> list[Cause]:
    """Return what can be wrong with four readings: drag, springs weaker or stronger, one reading wrong."""
    point = middle_of(draws)
    point[KELVIN] = said
    less = point.copy()
    tolerance = float(made.entries.tolerance[int(row[0])])
    less[DELIVERED] -= DOWN * (1 + tolerance * point[DELIVERED]) / tolerance
    here, weaker = predict(made, np.vstack([point, less]), draws.only(np.array([0, 0])), row)
    weak = (weaker - here) / DOWN
    return [
        Cause("drag", np.ones(4)),
        Cause("weak", weak, 0.0, 1.0),
        Cause("strong", -weak, 0.0, 1.0, RARER),
        *one_wrong([f"reading {i}" for i in range(4)], np.ones(4), RARER),
    ]


def held_against(
    made: World, draws: Drawn, row: Array, readings: Array, said: float, random: np.random.Generator
) -> Finding:
    """Return what readings say against what is believed."""
    angles = random.uniform(-LEVEL, LEVEL, (draws.count, 4))
    table = table_of(draws, said + random.uniform(-KNOWN_TO, KNOWN_TO, draws.count), angles)
    expected = predict(made, table, draws, row)
    return contradiction(readings, expected, scale_sd(readings), causes(made, draws, row, said), seed=made.number)


def weakened(springs: Springs, shares: Sequence[float]) -> Springs:
    """Return springs that have lost a share of their gas force each."""
    half = springs.loop / 2
    return replace(springs, force_1=(springs.force_1 + half) * (1 - np.array(shares)) - half)


def readings(number: int, seed: int, upright: bool) -> Row:
    """Return whether sound and faulty roofs are called strange at the first readings, and with the right cause."""
    made = world(number, seed, upright=upright)
    _, fit = first_hole(made)
    row, random = row_of(fit), made.random(60)
    said = random.uniform(278.15, 303.15)
    true = said + random.uniform(-KNOWN_TO, KNOWN_TO)
    cases: Mapping[str, tuple[Springs, float]] = {
        "sound": (made.springs, 0.0),
        "30 N of drag": (made.springs, DRAG),
        "both springs 20 % down": (weakened(made.springs, (DOWN, DOWN)), 0.0),
        "one spring 20 % down": (weakened(made.springs, (DOWN, 0.0)), 0.0),
    }
    right = {"30 N of drag": "drag", "both springs 20 % down": "weak", "one spring 20 % down": "weak"}
    found: dict[str, float] = {}
    got: Learnt | None = None
    for name, (springs, drag) in cases.items():
        read = truly_read(made, Judge(made.roof, springs), row, true, random, handle_drag=drag)
        before = learnt(made, row, read, said, random, DRAWS)
        finding = held_against(made, before.before, row, read, said, random)
        found[name] = float(finding.strange)
        if name in right:
            found[f"{name}, so named"] = float(right[name] in [one.name for one in finding.likely])
        got = got or before
    assert got is not None
    spread = np.cov(got.predicted, rowvar=False) + np.diag(got.noise_sd**2)
    weak = next(c for c in causes(made, got.before, row, said) if c.name == "weak")
    found["best possible for one spring 20 % down"] = power(DOWN / 2 * weak.signature, spread)
    again = random.uniform(278.15, 303.15)
    really = again + random.uniform(-KNOWN_TO, KNOWN_TO)
    for name, lost in (("second set, sound", 0.0), ("second set, 8 % lost", LOST)):
        read = truly_read(made, Judge(made.roof, weakened(made.springs, (lost, lost))), row, really, random)
        found[name] = float(held_against(made, got.draws, row, read, again, random).strange)
    found["best possible for 8 %"] = best_test(made, row, got, again)
    return found


def power(change: Array, spread: Array) -> float:
    """Return how often the best of all tests would find a known change of readings with this covariance."""
    return best_power(np.linalg.solve(np.linalg.cholesky(spread), change), np.ones(change.size))


def best_test(made: World, row: Array, got: Learnt, kelvin: float) -> float:
    """Return how often the best of all tests would find the loss from the difference of two sets.

    The roof is the same in both, so that the scales, the openings and the thermometer alone blur the difference; all
    are counted as normal chances and the openings and temperatures by their slopes.
    """
    point = middle_of(got.draws)
    point[KELVIN] = kelvin
    cause = next(c for c in causes(made, got.draws, row, kelvin) if c.name == "weak")
    few = got.draws.only(np.zeros(12, dtype=np.intp))
    steps = np.repeat(point[None], 12, axis=0)
    for i, (place, size) in enumerate([(KELVIN, KNOWN_TO), *((angle, LEVEL) for angle in ANGLES)]):
        steps[i + 1, place] += size / np.sqrt(3)
    values = predict(made, steps, few, row)
    slopes = values[1:6] - values[0]
    spread = 2 * (slopes.T @ slopes + np.diag(scale_sd(values[0]) ** 2))
    return power(LOST * cause.signature, spread)


def table_of_readings(rows: Sequence[Row]) -> list[str]:
    """Return how often each kind of roof is called strange."""
    lines = [f"{len(rows)} worlds{'':21s} called strange %"]
    for name in rows[0]:
        mean, error = share(column(rows, name))
        lines.append(f"{name:34s} {100 * mean:6.1f} +- {100 * error:.1f}")
    return lines
