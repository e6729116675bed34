"""A new project file: from five answers, each of which may be "don't know", or from a demo.

The file is complete and reads without a fault. What was not answered is written as unknown, assumed or suggested,
with a note on what it is and how to find it out. Linkage and springs are a start that works for a shell
of the weight that is taken while nothing is known of it; every one of them is meant to be changed.
"""

from __future__ import annotations

import math
import textwrap
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, cast, get_args

from loftwright.core.amounts import QuantityError
from loftwright.core.choices import LinkageKind, Units
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.quantities import parse
from loftwright.core.quantity_text import format_quantity
from loftwright.core.uncertain import Provenance, Uncertain, even, exact
from loftwright.core.units import STANDARD_GRAVITY, Dimension
from loftwright.mechanics.by_shape import skin
from loftwright.mechanics.feel import END_FITTING_LENGTH, TUBE_WALL
from loftwright.mechanics.strut import CAUTION_FACTOR, spring_critical_load
from loftwright.project.demos import demo_text
from loftwright.project.examples import EXAMPLE_NOTES, EXAMPLES
from loftwright.project.keys import Choice, Count, Key, Member, Section, Spot, Words, YesNo, members
from loftwright.project.linkage_section import PIVOTS
from loftwright.project.model import FORMAT, Project, key_of
from loftwright.project.reading import is_unknown, nearest, quoted, say
from loftwright.reference.layups import LAYUPS
from loftwright.reference.rods import TOP_PRESSURE

Lifts = Literal["hinge front", "hinge rear", "arms", "level arms", "scissor"]

WIDTH = 110
"""Characters of a comment line."""

LAP = 0.05
"""How far the planned shell laps over the opening on every side [m]. Kind: judgement."""

SPACING = 0.9
"""Distance between left and right hinges over the width of the opening. Kind: judgement."""

SIZES = ((0.006, 0.015), (0.008, 0.018), (0.010, 0.022), (0.014, 0.028))
"""Rod and tube diameters [m] that go together. Kind: common practice, no source."""

PRESSED = 0.9
"""Share of the highest pressure recommended up to which a rod is picked. Kind: judgement."""

GREATEST = 1.8
"""Greatest force of a spring, pushed in and hot from the sun, over its listed one. Kind: judgement."""

NOT_THERE = ("ratio", "friction", "tolerance", "end_limit", "own_speed")
"""What could only be known of a spring that is there: its usual range is written."""

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Layout:
    """A roof that balances, to be scaled. `push`: force of all springs over the shell's weight [1]."""

    length: float
    opens_deg: float
    push: float
    points: Mapping[str, Pair]


# Length from hinge to lip [m]; points by distance from the hinge towards the lip and height above the hinge [m].
# Kind: derivation; the springs' moment is 0.6 of the weight's closed and 1.4 open.
HINGED = Layout(2.08, 28.0, 2.3, {"foot": (0.56, -0.07), "head": (0.95, 0.05)})
# Length of the shell [m]; points by distance rearwards from its front end and height above the roof [m]; likewise.
ARMED = Layout(
    1.82,
    47.0,
    1.45,
    {
        "arm_a_van": (0.06, -0.02),
        "arm_a_shell": (0.39, 0.04),
        "arm_b_van": (0.18, -0.07),
        "arm_b_shell": (0.49, -0.12),
        "foot": (0.76, -0.19),
        "head": (0.38, 0.06),
    },
)


# A level lift, of the same kind: equal arms; opened less, arm a and its mirror image crossing.
RISING = Layout(
    2.0,
    41.0,
    0.91,
    {
        "arm_a_van": (0.25, -0.29),
        "arm_a_shell": (0.979, 0.159),
        "arm_b_van": (1.15, -0.29),
        "arm_b_shell": (1.879, 0.159),
        "foot": (1.10, -0.306),
        "head": (0.715, -0.036),
    },
)
CROSSING = replace(RISING, opens_deg=30.0, push=0.95)
LOW_GRIP = "25 deg, suggested"
"""Least angle between arms and shell of a level lift, whose arms start low under a flat shell. Kind: judgement."""


