"""The raised roof in wind: at which gust each part reaches its limit, how far the free end sways, what gives first.

The wind's pressure is multiplied by `safety.load`, and what a part bears is divided by `safety.parts` (cloth by
`safety.cloth`, the brace's metal by `safety.metal`), each once; what acts on a still day has no factor. The gust at a
part's limit is that at which both meet. Sway is judged without factor. Every direction is met twice: with the wind that
lifts the shell, springs mild and new, and with the wind that presses it down, springs cold and aged.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.draws import Rows
from loftwright.answers.held_basis import Basis
from loftwright.answers.held_brace import BraceFound, the_brace
from loftwright.answers.held_cloth import ClothFound, the_cloth
from loftwright.answers.held_gusts import (
    AT_WANTED,
    HIGHEST,
    STEADY,
    OpenRoof,
    assembled,
    gusts_of,
    judge_parts,
    limit_left,
    rattles,
    service_of,
    solve,
    sway_of,
)
from loftwright.answers.held_picture import WindPart, cases_of, footing_of, picture_of
from loftwright.answers.held_table import WindTable, table_of
from loftwright.answers.held_travel import TravelFound, over_travel
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.project.assemble_brace import Braced, braced
from loftwright.project.assemble_wind import raised, to_van, van_names
from loftwright.project.plane import CROSSWISE
from loftwright.strength.cloth_rules import judge_footing
from loftwright.strength.held import SWAY_RATIO, judge_brace
from loftwright.strength.raised_shape import DIRECTIONS, Direction, RaisedShape
from loftwright.strength.supports import Held, hold
from loftwright.strength.wind import beauforts_of_gust

if TYPE_CHECKING:
    from loftwright.answers.held_fit import FitFound

Index = NDArray[np.intp]

STOP_NOTE: Final = (
    "What ends the opening is taken to hold both corners of the lip against their way; what straps, links and cloth "
    "bear there is not asked for and not judged."
)
CLOTH_NOTE: Final = "Taut cloth walls steady a roof too; that is not counted, on the safe side."
STEADY_CLOTH_NOTE: Final = (
    "Taut cloth walls are counted on to steady the roof. Rain, heat and age slacken them, an open window takes one "
    "out, and what they pull for it is not added to what the wind makes their edges bear."
)
PLAY_NOTE: Final = (
    "Sway is that of a stiff shell on its hinges or arms, their play included. A shell that twists and a roof skin "
    "that gives add to it, often several times as much: push the open lip sideways by hand and measure."
)
BRACE_NOTE: Final = "The brace is taken to be fastened on a still day, without any strain, when the roof stands open."
SLANT_NOTE: Final = (
    "A single slanted bar ties the free end down on one side: as wind lifts the shell it pulls it over to that side. "
    "Crossed straps pull evenly."
)
PROP_NOTE: Final = "The prop is taken to stand under the middle of the lip."
ARM_NOTE: Final = "Arms are taken as stiff bars on feet that give; their own bending is left out."
ON_ARM_NOTE: Final = (
    "Of a spring on an arm, what it does square to the arm is handed to the shell and not in the arm's force."
)
CROSS_NOTE: Final = "Crossing arms of one side are taken together: they let the shell rise level and hold all else."
SIDE_NOTE: Final = "Of a shell hinged at a side the wind that lifts and slams is the one across the van."
WIND_NOTE: Final = (
    "Wind forces are by tables for houses and the shell is taken as rigid; gusts that rock the roof in its own time "
    "are left out."
)


@dataclass(frozen=True, slots=True)
class WindFound:
    """The raised roof in wind; directions are the van's, front, rear, left, right, the worse of lifting and pressing.

    `names` of all things with a gust: parts, parts of the cloth, the free end, the whole roof; `gust` [m/s],
    [rows, directions, things], at which each reaches its limit, never above `HIGHEST`, and `above` where it is more.
    `parts` are those with a limit that is known, in the wanted gust with its factor: `share` of the limit [1], `force`
    [N] and `moment` [N m], [rows, directions, parts], and `vector` [N], `couple` [N m] on the shell along the van's
    axes, [rows, directions, parts, 3]; `bare_vector` [N] and `bare_couple` [N m] are the same in the wanted gust
    without factor.
    `lower_above` [m/s], [rows]: least gust of all; `lower_nine_of_ten` [m/s] that nine of ten drawn roofs outlast;
    `beaufort` the lowest and highest number that may hold the planned roof's. `weakest`, `weakest_direction` of the
    planned roof; no name where all is above.
    `sway`, `unbraced_sway` [m] and `twist` [rad] of the free end in the wanted gust, [rows,
    directions], counted from where it stands on a still day, which is the same with and without a brace; what pins
    rattle to one side is in it; at most 0.25 m where nothing holds it. `sway_ratio` [1], [rows], the greatest sway with
    the brace over the greatest without, from any side each.
    `footing` [1], [rows]: what holds the van down over what tips it.
    `unbraced` is the table of the same roof without its brace, None without one.
    `picture` by direction and by "lifts" or "presses".
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    wanted: Array
    names: tuple[str, ...]
    gust: Array
    above: Flags
    parts: tuple[str, ...]
    share: Array
    force: Array
    moment: Array
    vector: Array
    couple: Array
    bare_vector: Array
    bare_couple: Array
    lower_above: Array
    lower_nine_of_ten: float
    beaufort: tuple[int, int]
    weakest: str
    weakest_direction: Direction | None
    sway: Array
    twist: Array
    unbraced_sway: Array
    sway_ratio: Array
    footing: Array
    table: WindTable
    unbraced: WindTable | None
    cloth: ClothFound | None
    travel: TravelFound | None
    brace: BraceFound | None
    picture: dict[tuple[Direction, str], tuple[WindPart, ...]]

    def of(self, name: str) -> Array:
        """Return the gust [m/s] at the limit of one thing, [rows, directions]."""
        return np.asarray(self.gust[..., self.names.index(name)])


