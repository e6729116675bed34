"""Where the cloth goes when the roof comes down, ready to show: answer, places to play, remedies, the tucking card."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import numpy as np

from loftwright.answers.fold_found import PlaceFound
from loftwright.answers.hold_said import answer, capital, nominal
from loftwright.answers.kept_walls import KeptPlace
from loftwright.answers.views import check_row
from loftwright.answers.wall_fold_grids import air_grid, remedy_grid, seam_grid
from loftwright.answers.wall_fold_words import (
    OUTWARD_TIP,
    bundle_text,
    hang_text,
    known_text,
    place_says,
    push_text,
    span,
    tip_text,
    way_text,
)
from loftwright.answers.walled_fold import FoldFound
from loftwright.cloth.fold_corners import excess_cloth
from loftwright.cloth.fold_stations import Section
from loftwright.cloth.fold_ways import Ways
from loftwright.cloth.trapped_air import Opened
from loftwright.cloth.tucking import tucking_card
from loftwright.core.checks import Check
from loftwright.core.pattern import XY
from loftwright.core.units import Dimension
from loftwright.core.views import Fact, Grid
from loftwright.core.wall_views import FoldPlace, FoldPose, WallSection
from loftwright.core.wording import Wording
from loftwright.project.assemble_stow import bar, boxes, comes_down, standing

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers

INSIDE: Final = 0.45
"""How far the shell's inside is drawn inward of the upper line [m]."""
OUTSIDE: Final = 0.05
SECONDS_A_START: Final = 1.2
"""Roughly what one start takes [s]."""


def fold_section(walls: WallNumbers, checks: tuple[Check, ...], say: Wording) -> WallSection:
    """Return what is said about the fold."""
    fold, mine = walls.found.fold, tuple(check for check in checks if check.rule.id.startswith("STOW-"))
    return WallSection(
        "fold",
        "Where the cloth goes",
        _says(fold, mine, say),
        tuple(_facts(walls, say)),
        tuple(_grids(walls, say)),
        tuple(check_row(check, say) for check in mine),
        fold.said,
    )


def _says(fold: FoldFound, mine: tuple[Check, ...], say: Wording) -> str:
    deep = fold.deepest
    if deep is None:
        return "No wall is high enough to fold: the cloth lies between the lines by itself."
    return answer(mine, "It goes in", "It does not go in yet", known_text(deep, say))


def _keep_free(fold: FoldFound, say: Wording) -> Fact:
    """Return how much room inside the folded cloth asks for anywhere round the rim."""
    inside = [one for one in fold.places if not one.falls_out]
    deep = max((nominal(one.reach.depth[1]) for one in inside), default=0.0)
    low = max((nominal(one.reach.hang[1]) for one in inside), default=0.0)
    below = f"inward of the lower line, down to {say.short_length(low)} below the ring: no cupboard or board in there"
    return Fact("Keep free", say.short_length(deep), below)


def _facts(walls: WallNumbers, say: Wording) -> list[Fact]:
    fold, air = walls.found.fold, walls.found.fold.air
    found = [] if fold.deepest is None else [_keep_free(fold, say)]
    for one in fold.places:
        tip, hangs = tip_text(one, say), hang_text(one, say)
        note = f"inward of the lower line; below the ring {hangs}" if hangs else "inward of the lower line"
        found.append(Fact(f"{capital(one.at.name)}, tip", tip, "" if tip.startswith(OUTWARD_TIP) else note))
    for text in dict.fromkeys(text for one in fold.places if (text := bundle_text(one, say))):
        found.append(Fact("Bundle", text, "above the ring"))
    if fold.corner is not None:
        corner = fold.corner
        text = span(nominal(corner.low), nominal(corner.high), say.short_length)
        found.append(
            Fact("Corner bundle", text, f"room {say.short_length(nominal(corner.room))}; an order of magnitude")
        )
        depth, radius = nominal(corner.depth), nominal(corner.radius)
        found.append(
            Fact(
                "Too much cloth at a corner",
                say.length(nominal(excess_cloth(depth, radius))),
                f"along a fold {say.short_length(depth)} deep round a radius of {say.short_length(radius)}",
            )
        )
    if fold.places:
        found.append(
            Fact(
                "Trapped air",
                _blow(nominal(air.pressure), say),
                f"{say.force(max(nominal(air.lift), 0.0))} in all; the cloth bears {_blow(nominal(air.allowed), say)}",
            )
        )
        planned, least = nominal(fold.lower.seconds), nominal(air.seconds)
        found.append(
            Fact("Lower it over", say.time(least), "at least, with what is open")
            if least > planned
            else Fact("Lower it over", say.time(planned), "as planned; the air does not limit it")
        )
    return found


def _blow(pressure: float, say: Wording) -> str:
    return say.quantity(pressure, Dimension.PRESSURE)


def _grids(walls: WallNumbers, say: Wording) -> list[Grid]:
    fold = walls.found.fold
    found = []
    if fold.places:
        rows = tuple(
            (
                capital(one.at.name),
                say.length(nominal(one.at.height)),
                tip_text(one, say),
                hang_text(one, say) or "-",
                bundle_text(one, say),
                push_text(one, say),
                way_text(one),
            )
            for one in fold.places
        )
        headings = ("Wall", "Height", "Tip inward", "Hangs below", "Bundle", "Push a metre", "Which way")
        found.append(Grid("The fold at each wall", headings, rows, _how(fold)))
    if fold.corner is not None:
        found += [remedy_grid(fold.corner, say), seam_grid(fold, say)]
    if fold.places:
        found.append(air_grid(walls, say))
    if fold.first:
        found.append(
            Grid(
                "Windows before lowering",
                ("Window", "Must", "Why"),
                tuple(
                    (f"{one.pane.wall}, {one.pane.name}", "yes" if one.must else "better", one.why)
                    for one in fold.first
                ),
                "The stiffest first.",
            )
        )
    return found


