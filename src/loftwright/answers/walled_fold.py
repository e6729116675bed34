"""Where the cloth goes when the roof comes down: how deep, how thick, which way, how hard it pushes, what air does.

A quick estimate stands for all rows. Where the slow answer is there and of the project as it is, it stands in its
place: what it found, with the spread of the rows as the quick estimate has it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.fold_air import Air, the_air
from loftwright.answers.fold_found import OUTWARD, PlaceFound, corner_of, place_judged, unwritten
from loftwright.answers.fold_job import PlaceJob, place_jobs
from loftwright.answers.fold_places import Standing, standings, window_heights
from loftwright.answers.fold_quick import CornerFound, cornered, estimated, room_for
from loftwright.answers.fold_reach import Reach, kept_reach, without_cloth
from loftwright.answers.fold_read import ways_of
from loftwright.answers.held_basis import Basis
from loftwright.answers.kept_walls import KeptPlace, KeptWalls
from loftwright.answers.walled_lines import LinesFound
from loftwright.answers.walled_panels import PanelsFound
from loftwright.cloth.fold import crease_radius
from loftwright.cloth.fold_rules import CORNER
from loftwright.cloth.fold_stations import DRIFT_SHARE
from loftwright.cloth.fold_ways import Ways
from loftwright.cloth.made_up import MadeUp
from loftwright.cloth.trapped_air import air_judged
from loftwright.cloth.tucking import First, Pane, windows_first
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.project.assemble_stow import (
    FoldLayers,
    Lowering,
    comes_down,
    fold_count,
    fold_layers,
    lowering,
    panes,
    pulls,
)
from loftwright.project.model import Project

CLOSE: Final = 0.02
"""Lines nearer to one another than this when closed push by the ends of the cloth [m]: judgement."""
NO_CORNER_PROOF: Final = (
    "The fold is reckoned in the middle of each wall, and near the high end of walls that rise to one; at corners the "
    "heights are an order of magnitude, from trials."
)
NOT_SEEN: Final = "Set creases, window sheet, wet cloth and wind are left out of the fold."
ONE_ROOF: Final = (
    "The slow answer is of the planned roof. Depth, hang and push are those of all starts that went in, the greatest "
    "counts; for other roofs they change as the quick estimate does. What stands on the ring stays the quick one's, "
    "of a free bundle: under the closed shell cloth takes what room there is, and pushes. Cloth that lies on what is "
    "below counts as far as it would hang there drawn taut."
)
BOTH_PULLS: Final = (
    "Half of the starts are drawn in with the least and half with the greatest pull of its range; nothing else is "
    "taken at its ends."
)
QUICK_PUSH: Final = "The quick push leaves out what ends of the cloth that lie close together push by themselves."
ELASTIC: Final = "One elastic all round pulls at the corners only; it decides nothing along a straight wall."


@dataclass(frozen=True, slots=True)
class FoldFound:
    """Where the cloth goes. `places` are those that fold, sides' middles and high ends, `flat` those too low to.

    `layers` that stay in and the wall `made` of them, None without a [[layer]]; `corner` likewise; `jobs`: what the
    slow answer reads, planned; `panes` and `first`: windows, and which to see to before lowering; `perimeter` of the
    lower line [m], [rows], and `lengths` of it that belong to each of `places` [m], planned.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    places: tuple[PlaceFound, ...]
    flat: tuple[Standing, ...]
    air: Air
    lower: Lowering
    layers: FoldLayers | None
    made: MadeUp | None
    corner: CornerFound | None
    jobs: tuple[PlaceJob, ...]
    panes: tuple[Pane, ...]
    first: tuple[First, ...]
    perimeter: Array
    lengths: tuple[float, ...]

    @property
    def deepest(self) -> PlaceFound | None:
        """The place whose planned fold is the deepest, None where nothing folds."""
        return _deepest(self.places)


