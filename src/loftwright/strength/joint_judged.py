"""How much of a bolted joint is used, way by way, and what is said of it. None of it is a crash assessment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Rule
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.strength import bolts, joint_rules, thin_sheet
from loftwright.strength.bolt_groups import BoltForces
from loftwright.strength.joints import (
    METALS,
    THIN,
    Factors,
    Joint,
    Layer,
    bearing_limit,
    held_diameter,
    pull_limit,
    shared,
    tightened,
)
from loftwright.strength.unlike_metals import judge_unlike, touching

SOFT_EDGE: Final = {"laminate": 3.0, "plywood": 4.0, "foam": 0.0}
"""Least edge distance over the bolt's diameter in other sheets than metal [1]; judgement."""
SOFT_SPACING: Final = 4.0
"""Least spacing over the bolt's diameter where a sheet is no metal [1]; judgement."""
THIN_EDGE: Final = 1.5
THIN_SPACING: Final = 3.0
"""Least edge distance and spacing in thin metal over the fastener's diameter [1]; AISI S100 J4."""
MOST_USED: Final = 100.0
"""Share beyond which it does not matter how far a way of giving is over its limit [1]."""


@dataclass(frozen=True, slots=True)
class Mode:
    """One way in which a joint gives: the worst bolt's `value` [..., rows], its `limit` [rows], and the layer's name.

    Axes before the rows are cases of load.
    """

    rule: Rule
    layer: str
    value: Array
    limit: Array

    @property
    def use(self) -> Array:
        """Share used [1], [..., rows]; 1 is the limit. A layer that bears nothing is used `MOST_USED` times."""
        bears = np.maximum(self.limit, np.finfo(np.float64).tiny ** 0.5)
        return np.asarray(np.minimum(self.value / bears, MOST_USED))


@dataclass(frozen=True, slots=True)
class JointUse:
    """What a load does to a joint: every way it can give, and what each bolt carries."""

    modes: tuple[Mode, ...]
    bolts: BoltForces

    @property
    def use(self) -> Array:
        """Share used of the way that gives first [1], [..., rows]."""
        return np.asarray(np.max(np.broadcast_arrays(*(mode.use for mode in self.modes)), axis=0))

    @property
    def load_factor(self) -> Array:
        """By what the load may be multiplied until the first limit [1], [..., rows]; infinite without a load."""
        return np.asarray(np.divide(1.0, self.use, out=np.full(self.use.shape, np.inf), where=self.use > 0.0))

    @property
    def governing(self) -> Mode:
        """The way that gives first in the nominal row, under whichever case of load is worst."""
        return max(self.modes, key=lambda mode: float(np.atleast_1d(mode.use)[..., 0].max()))


def _worst(values: Array) -> Array:
    return np.asarray(values.max(axis=-1))


def _sheet_modes(joint: Joint, forces: BoltForces, factors: Factors) -> list[Mode]:
    modes = []
    shear, pull = _worst(forces.shear), _worst(forces.pull)
    last = len(joint.layers) - 1
    for i, layer in joint.judged_layers:
        if layer.share > 0.0:
            modes.append(
                Mode(joint_rules.TEARS, layer.sheet.name, shear * layer.share, bearing_limit(joint, layer, factors))
            )
        for side in (side for side, end in enumerate((0, last)) if end == i):
            modes.append(
                Mode(joint_rules.PULLS_THROUGH, layer.sheet.name, pull, pull_limit(joint, layer, side, factors))
            )
            if layer.sheet.family in METALS and float(np.min(layer.thickness)) < THIN:
                modes.append(_both(joint, layer, side, forces, factors))
    return modes


def _both(joint: Joint, layer: Layer, side: int, forces: BoltForces, factors: Factors) -> Mode:
    wide, t = held_diameter(joint, layer, side), np.asarray(layer.thickness, dtype=np.float64)
    used = thin_sheet.shear_and_pull_over(
        forces.shear * layer.share,
        forces.pull,
        joint.bolt.diameter,
        wide[..., None],
        t[..., None],
        layer.sheet.tensile,
        np.asarray(factors.both, dtype=np.float64)[..., None],
    )
    worst = np.where(t < THIN, _worst(used), 0.0)
    return Mode(joint_rules.SKIN_TOGETHER, layer.sheet.name, worst, np.asarray(1.0))


def _bending(joint: Joint, layer: Layer, side: int, forces: BoltForces, factors: Factors) -> Mode:
    reach = np.asarray(layer.reach, dtype=np.float64)
    patch = 0.5 * held_diameter(joint, layer, side)
    stress = thin_sheet.group_bending(joint.points, forces.pull, patch, reach, layer.thickness)
    return Mode(joint_rules.PEELS, layer.sheet.name, stress, np.asarray(layer.sheet.bends / factors.laminate))


