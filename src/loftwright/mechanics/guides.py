"""How straight guides carry the shell, and when they jam like a drawer that is pulled at one corner.

Posts on the shell slide in shoes on the van, left and right alike, one pair or two. The shell keeps its attitude. The
driving coordinate q is how far it has slid [m]; generalised forces are then plain forces along the guides [N].

A shoe of length L holds a post at its two ends. What acts on the shell has a part n square to the guides and a moment
m about the middle of the shoes; together the ends push with |N1| + |N2| = max(|n|, 2 |m| / L), and each rubs with mu
times its push. Friction on both faces of a post, or of two posts, turns the shell neither way as long as they share
it alike; the posts' own thickness is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Motion, PointPath, Travel, Wrench, column, fractions

STUCK: Final = 0.98
"""Share of jamming beyond which the hand force is no longer followed: it grows without bound at 1."""


@dataclass(frozen=True, slots=True)
class Shoes:
    """Middle of all shoes on the van (x, z) and their `length` [m], `friction` force along over force across [1].

    Each [draws]; `pairs` are the middles (x, z) of each pair by itself [m].
    """

    x: Array
    z: Array
    length: Array
    friction: Array
    pairs: tuple[tuple[Array, Array], ...] = ()


@dataclass(frozen=True, slots=True)
class Guided:
    """What guides do to a hand that moves the shell slowly, each [..., n].

    `hand` [N] with the shoes' rub, positive in the direction of moving; `jams` [1]: 1 and more where no force moves it;
    `upper` and `lower` [N]: push of the shoes' two ends on the shell without rub, along `square_x`, `square_z`.
    """

    hand: Array
    jams: Array
    upper: Array
    lower: Array
    square_x: Array
    square_z: Array


def guides_travel(rise: ArrayLike, leans: ArrayLike, *, stations: int = 121) -> Travel:
    """Return the travel of a shell that slides along straight guides.

    (1) x = q sin leans, z = q cos leans, with q [m] from nought to `rise`.

    rise [m, > 0]; leans [rad] from upright towards the cab as the shell rises; each [...]. Valid below a right angle.
    Source: derivation.

    >>> [round(float(z), 6) for z in guides_travel(0.4, 0.1, stations=3).shell.z]
    [0.0, 0.199001, 0.398002]
    """
    total, lean = np.broadcast_arrays(*(np.asarray(v, dtype=np.float64) for v in (rise, leans)))
    fraction = fractions(stations)
    q = column(total) * fraction
    none = np.zeros_like(q)
    across, up = column(np.sin(lean)), column(np.cos(lean))
    return Travel(fraction, q, Motion(across * q, up * q, none, across + none, up + none, none, none, none, none), ())


def jam_share(friction: ArrayLike, offset: ArrayLike, length: ArrayLike) -> Array:
    """Return 2 mu e / L [1], by which a push beside its guides uses up what it can move; at 1 they jam.

    (2) A push P at e from the middle of the shoes, along the guides, makes their ends push with 2 P e / L; the rub
    mu 2 P e / L stops it however hard it is where 2 mu e / L >= 1.

    friction mu [1], offset e and length L [m], broadcasting. Source: derivation.

    >>> float(jam_share(0.25, 0.5, 0.25))
    1.0
    """
    mu, e, length_ = (np.asarray(v, dtype=np.float64) for v in (friction, offset, length))
    return np.asarray(2.0 * mu * np.abs(e) / length_)


def guided(
    travel: Travel,
    load: Wrench,
    hand: PointPath,
    direction: tuple[Array, Array],
    shoes: Shoes,
    *,
    raising: bool,
) -> Guided:
    """Return the hand force with the shoes' rub, and what the shoes push.

    With s the hand's share along the guides, (3) X s = D + mu max(|n + X n1|, 2 |m + X m1| / L): D is what the other
    forces leave to do, n and m what they do to the shoes, n1 and m1 what a hand force of 1 N does. The right side is
    the greatest of four straight lines, so X is the greatest of four roots.

    load: all that acts on the shell but the hand [N, N m]; hand, direction: where and along which unit vector it
    pushes up. Shaped [..., n]. Valid while a push moves the shell at all (`jams` < 1); beyond, X is held at what 0.98
    gives. Source: derivation, Coulomb friction.
    """
    size = np.hypot(travel.shell.dx, travel.shell.dz)
    ex, ez = travel.shell.dx / size, travel.shell.dz / size
    sx, sz = ez, -ex
    ux, uz = direction
    gx, gz, half = column(shoes.x), column(shoes.z), column(shoes.length) / 2
    mu = column(shoes.friction)
    square, moment = load.fx * sx + load.fz * sz, load.m - (gx * load.fz - gz * load.fx)
    hand_square = ux * sx + uz * sz
    hand_moment = (hand.x - gx) * uz - (hand.z - gz) * ux
    along, share = load.fx * ex + load.fz * ez, ux * ex + uz * ez
    way = 1.0 if raising else -1.0
    left = -way * along
    jams = mu * np.maximum(np.abs(hand_square), np.abs(hand_moment) / half) / share
    held = np.minimum(1.0, STUCK / np.maximum(jams, 1e-12))
    roots = [
        (left + sign * mu * constant) / (share - sign * mu * held * way * by_hand)
        for sign in (1.0, -1.0)
        for constant, by_hand in ((square, hand_square), (moment / half, hand_moment / half))
    ]
    force = np.asarray(np.max(np.broadcast_arrays(*roots), axis=0))
    still = way * left / share
    # Without rub: the two ends' pushes on the shell, upper and lower, from their sum and their moment. The push of an
    # end at `half` along the guides has the moment -half about the middle.
    total, turn = -(square + still * hand_square), -(moment + still * hand_moment)
    upper, lower = (total - turn / half) / 2, (total + turn / half) / 2
    return Guided(force, np.asarray(jams + 0 * force), upper, lower, sx + 0 * force, sz + 0 * force)
