"""What the product makes of a world: first holes, ratings, hole pattern with its card, and the answer to readings.

Everything here is chosen from the builder's knowledge alone; the judge is asked only afterwards.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.choice.card import TuningCard, follow
from loftwright.choice.card_learning import learn_card
from loftwright.choice.card_signs import Asked
from loftwright.choice.patterns import (
    Pattern,
    Shape,
    Together,
    chance_of,
    choose_pattern,
    choose_together,
    delivered_quantiles,
    works_in,
)
from loftwright.choice.search import Budget, Found, search
from loftwright.choice.window import bounds, ends_of
from loftwright.core.lifting import Entries, Fit, Lift
from loftwright.core.motion import Array
from worlds.draw import World
from worlds.judge import Judge
from worlds.knowledge import Drawn, drawn, expected, lift, lift_of

SEARCHED, CLAIMED, LEARNED = 300, 600, 3000
"""Draws for searching, for claiming odds afresh, and for learning a card."""
SHAPES = (Shape(2, 3), Shape(3, 2))
SPACING = 0.016
"""Least distance of two holes: two bolts of 8 mm."""
DAYS = (278.15, 303.15)
KNOWN_TO = 2.0
LEVEL = np.radians(0.5)
SCALE_SHARE, SCALE_LEAST = 0.03, 1.0
LOW, HIGH = 0.05, 0.95
"""Openings at which the roof is held for a reading, as shares of the travel."""
PLACES = ((LOW, 1.0), (LOW, -1.0), (HIGH, 1.0), (HIGH, -1.0))
"""The four readings: opening and way (1 raising, -1 lowering)."""
STEP = 5.0
"""Limits on the card are multiples of this [N]: half a kilogram on a luggage scale."""
AT_20 = 293.15


def row_of(fit: Fit) -> Array:
    """Return a fit as the judge takes it, [5]."""
    return np.array([fit.entry, fit.foot_x, fit.foot_z, fit.head_x, fit.head_z])


def fit_of(row: Array) -> Fit:
    """Return a fit from a row as the judge takes it."""
    return Fit(0, int(row[0]), *(float(v) for v in row[1:]))


def rows_of(pattern: Pattern) -> Array:
    """Return every combination of holes as the judge takes it, [holes, 5]."""
    table = pattern.ends.table
    return np.column_stack([np.full(len(table), pattern.entry), table])


def one(entries: Entries, entry: int) -> Entries:
    """Return one entry of a list, as a list of one."""
    return entries.pick(np.array([entry], dtype=np.intp))


@dataclass(frozen=True)
class Plans:
    """What the product says of one world, with the odds that it claims in fresh draws [1]."""

    found: Found
    first: Fit
    first_odds: float
    together: Together
    together_odds: float
    pattern: Pattern
    pattern_odds: float


def fresh_odds(world: World, fit: Fit) -> float:
    """Return the odds of a fit in fresh draws."""
    fresh = lift(world, CLAIMED, world.random(31))
    return float(chance_of(fresh, world.pair, one(world.entries, fit.entry), ends_of([fit])).mean())


def first_hole(world: World) -> tuple[Found, Fit]:
    """Return what the search finds, and its best."""
    roof = lift(world, SEARCHED, world.random(30))
    found = search(roof, [world.pair], world.entries, seed=world.number, budget=Budget.small())
    return found, found.answers[0].fit


def plans(world: World) -> Plans:
    """Return all that is chosen before anything is built."""
    entries = world.entries
    found, first = first_hole(world)
    starts = [answer.fit for answer in found.answers]
    roof, fresh = lift(world, SEARCHED, world.random(30)), lift(world, CLAIMED, world.random(31))
    together = choose_together(roof, [world.pair], entries, starts, 3, seed=world.number)
    picked = entries.pick(np.array([fit.entry for fit in together.fits]))
    chances = chance_of(fresh, world.pair, picked, ends_of(together.fits))
    pattern = choose_pattern(roof, [world.pair], entries, starts, SHAPES, SPACING, seed=world.number)
    spring = one(entries, pattern.entry)
    works = works_in(fresh, world.pair, spring, pattern.ends, delivered_quantiles(fresh, spring.tolerance[0]))
    return Plans(
        found,
        first,
        fresh_odds(world, first),
        together,
        float(1 - (1 - chances).prod(axis=0).mean()),
        pattern,
        float(works.any(axis=0).mean()),
    )


@dataclass(frozen=True)
class Day:
    """A day in many draws: true temperature of the springs and what the thermometer says [K], each [draws]."""

    true: Array
    said: Array


def day(draws: int, random: np.random.Generator) -> Day:
    """Return days as they come."""
    true = random.uniform(*DAYS, draws)
    return Day(true, true + random.uniform(-KNOWN_TO, KNOWN_TO, draws))


def noise(force: Array, random: np.random.Generator) -> Array:
    """Return what a luggage scale adds to a force [N]: 3 % of it and 1 N, both evenly."""
    share, least = random.uniform(-1, 1, (2, *force.shape))
    return np.asarray(SCALE_SHARE * np.abs(force) * share + SCALE_LEAST * least)


def read(world: World, d: Drawn, rows: Array, at: Day, random: np.random.Generator) -> Array:
    """Return the four readings with all their errors in every hole and draw, [4, holes, draws] [N]."""
    spring = one(world.entries, int(rows[0, 0]))
    found = []
    for share, moving in PLACES:
        q = share * d.opening + random.uniform(-LEVEL, LEVEL, d.count)
        force = expected(d, spring, rows, q, at.true, moving, upright=world.roof.upright)
        found.append(force + noise(force, random))
    return np.stack(found)


def truly_read(
    world: World, judge: Judge, row: Array, kelvin: float, random: np.random.Generator, **more: float
) -> Array:
    """Return the four readings on the real roof, [4] [N]."""
    found = np.array(
        [
            judge.reading(row, share + random.uniform(-LEVEL, LEVEL) / world.roof.opening, kelvin, moving, **more)
            for share, moving in PLACES
        ]
    )
    return found + noise(found, random)


def per_kelvin(world: World, d: Drawn, rows: Array) -> Array:
    """Return how much more each reading is for each kelvin, [4, holes] [N/K]: printed on the card beside its lines."""
    few = d.only(np.arange(min(d.count, 100)))
    spring = one(world.entries, int(rows[0, 0]))

    def mean(share: float, moving: float, kelvin: float) -> Array:
        at = np.full(few.count, kelvin)
        return expected(few, spring, rows, share * few.opening, at, moving, upright=world.roof.upright).mean(axis=1)

    return np.stack([(mean(s, m, DAYS[1]) - mean(s, m, DAYS[0])) / (DAYS[1] - DAYS[0]) for s, m in PLACES])


ASKED = tuple(Asked(name, STEP) for name in ("push up, low", "push down, low", "pull up, high", "pull down, high"))


@dataclass(frozen=True)
class Carded:
    """A pattern's card, what it adds per kelvin [N/K], [4, holes], and its odds on fresh draws [1]."""

    card: TuningCard
    slope: Array
    odds: float


