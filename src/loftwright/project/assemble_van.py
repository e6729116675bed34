"""From the van's papers, the closed roof and what lies on it to what strength asks of masses, height and the top."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.mechanics.feel import Roof
from loftwright.plan.scout import Outline
from loftwright.project.assemble_panel import Place, panel_corners
from loftwright.project.assemble_road import latch_line
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.reference.wind import SNOW
from loftwright.strength.on_van import Lump, Stops, overall_height, together
from loftwright.strength.on_van_rules import OnTop, OnVan
from loftwright.strength.plate_support import PERSON

MOST_LOST: Final = 0.08
"""Most of the static stability factor that may be lost [1]: judgement, about one step between kinds of vans."""
WETTEST: Final = SNOW["wet"][1]
"""Snow is taken as wet [N/m3]: EN 1991-1-3, Annex E."""


def roof_top(outline: Outline) -> Array:
    """Return the height of the closed shell's highest point above the van's roof [m], [rows]."""
    highest = np.maximum(np.maximum(outline.rear, outline.middle), outline.front)
    return np.asarray(outline.rim + highest)


def on_shell(project: Project, at: Values, outline: Outline) -> tuple[Place, ...]:
    """Return the upper edges of what lies on the closed shell, (x, z) over the roof [m], [rows].

    A panel by its gap and frame; any other item on top reaches as far above the shell's top again as its middle.
    """
    top, lies = roof_top(outline), project.panel is not None
    found = list(panel_corners(project, at, outline)) if lies else []
    for i, item in enumerate(project.item):
        if item.state != "remove" and not (lies and item.kind == "panel"):
            z = at(f"item.{i}.z")
            found.append((at(f"item.{i}.x"), np.asarray(z + np.maximum(z - top, 0.0))))
    return tuple(found)


def stands_out(project: Project, at: Values, outline: Outline) -> Array:
    """Return how far what lies on the closed shell reaches above its top [m], [rows]."""
    top = roof_top(outline)
    over = np.zeros_like(top)
    for _, z in on_shell(project, at, outline):
        over = np.maximum(over, z - top)
    return over


def van_before(at: Values) -> Lump:
    """Return the van as it drives, before the roof."""
    return Lump(at("body.mass"), at("body.centre_height"), 0 * at("body.mass"))


def brought(at: Values, roof: Roof, ring: Array, cut: Array) -> Lump:
    """Return all that the conversion brings: shell with items, cloth, the `ring`, less the `cut` sheet [kg], [rows]."""
    height, rim = at("body.height"), roof.rim.z
    masses = [roof.body.mass, at("forces.cloth_mass"), ring, -cut]
    heights = [height + roof.body.z, height + rim, height, height]
    masses, heights = (list(np.broadcast_arrays(*parts)) for parts in (masses, heights))
    return together(np.stack(masses, -1), np.stack(heights, -1), 0 * np.stack(masses, -1))


def on_van(project: Project, at: Values, roof: Roof, outline: Outline, added: Lump) -> OnVan:
    """Return van and roof to judge; what the papers say is None where it is left out."""
    top = roof_top(outline)
    body = project.body
    return OnVan(
        van=van_before(at),
        added=added,
        on_roof=added.mass,
        roof_load=None if body.roof_load is None else at("body.roof_load"),
        gross=None if body.gross_mass is None else at("body.gross_mass"),
        most_lost=MOST_LOST + 0 * top,
        height=overall_height(at("body.height"), top, stands_out(project, at, outline)),
        height_limit=None if body.height_limit is None else at("body.height_limit"),
    )


def stops_of(project: Project, at: Values, roof: Roof) -> Stops:
    """Return what the closed shell rests on, as planned: its hinges or pins, and the latches' stops."""
    x, _ = latch_line(project, at, roof)
    half = float(at("linkage.spacing")[0]) / 2
    pin = float(np.reshape(roof.pins.shell[0][0], -1)[0])
    spread = float(at("latches.spread")[0]) / 2
    places = np.linspace(-spread, spread, project.latches.count) if project.latches.count > 1 else np.zeros(1)
    line = float(x[0])
    return Stops((pin, pin, *(line for _ in places)), (-half, half, *(float(y) for y in places)))


def on_top(project: Project, at: Values, roof: Roof) -> OnTop:
    """Return snow over the whole closed roof, and a foot in its middle; in the plane of motion."""
    one = np.ones_like(roof.rim.z)
    middle = roof.rim.rear + roof.rim.length / 2
    walked = project.body.walked_on
    return OnTop(
        force=one * (PERSON[0] if walked else 0.0),
        side=one * PERSON[1],
        foot_x=middle,
        foot_y=0 * one,
        depth=at("body.snow"),
        weight=WETTEST * one,
        area=roof.rim.length * roof.rim.width,
        x=middle,
        y=0 * one,
    )
