"""What the tape should read after each step of building, and which bracket is off where it reads something else."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from loftwright.answers.proof_readings import OPEN_DOUBT, STATIONS, Columns, between, table
from loftwright.choice.contradiction import Cause, Suspect, near_best, scores
from loftwright.core.motion import Array
from loftwright.mechanics.balance import lever
from loftwright.project import assemble
from loftwright.project.choice_sections import Step, TapeOf
from loftwright.project.linkage_section import PIVOTS
from loftwright.project.model import Project
from loftwright.project.plane import end_in_plane, plane_of, size

TAPE_DOUBT: Final = 0.003
"""Doubt of a length between two marks, taken with a steel tape, two standard deviations [m]: judgement."""
NUDGE: Final = 0.005
"""How far a bracket is moved each way to see what that does to the tape [m]."""
TRUST: Final = 2.0
"""A reading further off than this many standard deviations is a miss."""
FURTHEST: Final = 0.06
"""No bracket is thought to sit further off along an axis than this [m]: judgement."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One tape reading: after which step, what is measured, and how far open [1]."""

    step: Step
    what: TapeOf
    share: float


ASKED: Final[tuple[Ask, ...]] = (
    Ask("hinges", "lip height", 0.0),
    Ask("hinges", "lip height", 1.0),
    Ask("hinges", "diagonal", 1.0),
    Ask("springs", "lip height", 1.0),
    Ask("springs", "spring length", 0.0),
    Ask("springs", "spring length", 1.0),
    Ask("latches", "lip height", 0.0),
    Ask("latches", "spring length", 0.0),
    Ask("latches", "diagonal", 0.0),
)
"""Three readings after each step."""
STEPS: Final[tuple[Step, ...]] = ("hinges", "springs", "latches")
"""Steps in the order of building."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What one tape reading should show [m], and how far off is still no miss [m], two standard deviations."""

    ask: Ask
    length: float
    tolerance: float


@dataclass(frozen=True, slots=True)
class Taped:
    """One reading taken: which entry of the file, what was expected, what was read [m]."""

    number: int
    expected: Expected
    read: float

    @property
    def off(self) -> float:
        """How much longer it reads than expected [m]."""
        return self.read - self.expected.length

    @property
    def missed(self) -> bool:
        """Whether it lies beyond the tolerance."""
        return abs(self.off) > self.expected.tolerance


@dataclass(frozen=True, slots=True)
class Skew:
    """Two diagonals of one pose: how much they differ [m], how much they may, and the lip's shift sideways [m]."""

    ask: Ask
    difference: float
    tolerance: float
    shift: float

    @property
    def square(self) -> bool:
        """Whether the shell sits square."""
        return abs(self.difference) <= self.tolerance


@dataclass(frozen=True, slots=True)
class TapeProof:
    """What the tape should read and what it read; `brackets` that may be off, likeliest first, size in [m]."""

    expected: tuple[Expected, ...]
    taken: tuple[Taped, ...]
    skew: tuple[Skew, ...]
    brackets: tuple[Suspect, ...]

    @property
    def missed(self) -> bool:
        """Whether any reading lies beyond its tolerance."""
        return any(one.missed for one in self.taken)


def lengths(project: Project, at: assemble.Values, sense: Array | None, asks: Sequence[Ask]) -> Array:
    """Return what the tape should read for every row [m], [rows, asks].

    Lip height: from the roof at the edge of the opening under the lip straight up; spring length: between the ends of
    the first spring of the list; diagonal: from a hinge, or the front arm's pin, to the lip's corner on the other side.
    """
    roof, _ = assemble.roof(project, at, stations=STATIONS, sense=sense)
    travel, rows = roof.travel, roof.possible.size
    lip = travel.shell.point(*roof.lip)
    pins = max(roof.pins.van, key=lambda pin: float(np.atleast_1d(pin[0])[0]))
    across = np.asarray(at("linkage.spacing") + at(plane_of(project).shell_across)) / 2
    ground = _roof_under_lip(project)
    found = np.empty((rows, len(asks)))
    for k, ask in enumerate(asks):
        where = np.full(rows, ask.share)

        def here(curve: Array, where: Array = where) -> Array:
            return between(travel.fraction, where, np.broadcast_to(curve, (rows, travel.fraction.size)))

        if ask.what == "lip height":
            found[:, k] = here(lip.z) - ground
        elif ask.what == "diagonal":
            found[:, k] = np.sqrt((here(lip.x) - pins[0]) ** 2 + (here(lip.z) - pins[1]) ** 2 + across**2)
        else:
            found[:, k] = here(lever(roof.fitted[0].mount, travel).length)
    return found


def _roof_under_lip(project: Project) -> float:
    """Return how high the roof is at the edge of the opening under the closed lip [m]."""
    edge = 0.0 if end_in_plane(project) == "front" else size(project, plane_of(project).opening)
    spots = sorted((p.x.nominal, p.z.nominal) for p in project.roof.profile)
    for (x0, z0), (x1, z1) in pairwise(spots):
        if x0 <= edge <= x1 and x1 > x0:
            return z0 + (z1 - z0) * (edge - x0) / (x1 - x0)
    return 0.0


