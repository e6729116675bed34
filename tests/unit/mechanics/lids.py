"""One lid so plain that its forces can be worked out by hand, as a project file, and those sums by hand.

Hinge in front at x = 2 m, lip at the rear; 40 kg with the centre 1 m behind the hinge at its height; the handle at the
lip; one spring a side. No friction, no other loads, 20 C throughout; every number is a plain decision.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from loftwright.answers.draws import Nominal, Rows
from loftwright.answers.judged_roof import Assembled, assembled, inputs_of
from loftwright.answers.judging import decide
from loftwright.core.checks import Check, Rule
from loftwright.core.motion import fractions
from loftwright.mechanics.feel import Feel, feel
from loftwright.mechanics.hand_rules import judge_feel
from loftwright.mechanics.room import judge_room, room
from loftwright.project.file import edited, loads

G = 9.80665
AGED = 0.92

LID = """
format = 1
name = "plain lid"

[settings]
mounting_tolerance = "0 mm"

[person]
height = "1.6 m"
reach = "2.2 m"
push_limit = "300 N"

[van]
floor_to_roof = "1.5 m"
roof_build = "25 mm"

[roof]
crown = "0 mm"
camber = "0 mm"
upstand = "40 mm"

[opening]
length = "2 m"
width = "1 m"

[shell]
length = "2 m"
width = "1 m"
height_rear = "200 mm"
height_middle = "200 mm"
height_front = "200 mm"
overhang_rear = "0 mm"
rim_height = "0 mm"
made_of = "foam-plywood"
mass = "40 kg"
centre = "1 m"
centre_height = "0 m"
twist_moment = "100 N m"
thickness = "10 mm"

[linkage]
kind = "hinge"
end = "front"
opens = "30 deg"
hinge = ["2 m", "0 m"]
spacing = "1 m"
play = "1 mm"
plate_stiffness = "500 N/mm"
friction = "0 N m"
arm_width = "30 mm"

[handle]
at = ["0 m", "0 m"]
strap_length = "400 mm"

[[spring]]
name = "spring"
per_side = 1
foot_on = "van"
foot = ["1.5 m", "-0.1 m"]
head_on = "shell"
head = ["1.1 m", "0.1 m"]
sideways = "0 mm"
place = "450 mm"
force = "500 N"
force_is = "F1"
ratio = "1.25"
friction = "0 N"
stroke = "300 mm"
extended_length = "700 mm"
rod_diameter = "10 mm"
tube_diameter = "22 mm"
tolerance = "0 %"
end_limit = "2000 N"
bracket_limit = "2000 N"
end_margin = "10 mm"
own_speed = "2 m/s"

[temperatures]
cold = "20 C"
mild = "20 C"
hot = "20 C"
sun = "20 C"

[forces]
seal_line = "0 N/m"
seal_height = "5 mm"
cloth_mass = "0 kg"
cloth_tension = "0 N/m"
fold_push = "0 N/m"
wet_extra = "0 kg"
load_on_top = "0 kg"
trapped_air = "0 N"
gust = "0 m/s"

[requirements]
clearance = "10 mm"
"""

BED = '\n[bed]\nfrom = "0.5 m"\nto = "2 m"\nheight = "-0.3 m"\n'
PANEL = '\n[[item]]\nname = "panel"\nmass = "10 kg"\nx = "1 m"\nz = "0 m"\nstate = "add"\nremovable = true\n'
ARMS = {
    "kind": "four-bar",
    "opens": "60 deg",
    "arm_a_van": ["1.8 m", "-50 mm"],
    "arm_a_shell": ["1.4 m", "50 mm"],
    "arm_b_van": ["1.2 m", "-0.3 m"],
    "arm_b_shell": ["0.8 m", "-0.2 m"],
}


def text(changes: dict[str, Any] | None = None, *, extra: str = "", arms: bool = False) -> str:
    """Return the lid's project file with changes; `arms`: on parallel arms of (-0.4, 0.1) m instead of a hinge."""
    base = LID + extra
    if arms:
        link = [f"{key} = {str(value) if isinstance(value, list) else repr(value)}" for key, value in ARMS.items()]
        lines = base.replace('kind = "hinge"\n', "").replace('opens = "30 deg"\n', "")
        base = lines.replace('hinge = ["2 m", "0 m"]', "\n".join(link))
    return edited(base, changes or {})


