"""What a ring does under the loads of every draw, put together from its answers to unit loads."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.core.motion import Array
from loftwright.strength.frame import bar_axes
from loftwright.strength.ring import Influence
from loftwright.strength.sections import Section

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class RingResponse:
    """One ring under the loads of every draw.

    `at_loads` [rows, p] and `at_mid_sides` [rows, 4] (right, front, left, rear) move up [m]; `turned` [rows, p, 2] turn
    about x and y [rad] at the load points; `moment` [rows] greatest bending moment [N m] in the ring, `torque` [rows]
    greatest torsion [N m], `stress` [rows] greatest [Pa]; `torsion_share` [rows] of the ring's strain energy [1];
    `bow_ends` [rows, ends] what the bows push up with [N], `skin` [rows] what the skin pushes up with [N].
    """

    at_loads: Array
    at_mid_sides: Array
    turned: Array
    moment: Array
    torque: Array
    stress: Array
    torsion_share: Array
    bow_ends: Array
    skin: Array

    @property
    def dip(self) -> Array:
        """Greatest movement up or down at loads and mid-sides [m], [rows]."""
        every = np.concatenate([self.at_loads, self.at_mid_sides], axis=-1)
        return np.asarray(np.abs(every).max(axis=-1))

    @property
    def tilt(self) -> Array:
        """Greatest turn of a load point out of level [rad], [rows]."""
        return np.asarray(np.hypot(self.turned[..., 0], self.turned[..., 1]).max(axis=-1))


def opened_seal(influence: Influence, response: RingResponse, shell: tuple[int, ...], far: Points) -> Array:
    """Return how far the middles of the sides move up or down against the closed shell, at most [m], [rows].

    The shell follows the ring where it stands on it, at the load points `shell` (4 or so), and where it is held
    elsewhere, at `far` (x, y) [m], which do not move. In between it is a surface a + b x + c y + d x y through them,
    by least squares: it twists but does not bend (6). Source: derivation.
    """
    held = np.array([*(influence.points[i] for i in shell), *far], dtype=np.float64).reshape(-1, 2)
    middles = influence.mesh.frame.joints[influence.mesh.mid_sides, :2]

    def terms(at: Array) -> Array:
        x, y = at.T
        return np.stack([np.ones_like(x), x, y, x * y], axis=-1)

    share = (terms(middles) @ np.linalg.pinv(terms(held)))[:, : len(shell)]
    apart = response.at_mid_sides - response.at_loads[:, list(shell)] @ share.T
    return np.asarray(np.abs(apart).max(axis=-1))


def case_weights(influence: Influence, force: Array, height: Array, cloth: Array) -> Array:
    """Return how much of each unit load acts, [rows, 6 p + 1].

    `force` [rows, p, 3] [N] at `height` [rows, p] [m] above the ring; each is carried to the nearest point of the ring
    by a stiff plate, with its moment r x F (1). `cloth` [rows] inward pull [N/m].
    """
    mesh = influence.mesh
    away = influence.points - mesh.frame.joints[mesh.load_joints, :2]
    arm = np.concatenate([np.broadcast_to(away, (*height.shape, 2)), height[..., None]], axis=-1)
    moment = np.cross(arm, force)
    both = np.concatenate([force, moment], axis=-1)
    return np.concatenate([both.reshape(*both.shape[:-2], -1), cloth[..., None]], axis=-1)


def bending_stress(section: Section, normal: Array, sway: Array, lift: Array) -> Array:
    """Return the stress at the outline of a section, [..., points] [Pa].

    `normal` N [N], `sway` and `lift` the moments -int Y s dA and -int Z s dA [N m], each [...]. With curvatures
    k from [Iy' Ixy; Ixy Ix] E k = (sway, lift): s = N/A - E (Y k_y + Z k_z) (2); an angle thus bends aslant.
    """
    det = section.ix * section.iy - section.ixy**2
    bend_y = (section.ix * sway - section.ixy * lift) / det
    bend_z = (section.iy * lift - section.ixy * sway) / det
    points = section.points
    stress = (normal / section.area)[..., None] - bend_y[..., None] * points[:, 0] - bend_z[..., None] * points[:, 1]
    return np.asarray(stress)


def respond(influence: Influence, force: Array, height: Array, cloth: Array) -> RingResponse:
    """Return what the ring does under every draw's loads.

    `force` [rows, p, 3] [N] at the load points, `height` [rows, p] [m] of each above the ring, `cloth` [rows] [N/m]
    pulling the ring inwards. Superposed on the unit loads (3); stress sqrt(s^2 + 3 tau^2) with tau from torsion
    alone (4).
    """
    mesh, solved, section = influence.mesh, influence.solved, influence.section
    weights = case_weights(influence, force, height, cloth)
    rows = weights.shape[0]
    moved = (weights @ solved.moved.reshape(weights.shape[-1], -1)).reshape(rows, -1, 6)
    ends = (weights @ solved.ends.reshape(weights.shape[-1], -1)).reshape(rows, -1, 12)
    ring = ends[:, : mesh.ring]
    # At the first end a joint feels the moments the other way round.
    normal = np.stack([-ring[..., 0], ring[..., 6]], axis=-1)
    sway = np.stack([-ring[..., 5], ring[..., 11]], axis=-1)
    lift = np.stack([ring[..., 4], -ring[..., 10]], axis=-1)
    torque = np.abs(ring[..., 9])
    shear = torque / section.torsion_modulus
    direct = np.abs(bending_stress(section, normal, sway, lift)).max(axis=(-1, -2))
    length, _ = bar_axes(mesh.frame)
    twisting = (ring[..., 9] ** 2 * length[: mesh.ring]).sum(axis=-1) / (2 * influence.shear * section.torsion)
    bending = _bending_energy(influence, sway, lift, length[: mesh.ring])
    whole = twisting + bending
    loaded = moved[:, mesh.load_joints]
    pushed = weights @ solved.reactions[:, :, 2]
    return RingResponse(
        loaded[..., 2],
        moved[:, mesh.mid_sides, 2],
        loaded[..., 3:5],
        np.hypot(sway, lift).max(axis=(-1, -2), initial=0.0),
        torque.max(axis=-1, initial=0.0),
        np.sqrt(direct**2 + 3 * shear**2).max(axis=-1, initial=0.0),
        np.where(whole > 0, twisting / np.where(whole > 0, whole, 1.0), 0.0),
        pushed[:, mesh.stubs],
        np.delete(pushed, mesh.stubs, axis=-1).sum(axis=-1),
    )


def _bending_energy(influence: Influence, sway: Array, lift: Array, length: Array) -> Array:
    """Return the ring's strain energy of bending [N m], [rows]: L (a'Fa + a'Fb + b'Fb) / 6 per bar (5)."""
    s = influence.section
    give = np.linalg.inv(influence.young * np.array([[s.iy, s.ixy], [s.ixy, s.ix]]))
    ends = np.stack([sway, lift], axis=-1)
    a, b = ends[..., 0, :], ends[..., 1, :]
    bent = b @ give
    energy = ((a @ give) * a + bent * a + bent * b).sum(axis=-1) * length / 6
    return np.asarray(energy.sum(axis=-1))
