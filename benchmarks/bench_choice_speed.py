"""How long the choice of springs takes, beside a general optimiser on the same objective, and how its cost grows.

    python3 dev.py bench choice_speed

A roof on a front hinge in 500 draws and 31 stations, about 2 000 invented springs, four free coordinates. The limit is
the one that the program is held to: 5 s for the search on two cores. The general optimiser is scipy's differential
evolution in its vectorised form; it is given the search's own objective (the best force of a body in closed form, all
draws at once), so that only the way of searching differs.
"""

from __future__ import annotations

import importlib.util
import os
import sys
import time
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import suppress
from multiprocessing import get_context
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np

from loftwright.choice.moves import box_of
from loftwright.choice.scoring import bodies_of, score, stock
from loftwright.choice.search import Answer, Budget, search
from loftwright.choice.window import bounds, ends_from
from loftwright.core.lifting import Entries, Lift, Pair

LIMIT = 5.0
PATIENCE = 25.0
EQUAL = 0.001
"""Odds that differ by less count as equal."""
DRAWS = 500
FORCES = range(100, 1001, 45)
KINDS = 11


def sample_roofs() -> ModuleType:
    """Return the small roof and the lists of springs that the tests use."""
    path = Path(__file__).parents[1] / "tests" / "unit" / "choice" / "lifts.py"
    spec = importlib.util.spec_from_file_location("lifts", path)
    if spec is None or spec.loader is None:
        raise SystemExit(f"{path} cannot be read")
    module = importlib.util.module_from_spec(spec)
    sys.modules["lifts"] = module
    spec.loader.exec_module(module)
    return module


def timed(lift: Lift, pair: Pair, springs: Entries, executor: Executor | None, budget: Budget) -> tuple[float, Answer]:
    """Return the time of one search [s] and its best answer."""
    started = time.perf_counter()
    found = search(lift, [pair], springs, seed=1, budget=budget, executor=executor)
    return time.perf_counter() - started, found.answers[0]