def brackets_of(project: Project) -> tuple[str, ...]:
    """Return the paths of all places that a bracket can be off: pins, and both ends of the first spring."""
    found = [f"linkage.{pin}.{axis}" for pin in PIVOTS[project.linkage.kind] for axis in "xz"]
    if project.spring:
        found += [f"spring.0.{end}.{axis}" for end in ("foot", "head") for axis in "xz"]
    return tuple(found)


def tape_proof(project: Project, at: Columns, nominal: Mapping[str, float], sense: Array) -> TapeProof:
    """Return what the tape should read and what its readings say.

    `at` holds the planned roof in its first row and draws of it below; `nominal` the planned roof by path.
    """
    tolerance = project.settings.mounting_tolerance.nominal
    taken = [Ask(one.step, one.what, one.how_open.nominal) for one in project.tape]
    every = [ask for ask in dict.fromkeys((*ASKED, *taken)) if ask.what != "spring length" or project.spring]
    wanted = sorted(every, key=lambda ask: STEPS.index(ask.step))
    drawn = lengths(project, at, sense, wanted)
    brackets = [path for path in brackets_of(project) if path in nominal]
    signature = _signatures(project, at, nominal, sense, wanted, brackets)
    # What is not drawn may still sit as far off as any bracket.
    fixed = [i for i, path in enumerate(brackets) if np.ptp(at(path)) == 0]
    spread = np.cov(drawn[1:], rowvar=False) + (tolerance / 2) ** 2 * signature[fixed].T @ signature[fixed]
    steps = [Ask(a.step, a.what, min(max(a.share + s * OPEN_DOUBT, 0.0), 1.0)) for s in (-1, 1) for a in wanted]
    swing = lengths(project, Columns(at.inputs, table(nominal, [])), sense, steps)[0].reshape(2, -1)
    ajar = [0.0 < ask.share < 1.0 for ask in wanted]
    two_sd = np.where(ajar, np.abs(swing[1] - swing[0]) / 2, 0.0)
    spread = spread + np.diag((two_sd / 2) ** 2)
    most = TRUST * np.sqrt(np.diag(spread) + (TAPE_DOUBT / 2) ** 2)
    expected = {ask: Expected(ask, float(drawn[0, k]), float(most[k])) for k, ask in enumerate(wanted)}
    found = tuple(
        Taped(number, expected[ask], project.tape[number].reads.nominal)
        for number, ask in enumerate(taken)
        if ask in expected
    )
    skew = _skew(project, nominal, found)
    at_fault: tuple[Suspect, ...] = ()
    if any(one.missed for one in found):
        place = [wanted.index(one.expected.ask) for one in found]
        at_fault = _off(found, spread[np.ix_(place, place)], signature[:, place], brackets)
    return TapeProof(tuple(expected[ask] for ask in wanted), found, skew, at_fault)


def _signatures(
    project: Project,
    at: Columns,
    nominal: Mapping[str, float],
    sense: Array,
    wanted: Sequence[Ask],
    brackets: Sequence[str],
) -> Array:
    """Return what every tape reading gains per metre that a bracket sits further along x or z [1], [brackets, asks]."""
    nudged = [{path: nominal[path] + way * NUDGE} for path in brackets for way in (-1, 1)]
    rows = lengths(project, Columns(at.inputs, table(nominal, nudged)), sense, wanted)[1:]
    return np.asarray((rows[1::2] - rows[0::2]) / (2 * NUDGE))


def _off(taken: Sequence[Taped], spread: Array, signature: Array, brackets: Sequence[str]) -> tuple[Suspect, ...]:
    """Return the brackets whose offset explains the readings best, and those nearly as good, by least squares."""
    causes = [
        Cause(path, row, -FURTHEST, FURTHEST)
        for path, row in zip(brackets, signature, strict=True)
        if np.abs(row).max() > 0.02
    ]
    if not causes:
        return ()
    off = np.array([one.off for one in taken])
    # Two readings of one length share what is not known of the roof; the tape's own doubt keeps them apart.
    both = spread + np.diag(np.full(len(taken), (TAPE_DOUBT / 2) ** 2))
    score, size = scores(off, both, causes)
    inside = np.stack([cause.signature for cause in causes])
    sd = 1.0 / np.sqrt((np.linalg.solve(both, inside.T).T * inside).sum(axis=1))
    order = [int(i) for i in np.argsort(-score, kind="stable")]
    return near_best([Suspect(causes[i].name, float(size[i]), float(sd[i]), float(score[i])) for i in order])


def _skew(project: Project, nominal: Mapping[str, float], taken: Sequence[Taped]) -> tuple[Skew, ...]:
    """Return how square the shell sits, from two diagonals of one pose.

    A lip shifted sideways by s makes one diagonal d longer and the other shorter by s y/d (1), y the way across.
    """
    across = (nominal["linkage.spacing"] + nominal[plane_of(project).shell_across]) / 2
    found = []
    for ask in dict.fromkeys(one.expected.ask for one in taken if one.expected.ask.what == "diagonal"):
        pair = [one.read for one in taken if one.expected.ask == ask]
        if len(pair) == 2:
            apart, mean = pair[0] - pair[1], sum(pair) / 2
            found.append(Skew(ask, apart, float(np.sqrt(2.0)) * TAPE_DOUBT, apart * mean / (2 * across)))
    return tuple(found)
