"""How far a fold reaches into the van and how far it hangs below the ring, by the slow answer or without cloth."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.fold_places import Standing
from loftwright.answers.fold_quick import Estimate, depth_of, hang_of, rule_of_thumb
from loftwright.answers.held_basis import Basis
from loftwright.answers.kept_walls import KeptPlace
from loftwright.core.motion import Array
from loftwright.core.pattern import XY

LYING: Final = 0.005
"""Cloth that hangs to within this of the boards below lies on them [m]: its own thickness, judgement."""
INSIDE: Final = 0.001
"""From so far inward of the lower line on cloth is inside the van [m]."""


@dataclass(frozen=True, slots=True)
class Reach:
    """The fold's reach at one place, each [rows] [m].

    `tip` that is told, least and greatest `depth` inward of the lower line and `hang` below it. By the slow answer:
    its greatest `push` [N/m] and `lowest` point below the ring [m] of the planned roof, and whether it `lies` on what
    is there; then the greatest hang is what it would be without that.
    """

    tip: Array
    depth: tuple[Array, Array]
    hang: tuple[Array, Array]
    push: float = 0.0
    lies: bool = False
    lowest: float = 0.0


def without_cloth(base: Basis, one: Standing) -> Reach:
    """Return the reach at a place whose cloth is not written yet: its loops are taken to be of no height."""
    limp = np.zeros(base.rows)
    return Reach(rule_of_thumb(base, one), depth_of(base, one, limp), hang_of(base, one, limp))


def hang_below(end: tuple[XY, ...]) -> float:
    """Return how far cloth at rest, inside the van, hangs below the lower line [m]."""
    return max((-z for u, z in end if u > INSIDE), default=0.0)


def kept_reach(base: Basis, one: Standing, kept: KeptPlace, quick: Estimate) -> Reach:
    """Return the reach by the starts of the slow answer that went in, or by all where none did.

    For other roofs it changes as the quick estimate does. Cloth that lies on what is below would hang further if that
    were not there: then the quick bound counts. Where the shell runs along the wall, its depth may be as much as the
    quick bound by the cloth's slanted line.
    """
    picked = [k for k, way in enumerate(kept.ways) if way == "in"] or list(range(len(kept.ways)))
    tips = [(kept.tip or kept.inward)[k] for k in picked]
    hangs = [max(hang_below(kept.ends[k]), 0.0) for k in picked]
    least, most = (quick.tip * end / max(float(quick.tip[0]), 1e-6) for end in (min(tips), max(tips)))
    told = np.asarray(most)
    if one.sheared:
        most = np.maximum(most, quick.depth[1])
    taut = quick.hang[1]
    by = taut / taut[0] if taut[0] > 0.0 else np.zeros_like(taut)
    low, high = (np.asarray(by * end) for end in (min(hangs), max(hangs)))
    lies = bool(taut[0] > 0.0 and max(hangs) > float(base.at("stow.drop")[0]) - LYING)
    if lies or one.sheared:
        high = np.maximum(high, taut)
    return Reach(
        told,
        (np.asarray(least), np.asarray(most)),
        (low, np.asarray(high)),
        max(kept.push[k] for k in picked),
        lies,
        max(hangs),
    )
