"""From the file's sections on what rides on the roof and goes into it to what fit-out asks for, for every row.

Arrays are [rows]; lengths in the plane of motion unless said otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from loftwright.core.choices import BodyName
from loftwright.core.motion import Array, PointPath, Travel
from loftwright.fitout.panel_frame import mass_range
from loftwright.fitout.seal import SealCurve, curve_through
from loftwright.mechanics.balance import span
from loftwright.project.carrying import Values
from loftwright.project.model import Project
from loftwright.project.plane import LENGTHWISE, plane_of
from loftwright.project.points import Point
from loftwright.reference.warmth import FOAM, LAMINATE
from loftwright.reference.wire import CONDUCTORS

OF_FREE: Final = 0.9
"""What a seal fills at most, as a share of its free height [1]: so `fit.seal_most` is meant."""
LEAST_SQUEEZE: Final = 2e-4
"""A sample is squeezed by at least this [m]; a rare draw of two readings that cross must not stop the rest."""
MM2: Final = 1e-6
PLYWOOD: Final = 0.13
"""Heat that goes through plywood [W/(m K)]: typical, from memory."""
SKIN_CONDUCTS: Final = {"foam-plywood": FOAM, "glass-fibre": LAMINATE, "aluminium-skin": PLYWOOD, "plywood": PLYWOOD}
"""What conducts heat in each kind of shell, taken over its whole thickness [W/(m K)]: judgement."""
BOARD_CONDUCTS: Final = PLYWOOD
BATTERY_LOW: Final = 11.5
"""Voltage of a 12 V battery that is nearly empty [V]: the controller gives it most current then; common practice."""
LEAST_USE: Final = 1.0
"""Daily use below which a panel is not compared with it [W h]."""


@dataclass(frozen=True, slots=True)
class SealGiven:
    """The seal's `free` height [m] and its `curve`; `sampled`: whether a sample was squeezed on scales."""

    free: Array
    curve: SealCurve
    sampled: bool


def seal_given(project: Project, at: Values) -> SealGiven:
    """Return the seal: from the sample where all four readings of it are written, else from the balance's own line."""
    strip = project.seal
    read = {
        name: at(f"seal.{name}")
        for name in ("sample", "height", "squeezed", "pressed")
        if getattr(strip, name) is not None
    }
    free = read["height"] if "height" in read else at("fit.seal_most") / OF_FREE
    if len(read) == 4:
        by = np.maximum(read["height"] - read["squeezed"], LEAST_SQUEEZE)
        return SealGiven(free, curve_through(by, read["pressed"] / read["sample"]), True)
    line = np.maximum(at("forces.seal_line"), 1e-6)
    return SealGiven(free, curve_through(at("forces.seal_height"), line), False)


@dataclass(frozen=True, slots=True)
class PanelGiven:
    """The panel and its place, arrays [rows].

    `power` [W], `length` along the van and `width` across [m], `gap` [m], `mass` [kg], `x` of its middle in the plane
    of motion [m]; `weighed`: whether its weight stands in an [[item]].
    """

    power: Array
    length: Array
    width: Array
    gap: Array
    mass: Array
    x: Array
    weighed: bool

    @property
    def area(self) -> Array:
        """Area of the panel [m2]."""
        return np.asarray(self.length * self.width)


def panel_given(project: Project, at: Values) -> PanelGiven:
    """Return the panel; items of kind panel say what it weighs and where it lies."""
    length, width = at("panel.length"), at("panel.width")
    mine = [i for i, item in enumerate(project.item) if item.kind == "panel" and item.state != "remove"]
    if mine:
        masses = np.stack([at(f"item.{i}.mass") for i in mine], axis=-1)
        places = np.stack([at(f"item.{i}.x") for i in mine], axis=-1)
        mass = masses.sum(axis=-1)
        x = (masses * places).sum(axis=-1) / np.maximum(mass, 1e-9)
    else:
        plane = plane_of(project)
        # A light panel is held down least.
        mass = mass_range("thin, bonded", length * width)[0]
        x = at(plane.shell) / 2 - at(plane.overhang)
    return PanelGiven(at("panel.power"), length, width, at("panel.gap"), mass, x, bool(mine))


@dataclass(frozen=True, slots=True)
class WireGiven:
    """The cable: `length` one way [m], resistance at 20 C `per_metre` [ohm/m], what it `bears` at 30 C [A].

    `current` at work and `lasting` at the battery [A], `volts` at work [V], allowed `drop` [1], `cable` over its sheath
    [m]; `fuse` [A] or None. Each [rows].
    """

    length: Array
    per_metre: Array
    bears: Array
    current: Array
    lasting: Array
    volts: Array
    drop: Array
    cable: Array
    fuse: Array | None


