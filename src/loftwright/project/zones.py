"""Where brackets of springs may sit: the zones of the file, or a band round the ends of its springs."""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.core.lifting import Pair, Zone
from loftwright.core.units import Dimension
from loftwright.project.choice_sections import Zone as Written
from loftwright.project.model import Project
from loftwright.project.points import Point
from loftwright.project.possible_choice import FEET, HEADS
from loftwright.project.possible_springs import ends
from loftwright.project.reading import say

ALONG, UP = 0.10, 0.03
"""How far a bracket may move along and up from where the file puts it, when no zone is written [m]: judgement."""


@dataclass(frozen=True, slots=True)
class Places:
    """Zones for feet and for heads, every pair of them that springs may join, and sentences on what was taken."""

    feet: tuple[Zone, ...]
    heads: tuple[Zone, ...]
    pairs: tuple[Pair, ...]
    said: tuple[str, ...]


def zones_of(project: Project) -> Places:
    """Return where springs may be mounted; zones [m] lie at the nominal places.

    Every zone for feet goes with every zone for heads on another part, once for each number of springs a side up to
    what `[choice]` allows; a zone on an arm serves for both. Without zones, each spring of the file may move by
    `ALONG` and `UP` from where it is, on the same parts.
    """
    if not project.zone:
        return _round_the_springs(project)
    zones = [_zone(zone) for zone in project.zone]
    feet = tuple(zone for zone in zones if zone.on in FEET)
    heads = tuple(zone for zone in zones if zone.on in HEADS)
    joined = [(foot, head) for foot in feet for head in heads if foot.on != head.on]
    return Places(feet, heads, _pairs(project, joined), ())


def _pairs(project: Project, joined: list[tuple[Zone, Zone]]) -> tuple[Pair, ...]:
    counts = range(1, project.choice.per_side_most + 1)
    return tuple(Pair(foot, head, count) for foot, head in joined for count in counts)


def _zone(zone: Written) -> Zone:
    x = sorted((zone.from_.x.nominal, zone.to.x.nominal))
    z = sorted((zone.from_.z.nominal, zone.to.z.nominal))
    return Zone(zone.name, zone.on, x[0], x[1], z[0], z[1], zone.place.nominal)


def _round_the_springs(project: Project) -> Places:
    rear, front = ends(project)

    def band(name: str, on: str, at: Point, place: float) -> Zone:
        x, z = at.x.nominal, at.z.nominal
        # Not beyond the shell's ends, unless the bracket itself sits there.
        low, high = min(max(x - ALONG, rear), x), max(min(x + ALONG, front), x)
        return Zone(name, on, low, high, z - UP, z + UP, place)

    joined = []
    for spring in project.spring:
        place = spring.place.nominal
        foot = band(f"round the foot of {spring.name}", spring.foot_on, spring.foot, place)
        head = band(f"round the head of {spring.name}", spring.head_on, spring.head, place + spring.sideways.nominal)
        joined.append((foot, head))
    feet, heads = tuple(foot for foot, _ in joined), tuple(head for _, head in joined)
    along, up = (say(value, Dimension.LENGTH, project.settings.units) for value in (ALONG, UP))
    said = (
        f"No [[zone]] is written: brackets may move {along} along and {up} up or down from where the springs of the "
        "file sit, not beyond the ends of the shell."
        if joined
        else "No [[zone]] and no [[spring]] is written: it is not said where brackets may sit."
    )
    return Places(feet, heads, _pairs(project, joined), (said,))