@dataclass(frozen=True, slots=True)
class FiveAnswers:
    """What `new` asks. None, "unknown" or "don't know" is a legal answer to each; quantities carry their unit."""

    lifts: str | None = None
    """Which end stays low, or arms: "hinge front", "hinge rear" (where the hinge sits), "arms" (at the front), "level
    arms" (two equal ones) or "scissor" (crossing ones)."""
    opening_length: str | None = None
    opening_width: str | None = None
    floor_to_roof: str | None = None
    person_height: str | None = None
    shell_mass: str | None = None
    """Weight of the bare shell, where it is there already or somebody has said it."""


def from_demo(name: str) -> str:
    """Return a demo's file as the text of a new project. Errors: ProjectFault when there is no such demo."""
    return demo_text(name)


def new_project(answers: FiveAnswers, units: Units = "metric", name: str = "my roof") -> str:
    """Return the text of a new project file. Errors: ProjectFault with every answer that cannot be used."""
    plan = _Plan(answers, units)
    values = plan.values()
    values["name"] = _toml(name)
    values["settings.units"] = _toml(units)
    lines = [*_intro(), f"format = {FORMAT}"]
    for member in members(Project):
        if member.key == "format":
            continue
        if member.table is None:
            lines += ["", *_comment(_meaning(member)), f"{member.key} = {values[member.key]}"]
        else:
            lines += ["", *_section(member, values, units)]
    return "\n".join(lines) + "\n"


def _toml(text: str) -> str:
    """Return a text as a TOML basic string."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _comment(text: str) -> list[str]:
    return [f"# {line}" for line in textwrap.wrap(text, WIDTH - 2, break_long_words=False)]


def _intro() -> list[str]:
    text = (
        'Quantities stand in quotes with their unit: "1.9 m", "5 ft 3 1/2 in", "46 +- 2 kg, measured", "40 .. 50 kg". '
        "After the comma: measured, label (from a label or a list), suggested (by the program), assumed or unknown; "
        "no word means a decision of yours. Take the word suggested away when you agree. "
        '"unknown" is a legal answer everywhere and stands for a wide range. Points are [x, z] for the closed roof: '
        "x from the rear edge of the opening towards the cab, z above the roof. "
        "Change anything; keep the comments you like."
    )
    return [*_comment(text), ""]


def _sizes(force: float, extended: float, stroke: float) -> Pair:
    """Return diameters of rod and tube [m] of a spring by its force [N] and lengths [m].

    The thinnest that is neither pressed too high nor may bend.
    """

    def will_do(rod: float, tube: float) -> bool:
        bends = spring_critical_load(
            rod_diameter=rod,
            tube_diameter=tube,
            tube_wall=TUBE_WALL,
            length=extended,
            rod_out=stroke + END_FITTING_LENGTH,
        )
        pressed = PRESSED * TOP_PRESSURE * math.pi / 4 * rod**2
        return force <= pressed and GREATEST * force * CAUTION_FACTOR <= float(bends)

    return next((size for size in SIZES if will_do(*size)), SIZES[-1])


def _rounded(value: Uncertain, dimension: Dimension, units: Units) -> str:
    """Return a value in a file's units, to three digits; imperial lengths on the marks of the tape."""
    if units == "imperial" and dimension is Dimension.LENGTH and value.shape == "exact":
        mark = 0.0254 / 16
        nearest_mark = round(value.nominal / mark) * mark
        if abs(nearest_mark - value.nominal) <= 0.1 * abs(value.nominal):
            return format_quantity(exact(nearest_mark, value.provenance), dimension, units)
    return format_quantity(value, dimension, units, digits=3)


