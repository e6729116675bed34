"""Braces across the free end: a bar that pivots and slides, crossed straps, a folding arm, over the whole travel.

Everything is looked at in the cross-section at the free end: y to the left, z up, both from the middle of the opening
at roof height. Points on the shell are given where they are when closed and rise with it by `rise` [..., n]; the shell
stays level across. Arrays are [...] over rows; the travel is the last axis, from closed to open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, array_of, column

Held = Literal["both ways", "one way", "not held"]
"""What keeps a bar's sliding end in place when open: a pin through the track, the track's end, or nothing."""


@dataclass(frozen=True, slots=True)
class BarPath:
    """A pivoting and sliding bar over the travel; each [..., n] unless said otherwise.

    `slider` is the sliding end's y [m]; `spare` how much longer the bar is than it must be to reach the track [m],
    negative where it jams; `in_track` the track left beyond the sliding end on its nearer side [m], negative past the
    end; `slope` the bar's angle to the horizontal [rad]; `across` the part of the bar's direction along y [1];
    `track_used` [...] the length of track run over [m].
    """

    slider: Array
    spare: Array
    in_track: Array
    slope: Array
    across: Array
    track_used: Array


def bar_path(
    rise: ArrayLike,
    *,
    pivot_y: ArrayLike,
    pivot_z: ArrayLike,
    length: ArrayLike,
    track_z: ArrayLike,
    track_from: ArrayLike,
    track_to: ArrayLike,
    pivot_on: Literal["van", "shell"],
    leans: Literal["left", "right"],
    shift: ArrayLike = 0.0,
) -> BarPath:
    """Return the path of a bar that pivots on one body and slides along a level track on the other.

        v = z_track - z_pivot + rise,  track on the shell;   - rise, track on the van            (1)
        s = sqrt(L^2 - v^2 - dx^2),    y = y_pivot +- s                                          (2)
        tan(slope) = |v| / sqrt(s^2 + dx^2),   across = s / L                                    (3)

    Parameters
    ----------
    rise: how far the free end has risen [m], [..., n].
    pivot_y, pivot_z: pivot when closed [m], [...].
    length: L, from pivot to sliding pin [m], [...].
    track_z: height of the track when closed [m], [...].
    track_from, track_to: both ends of the track, in either order [m], [...].
    pivot_on: the body that carries the pivot; the other one carries the track.
    leans: to which side of the pivot the sliding end lies.
    shift: dx, distance along the van between pivot and track [m], [..., n] or [...] as [..., 1].

    Returns
    -------
    `BarPath`. Where the bar does not reach, `spare` < 0, the sliding end stands beside the pivot and `across` is 0.

    Valid for ball or loose eyes where `shift` is not nought. Source: derivation, Pythagoras.

    >>> path = bar_path([0.0, 0.3], pivot_y=-0.5, pivot_z=0.0, length=0.5, track_z=0.0, track_from=-0.2, track_to=0.1,
    ...                 pivot_on="van", leans="left")
    >>> [round(float(y), 9) for y in path.slider]
    [0.0, -0.1]
    """
    up, dx = array_of(rise), array_of(shift)
    bar, y0 = column(length), column(pivot_y)
    v = column(array_of(track_z) - array_of(pivot_z)) + (up if pivot_on == "van" else -up)
    least = np.hypot(v, dx)
    s = np.sqrt(np.maximum(bar**2 - least**2, 0.0))
    slider = y0 + (s if leans == "left" else -s)
    low, high = np.minimum(track_from, track_to), np.maximum(track_from, track_to)
    in_track = np.minimum(slider - column(low), column(high) - slider)
    used = np.max(slider, axis=-1) - np.min(slider, axis=-1)
    slope = np.arctan2(np.abs(v), np.hypot(s, dx))
    return BarPath(slider, np.asarray(bar - least), np.asarray(in_track), slope, np.asarray(s / bar), used)


def sideways_share(across: ArrayLike, *, held: Held = "both ways") -> Array:
    """Return the share of the brace's stiffness along itself that acts sideways [1].

    (4) share = across^2 where its end is held, 0 where it slides freely: a free slider passes on no sideways force at
    all. Held one way, it pushes or pulls to one side only, and the share is that of the side it works on.

    across [1]: the part of its direction along y, [...]; held: see `Held`. Source: derivation.

    >>> round(float(sideways_share(np.cos(np.radians(60.0)))), 6)
    0.25
    """
    share = np.square(array_of(across))
    return np.asarray(share if held != "not held" else np.zeros_like(share))


def rub_in_track(slope: ArrayLike, friction: ArrayLike) -> Array:
    """Return the share of a sliding end's push that rub in the track uses up [1]; at 1 it jams.

    (5) share = mu tan(slope): the bar pushes its end along the track with N cos(slope) and against it with
    N sin(slope).

    slope: of the bar to the track [rad], below a right angle, [..., n]; friction: mu [1], [...].
    Source: derivation, Coulomb friction.

    >>> round(float(rub_in_track(np.array([np.pi / 4]), 0.3)[0]), 6)
    0.3
    """
    return np.asarray(column(friction) * np.tan(np.minimum(array_of(slope), np.radians(89.9))))


@dataclass(frozen=True, slots=True)
class StrapPath:
    """One of two crossed straps over the travel: its ends' distance [m], [..., n], and what follows from it, [...].

    `needed` is the length that lets the roof open [m]; `loose_open` what hangs loose when open [m]; `to_stow` what has
    to be put away when closed, one strap [m]; `across` the part of its direction along y when open [1].
    """

    distance: Array
    needed: Array
    loose_open: Array
    to_stow: Array
    across: Array


def strap_path(
    rise: ArrayLike,
    *,
    foot_y: ArrayLike,
    foot_z: ArrayLike,
    head_y: ArrayLike,
    head_z: ArrayLike,
    shift: ArrayLike = 0.0,
) -> StrapPath:
    """Return one of two crossed straps, from a foot on the van to a head on the other side of the shell.

        d = sqrt((y_head - y_foot)^2 + (z_head - z_foot + rise)^2 + dx^2),  needed = max d       (6)

    rise [m], [..., n]; foot_y, foot_z, head_y, head_z: both ends when closed [m], [...]; shift: dx between them along
    the van [m], [..., n]. A strap only pulls, so that of a crossed pair one works at a time.
    Source: derivation, Pythagoras.

    >>> path = strap_path([0.0, 0.9], foot_y=-0.6, foot_z=0.0, head_y=0.6, head_z=0.0)
    >>> round(float(path.needed), 9), round(float(path.to_stow), 9), round(float(path.across), 9)
    (1.5, 0.3, 0.8)
    """
    dy = column(array_of(head_y) - array_of(foot_y))
    dz = column(array_of(head_z) - array_of(foot_z)) + array_of(rise)
    distance = np.sqrt(dy**2 + dz**2 + array_of(shift) ** 2)
    needed = np.max(distance, axis=-1)
    across = np.abs(dy[..., 0]) / distance[..., -1]
    return StrapPath(distance, needed, needed - distance[..., -1], needed - distance[..., 0], across)


@dataclass(frozen=True, slots=True)
class ArmPath:
    """A folding arm over the travel; each [..., n] unless said otherwise.

    `knee_y`, `knee_z` [m]; `spare` by how much the ends' distance stays clear of both ends of the arm's reach [m],
    negative where it jams; `distance` between its ends [m]; `kink` the knee's distance from the line between the ends
    [m]; `across` [...] the part of that line along y when open [1].
    """

    knee_y: Array
    knee_z: Array
    spare: Array
    distance: Array
    kink: Array
    across: Array


def arm_path(
    rise: ArrayLike,
    *,
    foot_y: ArrayLike,
    foot_z: ArrayLike,
    head_y: ArrayLike,
    head_z: ArrayLike,
    lower: ArrayLike,
    upper: ArrayLike,
    knee: Literal["left", "right"],
) -> ArmPath:
    """Return the path of the knee of an arm of two links, its pins along the van.

        D = |head - foot|,  along = (D^2 + l1^2 - l2^2) / (2 D),  kink = sqrt(l1^2 - along^2)    (7)
        spare = min(l1 + l2 - D, D - |l1 - l2|)                                                  (8)

    rise [m], [..., n]; foot_y, foot_z on the van, head_y, head_z on the shell, when closed [m], [...]; lower: l1 at the
    foot, upper: l2 at the head [m], [...]; knee: the side of the line from foot to head, seen climbing it from behind
    the van, on which the knee lies: of a head straight above its foot +y is left.
    Source: derivation, triangle of known sides.

    >>> path = arm_path([0.6, 0.8], foot_y=0.0, foot_z=0.0, head_y=0.0, head_z=0.0, lower=0.5, upper=0.5, knee="left")
    >>> [round(float(y), 9) for y in path.knee_y], round(float(path.spare[-1]), 9)
    ([0.4, 0.3], 0.2)
    """
    l1, l2 = column(lower), column(upper)
    dy = column(array_of(head_y) - array_of(foot_y))
    dz = column(array_of(head_z) - array_of(foot_z)) + array_of(rise)
    dy, dz = np.broadcast_arrays(dy, dz)
    distance = np.hypot(dy, dz)
    safe = np.maximum(distance, 1e-9)
    along = np.clip((distance**2 + l1**2 - l2**2) / (2 * safe), -l1, l1)
    kink = np.sqrt(np.maximum(l1**2 - along**2, 0.0))
    uy, uz = dy / safe, dz / safe
    # Seen from behind the van y runs to the left, so that "left" of (0, 1) is (1, 0).
    way = kink if knee == "left" else -kink
    spare = np.minimum(l1 + l2 - distance, distance - np.abs(l1 - l2))
    return ArmPath(
        column(foot_y) + along * uy + way * uz,
        column(foot_z) + along * uz - way * uy,
        spare,
        distance,
        kink,
        np.abs(uy[..., -1]),
    )


def room_between(
    low: ArrayLike, high: ArrayLike, thickness: ArrayLike, *, floor: ArrayLike, ceiling: ArrayLike
) -> Array:
    """Return the least room left above and below a brace that lies in the closed roof [m], negative where it presses.

    (9) room = min(low - t / 2 - floor, ceiling - high - t / 2).

    low, high: lowest and highest centre line of the closed brace [m]; thickness: t [m]; floor, ceiling: what it lies
    between [m]; each [...]. Source: derivation.

    >>> round(float(room_between(0.03, 0.05, 0.02, floor=0.0, ceiling=0.10)), 6)
    0.02
    """
    half = array_of(thickness) / 2
    return np.minimum(array_of(low) - half - array_of(floor), array_of(ceiling) - array_of(high) - half)


def room_beside(
    x: ArrayLike,
    z: ArrayLike,
    thickness: ArrayLike,
    *,
    bar_x: ArrayLike,
    bar_z: ArrayLike,
    bar_wide: ArrayLike,
    bar_high: ArrayLike,
) -> Array:
    """Return the clearance of the closed brace from a latch bar that also runs across the van [m].

    (10) room = max(|x - x_bar| - (t + wide) / 2, |z - z_bar| - (t + high) / 2); negative where they overlap.

    x, z: middle of the closed brace [m]; thickness: t [m]; bar_x, bar_z: middle of the latch bar; bar_wide along the
    van, bar_high [m]; each [...]. Valid where both run straight across and pass each other in y; it then understates
    the clearance corner to corner. Source: derivation.

    >>> round(float(room_beside(0.00, 0.03, 0.02, bar_x=0.05, bar_z=0.03, bar_wide=0.03, bar_high=0.03)), 6)
    0.025
    """
    half = array_of(thickness) / 2
    along = np.abs(array_of(x) - array_of(bar_x)) - half - array_of(bar_wide) / 2
    upright = np.abs(array_of(z) - array_of(bar_z)) - half - array_of(bar_high) / 2
    return np.maximum(along, upright)
