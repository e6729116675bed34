"""What goes wrong on a finished roof, by symptom, and how it is looked after: common practice, no source.

Each cause names a rule; what that says of this very roof, with its numbers, comes from the answers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

Needs = Literal["springs", "arms", "brace", "panel", "lift", "lining", "windows", "hinge", "guides"]
"""What a roof must have for an entry to be of it."""


@dataclass(frozen=True, slots=True)
class Cause:
    """What it may be, what to measure, and the rule that speaks of it."""

    cause: str
    measure: str
    rule: str
    needs: Needs | None = None
    unhooks: bool = False
    """Springs come off for it: the safe way is said with it."""


@dataclass(frozen=True, slots=True)
class Symptom:
    """One symptom, its causes in the order in which to look, and what not to do meanwhile."""

    id: str
    where: str
    symptom: str
    causes: tuple[Cause, ...]
    care: str = ""
    needs: Needs | None = None


UNHOOK: Final = (
    "Never push a spring in by hand, and never unhook one that is still pushed in: open on its stop, it still pushes. "
    "Goggles on, nobody in line with a rod. Helpers hold the shell, the strap or link that stops it comes off, and the "
    "prop is set higher until the spring is at its full length; only then take its ends off. Test it with plank and "
    "scales, as in the home test."
)
"""How a spring is taken off without it flying off. Common practice."""
PROP: Final = "Prop it before anyone reaches under it."
SHUT: Final = "Do not drive with it until it is cleared."
DOWN: Final = "Lower it and latch it until it is cleared."

SYMPTOMS: Final[tuple[Symptom, ...]] = (
    Symptom(
        "sinks-cold",
        "Lifting",
        "It does not stay up on cold mornings",
        (
            Cause(
                "Cold gas pushes less",
                "Hand force, open, on a cold and on a mild day",
                "LIFT-221",
                "springs",
            ),
            Cause(
                "It grew heavier: rain, bikes, a lining",
                "Weigh at the handle again with the springs off",
                "MASS-101",
                unhooks=True,
            ),
            Cause(
                "The springs have lost gas with age",
                "Hand force at half open against the commissioning card",
                "LIFT-207",
            ),
            Cause(
                "One spring is empty",
                "Take each off in turn the safe way, and press it on scales with the plank",
                "LIFT-214",
                "springs",
                unhooks=True,
            ),
        ),
        PROP,
    ),
    Symptom(
        "opens-by-itself",
        "Lifting",
        "Unlatched in the sun, it opens by itself",
        (
            Cause("Hot gas pushes harder", "Hold-down at the handle, sun on the shell", "LIFT-203", "springs"),
            Cause(
                "The seal pushes the lip up",
                "How far the lip rises when unlatched, springs off",
                "FIT-503",
                unhooks=True,
            ),
            Cause("Something heavy was taken off", "Weigh at the handle again", "LIFT-215", "springs"),
        ),
        "Keep a hand on the lip while you undo the latches.",
    ),
    Symptom(
        "hard-to-start",
        "Lifting",
        "It is hard to start pushing up",
        (
            Cause("The seal sticks", "Run a strip of paper round; talc on the seal", "SEAL-2001"),
            Cause("The springs stand nearly in line with the hinge when closed", "Where foot and head are", "LIFT-204"),
            Cause("Cold or tired springs", "Push at 10 % open against the commissioning card", "LIFT-206", "springs"),
            Cause("Snow or water on top", "Look; sweep it off", "PLAN-104"),
        ),
    ),
    Symptom(
        "hard-half-way",
        "Lifting",
        "It gets hard on the way up",
        (
            Cause("Something rubs over the travel", "Listen and look at each spring, arm and edge", "MOVE-104"),
            Cause("The cloth is caught or too short", "Undo the cloth at one corner and try again", "WALL-1305"),
            Cause("It weighs more than it was reckoned with", "Push at 50 % open", "LIFT-205"),
            Cause("Left and right stand unequal", "Spacing of hinges or guides, closed and open", "MOVE-110"),
        ),
    ),
    Symptom(
        "hard-to-pull-down",
        "Lifting",
        "It is hard to pull down",
        (
            Cause("Hot springs", "Pull at the handle, open, in the sun", "LIFT-208", "springs"),
            Cause("The walls hold air in", "Open a door or a vent and try again", "STOW-1906"),
            Cause("The cloth stands outward and jams", "Look from outside half-way down", "STOW-1901"),
            Cause("Springs rub inside when moved fast", "Pull slowly, then fast", "LIFT-209", "springs"),
        ),
    ),
    Symptom(
        "slams-up",
        "Lifting",
        "It slams into its top stop",
        (
            Cause("The springs are strong for this weight", "Pull needed at 90 % open to hold it back", "LIFT-216"),
            Cause(
                "The panel or a load is off", "Put it back on, or hold the handle all the way", "LIFT-215", "springs"
            ),
        ),
        "Hold the handle all the way up.",
    ),
    Symptom(
        "one-side-first",
        "Lifting",
        "One side rises before the other",
        (
            Cause(
                "One spring is weaker",
                "Swap left and right the safe way: does the fault go with it?",
                "LIFT-217",
                "springs",
                unhooks=True,
            ),
            Cause("The shell is soft in twist", "Lift one corner and see how much the other comes", "SHELL-823"),
            Cause("The hinge line is not true", "Spacing at both ends, closed and open", "MOVE-110"),
        ),
    ),
    Symptom(
        "falls-on-failure",
        "Lifting",
        "A spring has failed",
        (
            Cause(
                "It is spent or bent",
                "Nothing: change both of a pair the safe way",
                "LIFT-214",
                "springs",
                unhooks=True,
            ),
            Cause("The rod was overloaded sideways", "Is the rod scored or bent?", "LIFT-211", "springs"),
            Cause("Its bracket gave", "Cracks, loose bolts", "LIFT-213", "springs"),
        ),
        "Never open, heat or drill a gas spring. " + PROP,
        needs="springs",
    ),
    Symptom(
        "jams",
        "Moving",
        "It jams on the way",
        (
            Cause("An arm or a post touches", "Paper between arm and edge over the whole travel", "MOVE-107"),
            Cause("The brace reaches its end", "Where the brace stands when it jams", "BRACE-801", "brace"),
            Cause("The brace's sliding end binds", "Push the sliding end by hand, roof propped", "BRACE-803", "brace"),
            Cause("Guides bind", "Push nearer to the middle", "MOVE-115", "guides"),
            Cause("Arms have lost their grip", "Angle between arm and shell", "MOVE-102", "arms"),
        ),
        PROP,
    ),
    Symptom(
        "scrapes",
        "Moving",
        "It scrapes on the old roof",
        (
            Cause("The hinged edge comes down", "Gap behind the hinge at 20 % open", "MOVE-103", "hinge"),
            Cause("The rim catches on the edge of the hole", "Paper round the hole while it closes", "MOVE-108"),
            Cause("A packer has sunk", "Height of each hinge plate off the roof", "FIT-512"),
        ),
    ),
    Symptom(
        "drips-corner",
        "Water",
        "Water drips in at a corner",
        (
            Cause("The seal kinks in the corner", "Look at it squeezed; radius of the corner", "SEAL-2001"),
            Cause("The seal does not touch there", "Strip of paper in each corner, latched", "FIT-502"),
            Cause("The gap is uneven", "Modelling clay round the rim, latched", "FIT-501"),
        ),
    ),
    Symptom(
        "drips-side",
        "Water",
        "Water drips in along a side",
        (
            Cause("Water stands along the seal", "Pour a cup and watch where it stays", "SEAL-2002"),
            Cause("The sides lift off between the latches", "Paper half-way along, latched", "SHELL-822"),
            Cause("The edge of the opening dips", "Straightedge along the ring", "RING-1001"),
        ),
    ),
    Symptom(
        "drips-driving",
        "Water",
        "It leaks only while driving in rain",
        (
            Cause("The lip gapes between the latches", "Feeler between latches, someone lifting", "ROAD-908"),
            Cause("The latches are slack", "Does a latch need force to close?", "ROAD-903"),
        ),
        SHUT,
    ),
    Symptom(
        "cloth-wet-foot",
        "Water",
        "The foot of the cloth is wet inside",
        (
            Cause("Water reaches the staples", "Height of the staples over the roof's skin", "WATER-1401"),
            Cause("The hem hangs in water", "Look at the hem in rain", "WATER-1403"),
            Cause("Wind drives rain up behind the cloth", "Wet height inside after a windy night", "WATER-1402"),
            Cause("The ends of the cloth part", "Overlap of the ends", "WATER-1405"),
        ),
    ),
    Symptom(
        "cloth-drops",
        "Water",
        "Drops on the inside of the cloth in the morning",
        (
            Cause("Breath settles on cold cloth", "Leave a vent open for a night", "WARM-1801"),
            Cause("The heater cannot make up the loss", "Temperature inside against outside", "WARM-1802"),
        ),
        "Sleep and heat only with a vent open.",
    ),
    Symptom(
        "cloth-pinched",
        "Cloth",
        "The cloth is pinched when it closes",
        (
            Cause("It falls outward", "Pull the inward cords; look from outside", "STOW-1901"),
            Cause("It crowds at the corners", "Tuck the corners first", "STOW-1904"),
            Cause("The bundle is too thick", "Gap over the fold with clay", "STOW-1903"),
            Cause("The lining takes its room", "Gap under the lining", "LINING-2501", "lining"),
        ),
        "Keep fingers out of the fold.",
    ),
    Symptom(
        "cloth-slack",
        "Cloth",
        "The cloth hangs slack",
        (
            Cause("The springs do not pull it tight", "Lift the lip by hand: does it tighten?", "LIFT-218", "springs"),
            Cause("The cloth has grown, or was cut long", "Height of a seam, roof open", "WALL-1303"),
        ),
    ),
    Symptom(
        "window-cracks",
        "Cloth",
        "A clear window turns white or cracks",
        (
            Cause("It is folded too sharply", "Radius of the fold with a coin", "WINDOW-1604", "windows"),
            Cause("It is folded in frost", "Warm it before you fold it", "WINDOW-1605", "windows"),
            Cause("It lies in the crease", "Where the crease runs", "WINDOW-1602", "windows"),
        ),
        needs="windows",
    ),
    Symptom(
        "sways",
        "Wind",
        "Open, it sways in the wind",
        (
            Cause("The gust is above what it stands", "Gusts of the forecast, not the mean wind", "HOLD-705"),
            Cause(
                "Pins and brackets have play", "Move the free end by hand and watch each joint", "BRACE-807", "brace"
            ),
            Cause("The hinges are soft", "Sway at the lip against what was read at first", "HOLD-701", "hinge"),
            Cause("The brace does little", "Sway with and without it", "HOLD-707", "brace"),
        ),
        DOWN,
    ),
    Symptom(
        "comes-down-gust",
        "Wind",
        "A gust pushed it down",
        (
            Cause("The springs have too little in hand", "Hand force, open, cold", "LIFT-207", "springs"),
            Cause("Nothing locks it up", "Is the prop or brace in and pinned?", "HOLD-706"),
        ),
        DOWN,
    ),
    Symptom(
        "rattles-closed",
        "On the road",
        "Closed, it rattles or hums on the road",
        (
            Cause("It lifts off its stops", "Paper under each stop, latched", "ROAD-903"),
            Cause("A latch is slack", "Force to close each latch", "ROAD-901"),
            Cause("The seal carries it instead of the stops", "Does every stop touch?", "ROAD-904"),
        ),
        SHUT,
    ),
    Symptom(
        "latch-misses",
        "On the road",
        "A latch does not catch",
        (
            Cause("The shell lies to one side", "Offset of the latch when it comes down", "BRACE-811"),
            Cause("One side stands higher", "Height of each side over its keeper", "BRACE-813"),
            Cause("The seal pushes too hard", "Push down at the lip until it catches", "LIFT-222"),
            Cause("Cloth in the way", "Look along the rim", "STOW-1905"),
        ),
        SHUT,
    ),
    Symptom(
        "latch-opened",
        "On the road",
        "A latch opened while driving",
        (
            Cause("The pull was above what it bears", "Look for a bent hook or keeper", "ROAD-901"),
            Cause("One was open and the next could not hold alone", "Try each latch by hand", "ROAD-905"),
            Cause("There is no second catch", "Is it fitted and closed?", "ROAD-906"),
        ),
        "Stop at once, tie the shell down with a strap round the van, drive slowly to a workshop.",
    ),
    Symptom(
        "bolt-loose",
        "Bolts and skin",
        "A bolt works loose",
        (
            Cause("It cannot be tightened enough", "Torque against the list of holes", "JOINT-1212"),
            Cause("The sheet under it gives", "Dents round the washer", "JOINT-1205"),
            Cause("The laminate creeps", "Cracks or whitening round the plate", "JOINT-1206"),
        ),
        SHUT,
    ),
    Symptom(
        "rust",
        "Bolts and skin",
        "Rust or white powder at a bolt or an edge",
        (
            Cause("Unlike metals touch", "What is bolted to what, and is there a washer between?", "JOINT-1209"),
            Cause("A bare edge was not primed", "Scrape: is there primer under the paint?", "JOINT-1209"),
        ),
    ),
    Symptom(
        "crack-corner",
        "Bolts and skin",
        "A crack grows from a corner of the hole",
        (
            Cause("The corner is too sharp", "Its radius with a template", "CUT-1101"),
            Cause("The skin is overstressed", "Length of the crack, today and in a month", "CUT-1102"),
            Cause("The body twists more than before", "Door diagonals, one wheel on a kerb", "CUT-1104"),
        ),
        "Have it looked at by someone who repairs bodies before you drive far.",
    ),
    Symptom(
        "ring-sags",
        "Bolts and skin",
        "The roof sags at the ring or the hinges tilt",
        (
            Cause("The ring bends", "Straightedge along the ring, open and closed", "RING-1002"),
            Cause("The hinge plates tilt", "Level on each plate, open and closed", "RING-1004"),
            Cause("Rivets of the seam have given", "Tap each: does it rattle?", "JOINT-1211"),
        ),
        DOWN,
    ),
    Symptom(
        "lift-stalls",
        "Current",
        "The powered lift stops on the way",
        (
            Cause("The load is above its push", "Hand force where it stops", "LIFTER-2201", "lift"),
            Cause("The voltage drops", "Volts at the motor while it moves", "LIFTER-2202", "lift"),
            Cause("It is too hot", "Wait half an hour and try again", "LIFTER-2201", "lift"),
            Cause("Left and right are out of step", "Stroke of each", "LIFTER-2207", "lift"),
        ),
        PROP,
        needs="lift",
    ),
    Symptom(
        "panel-little",
        "Current",
        "The panel yields less than it should",
        (
            Cause("Voltage is lost in the cable", "Volts at panel and battery, at noon", "WIRE-2401", "panel"),
            Cause("The season or shade", "Yield on a clear day against the table by months", "SUN-2301", "panel"),
            Cause("Dirt", "Wash it", "SUN-2301", "panel"),
        ),
        needs="panel",
    ),
    Symptom(
        "panel-cable",
        "Current",
        "The panel works only with the roof up, or only down",
        (
            Cause("The cable is pulled", "Slack of the loop, roof open", "WIRE-2404", "panel"),
            Cause(
                "The cable breaks where it bends",
                "Bend radius, roof closed; move it and watch the meter",
                "WIRE-2405",
                "panel",
            ),
            Cause("The fuse is blown", "Fuse with a meter", "WIRE-2403", "panel"),
        ),
        "Cover the panel before you work on its cable.",
        needs="panel",
    ),
    Symptom(
        "van-leans",
        "On the road",
        "The van leans more in bends or side wind",
        (
            Cause("The roof stands higher and weighs more", "Weigh the van; pressure of the tyres", "VAN-953"),
            Cause("Too much on the roof", "Weigh what is on it", "VAN-951"),
        ),
        "Drive slower in bends and in side wind.",
    ),
)

SERVICE: Final[tuple[tuple[str, str, str, Needs | None], ...]] = (
    ("Before each drive", "Latches and catch", "Close each, pull at it by hand, look at the catch.", None),
    ("Before each drive", "Nothing and nobody under the shell", "Look inside; take the prop out and stow it.", None),
    ("After 100 km, then yearly", "Bolts", "Tighten crosswise to the torques below, when the sealant has cured.", None),
    ("Spring", "Seal", "Wash with water and soap, talc or silicone, look for cuts; strip of paper all round.", None),
    ("Spring", "Springs", "Read the hand force at the three openings of the commissioning card.", "springs"),
    ("Spring", "Cloth", "Look at staples, hem and seams; hose it, roof open.", None),
    ("Spring", "Panel and cable", "Wash it; look at the loop, the gland and the sealed holes.", "panel"),
    ("Summer", "Seal and stops", "Unlatched in the sun, does the lip rise further than the card says?", None),
    ("Autumn", "Latches and hinges", "Clean, a drop of oil on pins and hooks, none on the seal.", None),
    ("Autumn", "Corrosion", "Look at each hole, edge and unlike pair of metals; scrape, prime, paint.", None),
    ("Autumn", "Water test", "Hose all round for ten minutes, a look inside.", None),
    ("Autumn", "Actuators", "Up and down once; listen; try that it stops at a hand's pressure.", "lift"),
    ("Winter", "Snow", "Sweep it off before you lift.", None),
    (
        "Winter",
        "Frost on seal and windows",
        "Never tear a frozen seal open; warm clear sheet before it is folded.",
        None,
    ),
    ("Winter", "Damp", "A vent open at night; dry the cloth within three days.", None),
    (
        "Every third year",
        "Springs",
        "Read half-way. Change both of a pair together once the reading has come to that of springs with nine tenths "
        "of their force.",
        "springs",
    ),
)
"""When, what, how, and what a roof must have for it."""

NOT_ASSESSED: Final = (
    "Crash and roll-over of the body with its cut roof.",
    "Seat-belt anchors, air bags and their sensors.",
    "Fatigue: years of bumps, gusts and opening; loads are taken as if each came once.",
    "Ageing of sealant, adhesive, laminate and cloth.",
    "Fire behaviour of cloth, foam and lining.",
    "Type approval, insurance and the rules of any country.",
    "Workmanship: what is built may differ from what is drawn.",
)
"""What nothing here says anything about."""

DOSSIER_SHEETS: Final[tuple[tuple[str, str, str], ...]] = (
    (
        "Cut plan",
        "the hole, bows, ring and plates from above, with sizes",
        "loftwright hold --sheet cut-plan --pdf cut-plan.pdf",
    ),
    ("Ring", "its pieces and how they are joined", "loftwright hold --sheet ring --pdf ring.pdf"),
    ("Every hole", "bolts, edges, torques, sealing, primer", "loftwright hold --sheet holes --pdf holes.pdf"),
    (
        "For the inspector",
        "loads, limits and margins of each part",
        "loftwright hold --sheet inspector --pdf inspector.pdf",
    ),
    ("Wind card", "the gust above which it is lowered", "loftwright hold --sheet wind-card --pdf wind-card.pdf"),
    ("Build book", "the roof, its springs, its readings, and all sources", "loftwright book"),
    ("This page", "masses, judgements, what is not assessed", "loftwright handover --card inspector"),
)
"""Sheets of the inspector's folder: name, what it shows, command."""

DOSSIER_OWN: Final = (
    "Photographs of ring, plates and backing before the lining covers them.",
    "Weighbridge slips before and after.",
    "Labels or data sheets of springs, latches, adhesive, cloth and clear sheet.",
    "Readings of the door's diagonals before and after the cut.",
)
"""What only the builder can put into the folder."""

INSPECTOR_KINDS: Final = ("ROAD", "HOLD", "CUT", "RING", "JOINT", "VAN", "SHELL")
"""Judgements that an inspector asks for first, by the beginning of their rule's id."""
