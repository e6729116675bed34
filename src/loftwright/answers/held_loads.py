"""Forces on each place where parts are bolted: from the gust, the road, moving the roof, its springs, latches, brace.

Vectors lie in the plane of motion and square to it: x along it, y to its left, z up; forces on a part bolted to the
shell turn with the shell. Everything is as it is, without factors.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.held_basis import STATIONS, Basis
from loftwright.answers.judged_roof import BOTH_WAYS, HARDEST, pin_forces
from loftwright.core.choices import JointPlace
from loftwright.core.motion import Array, thinned
from loftwright.mechanics.feel import feel
from loftwright.project.assemble_brace import BRACE
from loftwright.project.assemble_wind import sound
from loftwright.project.plane import LENGTHWISE
from loftwright.strength.raised_shape import DIRECTIONS

if TYPE_CHECKING:
    from loftwright.answers.held_road import RoadFound
    from loftwright.answers.held_wind import WindFound

STEP: Final = (STATIONS - 1) // 4
"""Every so many stations of the travel are looked at while the roof moves: five in all."""
MOVING: Final = "moved by hand, springs as they are"
DRIVING: Final = "on the road at the wanted speed"
SPRING_CLOSED: Final = "spring, closed"
SPRING_OPEN: Final = "spring, open"
LATCHED: Final = "latched, standing"
GUST: Final = "gust from the {}"
ARMS: Final = ("arm a", "arm b")
CROSSING: Final = " crossing arms"
CARRIERS: Final = (" hinge", " shoe", *ARMS)
"""How the names of parts that carry the shell end."""


@dataclass(frozen=True, slots=True)
class Case:
    """One load on the part that is bolted: `force` [N] and `moment` [N m] at its pin, each [rows, 3]."""

    name: str
    force: Array
    moment: Array


def _vector(x: Array | float, y: Array | float, z: Array | float) -> Array:
    return np.stack([np.asarray(v, dtype=np.float64) for v in np.broadcast_arrays(x, y, z)], axis=-1)


def turned_back(vector: Array, phi: Array) -> Array:
    """Return a vector [..., 3] as the shell sees it that has turned by `phi` [rad], [...]; its unit stays."""
    cos, sin = np.cos(phi), np.sin(phi)
    x, y, z = (vector[..., i] for i in range(3))
    return _vector(cos * x + sin * z, y, cos * z - sin * x)


def in_plane(base: Basis, vector: Array) -> Array:
    """Return a vector along the van's own axes, [..., 3], in the plane of motion and square to it; its unit stays."""
    if base.plane is LENGTHWISE:
        return vector
    x, y, z = (vector[..., i] for i in range(3))
    return _vector(-y, x, z)


def _case(name: str, force: Array, moment: Array | None = None) -> Case:
    return Case(name, force, np.zeros_like(force) if moment is None else moment)


def _open(base: Basis) -> Array:
    """Return how far the open shell has turned [rad], [rows]."""
    return sound(base.roof.travel.shell.phi, base.roof)[:, -1]


def _on_both(found: Iterable[tuple[str, Array, Array, Array]]) -> dict[str, tuple[Case, ...]]:
    """Return cases on shell and van from (name, force and moment on the shell, how far the shell has turned)."""
    shell, van = [], []
    for name, force, moment, phi in found:
        shell.append(_case(name, turned_back(force, phi), turned_back(moment, phi)))
        van.append(_case(name, -force, -moment))
    return {"shell": tuple(shell), "van": tuple(van)}


