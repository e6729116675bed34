"""The hand force over the travel as rows of text: push, pull, springs, other forces, and what it does when let go."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from loftwright.answers.judged_roof import RoofNumbers
from loftwright.answers.key_figures import far_open, how_far_open
from loftwright.answers.views import wording
from loftwright.core.errors import Bug
from loftwright.core.motion import Array, first_row
from loftwright.core.views import Grid
from loftwright.core.wording import Wording
from loftwright.mechanics.balance import Lifter, Load
from loftwright.mechanics.failing import Failure, Flight
from loftwright.mechanics.feel import STATES, state

DIRECTIONS = {1: "rises", 0: "stays", -1: "falls"}
"""What a roof does when it is let go, by the sign that `RoofNumbers.goes` holds."""

NOTABLE = 0.5
"""A force that nowhere needs more of the hand than this is left out of the table [N]. Kind: judgement."""


@dataclass(frozen=True, slots=True)
class ForcesView:
    """Everything said about the forces of one roof, as tables and sentences."""

    name: str
    subtitle: str
    grids: tuple[Grid, ...]
    let_go: tuple[tuple[str, str], ...]
    """Springs, and what the roof does when it is let go."""
    losses: tuple[str, ...]
    """What happens when something fails, in sentences."""


def stations(found: RoofNumbers, every: int) -> Array:
    """Return the shares of the travel that a table shows: one every `every` percent, closed, open, and both peaks.

    The peaks are where pushing up (cold, aged) and pulling down (hot, new) need most; an even grid would miss them.
    """
    if not 1 <= every <= 100:
        raise Bug(f"a table with a row every {every} percent")
    felt, fraction = found.felt, found.roof.travel.fraction
    peaks = [
        fraction[np.argmax(forces[0])]
        for forces in (felt.push_up[state("cold", "aged")], felt.pull_down[state("hot", "new")])
    ]
    return np.unique(np.round(np.concatenate([np.arange(0, 100, every) / 100.0, [1.0], peaks]), 9))


def adds_to_push(found: RoofNumbers, load: Load) -> Array:
    """Return what a load adds to the push at the handle when raised [N], nominal, [travel]; negative where it helps."""
    shell = found.roof.travel.shell
    return np.asarray(-first_row(load.raising.work_rate(shell)) / first_row(found.felt.drive.hand_path))


def adds_to_pull(found: RoofNumbers, load: Load) -> Array:
    """Return what a load adds to the pull at the handle when lowered [N], nominal, [travel]; negative: it helps."""
    shell = found.roof.travel.shell
    return np.asarray(first_row(load.lowering.work_rate(shell)) / first_row(found.felt.drive.hand_path))


def force_view(found: RoofNumbers, *, every: int = 10) -> ForcesView:
    """Return the forces of the nominal roof as tables, one row every `every` percent of the travel."""
    project, say = found.project, wording(found.project)
    at = stations(found, every)
    return ForcesView(
        name=project.name,
        subtitle=f"at the handle, nominal roof, in {say.hand_force_unit()[0]} as scales show it",
        grids=(
            _hand(found, say, at, found.felt.push_up, "Push needed to raise it", "negative: it rises by itself"),
            _hand(found, say, at, found.felt.pull_down, "Pull needed to lower it", "negative: it falls by itself"),
            _moved_quickly(found, say, at),
            *(_spring(found, say, at, index) for index in range(len(found.roof.fitted))),
            _others(found, say),
        ),
        let_go=tuple((_named(*which), _runs(found, say, row)) for row, which in enumerate(STATES)),
        losses=(
            *(_loss(failure, say) for failure in found.failures),
            *([_flight(found.flight, say)] if found.flight else []),
        ),
    )


def _named(heat: str, age: str) -> str:
    return f"{heat} {age}"


def _beside(found: RoofNumbers) -> str:
    """Return the heading of what stands beside the share of the travel."""
    return "slid" if found.roof.travel.slides else "angle"


def _places(found: RoofNumbers, say: Wording, at: Array) -> list[tuple[str, str]]:
    fraction = found.roof.travel.fraction
    opening = np.interp(at, fraction, how_far_open(found))
    return [(say.fraction(float(a)), far_open(found, say, float(b))) for a, b in zip(at, opening, strict=True)]


def _hand(found: RoofNumbers, say: Wording, at: Array, forces: Array, title: str, note: str) -> Grid:
    unit = say.hand_force_unit()[0]
    columns = [np.interp(at, found.roof.travel.fraction, forces[row, 0]) for row in range(len(STATES))]
    rows = tuple(
        (*place, *(_bare(say, float(column[i]), unit) for column in columns))
        for i, place in enumerate(_places(found, say, at))
    )
    heading = f"{title} ({unit})"
    note = f"{note}; springs cold, mild, hot or heated by the sun, as new or aged"
    return Grid(heading, ("open", _beside(found), *(_named(*which) for which in STATES)), rows, note)


def _moved_quickly(found: RoofNumbers, say: Wording, at: Array) -> Grid:
    unit, fraction, mild = say.hand_force_unit()[0], found.roof.travel.fraction, state("mild", "new")
    slow_up, slow_down = found.felt.push_up[mild, 0], found.felt.pull_down[mild, 0]
    columns = [
        np.interp(at, fraction, forces)
        for forces in (slow_up, found.quick.push_up[0], slow_down, found.quick.pull_down[0])
    ]
    rows = tuple(
        (*place, *(_bare(say, float(column[i]), unit) for column in columns))
        for i, place in enumerate(_places(found, say, at))
    )
    return Grid(
        f"Moved slowly and quickly ({unit})",
        ("open", _beside(found), "push slowly", "push quickly", "pull slowly", "pull quickly"),
        rows,
        "mild, new; quickly: the gas has no time to take up or give off heat; a real movement lies between",
    )


def _bare(say: Wording, newtons: float, unit: str) -> str:
    return say.force_hand(newtons).removesuffix(f" {unit}")


def _spring(found: RoofNumbers, say: Wording, at: Array, index: int) -> Grid:
    fitted, push = found.roof.fitted[index], found.felt.springs[index]
    fraction, row = found.roof.travel.fraction, state("mild", "new")
    length = np.interp(at, fraction, first_row(push.line.length))
    left = np.interp(at, fraction, first_row(found.felt.compressions[index]))
    up, down = (np.interp(at, fraction, v[row, 0]) for v in (push.raising, push.lowering))
    rows = tuple(
        (
            *place,
            say.short_length(float(length[i])),
            say.short_length(float(left[i])),
            say.force(float(up[i])),
            say.force(float(down[i])),
        )
        for i, place in enumerate(_places(found, say, at))
    )
    return Grid(
        f"One of {fitted.mount.count}: {fitted.name}",
        ("open", _beside(found), "length", "pushed in", "force going up", "force going down"),
        rows,
        "mild, new; the force along the spring, less its friction going up and with it going down",
    )


def lifter_adds(found: RoofNumbers, lifter: Lifter) -> tuple[Array, Array]:
    """Return what a lifter adds to push and pull at the handle, raised and lowered [N], nominal, [travel] each."""
    up, down = lifter.shares(found.roof.travel)
    path = first_row(found.felt.drive.hand_path)
    return np.asarray(-first_row(up) / path), np.asarray(first_row(down) / path)


def _loads(found: RoofNumbers) -> tuple[Load, ...]:
    return (*found.felt.loads, *found.felt.wet, found.felt.cloth)


def _others(found: RoofNumbers, say: Wording) -> Grid:
    unit = say.hand_force_unit()[0]
    rows = []
    named = [(one.name, adds_to_push(found, one), adds_to_pull(found, one)) for one in _loads(found)]
    named += [(one.name, *lifter_adds(found, one)) for one in found.felt.lifters]
    for name, up, down in named:
        if float(np.abs(np.concatenate([up, down])).max()) < NOTABLE:
            continue
        middle = up.size // 2
        cells = (_bare(say, float(v), unit) for v in (up[0], up[middle], up[-1], down[-1], down[middle], down[0]))
        rows.append((name, *cells))
    return Grid(
        f"What the other forces add ({unit})",
        ("force", "push closed", "half", "open", "pull open", "half", "closed"),
        tuple(rows),
        "negative: it helps; the range of each is in the project file",
    )


def _runs(found: RoofNumbers, say: Wording, row: int) -> str:
    """Return what the roof does when let go, stretch by stretch of the travel."""
    goes, fraction = found.goes[row], found.roof.travel.fraction
    starts = np.concatenate([[0], 1 + np.flatnonzero(np.diff(goes))])
    ends = np.concatenate([starts[1:], [goes.size - 1]])
    said: list[str] = []
    for start, end in zip(starts, ends, strict=True):
        upto = "open" if end == goes.size - 1 else say.fraction(float(fraction[end]))
        said.append(f"{DIRECTIONS[int(goes[start])]} up to {upto}" if said or upto != "open" else "")
    return "; ".join(said) if said != [""] else f"{DIRECTIONS[int(goes[0])]} everywhere"


def _loss(failure: Failure, say: Wording) -> str:
    run, holds = failure.release, float(failure.holds_with[0])
    what = failure.what[0].upper() + failure.what[1:]
    if bool(run.moves[0]):
        time, reached = say.time(float(run.time[0])), float(run.reached[0])
        speed = float(run.speed[0])
        end = (
            f"the lip arrives with {say.speed(speed)}" if speed > 0 else f"it comes to rest at {say.fraction(reached)}"
        )
        return f"{what}: let go, it moves for {time} and {end}; the damping inside the springs is left out."
    return f"{what}: it stays where it is, with {say.force_hand(abs(holds))} to spare at the handle."


def _flight(flight: Flight, say: Wording) -> str:
    push, speed = float(flight.push[0]), say.speed(float(flight.speed[0]))
    near = f"near closed it still needs {say.force_hand(push)}" if push >= 0 else "it flies up from closed"
    top = f"let go where that is worst, the lip meets the top stop with {speed}"
    return f"Everything removable taken off, springs hot from the sun: {near}; {top}."