def in_the_wind(base: Basis, fit: FitFound | None = None) -> WindFound:
    """Return how the raised roof stands in the wind.

    `fit` is taken as settled: packers bring the hinges where the file has them.
    """
    at, project, roof = base.at, base.project, base.roof
    names = van_names(project)
    local = {van: edge for edge, van in names.items()}
    order: tuple[Direction, ...] = tuple(local[d] for d in DIRECTIONS)
    wide = raised(project, at, roof, (base.roof.travel.fraction.size - 1,))
    shape = RaisedShape(*(getattr(wide, f)[:, 0] for f in RaisedShape.__slots__))
    factor, load = base.full(at("wind.coefficient")), base.full(at("safety.load"))
    wanted = base.full(at("wind.gust"))
    cases = cases_of(base, base.full(at("wind.cloth_share")))
    brace = braced(project, at, roof)
    solved = assembled(base, shape, order, cases, factor, brace)
    found = solve(solved)
    names_used, gust, above, used = gusts_of(solved, found)
    cloth = the_cloth(base, shape, factor * load, wanted)
    judged = judge_parts(solved, names_used, gust)

    # What each part carries in the wanted gust, in the harder of both cases.
    count = len(solved.limits)
    held = found.held[..., AT_WANTED]
    at_wanted = np.stack([u[..., AT_WANTED] * held for u in used], axis=-1)
    share, pick = at_wanted.max(axis=1), at_wanted.argmax(axis=1)
    limited = tuple(limit.part for limit in solved.limits)
    vector, couple = _picked(found, limited, pick, AT_WANTED)
    bare_vector, bare_couple = _picked(found, limited, pick, -1)

    if cloth is not None:
        names_used = (*names_used[:count], *cloth.parts, *names_used[count:])
        gust = np.concatenate([gust[..., :count], np.minimum(cloth.worst, HIGHEST), gust[..., count:]], axis=-1)
        above = np.concatenate([above[..., :count], cloth.worst >= HIGHEST, above[..., count:]], axis=-1)
        judged += cloth.judged
    sway, twist = sway_of(solved, found.motion[..., 0, :], found.motion[..., -1, :], found.held[..., -1])
    steadied = None if brace is None else _steadied(base, brace, shape, solved, found, sway)
    if steadied is not None:
        judged += steadied.judged
    travel = over_travel(base, order, factor, cases_of(base, base.full(at("wind.cloth_share"))[:, None]))
    footing = footing_of(base, shape, local, cases[0], factor, wanted)
    judged += (() if travel is None else travel.judged) + (judge_footing(np.ones_like(footing), footing, "van"),)

    worst = gust.min(axis=1)
    lower = worst.min(axis=-1)
    first = int(worst[0].argmin())
    nothing = bool(above[0].all())
    return WindFound(
        judged=judged,
        said=_said(base, None if steadied is None else steadied.brace),
        wanted=wanted,
        names=names_used,
        gust=gust,
        above=above,
        parts=limited,
        share=share,
        force=np.linalg.norm(vector, axis=-1),
        moment=np.linalg.norm(couple, axis=-1),
        vector=to_van(project, vector),
        couple=to_van(project, couple),
        bare_vector=to_van(project, bare_vector),
        bare_couple=to_van(project, bare_couple),
        lower_above=lower,
        lower_nine_of_ten=float(np.percentile(lower[at.draws] if isinstance(at, Rows) else lower, 10.0)),
        beaufort=beauforts_of_gust(float(lower[0]), float(shape.roof_height[0])),
        weakest="" if nothing else names_used[first],
        weakest_direction=None if nothing else DIRECTIONS[int(gust[0, :, first].argmin())],
        sway=sway,
        twist=twist,
        unbraced_sway=sway if steadied is None else steadied.sway,
        sway_ratio=np.ones(base.rows) if steadied is None else steadied.ratio,
        footing=footing,
        table=table_of(solved, cloth),
        unbraced=None if steadied is None else steadied.table,
        cloth=cloth,
        travel=travel,
        brace=None if steadied is None else steadied.brace,
        picture=picture_of(base, shape, order, cases, factor, wanted),
    )


