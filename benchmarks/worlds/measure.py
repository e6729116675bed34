"""What is found out about each world, one row of numbers for each part, and how rows become a table."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from loftwright.core.motion import Array
from worlds.built import after_readings
from worlds.draw import Roof, Springs, World, nominal_springs, world
from worlds.judge import Judge
from worlds.knowledge import middle
from worlds.margin_search import search as margin_search
from worlds.product import by_card, first_hole, fresh_odds, plans, row_of, rows_of, tuning_card

Row = Mapping[str, float]


def neighbours(world: World, fit: Array) -> Array:
    """Return a fit with the next weaker and stronger force of its body."""
    body = np.flatnonzero(world.entries.body == world.entries.body[int(fit[0])])
    at = int(np.flatnonzero(body == fit[0])[0])
    near = body[max(0, at - 1) : at + 2]
    return np.column_stack([near, np.repeat(fit[None, 1:], len(near), axis=0)])


def chosen(number: int, seed: int, upright: bool) -> Row:
    """Return what becomes of one world by every way of choosing: 1 where it works, with the odds claimed before."""
    made = world(number, seed, upright=upright)
    judge = Judge(made.roof, made.springs)
    plain, _ = margin_search(made, middle(made), nominal_springs(made.entries), made.random(20))
    _, best = margin_search(made, made.roof, made.springs, made.random(21))
    said = plans(made)
    rows = rows_of(said.pattern)
    works = judge.holds(rows)
    carded = tuning_card(made, said.pattern)
    move = after_readings(made, judge, rows, carded.card.start)
    together = np.array([row_of(fit) for fit in said.together.fits])
    right = {
        "margins": judge.holds(plain)[0],
        "margins, three ratings": judge.holds(neighbours(made, plain)).any(),
        "first hole": judge.holds(row_of(said.first))[0],
        "first hole, next ratings": judge.holds(neighbours(made, row_of(said.first))).any(),
        "three ratings": judge.holds(together).any(),
        "start of the pattern": works[carded.card.start],
        "some hole of the pattern": works.any(),
        "pattern and card": works[by_card(made, judge, said.pattern, carded)],
        "after four readings": judge.holds(row_of(move.fit))[0],
    }
    # Whoever finds springs that work has shown that there are some.
    right["can be solved"] = best > 0 or any(right.values())
    claims = {
        "first hole": said.first_odds,
        "three ratings": said.together_odds,
        "some hole of the pattern": said.pattern_odds,
        "pattern and card": carded.odds,
        "after four readings": move.odds,
    }
    found = {name: float(value) for name, value in right.items()} | {f"odds: {k}": v for k, v in claims.items()}
    return found | {f"moved: {move.kind}": 1.0, "lines on the card": float(len(carded.card.lines))}


def claimed(number: int, seed: int, upright: bool) -> Row:
    """Return the odds claimed for the first hole and what comes of it, also in worlds that break the model."""
    made = world(number, seed, upright=upright)
    _, fit = first_hole(made)
    row = row_of(fit)
    found = {"odds": fresh_odds(made, fit), "as drawn": float(Judge(made.roof, made.springs).holds(row)[0])}
    random = made.random(50)
    for name, roof, springs in broken(made, random):
        found[name] = float(Judge(roof, springs).holds(row)[0])
    return found


def broken(made: World, random: np.random.Generator) -> list[tuple[str, Roof, Springs]]:
    """Return worlds that are not as the builder believes."""
    roof, springs = made.roof, made.springs
    apart = random.uniform(-0.10, 0.10, springs.force_1.shape)
    return [
        ("list force is the middle", roof, replace(springs, force_1=springs.force_1 - springs.loop / 2)),
        ("list force is F3", roof, replace(springs, force_1=np.maximum(springs.force_1 - springs.loop, 5.0))),
        ("5-30 N of cloth", replace(roof, cloth=random.uniform(5.0, 30.0)), springs),
        ("springs unequal by 10 % each", roof, replace(springs, force_1=springs.force_1 * (1 + apart))),
    ]


def share(values: Array) -> tuple[float, float]:
    """Return a mean and its standard error."""
    return float(values.mean()), float(values.std(ddof=1) / np.sqrt(values.size)) if values.size > 1 else np.nan


def column(rows: Sequence[Row], name: str) -> Array:
    """Return one number of all rows; nought where a row has none."""
    return np.array([row.get(name, 0.0) for row in rows])


AIMS = {"first hole": 85, "three ratings": 92, "pattern and card": 95, "after four readings": 96}


def table_of_chosen(rows: Sequence[Row]) -> list[str]:
    """Return shares that work, what was claimed, and the paired difference to the search by margins."""
    names = [name for name in rows[0] if not name.startswith(("odds", "moved", "lines"))]
    beside = dict.fromkeys(names, "margins")
    beside["three ratings"] = beside["first hole, next ratings"] = "margins, three ratings"
    lines = [f"{len(rows)} worlds{'':21s} works %        claimed %   aim   against margins, paired"]
    for name in names:
        mean, error = share(column(rows, name))
        line = f"{name:28s} {100 * mean:6.1f} +- {100 * error:.1f}"
        line += f"   {100 * column(rows, f'odds: {name}').mean():8.1f}" if f"odds: {name}" in rows[0] else f"{'':11s}"
        line += f"   {AIMS[name]:5d}" if name in AIMS else f"{'':8s}"
        if name != beside[name]:
            mean, error = share(column(rows, name) - column(rows, beside[name]))
            line += f"   {100 * mean:+6.1f} +- {100 * error:.1f} on {beside[name]}"
        lines.append(line)
    moves = sorted({name for row in rows for name in row if name.startswith("moved")})
    lines.append("; ".join(f"{name}: {int(column(rows, name).sum())}" for name in moves))
    lines.append(f"lines on the card: {column(rows, 'lines on the card').mean():.1f}")
    return lines


def table_of_claims(rows: Sequence[Row]) -> list[str]:
    """Return how true the odds are: overall, by tenths, by Brier score, and where the model is broken."""
    odds = column(rows, "odds")
    lines = [f"{len(rows)} worlds: odds of the first hole claimed {100 * odds.mean():.1f} %"]
    for name in (name for name in rows[0] if name != "odds"):
        good = column(rows, name)
        mean, error = share(good)
        brier, constant = np.mean((odds - good) ** 2), mean * (1 - mean)
        lines.append(
            f"{name:30s} works {100 * mean:5.1f} +- {100 * error:.1f} %, claimed less achieved "
            f"{100 * (odds.mean() - mean):+5.1f}; Brier {brier:.4f}, of a constant {constant:.4f}"
        )
    good = column(rows, "as drawn")
    lines.append("claimed %     worlds   mean claimed   achieved   difference   allowed")
    for tenth in range(10):
        there = (odds >= tenth / 10) & (odds < (tenth + 1) / 10 if tenth < 9 else odds <= 1)
        if not there.any():
            continue
        said, done, number = odds[there].mean(), good[there].mean(), int(there.sum())
        allowed = max(5.0, 260 * np.sqrt(said * (1 - said) / number))
        mark = ("holds" if abs(100 * (said - done)) <= allowed else "FAILS") if number >= 100 else "too few"
        lines.append(
            f"{10 * tenth:3d} to {10 * tenth + 10:3d}   {number:6d}   {100 * said:10.1f}   {100 * done:10.1f}   "
            f"{100 * (said - done):+9.1f}   {allowed:6.1f} {mark}"
        )
    return lines
