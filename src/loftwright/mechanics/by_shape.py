"""What the shape alone tells of a shell: area, centre and inertia of its skin, and how high its centre lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.checks import Check, Rule, Source
from loftwright.core.motion import Array
from loftwright.mechanics.weigh import NotEnough, Weighed

SHAPE_HEIGHT_DOUBT = 0.15
"""Two standard deviations of the centre's height by shape, as a share of the shell's greatest height."""
INERTIA_DOUBT = 0.15
"""Two standard deviations of the inertia by shape, as a share of it."""

STEEP = Rule(
    id="MASS-102",
    title="The tilt is too slight to find how high the centre lies",
    promise="The tilt is steep enough to find how high the centre lies",
    unit="m",
    sense="at most",
    reason="At a slight tilt a small error of the scales makes a large error of the height; the shape alone is surer.",
    remedy="Tilt the shell by 30 degrees or more, or leave the tilted weighing out and go by the shape.",
    source=Source("derivation", "moments on a tilted body, docs/theory.md", "derivation"),
)


@dataclass(frozen=True, slots=True, eq=False)
class Skin:
    """Area [m2] of a shell's skin, its centre (x, z) [m] and squared radius of inertia about it [m2]; each [...]."""

    area: Array
    x: Array
    z: Array
    gyration2: Array


def skin(length: ArrayLike, width: ArrayLike, rear: ArrayLike, middle: ArrayLike, front: ArrayLike) -> Skin:
    """Return area, centre and inertia of a shell's outline as a thin skin of even weight.

    The top follows straight lines through the heights p at the rear, middle and front; the sides are the
    trapezoids below, the ends rectangles; the underside is open. For each half of length a = L/2 that starts
    at x0 with heights p and q, with S = integral of dA and so on:

        top, l = sqrt(a^2 + (q - p)^2):   S = w l,  S_x = S (x0 + a/2),  S_z = S (p + q)/2,
            S_xx = S (x0^2 + x0 a + a^2/3),  S_zz = S (p^2 + p q + q^2)/3                         (1)
        two sides:   S = a (p + q),  S_x = x0 S + a^2 (p + 2q)/3,  S_z = a (p^2 + p q + q^2)/3,
            S_xx = x0^2 S + 2 x0 a^2 (p + 2q)/3 + a^3 (p + 3q)/6,  S_zz = a (p^3 + p^2 q + p q^2 + q^3)/6   (2)
        end at x, height p:   S = w p,  S_x = S x,  S_z = S p/2,  S_xx = S x^2,  S_zz = S p^2/3   (3)

    Parameters
    ----------
    length, width: of the rim [m], [...].
    rear, middle, front: height of the top above the rim at x = 0, L/2, L [m], [...].

    Returns
    -------
    `Skin`, with x from the rear rim edge and z above the rim.

    Validity: skin of one weight throughout, no flange; real shells differ, so two standard deviations are
    taken as `SHAPE_HEIGHT_DOUBT` of the greatest height and `INERTIA_DOUBT` of the inertia.
    Source: integrals of piecewise linear figures, derivation.

    >>> box = skin(2.0, 1.0, 0.5, 0.5, 0.5)  # open box: lid 2, sides 2, ends 1 square metres
    >>> float(box.area), float(box.x), round(float(box.z), 12)
    (5.0, 1.0, 0.35)
    """
    span, w, h0, h1, h2 = (np.asarray(v, dtype=np.float64) for v in (length, width, rear, middle, front))
    a = span / 2
    s = sx = sz = sxx = szz = np.zeros(())
    for x0, p, q in ((0.0 * a, h0, h1), (a, h1, h2)):
        square = p**2 + p * q + q**2
        top = w * np.hypot(a, q - p)
        sides, tilt = a * (p + q), a**2 * (p + 2 * q) / 3
        s = s + top + sides
        sx = sx + top * (x0 + a / 2) + x0 * sides + tilt
        sz = sz + top * (p + q) / 2 + a * square / 3
        sxx = sxx + top * (x0**2 + x0 * a + a**2 / 3) + x0**2 * sides + 2 * x0 * tilt + a**3 * (p + 3 * q) / 6
        szz = szz + top * square / 3 + a * (p**3 + p**2 * q + p * q**2 + q**3) / 6
    for x, p in ((0.0, h0), (span, h2)):
        end = w * p
        s, sx, sz = s + end, sx + end * x, sz + end * p / 2
        sxx, szz = sxx + end * x**2, szz + end * p**2 / 3
    cx, cz = sx / s, sz / s
    return Skin(s, cx, cz, (sxx + szz) / s - cx**2 - cz**2)


@dataclass(frozen=True, slots=True)
class Height:
    """Height of the centre above the rim [m], two standard deviations [m], and how it was found."""

    height: float
    two_sd: float
    by: Literal["shape", "tilt"]
    check: Check | None


def centre_height(by_shape: float, greatest: float, weighed: Weighed | NotEnough | None) -> Height:
    """Return the height of the centre: by shape, unless a tilted weighing is surer.

    Parameters
    ----------
    by_shape: height of the skin's centre [m], from `skin`.
    greatest: greatest height of the shell above its rim [m].
    weighed: the weighing, or None.

    Returns
    -------
    `Height`; its `check` judges the doubt of the tilted weighing and is None without one.
    """
    doubt = SHAPE_HEIGHT_DOUBT * greatest
    if not isinstance(weighed, Weighed) or weighed.height is None:
        return Height(by_shape, doubt, "shape", None)
    check = STEEP.judge(weighed.two_sd[2], doubt)
    if weighed.two_sd[2] <= doubt:
        return Height(weighed.height, weighed.two_sd[2], "tilt", check)
    return Height(by_shape, doubt, "shape", check)
