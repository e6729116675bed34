"""May the roof be cut, and does the ring round the opening do enough: the hole, the ring, and what must hold first.

None of it is a crash or roll-over assessment; a local inspector or engineer decides what may be cut.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from loftwright.answers.held_basis import Basis
from loftwright.answers.held_cut import CutFound, cut_found
from loftwright.answers.held_ring import RingFound, ring_found
from loftwright.core.choices import Lookup
from loftwright.core.judged import Judged
from loftwright.core.motion import Array
from loftwright.core.uncertain import Provenance, Uncertain
from loftwright.project.assemble_opening import every_bow, ring_parts
from loftwright.project.model import Project
from loftwright.strength.cutout_rules import BODY_TWIST, CORNER_RADIUS, RING_STIFFENS, SAW_MEETS
from loftwright.strength.ring_rules import BENDS_FOR_GOOD, DIPS, NOTHING_TO_PUSH_ON

if TYPE_CHECKING:
    from loftwright.answers.held_road import RoadFound
    from loftwright.answers.held_wind import WindFound

State = Literal["measured", "decided", "only assumed", "not looked"]
"""How something came to be known that must hold before a saw is switched on."""

ORDER: Final[tuple[State, ...]] = ("not looked", "only assumed", "measured", "decided")
"""From the least known to the best."""


@dataclass(frozen=True, slots=True)
class MustHold:
    """One thing that must hold before the roof is cut: `what`, its `state`, keys of the file, and rules that say so.

    `rules` are pairs of a rule's id and its part, "" for all parts; whoever shows the list adds their verdicts.
    """

    what: str
    state: State
    keys: tuple[str, ...]
    rules: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class OpeningFound:
    """The hole in the roof and the ring round it.

    `ring_mass` of the ring's bars and `cut_mass` of the skin and bows sawn out [kg], each [rows]; `must_hold`: the part
    of the go or no-go list that concerns the body.
    """

    judged: tuple[Judged, ...]
    said: tuple[str, ...]
    cut: CutFound
    ring: RingFound
    ring_mass: Array
    cut_mass: Array
    must_hold: tuple[MustHold, ...]


def opened(base: Basis, wind: WindFound, road: RoadFound) -> OpeningFound:
    """Return what the hole does to the roof and the ring for it; `wind` and `road` pull at hinges and latches."""
    bows, parts = every_bow(base.project, base.at, base.rows), ring_parts(base.project, base.at)
    cut = cut_found(base, bows, parts)
    ring = ring_found(base, bows, parts, cut, wind, road)
    return OpeningFound(
        (*cut.judged, *ring.judged),
        (*cut.said, *ring.said),
        cut,
        ring,
        ring.mass,
        cut.mass,
        must_hold(base.project, on_plates=any(one.rule is NOTHING_TO_PUSH_ON for one in ring.judged)),
    )


def state_of(*values: Uncertain | None) -> State:
    """Return how surely some values of the file are known: as the least sure of them."""
    found: list[State] = []
    for value in values:
        if value is None:
            found.append("not looked")
        elif value.is_open:
            found.append("only assumed")
        elif value.provenance in (Provenance.MEASURED, Provenance.LABEL):
            found.append("measured")
        else:
            found.append("decided")
    return min(found, key=ORDER.index) if found else "not looked"


def _looked(seen: Lookup) -> State:
    return "not looked" if seen == "not looked yet" else "measured"


def must_hold(project: Project, *, on_plates: bool = True) -> tuple[MustHold, ...]:
    """Return what must hold before the roof is cut, of what concerns the body, the least known first.

    `on_plates`: whether hinges or arms push on plates in the ring, whose ways to the bows are judged.
    """
    body, cut, ring, bows = project.body, project.cut, project.ring, project.bow
    saw, planned = SAW_MEETS.id, state_of(ring.upright, ring.flat, ring.wall)
    found = [
        MustHold(
            "No air bag or gas canister lies on the cut line",
            _looked(cut.air_bags),
            ("cut.air_bags",),
            ((saw, "air bags"),),
        ),
        MustHold(
            "No cable or pipe lies on the cut line", _looked(cut.cables), ("cut.cables",), ((saw, "cables and pipes"),)
        ),
        MustHold(
            "No belt anchor, speaker or lining lies on the cut line",
            _looked(cut.lining),
            ("cut.lining",),
            ((saw, "linings, belt anchors, speakers"),),
        ),
        MustHold(
            "The door's diagonals are measured, level and with one wheel on a kerb",
            state_of(cut.door_before),
            ("cut.door_before",),
            ((BODY_TWIST.id, ""),),
        ),
        MustHold(
            "Roof and opening are measured",
            state_of(body.roof_length, body.roof_width, body.rear_edge),
            ("body.roof_length", "body.roof_width", "body.rear_edge"),
        ),
        MustHold(
            "The roof's bows are found and drawn in",
            state_of(*(bow.at for bow in bows)),
            tuple(f"bow.{i}.at" for i in range(len(bows))),
        ),
        MustHold("The skin's thickness is known", state_of(body.skin), ("body.skin",)),
        MustHold(
            "The corners of the cut are round",
            state_of(cut.corner_radius),
            ("cut.corner_radius",),
            ((CORNER_RADIUS.id, ""),),
        ),
        MustHold(
            "The ring is there, cut and fitted dry, before the saw comes out",
            # Sizes of a bar tell what is planned, and not that it lies there.
            "decided" if planned == "measured" else planned,
            ("ring.upright", "ring.flat", "ring.wall"),
            ((DIPS.id, ""), (BENDS_FOR_GOOD.id, ""), (RING_STIFFENS.id, "")),
        ),
    ]
    if on_plates:
        # Doubt of channel and bows is in the verdict.
        found.append(
            MustHold(
                "Each hinge has a way to the roof's bows",
                "decided" if bows else "not looked",
                ("ring.channel",),
                ((NOTHING_TO_PUSH_ON.id, ""),),
            )
        )
    return tuple(sorted(found, key=lambda one: ORDER.index(one.state)))
