"""What the raised roof adds to the van: mass and its height, footing, axles, overall height, loads on the stops.

Heights here are above the ground, x is measured back from the front axle where it says so. None of this is an
assessment of roll-over or crash; type approval and inspection are local matters.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Source
from loftwright.core.motion import Array
from loftwright.reference.clearances import CLEARANCES, Clearance
from loftwright.strength.latch_bar import point_shares

FOOTING: Final = Source(
    "nhtsa-ssf", "chapter V, half the track over the height of the centre (read in a public reproduction)", "standard"
)


@dataclass(frozen=True, slots=True)
class Lump:
    """A `mass` [kg] with its centre at a `height` above ground and, where it matters, `back` of the front axle [m]."""

    mass: Array
    height: Array
    back: Array


def together(masses: ArrayLike, heights: ArrayLike, backs: ArrayLike) -> Lump:
    """Return parts taken together: m = sum m_i (1), h = sum m_i h_i / m (2), x alike.

    `masses` [kg], negative for sheet that is cut away, `heights` and `backs` [m], each [..., parts]. The parts must
    not add up to nothing.
    """
    mass = np.asarray(masses, dtype=np.float64)
    whole = mass.sum(axis=-1)
    return Lump(
        whole,
        np.asarray((mass * np.asarray(heights)).sum(axis=-1) / whole),
        np.asarray((mass * np.asarray(backs)).sum(axis=-1) / whole),
    )


def both(van: Lump, added: Lump) -> Lump:
    """Return the van with what was added to it, by (1) and (2)."""
    mass = van.mass + added.mass
    height = (van.mass * van.height + added.mass * added.height) / mass
    back = (van.mass * van.back + added.mass * added.back) / mass
    return Lump(mass, height, back)


def static_stability_factor(track: ArrayLike, height: ArrayLike) -> Array:
    """Return SSF = T / (2 h) (3) [1], [...].

    `track` T [m] between the middles of the tyres, `height` h of the centre of mass [m]. It compares a van with
    itself before and after; it does not say whether a van rolls over. Source: `FOOTING`.

    >>> round(float(static_stability_factor(1.63, 0.75)), 4)
    1.0867
    """
    return np.asarray(np.asarray(track, dtype=np.float64) / (2 * np.asarray(height)))


def footing_lost(van: Lump, added: Lump) -> Array:
    """Return the share of the static stability factor that is lost, 1 - h_before / h_after (4) [1], [...]."""
    return np.asarray(1 - van.height / both(van, added).height)


def overall_height(roof: ArrayLike, top: ArrayLike, over: ArrayLike) -> Array:
    """Return how high the van stands closed: roof + top + over (5) [m], [...].

    `roof` above ground by the opening, empty and on full tyres, `top` of the closed shell above that roof, `over` what
    stands out further (vent, panel, aerial), all [m].
    """
    return np.asarray(np.asarray(roof, dtype=np.float64) + np.asarray(top) + np.asarray(over))


def sign_height(height: ArrayLike, *, step: float = 0.05) -> Array:
    """Return the number for the sign at the driver's seat [m]: `height` [m] rounded up to a whole `step` [m], [...].

    >>> round(float(sign_height(2.612)), 2), round(float(sign_height(2.65)), 2)
    (2.65, 2.65)
    """
    return np.asarray(np.ceil(np.asarray(height, dtype=np.float64) / step - 1e-9) * step)


def fits_under(height: float, *, spare: float = 0.05) -> tuple[tuple[Clearance, bool], ...]:
    """Return each common clearance and whether a van of `height` [m] goes under it with `spare` [m] to itself."""
    return tuple((clearance, height + spare <= clearance.height) for clearance in CLEARANCES)


@dataclass(frozen=True, slots=True)
class Stops:
    """Places `x`, `y` [m] of the solid stops and hinges that the closed shell rests on, [n]."""

    x: tuple[float, ...]
    y: tuple[float, ...]


def stop_loads(stops: Stops, force: ArrayLike, load_x: ArrayLike, load_y: ArrayLike) -> Array:
    """Return what each stop takes of a downward `force` [N] at `load_x`, `load_y` [m], [..., n].

    The shell is stiff against its stops. A negative share is held by latches, or by the shell's own weight.
    """
    shares = point_shares(stops.x, stops.y, load_x, load_y)
    return np.asarray(np.asarray(force, dtype=np.float64)[..., None] * shares)
