"""Roofs with hidden values: how often the springs that are chosen work, and how true the odds are.

    python3 benchmarks/bench_worlds.py                        a quick look at a few worlds, under a minute
    python3 benchmarks/bench_worlds.py --worlds 1000 --part chosen
    python3 benchmarks/bench_worlds.py --worlds 2000 --part odds
    python3 benchmarks/bench_worlds.py --worlds 500 --part readings
    python3 benchmarks/bench_worlds.py --worlds 20 --part advice

Worlds are drawn as `worlds/draw.py` says, and judged by formulas of their own (`worlds/judge.py`). A search by
margins, which knows nothing of chance, runs on the same worlds as the thing to beat. Parts:

chosen    first hole, three ratings, hole pattern and card, after four readings; what can be solved at all
odds      claimed odds against what came of them, also in worlds that break the model
readings  readings on the built roof that contradict it: false alarms, planted faults
advice    worlds that cannot be solved: what is advised, and how many it frees

`--workers 2` shares the worlds among processes; the figures do not depend on it. `--upright` has the hand push
straight up and down instead of along its path. `--rows FILE` also writes what was found for every world, as JSON lines.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

# One thread for each process: small sums gain nothing from more.
for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

from worlds.freed import freed, table_of_freed, unsolvable  # noqa: E402
from worlds.measure import Row, chosen, claimed, table_of_chosen, table_of_claims  # noqa: E402
from worlds.strange import readings, table_of_readings  # noqa: E402

Part = tuple[Callable[[int, int, bool], Row], Callable[[Sequence[Row]], list[str]], int]
PARTS: dict[str, Part] = {
    "chosen": (chosen, table_of_chosen, 12),
    "odds": (claimed, table_of_claims, 12),
    "readings": (readings, table_of_readings, 12),
    "advice": (freed, table_of_freed, 1),
}
"""Each part: what is found of one world, the table of it, and how many worlds a quick look takes."""


def of_world(found: Callable[[int, int, bool], Row], seed: int, upright: bool, number: int) -> Row:
    """Return what one part finds of a world."""
    return found(number, seed, upright)


def run(part: str, first: int, worlds: int, seed: int, workers: int, upright: bool) -> list[Row]:
    """Return the rows of a part."""
    job = partial(of_world, PARTS[part][0], seed, upright)
    numbers = unsolvable(seed, upright, worlds) if part == "advice" else list(range(first, first + worlds))
    if workers == 1:
        return [job(number) for number in numbers]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(job, numbers, chunksize=4))


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--part", choices=[*PARTS, "all"], default="all")
    parser.add_argument("--worlds", type=int, help="left out: a few")
    parser.add_argument("--first", type=int, default=0, help="number of the first world")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--upright", action="store_true")
    parser.add_argument("--rows", type=Path)
    given = parser.parse_args(arguments)
    for part in PARTS if given.part == "all" else [given.part]:
        started = time.perf_counter()
        worlds = given.worlds or PARTS[part][2]
        rows = run(part, given.first, worlds, given.seed, given.workers, given.upright)
        print(f"\n{part}, seed {given.seed}, {time.perf_counter() - started:.0f} s")
        print("\n".join(PARTS[part][1](rows)), flush=True)
        if given.rows:
            with given.rows.open("a", encoding="utf-8") as file:
                file.writelines(json.dumps({"part": part, **row}) + "\n" for row in rows)
    return 0


if __name__ == "__main__":
    sys.exit(main())
