"""The fold as work that takes long: what it reads and the work itself.

Everything here is of the planned roof, no draws. Whoever keeps the answer keeps the job's `stamp` with it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace
from functools import lru_cache
from typing import Any, Final, cast

import numpy as np

from loftwright.answers.draws import Nominal
from loftwright.answers.fold_air import the_air
from loftwright.answers.fold_places import Standing, standings
from loftwright.answers.fold_read import FORM
from loftwright.answers.fold_read import read_fold as read_fold
from loftwright.answers.held_basis import Basis, basis
from loftwright.answers.judged_roof import inputs_of
from loftwright.answers.walled_lines import LinesFound, the_lines
from loftwright.cloth.bundle import place_push
from loftwright.cloth.chain import Drive, Room, Strand
from loftwright.cloth.fold_stations import room_of
from loftwright.cloth.fold_ways import Run, Ways, many, starts_of
from loftwright.core.choices import Edge
from loftwright.core.motion import Array
from loftwright.project.assemble_stow import (
    FoldLayers,
    Lowering,
    bar,
    boxes,
    fold_layers,
    holds,
    lowering,
    pull_ends,
    pulls,
)
from loftwright.project.model import Project
from loftwright.project.stored import stamp_of

POSES: Final = 40
"""Poses kept of one place at most."""
POINTS: Final = 60
"""Points kept of the cloth in one pose at most."""
DIGITS: Final = 4
"""Decimals of a metre kept: a tenth of a millimetre."""
_ASKED_DIGITS: Final = 5
"""Decimals to which what the job reads is rounded, so that the same project has the same stamp."""

Tell = Callable[[float, str], None]
"""Hears the share done [1] and what is being done."""
Numbers = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class PlaceJob:
    """One place as plain numbers, in the strip's own plane, u inward and z up [m].

    `strand`: length [m], mass [kg/m2], stiffness [N m], thickness [m]; `u`, `z` [m], `lean`, `tilt` [rad] and
    `pressure` [Pa] at the points of the lowering, which goes from `share` 1 open to 0 closed in `seconds` [s];
    `boxes`, `ceiling`, `bars`, `pulls`, `holds`, `friction` as in `chain.Room`; where the pull has a range, `pulls` are
    at its low end and `stronger` at its high one, else `stronger` is empty. Nothing else is taken at its ends.
    """

    name: str
    wall: Edge
    strand: Numbers
    u: Numbers
    z: Numbers
    lean: Numbers
    tilt: Numbers
    pressure: Numbers
    seconds: float
    boxes: tuple[Numbers, ...]
    ceiling: float
    bars: tuple[Numbers, ...]
    pulls: tuple[Numbers, ...]
    holds: tuple[Numbers, ...]
    friction: float
    stronger: tuple[Numbers, ...] = ()

    @property
    def share(self) -> Array:
        """Share open [1] at the points of the lowering."""
        return np.linspace(1.0, 0.0, len(self.u))

    def parts(self) -> tuple[Strand, Drive, Room]:
        """Return strip, lowering and room as the chain takes them."""
        drive = Drive(np.array(self.u), np.array(self.z), np.array(self.lean), self.seconds)
        boxes, bars, drawn, held = (
            np.array(v, dtype=np.float64).reshape(-1, n)
            for v, n in ((self.boxes, 4), (self.bars, 3), (self.pulls, 2), (self.holds, 3))
        )
        room = Room(boxes, self.ceiling, np.array(self.tilt), bars, self.friction, drawn, held, np.array(self.pressure))
        return Strand(*self.strand), drive, room

    def rooms(self) -> tuple[Room, ...]:
        """Return the room at both ends of the pull's range, or once where it has none."""
        room = self.parts()[2]
        if not self.stronger:
            return (room,)
        return room, replace(room, pulls=np.array(self.stronger, dtype=np.float64).reshape(-1, 2))


@dataclass(frozen=True, slots=True)
class FoldJob:
    """Everything that the fold reads: its places, and how many starts each is tried with.

    `why` says why there is nothing to work out, empty where there is.
    """

    places: tuple[PlaceJob, ...]
    starts: int
    why: str = ""

    @property
    def stamp(self) -> str:
        """The mark of what the answer is worked out from."""
        return stamp_of(["fold", [asdict(place) for place in self.places], self.starts])


def _plain(values: Any) -> Numbers:
    """Return numbers rounded, without a minus before nought."""
    return tuple(round(float(v), _ASKED_DIGITS) + 0.0 for v in np.ravel(values))


def _table(rows: Any) -> tuple[Numbers, ...]:
    return tuple(_plain(row) for row in rows)


def place_jobs(
    base: Basis, lines: LinesFound, places: tuple[Standing, ...], layers: FoldLayers, lower: Lowering, blowing: Array
) -> tuple[PlaceJob, ...]:
    """Return what the fold reads at every place that is high enough to fold, planned.

    `blowing` [k]: pressure of the trapped air at the points of the drive [Pa].
    """
    planned = pulls(base.project, base.at)[0]
    drawn, *stronger = pull_ends(base.project, planned)
    skin = float(np.mean(np.atleast_2d(lines.skin)[0]))
    low = float(np.mean(lines.lower.row().points[:, 2]))
    lying, tube = boxes(base.at, max(low - skin, 0.0)), bar(base.project, base.at)
    high, rough = float(base.at("stow.cavity")[0]), float(np.ravel(lower.friction)[0])
    found = []
    for one in places:
        if not one.folds:
            continue
        strand = layers.strand(float(max(one.cloth[0], one.section.height + 1e-3)))
        gap = one.section.gap
        room = room_of(
            one.section,
            max(high - gap, strand.thickness),
            boxes=lying,
            bars=() if tube is None else (tube,),
            pulls=drawn,
            holds=holds(base.project, gap),
            friction=rough,
            pressure=blowing,
        )
        drive = one.section.drive
        found.append(
            PlaceJob(
                name=one.name,
                wall=one.wall,
                strand=_exact(strand),
                u=_plain(drive.u),
                z=_plain(drive.z),
                lean=_plain(drive.lean),
                tilt=_plain(room.tilt),
                pressure=_plain(room.pressure),
                seconds=round(drive.seconds, _ASKED_DIGITS),
                boxes=_table(room.boxes),
                ceiling=round(room.ceiling, _ASKED_DIGITS),
                bars=_table(room.bars),
                pulls=_table(room.pulls),
                holds=_table(room.holds),
                friction=round(rough, _ASKED_DIGITS),
                stronger=_table(stronger[0]) if stronger else (),
            )
        )
    return tuple(found)


