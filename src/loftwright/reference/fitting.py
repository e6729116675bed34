"""Words for the shop floor: fitting and first lift step by step, a spring's force at home, a frame on the ground.

Common practice, no source, where none is named.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.reference.cautions import DRILLING


@dataclass(frozen=True, slots=True)
class Step:
    """One step of fitting: how many people, what to do, what to tick before going on."""

    title: str
    people: int
    do: tuple[str, ...]
    checks: tuple[str, ...]


STEPS: Final = (
    Step(
        "Get ready",
        2,
        (
            "Print the drilling sheets at 100 % and measure the square on every page.",
            "Compare every spring with the request: force, stroke, length between end centres, end fittings.",
            "Cut a prop to length, with a fork or a pin at both ends so that it cannot slip. Try its strength on the "
            "ground.",
            "Clear floor and roof; nobody else in the van. Decide on one word that stops everything.",
        ),
        ("square on every page measures true", "springs are what was ordered", "prop cut and tried"),
    ),
    Step(
        "Hinges or arms, without springs",
        3,
        (
            "Mark the reference lines on both sides, then the holes through the paper. Measure both sides before "
            "drilling.",
            DRILLING,
            "Bolt hinges or arms finger tight, lay the shell in place, let it settle closed, then tighten.",
            "Two lift the shell by its rim, the third sets the prop before anybody lets go.",
        ),
        ("left and right alike by tape", "it moves freely without rubbing", "prop stands by itself"),
    ),
    Step(
        "Stop and latches",
        3,
        (
            "Fit what stops the shell when it is open; the springs must not be the only stop unless they are made "
            "for it.",
            "Fit latches and the second catch. Close by hand and try each one.",
        ),
        ("stop holds the shell at the planned height", "both catches hold when pulled"),
    ),
    Step(
        "Springs last, shell propped open",
        2,
        (
            "Eye protection on. Shell fully open on its prop: there the springs are longest and push least.",
            "Nobody in line with a rod, at either end. Never press a spring in by hand or with a lever to reach a "
            "hole.",
            "If the ends do not meet, move the shell with the prop following, never the spring.",
            "Rod down where it can be. First spring at the start hole, left; second spring right. Clips in both ends.",
        ),
        ("start hole on both sides", "all clips closed", "springs touch nothing over their whole length"),
    ),
    Step(
        "First lift and first closing",
        3,
        (
            "One at the handle, one at each side with a hand at the rim. The prop stays within reach of one of them.",
            "Take the prop out; let the shell show which way it wants to go; hold it, do not fight it.",
            "Move it down a hand's width at a time, wait, look at every spring, hose and cable, go on.",
            "Closed: stand clear of the lip, open the latches one by one, let it come by itself if it does.",
        ),
        ("no binding anywhere", "springs clear of everything", "it does not throw itself open or shut"),
    ),
    Step(
        "Readings and tuning",
        2,
        (
            "One moves, the other reads from the side. Write the readings into the sheet of this book.",
            "Follow the tuning card. Prop the shell before a spring is moved, both sides to the same hole.",
        ),
        ("readings written down", "both sides in the same hole", "tuning card followed to the end"),
    ),
    Step(
        "Before the road",
        2,
        (
            "Latches and second catch closed; a sign at the driver's seat; the new height noted on the dash.",
            "After the first hundred kilometres: all bolts, clips and catches once more.",
        ),
        ("latches and catch closed", "height noted", "bolts looked at again"),
    ),
)

HOME_TEST: Final = (
    "Two planks. The upper one is hinged to a wall or a heavy bench at one end and lies above the spring; it presses "
    "the spring down, so that nobody's weight stands over the rod.",
    "Lay the lower, stout plank with one end on an edge, such as a steel angle, the other on bathroom scales, level. "
    "Measure p, from the edge to the line on which the plank rests on the scales.",
    "Fix a steel channel upright on the plank and stand the spring in it, rod up, its end in a drilled block under the "
    "upper plank. Measure a, from the edge to the spring.",
    "Read the scales with everything in place and nothing pressing. This is the nought: take it off every reading.",
    "Press the upper plank down slowly, from the side, until the rod has gone in 20 mm (3/4 in). Read half way while "
    "it "
    "moves in.",
    "Let it come back slowly. Read half way while it moves out. Do not let it snap.",
    "Three times each; write the middle one. Test every spring of a pair, near 20 °C (68 °F): a spring gains about 4 "
    "% for "
    "10 °C.",
)

HOME_CAUTIONS: Final = (
    "A spring holds gas at about a hundred times the air's pressure. Never open, heat, drill or cut it.",
    "Nobody stands, leans or looks in line with the rod, at either end. If it slips it flies along its own line.",
    "Both ends captured, in a channel and in a drilled block, so that the spring cannot jump.",
    "The first 20 mm (3/4 in) of the stroke only. Eye protection, gloves, no loose sleeves; a second person reads from "
    "the side.",
    "Not with a spring that is dented, bent, scratched on its rod or wet with oil.",
)

FRAME_BUILD: Final = (
    "Screw sides and ends together on level ground, upside down. Bring both diagonals to the same length, then the "
    "corner "
    "plates of plywood, 300 mm (12 in) along each edge, 12 mm (1/2 in) thick, four of them.",
    "Legs outside the sides, rails on the ground, turn it over. Level it on packers under the rails, then the braces.",
    "Packers on the sides and a curved strip on each end, to the tables below: they stand for the roof. A strip as "
    "high as "
    "your upstand goes round the inner edge.",
    "Blocks and posts where hinges, arms and springs sit: faces to the widths in the plan. Lay the drilling sheets on "
    "these faces, exactly as they will lie on the van, and drill.",
    "Try in this order: hinges or arms, stop, latches, springs last, as in the fitting steps of this book.",
)

FRAME_CAUTIONS: Final = (
    "Prop the open shell before anybody reaches under it, on the frame as on the van.",
    "Springs push a light frame about: tie it down or load it before the first spring goes in. Nobody in line with a "
    "rod.",
    "Outdoors only in still air: an open shell is a sail. Close it before you leave.",
    "Level, firm ground. Three people for the shell, two for everything else.",
    "The sums are plain statics for sound, dry timber and one shell. They are no approval of a stand.",
)