def _moving(base: Basis) -> dict[str, tuple[Case, ...]]:
    """Return what one hinge or pin carries while the roof is moved slowly: its greatest, and its greatest pull."""
    roof = replace(base.roof, travel=thinned(base.roof.travel, STEP))
    felt = feel(roof)
    phi = np.broadcast_to(sound(roof.travel.shell.phi, base.roof), (base.rows, roof.travel.fraction.size))
    # Left and right share; of the forces of each state, way and pin.
    both = [pin_forces(roof, felt, heat, age, going) for heat, age in HARDEST for going in BOTH_WAYS]
    on_shell, on_van = [], []
    for one in both:
        for (sx, sz), (vx, vz) in zip(one.on_shell, one.at_van, strict=True):
            shell = _vector(*np.broadcast_arrays(sx, 0.0, sz)) / 2.0
            on_shell.append(turned_back(np.where(one.bounded[..., None], shell, 0.0), phi))
            on_van.append(np.where(one.bounded[..., None], -_vector(vx, 0.0 * vx, vz) / 2.0, 0.0))

    def worst(forces: list[Array], away: float) -> tuple[Case, ...]:
        every = np.concatenate(
            [sound(np.broadcast_to(f, (base.rows, *f.shape[-2:])), base.roof) for f in forces], axis=1
        )
        cases = []
        for by in (np.linalg.norm(every, axis=-1), away * every[..., 2]):
            at = np.argmax(by, axis=-1)
            cases.append(_case(MOVING, np.take_along_axis(every, at[:, None, None], axis=1)[:, 0]))
        return tuple(cases)

    return {"shell": worst(on_shell, -1.0), "van": worst(on_van, 1.0)}


def _springs(base: Basis, wind: WindFound) -> dict[str, tuple[Case, ...]]:
    """Return the greatest end force of one spring of each mount, on its bracket, closed, open and as a stop."""
    found: dict[str, list[Case]] = {"shell": [], "van": []}
    phi = sound(base.roof.travel.shell.phi, base.roof)
    for fitted, push, force in zip(base.roof.fitted, base.felt.springs, base.felt.end_force, strict=True):
        line, size = push.line, sound(force, base.roof)
        along = [sound(v, base.roof) for v in (line.along_x, line.along_y, line.along_z)]
        for name, at in ((SPRING_CLOSED, 0), (SPRING_OPEN, -1)):
            vector = _vector(*(size[:, at] * v[:, at] for v in along))
            for body, on in (("head", fitted.mount.head_on), ("foot", fitted.mount.foot_on)):
                if on in found:
                    acts = vector if body == "head" else -vector
                    acts = turned_back(acts, phi[:, at]) if on == "shell" else acts
                    found[on].append(_case(f"{name} ({fitted.name})" if fitted.name else name, acts))
    stopping = _stopping(base, wind)
    return {body: (*cases, *stopping[body]) if cases else () for body, cases in found.items()}


def _latches(base: Basis, road: RoadFound) -> dict[str, tuple[Case, ...]]:
    """Return what one latch pulls: the hardest worked on the road, and closed at rest."""
    driven, still = np.maximum(road.latch.max(axis=-1), 0.0), base.full(base.at("latches.preload"))
    none, flat = np.zeros((base.rows, 3)), np.zeros(base.rows)
    return _on_both(
        (name, _vector(0.0, 0.0, -pull), none, flat) for name, pull in ((DRIVING, driven), (LATCHED, still))
    )


def _hinges(base: Basis, wind: WindFound, road: RoadFound) -> dict[str, tuple[Case, ...]]:
    """Return what one hinge or arm pin carries in the gust from each side, on the road, and moved by hand."""
    phi, flat = _open(base), np.zeros(base.rows)
    found = [(name, force, couple, phi) for _, name, force, couple in _carried(base, wind)]
    # The road names its parts along, up, across.
    driven = road.hinge[:, [0, 2, 1]]
    found.append((DRIVING, driven, np.zeros_like(driven), flat))
    fixed, moving = _on_both(found), _moving(base)
    van = [
        replace(case, moment=case.moment - bent)
        for case, bent in zip(fixed["van"], [*_bent(base, wind), flat[:, None]], strict=True)
    ]
    return {"shell": fixed["shell"] + moving["shell"], "van": (*van, *moving["van"])}


