"""What readings on the finished roof say: whether they agree, what they teach, the odds after them, which hole next.

Order: predict every reading for all draws; hold each set of readings against what is known so far; learn from what
agrees; judge the roof anew with what was learnt. A set that contradicts teaches nothing before its cause is cleared;
where one reading alone is the likely fault, the others of its set are used.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from loftwright.answers.draws import Input, Nominal, Rows, rows
from loftwright.answers.judged_roof import assembled, at_headroom, standing
from loftwright.answers.lifting import all_hold
from loftwright.answers.proof_readings import (
    AS_IN_FILE,
    STATIONS,
    Columns,
    Position,
    Predicted,
    Shifted,
    inputs_with_readings,
    is_same,
    position_of,
    predicted,
    scale_doubt,
    shifts,
)
from loftwright.choice.contradiction import Cause, Finding, contradiction, one_wrong
from loftwright.choice.update import draws_after, independent, learn
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.judged import Judged
from loftwright.core.motion import Array, Flags
from loftwright.core.uncertain import Uncertain
from loftwright.mechanics.feel import feel
from loftwright.mechanics.guide_rules import judge_guides
from loftwright.mechanics.hand_rules import judge_feel
from loftwright.mechanics.room import judge_room, room
from loftwright.plan.scout import STAND
from loftwright.project import assemble
from loftwright.project.model import Project
from loftwright.project.plane import lengthwise_only

DRAWS = 1000
"""Least number of draws against which readings are held; the first of them are those of every other answer."""
WEAKENED = 0.2
"""Share of the gas force taken away to see what a weak spring does to the readings [1]."""
RARER = 1.0
"""What causes are held back by that are rarer, or come in many [1]: judgement."""
FEWEST = 50
"""Fewest draws that can be put together, for anything to be said of readings."""

DRAG, WEAK, STRONG, HOLE, WRONG = "drag", "weak", "strong", "hole", "wrong"
"""Kinds of cause; the second part of a cause's name says which spring, place or reading."""


@dataclass(frozen=True, slots=True)
class ReadingSet:
    """One set of readings: its number, which readings [k] it holds, what they say, and which were learnt from."""

    after: int
    readings: tuple[int, ...]
    finding: Finding
    used: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class HoleOdds:
    """The share of roofs like this one, as now known, in which everything holds with the spring there [1]."""

    position: Position
    odds: float


