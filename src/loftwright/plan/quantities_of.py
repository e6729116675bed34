"""How much of what: bolts, rivets, seal, sealant, primer, bars and timber, from plain counts and lengths.

Cloth, film, tape, thread and staples come counted from the answers that lay them out: they are `Part`s as they stand.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import CutPlan, Part, PartGroup
from loftwright.core.motion import Array, array_of
from loftwright.core.trial_frame import Bar
from loftwright.reference.bolts import BOLTS
from loftwright.reference.consumables import (
    BEAD_WASTE,
    BOLT_SPARE,
    CARTRIDGE,
    INCH_LENGTHS,
    METRIC_LENGTHS,
    NUT_HEIGHTS,
    PAINT_WASTE,
    PRIMER_BESIDE,
    PRIMER_SPREAD,
    PRIMER_TIN,
    RIVET_SPARE,
    SEAL_SPARE,
    THREADS_OUT,
)

LITRES: Final = 1000.0
"""Litres in a cubic metre [1/m3]."""


@dataclass(frozen=True, slots=True)
class BoltedJoint:
    """Like bolts through one `grip` [m]: `count` of size `bolt` and class `grade`, washers under head and nut."""

    name: str
    bolt: str
    grade: str
    count: int
    grip: float
    wide: bool = False
    locking: bool = True
    before_cut: bool = True


@dataclass(frozen=True, slots=True)
class RivetedSeam:
    """Rivets along a seam: `length` and `pitch` [m], in so many `lines`; `rivet` is the size in words."""

    name: str
    rivet: str
    length: float
    pitch: float
    lines: int = 1
    before_cut: bool = True


def bolt_length(bolt: str, grip: float, *, locking: bool = True) -> float:
    """Return the length of bolt to buy [m]: the shortest standard one that reaches through.

        l >= grip + 2 t_washer + m_nut + 2 P                                                     (1)

    Parameters
    ----------
    bolt: name of the size.
    grip: thickness of all that is clamped, washers not counted [m].
    locking: whether the nut is self-locking, which is higher.

    Returns
    -------
    Length under the head [m]; beyond the longest standard bolt, the length of threaded rod without its head.

    Source: `BOLT_LENGTHS`, `NUTS`, `LOCK_NUTS`; threads that show are common practice.

    >>> bolt_length("M6", 0.008)  # 8 + 2 x 1.6 + 8 + 2 x 1 = 21.2 mm
    0.025
    """
    if not (math.isfinite(grip) and grip > 0):
        raise Bug(f"{grip} is no grip")
    size = BOLTS[bolt]
    nut = NUT_HEIGHTS[bolt][1 if locking else 0]
    least = grip + 2.0 * size.washer_thick + nut + THREADS_OUT * size.pitch
    lengths = METRIC_LENGTHS if size.thread == "metric" else INCH_LENGTHS
    return next((length for length in lengths if length >= least - 1e-9), least)


def _length_word(bolt: str, length: float) -> str:
    if BOLTS[bolt].thread == "metric":
        return f"{length * 1000:.0f} mm"
    whole, eighths = divmod(round(length / 0.0254 * 8), 8)
    common = math.gcd(eighths, 8)
    part = f"{eighths // common}/{8 // common}" if eighths else ""
    return f"{' '.join(word for word in (str(whole) if whole else '', part) if word)} in"


def _slug(text: str) -> str:
    kept = "".join(letter if letter.isalnum() else "-" for letter in text.lower())
    return "-".join(word for word in kept.split("-") if word)


def bolted(joints: Iterable[BoltedJoint], source: str) -> tuple[Part, ...]:
    """Return bolts, washers and nuts of the `joints`, with `BOLT_SPARE` over; `source` is the answer's key.

    Each bolt has two washers and a nut. Washers and nuts of the same size and grade are put together by `merged`.
    """
    parts = []
    for joint in joints:
        length = bolt_length(joint.bolt, joint.grip, locking=joint.locking)
        long = length > max(METRIC_LENGTHS if BOLTS[joint.bolt].thread == "metric" else INCH_LENGTHS) + 1e-9
        size = f"{joint.bolt} x {_length_word(joint.bolt, length)}"
        kind = "threaded rod" if long else "hexagon bolt"
        washer = "wide washer" if joint.wide else "plain washer"
        nut = "self-locking nut" if joint.locking else "nut"
        for name, count, note in (
            (f"{kind} {size}, {joint.grade}", joint.count * 1, joint.name),
            (f"{washer} {joint.bolt}, to suit {joint.grade}", joint.count * 2, ""),
            (f"{nut} {joint.bolt}, to suit {joint.grade}", joint.count * (2 if long else 1), ""),
        ):
            parts.append(
                Part(
                    _slug(name),
                    name,
                    "fasteners",
                    float(count),
                    "pieces",
                    waste=BOLT_SPARE,
                    source=source,
                    note=note,
                    before_cut=joint.before_cut,
                )
            )
    return tuple(parts)


def rivet_count(length: float, pitch: float, lines: int = 1) -> int:
    """Return how many rivets hold a seam: n = lines (ceil(length / pitch) + 1)   (2).

    Parameters
    ----------
    length: of the seam between its outermost rivets [m].
    pitch: greatest distance between rivets [m].
    lines: side by side [1].

    >>> rivet_count(1.0, 0.05)
    21
    """
    if not (length > 0 and pitch > 0 and lines > 0):
        raise Bug(f"{lines} lines of {length} m at {pitch} m are no seam")
    return lines * (math.ceil(length / pitch - 1e-9) + 1)


def riveted(seams: Iterable[RivetedSeam], source: str, pack: int = 50) -> tuple[Part, ...]:
    """Return the rivets of the `seams`, with `RIVET_SPARE` over, in boxes of `pack`; `source` is the answer's key."""
    return tuple(
        Part(
            _slug(f"rivet {seam.rivet}"),
            f"blind rivet {seam.rivet}",
            "fasteners",
            float(rivet_count(seam.length, seam.pitch, seam.lines)),
            "pieces",
            waste=RIVET_SPARE,
            pack=float(pack),
            sold_as=f"box of {pack}",
            source=source,
            note=seam.name,
            before_cut=seam.before_cut,
        )
        for seam in seams
    )