def in_the_gust(base: Basis, wind: WindFound) -> tuple[tuple[str, str, Array, Array], ...]:
    """Return each part in the wanted gust from each side, without factor: its name, the gust's, force and moment.

    Force [N] and moment [N m] on the shell in the plane of motion and square to it, each [rows, 3].
    """
    force, couple = (in_plane(base, v) for v in (wind.bare_vector, wind.bare_couple))
    return tuple(
        (part, GUST.format(side), sound(force[:, d, i], base.roof), sound(couple[:, d, i], base.roof))
        for i, part in enumerate(wind.parts)
        for d, side in enumerate(DIRECTIONS)
    )


def _carried(base: Basis, wind: WindFound) -> list[tuple[str, str, Array, Array]]:
    """Return what hinges, arm pins and shoes do to the shell; of a side's crossing arms what each of two pins does.

    The moment that keeps crossing arms level is a pair of forces up and down at their pins.
    """
    found = []
    for part, name, force, couple in in_the_gust(base, wind):
        if part.endswith(CROSSING):
            pins = base.roof.pins.shell
            span = np.maximum(np.abs(pins[1][0] - pins[0][0]), 0.1)
            level = np.abs(couple[:, 1]) / span
            half = force / 2.0
            pull = half[:, 2] + np.where(half[:, 2] > 0.0, level, -level)
            rest = couple / 2.0 * np.array([1.0, 0.0, 1.0])
            found.append((part, name, _vector(half[:, 0], half[:, 1], pull), rest))
        elif part.endswith(CARRIERS):
            found.append((part, name, force, couple))
    return found


def _bent(base: Basis, wind: WindFound) -> list[Array]:
    """Return the moment [N m] with which a sideways force at an arm's head bends its foot, [rows, 3], part by part."""
    shell, roof = base.roof.travel.shell, base.roof
    found: list[Array] = []
    for part, _, force, _ in _carried(base, wind):
        bent = np.zeros((base.rows, 3))
        if part.endswith(ARMS):
            i = ARMS.index(part[-len(ARMS[0]) :])
            head = shell.point(*roof.pins.shell[i])
            foot_x, foot_z = (sound(v, roof) for v in roof.pins.van[i])
            dx, dz = sound(head.x, roof)[:, -1] - foot_x, sound(head.z, roof)[:, -1] - foot_z
            bent = _vector(-dz * force[:, 1], 0.0, dx * force[:, 1])
        found.append(bent)
    return found


def _stopping(base: Basis, wind: WindFound) -> dict[str, tuple[Case, ...]]:
    """Return what one spring that is the top stop itself is drawn by in the gust, on its brackets."""
    found = []
    for part, name, force, couple in in_the_gust(base, wind):
        for fitted in base.roof.fitted:
            if part.partition(" ")[2].startswith(fitted.name) and not part.endswith((*CARRIERS, CROSSING)):
                found.append((f"{name}, spring as stop", force / (fitted.mount.count / 2), 0.0 * couple, _open(base)))
                break
    return _on_both(found)


def _brace(base: Basis, wind: WindFound) -> dict[str, tuple[Case, ...]]:
    """Return what the brace pulls or pushes in the gust from each side."""
    return _on_both(
        (name, force, 0.0 * couple, _open(base))
        for part, name, force, couple in in_the_gust(base, wind)
        if part.startswith(BRACE)
    )


def cases_on(base: Basis, wind: WindFound, road: RoadFound) -> dict[JointPlace, tuple[Case, ...]]:
    """Return every load on every place, for each row; none where there is no such part."""
    hinge, spring, latch, brace = (
        _hinges(base, wind, road),
        _springs(base, wind),
        _latches(base, road),
        _brace(base, wind),
    )
    return {
        "hinge on shell": hinge["shell"],
        "hinge on van": hinge["van"],
        "spring on shell": spring["shell"],
        "spring on van": spring["van"],
        "latch on shell": latch["shell"],
        "latch on van": latch["van"],
        "brace on shell": brace["shell"],
        "brace on van": brace["van"],
    }
