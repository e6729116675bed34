"""Where the cloth goes when the roof comes down: how deep, how thick, which way, how hard it pushes, what air does.

A quick estimate stands for all rows. Where the slow answer is there and of the project as it is, it stands in its
place: what it found, with the spread of the rows as the quick estimate has it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from loftwright.answers.fold_air import Air, the_air
from loftwright.answers.fold_job import NO_LAYER, NOTHING_STAYS, PlaceJob, place_jobs
from loftwright.answers.fold_places import Standing, standings
from loftwright.answers.fold_quick import CornerFound, Estimate, cornered, depth_of, estimated, room_for
from loftwright.answers.fold_read import ways_of
from loftwright.answers.held_basis import Basis
from loftwright.answers.kept_walls import KeptPlace, KeptWalls
from loftwright.answers.walled_lines import LinesFound
from loftwright.answers.walled_panels import PanelsFound
from loftwright.cloth.bundle import tip_judged
from loftwright.cloth.fold import crease_radius
from loftwright.cloth.fold_corners import corner_judged
from loftwright.cloth.fold_rules import BUNDLE, CORNER, INWARD, PUSH
from loftwright.cloth.fold_stations import DRIFT_SHARE
from loftwright.cloth.fold_ways import LEAST_STARTS, Ways, inward_judged
from loftwright.cloth.made_up import MadeUp
from loftwright.cloth.trapped_air import air_judged
from loftwright.cloth.tucking import First, Pane, windows_first
from loftwright.core.checks import Rule
from loftwright.core.judged import Judged, against
from loftwright.core.motion import Array
from loftwright.core.wording import Wording
from loftwright.project.assemble_stow import (
    FoldLayers,
    Lowering,
    comes_down,
    fold_count,
    fold_layers,
    lowering,
    obstacles,
    panes,
    pulls,
)
from loftwright.project.model import Project

CLOSE: Final = 0.02
"""Lines nearer to one another than this when closed push by the ends of the cloth [m]: judgement."""
WORK_OUT: Final = "work out the fold"
NO_CORNER_PROOF: Final = (
    "The fold is reckoned in the middle of each wall; at corners the heights are an order of magnitude, from trials."
)
NOT_SEEN: Final = "Set creases, window sheet, wet cloth and wind are left out of the fold."
ONE_ROOF: Final = (
    "The slow answer is of the planned roof: depth and push are the greatest of all starts that went in, and for other "
    "roofs they change as the quick estimate does. Heights stay the quick ones of a free bundle: under the closed "
    "shell cloth takes what room there is, and pushes."
)
QUICK_PUSH: Final = "The quick push leaves out what ends of the cloth that lie close together push by themselves."
ELASTIC: Final = "One elastic all round pulls at the corners only; it decides nothing along a straight wall."


@dataclass(frozen=True, slots=True)
class PlaceFound:
    """The fold at one place, each number [rows].

    `tip` inward of the lower line [m] and `push` on the closed shell [N/m]: by the slow answer where `kept` is there,
    else by the quick one, which is `quick` (None without a layer). `thick`: height of the free bundle, `room` above it
    [m], both by the quick one. `ways`: the runs of the slow answer.
    """

    at: Standing
    quick: Estimate | None
    kept: KeptPlace | None
    ways: Ways
    tip: Array
    thick: Array | None
    push: Array | None
    room: Array | None

    @property
    def sure(self) -> bool:
        """Whether it surely goes in: all starts did, or by the quick estimate nothing else can be."""
        if self.kept is not None:
            return self.ways.said == "always in"
        return self.quick is not None and self.quick.sure


@dataclass(frozen=True, slots=True)
class FoldFound:
    """Where the cloth goes. `places` are those of the four sides that fold, `flat` those too low to fold.

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
        return max(self.places, key=lambda one: float(one.tip[0]), default=None)


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
    deepest = max(places, key=lambda one: float(one.tip[0]), default=None)
    corner = None
    if layers is not None and made is not None and deepest is not None:
        corner = cornered(base, lines, deepest.at, deepest.tip, layers, made)
    jobs = () if layers is None else place_jobs(base, lines, every, layers, lower, air.blowing)
    heights = {one.wall: float(one.height[0]) for one in every}
    windows = panes(project, at, {edge: heights.get(edge, 0.0) for edge in ("rear", "right", "front", "left")})
    rooms = [float(one.room[0]) for one in places if one.room is not None]
    bend = max(min(rooms, default=float(at("stow.cavity")[0])), 1e-3)
    judged = (
        *(judged for one in places for judged in _judged(base, one, lower)),
        *((air_judged(air.pressure, air.allowed),) if places else ()),
        *((_corner(corner) if corner is not None else _unwritten(CORNER, "corners", base),) if places else ()),
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


def _place(
    base: Basis, one: Standing, made: MadeUp | None, drawn: Array, air: Air, kept: KeptPlace | None
) -> PlaceFound:
    """Return one place: the quick estimate, scaled to what is kept.

    The depth of every row is the quick one times kept over quick of the planned row (1); the push is the quick one
    moved by the difference (2), as it may be nought. The height stays the quick one's, of a free bundle: under the
    closed shell cloth never stands higher than its room, and what that takes is its push.
    """
    none = Ways(one.name, ())
    low, high = depth_of(base, one)
    tip = np.asarray((low + high) / 2.0)
    if made is None:
        return PlaceFound(one, None, None, none, tip, None, None, None)
    quick = estimated(base, one, made, drawn, air)
    if kept is None:
        return PlaceFound(one, quick, None, none, quick.tip, quick.thick, quick.push[1], quick.room)
    ways = ways_of(kept)
    picked = [k for k, way in enumerate(kept.ways) if way == "in"] or list(range(len(kept.ways)))
    deep, push = (max(v[k] for k in picked) for v in (kept.tip or kept.inward, kept.push))
    tips = np.asarray(quick.tip * deep / max(float(quick.tip[0]), 1e-6))
    room = room_for(base, one, tips, made).height_at(tips)
    pushes = np.maximum(push + quick.push[1] - quick.push[1][0], 0.0)
    return PlaceFound(
        one,
        quick,
        kept,
        ways,
        tips,
        quick.thick,
        np.asarray(pushes),
        np.asarray(room),
    )


def _unwritten(rule: Rule, which: str, base: Basis) -> Judged:
    """Return a judgement that waits for the cloth."""
    text = NO_LAYER if not base.project.layer else NOTHING_STAYS
    return Judged(rule, None, None, which, text, "layer")


def _judged(base: Basis, one: PlaceFound, lower: Lowering) -> tuple[Judged, ...]:
    name = one.at.name
    tips = tip_judged(one.tip, obstacles(base.at), name)
    if one.quick is None or one.thick is None or one.push is None or one.room is None:
        return (*tips, *(_unwritten(rule, name, base) for rule in (INWARD, BUNDLE, PUSH)))
    return (
        _inward(one, base),
        *tips,
        against(BUNDLE, one.thick, one.room, name),
        against(PUSH, one.push, lower.push_limit, name),
    )


def _inward(one: PlaceFound, base: Basis) -> Judged:
    if one.kept is not None:
        found = inward_judged(one.ways)
        if found.value is None or found.limit is None:
            return replace(
                found, unknown=f"{WORK_OUT} to its end: {len(one.kept.ways)} of {LEAST_STARTS} starts are done"
            )
        return replace(found, value=base.full(found.value), limit=base.full(found.limit))
    if one.quick is not None and one.quick.sure:
        return against(INWARD, np.ones(base.rows), np.ones(base.rows), one.at.name)
    return Judged(INWARD, None, None, one.at.name, WORK_OUT)


def _corner(corner: CornerFound) -> Judged:
    """Return the corner's judgement; while its room lies within its range, it is not known."""
    found = corner_judged(corner.low, corner.high, corner.room, "corners")
    return replace(found, limit=None) if found.unknown else found


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
        drift = float(np.max(np.abs(one.at.section.drift)))
        if drift > DRIFT_SHARE * one.at.section.height:
            found.append(
                f"{one.at.name.capitalize()}: the shell runs {say.short_length(drift)} along it on its way, so the "
                "cloth shears as it folds, which is left out here. Try it with a strip of cloth."
            )
    if any(one.kept is not None for one in places):
        found.append(ONE_ROOF)
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
