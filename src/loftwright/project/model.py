"""What the builder decided and what is known of it: one frozen model, named as the project file names it.

All points are given for the closed roof: x to the cab, z up, from the middle of the rear edge of the
opening at roof height.
"""

from __future__ import annotations

from functools import cache
from typing import Annotated

from loftwright.core.errors import Bug
from loftwright.core.uncertain import Uncertain
from loftwright.project.body_sections import Body, Bow
from loftwright.project.brace_section import Brace
from loftwright.project.choice_sections import AtHand, Choice, HandReading, Tape, Zone
from loftwright.project.demand_sections import Forces, Requirements, Temperatures
from loftwright.project.fit_sections import Candidate, Fit, RimPoint, RoofPoint
from loftwright.project.hold_sections import HingeParts, Wind
from loftwright.project.joint_sections import Joint, Safety
from loftwright.project.keys import Count, Key, Most, Section, Spot, Words, members, walk_section
from loftwright.project.lifter_sections import Coil, Cord, Torsion
from loftwright.project.link_sections import Links
from loftwright.project.linkage_section import Linkage
from loftwright.project.motion_sections import Handle, Spring, Stop
from loftwright.project.opening_sections import Cut, Ring
from loftwright.project.plan_sections import Bought, Plan, Todo
from loftwright.project.riding_sections import Lift, Lining, Panel, SealStrip, Standing
from loftwright.project.road_sections import Latches, Road
from loftwright.project.sewing_sections import Layer, Sewing, Window
from loftwright.project.shell_sections import Item, Shell, Weighing
from loftwright.project.stow_sections import Stow, Warmth, Water
from loftwright.project.van_sections import Bed, Opening, Person, Roof, Settings, Van
from loftwright.project.wall_sections import LowerPoint, SeamAt, UpperPoint, Walls

FORMAT = 1
"""The version of the project file that this version writes and reads."""


class Project(Section):
    """The whole project file."""

    format: Annotated[int, Count("version of the file's form", 1, FORMAT)]
    name: Annotated[str, Words("what you call the project")]
    settings: Settings
    person: Person
    van: Van
    roof: Roof
    opening: Opening
    bed: Bed | None = None
    shell: Shell
    weighing: Weighing | None = None
    item: Annotated[tuple[Item, ...], Most(40)] = ()
    linkage: Linkage
    stop: Stop
    handle: Handle
    spring: Annotated[tuple[Spring, ...], Most(6)] = ()
    coil: Annotated[tuple[Coil, ...], Most(4)] = ()
    torsion: Annotated[tuple[Torsion, ...], Most(4)] = ()
    cord: Annotated[tuple[Cord, ...], Most(4)] = ()
    links: Links | None = None
    temperatures: Temperatures
    forces: Forces
    requirements: Requirements
    choice: Choice
    zone: Annotated[tuple[Zone, ...], Most(12)] = ()
    at_hand: Annotated[tuple[AtHand, ...], Most(20)] = ()
    reading: Annotated[tuple[HandReading, ...], Most(60)] = ()
    tape: Annotated[tuple[Tape, ...], Most(40)] = ()
    fit: Fit
    roof_point: Annotated[tuple[RoofPoint, ...], Most(40)] = ()
    rim_point: Annotated[tuple[RimPoint, ...], Most(40)] = ()
    candidate: Annotated[tuple[Candidate, ...], Most(6)] = ()
    wind: Wind
    hinges: HingeParts
    brace: Brace | None = None
    latches: Latches
    road: Road
    body: Body
    bow: Annotated[tuple[Bow, ...], Most(12)] = ()
    cut: Cut
    ring: Ring
    joint: Annotated[tuple[Joint, ...], Most(20)] = ()
    safety: Safety
    walls: Walls
    lower_point: Annotated[tuple[LowerPoint, ...], Most(60)] = ()
    upper_point: Annotated[tuple[UpperPoint, ...], Most(60)] = ()
    seam: Annotated[tuple[SeamAt, ...], Most(12)] = ()
    layer: Annotated[tuple[Layer, ...], Most(6)] = ()
    window: Annotated[tuple[Window, ...], Most(8)] = ()
    sewing: Sewing
    water: Water
    warmth: Warmth
    stow: Stow
    seal: SealStrip
    standing: Standing
    panel: Panel | None = None
    lift: Lift | None = None
    lining: Lining | None = None
    plan: Plan
    bought: Annotated[tuple[Bought, ...], Most(120)] = ()
    todo: Annotated[tuple[Todo, ...], Most(120)] = ()
    taken: tuple[str, ...] = ()
    """Sentences: what was taken where a choice is unknown. Never a key of the file."""


def walk(project: Project) -> dict[str, Uncertain]:
    """Return every quantity of the project under its path in the file: "shell.mass", "spring.0.foot.x"."""
    return dict(walk_section(project))


@cache
def key_of(path: str) -> Key:
    """Return what is allowed and meant at a path as `walk` writes it."""
    section: type[Section] | None = Project
    spot: Spot | None = None
    for step in path.split("."):
        if step.isdecimal():
            continue
        if spot is not None and step in ("x", "z"):
            return spot.x if step == "x" else spot.z
        member = next((m for m in members(section) if m.key == step), None) if section else None
        if member is None:
            break
        if isinstance(member.about, Key):
            return member.about
        spot = member.about if isinstance(member.about, Spot) else None
        section = member.table
    raise Bug(f"no quantity of the project is called {path}")
