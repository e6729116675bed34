"""The integer programme of cutting bars, over patterns of pieces of like length.

    least sum_p c_p x_p   with   sum_p a_ip x_p + u_i >= d_i,   sum_{p of s} x_p <= m_s,   x_p whole  (2)

over patterns p of bars s (`stock_patterns`): x_p bars are cut by pattern p, which holds a_ip of the d_i pieces of
length i and costs c_p; m_s bars of kind s are there. u_i, made dear, is what the bars there do not suffice for. Where
all patterns can be listed the answer is the least there is. Where there are too many, patterns are made one by one
from the prices of the relaxed programme; its value is then the bound.

Source: Gilmore and Gomory, A Linear Programming Approach to the Cutting-Stock Problem, 1961 (from memory).
"""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.plan.stock_patterns import Counts, Pattern, dearest_pattern, every_pattern, fitted

ORDERS: Final = 24
"""So many orders of the pieces are tried by first fit [1]."""
SECOND: Final = 5
"""Where patterns made one by one leave the answer open, up to so many times more are listed after all [1]."""
MANY: Final = 200
"""Of more pieces than this only two orders are tried [1]."""


@dataclass(frozen=True, slots=True)
class Task:
    """Pieces by kind (longest first) and bars, in steps, no two kinds alike.

    `cost` of each bar, in which `per_bar` is there only to have fewer bars; `dear`, what the longest piece costs if it
    is left uncut.
    """

    sizes: tuple[int, ...]
    wanted: tuple[int, ...]
    capacities: tuple[int, ...]
    most: tuple[int | None, ...]
    cost: tuple[float, ...]
    dear: float
    per_bar: float
    grain: float
    """Every sum of costs is a whole multiple of this, but for what is counted by bar (0: of nothing known)."""

    def rounded(self, bound: float) -> float:
        """Return a `bound` on the cost [m, or price] raised to the next sum that bars can cost."""
        return self.grain * math.ceil(bound / self.grain - 1e-6) if self.grain > 0 else bound

    @property
    def dearest(self) -> Array:
        """Cost of a piece of each kind left uncut, by its length."""
        return np.asarray(self.dear * np.array(self.sizes, dtype=np.float64) / self.sizes[0])

    def may_lack(self, kind: int) -> bool:
        """Whether the bars that hold a kind can run out."""
        return not any(
            most is None and self.sizes[kind] <= capacity
            for most, capacity in zip(self.most, self.capacities, strict=True)
        )


Column = tuple[int, Pattern]


def solved(task: Task, end: float, most_patterns: int) -> tuple[list[Column], float, bool]:
    """Return the bars as columns, a lower bound of what is spent without `per_bar`, and whether it is reached.

    `end`: when to stop [s, of the monotonic clock]; `most_patterns`: how many are listed at most [1].
    """
    tried = _by_first_fit(task)
    cost = _cost(task, tried)
    at_best = task.rounded(_length_bound(task))
    # Bars of one kind cannot be traded for fewer of another.
    if len(task.cost) == 1 and cost <= at_best + task.per_bar * len(tried) + 1e-9:
        return tried, at_best, True
    extra = task.per_bar * sum(task.wanted)
    columns = _listed(task, most_patterns)
    if columns is None:
        made, bound = _made(task, list(dict.fromkeys(tried)), end)
        at_best = max(at_best, task.rounded(max(0.0, bound - extra)))
        best, cost = tried, _cost(task, tried)
        if at_best < cost - extra - 1e-9 * cost:
            best = _better(task, tried, _whole(task, made, end, 0.99 * task.grain / cost)[0])
            cost = _cost(task, best)
        if at_best >= cost - extra - 1e-9 * cost:
            return best, at_best, True
        tried = best
        columns = _listed(task, SECOND * most_patterns) if time.monotonic() < end else None
        if columns is None:
            return tried, at_best, False
    near = 0.0 if len(task.cost) > 1 else 0.99 * task.grain / max(cost, 1e-12)
    chosen, below = _whole(task, columns, end, near)
    best = _better(task, tried, chosen)
    bound = max(at_best, task.rounded(max(0.0, below - extra)))
    return best, bound, bound >= _cost(task, best) - extra - 1e-9 * cost


def _better(task: Task, tried: list[Column], chosen: list[Column] | None) -> list[Column]:
    return chosen if chosen is not None and _cost(task, chosen) <= _cost(task, tried) + 1e-9 else tried


def _listed(task: Task, most: int) -> list[Column] | None:
    columns: list[Column] = []
    for bar, capacity in enumerate(task.capacities):
        patterns = every_pattern(task.sizes, task.wanted, capacity, most - len(columns))
        if patterns is None:
            return None
        columns += [(bar, pattern) for pattern in patterns]
    return columns


def _length_bound(task: Task) -> float:
    total = sum(size * n for size, n in zip(task.sizes, task.wanted, strict=True))
    return min(
        total * (cost - task.per_bar) / capacity for cost, capacity in zip(task.cost, task.capacities, strict=True)
    )


def _cost(task: Task, columns: Sequence[Column]) -> float:
    made = np.sum([pattern for _, pattern in columns], axis=0) if columns else np.zeros(len(task.sizes))
    lacking = np.maximum(np.array(task.wanted) - made, 0)
    return math.fsum(task.cost[bar] for bar, _ in columns) + float(task.dearest @ lacking)


