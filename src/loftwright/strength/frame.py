"""A small linear frame in space: straight slender bars, stiff joints, springs at joints.

Displacements run (ux, uy, uz, rx, ry, rz) at each joint [m], [rad], forces likewise [N], [N m], in the
van's axes. All arrays may carry leading axes [...] (sections, draws); joints and bars are the same for all of them.
Bending without shear (Euler and Bernoulli), uniform torsion without warping. Source: Przemieniecki, Theory of
Matrix Structural Analysis (1968), ch. 5, with the product of inertia kept.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loftwright.core.motion import Array, Flags


@dataclass(frozen=True, slots=True)
class Frame:
    """Joints [n, 3] [m]; bars [m, 2] by joint; `up` [m, 3], roughly where each bar's own z axis points."""

    joints: Array
    bars: NDArray[np.int_]
    up: Array


@dataclass(frozen=True, slots=True)
class Stiffness:
    """Stiffness of every bar, each [..., m].

    `axial` E A [N]; `lift` E I for bending along the bar's own z [N m2], `sway` along its own y, `mixed` E times the
    product of inertia; `twist` G J [N m2].
    """

    axial: Array
    lift: Array
    sway: Array
    mixed: Array
    twist: Array


@dataclass(frozen=True, slots=True)
class Solved:
    """What a frame does under k sets of loads.

    `moved` [..., k, n, 6] [m], [rad]; `ends` [..., k, m, 12], what each bar's ends feel from their joints
    in the bar's own axes [N], [N m]; `reactions` [..., k, n, 6] [N], [N m] of held joints and springs together.
    """

    moved: Array
    ends: Array
    reactions: Array


def bar_axes(frame: Frame) -> tuple[Array, Array]:
    """Return the length [m] [m] and own axes (rows x, y, z) [1] [m, 3, 3] of every bar.

    x runs along the bar, z is `up` made square to it, y = z cross x. ValueError for a bar without length or along `up`.
    """
    along = frame.joints[frame.bars[:, 1]] - frame.joints[frame.bars[:, 0]]
    length = np.linalg.norm(along, axis=1)
    if np.any(length < 1e-9):
        raise ValueError("a bar has no length")
    x = along / length[:, None]
    z = frame.up - (frame.up * x).sum(axis=1)[:, None] * x
    size = np.linalg.norm(z, axis=1)
    if np.any(size < 1e-6 * np.linalg.norm(frame.up, axis=1)):
        raise ValueError("a bar stands along its own upward axis")
    z = z / size[:, None]
    return np.asarray(length), np.stack([x, np.cross(z, x), z], axis=1)


_V = np.array([1, 5, 7, 11])
"""Where v, v', v, v' of bending along y stand; v' = rz."""
_W = np.array([2, 4, 8, 10])
_W_SIGN = np.array([1.0, -1.0, 1.0, -1.0])
"""Bending along z: w' = -ry."""


def own_stiffness(length: Array, stiffness: Stiffness) -> Array:
    """Return the stiffness of every bar in its own axes, [..., m, 12, 12], for bars of `length` [m] [m].

    Both bendings share one shape, (1/L^3) [12 6L -12 6L; ...], with the tensor E [Iz Iyz; Iyz Iy] (1), so an
    angle needs no turning to its principal axes; axial E A / L and torsion G J / L (2).
    """
    m = length.size
    beam = np.empty((m, 4, 4))
    one = np.ones(m)
    rows = ((12, 6, -12, 6), (6, 4, -6, 2), (-12, -6, 12, -6), (6, 2, -6, 4))
    power = np.array([0, 1, 0, 1])
    for i, row in enumerate(rows):
        for j, value in enumerate(row):
            beam[:, i, j] = value * one * length ** (power[i] + power[j] - 3.0)
    shape = np.broadcast_shapes(
        *(np.shape(s) for s in (stiffness.axial, stiffness.lift, stiffness.sway, stiffness.mixed, stiffness.twist)),
        (m,),
    )
    full = np.zeros((*shape, 12, 12))
    end = np.array([[1.0, -1.0], [-1.0, 1.0]])

    def put(rows_at: NDArray[np.int_], columns_at: NDArray[np.int_], block: Array) -> None:
        full[..., rows_at[:, None], columns_at] += block

    put(np.array([0, 6]), np.array([0, 6]), (stiffness.axial / length)[..., None, None] * end)
    put(np.array([3, 9]), np.array([3, 9]), (stiffness.twist / length)[..., None, None] * end)
    put(_V, _V, stiffness.sway[..., None, None] * beam)
    put(_W, _W, stiffness.lift[..., None, None] * (beam * np.outer(_W_SIGN, _W_SIGN)))
    put(_V, _W, stiffness.mixed[..., None, None] * (beam * _W_SIGN))
    put(_W, _V, stiffness.mixed[..., None, None] * (beam * _W_SIGN[:, None]))
    return full


