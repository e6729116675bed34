"""Where a lifting roof is bolted together, with the pattern of holes that is usual there: common practice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


def rectangle(columns: int, rows: int, gap_x: float, gap_y: float) -> tuple[tuple[float, float], ...]:
    """Return holes in a rectangle about the middle: `gap_x` between columns, `gap_y` between rows [m].

    >>> rectangle(2, 1, 0.06, 0.0)
    ((-0.03, 0.0), (0.03, 0.0))
    """
    return tuple(
        ((i - 0.5 * (columns - 1)) * gap_x, (j - 0.5 * (rows - 1)) * gap_y) for j in range(rows) for i in range(columns)
    )


@dataclass(frozen=True, slots=True)
class Place:
    """One kind of joint: what it is called, its usual bolt and holes [m]; `seam` for a line joint."""

    words: str
    bolt: str = "M6"
    columns: int = 2
    rows: int = 2
    gap_x: float = 0.060
    gap_y: float = 0.040
    overhang: float = 0.015
    seam: bool = False

    @property
    def points(self) -> tuple[tuple[float, float], ...]:
        """Holes of the usual pattern [m]."""
        return rectangle(self.columns, self.rows, self.gap_x, self.gap_y)


PLACES: Final[dict[str, Place]] = {
    "hinge to shell": Place("hinge to shell", "M8"),
    "hinge to ring": Place("hinge to ring or roof", "M8"),
    "bracket to ring": Place("spring bracket to ring", "M8", gap_x=0.050),
    "bracket to shell": Place("spring bracket to shell", "M6", gap_x=0.050),
    "ring to skin": Place("ring to roof skin", seam=True),
    "latch to shell": Place("latch to shell", "M5", gap_x=0.040, gap_y=0.030, overhang=0.010),
    "latch to van": Place("latch to van", "M5", gap_x=0.040, gap_y=0.030, overhang=0.010),
}
"""Every kind of joint by its key."""