def processor_time() -> float:
    """Return the processor time of this process and of those it has ended [s]."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


class Enough(Exception):
    """The general optimiser has reached the score, or has had its time."""


def by_evolution(lift: Lift, pair: Pair, springs: Entries, wanted: float) -> tuple[float, float, int]:
    """Return time [s], best odds and roofs-times-mounts tried by differential evolution until it reaches `wanted`."""
    from scipy.optimize import differential_evolution

    started = time.perf_counter()
    bodies = bodies_of(springs)
    middle = np.array([body[body.size // 2] for body in bodies])
    shelf = stock(lift, springs, bodies, np.full(springs.force_1.size, 99))
    best, tried = 0.0, 0

    def objective(points: Any) -> Any:
        nonlocal best, tried
        points = np.atleast_2d(points.T)
        body = np.clip(points[:, 4].astype(int), 0, len(bodies) - 1) if len(bodies) > 1 else [0] * len(points)
        scored = score(shelf, pair, ends_from(points[:, :4]), middle[body])
        best, tried = max(best, float(scored.odds.max())), tried + points.shape[0]
        if best >= wanted - EQUAL or time.perf_counter() - started > PATIENCE:
            raise Enough
        return -scored.score

    box = box_of(pair)
    limits = [*zip(box.low, box.high, strict=True), *([(0.0, float(len(bodies)))] if len(bodies) > 1 else [])]
    endless: dict[str, Any] = {"maxiter": 10**6, "tol": 0.0, "polish": False}
    with suppress(Enough):
        differential_evolution(objective, limits, vectorized=True, updating="deferred", popsize=20, seed=1, **endless)
    return time.perf_counter() - started, best, tried


def least_time(call: Callable[[], object], runs: int = 5) -> float:
    """Return the least processor time of several runs [s]."""
    times = []
    for _ in range(runs):
        started = time.process_time()
        call()
        times.append(time.process_time() - started)
    return min(times)


def growth_of_cost(roofs: ModuleType, pair: Pair, springs: Entries) -> None:
    """Print how the time of exact bounds and of scoring grows with mounts, draws and travel."""
    bodies = bodies_of(springs)
    middle = np.array([body[body.size // 2] for body in bodies])
    random = np.random.default_rng(1)
    box = box_of(pair)

    def cost(mounts: int, draws: int, stations: int) -> tuple[float, float]:
        lift = roofs.small_lift(draws, stations=stations)
        ends = ends_from(random.uniform(box.low, box.high, (mounts, 4)))
        guess = random.choice(middle, mounts)
        picked = springs.pick(guess)
        shelf = stock(lift, springs, bodies, np.full(springs.force_1.size, 99))
        return least_time(lambda: bounds(lift, pair, ends, picked)), least_time(lambda: score(shelf, pair, ends, guess))

    small = {"mounts": 240, "draws": 120, "stations": 31}
    base = cost(**small)
    work = small["mounts"] * small["draws"]
    print(
        "\ncost of {mounts} mounts x {draws} draws x {stations} stations on one core, then one of them doubled".format(
            **small
        )
    )
    print(f"  exact bounds {base[0] * 1000:7.1f} ms, {base[0] / work * 1e6:5.2f} us for a mount in one draw")
    print(f"  scoring      {base[1] * 1000:7.1f} ms, {base[1] / work * 1e6:5.2f} us, all forces of a body")
    for name, other in (("mounts", 480), ("draws", 240), ("stations", 61)):
        exact, quick = cost(**{**small, name: other})
        print(f"  {other} {name:9s} {exact / base[0]:5.2f} x exact bounds {quick / base[1]:5.2f} x scoring")


def main() -> int:
    roofs = sample_roofs()
    lift, pair = roofs.small_lift(DRAWS), roofs.pair()
    springs = roofs.listed(forces=FORCES, kinds=KINDS)
    count = springs.force_1.size
    print(f"{count} springs, {len(bodies_of(springs))} bodies, 4 free coordinates, {DRAWS} draws, 31 stations")
    times = {}
    print("\none search; on a busy machine the processor time is what counts")
    pools: dict[str, Callable[[], Executor | None]] = {
        "in place": lambda: None,
        "two threads": lambda: ThreadPoolExecutor(2),
        "two processes": lambda: ProcessPoolExecutor(2, mp_context=get_context("spawn")),
    }
    for name, make in pools.items():
        # Starting the pool counts too.
        started, used = time.perf_counter(), processor_time()
        pool = make()
        _, answer = timed(lift, pair, springs, pool, Budget())
        times[name] = time.perf_counter() - started
        if pool is not None:
            pool.shutdown()
        used = processor_time() - used
        print(f"  {name:14s} {times[name]:6.2f} s ({used:5.2f} s of processor)   odds {100 * answer.odds:.2f} of 100")
    used = processor_time()
    quick, hasty = timed(lift, pair, springs, None, Budget.small())
    used = processor_time() - used
    print(f"  {'quick look':14s} {quick:6.2f} s ({used:5.2f} s of processor)   odds {100 * hasty.odds:.2f} of 100")

    one = springs.pick(np.flatnonzero(springs.body == springs.body[answer.fit.entry]))
    alone, single = timed(lift, pair, one, None, Budget.small())
    print(f"\ntime to an equal score (within {100 * EQUAL:g} of 100), in place")
    for name, listed, seconds, odds in (
        ("search", springs, times["in place"], answer.odds),
        ("quick look", springs, quick, hasty.odds),
        ("quick look, the best body alone", one, alone, single.odds),
    ):
        slow, best, tried = by_evolution(lift, pair, listed, odds)
        said = f"{slow:6.2f} s" if best >= odds - EQUAL else f"not in {PATIENCE:g} s, {100 * best:.2f}"
        print(f"  {name:32s} {seconds:6.2f} s for {100 * odds:.2f}   differential evolution {said} ({tried} mounts)")
    growth_of_cost(roofs, pair, springs)
    over = min(times.values()) > LIMIT
    print("\nover the limit" if over else f"\nwithin the limit of {LIMIT:g} s for a search on two cores")
    return int(over)


if __name__ == "__main__":
    sys.exit(main())