def _line_ends(length: Array, own: Array) -> Array:
    """Return the joint forces that stand for an even line load `own` [..., m, 3], in the bars' own axes."""
    half, sixth = length[:, None] / 2, length**2 / 12
    out = np.zeros((*own.shape[:-1], 12))
    out[..., 0:3] = out[..., 6:9] = own * half
    out[..., 5], out[..., 11] = own[..., 1] * sixth, -own[..., 1] * sixth
    out[..., 4], out[..., 10] = -own[..., 2] * sixth, own[..., 2] * sixth
    return out


def solve(
    frame: Frame,
    stiffness: Stiffness,
    loads: Array,
    held: Flags,
    *,
    springs: Array | None = None,
    blocks: Array | None = None,
    line: Array | None = None,
) -> Solved:
    """Return displacements, end forces and reactions of a frame.

    `loads` [..., k, n, 6] at the joints [N], [N m]; `held` [n, 6] marks what cannot move; `springs` [..., n, 6] to the
    ground [N/m], [N m/rad]; `blocks` [n, 6, 6] the same where one movement brings another's force; `line`
    [..., k, m, 3] even loads along the bars in the van's axes [N/m]. K u = f on what is free (3), solved once for all
    sets of loads. ValueError where the frame is not held.
    """
    length, axes = bar_axes(frame)
    n, m = len(frame.joints), length.size
    turn = np.zeros((m, 12, 12))
    for k in range(4):
        turn[:, 3 * k : 3 * k + 3, 3 * k : 3 * k + 3] = axes
    own = own_stiffness(length, stiffness)
    local = np.swapaxes(turn, -1, -2) @ own @ turn
    lead = np.broadcast_shapes(own.shape[:-3], () if springs is None else springs.shape[:-2])
    whole = np.zeros((*lead, 6 * n, 6 * n))
    places = (6 * frame.bars[:, :, None] + np.arange(6)).reshape(m, 12)
    for bar in range(m):
        at = places[bar]
        whole[..., at[:, None], at] += local[..., bar, :, :]
    if springs is not None:
        diagonal = np.arange(6 * n)
        whole[..., diagonal, diagonal] += springs.reshape(*springs.shape[:-2], 6 * n)
    if blocks is not None:
        every = 6 * np.arange(n)[:, None] + np.arange(6)
        whole[..., every[:, :, None], every[:, None, :]] += blocks
    force = loads.reshape(*loads.shape[:-2], 6 * n)
    stand_in = None
    if line is not None:
        stand_in = _line_ends(length, np.einsum("mij,...mj->...mi", axes, line))
        spread = np.einsum("mji,...mj->...mi", turn, stand_in)
        force = np.broadcast_to(force, np.broadcast_shapes(force.shape, (*spread.shape[:-2], 6 * n))).copy()
        for bar in range(m):
            force[..., places[bar]] += spread[..., bar, :]
    free = np.flatnonzero(~held.reshape(-1))
    inner = whole[..., free[:, None], free]
    try:
        answer = np.linalg.solve(inner, np.swapaxes(force[..., free], -1, -2))
    except np.linalg.LinAlgError as fault:
        raise ValueError("the frame is not held") from fault
    answer = np.swapaxes(answer, -1, -2)
    moved = np.zeros((*answer.shape[:-1], 6 * n))
    moved[..., free] = answer
    bars_moved = np.einsum("mij,...mj->...mi", turn, moved[..., places])
    ends = np.einsum("...mij,...kmj->...kmi", own, bars_moved)
    if stand_in is not None:
        ends = ends - stand_in
    left_over = moved @ np.swapaxes(whole, -1, -2) - force
    if np.abs(left_over[..., free]).max(initial=0.0) > 1e-5 * max(float(np.abs(force).max(initial=0.0)), 1e-12):
        raise ValueError("the frame is not held")
    shape = (*moved.shape[:-1], n, 6)
    reactions = np.where(held, left_over.reshape(shape), 0.0)
    if springs is not None:
        reactions = reactions - moved.reshape(shape) * springs[..., None, :, :]
    if blocks is not None:
        reactions = reactions - np.einsum("nij,...nj->...ni", blocks, moved.reshape(shape))
    return Solved(moved.reshape(shape), ends, reactions)


def unit_loads(joints: int, at: NDArray[np.int_]) -> Array:
    """Return one set of loads for each of six unit forces [N], [N m] at each joint `at` [p]: [6 p, joints, 6].

    `joints` is how many the frame has [1].
    """
    loads = np.zeros((6 * at.size, joints, 6))
    for place, joint in enumerate(at):
        loads[6 * place + np.arange(6), joint, np.arange(6)] = 1.0
    return loads
