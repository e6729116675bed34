"""Worlds that cannot be solved: what the product advises, applied to the real roof."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from loftwright.choice.advice import Kind, advise
from loftwright.choice.patterns import chance_of
from loftwright.choice.search import Budget, Level, search
from loftwright.choice.window import ends_of
from loftwright.core.lifting import Zone
from loftwright.mechanics.rules import PULL_START, SINKS, START, STAYS_SHUT, TAKES_OVER
from worlds.draw import World, world
from worlds.judge import Judge
from worlds.knowledge import lift
from worlds.margin_search import search as margin_search
from worlds.measure import Row, column, share
from worlds.product import one, row_of

WORKS = 0.5
TRIALS = 40
QUICK = Budget(
    mounts=2_000, compared=300, few_draws=8, levels=(Level(32, 16, 5, 5, 0.15), Level(8, 64, 5, 5, 0.05)), judged=8
)
DRAWS = 120


def _ids(*rules: object) -> frozenset[str]:
    return frozenset(rule.id for rule in rules)


EVERY = _ids(STAYS_SHUT, START, TAKES_OVER, SINKS, PULL_START)
KINDS = (
    Kind("wider zones", 0.01, 8, 50.0, EVERY),
    Kind("push to start", 5.0, 16, 80.0, _ids(START)),
    Kind("pull", 5.0, 16, 80.0, _ids(PULL_START)),
    Kind("stays up", 5.0, 7, 90.0, _ids(SINKS)),
    Kind("rises later", 0.05, 9, 60.0, _ids(TAKES_OVER)),
    Kind("heavier lip", 0.5, 12, 40.0, _ids(STAYS_SHUT)),
    Kind("lighter lip", 0.5, 12, 120.0, _ids(START, TAKES_OVER, SINKS)),
    Kind("opens less", 0.02, 8, 100.0, EVERY),
)
"""What a builder may change, in newtons, metres, kilograms or shares of the travel."""


def wider(zone: Zone, by: float) -> Zone:
    """Return a zone that reaches further on every side but up through the roof line."""
    return replace(
        zone,
        x_low=max(zone.x_low - by, 0.02),
        x_high=zone.x_high + by,
        z_low=zone.z_low - by,
        z_high=zone.z_high + (by if zone.on == "shell" else 0.0),
    )


def changed(made: World, sizes: Mapping[str, float]) -> World:
    """Return a world after a change, really made: the roof, what is known of it, and what is asked."""
    size = {kind.name: sizes.get(kind.name, 0.0) for kind in KINDS}
    limits = replace(
        made.limits,
        start=made.limits.start + size["push to start"],
        pull=made.limits.pull + size["pull"],
        stays=made.limits.stays - size["stays up"],
        rises=made.limits.rises + size["rises later"],
    )
    more = size["heavier lip"] - size["lighter lip"]
    roof, survey = made.roof, made.survey
    mass = roof.mass + more
    rise = roof.lip * np.sin(roof.opening) - size["opens less"]
    roof = replace(
        roof,
        mass=mass,
        centre_x=(roof.mass * roof.centre_x + more * roof.lip) / mass,
        centre_z=roof.mass * roof.centre_z / mass,
        opening=float(np.arcsin(rise / roof.lip)),
    )
    survey = replace(
        survey,
        at_lip=survey.at_lip + more,
        # Weight at the lip's own height adds the same to the raised reading.
        raised=survey.raised + more,
        rise=survey.rise - size["opens less"],
    )
    by = size["wider zones"]
    pair = replace(made.pair, foot=wider(made.pair.foot, by), head=wider(made.pair.head, by))
    return replace(made, roof=roof, survey=survey, pair=pair, limits=limits)


def solvable(made: World) -> bool:
    """Whether a search that knows the truth finds springs that work."""
    tries = (margin_search(made, made.roof, made.springs, made.random(70 + i))[1] for i in range(3))
    return any(best > 0 for best in tries)


def unsolvable(seed: int, upright: bool, wanted: int) -> list[int]:
    """Return the numbers of the first worlds that cannot be solved."""
    found: list[int] = []
    number = 0
    while len(found) < wanted:
        made = world(number, seed, upright=upright)
        if margin_search(made, made.roof, made.springs, made.random(21))[1] <= 0 and not solvable(made):
            found.append(number)
        number += 1
    return found


def freed(number: int, seed: int, upright: bool) -> Row:
    """Return whether there is advice for a world, and whether it frees it."""
    made = world(number, seed, upright=upright)

    def best(sizes: Mapping[str, float], stream: int) -> float:
        now = changed(made, sizes)
        roof = lift(now, DRAWS, now.random(71))
        found = search(roof, [now.pair], now.entries, seed=number, budget=QUICK)
        if not found.answers:
            return 0.0
        fit = found.answers[0].fit
        fresh = lift(now, 2 * DRAWS, now.random(stream))
        return float(chance_of(fresh, now.pair, one(now.entries, fit.entry), ends_of([fit])).mean())

    before = search(lift(made, DRAWS, made.random(71)), [made.pair], made.entries, seed=number, budget=QUICK)
    binding = {share.rule: share.fails for share in before.in_the_way}
    said = advise(KINDS, lambda s: best(s, 72), WORKS, binding, TRIALS, lambda s: best(s, 73))
    row = {"odds before": before.answers[0].odds if before.answers else 0.0, "advice": float(bool(said.freed))}
    if said.freed:
        now = changed(made, dict(said.freed[0].sizes))
        fit = search(lift(now, 300, now.random(74)), [now.pair], now.entries, seed=number, budget=Budget.small())
        held = bool(Judge(now.roof, now.springs, limits=now.limits).holds(row_of(fit.answers[0].fit))[0])
        row |= {"freed": float(held or solvable(now)), "first hole works then": float(held)}
        row |= {f"by {name}": 1.0 for name, _ in said.freed[0].sizes}
    return row | {"trials": float(said.trials)}


def table_of_freed(rows: Sequence[Row]) -> list[str]:
    """Return in how many worlds advice was given and freed them."""
    lines = [f"{len(rows)} worlds that cannot be solved"]
    for name in ("advice", "freed", "first hole works then"):
        lines.append(f"{name:24s} {int(column(rows, name).sum()):4d}")
    lines.append(f"odds of the first hole before {100 * share(column(rows, 'odds before'))[0]:.0f} % in the mean")
    ways = sorted({name for row in rows for name in row if name.startswith("by ")})
    lines.append("; ".join(f"{way}: {int(column(rows, way).sum())}" for way in ways))
    return lines