@dataclass(frozen=True)
class Look:
    """A lid as the package sees it, with one row."""

    parts: Assembled
    felt: Feel

    def check(self, rule: Rule, part: str = "") -> Check:
        """Return the check of one rule, of the part named or of the first."""
        around, roof = self.parts.around, self.parts.roof
        found = [*judge_room(room(around, roof), roof, around), *judge_feel(roof, self.felt)]
        one = next(j for j in found if j.rule is rule and (not part or j.which == part))
        return decide(one, ROW, roof.possible)


ROW = Rows({}, {}, slice(0, 1), 1, {})
"""One row, which is also the only draw."""


def look(changes: dict[str, Any] | None = None, *, stations: int = 121, extra: str = "", arms: bool = False) -> Look:
    """Return the lid with changes."""
    project = loads(text(changes, extra=extra, arms=arms))
    parts = assembled(project, Nominal(inputs_of(project)), stations=stations)
    return Look(parts, feel(parts.roof))


def newton(value: float) -> str:
    """Return a force as the file writes it."""
    return f"{value:.12f} N"


def metre(value: float) -> str:
    """Return a length as the file writes it."""
    return f"{value:.12f} m"


@dataclass(frozen=True)
class ByHand:
    """The lid's forces by the law of cosines; q is the opening [rad]."""

    mass: float = 40.0
    first: float = 500.0
    loop: float = 0.0
    count: float = 2.0
    factor: float = 1.0
    ratio: float = 1.25
    friction: float = 0.0

    # Foot 0.5 m behind and 0.1 m below the hinge, head 0.9 m behind and 0.1 m above.
    @property
    def sides(self) -> tuple[float, float, float]:
        """Return the two sides from the hinge [m] and the angle between them when closed [rad]."""
        return math.hypot(0.5, 0.1), math.hypot(0.9, 0.1), math.atan(0.1 / 0.5) + math.atan(0.1 / 0.9)

    def length(self, q: float) -> float:
        """Return the spring's length [m]."""
        a, b, angle = self.sides
        return math.sqrt(a**2 + b**2 - 2 * a * b * math.cos(angle + q))

    def leverage(self, q: float) -> float:
        """Return the distance of the spring's line from the hinge [m]."""
        a, b, angle = self.sides
        return a * b * math.sin(angle + q) / self.length(q)

    def force(self, q: float) -> float:
        """Return one spring's force [N] moving out."""
        squeezed = 0.7 - self.length(q)
        return self.factor * self.first / (1 - (1 - 1 / self.ratio) * squeezed / 0.3)

    def weight(self, q: float) -> float:
        """Return the weight's moment about the hinge [N m]."""
        return self.mass * G * math.cos(q)

    def push_up(self, q: float) -> float:
        """Return the hand force straight up at the lip, 2 m cos q beside the hinge, raising [N]."""
        return (self.weight(q) + self.friction - self.count * self.force(q) * self.leverage(q)) / (2 * math.cos(q))

    def pull_down(self, q: float) -> float:
        """Return the hand force straight down at the lip, lowering [N]."""
        springs = self.count * (self.force(q) + self.loop) * self.leverage(q)
        return (springs + self.friction - self.weight(q)) / (2 * math.cos(q))

    def held(self, q: float) -> float:
        """Return the force at the lip that holds the lid down, its friction shaken off [N]; negative: it sinks."""
        springs = self.count * (self.force(q) + self.loop / 2) * self.leverage(q)
        return (springs - self.weight(q)) / (2 * math.cos(q))

    def work(self, start: float, end: float) -> float:
        """Return the work of springs less weight from one opening to another [J]: the gas law's own integral."""
        a = 1 - 1 / self.ratio

        def stored(q: float) -> float:
            return -self.factor * self.first * 0.3 / a * math.log(1 - a * (0.7 - self.length(q)) / 0.3)

        return self.count * (stored(start) - stored(end)) - self.mass * G * (math.sin(end) - math.sin(start))

    def but(self, **changes: float) -> ByHand:
        """Return the same lid with changes."""
        return replace(self, **changes)


OPEN = math.radians(30)


def stations(count: int = 121) -> np.ndarray:
    """Return the openings at the stations [rad]."""
    return OPEN * fractions(count)
