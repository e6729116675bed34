"""Another way of moving for a roof: what its file needs for it, proposed as for a new roof, and what must go.

Nothing is judged here beyond that the file reads and the roof can be put together; all of it is meant to be changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from loftwright.answers.draws import Nominal
from loftwright.answers.judged_roof import STATIONS, assembled, inputs_of
from loftwright.answers.ways import WAYS, Way, way_of
from loftwright.core.choices import SIDES, Edge, LinkageKind
from loftwright.core.errors import Fault, LoftwrightError, ProjectFault
from loftwright.core.quantity_text import format_quantity, on_tape
from loftwright.core.uncertain import Provenance, exact
from loftwright.core.units import Dimension
from loftwright.project.file import edited, loads
from loftwright.project.linkage_section import PIVOTS
from loftwright.project.model import Project
from loftwright.project.newfile import ARMED, CROSSING, HINGED, LOW_GRIP, RISING, SPACING, Layout, Pair
from loftwright.project.plane import CROSSWISE, LENGTHWISE, plane_of, size
from loftwright.project.possible_linkage import ALL_POINTS, OF_GUIDES
from loftwright.project.rewriting import without
from loftwright.project.written import Written, written

Change = dict[str, str | None]
"""What is to stand at paths of the file; None takes a value or a point out."""


RISE: Final = "0.4 m, suggested"
"""How far a roof in guides is proposed to slide. Kind: judgement, from a lying place to a seat."""
HELD: Final = "0.3 m, suggested"
"""How much of a post a shoe is proposed to hold. Kind: judgement."""
SHOES: Final = -0.2
"""How high the middle of a shoe is proposed to sit [m]. Kind: judgement, below the roof's frame."""
SHOES_IN: Final = 0.1
"""How far from the ends of the shell shoes are proposed, as a share of its length. Kind: judgement."""
AXIS_IN, AXIS_UP = 0.005, 0.035
"""How far within the shell's end and above the roof a hinge axis is proposed [m], as in a new file."""
LIP_UP: Final = 0.01
"""How high the handle is proposed on the lip of a roof that moves across the van [m]."""
BESIDE: Final = 0.05
"""How far one spring is proposed beside another [m]: room for a bracket."""

_LAYOUTS: Final[dict[LinkageKind, Layout]] = {"four-bar": ARMED, "parallel arms": RISING, "scissor": CROSSING}


@dataclass(frozen=True, slots=True)
class OtherMotion:
    """What another way of moving changes in a file: values, the lists taken out whole, and what is said of it."""

    what: str
    changes: Change
    gone: tuple[str, ...]
    said: tuple[str, ...]

    def text(self, text: str) -> str:
        """Return the text of the file with all of it done. Errors: ProjectFault."""
        for path in self.gone:
            text = without(text, path)
        return edited(text, self.changes)


def other_motion(project: Project, text: str, wanted: str) -> OtherMotion:
    """Return what another way of moving changes in the file whose text is given.

    Errors: ProjectFault where it is no other way, or where what is proposed cannot be put together for this shell.
    """
    way = next((way for way in WAYS if way.name == wanted), None)
    if way is None:
        raise _refused(wanted, "it is none of the ways that are known", "choose one of the list")
    if way.name == way_of(project):
        raise _refused(way.label, "the roof moves so already", "choose another way")
    found = _Motion(project, written(text), way).made()
    after = loads(found.text(text), project.name)
    try:
        assembled(after, Nominal(inputs_of(after)), stations=STATIONS)
    except ProjectFault:
        raise
    except LoftwrightError as error:
        why = str(error).rstrip(".")
        raise _refused(way.label, f"what is proposed cannot be put together for this shell: {why}", "") from None
    return found


def _refused(given: str, why: str, do: str) -> ProjectFault:
    given = f'"{given[:1].lower()}{given[1:]}"'
    return ProjectFault([Fault("Another way of moving", given, why, do or "nothing was changed; choose another way")])


