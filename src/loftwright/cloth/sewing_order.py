"""In which order the walls are sewn, and how much thread, tape and how many staples that takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from loftwright.cloth.allowances import Finish
from loftwright.reference.sewing import (
    OVERSTITCH,
    SHEET_STORED,
    STAPLE_PITCH,
    STITCH_PITCH,
    THREAD_WASTE,
    threads_for,
)


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge or seam that is sewn: its words ("S1, left wall to rear wall"), finish, length [m].

    For a seam `finish` is that of its wide side, and it is listed once.
    """

    name: str
    finish: Finish
    length: float


@dataclass(frozen=True, slots=True)
class Window:
    """A window as it is sewn: its words, its panel, the layers it has, its tape [m] and the stitching round it [m]."""

    name: str
    panel: str
    layers: tuple[str, ...]
    tape: float
    stitched: float


@dataclass(frozen=True, slots=True)
class Work:
    """All that is sewn: panels in their order round the rim, seams, ends (bottom and top edges), windows, layers."""

    panels: tuple[str, ...]
    seams: tuple[Edge, ...]
    ends: tuple[Edge, ...]
    windows: tuple[Window, ...] = ()
    lining: bool = False
    insulation: bool = False
    weight: float = 0.4
    """Weight of the outer cloth [kg/m2]."""
    shrinks: bool = False
    """Whether the outer cloth is cut larger by what it still shrinks."""


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what is done, in plain words, and what to look at."""

    do: str
    look: str = ""


@dataclass(frozen=True, slots=True)
class Amounts:
    """What the sewing takes: seam and stitched length, thread, tape, track, zip [m]; staples least and most."""

    seams: float
    stitched: float
    thread: float
    tape: float
    track: float
    zip: float
    staples: tuple[int, int]


def thread_length(stitched: float, thickness: float, pitch: float) -> float:
    """Return the thread for lock stitches, upper and lower together [m], with `THREAD_WASTE` more.

    Each stitch takes its pitch and half the way through the cloth twice, of either thread: 2 (1 + t / p) L (1).
    `stitched` L, `thickness` t of all layers under the foot and `pitch` p of a stitch, all [m].
    Source: counted from the path of the thread; waste by common practice, no source.

    >>> round(thread_length(10.0, 0.002, 0.004), 2)
    37.5
    """
    if pitch <= 0.0:
        raise ValueError("a stitch has a length")
    return 2.0 * (1.0 + thickness / pitch) * stitched * (1.0 + THREAD_WASTE)


def staples(length: float, pitch: float) -> int:
    """Return how many staples hold a `length` [m] of edge at most `pitch` [m] apart, one at either end."""
    return math.ceil(length / pitch - 1e-9) + 1


def amounts(work: Work, thickness: float) -> Amounts:
    """Return how much the sewing takes; `thickness` [m] is that of all layers under the foot, about four of cloth.

    Stitches are taken at the shortest pitch, so there is thread enough.
    """
    every = (*work.seams, *work.ends)
    stitched = sum(edge.length * len(edge.finish.rows) for edge in every) + sum(w.stitched for w in work.windows)
    stapled = [edge.length for edge in work.ends if edge.finish.kind == "staple strip"]
    return Amounts(
        seams=sum(edge.length for edge in work.seams),
        stitched=stitched,
        thread=thread_length(stitched, thickness, STITCH_PITCH[0]),
        tape=sum(window.tape for window in work.windows),
        track=_length_of(every, "track"),
        zip=_length_of(every, "zip"),
        staples=(sum(staples(a, STAPLE_PITCH[1]) for a in stapled), sum(staples(a, STAPLE_PITCH[0]) for a in stapled)),
    )


def _length_of(edges: Sequence[Edge], kind: str) -> float:
    return sum(edge.length for edge in edges if edge.finish.kind == kind)


def _sewn(edge: Edge) -> Step:
    kind = edge.finish.kind
    if kind.startswith("flat-felled"):
        return Step(
            f"Sew seam {edge.name}: right sides together, stitch line on stitch line, one row on the line. "
            "Fold the wide side round the narrow one, turn its edge under, lay it flat and sew the second row.",
            "The fold points so that water runs over it, not into it.",
        )
    if kind == "lapped seam":
        return Step(f"Sew seam {edge.name}: lap the two pieces line on line, right sides up, one row near either edge.")
    if kind == "zip":
        return Step(f"Set the zip of {edge.name}: turn both edges back on their lines, tape below, two rows each side.")
    return Step(f"Sew seam {edge.name}: right sides together, match marks on each other, one row on the line.")


_ENDS = {
    "hem": "turn the raw edge under, fold on the line and sew near the inner fold",
    "binding": "fold the tape over the cut edge and sew through all layers",
    "staple strip": "fold back on the outer mark and press; it is stapled on its line when the wall is hung",
    "track": "fold round the cord and sew close to it, with the narrow foot",
    "zip": "turn back on the line, lay the tape below and sew two rows",
}


def _wetted(panel: str, windows: Sequence[Window]) -> Step:
    names = " and ".join(one.name for one in windows if one.panel == panel)
    return Step(
        f"Wet and dry the {panel} before {names} {'are' if ' and ' in names else 'is'} sewn in.",
        "Clear sheet and tape do not shrink with the cloth; mark again what the water took, at finished size.",
    )


def order(work: Work) -> tuple[Step, ...]:
    """Return the steps of sewing, first to last, from what there is to sew."""
    found = [
        Step(
            "Wet, dry and measure a test strip of the cloth. Cut all pieces, mark right and wrong side, grain, match "
            "marks and stitch lines on each before the next is cut.",
            "Both side walls are there as mirror images, not twice the same.",
        ),
        Step(
            f"Try thread and needle on a scrap of as many layers as the thickest seam: "
            f"{' or '.join(thread.text() for thread in threads_for(work.weight))}; stitches "
            f"{STITCH_PITCH[0] * 1000:.1f} to {STITCH_PITCH[1] * 1000:.1f} mm (7 to 5 an inch).",
            "The knot of upper and lower thread lies inside the cloth.",
        ),
    ]
    if work.shrinks:
        found += [_wetted(panel, work.windows) for panel in dict.fromkeys(one.panel for one in work.windows)]
    for window in work.windows:
        inner = ", ".join(window.layers)
        found.append(
            Step(
                f"Sew {window.name} into the {window.panel} while the panel is flat: "
                f"{inner} on the wrong side first, then cut the outer cloth, snip its corners, turn and sew it down.",
                SHEET_STORED if "clear sheet" in window.layers else "",
            )
        )
    if work.insulation:
        found.append(
            Step(
                "Tack the insulation to the lining's wrong side, short of corners and creases.", "Nothing in the seams."
            )
        )
    if work.lining:
        found.append(
            Step(
                "Sew the lining's own panels together, right sides together, into a loop of its own.",
                "It is smaller than the outer loop: its own patterns, not copies.",
            )
        )
    found += [_sewn(edge) for edge in work.seams]
    if work.lining:
        found.append(
            Step("Hang the lining in the outer loop, wrong sides together, and tack both along bottom and top.")
        )
    found += [
        Step(f"Finish {edge.name}: {_ENDS[edge.finish.kind]}.") for edge in work.ends if edge.finish.kind in _ENDS
    ]
    found.append(
        Step(
            f"Where a thread broke or ran out, begin again at least {OVERSTITCH * 1000:.0f} mm back, over the "
            "old stitches. Sew forth and back at both ends of each row.",
        )
    )
    found.append(
        Step(
            "Clip the loop to ring and shell by its match marks before anything is stapled or glued.",
            "Signs on cloth, ring and shell are the same all round.",
        )
    )
    return tuple(found)
