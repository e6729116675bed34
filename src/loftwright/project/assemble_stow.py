"""From the project file to what the fold of the cloth walls is made of: layers, room, pulls, air and panes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.cloth.bundle import Cavity, Obstacle
from loftwright.cloth.chain import Strand
from loftwright.cloth.fold import QUILTED_BOND, Layer, strand_of
from loftwright.cloth.made_up import MadeUp, made_up
from loftwright.cloth.trapped_air import SHUT_LEAK
from loftwright.cloth.tucking import Pane
from loftwright.cloth.windows import Layering
from loftwright.core.motion import Array
from loftwright.project.carrying import Values
from loftwright.project.model import Project

BAR_RADIUS: Final = 0.0125
"""Radius of the latches' bar [m]: a common tube of 25 mm; judgement."""
LEAK: Final = (SHUT_LEAK[0] + SHUT_LEAK[1]) / 2.0
"""Free area round shut doors and through the body's own vents [m2], the middle of `SHUT_LEAK`."""
HOUR: Final = 3600.0
BOARD: Final = 0.03
"""How thick what stands in the van is drawn and reckoned [m]."""
LEAST_DROP: Final = 0.02
"""Boards less far below the ring than this carry the fold like the ring itself [m]: judgement."""
FAR: Final = 0.6
"""How far boards and roof reach [m]."""
HELD_IN: Final = 0.01
"""How far inward of the lower line the middle of the cloth is held where it is to make two folds [m]: judgement."""