@dataclass(frozen=True, slots=True)
class Odds:
    """The share of roofs like this one in which everything holds [1].

    `before` any reading, among all that were drawn, and `after` the readings, both with the springs as in the file;
    `holes` every place spoken of, best first, empty where there is one only.
    """

    before: float
    after: float
    holes: tuple[HoleOdds, ...]


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known of a roof before and after readings of it.

    `paths` are the inputs that can still be learnt; `before` and `after` their draws, [draws, paths], and
    `mean` their likeliest values after. `force_before` and `force_after` [N] are what each reading should show,
    [draws, readings]; `read` [N] what it showed and `noise` [N] one standard deviation of it, [readings].
    `every` are all draws, those that cannot be put together among them; `places` those of springs spoken of.
    """

    project: Project
    inputs: Mapping[str, Input]
    nominal: Mapping[str, float]
    sense: Array
    paths: tuple[str, ...]
    before: Array
    after: Array
    mean: Array
    every: Array
    read: Array
    noise: Array
    force_before: Array
    force_after: Array
    sets: tuple[ReadingSet, ...]
    places: tuple[Position, ...]

    def at(self, draws: Array) -> Columns:
        """Return values of every input: the planned roof first, then one row for each of `draws`, [d, paths]."""
        return columns(self.inputs, self.nominal, self.paths, draws)

    def rows(self) -> Rows:
        """Return the planned roof and the draws after the readings as rows, each at hand for any other answer."""
        count = 1 + self.after.shape[0]
        return Rows(self.inputs, {}, slice(1, count), count, self.at(self.after).columns)

    def place(self, number: int) -> Position:
        """Return where the spring sat at a reading, by the name that this place has."""
        said = position_of(self.project, self.project.reading[number])
        return next(one for one in self.places if is_same(self.project, one, said))


def columns(inputs: Mapping[str, Input], nominal: Mapping[str, float], paths: Sequence[str], draws: Array) -> Columns:
    """Return values of every input: the planned roof in the first row, then one row for each of `draws`, [d, paths]."""
    found = {path: np.full(1 + draws.shape[0], value) for path, value in nominal.items()}
    for i, path in enumerate(paths):
        found[path][1:] = draws[:, i]
    return Columns(inputs, found)


def middle_and_sd(value: Uncertain) -> tuple[float, float]:
    """Return mean and standard deviation of an input, in its own unit.

    An even range is (high - low)/sqrt(12) wide (1); a normal one is written with two standard deviations.
    Source: JCGM 100:2008, 4.3.7.
    """
    if value.shape == "even":
        return (value.low + value.high) / 2, (value.high - value.low) / float(np.sqrt(12.0))
    return value.nominal, value.spread / 2


def bounds(one: Input) -> tuple[float, float]:
    """Return what an input can never leave, in its own unit: its range where it is even, what is allowed at all."""
    if one.value.shape == "even":
        return max(one.low, one.value.low), min(one.high, one.value.high)
    return one.low, one.high


def holding(project: Project, at: assemble.Values, sense: Array | None) -> Flags:
    """Return in which rows everything holds that can be judged, [rows]; a roof that cannot be put together does not."""
    parts = assembled(project, at, stations=STATIONS, sense=sense)
    roof = parts.roof
    felt = feel(roof)
    judged = (
        Judged(STAND, standing(project, parts, at).best, at_headroom(project, at)[2]),
        *judge_room(room(parts.around, roof), roof, parts.around),
        *judge_feel(roof, felt),
        *judge_guides(roof, felt),
    )
    return all_hold(judged, roof.possible)


@dataclass(frozen=True, slots=True)
class _Model:
    """The readings of one project as a function of its uncertain inputs."""

    project: Project
    inputs: Mapping[str, Input]
    nominal: Mapping[str, float]
    sense: Array
    paths: tuple[str, ...]
    sd: Array
    middle: Array
    low: Array
    high: Array

    def at(self, draws: Array) -> Predicted:
        """Return the predictions for draws of the inputs, [d, paths]."""
        whole = predicted(self.project, columns(self.inputs, self.nominal, self.paths, draws), self.sense)
        return Predicted(whole.force[1:], whole.possible[1:])

    def slope(self, about: Array) -> Array:
        """Return dh/dx [readings, paths] about one point [paths], over two standard deviations each way.

        Where one side cannot be put together, the other alone counts.
        """
        n = len(self.paths)
        step = np.diag(2.0 * self.sd)
        points = np.clip(np.vstack([about[None], about - step, about + step]), self.low, self.high)
        found = self.at(points)
        force, possible = found.force, found.possible
        below, above = (np.where(possible[a : a + n], np.arange(a, a + n), 0) for a in (1, 1 + n))
        run = points[above, np.arange(n)] - points[below, np.arange(n)]
        rise = force[above] - force[below]
        return np.asarray(np.where(np.abs(run) > 0, rise.T / np.where(run == 0, 1.0, run), 0.0))

    def held_against(
        self, read: Array, force: Array, noise: Array, picked: Sequence[int], about: Array, places: Sequence[Position]
    ) -> Finding:
        """Return what the readings `picked` say against their predictions so far, `force` [N], [draws, readings]."""
        at = list(picked)
        causes = self.causes(at, about, places)
        return contradiction(read[at], force[:, at], noise[at], causes, seed=self.project.settings.seed)

    def causes(self, picked: Sequence[int], about: Array, places: Sequence[Position]) -> list[Cause]:
        """Return what can be wrong with the readings `picked`, with signatures about one point [paths]."""
        point = columns(self.inputs, self.nominal, self.paths, about[None])
        here = predicted(self.project, point, self.sense).force[1, picked]
        found = [Cause(DRAG, np.ones(len(picked)))]
        for i in range(len(self.project.spring)):
            less = predicted(self.project, point, self.sense, weaker={i: WEAKENED}).force[1, picked]
            found.append(Cause(f"{WEAK} {i}", (less - here) / WEAKENED, 0.0, 1.0))
            found.append(Cause(f"{STRONG} {i}", (here - less) / WEAKENED, 0.0, 1.0, RARER))
        said = [position_of(self.project, reading) for reading in self.project.reading]
        there = dict.fromkeys(said[k] for k in picked)
        for mine in there:
            for other in places:
                if is_same(self.project, mine, other):
                    continue
                swapped = [other if place == mine else None for place in said]
                wrong = predicted(self.project, point, self.sense, places=swapped).force[1, picked]
                found.append(Cause(f"{HOLE} {places.index(other)}", wrong - here, 1.0, 1.0))
        return [*found, *one_wrong([f"{WRONG} {k}" for k in picked], np.ones(len(picked)), RARER)]


def known_places(project: Project, positions: Sequence[Position]) -> tuple[Position, ...]:
    """Return every place of a spring that is spoken of: those handed in, the file's, those of the readings."""
    found: list[Position] = []
    for place in (*positions, AS_IN_FILE, *(position_of(project, reading) for reading in project.reading)):
        if not any(is_same(project, place, other) for other in found):
            found.append(place)
    return tuple(found)


