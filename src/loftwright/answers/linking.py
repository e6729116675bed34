"""Where to bolt lifting arms that are at hand: the search, with the roof, its opening and the bed round the arms."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import asin, radians, sqrt
from typing import Final

import numpy as np

from loftwright.answers.draws import Nominal
from loftwright.answers.judged_roof import assembled, inputs_of
from loftwright.core.errors import Bug, Fault, ProjectFault
from loftwright.core.motion import Array
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, Uncertain, exact
from loftwright.core.units import Dimension
from loftwright.mechanics.bolt_points import Box, Linkages, Wanted
from loftwright.mechanics.bolt_search import Answers, bolt_points
from loftwright.mechanics.four_bar import FourBar
from loftwright.mechanics.room import Room, Surroundings, room
from loftwright.project.link_sections import Links
from loftwright.project.linkage_section import ARM_PINS
from loftwright.project.model import Project
from loftwright.project.plane import end_in_plane, lengthwise_only
from loftwright.project.points import Point
from loftwright.project.possible_linkage import OF_GUIDES

STATIONS: Final = 121
RESTS: Final = 1e-6
"""A rim or wall this little [m] past what it rests on still rests on it: judgement."""
ROOM_ENOUGH: Final = 1.0
"""Stands for a gap that nobody needs to look at [m]."""
VAN_REACH, SHELL_REACH = 0.35, 0.6
"""Shares of the opening's length from the low end in which pivots are looked for, no place written: judgement."""
LEVEL: Final = radians(3.0)
"""A shell that slopes less when open rises level [rad]: judgement."""
VAN_HEIGHTS, SHELL_HEIGHTS = (-0.2, 0.0), (-0.2, 0.1)
"""Heights [m] there: judgement."""
NOT_OF_ARMS: Final = ("hinge", "guide", *OF_GUIDES)
"""Keys of [linkage] that a roof on arms does not have."""
FINEST: Final = 0.0005
FINEST_IMPERIAL: Final = 0.0254 / 64
"""Places are written to this [m]: half a millimetre, or a 64th of an inch."""


@dataclass(frozen=True, slots=True)
class LinkNumbers:
    """What was asked, the answers best first, and what they come near: least gaps over the travel [m], each [n].

    `rim` over the roof, `edge` of the shell past the opening's edges, `arms` past the opening's edges, `head` of the
    arms past a standing head, `bed` of the shell over the bed board (None: no bed).
    """

    project: Project
    wanted: Wanted
    answers: Answers
    rim: Array
    edge: Array
    arms: Array
    head: Array
    bed: Array | None


def _links(project: Project) -> Links:
    if project.links is None:
        raise ProjectFault(
            [
                Fault(
                    "[links]",
                    "missing",
                    "it says which arms are at hand and what is wanted of them",
                    "add [links] with arm_a_length, arm_b_length, rise and tilt",
                )
            ]
        )
    return project.links


def _box(project: Project, side: str, arm: str, links: Links, *, level: bool) -> Box:
    """Return where a pivot of one arm may lie on the van or the shell; a `level` lift looks along all of it."""
    if links.keep == f"{side} pivots":
        kept: Point | None = getattr(project.linkage, f"arm_{arm}_{side}")
        if kept is None:
            raise Bug("a pivot that is kept is not there")
        x, z = kept.x.nominal, kept.z.nominal
        return Box(x, x, z, z)
    one: Point | None = getattr(links, f"{side}_from")
    other: Point | None = getattr(links, f"{side}_to")
    if one is not None and other is not None:
        xs = sorted((one.x.nominal, other.x.nominal))
        zs = sorted((one.z.nominal, other.z.nominal))
        return Box(xs[0], xs[1], zs[0], zs[1])
    length = project.opening.length.nominal
    # A shell that rises level is best held near both ends.
    reach = length if level else (VAN_REACH if side == "van" else SHELL_REACH) * length
    heights = VAN_HEIGHTS if side == "van" else SHELL_HEIGHTS
    return Box(0.0, reach, *heights) if project.linkage.end == "rear" else Box(length - reach, length, *heights)


def _within(value: Uncertain) -> tuple[float, float]:
    """Return the ends of a range any of which will do; a measured or assumed number stands for itself."""
    return (value.low, value.high) if value.shape == "even" else (value.nominal, value.nominal)


def wanted_of(project: Project) -> Wanted:
    """Return what is asked of the arms at hand. Errors: ProjectFault without [links], or hinged at a side."""
    lengthwise_only(project, "bolting of arms is")
    links, shell = _links(project), project.shell
    rear, z = -shell.overhang_rear.nominal, shell.rim_height.nominal
    ends = (rear, z), (rear + shell.length.nominal, z)
    lip, low = ends if project.linkage.end == "front" else ends[::-1]
    if links.low_end_rise is not None:
        slope = asin((links.rise.nominal - links.low_end_rise.nominal) / shell.length.nominal)
        tilt = (slope, slope)
    elif links.tilt is not None:
        tilt = _within(links.tilt)
    else:
        raise Bug("nothing says how the open shell slopes")
    bolt = project.settings.mounting_tolerance.nominal
    level = tilt[1] <= LEVEL
    return Wanted(
        arm_a=links.arm_a_length.nominal,
        arm_b=links.arm_b_length.nominal,
        van_plate=None if links.van_plate is None else links.van_plate.nominal,
        shell_plate=None if links.shell_plate is None else links.shell_plate.nominal,
        lip=lip,
        low=low,
        hand=(project.handle.at.x.nominal, project.handle.at.z.nominal),
        end=end_in_plane(project),
        rise=links.rise.nominal,
        tilt=tilt,
        shift=_within(links.shift),
        a_van=_box(project, "van", "a", links, level=level),
        a_shell=_box(project, "shell", "a", links, level=level),
        b_van=_box(project, "van", "b", links, level=level),
        b_shell=_box(project, "shell", "b", links, level=level),
        free_on="van" if links.keep == "van pivots" else "shell",
        grip=project.requirements.transmission_min.nominal,
        doubts=(
            sqrt(2 * bolt**2 + links.arm_a_length.spread**2),
            sqrt(2 * bolt**2 + links.arm_b_length.spread**2),
        ),
    )