class _Plan:
    """Values for a new file, from the answers and a layout that works."""

    def __init__(self, answers: FiveAnswers, units: Units) -> None:
        self.units: Units = units
        self.faults: list[Fault] = []
        self.lifts = self._lifts(answers.lifts)
        self.length, self.length_text = self._answer("opening length", "opening.length", answers.opening_length)
        self.width, self.width_text = self._answer("opening width", "opening.width", answers.opening_width)
        _, self.roof_text = self._answer("height from floor to roof", "van.floor_to_roof", answers.floor_to_roof)
        _, self.person_text = self._answer("person's height", "person.height", answers.person_height)
        self.mass, self.mass_text = self._answer("shell's weight", "shell.mass", answers.shell_mass)
        if self.faults:
            raise ProjectFault(self.faults, "The answers cannot be used as they stand:")
        self.guessed = self.length_text == "unknown"

    def _lifts(self, answer: str | None) -> Lifts | None:
        words = get_args(Lifts)
        if answer is None or (is_unknown(answer) and answer.strip() != "?"):
            return None
        if answer in words:
            return cast(Lifts, answer)
        near = nearest(answer, words)
        do = f'write "{near}"' if near else 'choose one of them or say "don\'t know"'
        self.faults.append(
            Fault("which end stays low", quoted(answer), "one of " + ", ".join(f'"{w}"' for w in words), do)
        )
        return None

    def _answer(self, where: str, path: str, answer: str | None) -> tuple[float, str]:
        """Return an answer's nominal value [SI] and the text to write for it."""
        key = key_of(path)
        middle = sum(key.unknown) / 2
        if answer is None or is_unknown(answer):
            return middle, "unknown"
        try:
            found = parse(answer, key.dimension, unknown=key.unknown)
        except QuantityError as error:
            self.faults.append(error.fault(where))
            return middle, "unknown"
        if not (key.low <= found.nominal <= key.high):
            least, most = (say(end, key.dimension, self.units) for end in (key.low, key.high))
            self.faults.append(
                Fault(where, quoted(answer), f"must lie within {least} to {most}", "check the number and its unit")
            )
        return found.nominal, answer

    # --- lengths on the tape's marks ----------------------------------------------------------------

    @property
    def step(self) -> float:
        """The tape's mark that planned lengths are rounded to [m]."""
        return 0.001 if self.units == "metric" else 0.0254 / 16

    def near(self, value: float) -> float:
        return round(value / self.step) * self.step

    def above(self, value: float) -> float:
        return math.ceil(value / self.step - 1e-9) * self.step

    def text(self, value: float, dimension: Dimension = Dimension.LENGTH) -> str:
        """Return a planned value, which is a suggestion."""
        return _toml(format_quantity(exact(value, Provenance.SUGGESTED), dimension, self.units, digits=6))

    def range_of(self, path: str) -> str:
        """Return the range taken for an unknown, as a suggestion: a spring still to be bought cannot be measured."""
        key = key_of(path)
        return _toml(_rounded(even(*key.unknown, Provenance.SUGGESTED), key.dimension, self.units))

    def pair(self, point: Pair) -> str:
        return f"[{self.text(point[0])}, {self.text(point[1])}]"

    def rough_mass(self) -> float:
        """Return the weight of the shell [kg], of unknown make and height where it is not said, for a first spring."""
        if self.mass_text != "unknown":
            return self.mass
        height = sum(key_of("shell.height_middle").unknown) / 2
        area = float(skin(self.length + 2 * LAP, self.width + 2 * LAP, height, height, height).area)
        build = LAYUPS["unknown"]
        return area * (build.low + build.high) / 2

    # --- the layout ---------------------------------------------------------------------------------

    def values(self) -> dict[str, str]:
        """Return TOML values by the path of their key."""
        found = {
            "opening.length": _toml(self.length_text),
            "opening.width": _toml(self.width_text),
            "van.floor_to_roof": _toml(self.roof_text),
            "person.height": _toml(self.person_text),
        }
        if self.mass_text != "unknown":
            found["shell.mass"] = _toml(self.mass_text)
        if not self.guessed:
            half = "20 mm" if self.units == "metric" else "3/4 in"
            found["shell.length"] = _toml(
                f"{say(self.near(self.length + 2 * LAP), Dimension.LENGTH, self.units)} +- {half}, assumed"
            )
            found["shell.overhang_rear"] = _toml(
                f"{say(self.near(LAP), Dimension.LENGTH, self.units)} +- {half}, assumed"
            )
        if self.width_text != "unknown":
            found["linkage.spacing"] = self.text(self.near(SPACING * self.width))
            found["spring.place"] = self.text(self.near(SPACING / 2 * self.width))
        if self.lifts == "arms":
            return {**found, **self._arms(ARMED, "four-bar")}
        if self.lifts == "level arms":
            return {**found, "requirements.transmission_min": _toml(LOW_GRIP), **self._arms(RISING, "parallel arms")}
        if self.lifts == "scissor":
            return {**found, **self._arms(CROSSING, "scissor")}
        return {**found, **self._hinge()}

    def _hinge(self) -> dict[str, str]:
        rear = self.lifts == "hinge rear"
        # At the very end of the shell: what reaches beyond a hinge goes down as the rest goes up.
        end = LAP - 0.005
        axis = (self.near(-end if rear else self.length + end), self.near(0.035))
        scale = (self.length + LAP + end) / HINGED.length
        ahead = 1.0 if rear else -1.0

        def at(name: str) -> Pair:
            u, w = HINGED.points[name]
            return self.near(axis[0] + ahead * scale * u), self.near(axis[1] + scale * w)

        turn = math.radians(HINGED.opens_deg) * ahead
        lip = (self.near(self.length + LAP if rear else -LAP), self.near(0.01))
        unknown = self.lifts is None
        return {
            "linkage.kind": _toml("unknown" if unknown else "hinge"),
            "linkage.end": _toml("unknown" if unknown else "rear" if rear else "front"),
            "linkage.opens": _toml(f"{HINGED.opens_deg:g} deg, suggested"),
            "linkage.hinge": self.pair(axis),
            "handle.at": self.pair(lip),
            "handle.strap_length": self.text(self.near(0.5)),
            **self._spring(at("foot"), at("head"), axis, turn, "shell", HINGED.push),
        }

    def _arms(self, layout: Layout, kind: LinkageKind) -> dict[str, str]:
        front = self.length + LAP
        scale = (self.length + 2 * LAP) / layout.length

        def at(name: str) -> Pair:
            u, w = layout.points[name]
            return self.near(front - scale * u), self.near(scale * w)

        pivots = {name: at(name) for name in PIVOTS[kind]}
        turn = -math.radians(layout.opens_deg)
        return {
            "linkage.kind": _toml(kind),
            "linkage.end": _toml("front"),
            "linkage.opens": _toml(f"{layout.opens_deg:g} deg, suggested"),
            **{f"linkage.{name}": self.pair(point) for name, point in pivots.items()},
            "handle.at": self.pair((self.near(-LAP), self.near(0.01))),
            "handle.strap_length": self.text(self.near(0.5)),
            **self._spring(at("foot"), at("head"), pivots["arm_a_van"], turn, "arm a", layout.push),
        }

    def _spring(
        self,
        foot: Pair,
        head: Pair,
        axis: Pair,
        turn: float,
        head_on: str,
        push: float,
    ) -> dict[str, str]:
        """Return a spring whose length fits closed and open, with room at both ends.

        `push`: force of all springs over the weight of the shell [1]; the head turns about `axis` by `turn` [rad].
        """
        x, z = head[0] - axis[0], head[1] - axis[1]
        opened = (
            axis[0] + math.cos(turn) * x - math.sin(turn) * z,
            axis[1] + math.sin(turn) * x + math.cos(turn) * z,
        )
        shortest, longest = math.dist(foot, head), math.dist(foot, opened)
        extended = self.above(longest + 0.012)
        stroke = self.above(extended - shortest + 0.012)
        force = float(round(push * self.rough_mass() * STANDARD_GRAVITY / 2, -1))
        rod, tube = _sizes(force, extended, stroke)
        return {
            **{f"spring.{key}": self.range_of(f"spring.0.{key}") for key in NOT_THERE},
            "spring.rod_diameter": self.text(self.near(rod)),
            "spring.tube_diameter": self.text(self.near(tube)),
            "spring.foot": self.pair(foot),
            "spring.head": self.pair(head),
            "spring.head_on": _toml(head_on),
            "spring.name": _toml("gas spring"),
            "spring.stroke": self.text(stroke),
            "spring.extended_length": self.text(extended),
            "spring.force": _toml(_rounded(exact(force, Provenance.SUGGESTED), Dimension.FORCE, self.units)),
        }


