"""How long the answer on the cloth walls takes, beside that on movement, and one start of the fold.

    python3 dev.py bench walls

All in one run: the planned roof alone and with all rows of 200 draws, movement beside it, and one lowering of the
highest wall by the elastic chain, compiled. Limits: 2 s for the planned roof, 10 s with the draws, 2 s for one start.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from functools import partial
from itertools import count

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from loftwright.answers.draws import Nominal
from loftwright.answers.fold_job import fold_job
from loftwright.answers.held_basis import basis
from loftwright.answers.judged_roof import inputs_of, judged_roof
from loftwright.answers.walled_roof import find, walled_roof
from loftwright.cloth.chain import run
from loftwright.cloth.fold_ways import starts_of
from loftwright.project.demos import DEMOS, demo
from loftwright.project.model import Project

PLANNED, DRAWN, START = 2.0, 10.0, 2.0
TIMES = 5
_numbers = count(1)


def seconds(work: Callable[[], object]) -> float:
    """Return how long one call takes [s]."""
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def renamed(project: Project) -> Project:
    """Return the same roof as a project that nothing is kept of."""
    return project.model_copy(update={"name": f"again {next(_numbers)}"})


def planned(project: Project) -> object:
    """Work the walls out for the planned roof alone."""
    return find(basis(project, Nominal(inputs_of(project)))[0])


def median(work: Callable[[Project], object], project: Project) -> float:
    """Return the median time of an answer about a project that is new each time [s]."""
    return float(np.median([seconds(lambda: work(renamed(project))) for _ in range(TIMES)]))


def roofs() -> None:
    """Print what each demo takes."""
    print(f"one roof, {TIMES} times each, median [s]")
    print(f"{'':12} {'planned':>8} {'with draws':>11} {'movement':>9} {'draws over movement':>20}")
    for project in map(demo, DEMOS):
        alone, drawn, moves = (median(work, project) for work in (planned, walled_roof, judged_roof))
        said = "within" if alone <= PLANNED and drawn <= DRAWN else "ABOVE"
        figures = f"{alone:8.2f} {drawn:11.2f} {moves:9.2f} {drawn / moves:20.1f}"
        print(f"{project.name:12} {figures}  {said} {PLANNED:g} s and {DRAWN:g} s")


def starts() -> None:
    """Print what one start of the fold takes, at the highest wall of a demo."""
    for name in ("fennimoor", "larkenmoor"):
        place = max(fold_job(demo(name)).places, key=lambda one: one.parts()[0].length)
        lowered = partial(run, *place.parts())
        first, *each = (seconds(partial(lowered, start)) for start in starts_of()[:6])
        said = "within" if max(each) <= START else "ABOVE"
        print(
            f"{name}: {place.name}, strip of {place.parts()[0].length:.2f} m: first {first:.2f} s, "
            f"then {min(each):.2f} to {max(each):.2f} s  {said} {START:g} s"
        )


if __name__ == "__main__":
    roofs()
    starts()
