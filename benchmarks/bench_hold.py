"""How long the answer on fit and strength takes, beside that on movement, and what the hole's mesh costs.

    python3 dev.py bench hold

One roof, 200 draws, all in one run: movement and fit-and-strength of the same changed project side by side, and the
racking of one hole with sixty rings, each by itself and all on the skin that was solved once. The limit is the one
that the program is held to: 2 s for one roof, warm, with racking to two digits.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from itertools import count

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from loftwright.answers.held_roof import held_roof
from loftwright.answers.judged_roof import judged_roof
from loftwright.core.uncertain import exact
from loftwright.project.demos import DEMOS, demo
from loftwright.project.model import Project
from loftwright.strength.racking import cut_skin, racking
from loftwright.strength.racking_edges import centred

LIMIT = 2.0
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


def longer(project: Project) -> Project:
    """Return the roof with another hole: its mesh is new."""
    length = exact(project.opening.length.nominal - 0.001 * next(_numbers))
    return project.model_copy(update={"opening": project.opening.model_copy(update={"length": length})})


def median(work: Callable[[Project], object], changed: Callable[[Project], Project], project: Project) -> float:
    """Return the median time of an answer about a changed project [s]."""
    return float(np.median([seconds(lambda: work(changed(project))) for _ in range(TIMES)]))


def roofs() -> None:
    """Print what each demo takes."""
    print(f"one roof, {TIMES} times each, median [s]; first: with libraries still to be read")
    print(f"{'':12} {'first':>7} {'warm':>7} {'new hole':>9} {'movement':>9} {'warm over movement':>19}")
    for project in map(demo, DEMOS):
        started = time.perf_counter()
        held_roof(renamed(project))
        first = time.perf_counter() - started
        warm, hole = median(held_roof, renamed, project), median(held_roof, longer, project)
        moves = median(judged_roof, renamed, project)
        said = "within" if max(warm, hole) <= LIMIT else "ABOVE"
        figures = f"{first:7.2f} {warm:7.2f} {hole:9.2f} {moves:9.2f} {warm / moves:19.1f}"
        print(f"{project.name:12} {figures}  {said} {LIMIT:g} s")


def rings() -> None:
    """Print what sixty rings cost on one skin, and each with a skin of its own."""
    sheet = centred(2.6, 1.5, 1.9, 1.1)
    areas = np.linspace(1e-4, 9e-4, 60)
    one = {"thickness": 0.8e-3, "modulus": 210e9, "ring_modulus": 70e9, "ring_inertia": 2e-8}
    skin = cut_skin(sheet)
    together = seconds(lambda: racking(skin, ring_area=areas, **one))
    alone = seconds(lambda: [racking(cut_skin(sheet), ring_area=area, **one) for area in areas[:6]]) / 6 * areas.size
    found = racking(skin, ring_area=areas, **one)
    times = f"{alone / together:.0f} times"
    print(f"sixty rings on one skin {together:.3f} s; each with a skin of its own {alone:.1f} s: {times}")
    error = max(float(np.max(np.abs(one.mesh_error))) for one in found)
    print(f"error of the mesh in what is kept: {error:.4f} of it")


if __name__ == "__main__":
    roofs()
    rings()