def use_of(joint: Joint, force: ArrayLike, moment: ArrayLike, factors: Factors | None = None) -> JointUse:
    """Return how much of a joint is used by a load, way by way.

    Parameters
    ----------
    joint: what is bolted.
    force, moment: on the plate, along its axes, at its origin [N] and [N m], each [..., rows, 3] or [3]; axes before
        the rows are cases of load.
    factors: of safety; the usual ones where none are given.

    Returns
    -------
    Every way that can be computed, with the load on each bolt. Friction is not relied upon. Every use grows in
    proportion to the load, so the factor at the limit is 1 over the greatest.
    """
    chosen = factors or Factors()
    forces = shared(joint, force, moment)
    grade, area, gamma = joint.grade, joint.bolt.stress_area, chosen.bolt * chosen.action
    sheared = bolts.shear_resistance(area, grade.tensile, grade.shear, gamma)
    pulled = bolts.tension_resistance(area, grade.tensile, gamma)
    modes = [
        Mode(joint_rules.SHEAR, joint.bolt.name, _worst(forces.shear), sheared),
        Mode(joint_rules.TENSION, joint.bolt.name, _worst(forces.pull), pulled),
        Mode(
            joint_rules.TOGETHER,
            joint.bolt.name,
            _worst(bolts.together(forces.shear, sheared[..., None], forces.pull, pulled[..., None])),
            np.asarray(1.0),
        ),
        *_sheet_modes(joint, forces, chosen),
    ]
    last = len(joint.layers) - 1
    for i, layer in joint.judged_layers:
        if layer.sheet.family == "laminate" and layer.reach is not None and i in (0, last):
            modes.append(_bending(joint, layer, 1 if i == last else 0, forces, chosen))
    return JointUse(tuple(modes), forces)


def least_edge(joint: Joint, layer: Layer) -> float:
    """Return the least distance from a hole's centre to a layer's edge [m]."""
    if layer.sheet.family in METALS:
        return max(bolts.EDGE * joint.bolt.hole, THIN_EDGE * joint.bolt.diameter)
    return SOFT_EDGE[layer.sheet.family] * joint.bolt.diameter


def least_spacing(joint: Joint) -> float:
    """Return the least distance between two holes [m]."""
    if all(layer.sheet.family in METALS for layer in joint.layers):
        return max(bolts.SPACING * joint.bolt.hole, THIN_SPACING * joint.bolt.diameter)
    return SOFT_SPACING * joint.bolt.diameter


def judge_use(joint: Joint, found: JointUse, factors: Factors | None = None) -> tuple[Judged, ...]:
    """Put every rule of a bolted joint to what `use_of` has `found` of it."""
    chosen = factors or Factors()
    judged = [
        Judged(mode.rule, *_rows(_case(mode.value), mode.limit), which=f"{joint.name}, {mode.layer}")
        for mode in found.modes
    ]
    last = len(joint.layers) - 1
    for i, layer in joint.judged_layers:
        which = f"{joint.name}, {layer.sheet.name}"
        if layer.sheet.family == "laminate" and layer.reach is None and i in (0, last):
            measure = f"measure how far the next rib or corner lies from the bolts of {joint.name}"
            judged.append(Judged(joint_rules.PEELS, None, None, which, measure, "reach", i))
        judged.append(Judged(joint_rules.EDGE_NEAR, *_rows(layer.edge, least_edge(joint, layer)), which=which))
    if joint.count > 1:
        judged.append(Judged(joint_rules.HOLES_CLOSE, *_rows(joint.spacing, least_spacing(joint)), which=joint.name))
    judged.append(
        Judged(
            joint_rules.WORKS_LOOSE, *_rows(tightened(joint, chosen), _case(_worst(found.bolts.pull))), which=joint.name
        )
    )
    stack = [layer.sheet.family for layer in joint.layers]
    judged.append(judge_unlike(joint.name, touching(stack, joint.grade.metal), joint.isolated))
    return tuple(judged)


def judge_written(missing: Sequence[str], rows: int) -> Judged:
    """Return whether the bolts of every joint are written down, over `rows` [1]; not known while any are `missing`."""
    count = np.full(rows, float(len(missing)))
    if not missing:
        return Judged(joint_rules.NOT_WRITTEN, count, np.zeros(rows))
    measure = f"count and measure the bolts there: {', '.join(missing)}"
    return Judged(joint_rules.NOT_WRITTEN, count, None, unknown=measure)


def _case(value: Array) -> Array:
    """Return the greatest over all cases of load, [rows]."""
    return np.asarray(value.max(axis=tuple(range(value.ndim - 1)))) if value.ndim > 1 else value


def _rows(value: ArrayLike, limit: ArrayLike) -> tuple[Array, Array]:
    a, b = np.broadcast_arrays(
        np.atleast_1d(np.asarray(value, dtype=np.float64)), np.atleast_1d(np.asarray(limit, dtype=np.float64))
    )
    return np.array(a), np.array(b)
