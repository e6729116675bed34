"""The joints, ready to show: what gives first in each, and a list of every hole."""

from __future__ import annotations

from typing import Final

import numpy as np

from loftwright.answers.held_joints import JointFound
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_said import answer, capital, lower, nominal, of_part
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.hold_views import HoldSection
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import MISSING, Wording
from loftwright.strength.bolts import NUT_FACTOR
from loftwright.strength.hole_schedule import HoleRow
from loftwright.strength.joints import Joint

NO_JOINTS: Final = "no bolts are in the file yet"
MOST_USE: Final = 9.99
"""Uses above this are written as this [1]."""


def joints_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the joints."""
    joints, mine = held.found.joints, of_part(checks, "joints")
    weakest = joints.weakest
    known = NO_JOINTS
    if weakest is not None:
        known = (
            f"{lower(weakest.way)} first at {weakest.name}, used to {_use(nominal(weakest.use), say)} of its limit "
            f"({weakest.load})"
        )
    return HoldSection(
        "joints",
        "Joints",
        answer(mine, "The joints hold", "Not every joint is right yet", known),
        _facts(held, say),
        tuple(_grids(held, say)),
        tuple(check_row(check, say) for check in mine),
        joints.said,
    )


def _to_spare(factor: float, say: Wording) -> Fact:
    """Return by how much [1] loads may grow, or must shrink, until the weakest joint is at its limit."""
    if factor < 1.0:
        return Fact("Loads must shrink", f"to {say.percent(round(factor, 2))}", "for that joint to hold")
    return Fact("Loads may grow", f"{say.ratio(factor)} times", "before that joint gives")


def _use(use: float, say: Wording) -> str:
    return say.percent(min(round(use, 2), MOST_USE))


def _facts(held: HeldNumbers, say: Wording) -> tuple[Fact, ...]:
    joints = held.found.joints
    weakest = joints.weakest
    found = []
    if weakest is not None:
        found += [
            Fact(
                "First to give",
                weakest.name,
                f"{lower(weakest.way)}, in {weakest.layer}" if weakest.layer else lower(weakest.way),
            ),
            Fact("Used of its limit", _use(nominal(weakest.use), say), weakest.load),
            _to_spare(nominal(weakest.load_factor), say),
        ]
    found += [
        Fact("Ring's seam, along it", say.rule_value(nominal(joints.seam_shear), "N/m"), "from one hinge or bracket"),
        Fact("Ring's seam, pulling", say.rule_value(nominal(joints.seam_pull), "N/m")),
        Fact("Bolts and rivets", str(sum(joints.bolts.values())), "in all"),
        Fact(
            "Not in the file",
            ", ".join(joints.missing) or "none",
            "joints that are not judged" if joints.missing else "",
        ),
    ]
    return tuple(found)


def _grids(held: HeldNumbers, say: Wording) -> list[Grid]:
    joints = held.found.joints
    every = sorted(joints.joints, key=lambda one: -nominal(one.use))
    return [
        Grid(
            "What gives first in each joint",
            ("Joint", "Bolts", "Used", "Pull", "Sideways", "Gives first", "Under"),
            tuple(_joint(one, say) for one in every),
            "Under the load that is worst for it, on one group of bolts; factors of safety are in what is used only. "
            "A sideways push that acts off the plate's face pulls at its bolts too.",
        ),
        Grid(
            "To buy",
            ("What", "Count"),
            tuple((name, str(count)) for name, count in joints.bolts.items()),
            "Nuts, washers and spares come on top. A bolt is as long as all that it goes through, packer, plates and "
            "washers too, and its nut with two threads past it; a rivet goes by the sheets that it clamps.",
        ),
    ]


def _joint(one: JointFound, say: Wording) -> tuple[str, ...]:
    worst = int(np.argmax(one.uses[:, 0]))
    x, y, z = (float(v) for v in one.force[worst, 0])
    bolts = f"{one.groups} x {one.joint.count} {one.joint.bolt.name}"
    gives = f"{lower(one.way)} ({one.layer})" if one.layer else lower(one.way)
    pull = say.force(max(z, 0.0))
    return (
        capital(one.name),
        bolts,
        _use(nominal(one.use), say),
        pull,
        say.force(float(np.hypot(x, y))),
        gives,
        one.load,
    )


def hole_schedule(held: HeldNumbers, say: Wording) -> Grid:
    """Return every hole, like ones of one joint in one line."""
    joints = held.found.joints
    rows = []
    for one in joints.joints:
        for alike in _alike(one.holes):
            rows.append(_line(alike, one.groups, _washer(one.joint, say), say))
    rows += [
        _line(alike, 1, "washers" if held.project.ring.fixing == "bolts" else "rivet", say)
        for alike in _alike(joints.seam_holes)
    ]
    sealings = dict.fromkeys(hole.sealant for hole in joints.holes)
    primers = dict.fromkeys(one for hole in joints.holes for one in hole.primer.split("; ") if ": " in one)
    return Grid(
        "Every hole",
        ("Where", "Count", "First", "Drill", "To edge", "Bolt or rivet", "Torque", "Under it"),
        tuple(rows),
        "First drill, then the finished hole. To the edge: what there is, then the least there must be. "
        f"Tighten crosswise. Torque by T = K F d with K = {NUT_FACTOR:g} for dry threads. "
        f"Bare edges: {'; '.join(primers)}. Sealing: {'; '.join(sealings)}.",
    )


def _alike(holes: tuple[HoleRow, ...]) -> list[list[HoleRow]]:
    """Return holes that are made alike, together."""
    found: dict[tuple[object, ...], list[HoleRow]] = {}
    for hole in holes:
        found.setdefault((hole.fastener, hole.hole, hole.edge, hole.torque, hole.primer), []).append(hole)
    return list(found.values())


def _line(alike: list[HoleRow], groups: int, behind: str, say: Wording) -> tuple[str, ...]:
    hole = alike[0]
    return (
        capital(hole.joint),
        str(groups * len(alike)),
        say.drill(hole.pilot),
        say.drill(hole.hole),
        f"{say.short_length(hole.edge)}, {say.short_length(hole.edge_least)}",
        hole.fastener,
        MISSING if hole.torque is None else say.moment(hole.torque),
        behind,
    )


def _washer(joint: Joint, say: Wording) -> str:
    """Return what lies under head and nut."""
    head, nut = (say.short_length(nominal(v)) for v in joint.under)
    if joint.backing is None:
        return f"washers {head}, {nut}"
    plate = joint.backing
    every = [say.short_length(nominal(v)) for v in (plate.width, plate.length, plate.thickness)]
    sizes = " x ".join([*(text.rpartition(" ")[0] for text in every[:-1]), every[-1]])
    return f"washer {head}, plate {sizes}"
