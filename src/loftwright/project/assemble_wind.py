"""From the project file to the raised roof in wind: its shape, what holds it and bears, what acts on a still day.

All in the plane of motion: x in the plane, y square to it to the left, z up, from the middle of the edge at which x is
nought. For a shell hinged at a side x runs from the left of the van to its right and y to the cab. Arrays are [rows].
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from loftwright.core.motion import Array, Wrench, push_at
from loftwright.mechanics.feel import Feel, Fitted, Roof, is_wet, state
from loftwright.mechanics.reactions import wrenches
from loftwright.project.carrying import Values, lip_of, shoes
from loftwright.project.model import Project
from loftwright.project.plane import LENGTHWISE, plane_of
from loftwright.strength.held import Job
from loftwright.strength.raised_shape import Direction, RaisedShape, points
from loftwright.strength.support_parts import (
    HingeStiffness,
    arm,
    gas_spring,
    guide,
    hinge,
    link,
    stop,
    strap,
)
from loftwright.strength.supports import Support, from_side_view, support

STOP_STIFFNESS: Final = 1.0e6
"""Stiffness of a link, of a prop, or of a spring drawn out to its end [N/m]: judgement, its fixings in laminate."""
STRAP_STIFFNESS: Final = 5.0e4
"""Stiffness of one strap that ends the opening [N/m]: judgement, a metre of common webbing."""

TO_VAN: Final[dict[Direction, Direction]] = {"front": "right", "rear": "left", "left": "front", "right": "rear"}
"""Edges in the plane across the van, by what they are on the van."""


@dataclass(frozen=True, slots=True)
class Bears:
    """What one part bears before any safety factor.

    `force` [N] and `moment` [N m] or None, [rows]; `lever` [m], [rows]: a sideways force bends the part with this arm,
    None where its moment is that of its turning supports. `span` [m], [rows]: two pins so far apart keep the shell
    level as a couple, None where there is no such pair.
    """

    part: str
    job: Job
    force: Array
    moment: Array | None = None
    lever: Array | None = None
    span: Array | None = None


def van_names(project: Project) -> dict[Direction, Direction]:
    """Return what each edge in the plane of motion is called on the van."""
    if plane_of(project) is LENGTHWISE:
        return {edge: edge for edge in TO_VAN}
    return dict(TO_VAN)


def to_van(project: Project, vector: Array) -> Array:
    """Return a vector of the plane of motion, [..., 3], along the van's own axes; its unit stays."""
    if plane_of(project) is LENGTHWISE:
        return vector
    return np.stack([vector[..., 1], -vector[..., 0], vector[..., 2]], axis=-1)


def sound(value: ArrayLike, roof: Roof) -> Array:
    """Return a value [rows, ...] with the planned roof's in rows that cannot be put together; its unit stays."""
    found = np.asarray(value, dtype=np.float64)
    if found.shape[0] != roof.possible.size:
        found = np.broadcast_to(found, (roof.possible.size, *found.shape[1:]))
    possible = roof.possible.reshape((-1,) + (1,) * (found.ndim - 1)) & np.isfinite(found)
    return np.where(possible, found, found[:1])


def raised(project: Project, at: Values, roof: Roof, stations: tuple[int, ...]) -> RaisedShape:
    """Return the roof's shape at stations of the travel, every field [rows, stations]."""
    plane, shell = plane_of(project), roof.travel.shell
    picked = np.asarray(stations)

    def wide(value: Array) -> Array:
        return np.repeat(sound(value, roof)[:, None], picked.size, axis=1)

    rim = shell.point(-at(plane.overhang), at("shell.rim_height"))
    held = np.mean([np.stack([p.x, p.z]) for p in (shell.point(*pin) for pin in roof.pins.shell)], axis=0)
    near, middle, far = (at(path) for path in plane.heights)
    return RaisedShape(
        rear=np.zeros((roof.possible.size, picked.size)),
        length=wide(at(plane.opening)),
        width=wide(at(plane.opening_across)),
        shell_x=sound(rim.x, roof)[:, picked],
        shell_z=sound(rim.z, roof)[:, picked],
        shell_length=wide(at(plane.shell)),
        shell_width=wide(at(plane.shell_across)),
        shell_height=wide((near + 2.0 * middle + far) / 4.0),
        tilt=sound(np.broadcast_to(shell.phi, rim.x.shape), roof)[:, picked],
        hinge_x=sound(np.broadcast_to(held[0], rim.x.shape), roof)[:, picked],
        hinge_z=sound(np.broadcast_to(held[1], rim.x.shape), roof)[:, picked],
        roof_height=wide(at("body.height")),
    )


def lip_point(project: Project, at: Values, roof: Roof) -> tuple[Array, Array]:
    """Return the middle of the open lip [m] and the way it moves as the roof opens on [1], each [rows, 3]."""
    path = roof.travel.shell.point(*lip_of(project, at))
    x, z, dx, dz = (sound(v, roof)[:, -1] for v in (path.x, path.z, path.dx, path.dz))
    size = np.maximum(np.hypot(dx, dz), 1e-9)
    flat = np.hypot(dx, dz) < 1e-9
    return points(x, 0.0, z), points(np.where(flat, 0.0, dx / size), 0.0, np.where(flat, 1.0, dz / size))


