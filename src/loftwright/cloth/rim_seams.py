"""Where the seams of the walls stand on both rims, and what the panels between them are called."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from loftwright.cloth.rim_places import steady
from loftwright.cloth.rims import CORNERS, SIDES, Loop
from loftwright.core.motion import Array

SeamPlan = Literal["mid corner", "past the corner", "one strip", "given"]
"""How seams are placed: in the middle of each corner, on a straight beside it, at one place alone, as given."""

PAST = 0.08
"""How far past the end of a corner a seam stands [m]: middle of the usual 60 to 100 mm, judgement."""


@dataclass(frozen=True, slots=True)
class PanelSpan:
    """A panel: its plain name and the numbers of the seams at its left and right, seen from outside."""

    name: str
    left: int
    right: int


@dataclass(frozen=True, slots=True)
class SeamPlaces:
    """Seams in the order of the rim: `names`, arc [m] on the `lower` and `upper` rim, [..., seams], and the panels."""

    names: tuple[str, ...]
    lower: Array
    upper: Array
    panels: tuple[PanelSpan, ...]


def seam_places(
    lower: Loop,
    upper: Loop,
    how: SeamPlan = "mid corner",
    *,
    past: float = PAST,
    onto: Literal["sides", "ends"] = "sides",
    strip_at: str = "rear",
    split: Sequence[str] = (),
    given: Sequence[float] = (),
) -> SeamPlaces:
    """Return matching places of the seams on the `lower` and the `upper` rim.

    "mid corner": half-way round each corner by arc length on each rim. "past the corner": `past` [m] beyond the end of
    each corner, `onto` the long sides or the ends. "one strip": one seam in the middle of the straight `strip_at`, one
    of `SIDES`. "given": at the lengths `given` [m] along row 0 of the lower rim. `split`: straights that have one more
    seam in their middle. A middle of a straight is half-way between its corners' ends. A given place goes to the upper
    rim by its share between the middles of the corners around it (1), and to other rows by its share between the
    ends of corners. ValueError for a place past the middle of a straight, a straight unknown, two seams at one place,
    or none at all. Source: derivation.
    """
    rims = (lower, upper)
    unknown = [name for name in (*split, strip_at) if name not in SIDES]
    if unknown:
        raise ValueError(f"no straight of a rim is called {unknown[0]!r}: take one of {', '.join(SIDES)}")
    names: list[str] = []
    places: list[tuple[Array, Array]] = []
    if how == "mid corner":
        names += CORNERS
        middles = [loop.corner_middles() for loop in rims]
        places += [(middles[0][..., k], middles[1][..., k]) for k in range(4)]
    elif how == "past the corner":
        for k, name in enumerate(CORNERS):
            # On the sides: beyond the rear right corner, before the front right one, and so on; on the ends the others.
            beyond = (k % 2 == 0) is (onto == "sides")
            names.append(f"past the {name}")
            places.append((_past(lower, k, past, beyond=beyond), _past(upper, k, past, beyond=beyond)))
    elif how == "given":
        matched = _matched(lower, upper, np.array(given, dtype=np.float64))
        names += [f"seam {k + 1}" for k in range(len(given))]
        places += [(matched[0][..., k], matched[1][..., k]) for k in range(len(given))]
    for side in (*((strip_at,) if how == "one strip" else ()), *split):
        names.append(f"{side} middle")
        places.append((_middle(lower, side), _middle(upper, side)))
    if not places:
        raise ValueError("the walls need at least one seam")
    shapes = [np.broadcast_shapes(*(np.shape(pair[rim]) for pair in places)) for rim in (0, 1)]
    arcs = [np.stack([np.broadcast_to(pair[rim], shapes[rim]) for pair in places], axis=-1) for rim in (0, 1)]
    # Counted from the start of the lower rim and in its order; the upper ones by as many laps: pairs stay pairs.
    lap = np.floor(_row(arcs[0]) / lower.row().perimeter + 1e-9)
    arcs = [arc - lap * loop.perimeter[..., None] for arc, loop in zip(arcs, rims, strict=True)]
    order = np.argsort(_row(arcs[0]), kind="stable")
    low, high = (arc[..., order] for arc in arcs)
    gaps = [
        np.diff(_row(arc), append=_row(arc)[0] + loop.row().perimeter)
        for arc, loop in zip((low, high), rims, strict=True)
    ]
    if any(bool(np.any(gap < 1e-6)) for gap in gaps):
        raise ValueError("two seams stand at one place, or change order between the rims")
    return SeamPlaces(tuple(names[k] for k in order), low, high, _panels(lower.row(), _row(low)))


def _row(values: Array) -> Array:
    return np.asarray(values.reshape(-1, values.shape[-1])[0])


def _straight(loop: Loop, side: str) -> tuple[Array, Array]:
    """Return where a straight begins and ends [m], [...]; the rear one begins before the rim's start."""
    begin, end = loop.corner_arcs()
    k = SIDES.index(side)
    if k == 0:
        return np.asarray(end[..., 3] - loop.perimeter), np.asarray(begin[..., 0])
    return np.asarray(end[..., k - 1]), np.asarray(begin[..., k])