@dataclass(frozen=True, slots=True)
class FoldLayers:
    """The layers that stay in the wall while it folds, in their order from outside.

    `mass` [kg/m2], `thickness` [m], `bends` [m] and `short`, how far before the corners each ends [m]: [rows, layers].
    `outer` is the number of the outer cloth among them; `bond` [1] as in `fold.strand_of`.
    """

    names: tuple[str, ...]
    roles: tuple[str, ...]
    mass: Array
    thickness: Array
    bends: Array
    short: Array
    bond: float

    @property
    def outer(self) -> int:
        """Number of the outer cloth."""
        return self.roles.index("outer") if "outer" in self.roles else 0

    def made(self, past: Array | None = None) -> MadeUp:
        """Return the wall that they make up; `past` [rows] [m]: at the corners, without what ends that far off them."""
        there = None if past is None else ~self.ends_before(past)
        return made_up(self.mass, self.thickness, self.bends, self.bond, there)

    def ends_before(self, past: Array) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Return which layers end so far off the corners that their folds do not cross, [rows, layers]."""
        clear = (self.short > 0.0) & (self.short >= np.asarray(past)[..., None] - 1e-6)
        clear[..., self.outer] = False
        return np.asarray(clear)

    def strand(self, length: float) -> Strand:
        """Return the planned wall as one strip `length` [m] from line to line."""
        layers = tuple(
            Layer(name, *(float(v[0, k]) for v in (self.mass, self.thickness, self.bends)))
            for k, name in enumerate(self.names)
        )
        return strand_of(layers, length, bond=self.bond)

    def thick(self, role: str) -> float:
        """Return how thick the layers of one role are together [m], planned."""
        return float(sum(self.thickness[0, k] for k, one in enumerate(self.roles) if one == role))


@dataclass(frozen=True, slots=True)
class Lowering:
    """How the roof comes down, each [rows].

    `seconds` [s]; `area` through which air gets out [m2], gaps of shut doors counted, of which `vent` is what is
    opened; `fan` [m3/s] blown out; `friction` [1] of cloth on cloth; `push_limit` [N/m].
    """

    seconds: Array
    area: Array
    vent: Array
    fan: Array
    friction: Array
    push_limit: Array


def fold_layers(project: Project, at: Values) -> FoldLayers | None:
    """Return the layers that are in the wall when the roof comes down; None where no cloth is written.

    Outer cloth first, then insulation, then lining, each in the order of the file.
    """
    order = {"outer": 0, "insulation": 1, "lining": 2}
    named = sorted(
        (k for k, layer in enumerate(project.layer) if not layer.removable),
        key=lambda k: (order[project.layer[k].role], k),
    )
    if not named:
        return None
    mass, thickness, bends, short = (
        np.stack([at(f"layer.{k}.{key}") for k in named], axis=-1)
        for key in ("mass", "thickness", "bends", "stops_short")
    )
    return FoldLayers(
        tuple(project.layer[k].name for k in named),
        tuple(project.layer[k].role for k in named),
        mass,
        thickness,
        bends,
        short,
        QUILTED_BOND if project.stow.quilted and len(named) > 1 else 0.0,
    )


def comes_down(project: Project) -> tuple[str, ...]:
    """Return the names of the layers that are taken down before the roof is closed."""
    return tuple(layer.name for layer in project.layer if layer.removable)


def fold_count(project: Project) -> int:
    """Return how many folds a wall makes."""
    return 2 if project.stow.hold_middle else 1


def lowering(project: Project, at: Values) -> Lowering:
    """Return how the roof comes down."""
    vent = at("stow.vent")
    return Lowering(
        at("stow.seconds"),
        np.asarray(vent + LEAK),
        vent,
        np.asarray(at("stow.fan") / HOUR),
        at("stow.friction"),
        at("stow.push_limit"),
    )


def pulls(project: Project, at: Values) -> Array:
    """Return what draws a straight wall inward, [rows, pulls, 2]: share of its height [1] and pull [N/m].

    One elastic all round pulls at the corners only, by tension times curvature, and so counts for nothing here. Where
    the middle is held, cords pull half-way below and above it, half of the whole at either place.
    """
    force, where = at("stow.pull_force"), at("stow.pull_at")
    if project.stow.pull != "cords":
        return np.zeros((force.size, 0, 2))
    if not project.stow.hold_middle:
        return np.stack([where, force], axis=-1)[:, None]
    halves = [np.stack([place, force / 2.0], axis=-1) for place in (where / 2.0, (1.0 + where) / 2.0)]
    return np.stack(halves, axis=1)


def pull_ends(project: Project, drawn: Array) -> tuple[Array, ...]:
    """Return `drawn`, planned pulls [pulls, 2] of `pulls`, at both ends of the force's own range, or once without one.

    Of all that is unsure in the fold only the pull is taken at its ends: it decides how far the cloth is drawn in.
    """
    force = project.stow.pull_force
    if not len(drawn) or force.nominal <= 0.0 or force.low >= force.high:
        return (drawn,)
    return tuple(drawn * np.array([1.0, max(end, 0.0) / force.nominal]) for end in (force.low, force.high))


def holds(project: Project, gap: float) -> tuple[tuple[float, float, float], ...]:
    """Return where the cloth is held when closed, share of its length [1], u and z [m]; `gap` between the lines [m]."""
    return ((0.5, HELD_IN, gap / 2.0),) if project.stow.hold_middle else ()


def cavity(
    project: Project,
    at: Values,
    gap: Array,
    over: Array,
    loop: Array,
) -> Cavity:
    """Return the room above the ring for a bundle, each [rows] [m].

    `gap` from lower to upper line, upright, closed; `over` by which the upper one then lies outside; `loop`: height of
    the free bundle. What hangs below the ring has no part in it. A bar further in than the ring's top leaves what is
    below the ring as room beneath it, where cloth `may_hang`.
    """
    lining, ledge = at("stow.cavity"), at("stow.ledge")
    if project.stow.bar_in is None:
        at("stow.bar_below")
        return Cavity(np.asarray(lining), np.full_like(lining, np.inf), np.asarray(lining))
    back = at("stow.bar_in") - BAR_RADIUS - over
    below = np.where((back > ledge) & may_hang(at, loop), at("stow.drop"), 0.0)
    under = np.maximum(gap - at("stow.bar_below"), 0.0) + below
    return Cavity(np.asarray(lining), np.asarray(back), np.asarray(np.minimum(under, lining)))


def may_hang(at: Values, loop: Array) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    """Return whether the fold can hang into the van past the ring's top, [rows].

    There must be more room below than the free bundle of height `loop` [m] takes: else the boards there carry it, like
    a wider top of the ring.
    """
    return np.asarray(at("stow.drop") > np.maximum(loop, LEAST_DROP))


def bar(project: Project, at: Values) -> tuple[float, float, float] | None:
    """Return the latches' bar, u and z from the upper line in the shell's frame and radius [m], planned, or None."""
    if project.stow.bar_in is None:
        return None
    return float(at("stow.bar_in")[0]), BAR_RADIUS - float(at("stow.bar_below")[0]), BAR_RADIUS


def obstacles(at: Values) -> tuple[Obstacle, ...]:
    """Return what stands inward of the ring."""
    return (Obstacle("bed board, cupboards or lining", at("stow.depth")),)


def boxes(at: Values, skin: float) -> tuple[tuple[float, float, float, float], ...]:
    """Return what the cloth may lie on, planned, u0, z0, u1, z1 [m]: roof outside, the ring, the board below.

    `skin` is how far the roof's skin lies below the lower line [m].
    """
    ledge, drop = float(at("stow.ledge")[0]), float(at("stow.drop")[0])
    found = [(-FAR, -skin - BOARD, -0.001, -skin)]
    if ledge > 0.002:
        found.append((0.0, -min(BOARD, max(drop, 0.005)), ledge, 0.0))
    found.append((ledge, -drop - BOARD, ledge + FAR, -drop))
    return tuple(found)


def standing(at: Values) -> tuple[float, float, float, float]:
    """Return what bounds the depth as a box to be drawn, planned, u0, z0, u1, z1 [m]; the tip is judged against it."""
    depth, drop = float(at("stow.depth")[0]), float(at("stow.drop")[0])
    return depth, -drop - BOARD, depth + BOARD, 0.0


def panes(project: Project, at: Values, heights: Sequence[tuple[float, float]]) -> tuple[Pane, ...]:
    """Return the windows as the fold sees them, planned; `heights`: least and greatest of the wall over each [m].

    Both ends count, so that a crease that runs aslant through a window is seen. Walls of no height: none.
    """
    found = []
    for k, (window, (least, most)) in enumerate(zip(project.window, heights, strict=True)):
        bottom, tall, bends = (float(at(f"window.{k}.{key}")[0]) for key in ("bottom", "height", "film_bends"))
        if least <= 0.0:
            continue
        margin = Layering().curtain if window.curtain else Layering().tape
        found.append(
            Pane(
                window.name,
                f"{window.wall} wall",
                (bottom - margin) / most,
                (bottom + tall + margin) / least,
                bends if window.clear else 0.0,
                window.opens != "fixed",
            )
        )
    return tuple(found)
