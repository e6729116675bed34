"""How a builder settles an input with household tools, and how long it takes.

Times are judgement: one person, tools at hand. Keys are paths of the project file with list numbers left
out ("spring.force"). A key that is not listed is settled as its meaning in the file says.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.reference.hold_measures import HOLD_MEASURES
from loftwright.reference.plan_words import PLAN_MEASURES
from loftwright.reference.wall_words import WALL_MEASURES


@dataclass(frozen=True, slots=True)
class Measurement:
    """One thing to measure: what to call it, minutes it takes, and how it is done."""

    title: str
    minutes: int
    how: str


_WEIGH = Measurement(
    "Weigh the shell",
    20,
    "Rest the shell on two battens, one on bathroom scales, and read; change ends and read again. "
    "Write both readings and the places of the battens.",
)
_BALANCE = Measurement(
    "Find where the shell balances",
    10,
    "Lay a pipe under the shell and roll it until neither end drops; measure from the rear rim to the pipe.",
)
_STEEP = Measurement(
    "Weigh the shell standing steeply",
    30,
    "Prop one end up by at least a third of the length, two people, and read the scales under the low end.",
)
_SEAL = Measurement(
    "Squeeze a piece of the seal",
    10,
    "Press a hand's breadth of the seal on kitchen scales with a straight board to the height it will have; "
    "measure that piece and write the reading over its length.",
)
_SHOES: Final = Measurement(
    "Mark out the shoes", 15, "Mark the middle of a shoe on the wall and measure it from the opening's edge."
)
_HINGE = Measurement(
    "Mark out and measure the pivots",
    15,
    "Mark the pivots on roof and shell, measure along and up from the rear edge of the opening with a "
    "tape and a level.",
)
_SPRING_LABEL = Measurement(
    "Read the spring's list or label",
    5,
    "Ask the supplier for force, which force that is, ratio, friction, stroke and length between end centres.",
)
_SPRING_PUSH = Measurement(
    "Push a spring on bathroom scales",
    15,
    "Stand the spring upright in a channel on the scales, both ends held so that it cannot jump, press it in by "
    "a thumb's breadth only, with nobody in line with the rod; read once moving in and once moving out.",
)
_HOME_TEST = Measurement(
    "Test a spring at home on bathroom scales",
    20,
    "A plank with one end on an edge and the other on the scales; the spring stands on it between the two, upright in "
    "a channel, both ends held so that it cannot jump. Take off what the plank alone reads. Press the spring in by a "
    "thumb's breadth only, with nobody in line with the rod; read once moving in and once moving out.",
)
_TESTED_AT = Measurement(
    "Measure the plank", 5, "Tape from the edge to the line on the scales and to the spring, along the plank."
)
_ZONE = Measurement(
    "Mark out where brackets can sit",
    15,
    "Closed roof: mark the corners of the frame or stiffener that can carry a bracket, and measure them along and up "
    "from the rear edge of the opening.",
)
_AS_SPRING = ("force", "friction", "ratio", "stroke", "extended_length", "rod_diameter", "tube_diameter", "end_limit")
"""Keys of springs at hand that are settled as those of springs that are mounted."""


def _side(which: str) -> Measurement:
    """Return how the height of one side of the shell is measured."""
    how = "Batten across the shell; measure down to the rim."
    return Measurement(f"Measure the shell's height at its {which} side", 5, how)


MEASUREMENTS: Final[dict[str, Measurement]] = {
    "shell.mass": _WEIGH,
    "shell.mass_by_area": _WEIGH,
    "shell.centre": _BALANCE,
    "shell.centre_from_rear_rim": _BALANCE,
    "shell.centre_above_rim": _STEEP,
    "shell.centre_height": _STEEP,
    "shell.length": Measurement("Measure the shell's length", 5, "Tape along the rim, outside to outside."),
    "shell.width": Measurement("Measure the shell's width", 5, "Tape across the rim, outside to outside."),
    "shell.height_left": _side("left"),
    "shell.height_right": _side("right"),
    "shell.overhang_left": Measurement(
        "Measure the rim's overlap at the left", 10, "Lay the shell on the marked-out opening."
    ),
    "shell.twist_moment": Measurement(
        "Twist the shell",
        20,
        "Rest three corners on blocks, hang a known weight from the fourth, measure how far that corner drops.",
    ),
    "van.floor_to_roof": Measurement(
        "Measure the height inside", 5, "Tape from the floor to the lining beside the opening; add lining and skin."
    ),
    "van.roof_build": Measurement(
        "Measure the roof's thickness", 10, "Drill one pilot hole in the piece to be cut out."
    ),
    "person.height": Measurement("Measure yourself", 2, "Stand against a door frame in shoes."),
    "person.reach": Measurement(
        "Measure your reach", 2, "Stretch your fist up a wall, mark it, measure from the floor."
    ),
    "opening.length": Measurement("Mark out the opening", 20, "Tape and chalk on the roof between the bows."),
    "opening.width": Measurement("Mark out the opening", 20, "Tape and chalk on the roof between the gutters."),
    "roof.crown": Measurement(
        "Measure the crown", 10, "Straightedge across the roof, level; measure the gaps at both sides of the opening."
    ),
    "roof.camber": Measurement("Measure the camber", 10, "String along the roof, tight; measure the gap at both ends."),
    "roof.upstand": Measurement(
        "Decide the edge round the hole", 5, "Measure the leg of the angle or channel you will use."
    ),
    "forces.seal_line": _SEAL,
    "forces.seal_height": _SEAL,
    "forces.cloth_mass": Measurement("Weigh the cloth", 5, "Stand on the scales with and without the roll."),
    "forces.wet_extra": Measurement(
        "Wet a piece of cloth",
        15,
        "Weigh a piece dry, soak it, drip it, weigh again; take as many times the difference as the walls are larger.",
    ),
    "forces.cloth_tension": Measurement(
        "Pull a strip of cloth tight",
        10,
        "Pull a strip a hand's breadth wide with a luggage scale until it hangs as you like it; "
        "write the reading over its width.",
    ),
    "forces.fold_push": Measurement(
        "Press the folded cloth",
        15,
        "Fold an arm's length of the wall as it will lie, press it on the scales to its height, and "
        "write the reading over its length.",
    ),
    "forces.trapped_air": Measurement(
        "Lower a lid with the doors shut",
        15,
        "Lower the shell once with the doors open and once shut; compare the pulls.",
    ),
    "linkage.friction": Measurement(
        "Feel the hinges",
        10,
        "Lift the free end slowly and lower it slowly on a luggage scale; half the difference is friction.",
    ),
    "linkage.play": Measurement("Rattle a hinge", 5, "Move the pin sideways and measure how far with feeler gauges."),
    "linkage.plate_stiffness": Measurement(
        "Pull a hinge plate sideways", 15, "Pull the bolted plate sideways with a luggage scale and measure the give."
    ),
    "linkage.opens": Measurement("Decide how far it opens", 5, "Set the length of the top stop."),
    "linkage.spacing": Measurement("Measure between the hinges", 5, "Tape from the left to the right hinge."),
    "linkage.hinge": _HINGE,
    "linkage.arm_a_van": _HINGE,
    "linkage.arm_a_shell": _HINGE,
    "linkage.arm_b_van": _HINGE,
    "linkage.arm_b_shell": _HINGE,
    "linkage.rise": Measurement("Decide how far it rises", 5, "Set the length of the top stop."),
    "linkage.guide": _SHOES,
    "linkage.guide_far": _SHOES,
    "linkage.guide_length": Measurement("Measure the shoes", 5, "Tape from the upper to the lower end of one shoe."),
    "linkage.guide_friction": Measurement(
        "Slide a post on a tilted shoe",
        10,
        "Lay a shoe on a board and a piece of post in it; tilt the board until the post slides: rise over run.",
    ),
    "linkage.leans": Measurement("Plumb the guides", 5, "Hold a level or an angle gauge to a post, van level."),
    "handle.at": Measurement("Decide where the handle sits", 5, "Hold a handle to the rim where your hand falls."),
    "handle.strap_length": Measurement("Decide the strap's length", 5, "Hold a strap to the handle's place."),
    "spring.force": _SPRING_PUSH,
    "spring.friction": _SPRING_PUSH,
    "spring.ratio": _SPRING_LABEL,
    "spring.stroke": _SPRING_LABEL,
    "spring.extended_length": _SPRING_LABEL,
    "spring.rod_diameter": Measurement(
        "Measure the rod", 2, "Caliper on the bright part of the rod; do not scratch it."
    ),
    "spring.tube_diameter": Measurement("Measure the tube", 2, "Caliper on the tube."),
    "spring.end_limit": _SPRING_LABEL,
    "spring.bracket_limit": Measurement(
        "Find out what the bracket carries",
        30,
        "Bolt one bracket to a scrap of the same lay-up and load it with a lever.",
    ),
    "spring.own_speed": Measurement(
        "Time a spring", 10, "Press one upright on the floor, let it extend by itself, film it beside a tape."
    ),
    "spring.foot": Measurement(
        "Decide the spring foot", 10, "Mark the foot's hole and measure it from the opening's edge."
    ),
    "spring.head": Measurement("Decide the spring head", 10, "Mark the head's hole on the shell and measure it."),
    "spring.place": Measurement("Measure across to the springs", 5, "Tape from the middle line to the springs' plane."),
    "zone.from": _ZONE,
    "zone.to": _ZONE,
    "zone.place": Measurement("Measure across to the brackets", 5, "Tape from the middle line to the brackets' plane."),
    "at_hand.home_test.reads_in": _HOME_TEST,
    "at_hand.home_test.reads_out": _HOME_TEST,
    "at_hand.home_test.plank": _TESTED_AT,
    "at_hand.home_test.spring_at": _TESTED_AT,
    "reading.how_open": Measurement(
        "Read how far it is open", 5, "Angle gauge on shell or arm: how far it has turned, of how far it turns in all."
    ),
    "reading.force": Measurement(
        "Read the hand force on the roof",
        10,
        "Move the roof slowly past the mark by a luggage scale on the handle, or press up through bathroom scales; "
        "read while it moves, three times. One person stays at the prop.",
    ),
    "reading.temperature": Measurement(
        "Read how warm the springs are", 2, "Lay a thermometer against the tube in the shade for ten minutes."
    ),
    "tape.reads": Measurement("Read the tape after a step", 5, "Roof propped; twice, and write the middle."),
}
MEASUREMENTS.update({path: Measurement(*how) for path, how in (HOLD_MEASURES | WALL_MEASURES | PLAN_MEASURES).items()})
MEASUREMENTS.update({f"at_hand.{key}": MEASUREMENTS[f"spring.{key}"] for key in _AS_SPRING})


OWN_PLACES: Final = ("roof_point", "rim_point", "lower_point", "upper_point")
"""Lists whose entries have an x of their own, which runs along the van whatever the roof's kind."""


def plain_path(path: str) -> str:
    """Return a path without list numbers and without the axis of a point."""
    parts = [part for part in path.split(".") if not part.isdecimal()]
    if parts[-1] in ("x", "z") and parts[0] not in OWN_PLACES:
        parts = parts[:-1]
    return ".".join(parts)


def measurement(path: str) -> Measurement | None:
    """Return how to settle the input at `path`, or None where its meaning in the file must do."""
    return MEASUREMENTS.get(plain_path(path))
