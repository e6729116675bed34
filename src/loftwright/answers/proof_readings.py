"""What a scale should read on the built roof, for every row of draws, by the same mechanics as everything else.

Every reading adds inputs of its own: how far open it truly was, and how warm the springs were. Readings of one set
with the same temperature written share it: one thermometer, one day.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np

from loftwright.answers.draws import Input
from loftwright.answers.judged_roof import inputs_of
from loftwright.core.motion import Array, Flags, Motion, Travel
from loftwright.core.uncertain import Uncertain, normal
from loftwright.core.units import STANDARD_GRAVITY
from loftwright.mechanics.balance import Mount
from loftwright.mechanics.feel import Roof, feel, state
from loftwright.project import assemble
from loftwright.project.choice_sections import HandReading
from loftwright.project.model import Project

STATIONS = 121
"""Stations over the travel; between them forces are read off straight lines."""

OPEN_DOUBT = 0.015
"""Doubt of a share of the travel read off a marked stick or a level, two standard deviations [1]: judgement."""
WARMTH_DOUBT = 2.0
"""Doubt of the springs' temperature beside a thermometer in the shade, two standard deviations [K]: judgement."""
LUGGAGE = (0.03, 1.0)
"""Doubt of a luggage scale, two standard deviations: share of the reading [1], and force [N]: judgement."""
BATHROOM = 0.5 * STANDARD_GRAVITY
"""Doubt of bathroom scales, two standard deviations [N]: they show half kilograms: judgement."""


@dataclass(frozen=True, slots=True)
class Position:
    """Where one entry of the spring list may sit: the foot's or the head's hole, closed (x, z) [m].

    `words` name it on paper ("hole 3"); an end that is None stays as in the file.
    """

    words: str
    spring: int
    foot: tuple[float, float] | None = None
    head: tuple[float, float] | None = None


AS_IN_FILE = Position("the holes in the file", 0)


def how_open_path(number: int) -> str:
    """Return the path of how far open reading `number` was."""
    return f"reading.{number}.how_open"


def warmth_path(project: Project, number: int) -> str:
    """Return the path of the springs' temperature at reading `number`: that of the first like it in its set."""
    mine = project.reading[number]
    first = next(
        i
        for i, other in enumerate(project.reading)
        if (other.after, other.temperature) == (mine.after, mine.temperature)
    )
    return f"reading.{first}.temperature"


def _doubted(value: Uncertain, two_sd: float) -> Uncertain:
    """Return a value written without its doubt with the doubt that such readings have."""
    return normal(value.nominal, two_sd) if value.shape == "exact" else value


def scale_doubt(reading: HandReading) -> Uncertain:
    """Return the force read [N] with its doubt; without one in the file, that of the scale."""
    share, least = LUGGAGE
    usual = BATHROOM if reading.scale == "bathroom scales" else share * reading.force.nominal + least
    return _doubted(reading.force, usual)


def inputs_with_readings(project: Project) -> dict[str, Input]:
    """Return every input that can be drawn, with those that belong to the readings."""
    found = inputs_of(project)
    for number, reading in enumerate(project.reading):
        found[how_open_path(number)] = Input(_doubted(reading.how_open, OPEN_DOUBT), 0.0, 1.0, "how far open it was")
        path = warmth_path(project, number)
        warm = _doubted(reading.temperature, WARMTH_DOUBT)
        found[path] = Input(warm, 220.0, 380.0, "how warm the springs were")
    return found


def position_of(project: Project, reading: HandReading) -> Position:
    """Return where the spring sat that a reading speaks of."""
    names = [spring.name for spring in project.spring]
    place = names.index(reading.spring) if reading.spring in names else 0
    ends = [None if p is None else (p.x.nominal, p.z.nominal) for p in (reading.foot, reading.head)]
    if not project.spring or ends == [None, None]:
        return AS_IN_FILE
    said = " and ".join(f"{end} {_spot(at)}" for end, at in zip(("foot", "head"), ends, strict=True) if at is not None)
    return Position(f"{names[place]}: {said}", place, ends[0], ends[1])


def _spot(at: tuple[float, float]) -> str:
    return "[{:.0f} mm, {:.0f} mm]".format(*(1000 * v for v in at))


def shifts(project: Project, position: Position) -> dict[str, float]:
    """Return how far a position lies from the file's [m], by path; a bracket's error is the same for all its holes."""
    found: dict[str, float] = {}
    if not project.spring:
        return found
    spring = project.spring[position.spring]
    for end, there, here in (("foot", position.foot, spring.foot), ("head", position.head, spring.head)):
        if there is not None:
            for axis, to, at in zip("xz", there, (here.x.nominal, here.z.nominal), strict=True):
                found[f"spring.{position.spring}.{end}.{axis}"] = to - at
    return found


SAME = 0.0005
"""Two places closer than this are one hole [m]."""


def is_same(project: Project, one: Position, other: Position) -> bool:
    """Whether two positions put every spring in the same holes."""
    here, there = shifts(project, one), shifts(project, other)
    return all(abs(here.get(path, 0.0) - there.get(path, 0.0)) < SAME for path in {**here, **there})


@dataclass(frozen=True, slots=True)
class Shifted:
    """Values of every input with some moved by a fixed amount."""

    values: assemble.Values
    by: Mapping[str, float]

    def __call__(self, path: str) -> Array:
        """Return the input at `path` for every row, moved."""
        return np.asarray(self.values(path) + self.by.get(path, 0.0))