def seal_part(perimeter: float, source: str, name: str = "rim seal") -> Part:
    """Return the seal for a `perimeter` [m] along its middle line, with `SEAL_SPARE` over, sold by the metre."""
    return Part(_slug(name), name, "seal", perimeter, "m", SEAL_SPARE, 1.0, "by the metre", source)


def bead_volume(length: ArrayLike, diameter: ArrayLike) -> Array:
    """Return the sealant in a round bead.

        V = pi/4 d^2 l                                                                           (3)

    Parameters
    ----------
    length: of the bead [m], [...].
    diameter: d of the bead as it leaves the nozzle [m], [...].

    Returns
    -------
    Volume [m3], [...]. Source: derivation.

    >>> round(float(bead_volume(10.0, 0.006)) * 1000, 4)  # ten metres of a 6 mm bead, in litres
    0.2827
    """
    return np.asarray(np.pi / 4.0 * array_of(diameter) ** 2 * array_of(length))


def sealant_part(volume: float, source: str, name: str = "sealant, permanently elastic") -> Part:
    """Return sealant of a `volume` [m3] net, with `BEAD_WASTE` over, in cartridges."""
    quantity = LITRES * volume
    return Part(
        _slug(name), name, "sealant", quantity, "l", BEAD_WASTE, CARTRIDGE, source=source, packed_in="cartridge"
    )


def edge_area(length: ArrayLike, thickness: ArrayLike, beside: ArrayLike = PRIMER_BESIDE) -> Array:
    """Return the bare metal along a cut edge: the edge itself and a strip on both faces.

        A = l (t + 2 b)                                                                          (4)

    Parameters
    ----------
    length: of the edge [m], [...].
    thickness: t of the sheet [m], [...].
    beside: b, width of the strip on each face [m], [...].

    Returns
    -------
    Area [m2], [...]. Source: derivation.
    """
    return np.asarray(array_of(length) * (array_of(thickness) + 2.0 * array_of(beside)))


def primer_part(area: float, source: str, name: str = "zinc primer", coats: int = 2) -> Part:
    """Return primer for an `area` [m2] of bare metal in so many `coats` [1], with `PAINT_WASTE` over, in small tins."""
    quantity = LITRES * area * coats / PRIMER_SPREAD
    return Part(
        _slug(name),
        name,
        "sealant",
        quantity,
        "l",
        PAINT_WASTE,
        PRIMER_TIN,
        source=source,
        note=f"{coats} coats",
        packed_in="tin",
    )


def bar_parts(plan: CutPlan, section: str, group: PartGroup, source: str) -> tuple[Part, ...]:
    """Return the bars that a cutting plan takes of a `section`, by their length, counted in pieces."""
    lengths = [bar.stock.length for bar in plan.bars]
    return tuple(_bars(section, group, source, length, lengths.count(length)) for length in sorted(set(lengths)))


def timber_parts(bars: Sequence[Bar], source: str) -> tuple[Part, ...]:
    """Return the stock bars of a timber frame, by section and length."""
    kinds = [(bar.thick, bar.deep, bar.length) for bar in bars]
    return tuple(
        _bars(f"softwood {thick * 1000:.0f} x {deep * 1000:.0f} mm", "timber", source, length, kinds.count(kind))
        for kind in sorted(set(kinds))
        for thick, deep, length in (kind,)
    )


def _bars(section: str, group: PartGroup, source: str, length: float, count: int) -> Part:
    sold = f"bar of {length:.4g} m"
    return Part(_slug(f"{section} {sold}"), f"{section}, {sold}", group, float(count), "pieces", 0.0, 1.0, sold, source)
