"""The shell itself: how far its lip droops when it is open, and its sides rise when it is closed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.mechanics.feel import side_moment
from loftwright.project.assemble_road import seal_room
from loftwright.project.assemble_shell import ShellStiffness
from loftwright.project.shell_tested import doubts_of_tests
from loftwright.strength.shell_hung import lip_droop, side_rise, twist_angle, upward_line
from loftwright.strength.shell_rules import judge_sag, judge_sides, judge_test, judge_twist

CANTILEVER: Final = 8 / 1.8751**4
"""Seal under a cantilever over the same seal under one that moves alike all along [1]: its lowest bending shape."""
SHORTEST: Final = 0.3
"""A shell is held no closer than this between its hinges or arms and its latches [m]: judgement."""
BEAM_NOTE: Final = (
    "The shell counts as a beam between its hinges or arms and its latches, and as one that hangs over beyond them; "
    "the seal is judged as if the rim fits."
)


@dataclass(frozen=True, slots=True)
class ShellFound:
    """The shell hung and latched, arrays [rows].

    `droop` of the raised lip [m] below the line from hinges to spring heads, which end `beyond` [m] before the lip
    (None without hinges or without springs on the shell); `rise` [m] at mid-side on the road against `room` [m] of
    the seal; `twist` [rad] from end to end with all springs of one side lost (None where the stiffness is not known,
    or without springs); `bending` EI [N m2].
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    droop: Array | None
    beyond: Array | None
    rise: Array
    room: Array
    twist: Array | None
    bending: Array


def _hung(base: Basis, stiff: ShellStiffness) -> tuple[Array, Array] | None:
    """Return droop of the raised lip and the length beyond the spring heads [m]; None where springs hold no shell."""
    roof, towards = base.roof, []
    for fitted, force in zip(roof.fitted, base.felt.end_force, strict=True):
        mount = fitted.mount
        if "shell" in (mount.head_on, mount.foot_on):
            x = mount.head_x if mount.head_on == "shell" else mount.foot_x
            towards.append((np.abs(x - roof.pins.shell[0][0]), mount.count * force[..., -1]))
    if not roof.travel.hinged or not towards:
        return None
    whole = sum((push for _, push in towards), start=np.zeros(base.rows))
    reach = np.abs(roof.lip[0] - roof.pins.shell[0][0])
    to_heads = sum((x * push for x, push in towards), start=np.zeros(base.rows)) / np.maximum(whole, 1e-9)
    to_heads = np.clip(to_heads, 0.05 * reach, reach)
    beyond = reach - to_heads
    load = roof.body.mass * STANDARD_GRAVITY / base.roof.rim.length
    cloth = base.at("forces.cloth_tension") * base.at(base.plane.shell_across)
    return lip_droop(load, cloth, to_heads, beyond, stiff.bending), beyond


def _twisted(base: Basis) -> Array | None:
    """Return the moment that twists the shell when the springs of one side are lost [N m]; None without springs."""
    roof, felt = base.roof, base.felt
    if not roof.travel.hinged or not roof.fitted:
        return None
    one = np.ones(base.rows)
    return np.asarray(np.max([side_moment(roof, felt, i, one).max(axis=-1) for i in range(len(roof.fitted))], axis=0))


def _risen(base: Basis, places: Array, lifting: Array, bending: Array, springy: Array) -> Array:
    """Return how far the closed shell rises between the `places` where it is held, and beyond the outer ones [m].

    `places` [m], [rows, n], in order. Each length between two is taken as a beam of its own, on the safe side; an end
    beyond the outer one hangs over the length next to it, with its seal as on a cantilever of that shape.
    """
    gaps = np.maximum(np.diff(places, axis=-1), SHORTEST)
    between = side_rise(lifting, gaps.max(axis=-1), bending, seal_stiffness=springy)
    rear, front = base.full(base.roof.rim.rear), base.full(base.roof.rim.rear + base.roof.rim.length)
    rise = between
    for beyond, next_to in ((places[:, 0] - rear, gaps[:, 0]), (front - places[:, -1], gaps[:, -1])):
        give = lip_droop(1.0, 0.0, next_to, np.maximum(beyond, 0.0), bending)
        rise = np.maximum(rise, lifting * give / (1 + CANTILEVER * springy * np.maximum(give, 0.0)))
    return np.asarray(rise)


def shell_itself(base: Basis, stiff: ShellStiffness, latch_x: Array, pressure: Array) -> ShellFound:
    """Return the shell's own sag, twist and rise; `latch_x` [m] and the road's `pressure` [Pa] are [rows]."""
    roof, at = base.roof, base.at
    width, line = at(base.plane.shell_across), at("forces.seal_line")
    suction = (at("road.suction") + at("road.under")) * pressure
    weight = roof.body.mass * STANDARD_GRAVITY / base.roof.rim.length
    springy = 2 * line / at("forces.seal_height")
    places = np.sort(np.stack([base.full(x) for x in (latch_x, *(x for x, _ in roof.pins.shell))], axis=-1), axis=-1)
    rise = _risen(base, places, upward_line(line, suction, width, weight), stiff.bending, springy)
    room = seal_room(at)
    judged, droop, beyond = [judge_sides(base.full(rise), base.full(room))], None, None
    hung, moment, twist = _hung(base, stiff), _twisted(base), None
    if hung is not None:
        droop, beyond = (base.full(value) for value in hung)
        judged.append(judge_sag(droop, beyond))
    if moment is not None:
        if stiff.twist is not None:
            twist = base.full(twist_angle(moment, base.roof.rim.length, stiff.twist))
        judged.append(judge_twist(twist, at("requirements.twist_limit"), which="one side's springs lost"))
    judged += [judge_test(base.full(doubt), which=test) for test, doubt in doubts_of_tests(base.project).items()]
    return ShellFound(
        tuple(judged), (BEAM_NOTE,), droop, beyond, base.full(rise), base.full(room), twist, stiff.bending
    )
