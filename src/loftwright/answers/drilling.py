"""Where to drill: every hole that a spring's end may sit in, part by part, on lines that a builder can find."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from loftwright.core.book_views import DrillMark, DrillPlan, RefLine
from loftwright.core.choice_views import HoleRow
from loftwright.core.choices import Units
from loftwright.core.views import Fact
from loftwright.core.wording import Wording
from loftwright.project.lifter_sections import Coil, Cord
from loftwright.project.model import Project

NEAR_MM = 120.0
"""An edge that is no further from the holes than this is drawn itself; else a line at a round distance from it [mm]."""
CLEAR_MM = 11.0
"""A line keeps at least this far from every hole [mm]."""
PIVOT_NEAR_MM = 60.0
"""Pivots so near to the holes are drawn as well, to check by [mm]."""
APART = 0.15
"""Holes further apart than this get sheets of their own [m]."""
_ROUND_MM: dict[Units, float] = {"metric": 50.0, "imperial": 50.8}
_BODY_WORDS = {"van": "on the van", "shell": "on the shell", "arm a": "on arm a", "arm b": "on arm b"}


@dataclass(frozen=True, slots=True)
class Spot:
    """A hole in one part of the closed roof [m]."""

    name: str
    on: str
    x: float
    z: float
    start: bool = False


def spots_of(project: Project, row: HoleRow | None, on: tuple[str, str]) -> tuple[Spot, ...]:
    """Return every hole to drill: those of feet and heads, which are `on` these parts, else the springs' own ends."""
    if row is not None:
        found = []
        for holes, part, end in ((row.feet, on[0], "foot hole"), (row.heads, on[1], "head hole")):
            for h in holes:
                name = f"{end if row.both else 'hole'} {h.name}" if h is not row.fixed else "fixed end"
                found.append(Spot(name, part, h.x_mm / 1000, h.z_mm / 1000, h.start and len(holes) > 1))
        # The row before the end that stays.
        return tuple(sorted(found, key=lambda spot: spot.name == "fixed end"))
    several = len(project.spring) > 1
    made = []
    for i, spring in enumerate(project.spring):
        letter = f" {chr(ord('A') + i)}" if several else ""
        made.append(Spot(f"foot{letter}", spring.foot_on, spring.foot.x.nominal, spring.foot.z.nominal))
        made.append(Spot(f"head{letter}", spring.head_on, spring.head.x.nominal, spring.head.z.nominal))
    return tuple(made)


def lifter_spots(project: Project) -> tuple[Spot, ...]:
    """Return both ends of every coil spring and cord, which stay where the file has them whatever is chosen."""
    found = []
    named = [(f"coil {i + 1}", one) for i, one in enumerate(project.coil)]
    every: list[tuple[str, Coil | Cord]] = [*named, *((f"cord {i + 1}", one) for i, one in enumerate(project.cord))]
    for name, one in every:
        found.append(Spot(f"{name} foot", one.foot_on, one.foot.x.nominal, one.foot.z.nominal))
        found.append(Spot(f"{name} head", one.head_on, one.head.x.nominal, one.head.z.nominal))
    return tuple(found)


def drill_plans(
    project: Project, spots: tuple[Spot, ...], pivots: tuple[Spot, ...], say: Wording
) -> tuple[DrillPlan, ...]:
    """Return one plan for each part and place that is drilled: holes of springs, then the pins of hinges or arms.

    `pivots` are hinge or arm pins, closed; what slides is not drilled.
    """
    plans = []
    for body in dict.fromkeys(spot.on for spot in spots):
        groups = _together([spot for spot in spots if spot.on == body])
        for mine in groups:
            title = f"Spring holes {_BODY_WORDS[body]}"
            if len(groups) > 1:
                title += f": {mine[0].name}" + (f" to {mine[-1].name}" if len(mine) > 1 else "")
            if body in ("arm a", "arm b"):
                plans.append(_on_arm(title, body, mine, pivots, say))
            else:
                plans.append(_on_roof(title, project, body, mine, pivots, say))
    for body in ("van", "shell"):
        # A hinge has its axis on both.
        pins = [replace(p, on=body) for p in pivots if p.on == body or p.name == "hinge"]
        for mine in _together(pins):
            named = " and ".join(p.name for p in mine)
            plans.append(_on_roof(f"Pins {_BODY_WORDS[body]}: {named}", project, body, mine, (), say))
    return tuple(plans)


def _together(spots: list[Spot]) -> list[tuple[Spot, ...]]:
    """Return holes in groups that fit on one sheet: those of a row stay together, others part where they lie apart."""
    groups: list[list[Spot]] = []
    for spot in sorted(spots, key=lambda s: s.x):
        last = groups[-1] if groups else []
        if last and spot.x - last[-1].x < APART and all(abs(spot.z - s.z) < APART for s in last):
            last.append(spot)
        else:
            groups.append([spot])
    order = {spot: i for i, spot in enumerate(spots)}
    return [tuple(sorted(group, key=lambda s: order[s])) for group in groups]


def _mm(spots: tuple[Spot, ...]) -> tuple[DrillMark, ...]:
    return tuple(DrillMark(s.name, 1000 * s.x, 1000 * s.z, s.start) for s in spots)


