"""The opening, the bows and the skin left round it, and places along the edge of the opening."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.strength.roof_edge import edge_factor, plate_stiffness


@dataclass(frozen=True, slots=True)
class Bow:
    """A roof bow that crosses the opening's long sides at `x` [m]: E I up and down, E A [N], G J [N m2].

    `cut` says that it ends at the ring; `tied` that it is fastened to the ring so that it can push, pull and bend it.
    """

    x: float
    lift: float
    axial: float
    twist: float
    cut: bool = True
    tied: bool = True


@dataclass(frozen=True, slots=True)
class Roof:
    """The opening and the roof left round it.

    `length` along x and `width` along y of the opening, corner `radius`, `edge` from the opening's side to where bows
    and skin are firm (the van's side rail), `skin` thickness, all [m]; `skin_young` [Pa]. `bows` within the
    opening's length. `behind` and `ahead`: from the opening's rear and front edge to the roof's ends, which are firm,
    as `edge` unless given [m]; `end_bows`: the nearest bow beyond each of these edges, if there is one before the end,
    whole across the van. `dip`: of the whole roof under the test weight beside the opening [m],
    `roof_edge`; None: of flat skin. `channels`: places (x, y)
    on the front or rear edge [m] where an inner channel of the ring's own bar reaches the end bow.
    """

    length: float
    width: float
    radius: float
    edge: float
    skin: float
    skin_young: float
    bows: tuple[Bow, ...] = ()
    behind: float | None = None
    ahead: float | None = None
    end_bows: tuple[Bow, ...] = ()
    dip: float | None = None
    channels: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        if not min(self.length, self.width, self.edge, self.skin, self.skin_young) > 0:
            raise ValueError("the sizes of a roof must be positive")
        if not 0 <= self.radius < min(self.length, self.width) / 2:
            raise ValueError("the corner radius must be less than half the opening")
        if not min(self.behind or self.edge, self.ahead or self.edge) > 0:
            raise ValueError("the sizes of a roof must be positive")
        if any(0 <= bow.x <= self.length for bow in self.end_bows):
            raise ValueError("an end bow lies beyond the opening")
        if any(not -self.beside(3) < bow.x < self.length + self.beside(1) for bow in self.end_bows):
            raise ValueError("an end bow lies before the roof's end")

    def strip(self, width: float) -> float:
        """Return the bending stiffness of a metre of skin of a `width` [m] beside the opening [N m]: f D (1).

        D of the flat sheet, f by the roof's `dip`. A strip of width w from the ring to what is firm is a slab built in
        there: a metre of it gives the ring 12 f D / w^3 up and down while the ring does not turn, 3 f D / w^3 while it
        turns freely, and holds its turning. Not on the safe side: that the skin's crown helps against turning as well.
        """
        flat = float(plate_stiffness(self.skin_young, self.skin))
        return flat if self.dip is None else flat * float(edge_factor(self.dip, width, self.skin_young, self.skin))

    def end_bow(self, front: bool) -> Bow | None:
        """Return the bow beyond the front or rear edge."""
        return next((bow for bow in self.end_bows if bow.tied and (bow.x > 0) == front), None)

    def beside(self, side: int) -> float:
        """Return how wide the skin is from a side (0 right, 1 front, 2 left, 3 rear) to what is firm [m]."""
        return ((self.ahead if side == 1 else self.behind) or self.edge) if side % 2 else self.edge


def nearest_on_ring(roof: Roof, x: float, y: float) -> tuple[int, float]:
    """Return the side (0 right, 1 front, 2 left, 3 rear) and the place along it [m] nearest to a point `x`, `y` [m]."""
    half, r = roof.width / 2, roof.radius
    along = (x, y + half, roof.length - x, half - y)
    sides = (roof.length, roof.width, roof.length, roof.width)
    across = (abs(y + half), abs(roof.length - x), abs(y - half), abs(x))
    best = min(range(4), key=lambda side: across[side] + max(-along[side], along[side] - sides[side], 0.0))
    return best, float(np.clip(along[best], r, sides[best] - r))


def side_point(roof: Roof, side: int, along: float) -> tuple[float, float]:
    """Return the point (x, y) [m] at the place `along` [m] a side."""
    half = roof.width / 2
    return (
        (along, -half),
        (roof.length, along - half),
        (roof.length - along, half),
        (0.0, half - along),
    )[side]
