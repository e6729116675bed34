"""From the keys on layers, sewing and windows to finishes of edges, cloths of pieces and lines of sight."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.cloth import allowances
from loftwright.cloth.allowances import INCH, Finish
from loftwright.cloth.pieces import Cloth
from loftwright.cloth.windows import Layering, Sight
from loftwright.core.choices import ClothRole, EdgeFinish
from loftwright.core.motion import Array
from loftwright.project.carrying import Values
from loftwright.project.model import Project

NO_LAYER: Final = "outer cloth"
"""What pieces are cut from while no [[layer]] is written."""
BEFORE: Final[tuple[ClothRole, ...]] = ("outer", "insulation", "lining")
"""Layers from outside to inside."""
UNDER: Final = 1.0 / 3.0
"""Share of a hem's allowance that is turned in first [1]: half an inch of an inch and a half."""
BEYOND: Final = 3.0 / 8.0
"""Share of a stapled edge's allowance that lies beyond the staples [1]: judgement, so that they go through two."""
CORD: Final = 0.006
"""Diameter of the cord of a welt track [m]: judgement, a common track."""
NARROWEST: Final = 0.004
"""Least wide allowance of a felled seam for which a shape can be drawn [m]."""
LAP_ROOM: Final = 0.012
"""What a drip hem needs beyond its lap at least [m], as any hem."""
SHORTER: Final = 0.002
"""How much narrower than the finished seam the wrapped side of a felled seam is [m]."""


@dataclass(frozen=True, slots=True)
class EdgePlan:
    """How one edge of every panel ends.

    `words` name it; `finish` is nominal. `given` is the allowance and `needs` the least one that it can be made with
    [m], [rows]. `stapled`: whether staples go through it on its line.
    """

    words: str
    finish: Finish
    given: Array
    needs: Array
    stapled: bool = False


@dataclass(frozen=True, slots=True)
class SewingPlan:
    """All edges of the outer cloth, and the spacing of match `marks` and length of a `stitch` [m], nominal.

    `right` and `left` are the two sides of a seam: the right edge of one panel meets the left edge of the next.
    `turn` is the nominal cloth turned in round a window [m]. `beyond` the seam's wider allowance, nominal [m].
    """

    right: EdgePlan
    left: EdgePlan
    lower: EdgePlan
    upper: EdgePlan
    marks: float
    stitch: float
    turn: float
    beyond: float

    @property
    def finishes(self) -> Mapping[str, Finish]:
        """Finishes of a panel by the names of its edges."""
        return {
            "bottom": self.lower.finish,
            "right seam": self.right.finish,
            "top": self.upper.finish,
            "left seam": self.left.finish,
        }

    @property
    def plans(self) -> Mapping[str, EdgePlan]:
        """Plans of a panel by the names of its edges."""
        return {"bottom": self.lower, "right seam": self.right, "top": self.upper, "left seam": self.left}


def _hem(given: Array, words: str = "hem", lap: Array | None = None) -> EdgePlan:
    """Return a hem turned twice; with a `lap` it hangs on so far below its staples [m], [rows]."""
    whole = float(given[0])
    depth, under = (1.0 - UNDER) * whole, UNDER * whole
    if lap is None:
        return EdgePlan(words, allowances.hem(depth, under), given, np.full_like(given, LAP_ROOM))
    fall = float(lap[0])
    turns = (fall, fall + depth) if under > 0.0 else (fall,)
    row = max(depth - INCH / 8.0, 0.0) - fall
    finish = Finish("hem", fall + whole, turns, (row,), fall + LAP_ROOM)
    return EdgePlan(words, finish, given + lap, lap + LAP_ROOM, stapled=True)


def edge_plan(how: EdgeFinish, given: Array, lap: Array) -> EdgePlan:
    """Return how an edge ends with an allowance `given` [m], [rows]; a drip hem hangs on by `lap` [m], [rows]."""
    whole = float(given[0])
    none = np.zeros_like(given)
    if how == "drip hem":
        return _hem(given, "drip hem", lap)
    if how == "hem":
        return _hem(given)
    if how == "binding":
        return EdgePlan("binding", allowances.binding(), none, none)
    if how == "staple strip":
        finish = allowances.staple_strip(BEYOND * whole, (1.0 - BEYOND) * whole)
        return EdgePlan(how, finish, given, BEYOND * given + 0.006, stapled=True)
    if how == "track":
        made = allowances.track(CORD, 0.0)
        # Its turn stays where the cord is, whatever comes back beyond it.
        turns = tuple(turn for turn in made.turns if turn < whole)
        needs = allowances.track(CORD).needs
        return EdgePlan(how, Finish("track", whole, turns, made.rows, needs), given, np.full_like(given, needs))
    if how == "zip":
        finish = allowances.zip_edge(whole)
        return EdgePlan(how, finish, given, np.full_like(given, finish.needs))
    # A raw edge is cut beyond its line; nothing is turned or sewn.
    return EdgePlan("plain, raw edge", Finish("plain seam", whole, (), (), 0.0), given, none)