def sides(project: Project) -> tuple[tuple[str, float], tuple[str, float]]:
    """Return the names of the two sides of the shell beside its plane of motion, and the sign of y there."""
    names = van_names(project)
    return (names["left"], 1.0), (names["right"], -1.0)


def carriers(project: Project, at: Values, roof: Roof) -> tuple[list[Support], list[Bears]]:
    """Return what carries the open shell, hinges, arms, crossing arms or posts, and what each bears."""
    upright, plate = at("hinges.upright"), at("linkage.plate_stiffness")
    turning = at("hinges.turning") / np.radians(1.0)
    pull, moment, half = at("hinges.pull_limit"), at("hinges.moment_limit"), at("linkage.spacing") / 2.0
    found: list[Support] = []
    bear: list[Bears] = []
    shell = roof.travel.shell
    pins = [(sound(p.x, roof)[:, -1], sound(p.z, roof)[:, -1]) for p in (shell.point(*pin) for pin in roof.pins.shell)]
    held = shoes(project, at)
    for side, sign in sides(project):
        y = sign * half
        if project.linkage.kind == "hinge":
            stiff = HingeStiffness(upright, plate, upright, turning, turning)
            found += hinge(f"{side} hinge", points(pins[0][0], y, pins[0][1]), stiff)
            bear.append(Bears(f"{side} hinge", "hinge", pull, moment))
        elif held is not None:
            # A shell in straight guides moves along them.
            way = points(*(np.broadcast_to(v[..., -1], y.shape) for v in (shell.dx, np.zeros(1), shell.dz)))
            for i, (x, z) in enumerate(held.pairs):
                post = f"{side} post" if len(held.pairs) == 1 else f"{side} post {i + 1}"
                middle = points(x, y, z)
                ends = tuple(middle + s * held.length[:, None] / 2.0 * way for s in (-1.0, 1.0))
                # Two shoes of one post may push against each other: each is a part.
                for one in guide(post, (ends[0], ends[1]), post=way, across=upright, sideways=plate):
                    found.append(replace(one, part=f"{post}, {one.what.split()[0]} shoe"))
                bear += [Bears(f"{post}, {name} shoe", "arm", pull) for name in ("lower", "upper")]
        elif roof.pins.crossing:
            found += _crossing(f"{side} crossing arms", pins, y, upright, plate, turning)
            span = np.maximum(np.abs(pins[1][0] - pins[0][0]), 0.1)
            bear.append(Bears(f"{side} crossing arms", "arm", pull, moment, span=span))
        else:
            for name, foot, head in zip(("arm a", "arm b"), roof.pins.van, pins, strict=True):
                low = points(sound(foot[0], roof), y, sound(foot[1], roof))
                high = points(head[0], y, head[1])
                reach = np.linalg.norm(high - low, axis=-1)
                # Two pins in series along it; sideways two plates and the foot that turns over with the arm.
                side_stiff = 1.0 / (2.0 / plate + reach**2 / turning)
                found += arm(f"{side} {name}", low, high, along=upright / 2.0, sideways=side_stiff)
                bear.append(Bears(f"{side} {name}", "arm", pull, moment, reach))
    return found, bear


def _crossing(
    part: str, pins: list[tuple[Array, Array]], y: Array, upright: Array, plate: Array, turning: Array
) -> list[Support]:
    """Return the supports of one pair of crossing arms: they let the shell rise level and hold all else."""
    slides, fixed = (points(x, y, z) for x, z in pins)
    span = np.maximum(np.abs(pins[1][0] - pins[0][0]), 0.1)
    middle = (slides + fixed) / 2.0
    ways = np.eye(3)
    return [
        support(part, "fore and aft", fixed, ways[0], upright / 2.0),
        support(part, "sideways, sliding pin", slides, ways[1], plate / 2.0),
        support(part, "sideways, fixed pin", fixed, ways[1], plate / 2.0),
        support(part, "level", middle, ways[1], upright * span**2 / 4.0, turning=True),
        support(part, "turning over", middle, ways[0], turning, turning=True),
        support(part, "turning aside", middle, ways[2], turning, turning=True),
    ]


def _ends(fitted: Fitted, felt: Feel, i: int, roof: Roof, sign: float) -> tuple[Array, Array]:
    line = felt.springs[i].line
    head_y = sign * fitted.place
    foot = points(
        sound(line.foot.x, roof)[:, -1], head_y - sign * fitted.mount.sideways, sound(line.foot.z, roof)[:, -1]
    )
    return foot, points(sound(line.head.x, roof)[:, -1], head_y, sound(line.head.z, roof)[:, -1])