def _exact(strand: Strand) -> Numbers:
    """Return a strip's numbers to six digits, its length to a tenth of a millimetre, upward: it must hang."""
    length = math.ceil(strand.length * 1e4 - 1e-2) / 1e4
    return (length, *(float(f"{v:.6g}") for v in (strand.mass, strand.stiffness, strand.thickness)))


@lru_cache(maxsize=4)
def fold_job(project: Project) -> FoldJob:
    """Return what the fold reads of a project.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be put together.
    """
    base = basis(project, Nominal(inputs_of(project)))[0]
    layers = fold_layers(project, base.at)
    if layers is None:
        return FoldJob((), project.stow.starts, NO_LAYER if not project.layer else NOTHING_STAYS)
    lines = the_lines(base)
    places = standings(base, lines, base.full(base.at("walls.ease")))
    lower = lowering(project, base.at)
    air = the_air(base, lines, places, pulls(project, base.at), lower)
    found = place_jobs(base, lines, places, layers, lower, air.blowing)
    return FoldJob(found, project.stow.starts, "" if found else NO_HEIGHT)


NO_LAYER: Final = "write a [[layer]] for the outer cloth"
NOTHING_STAYS: Final = "no layer stays in the wall when the roof comes down"
NO_HEIGHT: Final = "no wall is high enough to fold"


def work_fold(
    job: FoldJob,
    tell: Tell | None = None,
    stopped: Callable[[], bool] | None = None,
    run: Run | None = None,
) -> dict[str, Any]:
    """Return how the cloth folds at every place from many starts, as numbers, texts, lists and tables.

    `tell(share, text)` hears how far it is [1]. When `stopped()` becomes true, what is done so far is returned, with
    `complete` false. `run` lowers one strip, the elastic chain by default. Places that are alike in all but their name
    are worked out once. A place whose strip cannot hang is left out, `said` tells why.
    """
    if run is None:
        from loftwright.cloth.chain import run as chain_run

        run = cast(Run, chain_run)
    starts = starts_of(job.starts)
    alike = {replace(place, name="", wall="rear"): place.name for place in reversed(job.places)}
    own = [place for place in job.places if alike[replace(place, name="", wall="rear")] == place.name]
    total, answers, said, complete = len(own), {}, [], True
    for number, place in enumerate(own):

        def hear(share: float, _: str, number: int = number, place: PlaceJob = place) -> None:
            if tell is not None:
                tell((number + share) / total, f"{place.name}, {round(share * len(starts))} of {len(starts)}")

        strand, drive, _ = place.parts()
        waits = stopped or (lambda: False)
        try:
            ways = many(place.name, strand, drive, place.rooms(), run=run, starts=starts, tell=hear, stopped=waits)
        except ValueError as fault:
            said.append(f"{place.name}: {fault}")
            continue
        complete = complete and len(ways.endings) == len(starts)
        if ways.endings:
            answers[place.name] = _answer(place, ways)
        if not complete:
            break
    found = []
    for place in job.places:
        first = answers.get(alike[replace(place, name="", wall="rear")])
        if first is not None:
            found.append({**first, "name": place.name, "wall": place.wall})
    return {"form": FORM, "places": found, "complete": complete, "said": said}


def _points(nodes: Array, most: int = POINTS) -> list[list[float]]:
    """Return a chain's nodes, at most so many of them, both ends kept, rounded."""
    picked = nodes
    if len(nodes) > most:
        picked = nodes[np.round(np.linspace(0, len(nodes) - 1, most)).astype(int)]
    return [[round(float(u), DIGITS) + 0.0, round(float(z), DIGITS) + 0.0] for u, z in picked]


def _answer(place: PlaceJob, ways: Ways) -> dict[str, Any]:
    shown, share = ways.shown.folded, place.share
    count = len(shown.frames)
    picked = [int(k) for k in np.unique(np.round(np.linspace(0, count - 1, min(count, POSES))))] if count else []
    opened = np.interp(shown.frame_drive, np.arange(share.size), share)
    curve = place_push(tuple(ending.folded for ending in ways.endings), share)
    folded = [ending.folded for ending in ways.endings]
    return {
        "ways": [ending.way for ending in ways.endings],
        "inward": [round(max(one.inward, 0.0), DIGITS) for one in folded],
        "outward": [round(max(one.outward, 0.0), DIGITS) for one in folded],
        "tip": [round(max(float(np.max(one.points[:, 0])), 0.0), DIGITS) for one in folded],
        "bundle": [round(one.bundle, DIGITS) for one in folded],
        "push": [round(max(one.lift, 0.0), 3) for one in folded],
        "poses": [[round(float(opened[k]), 4), _points(shown.frames[k])] for k in picked],
        "ends": [_points(one.points) for one in folded],
        "open_at": [round(float(v), 4) for v in curve.share],
        "lifts": [round(float(v), 3) for v in curve.high],
        "rested": sum(ending.rests for ending in ways.endings),
    }
