"""Warmth of the walls on a cold night: what each part lets through, what the heater makes up, where water settles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.laying_job import SHEETS
from loftwright.answers.roll_rows import inner_area, stitched_area
from loftwright.cloth.pieces import Cloth
from loftwright.cloth.warm_rules import DRIPS
from loftwright.cloth.warmth import (
    WarmPart,
    dew_point,
    dripping_humidity,
    fresh_air,
    heat_lost,
    judge_drips,
    judge_heater,
    resistance,
    surface_temperature,
    transmittance,
)
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.reference.warmth import CANVAS, CLEAR_SHEET

if TYPE_CHECKING:
    from loftwright.answers.walled_pieces import PiecesFound

SINGLE: Final = "single cloth"
WARM: Final = "wall with insulation"
BARE: Final = "wall without insulation"
CLEAR: Final = "clear windows"
OPEN: Final = "windows without clear sheet, shut by their curtain"

SINGLE_CLOTH: Final = 0.0006
"""Thickness of a cloth where no layer is written [m]: common canvas."""
NO_AREA: Final = 0.02
"""A part of the walls so small [m2] is none."""
HUMID_OUTSIDE: Final = 0.9
"""Relative humidity outside on a cold night [1]: judgement."""
WRITE_LAYER: Final = "write a [[layer]] for the outer cloth: its thickness and what heat goes through it"

SAID: Final = (
    "Layers lie on each other without air between them, dry and not pressed; draughts through seams and windows come "
    "on top of what the walls lose.",
    "Water settles on the inner face where nothing lets vapour through; vapour that passes a lining settles behind it, "
    "on the outer cloth.",
    "Under a clear sky thin cloth gets colder than the air outside, so that water settles on it sooner than said here.",
    "The roof, the floor and the rest of the van lose heat too: only the cloth walls are counted here.",
    "A flame that burns in the room eats its air and gives off water: keep vents open while cooking or sleeping, and "
    "no flame near cloth.",
)
NO_LAYER: Final = "No [[layer]] is written: the walls are reckoned as one single common canvas."
NO_CURTAIN: Final = "Curtains drawn over clear windows warm a little more than is reckoned here."


@dataclass(frozen=True, slots=True)
class WarmthFound:
    """What the parts of the walls let through; everything [rows] unless said.

    `parts`: area [m2] and U [W/(m2 K)]; `faces`: temperature of their inner faces [K]; `lost`: heat lost through each
    [J/s], and `all_lost` through all; `inside`, `outside` [K]; `dew`: where the air's water begins to settle [K];
    `driest`: least humidity inside at which water settles anywhere [1]; `air`: fresh air for each sleeper so that none
    does [m3/s], infinite where no air helps.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    parts: tuple[WarmPart, ...]
    faces: tuple[Array, ...]
    lost: tuple[Array, ...]
    all_lost: Array
    inside: Array
    outside: Array
    humidity: Array
    dew: Array
    driest: Array
    air: Array


def the_warmth(base: Basis, pieces: PiecesFound) -> WarmthFound:
    """Return what the walls lose on a cold night and whether water settles on them."""
    at = base.at
    inside, outside, humidity = (base.full(at(f"warmth.{name}")) for name in ("inside", "outside", "humidity"))
    parts = parts_of(base, pieces)
    faces = tuple(surface_temperature(part.transmits, inside, outside) for part in parts)
    lost = tuple(heat_lost(part.transmits[..., None], part.area[..., None], inside, outside) for part in parts)
    driest = np.minimum.reduce([dripping_humidity(part.transmits, inside, outside) for part in parts])
    if base.project.layer:
        drips = judge_drips(parts, inside, outside, humidity)
    else:
        limit = np.asarray(dripping_humidity(parts[0].transmits, inside, outside))
        drips = [Judged(DRIPS, None, limit, parts[0].name, unknown=WRITE_LAYER, missing="layer")]
    clear = any(part.name == CLEAR for part in parts)
    # Who has no heater is not told that it is too weak.
    written = base.project.warmth.heater is not None
    heater = [judge_heater(parts, inside, outside, base.full(at("warmth.heater")))] if written else []
    return WarmthFound(
        judged=(*drips, *heater),
        said=(*SAID, *(() if base.project.layer else (NO_LAYER,)), *((NO_CURTAIN,) if clear else ())),
        parts=parts,
        faces=faces,
        lost=lost,
        all_lost=np.sum(lost, axis=0),
        inside=inside,
        outside=outside,
        humidity=humidity,
        dew=dew_point(inside, humidity),
        driest=driest,
        air=fresh_air(1.0, inside, np.minimum(driest, 1.0), outside, HUMID_OUTSIDE),
    )


