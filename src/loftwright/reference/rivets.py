"""Blind rivets: least shear and pull load of standard ones. Rivet nuts have no public figure: the user gives it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array

BLIND: Final = Source("iso-15977", "Table 3, aluminium alloy body and steel pin; figures from memory", "standard")
HOLE: Final = Source("iso-15977", "hole 0.1 mm over the body; from memory", "standard")
OF_THE_USER: Final = Source("judgement", "the maker's test value, given by the builder", "judgement")


@dataclass(frozen=True, slots=True)
class Rivet:
    """A blind rivet or rivet nut: body `diameter`, `hole` and `head` [m], least `shear` and `pull` load [N], [...]."""

    name: str
    diameter: float | Array
    hole: float | Array
    head: float | Array
    shear: float | Array
    pull: float | Array
    source: Source = BLIND


_SIZES: Final = (
    # diameter, head [mm]; shear and pull [N] of the low and of the high class
    (3.2, 6.5, (500.0, 700.0), (750.0, 1100.0)),
    (4.0, 8.0, (850.0, 1200.0), (1250.0, 1800.0)),
    (4.8, 9.5, (1200.0, 1700.0), (1850.0, 2600.0)),
)

RIVETS: Final[dict[str, Rivet]] = {
    rivet.name: rivet
    for d, head, low, high in _SIZES
    for rivet in (
        Rivet(f"{d:.1f} mm, class L", d / 1000, (d + 0.1) / 1000, head / 1000, *low),
        Rivet(f"{d:.1f} mm, class H", d / 1000, (d + 0.1) / 1000, head / 1000, *high),
    )
}
"""Blind rivets with aluminium body and steel pin by name; class L is the weaker. Heads are from memory."""


def rivet_of(diameter: ArrayLike) -> Rivet:
    """Return a blind rivet of the weaker class of any `diameter` [m], [...].

    Loads go with the square of the diameter; their ratio to it runs straight between the standard's sizes and stays as
    it is beyond them: judgement. Source: `BLIND`.

    >>> round(float(rivet_of(0.004).shear))
    850
    """
    d = np.asarray(diameter, dtype=np.float64)
    size = np.array([mm for mm, *_ in _SIZES]) / 1000

    def by_square(loads: list[float]) -> Array:
        return np.asarray(np.interp(d, size, np.array(loads) / size**2) * d**2)

    head = np.interp(d, size, [mm / 1000 for _, mm, *_ in _SIZES] / size) * d
    shear, pull = (by_square([low[i] for *_, low, _ in _SIZES]) for i in (0, 1))
    return Rivet(f"{1000 * float(np.ravel(d)[0]):.1f} mm, class L", d, d + 0.0001, np.asarray(head), shear, pull)


def rivet_nut(
    name: str, kind: Literal["rivet nut", "rivet"], diameter: float, hole: float, head: float, shear: float, pull: float
) -> Rivet:
    """Return a rivet nut or a rivet of the builder's own figures.

    `diameter`, `hole` and `head` [m]; `shear` and `pull` [N] in the sheet that it is set in.
    ValueError unless every figure is above zero: no public standard gives these, so none is assumed.
    """
    if min(diameter, hole, head, shear, pull) <= 0.0:
        raise ValueError(f"{name}: a {kind} needs its diameter, hole, head, shear and pull as the maker tested them")
    return Rivet(name, diameter, hole, head, shear, pull, OF_THE_USER)
