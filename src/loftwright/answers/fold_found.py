"""The fold at one place as it is found, and the judgements on it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.fold_job import NO_LAYER, NOTHING_STAYS
from loftwright.answers.fold_places import Standing
from loftwright.answers.fold_quick import CornerFound, Estimate
from loftwright.answers.fold_reach import Reach
from loftwright.answers.held_basis import Basis
from loftwright.answers.kept_walls import KeptPlace
from loftwright.cloth.bundle import bundle_judged, hang_judged, push_judged, tip_judged
from loftwright.cloth.fold_corners import corner_judged
from loftwright.cloth.fold_rules import BUNDLE, HANG, INWARD, PUSH
from loftwright.cloth.fold_ways import LEAST_STARTS, Ways, inward_judged
from loftwright.core.checks import Rule
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array
from loftwright.project.assemble_stow import Lowering, obstacles

WORK_OUT: Final = "work out the fold"
TRY: Final = "try it in cheap cloth: the shell runs so far along this wall that cloth cannot fold along it as reckoned"
OUTWARD: Final = "it leans outward: expect it to fall outside unless drawn in"


@dataclass(frozen=True, slots=True)
class PlaceFound:
    """The fold at one place, each number [rows].

    `tip` inward of the lower line, ends of it and of the hang below the ring in `reach` [m], and `push` on the closed
    shell [N/m]: by the slow answer where `kept` is there, else by the quick one, which is `quick` (None without a
    layer). `thick`: height of the bundle above the ring, `room` above it [m], both by the quick one. `ways`: the runs
    of the slow answer. `loose`: nothing draws it in.
    """

    at: Standing
    quick: Estimate | None
    kept: KeptPlace | None
    ways: Ways
    tip: Array
    reach: Reach
    thick: Array | None
    push: Array | None
    room: Array | None
    loose: bool = False

    @property
    def falls_out(self) -> bool:
        """Whether it leans outward with nothing to draw it in, and nothing better is known."""
        return self.kept is None and self.loose and self.at.leans_out

    @property
    def sure(self) -> bool:
        """Whether it surely goes in: all starts did, or by the quick estimate nothing else can be."""
        if self.at.sheared:
            return False
        if self.kept is not None:
            return self.ways.said == "always in"
        return self.quick is not None and self.quick.sure


def unwritten(rule: Rule, which: str, base: Basis) -> Judged:
    """Return a judgement that waits for the cloth."""
    text = NO_LAYER if not base.project.layer else NOTHING_STAYS
    return Judged(rule, None, None, which, text, "layer")


def place_judged(base: Basis, one: PlaceFound, lower: Lowering) -> tuple[Judged, ...]:
    """Return every judgement on one place; those on cloth that is not written yet wait for it."""
    name = one.at.name
    tips = _tips(one, base)
    if one.quick is None or one.thick is None or one.push is None or one.room is None:
        return (*tips, *(unwritten(rule, name, base) for rule in (INWARD, BUNDLE, HANG, PUSH)))
    drop = base.full(base.at("stow.drop"))
    low, high = one.reach.hang
    hang = hang_judged(high, drop, name)
    bundle = bundle_judged(one.thick, one.room, name)
    if one.kept is None:
        if one.quick.bundle[0][0] <= one.room[0] < one.quick.bundle[1][0] and high[0] > 0.0:
            bundle = replace(bundle, limit=None, unknown=WORK_OUT)
        if low[0] <= drop[0] < high[0]:
            hang = replace(hang, limit=None, unknown=WORK_OUT)
    if one.at.sheared and low[0] <= drop[0] < high[0]:
        hang = replace(hang, limit=None, unknown=TRY)
    return (_inward(one, base), *tips, bundle, hang, push_judged(one.push, lower.push_limit, name))


def _tips(one: PlaceFound, base: Basis) -> tuple[Judged, ...]:
    """Return the greatest reach against what stands inside; not known yet where only the least of it is clear."""
    least, most = (tip_judged(end, obstacles(base.at), one.at.name) for end in one.reach.depth)
    if one.at.sheared:
        return tuple(replace(judged, limit=None, unknown=TRY) for judged in most)
    if one.kept is not None:
        return most
    return tuple(
        replace(judged, limit=None, unknown=WORK_OUT) if _clear(better) and not _clear(judged) else judged
        for better, judged in zip(least, most, strict=True)
    )


def _clear(tip: Judged) -> bool:
    return tip.value is not None and tip.limit is not None and bool(tip.value[0] >= tip.limit[0])


def _inward(one: PlaceFound, base: Basis) -> Judged:
    if one.at.sheared:
        return Judged(INWARD, None, None, one.at.name, TRY)
    if one.kept is not None:
        found = inward_judged(one.ways)
        if found.value is None or found.limit is None:
            return replace(
                found, unknown=f"{WORK_OUT} to its end: {len(one.kept.ways)} of {LEAST_STARTS} starts are done"
            )
        return replace(found, value=base.full(found.value), limit=base.full(found.limit))
    if one.quick is not None and one.quick.sure:
        return against(INWARD, np.ones(base.rows), np.ones(base.rows), one.at.name)
    return Judged(INWARD, None, None, one.at.name, f"{WORK_OUT}; {OUTWARD}" if one.falls_out else WORK_OUT)


def corner_of(corner: CornerFound) -> Judged:
    """Return the corner's judgement; while its room lies within its range, it is not known."""
    found = corner_judged(corner.low, corner.high, corner.room, "corners")
    return replace(found, limit=None) if found.unknown else found