def _section(member: Member, values: Mapping[str, str], units: Units) -> list[str]:
    heading = f"[[{member.key}]]" if member.many else f"[{member.key}]"
    table = cast(type[Section], member.table)
    if member.key in EXAMPLES:
        return [*_comment(EXAMPLE_NOTES[member.key]), *(f"# {line}" for line in [heading, *EXAMPLES[member.key]])]
    lines = [*_comment((table.__doc__ or "").strip().splitlines()[0]), heading]
    for part in members(table):
        path = f"{member.key}.{part.key}"
        value = values.get(path) or _default(part, units)
        if value is None:
            lines += [*_comment(f"{_meaning(part)}. Not written here."), f"# {part.key} = {_example(part, units)}"]
        else:
            lines += [*_comment(_meaning(part)), f"{part.key} = {value}"]
    return lines


def _meaning(member: Member) -> str:
    """Return what a key is, and how to find it out or why its default was taken."""
    about = member.about
    if about is None:
        return member.key
    text = about.meaning
    if isinstance(about, Choice):
        text = f"{text}: {', '.join(member.words)}" if ":" not in text else text
    if isinstance(about, Key) and about.same_as:
        return f"{text}; left out: as {about.same_as}"
    reason = getattr(about, "default_reason", "")
    if isinstance(about, Key) and about.default == "unknown" and reason:
        return f"{text}. How: {reason}"
    return f"{text} ({reason})" if reason else text