@dataclass(frozen=True, slots=True)
class Columns:
    """Values of inputs from a table: `columns` by path, and `inputs` that say which path follows which."""

    inputs: Mapping[str, Input]
    columns: Mapping[str, Array]

    def __call__(self, path: str) -> Array:
        """Return the input at `path` for every row, [rows]."""
        while self.inputs[path].same_as:
            path = self.inputs[path].same_as
        return self.columns[path]


@dataclass(frozen=True, slots=True)
class Predicted:
    """What every reading should show [N], [rows, readings], and which rows can be put together, [rows]."""

    force: Array
    possible: Flags


def predicted(
    project: Project,
    at: assemble.Values,
    sense: Array | None,
    *,
    places: Sequence[Position | None] = (),
    weaker: Mapping[int, float] | None = None,
) -> Predicted:
    """Return what every reading of the project should show, springs slow, new and dry, friction as drawn.

    `places` puts the springs of single readings elsewhere than they say (None: as they say); `weaker` takes shares [1]
    of the gas force from entries of the spring list. A scale cannot read below nought: of a reading of nought only
    what lies above counts.
    """
    roof, _ = assemble.roof(project, at, stations=STATIONS, sense=sense)
    rows = roof.possible.size
    opened = [at(how_open_path(number)) for number in range(len(project.reading))]
    roof = near(roof, opened)
    curves: dict[tuple[Position, str], tuple[Array, Array]] = {}
    force = np.empty((rows, len(project.reading)))
    for number, reading in enumerate(project.reading):
        moved = places[number] if places else None
        place = position_of(project, reading) if moved is None else moved
        warmth = warmth_path(project, number)
        if (place, warmth) not in curves:
            curves[place, warmth] = _curves(roof, shifts(project, place), at(warmth), weaker or {})
        curve = curves[place, warmth][0 if reading.way == "push up" else 1]
        read = between(roof.travel.fraction, opened[number], curve)
        force[:, number] = np.maximum(read, 0.0) if reading.force.nominal == 0 else read
    return Predicted(force, roof.possible)


def _curves(roof: Roof, moved: Mapping[str, float], kelvin: Array, weaker: Mapping[int, float]) -> tuple[Array, Array]:
    """Return push up and pull down over the travel [N], [rows, travel], new springs at `kelvin` [K], [rows]."""
    fitted = tuple(
        replace(
            one,
            mount=_moved(one.mount, dict(_of_spring(moved, i))),
            delivered=one.delivered * (1.0 - weaker.get(i, 0.0)),
        )
        for i, one in enumerate(roof.fitted)
    )
    felt = feel(replace(roof, fitted=fitted, climate=replace(roof.climate, mild=kelvin)))
    row = state("mild", "new")
    shape = (roof.possible.size, roof.travel.fraction.size)
    return np.broadcast_to(felt.push_up[row], shape), np.broadcast_to(felt.pull_down[row], shape)


def _of_spring(moved: Mapping[str, float], number: int) -> list[tuple[str, float]]:
    """Return how far the ends of one entry are moved [m]: "foot.x" and so on."""
    start = f"spring.{number}."
    return [(path.removeprefix(start), by) for path, by in moved.items() if path.startswith(start)]


def _moved(mount: Mount, by: Mapping[str, float]) -> Mount:
    return replace(
        mount,
        foot_x=mount.foot_x + by.get("foot.x", 0.0),
        foot_z=mount.foot_z + by.get("foot.z", 0.0),
        head_x=mount.head_x + by.get("head.x", 0.0),
        head_z=mount.head_z + by.get("head.z", 0.0),
    )


def near(roof: Roof, where: Sequence[Array]) -> Roof:
    """Return a roof with only those stations that stand beside places `where` [1], closed and open kept."""
    travel = roof.travel
    last = travel.fraction.size - 1
    right = [np.clip(np.searchsorted(travel.fraction, shares), 1, last) for shares in where]
    beside = np.unique(np.concatenate([[0, last], *right, *(r - 1 for r in right)]))

    def few(motion: Motion) -> Motion:
        return Motion(*(np.asarray(getattr(motion, part.name))[..., beside] for part in fields(motion)))

    arms = tuple(few(arm) for arm in travel.arms)
    thin = Travel(travel.fraction[beside], travel.q[..., beside], few(travel.shell), arms)
    along: dict[str, Any] = {
        part.name: value[..., beside]
        for part in fields(roof)
        if isinstance(value := getattr(roof, part.name), np.ndarray) and value.ndim > 1
    }
    return replace(roof, **along, travel=thin)


def between(stations: Array, where: Array, curve: Array) -> Array:
    """Return each row's own curve [rows, n] over `stations` [n] at its own place `where` [rows], on straight lines."""
    right = np.clip(np.searchsorted(stations, where), 1, stations.size - 1)
    part = (where - stations[right - 1]) / (stations[right] - stations[right - 1])
    rows = np.arange(curve.shape[0])
    low, high = curve[rows, right - 1], curve[rows, right]
    return np.asarray(low + np.clip(part, 0.0, 1.0) * (high - low))


def table(nominal: Mapping[str, float], changes: Sequence[Mapping[str, float]]) -> dict[str, Array]:
    """Return rows of inputs: the nominal one first, then one for each set of changes, by path."""
    found = {path: np.full(1 + len(changes), value) for path, value in nominal.items()}
    for row, change in enumerate(changes, 1):
        for path, value in change.items():
            found[path][row] = value
    return found