def tuning_card(world: World, pattern: Pattern) -> Carded:
    """Return the card of a pattern, learned on draws of roof, day and readings."""
    rows, spring = rows_of(pattern), one(world.entries, pattern.entry)

    def made(stream: int, draws: int) -> tuple[Array, Array, Array]:
        random = world.random(stream)
        d = drawn(world, draws, random)
        roof = lift_of(d, upright=world.roof.upright)
        factor = 1 + spring.tolerance[0] * d.delivered
        works = works_of(roof, world, pattern, factor)
        at = day(draws, random)
        slope = per_kelvin(world, d, rows)
        readings = read(world, d, rows, at, random)
        return works, readings - slope[:, :, None] * (at.said - AT_20), slope

    works, readings, slope = made(32, LEARNED)
    card = learn_card(works, readings, ASKED)
    fresh, there, _ = made(33, CLAIMED)
    ends = follow(card, there).hole
    return Carded(card, slope, float(fresh[ends, np.arange(CLAIMED)].mean()))


def works_of(roof: Lift, world: World, pattern: Pattern, factor: Array) -> Array:
    """Return where each hole works with the delivered factor of each draw, [holes, draws]."""
    window = bounds(roof, world.pair, pattern.ends, one(world.entries, pattern.entry))
    return np.asarray((window.low <= factor) & (factor <= window.high) & window.fits)


def by_card(world: World, judge: Judge, pattern: Pattern, carded: Carded) -> int:
    """Return the hole in which the builder of the real roof ends who follows the card."""
    rows, random = rows_of(pattern), world.random(34)
    at = day(1, random)
    readings = np.stack([truly_read(world, judge, row, float(at.true[0]), random) for row in rows], axis=1)
    readings = readings - carded.slope * (at.said[0] - AT_20)
    return int(follow(carded.card, readings[:, :, None]).hole[0])
