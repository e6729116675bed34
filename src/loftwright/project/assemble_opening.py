"""From the keys on body, bows, cut and ring to what strength asks of a hole in the roof and the frame round it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.core.choices import MetalName, RingShape
from loftwright.core.motion import Array
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.reference.metals import BARS, METALS, Metal, bar_metal
from loftwright.reference.sections import Kind, StockSection
from loftwright.strength.cutout_rules import LEAST_RADIUS
from loftwright.strength.racking_edges import Sheet
from loftwright.strength.ring_roof import Bow, Roof
from loftwright.strength.roof_edge import bow_with_skin
from loftwright.strength.sections import Section, section_of

SKINS: Final[dict[MetalName, str]] = {"steel": "body sheet", "aluminium": "6060-T66", "stainless": "1.4301"}
"""Which metal a roof's skin and its bows are taken for."""
KINDS: Final[dict[RingShape, Kind]] = {"angle": "angle", "square tube": "tube", "channel": "channel", "flat": "flat"}
LEAST_MARGIN: Final = 0.03
"""Least strip of roof that is reckoned with beside the opening [m]: judgement, a gutter and its flange."""
LEAST_GAP: Final = 0.03
"""Least strip of skin that is reckoned with between the ring and a bow beyond it [m]: judgement, half a bow."""
THICKEST: Final = 0.45
"""Most of a bar's lesser size that its wall may be [1]: walls meet beyond a half."""
ROUND_TO: Final = 4
"""Decimals of a metre to which the sizes of a cut roof are rounded, so that it is solved once."""

GEOMETRY: Final = ("body.roof_length", "body.roof_width", "body.rear_edge", "opening.length", "opening.width")
"""Keys that lay out the hole in the roof."""


def skin_metal(project: Project) -> Metal:
    """Return the metal of the roof's skin and bows."""
    return METALS[SKINS[project.body.skin_metal]]


def cut_sheet(roof_length: float, roof_width: float, rear: float, length: float, width: float) -> Sheet:
    """Return the roof's skin with its hole in the middle across; some skin is left on every side.

    Sizes as in `GEOMETRY` [m], rounded to a tenth of a millimetre.
    """
    behind = max(rear, LEAST_MARGIN)
    whole = max(roof_length, behind + length + LEAST_MARGIN)
    across = max(roof_width, width + 2 * LEAST_MARGIN)
    sizes = (whole, across, behind, (across - width) / 2, length, width)
    return Sheet(*(round(size, ROUND_TO) for size in sizes))


@dataclass(frozen=True, slots=True)
class Parts:
    """Area [m2] of a bar's section and its second moments for bending up and down and in the roof's plane [m4]."""

    area: Array
    lift: Array
    sway: Array


def bar_parts(kind: Kind, across: Array, deep: Array, thick: Array) -> Parts:
    """Return a section's numbers for every row, put together from rectangles about their common centroid.

    `across` lying, `deep` standing and wall `thick` [m], each [rows]; as `section_of` has them, sharp corners.
    """
    b, h, t = across, deep, thick
    rectangles: dict[Kind, tuple[tuple[float, Array, Array, Array, Array], ...]] = {
        "flat": ((1.0, b, t, b / 2, t / 2),),
        "angle": ((1.0, b, t, b / 2, t / 2), (1.0, t, h - t, t / 2, (h + t) / 2)),
        "tube": ((1.0, b, h, b / 2, h / 2), (-1.0, b - 2 * t, h - 2 * t, b / 2, h / 2)),
        "channel": (
            (1.0, b, t, b / 2, t / 2),
            (1.0, t, h - t, t / 2, (h + t) / 2),
            (1.0, t, h - t, b - t / 2, (h + t) / 2),
        ),
    }
    every = rectangles[kind]
    area = sum(s * w * d for s, w, d, _, _ in every) + 0.0 * b
    x = sum(s * w * d * at for s, w, d, at, _ in every) / area
    y = sum(s * w * d * at for s, w, d, _, at in every) / area
    lift = sum(s * w * d * (d**2 / 12 + (at - y) ** 2) for s, w, d, _, at in every)
    sway = sum(s * w * d * (w**2 / 12 + (at - x) ** 2) for s, w, d, at, _ in every)
    return Parts(np.asarray(area), np.asarray(lift), np.asarray(sway))