@dataclass(slots=True)
class _Motion:
    """One roof, what its file holds, and the way it is to move; the changes as they are gathered."""

    project: Project
    there: Written
    way: Way
    changes: Change = field(default_factory=dict)
    gone: list[str] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    @property
    def end(self) -> Edge:
        """The edge that is to stay low."""
        end = self.project.linkage.end
        return self.way.end or ("front" if end in SIDES else end)

    @property
    def turned(self) -> bool:
        """Whether it is to move in the other plane."""
        return (self.end in SIDES) is not (plane_of(self.project) is CROSSWISE)

    def made(self) -> OtherMotion:
        """Return all of it."""
        if self.turned:
            self.turn()
        self.carry()
        self.lists()
        if self.project.reading or self.project.tape:
            self.said.append(
                "Readings of the roof as it was stay in the file: take them out before they are held against this one."
            )
        label = f"{self.way.label[0].lower()}{self.way.label[1:]}"
        return OtherMotion(f"way of moving: {label}", self.changes, tuple(self.gone), tuple(self.said))

    # --- what carries the shell -----------------------------------------------------------------------

    def carry(self) -> None:
        """Propose what carries the shell, and take out what the other way does not have."""
        kind, before = self.way.kind, self.project.linkage
        proposed = {"hinge": self.hinge, "guides": self.guides}.get(kind, self.arms)()
        kept = set(PIVOTS[kind]) | ({*OF_GUIDES} if kind == "guides" else {"opens"})
        for name in (*ALL_POINTS, *OF_GUIDES, "opens"):
            if name not in kept and self.there.at(f"linkage.{name}") is not None:
                self.changes[f"linkage.{name}"] = None
        self.changes |= {"linkage.kind": kind, "linkage.end": self.end, **proposed}
        if kind == before.kind == "hinge" and not self.turned and self.there.text("linkage.opens") is not None:
            del self.changes["linkage.opens"]
        if kind == "parallel arms" and self.there.text("requirements.transmission_min") is None:
            self.changes["requirements.transmission_min"] = LOW_GRIP
        self.said.insert(0, f"Suggested: {_PROPOSED[kind]}. Move them on the drawing.")
        if not self.turned and self.end != before.end and self.there.at("handle.at") is not None:
            rear, front = self.ends()
            self.put("handle.at", (rear + front - self.project.handle.at.x.nominal, self.project.handle.at.z.nominal))
            self.said.append("The handle went to the other end.")

    def ends(self) -> Pair:
        """Return where the shell begins and ends in the plane in which it is to move [m]."""
        plane = CROSSWISE if self.end in SIDES else LENGTHWISE
        length = size(self.project, plane.shell)
        behind = (length - size(self.project, plane.opening)) / 2
        if not self.turned:
            behind = size(self.project, plane.overhang)
        return -behind, length - behind

    def outwards(self) -> tuple[float, float]:
        """Return x of the shell's low end [m], and which way the shell lies from there: +1 or -1."""
        rear, front = self.ends()
        return (front, -1.0) if self.end in ("front", "right") else (rear, 1.0)

    def hinge(self) -> Change:
        low, ahead = self.outwards()
        self.put("linkage.hinge", (low + ahead * AXIS_IN, AXIS_UP))
        return {"linkage.opens": f"{HINGED.opens_deg:g} deg, suggested"}

    def arms(self) -> Change:
        layout = _LAYOUTS[self.way.kind]
        low, ahead = self.outwards()
        rear, front = self.ends()
        scale = (front - rear) / layout.length
        for name in PIVOTS[self.way.kind]:
            u, w = layout.points[name]
            self.put(f"linkage.{name}", (low + ahead * scale * u, scale * w))
        return {"linkage.opens": f"{layout.opens_deg:g} deg, suggested"}

    def guides(self) -> Change:
        low, ahead = self.outwards()
        rear, front = self.ends()
        step = ahead * SHOES_IN * (front - rear)
        self.put("linkage.guide", (low + step, SHOES))
        self.put("linkage.guide_far", (rear + front - low - step, SHOES))
        return {"linkage.rise": RISE, "linkage.guide_length": HELD, "linkage.guide_friction": "unknown"}

    # --- what was mounted on arms that are gone -------------------------------------------------------

    def lists(self) -> None:
        """Keep springs, cords and places; what sat on a part that is gone is mounted on van or shell, where it was."""
        kind = self.way.kind
        if kind in ("hinge", "guides"):
            moved = [part for part in ("spring", "coil", "cord") if self.off_arms(part)]
            if moved:
                self.said.append("What was mounted on arms is now on the van or the shell, at the same places.")
            for number, zone in enumerate(self.project.zone):
                if "zone" not in self.gone and zone.on.startswith("arm"):
                    feet = any(spring.foot_on == zone.on for spring in self.project.spring)
                    self.changes[f"zone.{number}.on"] = "van" if feet else "shell"
            if self.project.links is not None and self.project.links.keep != "nothing":
                self.changes["links.keep"] = "nothing"
        pivots = {"hinge": ("hinge",), "guides": ()}.get(kind, ("arm a", "arm b"))
        if self.project.torsion and not pivots:
            self.gone.append("torsion")
            self.said.append("Torsion springs were taken out: guides have no pivot for them.")
        for number, torsion in enumerate(self.project.torsion if pivots else ()):
            if torsion.at not in pivots:
                self.changes[f"torsion.{number}.at"] = pivots[0]
        if not self.turned and (self.project.spring or self.project.coil or self.project.cord):
            self.said.append("Springs stay where they are: look at them next.")

    def off_arms(self, part: str) -> bool:
        """Mount the ends of one list's entries that sit on arms on van and shell; whether there were any."""
        found = False
        for number, entry in enumerate(getattr(self.project, part)):
            for end, body in (("foot_on", "van"), ("head_on", "shell")):
                if getattr(entry, end).startswith("arm"):
                    self.changes[f"{part}.{number}.{end}"] = body
                    found = True
        return found

    # --- along the van or across it -------------------------------------------------------------------

    def turn(self) -> None:
        """Carry over into the other plane what can be; places counted along the old one are proposed anew or go."""
        project, there = self.project, self.there
        old = plane_of(project)
        new = LENGTHWISE if old is CROSSWISE else CROSSWISE
        weighing = project.weighing
        if weighing is not None and (weighing.tilt or any(reading.whole is None for reading in weighing.reading)):
            raise _refused(
                self.way.label,
                f"the weighing was read {'along' if old is LENGTHWISE else 'across'} the van and says nothing of the "
                "other way",
                "take the weighing out first",
            )
        for path in (old.heights[0], old.heights[2], old.overhang, *_ALONG_ONE):
            if there.text(path) is not None:
                self.changes[path] = None
        for path in ("roof.profile", "zone", *self.holes()):
            if there.at(path) is not None:
                self.gone.append(path)
        wide = size(project, new.opening_across)
        self.changes["linkage.spacing"] = self.say(SPACING * wide)
        low, ahead = self.outwards()
        rear, front = self.ends()
        if there.at("handle.at") is not None:
            self.put("handle.at", (rear + front - low, LIP_UP))
        if project.bed is not None:
            self.changes |= {"bed.from": self.say(0.0), "bed.to": self.say(size(project, new.opening))}
        for number in range(len(project.item)):
            self.changes[f"item.{number}.x"] = self.say((rear + front) / 2)
        scale = (front - rear) / HINGED.length
        for part, beside in self.mounted():
            for end in ("foot", "head"):
                u, w = HINGED.points[end]
                self.put(f"{part}.{end}", (low + ahead * (scale * u + beside), scale * w))
            self.changes[f"{part}.place"] = self.say(SPACING / 2 * wide)
        self.said.append(
            "Places that were counted in the other direction were suggested anew; the line of the van's roof, places "
            "for springs, rows of holes and heights of that direction were taken out."
        )

    def holes(self) -> Iterator[str]:
        for number, spring in enumerate(self.project.spring):
            for end in ("feet", "heads"):
                if getattr(spring, end):
                    yield f"spring.{number}.{end}"

    def mounted(self) -> Iterator[tuple[str, float]]:
        """Yield what is mounted by foot and head, each with how far it is put beside the first [m]."""
        count = 0
        for part in ("spring", "coil", "cord"):
            for number in range(len(getattr(self.project, part))):
                yield f"{part}.{number}", BESIDE * count
                count += 1

    # --- lengths on the tape's marks ------------------------------------------------------------------

    def say(self, value: float) -> str:
        """Return a length [m] as a suggestion, on the marks of the tape."""
        units = self.project.settings.units
        return format_quantity(exact(on_tape(value, units), Provenance.SUGGESTED), Dimension.LENGTH, units, digits=6)

    def put(self, path: str, point: Pair) -> None:
        """Propose a point."""
        for axis, value in zip("xz", point, strict=True):
            self.changes[f"{path}.{axis}"] = self.say(value)


_ALONG_ONE: Final = ("shell.centre",)
"""Sizes that are counted along the plane in which the shell moves."""

_PROPOSED: Final[dict[LinkageKind, str]] = {
    "hinge": "the hinge axis and how far the roof opens",
    "four-bar": "four pivots and how far the arms swing",
    "parallel arms": "four pivots and how far the arms swing",
    "scissor": "both ends of arm a and how far the arms swing",
    "guides": "two pairs of shoes, how much of a post they hold and how far the roof slides",
}
