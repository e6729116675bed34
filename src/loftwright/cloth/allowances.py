"""How an edge of cloth is finished: what it needs beyond the stitch line and where it is turned.

All widths in metres, outward from the stitch line. A `Finish` belongs to one edge of one piece.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

Kind = Literal[
    "plain seam",
    "lapped seam",
    "flat-felled, narrow side",
    "flat-felled, wide side",
    "hem",
    "binding",
    "staple strip",
    "track",
    "zip",
]

INCH: Final = 0.0254


@dataclass(frozen=True, slots=True)
class Finish:
    """How one edge is finished.

    `allowance` is what is cut beyond the stitch line [m]; `turns` are the lines along which it is folded, as distances
    outward from the stitch line [m]; `rows` the rows of stitching by their distance from the stitch line [m], inward
    positive; `needs` the least allowance it can be made with [m].
    """

    kind: Kind
    allowance: float
    turns: tuple[float, ...] = ()
    rows: tuple[float, ...] = (0.0,)
    needs: float = 0.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.allowance) and self.allowance >= 0.0):
            raise ValueError(f"{self.kind}: an allowance is nought or more, not {self.allowance}")
        if list(self.turns) != sorted(self.turns) or any(turn < 0.0 for turn in self.turns):
            raise ValueError(f"{self.kind}: turns lie one beyond the other, outward from the stitch line")

    def text(self) -> str:
        """Return kind and allowance in one line.

        >>> hem(0.0254, 0.0127).text()
        'hem, 38.1 mm'
        """
        return f"{self.kind}, {self.allowance * 1000.0:.1f} mm" if self.allowance else f"{self.kind}, none"

    def lies_at(self, out: float) -> float:
        """Return how far inside the stitch line a point `out` [m] beyond it lies once all turns are folded [m].

        Each turn T reverses the way on: w = -out up to the first, then w = -T1 + (out - T1), and so on (1).
        Negative: it still stands out beyond the stitch line.
        """
        depth, sign, last = 0.0, -1.0, 0.0
        for turn in self.turns:
            if out <= turn:
                break
            depth, sign, last = depth + sign * (turn - last), -sign, turn
        return depth + sign * (out - last)


def plain_seam(width: float = INCH / 2.0) -> Finish:
    """Return a plain seam, right sides together, `width` [m] on either piece, pressed to the inside.

    Source: US Army FM 10-16 (2000), ch. 8: stitched 1/4 in from the edge at least (read in a public reproduction).
    """
    return Finish("plain seam", width, (0.0,), (0.0,), INCH / 4.0)


def lapped_seam(lap: float = 1.5 * INCH) -> Finish:
    """Return a lapped seam: each piece goes half of `lap` [m] beyond the line; a row near either edge; nothing turned.

    Source: a Navy manual's hand-sewn lap is 1-1/2 to 2 in (read in a public reproduction).
    """
    row = max(lap / 2.0 - 0.003, 0.0)
    return Finish("lapped seam", lap / 2.0, (), (row, -row), 0.008)


def felled_seam(width: float = 0.010) -> tuple[Finish, Finish]:
    """Return both sides of a flat-felled seam `width` [m] wide when done: the narrow side, then the wide one.

    The wide side wraps the narrow one and is turned under as far again: narrow = width - 2 mm, wide = 2 width (2).
    Source: common practice, no source.
    """
    narrow = Finish("flat-felled, narrow side", width - 0.002, (0.0,), (0.0, width - 0.002), 0.005)
    wide = Finish("flat-felled, wide side", 2.0 * width, (0.0, width), (0.0, width - 0.002), 2.0 * (0.005 + 0.002))
    return narrow, wide


def hem(depth: float = INCH, under: float = INCH / 2.0) -> Finish:
    """Return a hem `depth` [m] deep with `under` [m] turned in first; its lower edge is the stitch line of the piece.

    allowance = depth + under (3). Nought under: turned once, with a raw or sealed edge. As much under as deep: turned
    twice by the same. Stitched 1/8 in from the inner fold.
    Source: US Army FM 10-16 (2000), ch. 8, figs 8-2 and 8-3: 1/2 in under and a 1 in hem use 1-1/2 in (read in a
    public reproduction).

    >>> round(hem().allowance * 1000, 1)
    38.1
    """
    turns = (0.0, depth) if under > 0.0 else (0.0,)
    return Finish("hem", depth + under, turns, (max(depth - INCH / 8.0, 0.0),), 0.012)


def binding() -> Finish:
    """Return a bound edge: cut on the line itself, a tape folded over it; nothing is allowed for."""
    return Finish("binding", 0.0, (), (0.006,), 0.0)


def staple_strip(beyond: float = 0.015, under: float = 0.025) -> Finish:
    """Return an edge to be stapled on its line: `beyond` [m] past the staples, then turned back `under` [m] below them.

    So the staples go through two layers when under is more than beyond.
    Source: common practice, no source.
    """
    return Finish("staple strip", beyond + under, (beyond,), (), beyond + 0.006)


def track(cord: float = 0.006, flap: float = 0.015) -> Finish:
    """Return an edge for a welt track: the cloth goes round a cord of diameter `cord` [m] and `flap` [m] comes back.

    allowance = pi cord + flap, the turn in the middle of the way round, pi cord / 2 (4). The line is the track's mouth.
    """
    way = math.pi * cord
    return Finish("track", way + flap, (way / 2.0,), (0.004,), way + 0.008)


def zip_edge(turn: float = 0.015) -> Finish:
    """Return an edge with a zip: `turn` [m] folded back on the line, the tape stitched under it.

    Source: common practice, no source.
    """
    return Finish("zip", turn, (0.0,), (0.003, 0.010), 0.012)
