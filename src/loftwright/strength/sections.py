"""Properties of the cross-section of a bar: area, centroid, second moments, axes, moduli, torsion.

Sizes in [m]. A section is drawn with x across (in a ring round the roof: towards its inside) and y up; second
moments are taken about the centroid, ix for bending up and down.
Corners are sharp: fillets add 1 or 2 % to rolled angles and a little to the torsion constant.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array
from loftwright.reference.sections import StockSection

_ROUND_POINTS = 36


@dataclass(frozen=True, slots=True)
class Section:
    """A cross-section; every number is a float.

    `area` [m2]; centroid (`x`, `y`) [m] in the axes it was drawn in; `ix`, `iy`, `ixy` [m4] about the centroid;
    `torsion` J [m4]; `torsion_modulus` J over what gives the greatest shear stress [m3]; `outline` [points, 2] [m],
    the points furthest out, in the drawn axes.
    """

    name: str
    area: float
    x: float
    y: float
    ix: float
    iy: float
    ixy: float
    torsion: float
    torsion_modulus: float
    outline: Array

    @property
    def points(self) -> Array:
        """Outline seen from the centroid [m], [points, 2]."""
        return np.asarray(self.outline - np.array([self.x, self.y]))

    @property
    def principal(self) -> tuple[float, float]:
        """Greatest and least second moment [m4]: (ix + iy)/2 +- sqrt(((ix - iy)/2)^2 + ixy^2) (4)."""
        middle, half = (self.ix + self.iy) / 2, float(np.hypot((self.ix - self.iy) / 2, self.ixy))
        return middle + half, middle - half

    @property
    def tilt(self) -> float:
        """Angle from x to the axis of the greatest second moment [rad]: tan 2a = -2 ixy / (ix - iy) (5)."""
        return float(0.5 * np.arctan2(-2 * self.ixy, self.ix - self.iy))

    @property
    def moduli(self) -> tuple[float, float]:
        """Least section moduli about x and y through the centroid [m3]."""
        reach = np.abs(self.points).max(axis=0)
        return self.ix / float(reach[1]), self.iy / float(reach[0])

    @property
    def radii(self) -> tuple[float, float, float]:
        """Radii of gyration about x, about y, and the least [m]."""
        about_x, about_y, least = np.sqrt(np.array([self.ix, self.iy, self.principal[1]]) / self.area)
        return float(about_x), float(about_y), float(least)


def polygon(points: ArrayLike) -> tuple[float, float, float, float, float, float]:
    """Return area [m2], centroid x and y [m], and ix, iy, ixy [m4] about it, of a closed polygon.

    With c_i = x_i y_j - x_j y_i, j the next corner: A = sum c / 2 (1), A x = sum (x_i + x_j) c / 6 (2) and
    I_xx = sum (y_i^2 + y_i y_j + y_j^2) c / 12, I_xy = sum (x_i y_j + 2 x_i y_i + 2 x_j y_j + x_j y_i) c / 24 (3),
    carried to the centroid. `points` [corners, 2] [m] run either way round; a hole is a polygon subtracted.
    ValueError where it encloses nothing.
    Source: Green's theorem.

    >>> [round(v, 6) for v in polygon([(0, 0), (2, 0), (2, 3), (0, 3)])]
    [6.0, 1.0, 1.5, 4.5, 2.0, 0.0]
    """
    p = np.asarray(points, dtype=np.float64)
    (x, y), (u, v) = p.T, np.roll(p, -1, axis=0).T
    c = x * v - u * y
    area = c.sum() / 2
    if abs(area) < 1e-18:
        raise ValueError("the outline encloses nothing")
    cx, cy = ((x + u) * c).sum() / (6 * area), ((y + v) * c).sum() / (6 * area)
    sign = np.sign(area)
    ix = sign * ((y * y + y * v + v * v) * c).sum() / 12 - abs(area) * cy**2
    iy = sign * ((x * x + x * u + u * u) * c).sum() / 12 - abs(area) * cx**2
    ixy = sign * ((x * v + 2 * x * y + 2 * u * v + u * y) * c).sum() / 24 - abs(area) * cx * cy
    return float(abs(area)), float(cx), float(cy), float(ix), float(iy), float(ixy)


def _solid(name: str, points: list[tuple[float, float]], torsion: float, thickest: float) -> Section:
    return Section(name, *polygon(points), torsion, torsion / thickest, np.array(points))


def _sane(*sizes: float) -> None:
    if not min(sizes) > 0:
        raise ValueError("the sizes of a section must be positive, and its walls thinner than half of it")


def flat(width: float, thickness: float) -> Section:
    """Return a flat bar, `width` across and `thickness` up [m].

    J = b t^3 (1/3 - 0.21 (t/b) (1 - t^4 / (12 b^4))), b the greater side (6).
    Source: Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed., Table 10.1, case 4, from memory.
    """
    _sane(width, thickness)
    b, t = max(width, thickness), min(width, thickness)
    torsion = b * t**3 * (1 / 3 - 0.21 * (t / b) * (1 - (t / b) ** 4 / 12))
    return _solid("flat", [(0, 0), (width, 0), (width, thickness), (0, thickness)], torsion, t)


def angle(across: float, deep: float, thickness: float) -> Section:
    """Return an angle, leg `across` lying along x and leg `deep` standing along y, of one `thickness` [m].

    J = sum b t^3 / 3 over the two legs, the corner counted once (7).
    Validity: thin walls; the tables, with their fillets, are about 7 % higher for thick angles, 15 % for thin ones.
    """
    t = thickness
    _sane(t, across - t, deep - t)
    points = [(0.0, 0.0), (across, 0), (across, t), (t, t), (t, deep), (0, deep)]
    return _solid("angle", points, (across + deep - t) * t**3 / 3, t)


def channel(across: float, deep: float, thickness: float) -> Section:
    """Return a channel: web `across` lying at the bottom, two flanges `deep`, of one `thickness` [m]; J as (7)."""
    t = thickness
    _sane(t, across - 2 * t, deep - t)
    points = [
        (0.0, 0.0),
        (across, 0),
        (across, deep),
        (across - t, deep),
        (across - t, t),
        (t, t),
        (t, deep),
        (0, deep),
    ]
    return _solid("channel", points, (across - 2 * t + 2 * deep) * t**3 / 3, t)


def tee(across: float, deep: float, thickness: float) -> Section:
    """Return a T: flange `across` lying at the bottom, stem to the height `deep`, of one `thickness` [m]; J as (7)."""
    t = thickness
    _sane(t, across - t, deep - t)
    a, b = (across - t) / 2, (across + t) / 2
    points = [(0.0, 0.0), (across, 0), (across, t), (b, t), (b, deep), (a, deep), (a, t), (0, t)]
    return _solid("tee", points, (across + deep - t) * t**3 / 3, t)


def tube(across: float, deep: float, thickness: float) -> Section:
    """Return a rectangular tube, `across` by `deep`, wall `thickness` [m], sharp corners.

    J = 4 A_m^2 t / p with A_m and p the area in and the length of the wall's middle line (8); tau = T / (2 A_m t).
    Validity: thin wall. Source: Bredt.
    """
    t = thickness
    _sane(t, across - 2 * t, deep - 2 * t)
    whole, hole = polygon([(0, 0), (across, 0), (across, deep), (0, deep)]), (across - 2 * t, deep - 2 * t)
    area, ix, iy = (
        whole[0] - hole[0] * hole[1],
        whole[3] - hole[0] * hole[1] ** 3 / 12,
        whole[4] - hole[1] * hole[0] ** 3 / 12,
    )
    a, b = across - t, deep - t
    outline = np.array([(0, 0), (across, 0), (across, deep), (0, deep)], dtype=np.float64)
    torsion = 2 * (a * b) ** 2 * t / (a + b)
    return Section("tube", area, across / 2, deep / 2, ix, iy, 0.0, torsion, 2 * a * b * t, outline)


def round_tube(diameter: float, thickness: float) -> Section:
    """Return a round tube of outer `diameter` and wall `thickness` [m]: I = pi (D^4 - d^4) / 64, J = 2 I (9)."""
    _sane(thickness, diameter / 2 - thickness)
    inner = diameter - 2 * thickness
    second = np.pi * (diameter**4 - inner**4) / 64
    turn = np.linspace(0, 2 * np.pi, _ROUND_POINTS, endpoint=False)
    outline = diameter / 2 * (1 + np.column_stack([np.cos(turn), np.sin(turn)]))
    area, r = np.pi * (diameter**2 - inner**2) / 4, diameter / 2
    return Section("round tube", float(area), r, r, second, second, 0.0, 2 * second, 2 * second / r, outline)


def moved(part: Section, across: float, up: float) -> Section:
    """Return a section drawn elsewhere: moved by `across` and `up` [m]."""
    shifted = part.outline + np.array([across, up])
    return Section(
        part.name,
        part.area,
        part.x + across,
        part.y + up,
        part.ix,
        part.iy,
        part.ixy,
        part.torsion,
        part.torsion_modulus,
        shifted,
    )


def mirrored(part: Section, *, across: bool = False, up: bool = False) -> Section:
    """Return a section mirrored left to right (`across`), upside down (`up`), or both, about its drawn axes."""
    sx, sy = (-1.0 if across else 1.0), (-1.0 if up else 1.0)
    return Section(
        part.name,
        part.area,
        sx * part.x,
        sy * part.y,
        part.ix,
        part.iy,
        sx * sy * part.ixy,
        part.torsion,
        part.torsion_modulus,
        part.outline * np.array([sx, sy]),
    )


def joined(first: Section, second: Section, *, ratio: float = 1.0) -> Section:
    """Return two parts fastened together along their length, each where it is drawn, in terms of the first one's metal.

    Areas and second moments of the second count `ratio` times [1], its modulus over the first's; moments are
    carried to the common centroid (10), torsion constants are added (11): two bars side by side do not make a tube.
    Validity: fastened so closely that no slip takes place; if they slip, the truth lies between this and the plain sum.

    >>> pair = joined(flat(0.05, 0.006), moved(flat(0.05, 0.006), 0.0, 0.006))
    >>> round(pair.ix / flat(0.05, 0.012).ix, 12)
    1.0
    """
    weights = (first.area, ratio * second.area)
    area = sum(weights)
    x = (weights[0] * first.x + weights[1] * second.x) / area
    y = (weights[0] * first.y + weights[1] * second.y) / area
    ix = iy = ixy = 0.0
    for part, n in ((first, 1.0), (second, ratio)):
        dx, dy = part.x - x, part.y - y
        ix += n * (part.ix + part.area * dy**2)
        iy += n * (part.iy + part.area * dx**2)
        ixy += n * (part.ixy + part.area * dx * dy)
    torsion = first.torsion + ratio * second.torsion
    modulus = torsion / max(p.torsion / p.torsion_modulus for p in (first, second))
    outline = np.vstack([first.outline, second.outline])
    return Section(f"{first.name} + {second.name}", area, x, y, ix, iy, ixy, torsion, modulus, outline)


def section_of(stock: StockSection) -> Section:
    """Return the properties of a bar from the table of stock sections, as it stands in the ring.

    An angle has its lying leg on top, reaching away from the opening, and its standing leg down in the cut; a channel
    and a T lie with the web or flange on top.
    """
    if stock.kind == "round tube":
        return round_tube(stock.across, stock.thick)
    if stock.kind == "flat":
        return flat(stock.across, stock.deep)
    if stock.kind == "tube":
        return tube(stock.across, stock.deep, stock.thick)
    make = {"angle": angle, "channel": channel, "tee": tee}[stock.kind]
    return mirrored(make(stock.across, stock.deep, stock.thick), across=True, up=True)
