"""An invented grid of gas springs in common rod and tube sizes: what is tried while no supplier's list is given.

No supplier's data. The sizes are those common in the trade; all else follows from them by the rules below, which
are judgement, so that each spring is one that could be filled.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from loftwright.core.checks import Source
from loftwright.reference.rods import TOP_PRESSURE

GRID_SOURCE = Source("judgement", "rod and tube sizes common in the trade, all other figures invented", "judgement")

WALL = 0.00125
"""Thickness of a tube's wall [m]."""

SPARE = 0.02
"""Length of the gas room beyond the stroke [m]: piston stop and guide."""

STROKES = tuple(round(0.1 + 0.02 * i, 3) for i in range(21))
"""Strokes of the grid [m]."""

STEP = 50.0
"""Forces of the grid are multiples of this [N]."""

CURRENCY = "EUR"


@dataclass(frozen=True, slots=True)
class Size:
    """One rod in one tube [m].

    `fittings` is what the spring is longer than two strokes [m], `least` the smallest force [N], `loop` the full
    friction loop [N], `end_limit` what an end fitting carries [N].
    """

    rod: float
    tube: float
    fittings: float
    least: float
    loop: float
    end_limit: float


SIZES = (
    Size(0.006, 0.015, 0.045, 50.0, 30.0, 600.0),
    Size(0.008, 0.018, 0.050, 100.0, 40.0, 1200.0),
    Size(0.010, 0.022, 0.060, 100.0, 60.0, 1500.0),
    Size(0.012, 0.026, 0.065, 150.0, 80.0, 2200.0),
    Size(0.014, 0.028, 0.075, 200.0, 100.0, 3000.0),
)


@dataclass(frozen=True, slots=True)
class GridSpring:
    """One spring of the grid: lengths [m], `force` F1 [N], `ratio` F2/F1, `loop` full friction loop [N], price."""

    name: str
    rod: float
    tube: float
    stroke: float
    extended: float
    force: float
    ratio: float
    loop: float
    end_limit: float
    price: float


def force_ratio(rod: float, tube: float, stroke: float) -> float:
    """Return F2/F1 of a spring whose gas fills its whole tube, without oil.

    1/r = 1 - A s / (B (s + e)) (1): the rod's section A takes its stroke s from the gas room of section B and length
    s + e, e = `SPARE`. `rod`, `tube` outer diameters [m]; `stroke` s [m]. Validity: slow movement. Source: Boyle's law.

    >>> round(force_ratio(0.010, 0.022, 0.3), 2)
    1.33
    """
    share = (rod / (tube - 2 * WALL)) ** 2 * stroke / (stroke + SPARE)
    return 1.0 / (1.0 - share)


def grid() -> Iterator[GridSpring]:
    """Yield every spring of the grid, by size, stroke and force.

    Forces go as far as the gas, pushed in at 20 C, stays within the pressure recommended at most.
    """
    for size in SIZES:
        room = TOP_PRESSURE * math.pi / 4 * size.rod**2 - size.loop / 2
        for stroke in STROKES:
            ratio = round(force_ratio(size.rod, size.tube, stroke), 2)
            for i in range(round(size.least / STEP), int(room / ratio / STEP) + 1):
                force = i * STEP
                millimetres = (1e3 * size.rod, 1e3 * size.tube, 1e3 * stroke)
                yield GridSpring(
                    name="{:.0f}/{:.0f}-{:.0f}-{:.0f}".format(*millimetres, force),
                    rod=size.rod,
                    tube=size.tube,
                    stroke=stroke,
                    extended=round(2 * stroke + size.fittings, 4),
                    force=force,
                    ratio=ratio,
                    loop=size.loop,
                    end_limit=size.end_limit,
                    price=round(2 * (8.0 + 0.8e3 * size.rod + 15.0 * stroke)) / 2,
                )