def ring_sizes(project: Project, at: Values) -> tuple[Array, Array, Array]:
    """Return the ring's width along the roof, its height and its wall [m], [rows]; a flat is as high as its wall."""
    flat, wall = at("ring.flat"), at("ring.wall")
    if project.ring.shape == "flat":
        return flat, wall, wall
    upright = at("ring.upright")
    return flat, upright, np.minimum(wall, THICKEST * np.minimum(flat, upright))


def ring_parts(project: Project, at: Values) -> Parts:
    """Return the ring's section for every row."""
    return bar_parts(KINDS[project.ring.shape], *ring_sizes(project, at))


def ring_stock(project: Project, sizes: tuple[float, float, float]) -> StockSection:
    """Return the ring as a bar like those that shops keep, of these sizes as `ring_sizes` gives them [m]; no price."""
    return StockSection("your ring", KINDS[project.ring.shape], *sizes, BARS[project.ring.metal], 0.0, 0.0)


def ring_section(project: Project, sizes: tuple[float, float, float]) -> Section:
    """Return the ring's section of these sizes, as `ring_sizes` gives them [m]."""
    return section_of(ring_stock(project, sizes))


def bow_parts(at: Values, index: int) -> Parts:
    """Return one bow's section for every row: a hat of sheet, open to the skin, which is not counted with it."""
    depth, width = at(f"bow.{index}.depth"), at(f"bow.{index}.width")
    sheet = np.minimum(at(f"bow.{index}.sheet"), THICKEST * np.minimum(depth, width))
    return bar_parts("channel", width, depth, sheet)


def twist_constant(across: Array, deep: Array, thick: Array) -> Array:
    """Return the torsion constant of a bow [m4]: web `across` and two walls `deep` of sheet `thick` [m], [rows]."""
    return np.asarray((across - 2 * thick + 2 * deep) * thick**3 / 3)


@dataclass(frozen=True, slots=True)
class RingPlan:
    """Sizes that a ring on one roof is reckoned from, each one number.

    `length`, `width`, corner `radius` of the opening, `edge` beside it, `behind` and `ahead` of it to the roof's ends
    and `skin` [m]; the whole roof's `dip` under the test weight [m]; `ring` as `ring_sizes` [m]; `channels`:
    hinges (x, y) whose inner channel reaches the bow beyond the opening's end [m]; `places` of bows [m], stiffness of
    each up and down `lifts` [N m2], along `axials` [N], in twist `twists` [N m2], and which are `kept` whole.
    """

    length: float
    width: float
    radius: float
    edge: float
    behind: float
    ahead: float
    skin: float
    dip: float
    ring: tuple[float, float, float]
    places: tuple[float, ...]
    lifts: tuple[float, ...]
    axials: tuple[float, ...]
    twists: tuple[float, ...]
    kept: tuple[bool, ...]
    channels: tuple[tuple[float, float], ...] = ()

    def end_bows(self) -> tuple[int, ...]:
        """Return which bows are the nearest beyond the opening's rear and front edge and before the roof's ends."""
        behind = [i for i, x in enumerate(self.places) if LEAST_GAP - self.behind < x <= 0.0]
        ahead = [i for i, x in enumerate(self.places) if self.length <= x < self.length + self.ahead - LEAST_GAP]
        nearest = [max(behind, key=self.places.__getitem__)] if behind else []
        return (*nearest, *([min(ahead, key=self.places.__getitem__)] if ahead else []))

    def roof(self, young: float) -> Roof:
        """Return opening and roof of skin with the modulus `young` [Pa]; bows in a corner stand at its end."""
        radius = min(self.radius, 0.45 * min(self.length, self.width))
        every = tuple(
            Bow(x, lift, axial, twist, cut=not kept)
            for x, lift, axial, twist, kept in zip(
                self.places, self.lifts, self.axials, self.twists, self.kept, strict=True
            )
        )
        ends = [every[i] for i in self.end_bows()]
        return Roof(
            self.length,
            self.width,
            radius,
            self.edge,
            self.skin,
            young,
            tuple(
                replace(bow, x=min(max(bow.x, radius), self.length - radius))
                for bow in every
                if 0.0 < bow.x < self.length
            ),
            behind=max(self.behind, 2 * LEAST_GAP if any(bow.x <= 0.0 for bow in ends) else 0.0),
            ahead=max(self.ahead, 2 * LEAST_GAP if any(bow.x > 0.0 for bow in ends) else 0.0),
            # A strip needs some width, on both sides of a bow.
            end_bows=tuple(
                replace(bow, x=min(bow.x, -LEAST_GAP) if bow.x <= 0.0 else max(bow.x, self.length + LEAST_GAP))
                for bow in ends
            ),
            dip=self.dip,
            channels=self.channels,
        )


