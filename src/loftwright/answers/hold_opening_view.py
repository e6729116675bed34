"""The hole in the roof and the ring round it, ready to show: figures, cut plan, corner templates, pieces, sections."""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.hold_cut_view import bar_words
from loftwright.answers.hold_said import answer, nominal, of_part, percent, share
from loftwright.answers.views import check_row
from loftwright.core.checks import Check
from loftwright.core.hold_views import HoldSection
from loftwright.core.views import Fact, Grid
from loftwright.core.wording import Wording
from loftwright.strength.racking import Racking

EDGES: Final = ("edges free to stretch", "edges that keep their length")
"""The two edge conditions in few words, in the order of `CutFound.racking`; a real body lies between."""
MOST_TILT: Final = math.radians(20.0)
"""Tilts beyond this [rad] are not written: the ring has given way long before."""


def opening_section(held: HeldNumbers, checks: tuple[Check, ...], say: Wording) -> HoldSection:
    """Return what is said about the hole and its ring."""
    opening, mine = held.found.opening, of_part(checks, "opening")
    cut = opening.cut
    kept = _range([one.kept_cut for one in cut.racking], say)
    back = _range([one.kept_ring for one in cut.racking], say)
    known = f"the hole leaves {kept} of the stiffness that keeps the roof skin square, the ring makes it {back}"
    if any(check.rule.id == "RING-1001" and check.value is not None for check in mine):
        gap, dip = (say.short_length(nominal(one)) for one in (opening.ring.gap, opening.ring.dip))
        known += f"; the ring moves {dip} at most, and parts {gap} from the closed shell"
    return HoldSection(
        "opening",
        "The hole and its ring",
        answer(mine, "The ring does enough", "Do not cut yet", known),
        _facts(held, kept, back, say),
        tuple(_grids(held, say)),
        tuple(check_row(check, say) for check in mine),
        (*opening.said, *cut.torsion.reasons),
    )


def _times(both: tuple[Racking, Racking]) -> str:
    """Return by how much the ring stiffens the cut roof."""
    ends = sorted(nominal(one.kept_ring) / nominal(one.kept_cut) for one in both)
    low, high = (f"{v:.1f}" for v in ends)
    return f"{low} times" if low == high else f"{low} to {high} times"


def _range(values: list[np.ndarray], say: Wording) -> str:
    ends = sorted(nominal(v) for v in values)
    return share(ends[0], ends[-1], say)


def _facts(held: HeldNumbers, kept: str, back: str, say: Wording) -> tuple[Fact, ...]:
    opening = held.found.opening
    cut, ring = opening.cut, opening.ring
    return (
        Fact(
            "Hole",
            f"{say.length(cut.plan.length)} x {say.length(cut.plan.width)}",
            f"corners {_radius(cut.plan.radius, say)}",
        ),
        Fact("Keeps the roof square, cut", kept, "of the whole skin's stiffness, for two ways its edge may be held"),
        Fact("Keeps the roof square, with the ring", back, f"{_times(cut.racking)} as stiff as without it"),
        Fact("Stiffness against twist kept", _twist(held, say), "a range: only the tape across the door settles it"),
        Fact("The ring moves", say.short_length(nominal(ring.dip)), "at most, in the worst of its loads"),
        Fact("It parts from the closed shell", say.short_length(nominal(ring.gap)), "at most; the seal must follow"),
        Fact("Stress in the ring", say.rule_value(nominal(ring.stress), "Pa")),
        Fact("Sawn out", say.mass(nominal(opening.cut_mass)), "skin and bows"),
        Fact("Ring", say.mass(nominal(opening.ring_mass)), bar_words(ring.bar, say)),
    )


def _radius(radius: float | None, say: Wording) -> str:
    return "not decided yet" if radius is None else f"of radius {say.short_length(radius)}"


def _twist(held: HeldNumbers, say: Wording) -> str:
    torsion = held.found.opening.cut.torsion
    return share(nominal(torsion.kept_ring_low), nominal(torsion.kept_ring_high), say)


def _grids(held: HeldNumbers, say: Wording) -> list[Grid]:
    opening = held.found.opening
    cut, ring = opening.cut, opening.ring
    torsion = cut.torsion
    grids = [
        Grid(
            "What keeps the roof square, of the whole skin's stiffness",
            ("Outer edge", "Cut", "With ring", "Given back"),
            tuple(_racking(words, one, say) for words, one in zip(EDGES, cut.racking, strict=True)),
            f"The edge decides more than anything else, and a body lies between these two. A rigid frame would make "
            f"one believe {percent(cut.rigid_frame_kept, say)} are left: that is not so.",
        ),
        Grid(
            "Stiffness of the body against twist kept",
            ("", "Least", "Most"),
            (
                ("Cut", *_ends(torsion.kept_cut_low, torsion.kept_cut_high, say)),
                ("With the ring", *_ends(torsion.kept_ring_low, torsion.kept_ring_high, say)),
                *(
                    (f"By the tape, {when}", *_ends(kept, kept, say))
                    for when, kept in (("cut", cut.tape_cut), ("with the ring", cut.tape_ring))
                    if kept is not None
                ),
            ),
            "A range, and the reasons for it stand below; the diagonals of a door before, after the cut and with the "
            "ring settle it.",
        ),
    ]
    if held.project.bow:
        grids.append(
            Grid(
                "Loads on the ring",
                ("Load", "Dips", "Side sags", "Stress", "Plates tilt"),
                tuple(
                    (
                        case[:1].upper() + case[1:],
                        say.short_length(float(one[0])),
                        say.short_length(float(one[1])),
                        say.rule_value(float(one[2]), "Pa"),
                        _tilt(float(one[3]), say),
                    )
                    for case, one in zip(ring.loads.cases, ring.by_case, strict=True)
                ),
            )
        )
    if ring.ways:
        grids.append(
            Grid(
                "From the hinges to the bows",
                ("Plates", "Lift", "Turning", "Bows reached", "Left over"),
                tuple(
                    (
                        way.name,
                        say.force(nominal(way.lift)),
                        say.moment(nominal(way.turning)),
                        str(way.path.count),
                        say.moment(nominal(way.path.left_over)),
                    )
                    for way in ring.ways
                ),
                "One plate, where it pushes hardest; up is positive. What is left over bends skin and ring.",
            )
        )
    return grids


def _tilt(angle: float, say: Wording) -> str:
    """Return how far plates tilt; far beyond what the sums are good for, only that it is more."""
    return f"over {say.angle(MOST_TILT)}" if abs(angle) > MOST_TILT else say.angle(angle)


def _racking(words: str, one: Racking, say: Wording) -> tuple[str, str, str, str]:
    shares = (nominal(one.kept_cut), nominal(one.kept_ring), nominal(one.given_back))
    kept_cut, kept_ring, back = (percent(v, say) for v in shares)
    return words, kept_cut, kept_ring, back


def _ends(low: np.ndarray, high: np.ndarray, say: Wording) -> tuple[str, str]:
    return percent(nominal(low), say), percent(nominal(high), say)