def _suggested(key: Key, units: Units) -> str:
    """Return a key's default in a file's units; what stands there without a word is a suggestion."""
    text = cast(str, key.default)
    if is_unknown(text):
        return text
    value = parse(text, key.dimension, unknown=None)
    if value.provenance is Provenance.GIVEN:
        value = Uncertain(value.nominal, value.low, value.high, value.shape, Provenance.SUGGESTED)
        text = f"{text}, {Provenance.SUGGESTED.value}"
    if units == "metric":
        return text
    if value.provenance is Provenance.ASSUMED:
        # The doubt follows from the word.
        return f"{_rounded(exact(value.nominal), key.dimension, units)}, {value.provenance.value}"
    return _rounded(value, key.dimension, units)


def _default(member: Member, units: Units) -> str | None:
    """Return the TOML text of a key's default, None where it is best left out."""
    about = member.about
    if isinstance(about, (Key, Choice, Words)) and not member.optional:
        if about.default is None:
            return None if isinstance(about, Key) and about.same_as else '"unknown"'
        if isinstance(about, Key):
            return _toml(_suggested(about, units))
        return _toml(about.default)
    if isinstance(about, Count) and about.default is not None:
        return str(about.default)
    if isinstance(about, YesNo):
        return "true" if about.default else "false"
    return None


def _example(member: Member, units: Units) -> str:
    about = member.about
    if isinstance(about, Key) and not about.per:
        return _toml(format_quantity(exact(sum(about.unknown) / 2), about.dimension, units, digits=2))
    if isinstance(about, Spot):
        return '["1.0 m", "0 mm"]' if not member.many else '[["0 m", "0 mm"], ["2.0 m", "-10 mm"]]'
    if isinstance(about, Words):
        return _toml(about.example)
    return '"unknown"'