@dataclass(frozen=True, slots=True)
class Bows:
    """Every bow, [rows, bows]: place along the van [m], area [m2], stiffness up and down [N m2].

    `whole` is the stiffness up and down of an uncut one with the skin on it [N m2].
    """

    place: Array
    area: Array
    lift: Array
    whole: Array


def every_bow(project: Project, at: Values, rows: int) -> Bows:
    """Return place, area and stiffness of every bow, for all `rows`."""
    count, young = range(len(project.bow)), skin_metal(project).young
    parts = [bow_parts(at, i) for i in count]

    def side(values: list[Array]) -> Array:
        return np.stack([np.broadcast_to(v, (rows,)) for v in values], axis=-1) if values else np.zeros((rows, 0))

    dip, span = at("body.bow_dip"), at("body.roof_width")
    return Bows(
        side([at(f"bow.{i}.at") for i in count]),
        side([p.area for p in parts]),
        side([young * p.lift for p in parts]),
        side([bow_with_skin(dip, span, young * p.lift) for p in parts]),
    )


def edge_of(at: Values) -> Array:
    """Return how far the side rails lie from the opening's sides [m], [rows]."""
    return np.maximum((at("body.roof_width") - at("opening.width")) / 2, LEAST_MARGIN)


def ends_of(at: Values) -> tuple[Array, Array]:
    """Return how much roof is left behind the opening and ahead of it [m], [rows]."""
    rear = at("body.rear_edge")
    ahead = at("body.roof_length") - rear - at("opening.length")
    return np.maximum(rear, LEAST_MARGIN), np.maximum(ahead, LEAST_MARGIN)


def ring_plan(project: Project, at: Values, bows: Bows, hinges: tuple[tuple[float, float], ...] = ()) -> RingPlan:
    """Return the sizes of the nominal ring, row 0 of `at` and of `bows`.

    `hinges` (x, y) [m]: nominal places of hinge plates, which an inner channel may join to a bow.
    """

    def first(path: str) -> float:
        return float(at(path)[0])

    metal = skin_metal(project)
    flat, upright, wall = (float(size[0]) for size in ring_sizes(project, at))
    radius = LEAST_RADIUS if project.cut.corner_radius is None else first("cut.corner_radius")
    count = range(len(project.bow))
    twists = tuple(
        metal.shear * float(twist_constant(*(at(f"bow.{i}.{name}")[:1] for name in ("width", "depth", "sheet")))[0])
        for i in count
    )
    behind, ahead = (float(size[0]) for size in ends_of(at))
    plan = RingPlan(
        first("opening.length"),
        first("opening.width"),
        radius,
        float(edge_of(at)[0]),
        behind,
        ahead,
        first("body.skin"),
        first("body.edge_dip"),
        (flat, upright, wall),
        tuple(float(x) for x in bows.place[0]),
        tuple(float(x) for x in bows.lift[0]),
        tuple(float(metal.young * x) for x in bows.area[0]),
        twists,
        tuple(bow.kept for bow in project.bow),
    )
    ends = plan.end_bows()
    lifts = tuple(float(bows.whole[0, i]) if i in ends else lift for i, lift in enumerate(plan.lifts))
    return replace(plan, lifts=lifts, channels=_reaching(plan, hinges, first("ring.channel")))


def _reaching(
    plan: RingPlan, hinges: tuple[tuple[float, float], ...], channel: float
) -> tuple[tuple[float, float], ...]:
    """Return hinges beyond an end of the opening from which an inner `channel` [m] reaches the bow there."""
    ends = [plan.places[i] for i in plan.end_bows()]
    return tuple(
        (x, y)
        for x, y in hinges
        if any(
            (x > plan.length and bow > 0 and bow <= x + channel) or (x < 0 and bow <= 0 and bow >= x - channel)
            for bow in ends
        )
    )


def ring_metal(project: Project) -> Metal:
    """Return the metal of the ring."""
    return bar_metal(project.ring.metal)