def the_fold(base: Basis, lines: LinesFound, panels: PanelsFound, kept: KeptWalls) -> FoldFound:
    """Return where the cloth goes, by what is `kept` of the slow answer and else by quick estimates."""
    project, at = base.project, base.at
    every = standings(base, lines, base.full(panels.ease))
    there = tuple(one for one in every if one.folds)
    lower, drawn = _whole(base, lowering(project, at)), pulls(project, at)
    air = the_air(base, lines, every, drawn, lower)
    layers = fold_layers(project, at)
    made = None if layers is None else layers.made()
    fresh = {one.name: one for one in kept.fold} if kept.fold_is == "fresh" else {}
    places = tuple(_place(base, one, made, drawn, air, fresh.get(one.name)) for one in there)
    crowds = max(places, key=lambda one: (not one.falls_out, float(_at_corners(one)[0])), default=None)
    corner = None
    if layers is not None and made is not None and crowds is not None:
        corner = cornered(base, lines, crowds.at, _at_corners(crowds), layers, made)
    jobs = () if layers is None else place_jobs(base, lines, every, layers, lower, air.blowing)
    windows = panes(project, at, window_heights(base, lines, base.full(panels.ease)))
    rooms = [float(one.room[0]) for one in places if one.room is not None]
    bend = max(min(rooms, default=float(at("stow.cavity")[0])), 1e-3)
    judged = (
        *(judged for one in places for judged in place_judged(base, one, lower)),
        *((air_judged(air.pressure, air.allowed),) if places else ()),
        *((corner_of(corner) if corner is not None else unwritten(CORNER, "corners", base),) if places else ()),
    )
    return FoldFound(
        judged=judged,
        said=_said(base, every, places, drawn),
        places=places,
        flat=tuple(one for one in every if not one.folds),
        air=air,
        lower=lower,
        layers=layers,
        made=made,
        corner=corner,
        jobs=jobs,
        panes=windows,
        first=tuple(_worded(one, bend, project) for one in windows_first(windows, fold_count(project), bend)),
        perimeter=base.full(lines.lower.perimeter),
        lengths=_lengths(every, there, float(np.ravel(lines.lower.perimeter)[0])),
    )


def _whole(base: Basis, lower: Lowering) -> Lowering:
    return Lowering(
        np.maximum(base.full(lower.seconds), 0.1),
        *(base.full(v) for v in (lower.area, lower.vent, lower.fan, lower.friction, lower.push_limit)),
    )


def _deepest(places: tuple[PlaceFound, ...]) -> PlaceFound | None:
    """Return the place whose planned fold is the deepest; one of which that is not known only without another."""
    return max(places, key=lambda one: (not one.falls_out, not one.at.sheared, float(one.tip[0])), default=None)


def _at_corners(one: PlaceFound) -> Array:
    """Return the depth that crowds the corners [m], [rows]: the greatest possible where it cannot be reckoned."""
    return one.reach.depth[1] if one.at.sheared else one.tip


def _place(
    base: Basis, one: Standing, made: MadeUp | None, drawn: Array, air: Air, kept: KeptPlace | None
) -> PlaceFound:
    """Return one place: the quick estimate, scaled to what is kept.

    The depth of every row is the quick one times kept over quick of the planned row (1); the push is the quick one
    moved by the difference (2), as it may be nought. The height stays the quick one's, of a free bundle: under the
    closed shell cloth never stands higher than its room, and what that takes is its push.
    """
    none, loose = Ways(one.name, ()), not bool(np.any(drawn[..., 1] > 0.0))
    if made is None:
        reach = without_cloth(base, one)
        return PlaceFound(one, None, None, none, reach.tip, reach, None, None, None, loose)
    quick = estimated(base, one, made, drawn, air)
    if kept is None:
        reach = Reach(quick.tip, quick.depth, quick.hang)
        return PlaceFound(one, quick, None, none, quick.tip, reach, quick.thick, quick.push[1], quick.room, loose)
    reach = kept_reach(base, one, kept, quick)
    room = room_for(base, one, made).height_at(reach.tip)
    pushes = np.maximum(reach.push + quick.push[1] - quick.push[1][0], 0.0)
    return PlaceFound(
        one,
        quick,
        kept,
        ways_of(kept),
        reach.tip,
        reach,
        quick.thick,
        np.asarray(pushes),
        np.asarray(room),
        loose,
    )