def _by_first_fit(task: Task) -> list[Column]:
    """Return the best of first fit, longest first and in shuffled orders, each bar then made as cheap as it can be."""
    kinds = range(len(task.sizes))
    rng = np.random.default_rng(20)
    falling = [kind for kind in kinds for _ in range(task.wanted[kind])]
    tries = ORDERS if len(falling) <= MANY else 2
    orders = [falling, *(list(rng.permutation(falling)) for _ in range(tries - 1))]
    rank = sorted(range(len(task.capacities)), key=lambda s: (task.cost[s] / task.capacities[s], -task.capacities[s]))
    best: list[Column] | None = None
    for first in range(len(rank)):
        turn = [rank[first], *(s for s in rank if s != rank[first])]
        for order in orders:
            made = [(turn[bar], held) for bar, held in fitted(task.sizes, order, [task.capacities[s] for s in turn])]
            found = _cheapened(task, made)
            if best is None or _cost(task, found) < _cost(task, best) - 1e-9:
                best = found
    return best or []


def _cheapened(task: Task, made: Sequence[tuple[int, list[int]]]) -> list[Column]:
    left = [math.inf if most is None else most for most in task.most]
    found: list[Column] = []
    for _, held in sorted(made, key=lambda bar: -sum(task.sizes[kind] for kind in bar[1])):
        need = sum(task.sizes[kind] for kind in held)
        fit = [s for s, capacity in enumerate(task.capacities) if capacity >= need and left[s] > 0]
        if fit:
            bar = min(fit, key=lambda s: (task.cost[s], task.capacities[s]))
            left[bar] -= 1
            found.append((bar, tuple(held.count(kind) for kind in range(len(task.sizes)))))
    return found


def _limits(task: Task, columns: Sequence[Column]) -> tuple[Array, Array]:
    """Return rows and right sides that say how many bars of each limited kind there are."""
    kinds = [s for s, most in enumerate(task.most) if most is not None]
    lack = [0.0] * len(task.sizes)
    rows = np.array([[float(bar == s) for bar, _ in columns] + lack for s in kinds], dtype=np.float64)
    return rows.reshape(len(kinds), len(columns) + len(lack)), np.array([float(task.most[s] or 0) for s in kinds])


def _programme(task: Task, columns: Sequence[Column]) -> tuple[Array, Array, Array]:
    """Return cost, rows of (2) and the most of each unknown: columns first, then pieces left uncut."""
    lack = np.array([task.may_lack(kind) for kind in range(len(task.sizes))], dtype=np.float64)
    cost = np.array([task.cost[bar] for bar, _ in columns] + list(task.dearest))
    rows = np.hstack([np.array([pattern for _, pattern in columns], dtype=np.float64).T, np.eye(lack.size)])
    top = np.concatenate([np.full(len(columns), float(sum(task.wanted))), lack * np.array(task.wanted)])
    return cost, rows, top


def _made(task: Task, columns: list[Column], end: float) -> tuple[list[Column], float]:
    """Return patterns worth having, by the prices of the relaxed programme, and its value, 0 if time ran out."""
    from scipy.optimize import linprog

    single = [
        (s, tuple(min(task.wanted[k], capacity // size) * (k == kind) for k in range(len(task.sizes))))
        for s, capacity in enumerate(task.capacities)
        for kind, size in enumerate(task.sizes)
        if size <= capacity
    ]
    columns = list(dict.fromkeys([*columns, *single]))
    wanted = np.array(task.wanted, dtype=np.float64)
    while time.monotonic() < end:
        cost, rows, top = _programme(task, columns)
        few, most = _limits(task, columns)
        solved = linprog(
            cost,
            A_ub=np.vstack([-rows, few]),
            b_ub=np.concatenate([-wanted, most]),
            bounds=[(0.0, float(bound)) for bound in top],
            method="highs",
        )
        if solved.status != 0:
            return columns, 0.0
        price = -np.asarray(solved.ineqlin.marginals, dtype=np.float64)
        worth, rent = np.maximum(price[: wanted.size], 0.0), iter(price[wanted.size :])
        more = []
        for bar, capacity in enumerate(task.capacities):
            extra = next(rent) if task.most[bar] is not None else 0.0
            value, pattern = dearest_pattern(task.sizes, task.wanted, capacity, worth)
            if value > task.cost[bar] + extra + 1e-7 and (bar, pattern) not in columns:
                more.append((bar, pattern))
        if not more:
            return columns, float(solved.fun or 0.0)
        columns += more
    return columns, 0.0


def _whole(task: Task, columns: Sequence[Column], end: float, near: float) -> tuple[list[Column] | None, float]:
    """Return the best bars in whole numbers, to the share `near`, None if none were found, and their bound."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    cost, rows, top = _programme(task, columns)
    few, most = _limits(task, columns)
    rules = [LinearConstraint(rows, lb=np.array(task.wanted, dtype=np.float64))]
    if most.size:
        rules.append(LinearConstraint(few, ub=most))
    found = milp(
        cost,
        constraints=rules,
        integrality=np.ones(cost.size, dtype=np.int64),
        bounds=Bounds(0.0, top),
        options={"time_limit": max(0.05, end - time.monotonic()), "mip_rel_gap": near},
    )
    below = 0.0 if found.mip_dual_bound is None else float(found.mip_dual_bound)
    if found.x is None:
        return None, below
    counts: Counts = np.rint(found.x[: len(columns)]).astype(np.int64)
    return [column for column, n in zip(columns, counts, strict=True) for _ in range(int(n))], below