def prove(project: Project, positions: Sequence[Position] = ()) -> Proof:
    """Return what the readings of a project say; `positions` are further holes that may come next.

    Raises ProjectFault or CannotAssemble when the planned roof cannot be built at all, or is hinged at a side.
    """
    lengthwise_only(project, "a proof by readings is")
    inputs = inputs_with_readings(project)
    first = Nominal(inputs)
    sense = assembled(project, first, stations=STATIONS).sense
    at_headroom(project, first)
    predicted(project, first, sense)
    drawn = rows(inputs, first.asked, max(project.settings.draws, DRAWS), project.settings.seed)
    nominal = {path: float(column[0]) for path, column in drawn.columns.items()}
    paths = tuple(drawn.alone)
    model = _model(project, drawn, nominal, sense)
    every = np.stack([drawn.columns[path][drawn.draws] for path in paths], axis=-1)
    told = model.at(every)
    kept = np.flatnonzero(told.possible)
    if kept.size < FEWEST:
        raise ProjectFault(
            [
                Fault(
                    "The ranges of the file",
                    f"so wide that {drawn.draws.stop - drawn.draws.start - kept.size} of the roofs in them do not fit",
                    "readings can only be held against roofs that can be put together",
                    "measure the pins of the arms first",
                )
            ]
        )
    places = known_places(project, positions)
    learnt = _learn(model, every[kept], told.force[kept], places)
    return Proof(
        project=project,
        inputs=inputs,
        nominal=nominal,
        sense=sense,
        paths=paths,
        before=every[kept],
        after=learnt.draws,
        mean=learnt.mean,
        every=every,
        read=np.array([reading.force.nominal for reading in project.reading]),
        noise=_noise(project),
        force_before=told.force[kept],
        force_after=learnt.force,
        sets=learnt.sets,
        places=places,
    )


def odds_of(proof: Proof) -> Odds:
    """Return the odds that everything holds, before and after the readings, and in every place spoken of."""
    project, most = proof.project, proof.project.settings.draws
    before = holding(project, proof.at(proof.every[:most]), proof.sense)[1:]
    found = proof.at(proof.after[:most])
    odds = [
        HoleOdds(place, float(holding(project, Shifted(found, shifts(project, place)), proof.sense)[1:].mean()))
        for place in proof.places
    ]
    here = next(one.odds for one in odds if is_same(project, one.position, AS_IN_FILE))
    best_first = tuple(sorted(odds, key=lambda one: -one.odds)) if len(odds) > 1 else ()
    return Odds(float(before.mean()), here, best_first)