def _how(fold: FoldFound) -> str:
    if any(one.kept is not None for one in fold.places):
        return (
            "Tip, hang, push and way by many starts of an elastic chain: of those that went in. The bundle is what "
            "stands above the ring, the room below it is judged by itself."
        )
    return "Quick estimates by rule of thumb, made from trials; the way it folds is a matter of chance without a pull."


# --- the section to be watched -----------------------------------------------------------------------


def fold_places(walls: WallNumbers, say: Wording) -> tuple[FoldPlace, ...]:
    """Return the fold at each place that folds; poses where the slow answer is kept, even of an earlier project."""
    fold = walls.found.fold
    kept = {one.name: one for one in walls.kept.fold}
    return tuple(_place(walls, one, kept.get(one.at.name), say) for one in fold.places)


def _place(walls: WallNumbers, one: PlaceFound, kept: KeptPlace | None, say: Wording) -> FoldPlace:
    at = walls.found.basis.at
    lines, section = walls.found.lines, one.at.section
    skin = float(np.mean(lines.lower.row().points[:, 2])) - float(np.mean(np.atleast_2d(lines.skin)[0]))
    job = next((job for job in walls.found.fold.jobs if job.name == one.at.name), None)
    ceiling = 0.0 if job is None else job.ceiling
    poses = (
        ()
        if kept is None
        else tuple(_pose(section, pose.open, pose.cloth, ceiling, bar(walls.project, at)) for pose in kept.poses)
    )
    ways = () if kept is None else kept.ways
    room = None if one.room is None else (float(at("stow.depth")[0]), nominal(one.room))
    return FoldPlace(
        name=one.at.name,
        wall=one.at.wall,
        arc=one.at.arc,
        says=place_says(one, say),
        counts=(ways.count("in"), ways.count("out"), ways.count("both")),
        tip=tip_text(one, say),
        bundle=bundle_text(one, say),
        push=push_text(one, say),
        hang=hang_text(one, say),
        poses=tuple(sorted(poses, key=lambda pose: -pose.open)),
        ends=() if kept is None else kept.ends,
        boxes=(*boxes(at, max(skin, 0.0)), standing(at)),
        room=room,
    )


def _pose(
    section: Section,
    opened: float,
    cloth: tuple[XY, ...],
    ceiling: float,
    tube: tuple[float, float, float] | None,
) -> FoldPose:
    """Return one pose with the shell's inside and the bar where the planned shell then is."""
    order = np.argsort(section.share)
    u, z, tilt = (
        float(np.interp(opened, section.share[order], v[order]))
        for v in (section.drive.u, section.drive.z, section.tilt)
    )
    cos, sin = float(np.cos(tilt)), float(np.sin(tilt))

    def there(along: float, up: float) -> XY:
        return u + cos * along - sin * up, z + sin * along + cos * up

    round_bar = None if tube is None else (*there(tube[0], tube[1]), tube[2])
    return FoldPose(opened, cloth, (there(-OUTSIDE, ceiling), there(INSIDE, ceiling)), round_bar)


# --- words ---------------------------------------------------------------------------------------------


def tucking(walls: WallNumbers, say: Wording) -> tuple[str, ...]:
    """Return what hangs in the van: how the cloth is tucked in, one short line a step."""
    fold = walls.found.fold
    if not fold.places:
        return ()
    unsure = {one.at.wall: Ways(f"{one.at.wall} wall", one.ways.endings) for one in fold.places if not one.sure}
    steps = tucking_card(
        fold.first,
        tuple(unsure.values()),
        _opened(fold, say),
        max(nominal(fold.lower.seconds), 1.0),
        fan=nominal(fold.lower.fan) > 0.0,
        lining_comes_down=bool(comes_down(walls.project)),
    )
    return tuple(capital(step) for step in steps)


def _opened(fold: FoldFound, say: Wording) -> Opened | None:
    """Return what is to be opened: what the file has open where that is enough, else the least that is."""
    air, vent = fold.air, nominal(fold.lower.vent)
    if nominal(air.pressure) > nominal(air.allowed):
        return air.door
    if vent <= 0.0:
        return None
    name = f"doors, windows or vents with {say.area(vent)} free in all, as planned"
    return Opened(name, fold.lower.vent, air.pressure, np.asarray(air.pressure <= air.allowed))


def fold_note(walls: WallNumbers, say: Wording) -> str:
    """Return what is to be done about the fold's freshness, empty where nothing."""
    fold, kept = walls.found.fold, walls.kept
    if not fold.places or fold.layers is None:
        return ""
    alone = len(fold.jobs)
    takes = say.time(max(alone * walls.project.stow.starts * SECONDS_A_START, 10.0))
    if kept.fold_is == "none":
        return f"These are quick estimates. Work out the fold to see which way the cloth goes; it takes about {takes}."
    if kept.fold_is == "stale":
        return f"The fold was worked out before something was changed. Work it out again; it takes about {takes}."
    missing = [one.at.name for one in fold.places if one.kept is None or len(one.kept.ways) < walls.project.stow.starts]
    if len(missing) == len(fold.places):
        return "The fold was stopped early: work it out again."
    if missing:
        return f"The fold was stopped early: work it out again for the {' and the '.join(missing)}."
    stiff = ", ".join(one.name for one in fold.panes if one.least_radius > 0.0)
    if stiff:
        return f"Stiff windows are not in the fold ({stiff}): moving one leaves the answer as it is, not the cloth."
    return ""