def _on_roof(
    title: str, project: Project, body: str, mine: tuple[Spot, ...], pivots: tuple[Spot, ...], say: Wording
) -> DrillPlan:
    """Return the plan of van or shell: from the opening's edge at roof height, or from the shell's rear rim."""
    grid = _ROUND_MM[say.units]
    if body == "van":
        origin, base = 0.0, 0.0
        edge, level = "rear edge of the opening", "roof height: the outer skin at the rear edge, in the middle"
        far, far_words = 1000 * project.opening.length.nominal, "front edge of the opening"
    else:
        origin = -1000 * project.shell.overhang_rear.nominal
        base = 1000 * project.shell.rim_height.nominal
        edge, level = "rear end of the shell's rim", "lower edge of the shell's rim"
        far, far_words = origin + 1000 * project.shell.length.nominal, "front end of the shell's rim"
    xs = [1000 * s.x for s in mine]
    middle = (min(xs) + max(xs)) / 2
    # From the nearer of the two ends; a far one by a line at a round distance that the tape finds.
    near, words, sense = (origin, edge, 1.0) if abs(middle - origin) <= abs(middle - far) else (far, far_words, -1.0)
    upright = _upright(xs, near, sense, f"the {words}", say)
    zs = [1000 * s.z for s in mine]
    high = base
    level_words = level
    if min(abs(z - base) for z in zs) > NEAR_MM / 2:
        down = grid * math.floor(min(abs(z - base) for z in zs) / grid)
        sign = -1.0 if max(zs) < base else 1.0
        high = base + sign * down
        level_words = f"{say.short_length(down / 1000)} {'below' if sign < 0 else 'above'} {level}"
    span_low, span_high = min(*xs, upright.at_mm), max(*xs, upright.at_mm)
    held = tuple(
        DrillMark(p.name, 1000 * p.x, 1000 * p.z, False, True)
        for p in pivots
        if p.on == body
        and span_low - PIVOT_NEAR_MM <= 1000 * p.x <= span_high + PIVOT_NEAR_MM
        and abs(1000 * p.z - high) < 3 * PIVOT_NEAR_MM
    )
    checks = tuple(
        Fact(f"{p.name} to {s.name}", say.short_length(math.hypot(p.x - s.x, p.z - s.z)))
        for p in pivots[:1]
        for s in mine
        if p.on == body or body == "van"
    )
    counted = "Along from the opening's rear edge, up from roof height, closed."
    return DrillPlan(title, (*_mm(mine), *held), (upright, RefLine("level", high, level_words)), checks, counted)


def _upright(xs: list[float], near: float, sense: float, words: str, say: Wording) -> RefLine:
    """Return the upright line that holes at `xs` [mm] hang on: `near` itself, or a round distance away from it.

    The line lies where it makes the sheet no wider than it must be, and keeps clear of the holes.
    """
    low, high = min(xs), max(xs)
    if max(abs(low - near), abs(high - near)) <= NEAR_MM + (high - low):
        return RefLine("upright", near, words.removeprefix("the "))
    grid = _ROUND_MM[say.units]
    first = math.floor(min(sense * (low - near), sense * (high - near)) / grid)
    tries = [k * grid for k in range(max(first - 2, 1), first + math.ceil((high - low) / grid) + 4)]

    if not tries:
        # Beyond the end that is measured from: nothing round lies nearer.
        return RefLine("upright", near, words.removeprefix("the "))

    def cost(away: float) -> tuple[bool, float]:
        at = near + sense * away
        return min(abs(at - x) for x in xs) < CLEAR_MM, round(max(low - at, at - high, 0.0), 3)

    away = min(tries, key=cost)
    return RefLine("upright", near + sense * away, f"{say.short_length(away / 1000)} from {words}")


def _on_arm(title: str, body: str, mine: tuple[Spot, ...], pivots: tuple[Spot, ...], say: Wording) -> DrillPlan:
    """Return the plan of an arm, laid level: along it from its pin on the van, up square to it."""
    van, shell = sorted((p for p in pivots if p.name.startswith(body)), key=lambda p: p.on != "van")[:2]
    length = math.hypot(shell.x - van.x, shell.z - van.z)
    ux, uz = (shell.x - van.x) / length, (shell.z - van.z) / length
    # Kept as it is seen, with the cab's side to the right.
    turn = 1.0 if ux >= 0 else -1.0

    def along(s: Spot) -> tuple[float, float]:
        dx, dz = s.x - van.x, s.z - van.z
        return 1000 * turn * (dx * ux + dz * uz), 1000 * turn * (dz * ux - dx * uz)

    marks = tuple(DrillMark(s.name, *along(s), s.start) for s in mine)
    xs = [m.x_mm for m in marks]
    sense = 1.0 if sum(xs) >= 0 else -1.0
    lines = (
        _upright(xs, 0.0, sense, "the middle of the arm's pin on the van", say),
        RefLine("level", 0.0, "line through the arm's two pins"),
    )
    held = (DrillMark("pin on the van", 0.0, 0.0, False, True),) if lines[0].at_mm == 0 else ()
    checks = tuple(
        Fact(f"pin on the van to {s.name}", say.short_length(math.hypot(s.x - van.x, s.z - van.z))) for s in mine
    )
    words = "Along the arm from its pin on the van, up square to it; the arm lies level."
    return DrillPlan(title, (*marks, *held), lines, checks, words)
