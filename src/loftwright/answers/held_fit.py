"""Whether the shell sits: best seat, gap against the seal, stops, trim, packers under the hinges, other shells."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.answers.held_basis import Basis
from loftwright.answers.held_packers import HingePackers, judge_hinges, packers_of, said_of_packers
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.project.assemble_fit import Hole, Shapes, laid_in_plane, other_rims, shapes
from loftwright.project.plane import CROSSWISE
from loftwright.strength.fit import (
    LEAST_LAP,
    RIM_OFF,
    Candidate,
    Ranking,
    Trim,
    judge_gap,
    judge_lap,
    judge_points,
    judge_rim_height,
    judge_trim,
    lap,
    rank,
    rim_height,
    seal_heights,
    stand_height,
    stop_heights,
    trim_line,
)
from loftwright.strength.fit_rim import Stations
from loftwright.strength.fit_rules import SEAL_LOOSE
from loftwright.strength.fit_seat import Seat, best_seat, roof_under, seat_at
from loftwright.strength.fit_surfaces import CUBIC_FROM, Surface, at_origin

YOURS = "your shell"
"""What the shell of the file is called beside others."""
LOWEST, HIGHEST = 0.1, 0.9
"""Between these shares of the draws lies the band of the gap: eight of ten roofs."""

AS_IT_IS = "The gap is that of the rim as it is now: nothing is trimmed off it yet."
NO_RIBS = (
    "Ribs pressed into the roof are not in the fit: where the rim crosses one, its depth comes on top of the gap; "
    "fill it, or give the seal that much more."
)
SHARP = "The opening's corners are taken as sharp, as [cut] corner_radius is not written."
NO_PACKERS = "Packers are reckoned for hinges only: pivots of arms and shoes of guides stand on brackets of their own."
CENTRED = "Hinged at a side, the shell is taken to lie in the middle of the opening along the van."
NO_SHIFT = (
    f"The shell is not shifted for a better seat: with fewer than {CUBIC_FROM} measured points on the roof a shift "
    "changes no gap."
)


@dataclass(frozen=True, slots=True)
class Stops:
    """Four solid stops under the closed rim: `names`, places `x`, `y` and `height` [m], each [rows, 4]."""

    names: tuple[str, ...]
    x: Array
    y: Array
    height: Array


@dataclass(frozen=True, slots=True)
class FitFound:
    """How the shell sits, for every row; lengths [m].

    `stations` round the rim before its shift, [rows, 96], with the places in `stations.places`; `seat`: height, pitch,
    roll, shift [rows] and gap [rows, 96], lowest; `stand`: how far stops hold it above that, never so low that the seal
    is crushed [rows]; `seal_height`: what the seal fills then [rows, 96]; `roof_height`: roof under the stations over
    the roof at the origin [rows, 96]; `rim_height`: of the closed rim over the roof at the origin [rows]; `lap`: least
    reach past the hole [rows]; `ranking` and `candidates`: your shell and the others, None and empty without others.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    shapes: Shapes
    stations: Stations
    seat: Seat
    stand: Array
    seal_height: Array
    roof_height: Array
    stops: Stops
    trim: Trim
    lap: Array
    rim_height: Array
    packers: HingePackers | None
    candidates: tuple[Candidate, ...]
    ranking: Ranking | None


@dataclass(frozen=True, slots=True)
class GapChart:
    """The closed seal round the rim, `arc` [m], [96], from the middle of the rear end over right, front and left.

    `nominal` height, `low` and `high` of eight of ten roofs [m], [96]; `seal_least`, `seal_most`: what it fills [m];
    `rim` and `roof`: heights of both over the roof at the origin [m], [96], nominal; `places`: where each station is.
    """

    arc: Array
    places: tuple[str, ...]
    nominal: Array
    low: Array
    high: Array
    seal_least: float
    seal_most: float
    rim: Array
    roof: Array


def sits(base: Basis) -> FitFound:
    """Return how the shell sits on the roof, with its judgements."""
    project, at = base.project, base.at
    given = shapes(project, at)
    lies, hole = laid_in_plane(project, at, given.rim, given.hole)
    unmoved = lap(lies, 0.0, hole.length, hole.width, hole.radius)
    stations, shift = given.rim.stations(), _shift(given, np.clip(unmoved - LEAST_LAP, 0.0, given.slide))
    seated = seat_at(given.rim, given.roof, shift)
    # Where the seal cannot follow, stops still keep it from being crushed: there the rim stands after trimming too.
    shared = stand_height(seated.largest, given.seal_least, given.seal_most)
    stand = base.full(np.maximum(shared, given.seal_least))
    across = base.plane is CROSSWISE
    ends = ("left", "right") if across else ("rear", "front")
    found_height = rim_height(stations, given.roof, seated, stand, at_origin(given.under), ends)
    trim = trim_line(seated, np.maximum(given.seal_most - given.seal_least, 0.0))
    # A shift along the van moves a shell hinged at a side along its hinges.
    reach = unmoved if across else lap(lies, shift, hole.length, hole.width, hole.radius)
    on_hinges = packers_of(base, given.under)
    others = _others(base, given, seated, reach)
    judged = (
        *_gap(seated, stations, given, stand),
        judge_trim(trim, given.trim_allowance),
        judge_lap(reach),
        *(one for one in (judge_points(given.roof, "roof"), judge_points(given.rim.surface, "rim")) if one),
        judge_rim_height(found_height, at("shell.rim_height")),
        *(() if on_hinges is None else judge_hinges(on_hinges)),
    )
    return FitFound(
        judged=judged,
        said=_said(base, given, found_height, on_hinges),
        shapes=given,
        stations=stations,
        seat=seated,
        stand=stand,
        seal_height=seal_heights(seated, stand),
        roof_height=roof_under(stations, given.roof, seated.shift) - at_origin(given.under)[..., None],
        stops=_stops(base, given, seated, stand),
        trim=trim,
        lap=reach,
        rim_height=found_height,
        packers=on_hinges,
        candidates=others,
        ranking=rank(others) if others else None,
    )