def parts_of(base: Basis, pieces: PiecesFound) -> tuple[WarmPart, ...]:
    """Return the parts of the walls: with and without insulation, and windows, each with its area and U, [rows]."""
    project = base.project
    windows = [(n, _sight(base, n)) for n in range(len(project.window))]
    whole = wall_area(project.layer[_outer(base)].name if project.layer else "", pieces, _kept(base, _outer(base)))
    wall = np.maximum(whole - sum((area for _, area in windows), np.zeros(base.rows)), 0.0)
    found: list[WarmPart] = []
    if not project.layer:
        through = transmittance(resistance([SINGLE_CLOTH], [CANVAS]))
        found.append(WarmPart(SINGLE, base.full(wall), base.full(through)))
    else:
        roles = {role: [i for i, one in enumerate(project.layer) if one.role == role] for role in _ROLES}
        thin = [*roles["outer"], *roles["lining"]]
        padded = sum(_area(project.layer[i].name, pieces) * _kept(base, i) for i in roles["insulation"][:1])
        covered = np.minimum(padded, wall)
        through = _through(base, [*thin, *roles["insulation"]])
        if roles["insulation"]:
            found.append(WarmPart(WARM, covered, through))
        if not found or float((wall - covered)[0]) > NO_AREA:
            name = BARE if len(roles["insulation"]) + len(thin) > 1 else SINGLE
            found.append(WarmPart(name, wall - covered, _through(base, thin)))
    for name, clear in ((CLEAR, True), (OPEN, False)):
        mine = [(n, area) for n, area in windows if project.window[n].clear == clear]
        if mine:
            found.append(_window_part(base, name, clear, mine))
    return tuple(found)


_ROLES: Final = ("outer", "lining", "insulation")


def _outer(base: Basis) -> int:
    return next((i for i, layer in enumerate(base.project.layer) if layer.role == "outer"), 0)


def _through(base: Basis, layers: list[int]) -> Array:
    """Return U of layers on each other [W/(m2 K)], [rows]."""
    thick = np.stack([base.full(base.at(f"layer.{i}.thickness")) for i in layers], axis=-1)
    conducts = np.stack([base.full(base.at(f"layer.{i}.conductivity")) for i in layers], axis=-1)
    return transmittance(resistance(thick, conducts))


def _sight(base: Basis, number: int) -> Array:
    """Return the area of a window's sight line [m2], [rows]: w h - (4 - pi) r^2."""
    wide, high, radius = (base.at(f"window.{number}.{name}") for name in ("width", "height", "corner_radius"))
    radius = np.minimum(radius, np.minimum(wide, high) / 2.0)
    return base.full(wide * high - (4.0 - np.pi) * radius**2)


def _window_part(base: Basis, name: str, clear: bool, mine: list[tuple[int, Array]]) -> WarmPart:
    """Return windows of one kind as one part: U is the mean by their areas."""
    area = np.sum([one for _, one in mine], axis=0)
    lets = []
    for number, one in mine:
        if clear:
            through = transmittance(resistance(base.at(f"window.{number}.film")[..., None], [CLEAR_SHEET]))
        else:
            outer = f"layer.{_outer(base)}"
            through = (
                transmittance(
                    resistance(base.at(f"{outer}.thickness")[..., None], base.at(f"{outer}.conductivity")[..., None])
                )
                if base.project.layer
                else transmittance(resistance([SINGLE_CLOTH], [CANVAS]))
            )
        lets.append(one * through)
    return WarmPart(name, np.asarray(area), np.asarray(np.sum(lets, axis=0) / area))


def _kept(base: Basis, number: int) -> float:
    """Return what share of a layer's area is left when it has shrunk [1], as its pieces are drawn."""
    if not base.project.layer:
        return 1.0
    along, across = (float(base.at(f"layer.{number}.shrink_{way}")[0]) for way in ("along", "across"))
    return Cloth("", along, across).kept


def wall_area(outer: str, pieces: PiecesFound, kept: float = 1.0) -> float:
    """Return the area of the walls inside their stitch lines [m2]: the panels of the outer cloth.

    `kept`: share of a piece's area that is left when it has shrunk [1].
    """
    cloth = [one for one in pieces.pieces if one.material == outer or (not outer and one.material not in SHEETS)]
    panels = [one for one in cloth if one.number.startswith("W")] or cloth
    return kept * sum(stitched_area(one) * one.count for one in panels)


def _area(material: str, pieces: PiecesFound) -> float:
    """Return the area of a layer's pieces inside their stitch lines, less what windows take of them [m2]."""
    return sum(inner_area(one) * one.count for one in pieces.pieces if one.material == material)
