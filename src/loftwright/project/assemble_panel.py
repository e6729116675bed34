"""The panel on the shell as height and road meet it: how high it stands, and what the air of driving does to it.

Heights and places lie in the plane of motion; arrays are [rows].
"""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.fitout.panel_frame import DRAG_EDGE, LIFT_GAP, panel_air
from loftwright.plan.scout import Outline
from loftwright.project.assemble_riding import PanelGiven, panel_given
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import LENGTHWISE, plane_of
from loftwright.strength.road import Push, push_at

BONDED: Final = 0.001
"""A gap below this is none [m]."""
FRAME: Final = 0.035
"""Height of a framed panel's edge [m]: common, from memory; a bonded one has next to none."""
APART: Final = 0.02
"""How far the written middle of a panel may lie from where its gap and frame put it [m]: judgement."""
Place = tuple[Array, Array]


def frame_of(gap: Array) -> Array:
    """Return the height of the panel's edge [m] over its `gap` [m], each [...]; nought for a bonded one."""
    return np.asarray(np.where(gap < BONDED, 0.0, FRAME))


def shell_top(outline: Outline, x: Array) -> Array:
    """Return how high the closed shell's outside stands over the roof [m] at `x` [m], each [rows]."""
    overhang, length = np.asarray(outline.overhang), np.asarray(outline.shell_length)
    along = np.clip((x + overhang) / length, 0.0, 1.0)
    rear, middle, front = (np.asarray(one) for one in (outline.rear, outline.middle, outline.front))
    behind, ahead = rear + 2 * along * (middle - rear), middle + (2 * along - 1) * (front - middle)
    return np.asarray(outline.rim + np.where(along < 0.5, behind, ahead))


def panel_ends(project: Project, at: Values) -> tuple[PanelGiven, Array, Array]:
    """Return the panel and where it begins and ends in the plane of motion [m], [rows]."""
    given = panel_given(project, at)
    half = (given.length if plane_of(project) is LENGTHWISE else given.width) / 2
    return given, np.asarray(given.x - half), np.asarray(given.x + half)


def panel_foot(project: Project, at: Values, outline: Outline) -> Array:
    """Return the highest place of the shell under the panel, over the roof [m], [rows]: a stiff panel lies on it."""
    _, first, last = panel_ends(project, at)
    middle = np.asarray(outline.shell_length) / 2 - np.asarray(outline.overhang)
    under = [shell_top(outline, x) for x in (first, last, np.clip(middle, first, last))]
    return np.asarray(np.max(np.stack(np.broadcast_arrays(*under), axis=-1), axis=-1))


def written_middle(project: Project, at: Values) -> Array | None:
    """Return the height of the panel's middle by its [[item]] [m], [rows], the highest one; None without one."""
    mine = [i for i, item in enumerate(project.item) if item.kind == "panel" and item.state != "remove"]
    return np.max(np.stack([at(f"item.{i}.z") for i in mine], axis=-1), axis=-1) if mine else None


def panel_corners(project: Project, at: Values, outline: Outline) -> tuple[Place, Place]:
    """Return the upper edges of the panel's two ends, (x, z) [m], [rows].

    The shell under it, its gap and its frame; higher where its own [[item]] says so.
    """
    given, first, last = panel_ends(project, at)
    edge = frame_of(given.gap)
    top, written = panel_foot(project, at, outline) + given.gap + edge, written_middle(project, at)
    top = np.asarray(top if written is None else np.maximum(top, written + edge / 2))
    return (first, top), (last, top)


def middle_disagrees(project: Project, at: Values, outline: Outline) -> tuple[str, ...]:
    """Return a sentence where the panel's [[item]] is written at another height than [panel] puts it."""
    if project.panel is None:
        return ()
    written = written_middle(project, at)
    if written is None:
        return ()
    gap = at("panel.gap")
    edge = frame_of(gap)
    by_gap = float(np.ravel(panel_foot(project, at, outline) + gap + edge / 2)[0])
    here = float(np.ravel(written)[0])
    if abs(here - by_gap) <= APART:
        return ()
    say = Wording(project.settings.units)
    return (
        f"The panel's [[item]] has its middle at z {say.short_length(here)}, but shell, [panel] gap and a frame of "
        f"{say.short_length(float(np.ravel(edge)[0]))} put it at {say.short_length(by_gap)}: correct one of them. "
        "The height closed takes the higher.",
    )


def along_suction(project: Project, at: Values, ends: tuple[float, float]) -> Array:
    """Return a coefficient of the air between its `ends` [1], [rows].

    The air that sucks hard at the shell sucks hard at its panel: as far along as [road] suction is within its own
    range, the upper end where that has none. Source: judgement.
    """
    taken, said = at("road.suction"), project.road.suction
    if said.high - said.low < 1e-9:
        return np.asarray(ends[1] + 0 * taken)
    share = np.clip((taken - said.low) / (said.high - said.low), 0.0, 1.0)
    return np.asarray(ends[0] + share * (ends[1] - ends[0]))


def panel_load(project: Project, at: Values, outline: Outline) -> Push | None:
    """Return what the air adds at the panel per pressure [m2] and [m3], [rows]; None without a panel on feet.

    It comes on top of the suction on the shell: a panel with a gap does not shelter the shell enough to count on it.
    One bonded flat pulls as if no panel were there. Of a roof hinged at a side the drag is no part of the plane.
    """
    if project.panel is None:
        return None
    given = panel_given(project, at)
    edge = frame_of(given.gap)
    lengthwise = plane_of(project) is LENGTHWISE
    upward, drag = along_suction(project, at, LIFT_GAP), along_suction(project, at, DRAG_EDGE)
    air = panel_air(1.0, given.area, upward, edge * given.width, drag if lengthwise else 0.0)
    raised = np.where(edge > 0.0, 1.0, 0.0)
    height = panel_foot(project, at, outline) + given.gap + edge / 2
    return push_at(given.x, height, forward=-air.drag * raised, up=air.lift * raised)
