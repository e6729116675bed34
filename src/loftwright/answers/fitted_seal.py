"""The seal under the rim: how long, what it must fill, what it pushes with, and where water stands along it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.held_fit import sits
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.core.wording import Wording
from loftwright.fitout.seal import (
    Gaps,
    SealCurve,
    gaps_to_fill,
    joint_station,
    latch_pull,
    parked,
    push,
    seal_length,
    squeezed,
    standing_water,
    wet_length,
)
from loftwright.fitout.seal_rules import bends, joint_dry, runs_off
from loftwright.project.assemble_riding import seal_given
from loftwright.project.assemble_road import latch_line
from loftwright.project.plane import CROSSWISE
from loftwright.strength.fit_surfaces import Surface

BESIDE: Final = 0.03
"""So far outside the seal the roof is looked at, whether it falls away [m]: judgement."""
RUNS: Final = 0.01
"""A roof that falls away from the seal by so much lets water off [1]: judgement, one in a hundred."""
LEANS: Final = (
    (1.0, 1.0, "nose up and left side up"),
    (1.0, -1.0, "nose up and right side up"),
    (-1.0, 1.0, "nose down and left side up"),
    (-1.0, -1.0, "nose down and right side up"),
)
"""How the parked van may lean: signs of pitch and roll, in words."""
JOINTED: Final = (
    "On arms or in guides the latches' share of the seal's push is reckoned as if the rim turned about its far end."
)
STOPS: Final = "The seal is taken squeezed as far as the stops let the rim down."
RUNS_OFF: Final = "Water that can run off the roof beside the seal is not counted as standing; ribs are left out."


@dataclass(frozen=True, slots=True)
class SealFound:
    """The seal, arrays [rows] unless said otherwise.

    `length` round the rim and `radius` of its corners [m]; `gaps` that it must fill [m]; `curve` of its force, from a
    sample on scales where `sampled`; `squeeze`, mean over the rim [m]; `line`, mean force per length [N/m]; `force` of
    the whole seal [N] and `latch`, what each latch holds of it [N]; `x`, `y` and `step` of the stations [m], [rows,
    stations]; `lean` in words is the way the parked van leans that leaves most water standing, `wet` where it then
    stands [rows, stations], `wet_length` [m]; `joint`: station at which the ends meet.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    length: Array
    radius: Array
    gaps: Gaps
    free: Array
    curve: SealCurve
    sampled: bool
    squeeze: Array
    line: Array
    force: Array
    latch: Array
    x: Array
    y: Array
    step: Array
    lean: str
    wet: Flags
    wet_length: Array
    joint: int


def the_seal(base: Basis) -> SealFound:
    """Return the seal with its judgements."""
    project, at = base.project, base.at
    fit, given = sits(base), seal_given(project, at)
    rim = fit.shapes.rim
    length = base.full(seal_length(rim.length, rim.width, rim.radius))
    step = steps(np.broadcast_to(fit.stations.arc, fit.seal_height.shape), length)
    x = np.broadcast_to(fit.stations.x + fit.seat.shift[:, None], fit.seal_height.shape)
    y = np.broadcast_to(fit.stations.y, x.shape)
    squeeze = squeezed(base.full(given.free), fit.seal_height)
    wide = SealCurve(*(base.full(v)[:, None] for v in (given.curve.at, given.curve.force_at, given.curve.power)))
    along = at("opening.width")[:, None] / 2 - y if base.plane is CROSSWISE else x
    pushed = push(wide, squeeze, step, along)
    held = held_at(base)
    latch_x, _ = latch_line(project, at, base.roof)
    pull = latch_pull(pushed, held, latch_x, project.latches.count)
    lean, wet = _water(base, fit.roof_height, fit.shapes.roof, (x, y))
    joint = joint_station(x[0], fit.roof_height[0])
    line = np.asarray(pushed.force / length)
    return SealFound(
        judged=(
            bends(base.full(rim.radius), base.full(at("seal.bend"))),
            runs_off(wet, step),
            joint_dry(wet, step, joint),
        ),
        said=_said(base, given.sampled, line),
        length=length,
        radius=base.full(rim.radius),
        gaps=gaps_to_fill(fit.seal_height, fit.seal_height),
        free=base.full(given.free),
        curve=given.curve,
        sampled=given.sampled,
        squeeze=np.asarray((squeeze * step).sum(axis=-1) / length),
        line=line,
        force=pushed.force,
        latch=base.full(pull),
        x=x,
        y=y,
        step=step,
        lean=lean,
        wet=wet,
        wet_length=wet_length(wet, step),
        joint=joint,
    )


