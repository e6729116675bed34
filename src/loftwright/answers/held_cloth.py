"""The cloth walls in a gust: which of cloth, seam, staples and film gives first, on which wall, at which gust."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.project.assemble_cloth import LEAST_WALL
from loftwright.project.assemble_wind import van_names
from loftwright.strength.cloth_rules import judge_cloth
from loftwright.strength.cloth_tension import Holding, Panel, edge_tension, gusts_at_limit, strengths
from loftwright.strength.raised_shape import WALLS, Direction, RaisedShape
from loftwright.strength.wind import velocity_pressure
from loftwright.strength.wind_loads import panel_coefficients

NAMES: Final = {
    "seam": "seams of the cloth",
    "staples": "staples of the cloth",
    "strip screws": "screws of the cloth's strip",
}
"""What parts of the cloth are called among other parts; the others keep their names."""


@dataclass(frozen=True, slots=True)
class ClothFound:
    """The cloth walls in wind; directions are the van's, in the order of `DIRECTIONS`.

    `walls` there are, by their van names, and `parts`; `gust` [m/s], [rows, directions, walls, parts], at which each
    part reaches its limit; `coefficient` [1], [rows, directions, walls], worst net one with all factors, negative
    blows out; `pull` [N/m], [rows, walls], at the edges in the wanted gust with its factor, from the worst direction;
    `span` [m], [rows, walls].
    """

    judged: tuple[Judged, ...]
    walls: tuple[Direction, ...]
    parts: tuple[str, ...]
    gust: Array
    coefficient: Array
    pull: Array
    span: Array
    panel: Panel
    holding: Holding

    @property
    def worst(self) -> Array:
        """Gust [m/s] of each part in each direction, on the worst wall, [rows, directions, parts]."""
        return np.asarray(self.gust.min(axis=-2))

    def shares(self, pressure: Array) -> Array:
        """Return the share of each part's limit used in the planned roof [1], [gusts, directions, parts].

        `pressure` [Pa], [gusts], of the wind, without factor.
        """
        panel = Panel(*(v[:1] for v in (self.panel.span, self.panel.slack, self.panel.stiffness)))
        pull = edge_tension(panel, pressure[:, None, None] * np.abs(self.coefficient[:1]))
        safety = np.asarray(self.holding.safety)[:1]
        used = [(pull / (strength[:1] / safety)).max(axis=-1) for strength in strengths(self.holding).values()]
        return np.stack(used, axis=-1)


def the_cloth(base: Basis, shape: RaisedShape, pushing: Array, wanted: Array) -> ClothFound | None:
    """Return what the gust does to the cloth walls; None where none stands higher than `LEAST_WALL`.

    `shape` of the open roof with fields [rows]; `pushing` [1], [rows], factor on the wind's force with its safety;
    `wanted` gust [m/s], [rows]. Spans are the greatest height of a wall, as for a strip from rim to rim.
    """
    at, names = base.at, van_names(base.project)
    local = {van: edge for edge, van in names.items()}
    order: tuple[Direction, ...] = tuple(local[d] for d in WALLS)
    heights = {}
    for wall in WALLS:
        a, b, c, d = shape.corners(local[wall])
        heights[wall] = np.maximum(np.linalg.norm(b - a, axis=-1), np.linalg.norm(c - d, axis=-1))
    there = tuple(wall for wall in WALLS if heights[wall][0] > LEAST_WALL)
    if not there:
        return None
    worst = panel_coefficients(shape, order)
    if base.project.wind.window_open:
        for window in WALLS:
            other = panel_coefficients(shape, order, window=window)
            worst = np.where(np.abs(other) > np.abs(worst), other, worst)
    picked = [WALLS.index(local[wall]) for wall in there]
    net = worst[..., picked] * pushing[:, None, None]
    span = np.stack([np.maximum(heights[wall], LEAST_WALL) for wall in there], axis=-1)

    def deep(path: str) -> Array:
        return base.full(at(path))[:, None, None]

    panel = Panel(span[:, None], 8.0 / 3.0 * (deep("wind.cloth_sag") / span[:, None]) ** 2, deep("wind.cloth_stretch"))
    wind = base.project.wind
    strip = wind.screw_pitch is not None and wind.screw_limit is not None
    holding = Holding(
        cloth=deep("wind.cloth_strength"),
        seam=deep("wind.seam_share"),
        staple=deep("wind.staple_limit"),
        staple_pitch=deep("wind.staple_pitch"),
        film=None if wind.window_strength is None else deep("wind.window_strength"),
        screw=deep("wind.screw_limit") if strip else None,
        screw_pitch=deep("wind.screw_pitch") if strip else None,
        safety=deep("safety.cloth"),
    )
    found = gusts_at_limit(panel, holding, net)
    pressure = np.abs(net).max(axis=1) * velocity_pressure(wanted)[:, None]
    flat = Panel(*(v[:, 0] for v in np.broadcast_arrays(panel.span, panel.slack, panel.stiffness)))
    pull = edge_tension(flat, pressure)
    hardest = int(np.argmax(pull[0]))
    one = Panel(*(v[:, hardest] for v in (flat.span, flat.slack, flat.stiffness)))
    rows: dict[str, Any] = {name: None if v is None else v[:, 0, 0] for name, v in _fields(holding).items()}
    judged = judge_cloth(one, pressure[:, hardest], Holding(**rows), f"{there[hardest]} wall")
    gust = np.stack([np.broadcast_to(v, net.shape) for v in found.values()], axis=-1)
    return ClothFound(judged, there, tuple(NAMES.get(n, n) for n in found), gust, net, pull, span, panel, holding)


def _fields(holding: Holding) -> dict[str, Array | None]:
    names = ("cloth", "seam", "staple", "staple_pitch", "screw", "screw_pitch", "film", "safety")
    return {name: getattr(holding, name) for name in names}