def seam_plans(project: Project, given: Array) -> tuple[EdgePlan, EdgePlan]:
    """Return the two sides of a seam with its wider allowance `given` [m], [rows]: of a right and of a left edge."""
    wide = float(given[0])
    if project.sewing.seam == "felled":
        narrow, wider = allowances.felled_seam(max(wide, NARROWEST) / 2.0)
        return (
            EdgePlan(narrow.kind, narrow, given / 2.0 - SHORTER, np.full_like(given, narrow.needs)),
            EdgePlan(wider.kind, wider, given, np.full_like(given, wider.needs)),
        )
    finish = allowances.lapped_seam(2.0 * wide) if project.sewing.seam == "lapped" else allowances.plain_seam(wide)
    plan = EdgePlan(finish.kind, finish, given, np.full_like(given, finish.needs))
    return plan, plan


def sewing_plan(project: Project, at: Values) -> SewingPlan:
    """Return how the edges of the outer cloth are finished."""
    sewing = project.sewing
    seam, lap = at("sewing.seam_allowance"), at("water.lap")
    right, left = seam_plans(project, seam)
    return SewingPlan(
        right,
        left,
        edge_plan(sewing.lower_edge, at("sewing.lower_allowance"), lap),
        edge_plan(sewing.upper_edge, at("sewing.upper_allowance"), lap),
        float(at("sewing.marks")[0]),
        float(at("sewing.stitch")[0]),
        float(at("sewing.window_turn")[0]),
        float(seam[0]),
    )


def lining_plan(project: Project, at: Values, *, removable: bool) -> SewingPlan:
    """Return how the lining's edges are finished: plain seams; hemmed below and above where it comes out, else raw."""
    outer = sewing_plan(project, at)
    seam = np.full_like(outer.left.given, min(outer.beyond, INCH))
    joined = EdgePlan("plain seam", allowances.plain_seam(float(seam[0])), seam, np.full_like(seam, INCH / 4.0))
    ends = (
        _hem(at("sewing.lower_allowance"))
        if removable
        else EdgePlan(
            "raw, tacked to the outer cloth", Finish("plain seam", float(seam[0]), (), (), 0.0), seam, 0 * seam
        )
    )
    return SewingPlan(joined, joined, ends, ends, outer.marks, outer.stitch, outer.turn, outer.beyond)


# --- layers ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LayerPlan:
    """One layer of the wall: `entry` its number in the file from nought, -1 where none is written.

    `before` is the nominal build of the layers between it and the outer cloth [m]; `short` how far it stops short of
    corners [m]; `thickness` [m] and `weight` [kg/m2], nominal.
    """

    entry: int
    role: ClothRole
    cloth: Cloth
    before: float
    short: float
    thickness: float
    weight: float
    removable: bool = False
    either_way: bool = False


def layer_plans(project: Project, at: Values) -> tuple[LayerPlan, ...]:
    """Return the layers from outside to inside; an outer cloth that neither shrinks nor counts where none is written.

    The lining lies inside all insulation, wherever it stands in the file.
    """
    found: list[LayerPlan] = []
    build = 0.0
    order = sorted(range(len(project.layer)), key=lambda i: BEFORE.index(project.layer[i].role))
    for i in order:
        layer = project.layer[i]
        along, across, thick, short, weight = (
            float(at(f"layer.{i}.{key}")[0])
            for key in ("shrink_along", "shrink_across", "thickness", "stops_short", "mass")
        )
        cloth = Cloth(layer.name, along, across, layer.nap, layer.grain != "up the wall")
        found.append(
            LayerPlan(i, layer.role, cloth, build, short, thick, weight, layer.removable, layer.grain == "either way")
        )
        if layer.role != "outer":
            build += thick
    if not any(plan.role == "outer" for plan in found):
        found.insert(0, LayerPlan(-1, "outer", Cloth(NO_LAYER), 0.0, 0.0, 0.0006, 0.35))
    return tuple(found)


# --- windows ---------------------------------------------------------------------------------------


def layering(project: Project, entry: int, turn: float) -> Layering:
    """Return how far each layer of one [[window]] goes beyond its sight line; those it has not end with the cloth."""
    window, usual = project.window[entry], Layering()
    none = -turn
    opens = window.opens != "fixed" and (window.screen or window.curtain)
    return Layering(
        turn,
        usual.clear if window.clear else none,
        usual.screen if window.screen else none,
        usual.curtain if window.curtain else none,
        usual.tape if opens else none,
    )


@dataclass(frozen=True, slots=True)
class WindowSizes:
    """Sizes of one [[window]], [rows] [m]."""

    along: Array
    bottom: Array
    width: Array
    height: Array
    radius: Array
    film: Array
    bends: Array

    def sight(self, name: str, along: float) -> Sight:
        """Return its nominal sight line, its middle `along` [m] from that of its panel's lower chord."""
        width, height = float(self.width[0]), float(self.height[0])
        radius = min(float(self.radius[0]), min(width, height) / 2.0)
        return Sight(along, float(self.bottom[0]), width, height, radius, name)


def window_sizes(at: Values, entry: int) -> WindowSizes:
    """Return the sizes of one [[window]] for every row; corners fit within its sides."""
    along, bottom, width, height, radius, film, bends = (
        at(f"window.{entry}.{key}")
        for key in ("along", "bottom", "width", "height", "corner_radius", "film", "film_bends")
    )
    fits = np.minimum(radius, np.minimum(width, height) / 2.0)
    return WindowSizes(along, bottom, width, height, np.asarray(fits), film, bends)