def steps(arc: Array, length: Array) -> Array:
    """Return the length of rim that each station stands for [m], [rows, k]: half of the way to either neighbour.

    `arc` of the stations [m], [rows, k], rising round a loop of `length` [m], [rows].
    """
    ahead = np.diff(arc, axis=-1, append=arc[..., :1] + length[..., None])
    return np.asarray((ahead + np.roll(ahead, 1, axis=-1)) / 2.0)


def held_at(base: Basis) -> Array:
    """Return where the closed shell turns as its latches draw it down, in the plane of motion [m], [rows].

    Its hinge; of any other roof the end of the rim away from the latches.
    """
    if base.roof.travel.hinged:
        return base.roof.pins.shell[0][0]
    rim = base.roof.rim
    rear, front = rim.rear, rim.rear + rim.length
    return np.asarray(np.where(np.abs(base.roof.lip[0] - rear) < np.abs(base.roof.lip[0] - front), front, rear))


def _water(base: Basis, height: Array, roof: Surface, place: tuple[Array, Array]) -> tuple[str, Flags]:
    """Return the lean of the parked van that leaves most water along the seal, and where it then stands."""
    x, y = place
    nx, ny = outward(x, y)
    falls = (roof.height(x + BESIDE * nx, y + BESIDE * ny) - roof.height(x, y)) / BESIDE
    lean = base.full(base.at("water.parked"))

    def stands(signs: tuple[float, float], rows: slice) -> Flags:
        pitch, roll = signs[0] * lean[rows], signs[1] * lean[rows]
        leaning = parked(height[rows], x[rows], y[rows], pitch, roll)
        away = falls[rows] + nx[rows] * np.sin(pitch)[:, None] + ny[rows] * np.sin(roll)[:, None]
        return standing_water(leaning, (away < -RUNS).astype(np.float64))

    first = slice(0, 1)
    worst = max(LEANS, key=lambda one: int(stands((one[0], one[1]), first).sum()))
    return worst[2], stands((worst[0], worst[1]), slice(None))


def outward(x: Array, y: Array) -> tuple[Array, Array]:
    """Return the unit vector out of a loop that runs counter-clockwise seen from above [1], each [..., k].

    `x`, `y` of its stations [m], [..., k], x to the cab and y to the left.
    """
    tx, ty = (np.roll(v, -1, axis=-1) - np.roll(v, 1, axis=-1) for v in (x, y))
    size = np.maximum(np.hypot(tx, ty), 1e-9)
    return np.asarray(ty / size), np.asarray(-tx / size)


def _said(base: Basis, sampled: bool, line: Array) -> tuple[str, ...]:
    say = Wording(base.project.settings.units)
    said = [STOPS, RUNS_OFF]
    if not base.roof.travel.hinged:
        said.append(JOINTED)
    if not sampled:
        said.append(
            "No sample of the seal was squeezed on scales: its force is that of [forces] seal_line, taken to rise "
            "straight with the squeeze."
        )
        return tuple(said)
    took = base.project.forces.seal_line.nominal
    said.append(
        f"By the sample the seal pushes {_per(line[0], say)} of rim, mean over the seated rim; the balance reckons "
        f"with {_per(took, say)}."
    )
    return tuple(said)


def _per(force: float, say: Wording) -> str:
    return say.rule_value(float(force), "N/m")