def wire_given(project: Project, at: Values) -> WireGiven:
    """Return the panel's cable; between sizes of the table resistance goes with one over the area."""
    area = at("panel.wire_area") * MM2
    sizes = np.array([one.area for one in CONDUCTORS])
    # Area times resistance hardly changes from size to size, current over area goes down steadily.
    each = np.interp(area, sizes, sizes * np.array([one.plain for one in CONDUCTORS]))
    borne = np.interp(np.log(area), np.log(sizes), np.log(np.array([one.bears for one in CONDUCTORS])))
    volts = at("panel.volts")
    fuse = None if project.panel is None or project.panel.fuse is None else at("panel.fuse")
    return WireGiven(
        length=at("panel.wire_length"),
        per_metre=np.asarray(each / area),
        bears=np.asarray(np.exp(borne)),
        current=np.asarray(at("panel.power") / volts),
        # A controller that steps the voltage down gives the battery more current than the panel has.
        lasting=np.maximum(at("panel.short_circuit"), at("panel.power") / BATTERY_LOW),
        volts=volts,
        drop=at("panel.drop_limit"),
        cable=at("panel.cable"),
        fuse=fuse,
    )


def clips_written(project: Project, at: Values) -> tuple[tuple[Array, Array] | None, tuple[Array, Array] | None]:
    """Return the cable's clips on van and shell, each (x, z) [m], [rows]; None where they are not placed yet."""

    def place(point: Point | None, name: str) -> tuple[Array, Array] | None:
        return None if point is None else (at(f"panel.{name}.x"), at(f"panel.{name}.z"))

    panel = project.panel
    if panel is None:
        return None, None
    return place(panel.loop_van, "loop_van"), place(panel.loop_shell, "loop_shell")


def flat_slope(project: Project, at: Values) -> Array:
    """Return how the top of the closed shell rises in the plane of motion [rad], [rows]: near end to far end."""
    plane = plane_of(project)
    near, _, far = (at(path) for path in plane.heights)
    return np.asarray(np.arctan2(far - near, at(plane.shell)))


def slopes(project: Project, turned: Array) -> tuple[Array, Array]:
    """Return pitch, cab end up, and roll, left side up, of a shell `turned` in its plane [rad], each [rows]."""
    zero = np.zeros_like(turned)
    return (turned, zero) if plane_of(project) is LENGTHWISE else (zero, -turned)


@dataclass(frozen=True, slots=True)
class LiftLine:
    """An actuator's `length` between its pins [m] and its `rate` by the driving angle [m/rad], each [rows, n]."""

    length: Array
    rate: Array


def line_between(
    travel: Travel, foot_on: BodyName, foot: tuple[Array, Array], head_on: BodyName, head: tuple[Array, Array]
) -> LiftLine:
    """Return the line of an actuator over the travel; `foot` and `head` (x, z) [m], [rows], where they lie closed."""
    low, high = travel.body(foot_on).point(*foot), travel.body(head_on).point(*head)
    length, rate = span(low, high, np.zeros(1))
    return LiftLine(length, rate)


def lift_line(project: Project, at: Values, travel: Travel) -> LiftLine | None:
    """Return the actuators' line over the travel; None without [lift], or where a body of it is not in this roof."""
    lift = project.lift
    if lift is None:
        return None
    foot, head = ((at(f"lift.{end}.x"), at(f"lift.{end}.z")) for end in ("foot", "head"))
    if not travel.arms and {lift.foot_on, lift.head_on} & {"arm a", "arm b"}:
        return None
    return line_between(travel, lift.foot_on, foot, lift.head_on, head)


@dataclass(frozen=True, slots=True)
class LiningGiven:
    """The lining, arrays [rows]: thickness of `insulation` and `board` [m], mass `per_area` [kg/m2].

    `layers` and `conducts`: thicknesses [m] and conductivities [W/(m K)] from inside to outside, shell included.
    """

    insulation: Array
    board: Array
    per_area: Array
    layers: tuple[Array, ...]
    conducts: tuple[Array | float, ...]

    @property
    def thickness(self) -> Array:
        """Insulation and board together [m]."""
        return np.asarray(self.insulation + self.board)


def lining_given(project: Project, at: Values, shell: Array) -> LiningGiven:
    """Return the lining under a shell of thickness `shell` [m], [rows]."""
    insulation, board = at("lining.insulation"), at("lining.board")
    skin = SKIN_CONDUCTS.get(project.shell.made_of, LAMINATE)
    return LiningGiven(
        insulation,
        board,
        np.asarray(insulation * at("lining.density") + at("lining.board_mass")),
        (board, insulation, shell),
        (BOARD_CONDUCTS, at("lining.conductivity"), skin),
    )


def lining_thickness(project: Project, at: Values) -> Array:
    """Return how much lower than the shell's inside the lining hangs [m], [rows]; nought without [lining]."""
    if project.lining is None:
        return np.zeros_like(at("opening.length"))
    return np.asarray(at("lining.insulation") + at("lining.board"))


def path_of(travel: Travel, place: tuple[Array, Array]) -> PointPath:
    """Return the path of a point of the shell, (x, z) [m], [rows], where it lies closed."""
    return travel.shell.point(*place)