def _shift(given: Shapes, room: Array) -> Array:
    """Return the shift to the cab [m], [rows]: the best for the nominal row, as far as each row's `room` [m] allows.

    Only where so many points are measured that the roof may bend unevenly can a shift count.
    """
    if not _bends_unevenly(given.roof):
        return np.zeros_like(room)
    one, roof = given.rim.nominal(), given.roof.nominal()
    best = best_seat(one, roof, furthest_back=-room[:1], furthest_forward=room[:1]).shift
    return np.clip(np.broadcast_to(best, room.shape), -room, room)


def _bends_unevenly(roof: Surface) -> bool:
    return roof.points is not None and roof.points.x.shape[-1] >= CUBIC_FROM


def _gap(seated: Seat, stations: Stations, given: Shapes, stand: Array) -> tuple[Judged, Judged]:
    """Return the spread of the gap judged, then the seal where it is nominally loosest on these stops."""
    seal = {"seal_least": given.seal_least, "seal_most": given.seal_most}
    every = judge_gap(seated, stations, **seal, stand=stand)
    loose = [one for one in every if one.rule is SEAL_LOOSE]
    return every[0], max(loose, key=lambda one: _nominal(one.value))


def _nominal(value: Array | None) -> float:
    return 0.0 if value is None else float(np.ravel(value)[0])


def _stops(base: Basis, given: Shapes, seated: Seat, stand: Array) -> Stops:
    """Return stops in line with the latches, two at the lip and two at the hinged end."""
    rim, half = given.rim, base.at("latches.spread") / 2.0
    ends = (rim.rear, rim.rear + rim.length)
    if base.plane is CROSSWISE:
        half = np.minimum(half, rim.length / 2.0)
        x = np.stack([rim.middle - half, rim.middle + half] * 2, axis=-1)
        y = np.stack([-rim.width / 2.0] * 2 + [rim.width / 2.0] * 2, axis=-1)
        names = ("right side, rear", "right side, front", "left side, rear", "left side, front")
    else:
        half = np.minimum(half, rim.width / 2.0)
        x = np.stack([ends[0]] * 2 + [ends[1]] * 2, axis=-1)
        y = np.stack([-half, half] * 2, axis=-1)
        names = ("rear, right", "rear, left", "front, right", "front, left")
    return Stops(names, x, y, stop_heights(rim, given.roof, seated, stand, x, y))


def _others(base: Basis, given: Shapes, seated: Seat, reach: Array) -> tuple[Candidate, ...]:
    """Return your shell and the others that could be had, each on its best seat; empty without others."""
    rims = other_rims(base.project, base.at)
    if not rims:
        return ()
    hole: Hole = given.hole
    return (
        Candidate(YOURS, seated.largest, reach),
        *(
            Candidate(name, seat_at(rim, given.roof, 0.0).largest, lap(rim, 0.0, hole.length, hole.width, hole.radius))
            for name, rim in rims
        ),
    )


def _said(base: Basis, given: Shapes, height: Array, on_hinges: HingePackers | None) -> tuple[str, ...]:
    say = Wording(base.project.settings.units)
    found = [AS_IT_IS, NO_RIBS]
    if not _bends_unevenly(given.roof):
        found.append(NO_SHIFT)
    if given.hole.sharp:
        found.append(SHARP)
    if base.plane is CROSSWISE:
        found.append(CENTRED)
    if abs(float(height[0]) - base.project.shell.rim_height.nominal) > RIM_OFF:
        found.append(
            f"By the fit the closed rim stands {say.short_length(float(height[0]))} above the roof at the origin; "
            f"[shell] rim_height says {say.short_length(base.project.shell.rim_height.nominal)}."
        )
    if on_hinges is None:
        return (*found, NO_PACKERS)
    return (*found, *said_of_packers(on_hinges, say))


def gap_chart(found: FitFound, draws: slice) -> GapChart:
    """Return the height of the closed seal round the rim, with its band over the rows of `draws`, for a chart."""
    low, high = np.quantile(found.seal_height[draws], (LOWEST, HIGHEST), axis=0)
    given = found.shapes
    return GapChart(
        arc=np.atleast_2d(found.stations.arc)[0],
        places=found.stations.places,
        nominal=found.seal_height[0],
        low=low,
        high=high,
        seal_least=float(given.seal_least[0]),
        seal_most=float(given.seal_most[0]),
        rim=found.roof_height[0] + found.seal_height[0],
        roof=found.roof_height[0],
    )
