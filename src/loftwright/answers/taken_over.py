"""What the answer on the walls says about the other forces of the balance, ready to be written into the file.

Nothing is written by itself: faces offer it, and only for what the file takes for granted. What was measured, read
off a label or decided is not replaced by what is reckoned. A range holds nine of ten drawn roofs.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, even
from loftwright.core.wording import Wording
from loftwright.project.model import key_of, walk

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers

ENDS: Final = (5.0, 95.0)
"""Ends of the range that is written [percent of the draws]."""
STEPS: Final = {
    "forces.cloth_mass": 0.1,
    "forces.fold_push": 0.1,
    "forces.trapped_air": 1.0,
    "forces.cloth_tension": 1.0,
}
"""To what each is rounded, outward: [kg], [N/m], [N], [N/m]."""
WHAT: Final = {
    "forces.cloth_mass": "The cloth as cut times its weight, with sheet and curtains, without what is taken down",
    "forces.fold_push": "What the folded walls push, spread over the whole lower line",
    "forces.trapped_air": "Pressure under the shell as it comes down, times the area within its line",
    "forces.cloth_tension": "What the top stop and the springs pull the open cloth with, dry to wet",
}


@dataclass(frozen=True, slots=True)
class TakenOver:
    """One number for the file: its `path`, the `text` of the quantity, and what it is and replaces in a `sentence`."""

    path: str
    text: str
    sentence: str


def taken_over(walls: WallNumbers) -> tuple[TakenOver, ...]:
    """Return what could be written into the file, those only that can be said and that the file does not know."""
    says = walk(walls.project)
    open_ones = {path: ends for path, ends in _ranges(walls).items() if says[path].is_open}
    made = (_one(walls, path, low, high) for path, (low, high) in open_ones.items())
    return tuple(one for one in made if one is not None)


def left_alone(walls: WallNumbers) -> tuple[str, ...]:
    """Return a sentence for each number of the file that stays as it is, as it was measured or written down."""
    say, says = Wording(walls.project.settings.units), walk(walls.project)
    found = []
    for path in _ranges(walls):
        value = says[path]
        if value.is_open:
            continue
        said = say.ranged(value, key_of(path).dimension, origin=True)
        found.append(f"{WHAT[path]}: nothing is offered, as the file knows it ({said}).")
    return tuple(found)


def as_changes(walls: WallNumbers) -> dict[str, str | int | bool | None]:
    """Return the same as `project.file.edit` takes it."""
    return {one.path: one.text for one in taken_over(walls)}


def _ranges(walls: WallNumbers) -> dict[str, tuple[Array, Array]]:
    """Return for every path least and greatest value of each row [SI]."""
    fold, panels = walls.found.fold, walls.found.panels
    found: dict[str, tuple[Array, Array]] = {}
    if walls.found.metres.moving is not None:
        found["forces.cloth_mass"] = walls.found.metres.moving
    push = fold_push(walls)
    if push is not None:
        found["forces.fold_push"] = push
    if fold.places:
        lift = np.maximum(fold.air.lift, 0.0)
        found["forces.trapped_air"] = (lift, lift)
    dry, wet = (np.broadcast_to(v, fold.perimeter.shape) for v in (panels.tension.pull.dry, panels.tension.pull.wet))
    if np.all(np.isfinite(dry)) and np.all(np.isfinite(wet)):
        # Where a prop holds the roof up it may be more: springs alone pull no harder than this.
        low, high = (np.minimum(one, panels.tension.most) for one in (np.minimum(dry, wet), np.maximum(dry, wet)))
        found["forces.cloth_tension"] = (low, high)
    return found


def fold_push(walls: WallNumbers) -> tuple[Array, Array] | None:
    """Return least and greatest push of the folded walls per metre of the lower line [N/m], [rows] each.

    Of each place the slow answer's least and greatest times its length of the line, added up over the whole line (1).
    Corners are left out. None where nothing folds, without a [[layer]], and before the fold was worked out for the
    project as it is: the quick estimate is too rough to choose springs by.
    """
    fold = walls.found.fold
    low, high = np.zeros(fold.perimeter.shape), np.zeros(fold.perimeter.shape)
    for one, length in zip(fold.places, fold.lengths, strict=True):
        if one.kept is None or one.push is None:
            return None
        least = np.minimum(min(one.kept.push), one.push)
        low, high = low + length * least, high + length * one.push
    if not fold.places:
        return None
    return np.asarray(low / fold.perimeter), np.asarray(high / fold.perimeter)


def _one(walls: WallNumbers, path: str, low: Array, high: Array) -> TakenOver | None:
    """Return one number for the file, rounded outward and kept within what the key allows."""
    drawn = walls.rows.draws
    rows = drawn if drawn.stop > drawn.start else slice(0, 1)
    least = float(np.percentile(np.asarray(low)[rows], ENDS[0]))
    most = float(np.percentile(np.asarray(high)[rows], ENDS[1]))
    if not np.isfinite(least) or not np.isfinite(most):
        return None
    key, step = key_of(path), STEPS[path]
    ends = [np.floor(least / step + 1e-9) * step, np.ceil(most / step - 1e-9) * step]
    first, last = (float(np.clip(round(float(end), 6), key.low, key.high)) for end in ends)
    units = walls.project.settings.units
    text = format_quantity(even(first, last, Provenance.ASSUMED), key.dimension, units, digits=3)
    before = Wording(units).ranged(walk(walls.project)[path], key.dimension, origin=True)
    return TakenOver(path, text, f"{WHAT[path]}; it replaces {before}.")