def _model(project: Project, drawn: Rows, nominal: Mapping[str, float], sense: Array) -> _Model:
    paths = tuple(drawn.alone)
    shape = [middle_and_sd(drawn.inputs[path].value) for path in paths]
    edge = [bounds(drawn.inputs[path]) for path in paths]
    middle, sd = np.array(shape).reshape(-1, 2).T
    low, high = np.array(edge).reshape(-1, 2).T
    return _Model(project, drawn.inputs, nominal, sense, paths, sd, middle, low, high)


def _noise(project: Project) -> Array:
    return np.array([middle_and_sd(scale_doubt(reading))[1] for reading in project.reading])


@dataclass(frozen=True, slots=True)
class _Learnt:
    draws: Array
    mean: Array
    force: Array
    sets: tuple[ReadingSet, ...]


def _learn(model: _Model, prior: Array, told: Array, places: Sequence[Position]) -> _Learnt:
    """Return what is learnt, one set of readings after the other."""
    project = model.project
    read = np.array([reading.force.nominal for reading in project.reading])
    noise = _noise(project)
    chance = np.random.default_rng(project.settings.seed).standard_normal(told.shape)
    numbers = sorted({reading.after for reading in project.reading})
    draws, force, mean = prior, told, model.middle
    sets: list[ReadingSet] = []
    used: list[int] = []
    for number in numbers:
        picked = [k for k, reading in enumerate(project.reading) if reading.after == number]
        finding = model.held_against(read, force, noise, picked, mean, places)
        fit = _fit_to_learn(finding, picked)
        if fit and len(fit) < len(picked) and model.held_against(read, force, noise, fit, mean, places).strange:
            # Without the one that stands out the rest contradicts as well.
            fit = ()
        sets.append(ReadingSet(number, tuple(picked), finding, fit))
        used += fit
        if not fit:
            continue
        mean = _likeliest(model, read[used], noise[used], used)
        draws, force = _moved(model, prior, told, chance, read, noise, used)
    return _Learnt(draws, mean, force, tuple(sets))


def _fit_to_learn(finding: Finding, picked: Sequence[int]) -> tuple[int, ...]:
    """Return the readings to learn from: all that agree, or all but the one that alone is likely to be wrong."""
    if not finding.strange:
        return tuple(picked)
    likely = finding.likely
    if len(likely) == 1 and likely[0].name.startswith(WRONG):
        return tuple(k for k in picked if f"{WRONG} {k}" != likely[0].name)
    return ()


def _likeliest(model: _Model, read: Array, noise: Array, used: Sequence[int]) -> Array:
    """Return the likeliest inputs [paths] after readings, by two Gauss-Newton steps, within their bounds."""
    before = independent(model.middle, model.sd)
    point = model.middle
    for _ in range(2):
        off = read - model.at(point[None]).force[0, used]
        after = learn(before, off, model.slope(point)[used], noise, at=point)
        point = np.clip(after.mean, model.low, model.high)
    return np.asarray(point)


def _moved(
    model: _Model,
    prior: Array,
    told: Array,
    chance: Array,
    read: Array,
    noise: Array,
    used: Sequence[int],
) -> tuple[Array, Array]:
    """Return the draws after the readings `used`, and what each reading should then show, for roofs that fit."""
    slope = model.slope(prior.mean(axis=0))[used]
    wanted = read[used] - noise[used] * chance[:, used]
    known = {"low": model.low, "high": model.high}
    first = draws_after(prior, wanted - told[:, used], model.sd, slope, noise[used], **known)
    then = model.at(first).force[:, used]
    second = draws_after(prior, wanted - then, model.sd, slope, noise[used], at=first, **known)
    found = model.at(second)
    fits: NDArray[np.intp] = np.flatnonzero(found.possible)
    if fits.size < FEWEST:
        return prior, told
    return second[fits], found.force[fits]