@dataclass(frozen=True, slots=True)
class _Steadied:
    """The same roof without its brace: table, sway [m], [rows, directions]; with it: ratio [1], [rows], the brace."""

    table: WindTable
    sway: Array
    ratio: Array
    brace: BraceFound
    judged: tuple[Judged, ...]


def _steadied(base: Basis, brace: Braced, shape: RaisedShape, solved: OpenRoof, found: Held, sway: Array) -> _Steadied:
    """Return what the brace does; `sway` [m], [rows, directions], is that with it."""
    loose = rattles(base, solved.lip, shape.hinge_x)
    free = replace(
        solved,
        supports=tuple(s for s in solved.supports if s.part not in brace.parts),
        rattle=loose,
        sway_limit=limit_left(base, loose),
    )
    table = table_of(
        replace(
            free,
            bears=tuple(one for one in solved.bears if one.part not in brace.parts),
            limits=tuple(one for one in solved.limits if one.part not in brace.parts),
        ),
        None,
    )
    still = free.still[..., None, :]
    both = hold(free.supports, np.concatenate([still, still + free.unit[..., None, :] * service_of(free)], axis=-2))
    unbraced, _ = sway_of(free, both.motion[..., 0, :], both.motion[..., 1, :], both.held[..., 1])
    # From every side: a bar that slants pulls the free end over in a wind that only lifts.
    with_brace, without = (np.max(v, axis=-1) for v in (sway, unbraced))
    # A free end that stands still enough needs nothing of its brace.
    worth = np.maximum(without, STEADY / SWAY_RATIO * base.full(base.at("wind.sway_limit")))
    held = found.held[..., AT_WANTED]
    pulls = np.stack(
        [found.tension[..., AT_WANTED, i] * held for i, s in enumerate(found.supports) if s.part in brace.parts]
    )
    squeezed, drawn = (np.maximum(sign * pulls, 0.0).max(axis=(0, 2, 3)) for sign in (-1.0, 1.0))
    bears = the_brace(brace, squeezed, drawn)
    judged = (judge_brace(with_brace / worth, "brace"), *bears.judged)
    return _Steadied(table, unbraced, with_brace / np.maximum(without, 1e-9), bears, judged)


def _picked(found: Held, limited: tuple[str, ...], pick: Index, gust: int) -> tuple[Array, Array]:
    """Return force and moment of each part in the case picked, [rows, directions, parts, 3]; nought where not held."""

    def one(values: list[Array]) -> Array:
        whole = np.stack(values, axis=-2) * found.held[..., gust, None, None]
        return np.asarray(np.take_along_axis(whole, pick[:, None, :, :, None], axis=1)[:, 0])

    return (
        one([found.vector(part)[..., gust, :] for part in limited]),
        one([found.couple(part)[..., gust, :] for part in limited]),
    )


def _said(base: Basis, brace: BraceFound | None) -> tuple[str, ...]:
    project = base.project
    said = [WIND_NOTE, STEADY_CLOTH_NOTE if project.wind.cloth_steadies else CLOTH_NOTE]
    if project.stop.kind != "spring end":
        said.append(STOP_NOTE)
    said.append(PLAY_NOTE)
    if brace is not None:
        said += [BRACE_NOTE, *([] if brace.kind == "straps" else [SLANT_NOTE]), *brace.said]
    if project.requirements.prop_fitted:
        said.append(PROP_NOTE)
    if project.linkage.kind == "scissor":
        said.append(CROSS_NOTE)
    elif base.roof.travel.arms:
        said.append(ARM_NOTE)
        if any(f.mount.head_on != "shell" or f.mount.foot_on != "van" for f in base.roof.fitted):
            said.append(ON_ARM_NOTE)
    if base.plane is CROSSWISE:
        said.append(SIDE_NOTE)
    return tuple(said)
