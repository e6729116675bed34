"""Springs chosen together with what insures them: holes in rows in both brackets, forces to order together.

The spring that is likeliest to work in one place is not the one that is easiest to put right, so that spring, ends and
rows are searched anew from the finalists; the odds are claimed on draws that chose none of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.choose_holes import (
    Hand,
    HoleNumbers,
    claimed,
    drilled_row,
    ends_at_places,
    level_row,
    with_card,
    works,
)
from loftwright.answers.choose_roofs import Drawn, clear_places, drawn, ends_at, fitted_with
from loftwright.answers.choose_search import CLAIM, LEARN, Candidate, open_lift
from loftwright.choice.odds import chance_of
from loftwright.choice.patterns import Pattern, Shape, choose_pattern, choose_together
from loftwright.choice.ratings import Versus, compare
from loftwright.choice.search import Level
from loftwright.choice.window import bounds
from loftwright.core.lifting import Fit, Pair
from loftwright.core.motion import Array
from loftwright.mechanics.gas_spring import charge_pressure
from loftwright.project.model import Project
from loftwright.project.stock import Listed
from loftwright.reference.rods import TOP_PRESSURE

EFFORT: Final = (Level(72, 40, 1, 1, 0.08), Level(6, 60, 4, 6, 0.08), Level(3, 160, 3, 5, 0.04))
"""What the search for holes may cost, for every shape."""
FORCES: Final = (Level(12, 60, 3, 6, 0.06), Level(4, 160, 3, 6, 0.03))
"""What the search for springs to order together may cost."""
TRIED: Final = 2
"""Patterns that are judged by every rule."""
ROUNDING: Final = 1.5
"""Two holes come nearer by at most so many grains where they are marked out: the square root of two, and a little."""


def shapes_of(most: int) -> tuple[Shape, ...]:
    """Return how many holes feet and heads may have where at most so many are drilled in rows.

    The only hole of an end does not count where the other end has the row: it is drilled whatever is chosen.
    """
    rows = (Shape(1, most), Shape(most, 1))
    return (*rows, *(Shape(feet, most - feet) for feet in range(2, most - 1)))


def choose_holes(
    project: Project,
    learn: Drawn,
    best: Candidate,
    listed: Listed,
    pairs: Sequence[Pair],
    starts: Sequence[Fit],
    draws: int,
    hand: Hand,
    *,
    there: tuple[Array, Array] | None = None,
) -> HoleNumbers | None:
    """Return the spring and its holes that make it likeliest that one place works; None where none adds to one hole.

    `there` are holes for feet and heads [m] that are drilled for the best already: those are then the answer.

    `learn` are draws of the roof fitted with the `best`; `draws` are learnt from, and claimed on. The level row
    through the best is taken where nothing found is better than it.
    """
    entries, seed = listed.entries, project.settings.seed
    own = entries.pick(np.array([best.fit.entry]))
    if there is not None:
        return with_card(drilled_row(there, learn, best.drawn, best.pair, own, best.fit), learn, own, hand)
    row = level_row(project, learn, best.drawn, best.pair, own, best.fit, hand)
    tried: list[tuple[float, _Tried]] = []
    for pattern in _patterns(project, learn, listed, pairs, starts, hand)[:TRIED]:
        made = _tried(project, listed, pairs, pattern, draws, hand)
        if made is not None:
            entry = entries.pick(np.array([pattern.entry]))
            served = works(made.learn, pairs[pattern.pair], entry, ends_at_places(made.feet, made.heads, made.places))
            tried.append((float(served.any(axis=0).mean()), made))
    learned, one = max(tried, key=lambda some: some[0], default=(0.0, None))
    if one is None or (row is not None and row.learned >= learned):
        return None if row is None else with_card(row, learn, own, hand)
    entry = entries.pick(np.array([one.fit.entry]))
    claim = drawn(one.learn.project, draws, seed + CLAIM)
    chosen = claimed(one.learn, claim, pairs[one.fit.pair], entry, one.fit, one.feet, one.heads, one.places)
    return with_card(chosen, one.learn, entry, hand)


@dataclass(frozen=True, slots=True)
class _Tried:
    """Holes that the planned roof allows [m], with the draws to learn from of a roof that is fitted with them."""

    fit: Fit
    feet: Array
    heads: Array
    places: list[tuple[int, int]]
    learn: Drawn


def _tried(
    project: Project, listed: Listed, pairs: Sequence[Pair], pattern: Pattern, draws: int, hand: Hand
) -> _Tried | None:
    """Return a pattern without the places that the planned roof does not allow; None where one is left or none."""
    entries = listed.entries
    feet, heads = _marked(pattern, pairs[pattern.pair], hand.grain)
    fit = Fit(pattern.pair, pattern.entry, *(float(v) for v in (*feet[0], *heads[0])))
    every = [(i, j) for i in range(len(feet)) for j in range(len(heads))]
    clear = clear_places(fitted_with(project, entries, pairs, fit), ends_at_places(feet, heads, every))
    kept = [place for place, free in zip(every, clear, strict=True) if free]
    if len(kept) < 2:
        return None
    feet, heads, places = _used(feet, heads, kept)
    # Fitted in the middle of its places, as what it comes near depends on that.
    fit = _middle(fit, feet, heads, places)
    return _Tried(
        fit, feet, heads, places, drawn(fitted_with(project, entries, pairs, fit), draws, project.settings.seed + LEARN)
    )


def _patterns(
    project: Project, learn: Drawn, listed: Listed, pairs: Sequence[Pair], starts: Sequence[Fit], hand: Hand
) -> list[Pattern]:
    """Return the best pattern of every shape and pair of zones, best first."""
    choice, lift = project.choice, open_lift(learn)
    spacing = choice.hole_spacing.nominal + ROUNDING * hand.grain
    found: list[Pattern] = []
    for which in sorted({fit.pair for fit in starts}):
        stock, here = _stocked(listed, pairs, [fit for fit in starts if fit.pair == which])
        entries = listed.entries.pick(stock)
        for shape in shapes_of(choice.holes) if here else ():
            one = choose_pattern(
                lift, pairs, entries, here, (shape,), spacing, seed=project.settings.seed, effort=EFFORT
            )
            if one.learned > 0:
                found.append(replace(one, entry=int(stock[one.entry])))
    return sorted(found, key=lambda one: -one.learned)


def _stocked(listed: Listed, pairs: Sequence[Pair], starts: Sequence[Fit]) -> tuple[NDArray[np.intp], list[Fit]]:
    """Return which entries may be taken, by pieces and pressure, and the starts that have such, counted among them."""
    most = max(pairs[fit.pair].count for fit in starts)
    entries = listed.entries
    pressure = charge_pressure(entries.force_1 * entries.ratio + entries.loop / 2, entries.rod_diameter)
    stock = np.flatnonzero((listed.pieces >= most) & (pressure <= TOP_PRESSURE))
    at = {int(entry): i for i, entry in enumerate(stock)}
    return stock, [replace(fit, entry=at[fit.entry]) for fit in starts if fit.entry in at]


def _marked(pattern: Pattern, pair: Pair, grain: float) -> tuple[Array, Array]:
    """Return feet and heads [m] where they can be marked out, to whole grains [m] within their zones."""

    def whole(row: Array, low: tuple[float, float], high: tuple[float, float]) -> Array:
        return np.asarray(np.clip(np.round(row / grain) * grain, low, high))

    foot, head = pair.foot, pair.head
    return (
        whole(pattern.feet, (foot.x_low, foot.z_low), (foot.x_high, foot.z_high)),
        whole(pattern.heads, (head.x_low, head.z_low), (head.x_high, head.z_high)),
    )


def _used(feet: Array, heads: Array, places: Sequence[tuple[int, int]]) -> tuple[Array, Array, list[tuple[int, int]]]:
    """Return holes [m] without those that no place uses, along their rows, and the places counted anew."""
    rows: list[list[int]] = []
    for holes, end in ((feet, 0), (heads, 1)):
        used = {place[end] for place in places}
        rows.append([int(i) for i in np.lexsort((holes[:, 1], holes[:, 0])) if i in used])
    again = sorted((rows[0].index(i), rows[1].index(j)) for i, j in places)
    return feet[rows[0]], heads[rows[1]], again


def _middle(fit: Fit, feet: Array, heads: Array, places: Sequence[tuple[int, int]]) -> Fit:
    i, j = places[len(places) // 2]
    return replace(
        fit,
        foot_x=float(feet[i, 0]),
        foot_z=float(feet[i, 1]),
        head_x=float(heads[j, 0]),
        head_z=float(heads[j, 1]),
    )


@dataclass(frozen=True, slots=True)
class RatingNumbers:
    """Springs to order together, each with holes of its own: `fits`, the one to fit first before the others.

    `odds` [1] that one of them works, claimed on fresh draws, `each` [1] alone; `force_1` [N]. `versus` compares them
    with one spring and the row of holes.
    """

    fits: tuple[Fit, ...]
    names: tuple[str, ...]
    force_1: Array
    odds: float
    each: tuple[float, ...]
    versus: Versus | None


def choose_forces(
    project: Project,
    learn: Drawn,
    listed: Listed,
    pairs: Sequence[Pair],
    starts: Sequence[Fit],
    draws: int,
    row: HoleNumbers | None,
    hand: Hand,
) -> RatingNumbers | None:
    """Return which springs to order together and where each goes; None where the list holds but one that fits.

    `learn`, `draws` and `starts` as for the holes. Given the rest of a roof, what each delivers is a chance of its own:
    odds = 1 - mean over draws of product over springs of (1 - chance).
    """
    entries, seed = listed.entries, project.settings.seed
    stock, here = _stocked(listed, pairs, starts)
    if not here or stock.size < 2:
        return None
    together = choose_together(
        open_lift(learn), pairs, entries.pick(stock), here, project.choice.ratings, seed=seed, effort=FORCES
    )
    wanted = [marked(replace(fit, entry=int(stock[fit.entry])), pairs[fit.pair], hand.grain) for fit in together.fits]
    fits: list[Fit] = []
    # What the planned roof does not allow makes room for what it does.
    for fit in (*wanted, *starts):
        if len(fits) < min(project.choice.ratings, len(wanted)) and fit.entry not in {one.entry for one in fits}:
            fitted = fitted_with(project, entries, pairs, fit)
            if bool(clear_places(fitted, ends_at(fit))[0]):
                fits.append(fit)
    if len(fits) < 2:
        return None
    chance = np.stack([_chance(project, listed, pairs, fit, draws, seed + CLAIM) for fit in fits])
    per_draw = 1.0 - (1.0 - chance).prod(axis=0)
    return RatingNumbers(
        tuple(fits),
        tuple(entries.names[fit.entry] for fit in fits),
        entries.force_1[[fit.entry for fit in fits]],
        float(per_draw.mean()),
        tuple(float(one) for one in chance.mean(axis=1)),
        None if row is None else compare(per_draw, row.per_draw),
    )


def _chance(project: Project, listed: Listed, pairs: Sequence[Pair], fit: Fit, draws: int, seed: int) -> Array:
    base = drawn(fitted_with(project, listed.entries, pairs, fit), draws, seed)
    lift, own = base.lift(), listed.entries.pick(np.array([fit.entry]))
    return np.asarray(chance_of(lift, own, bounds(lift, pairs[fit.pair], ends_at(fit), own))[0])


def marked(fit: Fit, pair: Pair, grain: float) -> Fit:
    """Return a fit with its holes [m] where they can be marked out, to whole grains [m] within their zones."""

    def whole(value: float, low: float, high: float) -> float:
        found = round(value / grain) * grain
        return min(max(found, low), high)

    foot, head = pair.foot, pair.head
    return replace(
        fit,
        foot_x=whole(fit.foot_x, foot.x_low, foot.x_high),
        foot_z=whole(fit.foot_z, foot.z_low, foot.z_high),
        head_x=whole(fit.head_x, head.x_low, head.x_high),
        head_z=whole(fit.head_z, head.z_low, head.z_high),
    )
