"""The parts that hold an open shell, turned into supports: hinges, arms, guides, springs, stops, braces, cloth.

Every stiffness is [N/m] or [N m/rad], every point [m] in the frame of the van with the shell open; arrays are [...]
over rows, points [..., 3]. Stiffnesses from sizes are short elastic formulas; what they rest on, thin roof skin and
laminate, is softer and hardly known: give ranges.
Source: derivation, beams with shear; docs/theory-strength.md.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.reference.metals import METALS
from loftwright.strength.supports import Support, support

STEEL: Final = METALS["S235"]
SHEAR_SHARE: Final = 5.0 / 6.0
"""Share of a rectangle's area that carries shear [1], Timoshenko's beam; from memory."""
ROUND_SHARE: Final = 0.9
"""Share of a circle's area that carries shear [1], Timoshenko's beam; from memory."""


def _one(*values: ArrayLike) -> tuple[Array, ...]:
    return tuple(np.asarray(v, dtype=np.float64) for v in values)


def _in_series(*stiffness: Array) -> Array:
    return np.asarray(1.0 / sum(1.0 / k for k in stiffness))


@dataclass(frozen=True, slots=True)
class HingeStiffness:
    """How stiffly one hinge holds its pin, each [...].

    `along_leaf`, `along_pin` and `off_leaf` (square to both) [N/m]; `turn_leaf`, about the leaf's long way, and
    `turn_off`, about the normal of the leaf [N m/rad]. About the pin it turns freely.
    """

    along_leaf: Array
    along_pin: Array
    off_leaf: Array
    turn_leaf: Array
    turn_off: Array


def hinge_stiffness(
    *,
    thickness: ArrayLike,
    width: ArrayLike,
    length: ArrayLike,
    pin_diameter: ArrayLike,
    grip: ArrayLike,
    modulus: ArrayLike = STEEL.young,
    foot_over: ArrayLike = np.inf,
    foot_aside: ArrayLike = np.inf,
) -> HingeStiffness:
    """Return the stiffness of a hinge leaf that stands out from its bolts like a short plank, pin at its end.

    With A = b t, E = `modulus` and G = E / (2 (1 + nu)):
    along the leaf L / (E A) (1), along the pin L^3 / (3 E t b^3 / 12) + L / (5/6 G A) (2), off the leaf
    L^3 / (3 E b t^3 / 12) + L / (5/6 G A) (3), each a compliance; to (1) and (3) comes the pin in
    shear, g / (0.9 G A_pin) (4).
    The foot turning over, about an axis along the pin, adds L^2 / k to (3); turning aside, about the leaf's normal,
    L^2 / k to (2). About the leaf's long way G b t^3 / 3 / L (5), about its normal E t b^3 / 12 / L in series with the
    foot (6).

    `thickness` t, `width` b along the pin, free `length` L from the bolts to the pin, `pin_diameter` and `grip` g, the
    length of pin between leaf and bearing [m]; `modulus` [Pa]; `foot_over` and `foot_aside` [N m/rad], endless for a
    rigid foot; each [...].
    Validity: elastic, no play; (5) is for b well above t. Shift and turning at the pin are taken as uncoupled, which
    may err either way: a cantilever that shifts also turns, by 3/2 of shift over L.
    Source: derivation, cantilever with shear (Timoshenko's beam, from memory).

    >>> stiff = hinge_stiffness(thickness=0.004, width=0.06, length=0.05, pin_diameter=0.008, grip=0.004)
    >>> [round(float(k) / 1e6, 3) for k in (stiff.along_leaf, stiff.along_pin, stiff.off_leaf)]
    [479.207, 170.912, 1.602]
    """
    t, b, reach, pin, g, e = _one(thickness, width, length, pin_diameter, grip, modulus)
    over, aside = _one(foot_over, foot_aside)
    shear = e / (2 * (1 + STEEL.poisson))
    stub = g / (ROUND_SHARE * shear * np.pi / 4 * pin**2)
    slide = reach / (SHEAR_SHARE * shear * b * t)
    return HingeStiffness(
        along_leaf=np.asarray(1 / (reach / (e * b * t) + stub)),
        along_pin=np.asarray(1 / (4 * reach**3 / (e * t * b**3) + slide + reach**2 / aside)),
        off_leaf=np.asarray(1 / (4 * reach**3 / (e * b * t**3) + slide + stub + reach**2 / over)),
        turn_leaf=np.asarray(shear * b * t**3 / 3 / reach),
        turn_off=_in_series(e * t * b**3 / 12 / reach, aside),
    )


def hinge(
    part: str,
    point: ArrayLike,
    stiffness: HingeStiffness,
    *,
    pin: ArrayLike = (0.0, 1.0, 0.0),
    leaf: ArrayLike = (1.0, 0.0, 0.0),
) -> tuple[Support, ...]:
    """Return the five supports of one hinge: three ways, and turning about both ways across the pin.

    `point` [m] on the pin, `pin` and `leaf` [1] its long ways, square to each other: a leaf lying on the roof points
    along x, an upright one along z; each [..., 3]. A roof has two, at y = +- half their spacing.
    """
    p, a, along = _one(point, pin, leaf)
    off = np.cross(along, a)
    return (
        support(part, "along the leaf", p, along, stiffness.along_leaf),
        support(part, "along the pin", p, a, stiffness.along_pin),
        support(part, "off the leaf", p, off, stiffness.off_leaf),
        support(part, "turning about the leaf", p, along, stiffness.turn_leaf, turning=True),
        support(part, "turning off the leaf", p, off, stiffness.turn_off, turning=True),
    )


def bar_stiffness(
    *, area: ArrayLike, length: ArrayLike, modulus: ArrayLike = STEEL.young, ends: ArrayLike = np.inf
) -> Array:
    """Return the stiffness [N/m] of a bar or strap along its line, with its two end fittings together in series.

    1 / k = L / (E A) + 1 / k_ends (7). `area` A [m2], `length` L [m], `modulus` E [Pa], `ends` [N/m]; each [...].
    Source: derivation.

    >>> float(bar_stiffness(area=10e-6, length=1.0, modulus=200e9))
    2000000.0
    """
    a, reach, e, fitting = _one(area, length, modulus, ends)
    return _in_series(e * a / reach, fitting)


def _from_to(van: ArrayLike, shell: ArrayLike) -> tuple[Array, Array]:
    foot, head = _one(van, shell)
    return head, head - foot


def arm(
    part: str,
    van: ArrayLike,
    shell: ArrayLike,
    *,
    along: ArrayLike,
    sideways: ArrayLike,
    pin: ArrayLike = (0.0, 1.0, 0.0),
) -> tuple[Support, ...]:
    """Return the two supports of a lifting arm between its pins: along its line, both ways, and sideways along the pin.

    `van` and `shell` [m] are the pins, `pin` [1] their direction, [..., 3]; `along` and `sideways` [N/m], [...]. No
    moment about a pin. Each arm of a four-bar, of parallel arms or of a crossing pair is one.
    """
    head, line = _from_to(van, shell)
    return (
        support(part, "along the arm", head, line, along),
        support(part, "sideways", head, pin, sideways),
    )


def guide(
    part: str,
    shoes: tuple[ArrayLike, ArrayLike],
    *,
    post: ArrayLike = (0.0, 0.0, 1.0),
    across: ArrayLike,
    sideways: ArrayLike,
    play: ArrayLike = 0.0,
) -> tuple[Support, ...]:
    """Return the four supports of the two shoes on one straight post: square to the post and sideways, at either shoe.

    `shoes` [m] are the lower and the upper one and `post` [1] the way of the post, [..., 3], not along y; `across`
    (fore and aft) and `sideways` [N/m] of one shoe; `play` [m], the float to either side, [...].
    """
    way = np.asarray(post, dtype=np.float64)
    aside = np.broadcast_to(np.array([0.0, 1.0, 0.0]), way.shape)
    return tuple(
        support(part, f"{name} shoe {what}", shoe, direction, stiffness, gap=play)
        for name, shoe in zip(("lower", "upper"), shoes, strict=True)
        for what, direction, stiffness in (
            ("across", np.cross(aside, way), across),
            ("sideways", aside, sideways),
        )
    )


def gas_spring(part: str, van: ArrayLike, shell: ArrayLike, *, rate: ArrayLike) -> tuple[Support, ...]:
    """Return the one support of a gas spring: its rate along its line, both ways. Its force is a load, not a support.

    `van` and `shell` [m] are its ends, [..., 3]; `rate` [N/m] is the change of force by length, [...]. It holds
    nothing against the wind worth the name, but keeps a free motion finite.
    """
    head, line = _from_to(van, shell)
    return (support(part, "along the spring", head, line, rate),)


def strap(
    part: str, van: ArrayLike, shell: ArrayLike, *, stiffness: ArrayLike, slack: ArrayLike = 0.0
) -> tuple[Support]:
    """Return the one support of a strap, wire or a spring at its own end of stroke: it only pulls, along its line.

    `van` and `shell` [m] are its ends, [..., 3]; `stiffness` [N/m]; `slack` [m] before it is taut; [...].
    """
    head, line = _from_to(van, shell)
    return (support(part, "along", head, line, stiffness, kind="pull", gap=slack),)


def link(part: str, van: ArrayLike, shell: ArrayLike, *, stiffness: ArrayLike, play: ArrayLike = 0.0) -> tuple[Support]:
    """Return the one support of a bar with pinned ends: a brace across, a folding arm when straight, a link stop.

    It pulls and presses along its line. `van` and `shell` [m] are its ends, [..., 3]; `stiffness` [N/m]; `play` [m] to
    either side; [...]. A bar square to the sway takes no share of it.
    """
    head, line = _from_to(van, shell)
    return (support(part, "along", head, line, stiffness, gap=play),)


def crossed_straps(
    part: str,
    van: tuple[ArrayLike, ArrayLike],
    shell: tuple[ArrayLike, ArrayLike],
    *,
    stiffness: ArrayLike,
    slack: ArrayLike = 0.0,
) -> tuple[Support, ...]:
    """Return two straps that cross: from the van's left point to the shell's right one, and the other way.

    `van` and `shell` [m] are (left, right) points, [..., 3]; `stiffness` [N/m] and `slack` [m] of one strap, [...].
    They are two parts, named `part` with "left foot" and "right foot" behind.
    """
    return (
        *strap(f"{part}, left foot", van[0], shell[1], stiffness=stiffness, slack=slack),
        *strap(f"{part}, right foot", van[1], shell[0], stiffness=stiffness, slack=slack),
    )


def stop(
    part: str, point: ArrayLike, direction: ArrayLike, *, stiffness: ArrayLike, gap: ArrayLike = 0.0
) -> tuple[Support]:
    """Return a block that the shell rests on: it only pushes.

    `point` [m] and `direction` [1], the way it pushes the shell, [..., 3]; `stiffness` [N/m], `gap` [m], [...].
    """
    return (support(part, "push", point, direction, stiffness, kind="push", gap=gap),)


def latch(
    part: str, point: ArrayLike, direction: ArrayLike, *, stiffness: ArrayLike, gap: ArrayLike = 0.0
) -> tuple[Support]:
    """Return a latch that only keeps the shell from moving off along `direction`.

    `point` [m] and `direction` [1], from the van to the shell, [..., 3]; `stiffness` [N/m], `gap` [m], [...].
    """
    return (support(part, "pull", point, direction, stiffness, kind="pull", gap=gap),)


def cloth_wall(
    part: str,
    van: tuple[ArrayLike, ArrayLike],
    shell: tuple[ArrayLike, ArrayLike],
    *,
    stretch: ArrayLike,
    shear: ArrayLike,
) -> tuple[Support, ...]:
    """Return the supports of one taut cloth wall: its two ends pull upright, and it resists shear along the rim.

    The wall of mean width b and height h carries E t b / (2 h) at either end, pulling only (10), and
    G t b / h along the rim at the middle, both ways (11), which holds as long as it is taut.
    `van` and `shell` [m] are the lower and upper corners, (one end, other end), [..., 3]; `stretch` E t and `shear` G t
    [N/m], the cloth's stiffness for a strip one metre wide, [...].
    Source: derivation, shear panel.
    """
    low = _one(*van)
    high = _one(*shell)
    along = high[1] - high[0]
    width = (np.linalg.norm(low[1] - low[0], axis=-1) + np.linalg.norm(along, axis=-1)) / 2
    height = np.linalg.norm((high[0] + high[1] - low[0] - low[1]) / 2, axis=-1)
    et, gt = _one(stretch, shear)
    return (
        *(
            support(part, f"{name} upright", head, head - foot, et * width / (2 * height), kind="pull")
            for name, head, foot in zip(("one end", "other end"), high, low, strict=True)
        ),
        support(part, "shear along the rim", (high[0] + high[1]) / 2, along, gt * width / height),
    )