def _rate(fitted: Fitted, length: Array) -> Array:
    """Return how fast one gas spring's push changes with its length [N/m]: first force, ratio and stroke."""
    gas = fitted.mount.spring
    return np.asarray(fitted.delivered * gas.force_1 * (gas.ratio - 1.0) / np.maximum(gas.stroke, 0.01) + 0 * length)


def stops(project: Project, at: Values, roof: Roof, felt: Feel) -> tuple[list[Support], list[Bears]]:
    """Return what ends the opening, springs and prop, and what springs bear that are the stop themselves.

    Straps, links and cloth act at both corners of the lip against its way; where they really are is not asked for.
    """
    found: list[Support] = []
    bear: list[Bears] = []
    lip, way = lip_point(project, at, roof)
    half = at(plane_of(project).shell_across) / 2.0
    kind = project.stop.kind
    on_shell = [i for i, f in enumerate(roof.fitted) if f.mount.foot_on == "van" and f.mount.head_on == "shell"]
    end_stop = kind == "spring end" and bool(on_shell)
    for side, sign in sides(project):
        corner = lip + sign * half[:, None] * np.eye(3)[1]
        for i in on_shell:
            fitted = roof.fitted[i]
            count = fitted.mount.count / 2
            foot, head = _ends(fitted, felt, i, roof, sign)
            name = (
                f"{side} {fitted.name}"
                if len({f.name for f in roof.fitted}) == len(roof.fitted)
                else (f"{side} {fitted.name} {i + 1}")
            )
            found += gas_spring(f"push of {name}", foot, head, rate=count * _rate(fitted, head[:, 0]))
            if end_stop:
                found += strap(name, foot, head, stiffness=count * STOP_STIFFNESS)
                most = fitted.end_limit
                if fitted.bracket_limit is not None:
                    most = np.minimum(most, fitted.bracket_limit)
                bear.append(Bears(name, "stop", count * most))
        if end_stop:
            continue
        if kind == "link":
            found += link(f"{side} link stop", corner - way, corner, stiffness=STOP_STIFFNESS)
        elif kind == "cloth":
            height = np.maximum(corner[:, 2], 0.1)
            stiff = at("wind.cloth_stretch") * half / height
            found += strap(f"{side} cloth", corner - way, corner, stiffness=stiff)
        else:
            name = "strap" if kind == "strap" else "stop"
            found += strap(f"{side} {name}", corner - way, corner, stiffness=STRAP_STIFFNESS)
    if project.requirements.prop_fitted:
        found += stop("prop", lip, way, stiffness=STOP_STIFFNESS)
    return found, bear


def still_day(roof: Roof, felt: Feel, heat: str, age: str) -> Array:
    """Return what weight, springs and loads do to the open shell, [rows, 6] [N] and [N m] about the origin.

    At rest: springs with the middle of their two forces. What springs on arms do is handed on to the arms' pins.
    """
    index = state(heat, age)  # type: ignore[arg-type]
    loads = felt.loads + (felt.wet if is_wet(heat) else ())  # type: ignore[arg-type]
    pushes = [push.at(index) for push in felt.springs]
    both = [wrenches(roof.travel, roof.body, pushes, loads, raising=way, lifters=felt.lifters) for way in (True, False)]
    mean = {name: (both[0][name] + both[1][name]).scaled(np.asarray(0.5)) for name in both[0]}
    whole = mean["shell"] + _handed_on(roof, mean)
    shape = (roof.possible.size, roof.travel.fraction.size)
    parts = (sound(np.broadcast_to(v, shape), roof)[:, -1] for v in (whole.fx, whole.fz, whole.m))
    return from_side_view(*parts)


def _handed_on(roof: Roof, acting: dict[str, Wrench]) -> Wrench:
    """Return what loads on arms do to the shell."""
    zero = np.zeros(roof.travel.fraction.size)
    total, shell = Wrench(zero, zero, zero), roof.travel.shell
    if not roof.travel.arms:
        return total
    tops = [shell.point(*pin) for pin in roof.pins.shell]
    names = ("arm a", "arm b")
    if roof.pins.crossing:
        # They let the shell rise level: by virtual work, a force straight up between the pins.
        drive = sum((acting[n].work_rate(roof.travel.body(n)) for n in names), start=zero)
        middle = shell.point(*((roof.pins.shell[0][k] + roof.pins.shell[1][k]) / 2.0 for k in (0, 1)))
        rate = np.where(np.abs(middle.dz) > 1e-6, middle.dz, 1e-6)
        return push_at(middle, 0.0 * middle.x, drive / rate)
    for name, foot, top in zip(names, roof.pins.van, tops, strict=True):
        load = acting[name]
        fx, fz = foot[0][..., None], foot[1][..., None]
        about = load.m - (fx * load.fz - fz * load.fx)
        dx, dz = top.x - fx, top.z - fz
        reach2 = np.maximum(dx**2 + dz**2, 1e-6)
        # Square to the arm, from x towards z.
        total = total + push_at(top, -about * dz / reach2, about * dx / reach2)
    return total