def bolted(project: Project, pins: tuple[float, ...], opens: float) -> Project:
    """Return the project with its shell on two arms a side at these pivots [m] (as `FourBar.pins`), springs off."""
    places = {name: Point(x=exact(pins[2 * i]), z=exact(pins[2 * i + 1])) for i, name in enumerate(ARM_PINS)}
    changed = {"kind": "four-bar", "opens": exact(opens), **dict.fromkeys(NOT_OF_ARMS), **places}
    return project.model_copy(
        update={
            "linkage": project.linkage.model_copy(update=changed),
            "spring": (),
            "coil": (),
            "torsion": (),
            "cord": (),
        }
    )


def _round(project: Project, bar: FourBar, opens: Array, sense: Array) -> tuple[Room, Surroundings]:
    """Return what linkages come near, every row one of them."""
    pins = bar.pins()
    one = bolted(project, tuple(float(p[0]) for p in pins), float(opens[0]))
    nominal = Nominal(inputs_of(one))
    given = {
        f"linkage.{name}.{axis}": pins[2 * i + j] for i, name in enumerate(ARM_PINS) for j, axis in enumerate("xz")
    }
    given["linkage.opens"] = opens
    count = opens.size

    def at(path: str) -> Array:
        return given[path] if path in given else np.full(count, nominal(path)[0])

    parts = assembled(one, at, stations=STATIONS, sense=sense)
    return room(parts.around, parts.roof), parts.around


def _least(space: Room, around: Surroundings) -> tuple[Array, Array, Array, Array, Array | None]:
    if space.arms is None or space.arm_head is None:
        raise Bug("a roof on arms without arms")
    return (
        space.rim.min(axis=-1),
        space.edge.distance.min(axis=-1),
        space.arms.distance.min(axis=-1),
        space.arm_head.min(axis=-1),
        None if space.bed is None else space.bed.distance.min(axis=-1),
    )


def gap_over_wanted(project: Project, bar: FourBar, opens: Array, sense: Array) -> Array:
    """Return the least gap over what is wanted [m] of linkages, [n]; negative: it touches or comes too near.

    What only has to rest (rim on roof, shell past edges) counts as room enough until it touches.
    """
    space, around = _round(project, bar, opens, sense)
    rim, edge, arms, head, bed = _least(space, around)
    rests = np.minimum(rim, edge) + RESTS
    gap = np.where(rests >= 0.0, ROOM_ENOUGH, rests)
    for one in (arms, head, bed):
        if one is not None:
            gap = np.minimum(gap, one - around.clearance)
    return np.asarray(gap)


@lru_cache(maxsize=2)
def linked(project: Project) -> LinkNumbers:
    """Return where to bolt the arms at hand, best first. Errors: ProjectFault without a section [links]."""
    wanted = wanted_of(project)

    def clear(bar: FourBar, opens: Array, sense: Array) -> Array:
        return gap_over_wanted(project, bar, opens, sense)

    found = bolt_points(wanted, clear=clear)
    best = found.best
    none = np.zeros(0)
    if not len(best):
        return LinkNumbers(project, wanted, found, none, none, none, none, None)
    return LinkNumbers(project, wanted, found, *_least(*_round(project, best.bar(), best.opens, best.sense)))


def chosen(found: LinkNumbers, number: int) -> Linkages:
    """Return answer `number`, counted from 1. Errors: ProjectFault where there is none of that number."""
    count = len(found.answers.best)
    if not 1 <= number <= count:
        allowed = f"there are answers 1 to {count}" if count else "there is no answer"
        raise ProjectFault(
            [Fault("--write", str(number), allowed, "choose one that is listed" if count else "see why")]
        )
    return found.answers.best.pick(slice(number - 1, number))


def changes(found: LinkNumbers, number: int) -> dict[str, str | int | bool | None]:
    """Return what is to be written into the project file for answer `number`, from 1, by the path of its key."""
    one, units = chosen(found, number), found.project.settings.units
    written: dict[str, str | int | bool | None] = {
        "linkage.kind": "four-bar",
        **{f"linkage.{name}": None for name in NOT_OF_ARMS},
        "linkage.opens": format_quantity(
            exact(float(one.opens[0]), Provenance.SUGGESTED), Dimension.ANGLE, units, digits=6
        ),
    }
    for i, name in enumerate(ARM_PINS):
        for j, axis in enumerate("xz"):
            grain = FINEST if units == "metric" else FINEST_IMPERIAL
            place = round(float(one.pins[2 * i + j][0]) / grain) * grain
            written[f"linkage.{name}.{axis}"] = format_quantity(
                exact(place, Provenance.SUGGESTED), Dimension.LENGTH, units, digits=7
            )
    return written


def low_rise(found: LinkNumbers) -> Array:
    """Return how much higher the low end stands when open [m], [n]: rise - length sin(tilt)."""
    best = found.answers.best
    return np.asarray(best.rise - found.project.shell.length.nominal * np.sin(best.tilt))