def _worded(first: First, gap: float, project: Project) -> First:
    """Return a window to see to with its reason in the builder's units; `gap` that the fold has [m]."""
    if not first.must:
        return first
    say, pane = Wording(project.settings.units), first.pane
    have, least = (say.short_length(v) for v in (float(crease_radius(gap)), pane.least_radius))
    way = "roll it up" if pane.opens else "it cannot be rolled up: move it clear of the crease"
    return replace(first, why=f"its sheet would be creased to a radius of {have}, it bears {least}: {way}")


def _lengths(every: tuple[Standing, ...], there: tuple[Standing, ...], around: float) -> tuple[float, ...]:
    """Return how much of the lower line belongs to each place that folds [m]: half-way to its neighbours' middles."""
    found = []
    for one in there:
        k = every.index(one)
        before, behind = every[k - 1].arc, every[(k + 1) % len(every)].arc
        found.append((((one.arc - before) % around) + ((behind - one.arc) % around)) / 2.0)
    return tuple(found)


def _said(base: Basis, every: tuple[Standing, ...], places: tuple[PlaceFound, ...], drawn: Array) -> tuple[str, ...]:
    project, say = base.project, Wording(base.project.settings.units)
    found = [NO_CORNER_PROOF, NOT_SEEN] if places else []
    if not every:
        found.append("The two lines do not go round the middle of the opening: the fold cannot be reckoned.")
    elif not places:
        found.append("No wall is high enough to fold.")
    for one in places:
        furthest = max(other.at.drift for other in places if other.at.wall == one.at.wall)
        if one.at.drift < furthest:
            pass
        elif one.at.sheared:
            found.append(
                f"{one.at.name.capitalize()}: the shell runs {say.short_length(one.at.drift)} along it on its way. "
                "Woven cloth cannot fold along the rim there as reckoned: its depth lies between that of a fold square "
                "to the rim and half of the cloth's own slanted line. Try it in cheap cloth."
            )
        elif one.at.drift > DRIFT_SHARE * one.at.section.height:
            found.append(
                f"{one.at.name.capitalize()}: the shell runs {say.short_length(one.at.drift)} along it on its way, so "
                "the cloth shears as it folds, which is left out here. Try it with a strip of cloth."
            )
        if one.falls_out:
            found.append(f"{one.at.name.capitalize()}: {OUTWARD}.")
    if any(one.kept is not None for one in places):
        found.append(ONE_ROOF)
        if drawn.shape[1]:
            found.append(BOTH_PULLS)
        near = [one for one in places if one.kept is not None and float(one.at.gap[0]) < CLOSE]
        if near:
            apart = say.short_length(min(float(one.at.gap[0]) for one in near))
            found.append(
                f"Closed, the lines lie only {apart} apart ({', '.join(one.at.name for one in near)}): most of the "
                "push is then that of the cloth's own ends, held upright; edges that can swivel push less."
            )
    elif places:
        found.append(QUICK_PUSH)
    if project.stow.pull == "elastic":
        found.append(ELASTIC)
    if project.stow.hold_middle and drawn.shape[1]:
        found.append("With the middle held, half of the pull is taken below it and half above it.")
    names = comes_down(project)
    if names:
        found.append(f"Taken down before the roof is closed, and so not in the fold: {', '.join(names)}.")
    crossed = [one for one in every if float(one.gap[0]) <= 0.0]
    found += [
        f"{one.name.capitalize()}: closed, its upper line lies {say.short_length(-float(one.gap[0]))} below the lower "
        "one."
        for one in crossed
    ]
    return tuple(found)
