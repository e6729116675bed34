"""The list of every hole: where, how wide, how near the edge, how tight the bolt, what goes on the cut metal."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.reference.bolts import PENNY
from loftwright.strength import bolts
from loftwright.strength.joint_judged import least_edge
from loftwright.strength.joints import METALS, Factors, Joint, tightened
from loftwright.strength.seams import Seam

PILOT: Final = 0.003
"""Pilot hole [m]; common practice."""

PRIMER: Final = {
    "steel": "zinc primer on the bare edge, then paint, the same day",
    "stainless steel": "none; wash off swarf",
    "aluminium": "etch primer on the bare edge",
    "laminate": "resin on the bare glass inside the hole",
    "plywood": "resin into the end grain, twice",
    "foam": "fill the hole with thickened resin, drill again when hard",
}
"""What goes on a bare edge; common practice."""
SEALANT: Final = "bead round the hole and under the head, nut snug; full torque when it has cured"
SEALANT_SEAM: Final = "bead along the whole seam on both sides of the rivets, each rivet dipped"


@dataclass(frozen=True, slots=True)
class HoleRow:
    """One hole: its joint and number, place along the plate's `x` and `y` or along the seam [m], and how to make it.

    `hole` is the finished and `pilot` the first diameter [m]; `edge` what there is to the nearest edge and
    `edge_least` what there must be [m]; `torque` [N m], None for a rivet; `order` in which to drill and to tighten.
    """

    joint: str
    number: int
    x: float
    y: float
    fastener: str
    hole: float
    pilot: float
    edge: float
    edge_least: float
    torque: float | None
    washer: str
    primer: str
    sealant: str
    order: int

    @property
    def edge_enough(self) -> bool:
        """Whether the edge is far enough."""
        return self.edge >= self.edge_least


def crosswise(points: Iterable[tuple[float, float]]) -> tuple[int, ...]:
    """Return the turn of each hole [1], from 1, among `points` x and y [m], so that each next lies far from the last.

    >>> crosswise([(0, 0), (1, 0), (1, 1), (0, 1)])
    (1, 3, 2, 4)
    """
    at = np.asarray(list(points), dtype=np.float64)
    turn = [0]
    while len(turn) < len(at):
        left = [i for i in range(len(at)) if i not in turn]
        turn.append(max(left, key=lambda i: (round(float(np.linalg.norm(at[i] - at[turn[-1]])), 9), -i)))
    return tuple(turn.index(i) + 1 for i in range(len(at)))


def _first(value: object) -> float:
    return float(np.ravel(np.asarray(value, dtype=np.float64))[0])


def _primers(families: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(f"{family}: {PRIMER[family]}" for family in families))


def _washer(joint: Joint) -> str:
    under = [_first(d) for d in joint.under]
    head, nut = (f"{1000 * d:.0f} mm" for d in under)
    wide = " (wide)" if max(under) >= PENNY * joint.bolt.diameter else ""
    if joint.backing is None:
        return f"{head} under the head, {nut} under the nut{wide}"
    plate = joint.backing
    width, length, thick = (1000 * _first(v) for v in (plate.width, plate.length, plate.thickness))
    return (
        f"{head} under the head, backing plate {width:.0f} x {length:.0f} x {thick:g} mm of {plate.sheet.name} "
        f"under the nuts{wide}"
    )


def joint_rows(joint: Joint, factors: Factors | None = None) -> tuple[HoleRow, ...]:
    """Return a row for every hole of a bolted joint, for the nominal roof.

    The torque is that of `bolts.torque` with K = `bolts.NUT_FACTOR` for the pull of `joints.tightened`. The edge is
    that of the layer with the least to spare.
    """
    tight = _first(tightened(joint, factors or Factors()))
    judged = [layer for _, layer in joint.judged_layers]
    tightest = min(judged, key=lambda layer: _first(layer.edge) - least_edge(joint, layer))
    families = [layer.sheet.family for layer in joint.layers]
    wanted = float(bolts.torque(joint.bolt.diameter, tight))
    at = np.asarray(joint.points, dtype=np.float64)
    points = [(float(x), float(y)) for x, y in (at[0] if at.ndim > 2 else at)]
    turns = crosswise(points)
    thin = any(family in METALS for family in families)
    return tuple(
        HoleRow(
            joint=joint.name,
            number=number,
            x=x,
            y=y,
            fastener=f"{joint.bolt.name} {joint.grade.name}",
            hole=joint.bolt.hole,
            pilot=PILOT if thin else 0.5 * joint.bolt.hole,
            edge=_first(tightest.edge),
            edge_least=least_edge(joint, tightest),
            torque=wanted,
            washer=_washer(joint),
            primer=_primers(families),
            sealant=SEALANT,
            order=turn,
        )
        for number, ((x, y), turn) in enumerate(zip(points, turns, strict=True), 1)
    )


def seam_rows(seam: Seam) -> tuple[HoleRow, ...]:
    """Return a row for every rivet of a seam, spread evenly; every fourth first, then those between."""
    if seam.rivet is None:
        return ()
    families = [layer.sheet.family for layer in seam.layers]
    edge = min(_first(layer.edge) for layer in seam.layers)
    along = np.linspace(0.0, seam.length, seam.count // seam.lines)
    places = [(float(x), line) for line in range(seam.lines) for x in along]
    first = [i for i in range(len(places)) if i % 4 == 0]
    turn = {i: k for k, i in enumerate([*first, *(i for i in range(len(places)) if i % 4)], 1)}
    return tuple(
        HoleRow(
            joint=seam.name,
            number=i + 1,
            x=x,
            y=float(line),
            fastener=seam.rivet.name,
            hole=_first(seam.rivet.hole),
            pilot=min(PILOT, _first(seam.rivet.hole)),
            edge=edge,
            edge_least=1.5 * _first(seam.rivet.diameter),
            torque=None,
            washer="",
            primer=_primers(families),
            sealant=SEALANT_SEAM,
            order=turn[i],
        )
        for i, (x, line) in enumerate(places)
    )


def schedule(parts: Iterable[Joint | Seam], factors: Factors | None = None) -> tuple[HoleRow, ...]:
    """Return every hole of every joint and seam, in the order in which they are given."""
    rows: list[HoleRow] = []
    for part in parts:
        rows += joint_rows(part, factors) if isinstance(part, Joint) else seam_rows(part)
    return tuple(rows)