def _middle(loop: Loop, side: str) -> Array:
    begin, end = _straight(loop, side)
    return np.asarray((begin + end) / 2.0)


def _past(loop: Loop, corner: int, past: float, *, beyond: bool) -> Array:
    begin, end = _straight(loop, SIDES[(corner + 1) % 4] if beyond else SIDES[corner])
    if past < 0.0 or np.any(past >= (end - begin) / 2.0):
        raise ValueError("a seam past the corner must stay short of the middle of the straight")
    return np.asarray(begin + past if beyond else end - past)


def _matched(lower: Loop, upper: Loop, given: Array) -> tuple[Array, Array]:
    """Return given places of row 0 of the lower rim [m], [k], in all rows of both rims, [..., k]."""
    rows = lower.row(), upper.row()
    middles = [loop.corner_middles() for loop in rows]
    if np.any(given < 0.0) or np.any(given >= rows[0].perimeter):
        raise ValueError("a given seam must lie between nought and the length of the lower rim")
    around = [
        np.concatenate([m[-1:] - loop.perimeter, m, m[:1] + loop.perimeter])
        for m, loop in zip(middles, rows, strict=True)
    ]
    return steady(lower, given), steady(upper, np.interp(given, around[0], around[1]))


def _panels(loop: Loop, seams: Array) -> tuple[PanelSpan, ...]:
    """Return the panels from each seam to the next, named by the straights that they hold."""
    around = float(loop.perimeter)
    spans = [
        (float(seams[k]), float(seams[k + 1]) if k + 1 < seams.size else float(seams[0]) + around)
        for k in range(seams.size)
    ]
    straights = {side: tuple(float(v) for v in _straight(loop, side)) for side in SIDES}
    names, middles = [], []
    for a, b in spans:
        shares = {}
        for side, (begin, end) in straights.items():
            size = max(end - begin, 1e-9 * around)
            shares[side] = sum(max(0.0, min(b, end + n * around) - max(a, begin + n * around)) for n in (0, 1)) / size
        held = [side for side in SIDES if shares[side] > 0.5 + 1e-9] or [max(SIDES, key=lambda side: shares[side])]
        names.append("whole wall" if seams.size == 1 else f"{' and '.join(held)} wall")
        middles.append((held[0], (a + b) / 2.0))
    many = Counter(names)
    whole = []
    for k, name in enumerate(names):
        if many[name] == 1:
            whole.append(name)
            continue
        alike = [m for m, other in enumerate(names) if other == name]
        side = middles[k][0]
        # A rim goes from left to right over the rear, from rear to front over the right, and so on.
        begin = straights[side][0]
        alike.sort(key=lambda m: (middles[m][1] - begin + around / 4.0) % around)
        ends = {
            "rear": ("left", "right"),
            "right": ("rear", "front"),
            "front": ("right", "left"),
            "left": ("front", "rear"),
        }
        place = alike.index(k)
        whole.append(f"{name}, {ends[side][place]} half" if len(alike) == 2 else f"{name}, part {place + 1}")
    return tuple(PanelSpan(name, k, (k + 1) % seams.size) for k, name in enumerate(whole))
