"""What can go wrong in how a roof moves and feels: every rule once, with reason, remedy and source.

Limits marked "judgement" are settings of the project file; their reasons stand there too.
"""

from __future__ import annotations

from typing import Final

from loftwright.core.checks import Rule, Source

JUDGEMENT: Final = Source("judgement", "a setting of the project file", "judgement")
DERIVED: Final = Source("derivation", "virtual work, docs/theory.md", "derivation")
_GEOMETRY: Final = Source("derivation", "swept outlines in the side view, docs/theory.md", "derivation")

POSSIBLE: Final = Rule(
    "MOVE-101",
    "The lifting arms do not reach: the roof jams",
    "The lifting arms reach all the way",
    "1",
    "at least",
    "Beyond a certain point the two arms and the shell can no longer be joined.",
    "Open less far, or move one arm end so that the arms keep reaching.",
    _GEOMETRY,
)
TRANSMISSION: Final = Rule(
    "MOVE-102",
    "The lifting arms lose their grip on the shell",
    "The lifting arms keep their grip on the shell",
    "rad",
    "at least",
    "When shell and arm come close to one line, small play becomes large sway and pin forces grow.",
    "Open less far, or set the arm ends further apart.",
    Source("norton-design-of-machinery", "ch. 3, transmission angle of 40 degrees (from memory)", "handbook"),
)
LINES_UP: Final = Rule(
    "MOVE-113",
    "Equal arms in line with the shell can fold the wrong way",
    "Equal arms stay clear of lying in line with the shell",
    "fraction",
    "at least",
    "Where both arms and the shell lie in one line, the free end can drop while the other rises.",
    "Keep the arms away from lying flat in the closed roof, or from passing flat on the way.",
    Source("norton-design-of-machinery", "ch. 2, change point of a parallelogram (from memory)", "handbook"),
)
FLAT: Final = Rule(
    "MOVE-114",
    "The crossing arms start too flat",
    "The crossing arms stand steeply enough to start",
    "rad",
    "at least",
    "A push along arms that lie nearly flat hardly lifts: at level no force between their feet raises the shell.",
    "Raise the shell's slide or lower the van's, or shorten the arms.",
    Source("derivation", "rise over travel of crossing arms, docs/theory.md; limit by judgement", "derivation"),
)
GUIDE_JAMS: Final = Rule(
    "MOVE-115",
    "The guides jam when the handle is pushed",
    "The guides slide when the handle is pushed",
    "1",
    "at most",
    "A push far beside short guides rubs as much as it lifts, like a drawer pulled at one corner.",
    "Take longer shoes, put plastic in them, set a second pair at the other end, or lift nearer to their middle.",
    Source("derivation", "two-ended shoe with Coulomb friction, docs/theory.md", "derivation"),
)
GUIDE_PUSH: Final = Rule(
    "MOVE-116",
    "Too hard to push up against the guides' rub",
    "You can push it up against the guides' rub",
    "hand N",
    "at most",
    "Weight, springs and hand that act beside the guides press posts and shoes together.",
    "Bring springs and handle nearer to the line through the weight, take longer shoes or smoother ones.",
    Source("derivation", "two-ended shoe with Coulomb friction, docs/theory.md; limit by judgement", "derivation"),
)
GUIDE_PULL: Final = Rule(
    "MOVE-117",
    "Too hard to pull down against the guides' rub",
    "You can pull it down against the guides' rub",
    "hand N",
    "at most",
    "Weight, springs and hand that act beside the guides press posts and shoes together.",
    "Bring springs and handle nearer to the line through the weight, take longer shoes or smoother ones.",
    Source("derivation", "two-ended shoe with Coulomb friction, docs/theory.md; limit by judgement", "derivation"),
)
RIM: Final = Rule(
    "MOVE-103",
    "The hinged edge of the shell digs into the roof",
    "The hinged edge of the shell stays clear of the roof",
    "short m",
    "at least",
    "What lies beyond the hinge goes down while the rest goes up.",
    "Raise the hinge, move it to the end of the shell, or trim the edge behind it.",
    _GEOMETRY,
)
SPRING_ROOF: Final = Rule(
    "MOVE-104",
    "A spring touches the edge of the roof",
    "The springs stay clear of the edge of the roof",
    "short m",
    "at least",
    "A rod that rubs is scratched, loses its gas and can bend.",
    "Move the foot away from the edge of the opening, or the head up into the shell.",
    _GEOMETRY,
)
SPRING_SHELL: Final = Rule(
    "MOVE-105",
    "A spring touches the inside of the shell",
    "The springs stay clear of the inside of the shell",
    "short m",
    "at least",
    "A spring that bears on the shell bends its rod and breaks its end fitting.",
    "Lower the head or the foot, or use thinner tubes.",
    _GEOMETRY,
)
SPRING_BED: Final = Rule(
    "MOVE-106",
    "A spring touches the bed board",
    "The springs stay clear of the bed board",
    "short m",
    "at least",
    "A closed shell must not rest on its springs.",
    "Lower the bed board, shorten it, or move the springs.",
    _GEOMETRY,
)
ARM_ROOF: Final = Rule(
    "MOVE-107",
    "A lifting arm or post touches the edge of the roof",
    "Lifting arms or posts stay clear of the edge of the roof",
    "short m",
    "at least",
    "What rests on the roof edge carries the shell where nothing was made to carry it.",
    "Move the arm's foot or the shoe away from the edge of the opening, or raise it.",
    _GEOMETRY,
)
REACH: Final = Rule(
    "MOVE-109",
    "The handle of the open roof is out of reach",
    "The handle of the open roof is within reach",
    "m",
    "at most",
    "What cannot be reached cannot be pulled down.",
    "Fit a longer strap to the handle.",
    _GEOMETRY,
)
SHELL_EDGE: Final = Rule(
    "MOVE-108",
    "The shell catches on the edge round the hole",
    "The shell clears the edge round the hole",
    "short m",
    "at least",
    "The end walls of a turning shell swing inwards over the upstand.",
    "Lower the upstand, let the shell reach further past the opening, or move the hinge outwards and up.",
    _GEOMETRY,
)
SHELL_BED: Final = Rule(
    "MOVE-112",
    "The closed shell presses on the bed board",
    "The closed shell stays clear of the bed board",
    "short m",
    "at least",
    "A shell that lies on a board does not lie on its seal.",
    "Lower the bed board or shorten it.",
    _GEOMETRY,
)
BINDING: Final = Rule(
    "MOVE-110",
    "Left and right force each other sideways",
    "Left and right can be set true enough with a tape",
    "N",
    "at most",
    "Hinges or arms that are not parallel use up their play and then bend their plates as the roof turns.",
    "Choose hinges with more play or thinner plates, or set them on packers with a long straight bar through both.",
    Source("derivation", "left and right planes leaning or toed, docs/theory.md; limit by judgement", "derivation"),
)
HEAD: Final = Rule(
    "MOVE-111",
    "A spring, arm or post passes through where your head is",
    "Springs, arms and posts stay clear of your head",
    "short m",
    "at least",
    "A moving roof pinches.",
    "Move springs and arms to the sides, or stand elsewhere while it moves.",
    _GEOMETRY,
)

CLOSED_LENGTH: Final = Rule(
    "LIFT-201",
    "The springs are too long for the closed roof",
    "The springs fit into the closed roof",
    "short m",
    "at least",
    "A spring pressed to its inner end lifts the roof off its stops or breaks its fittings.",
    "Move foot and head further apart in the closed roof, or take a spring with more stroke.",
    JUDGEMENT,
)
OPEN_LENGTH: Final = Rule(
    "LIFT-202",
    "The springs are fully out before the roof is open",
    "The springs are long enough for the open roof",
    "short m",
    "at least",
    "The spring would then be the top stop, which its end fittings are not made for.",
    "Move the ends closer together in the open roof, or take a longer spring.",
    JUDGEMENT,
)
STAYS_SHUT: Final = Rule(
    "LIFT-203",
    "The unlatched roof opens by itself in the sun",
    "Unlatched and off its seal, the roof stays down in the sun",
    "hand N",
    "at least",
    "A closed shell in the sun heats its springs, and hot springs push harder; judged just off the seal.",
    "Move the springs so that their leverage is less near closed, or take weaker ones.",
    DERIVED,
)
START: Final = Rule(
    "LIFT-204",
    "Too hard to start pushing up",
    "You can start pushing it up",
    "hand N",
    "at most",
    "Cold and aged springs push least, and a low roof is pushed from bent legs.",
    "Give the springs more leverage near closed, or take stronger ones.",
    Source(
        "hse-l23",
        "guideline filter 200 N men, 150 N women for starting a load; read in a public reproduction",
        "handbook",
    ),
)
ON_THE_WAY: Final = Rule(
    "LIFT-205",
    "Too hard to push on the way up",
    "You can push it on the way up",
    "hand N",
    "at most",
    "Above the shoulders arms are weak: as the handle rises the limit falls from that for starting.",
    "Let the springs' leverage grow earlier: move the heads a little away from the hinge.",
    Source(
        "hse-l23",
        "guideline filter 100 N men, 70 N women to keep a load moving; read in a public reproduction",
        "handbook",
    ),
)
TAKES_OVER: Final = Rule(
    "LIFT-206",
    "The springs take over too late",
    "The springs take over in time",
    "fraction",
    "at most",
    "From some point on the roof should rise by itself; until then someone must hold it.",
    "Take stronger springs or move them so that their leverage grows sooner.",
    JUDGEMENT,
)
STAYS_UP: Final = Rule(
    "LIFT-207",
    "The open roof comes down in a gust",
    "The open roof stays up in a gust",
    "hand N",
    "at least",
    "Cold and aged springs must hold shell, wet cloth and wind.",
    "Take stronger springs, give them more leverage near open, or fit a prop.",
    DERIVED,
)
SINKS: Final = Rule(
    "LIFT-221",
    "The open roof sinks by itself",
    "The open roof stays up on a still day",
    "hand N",
    "at least",
    "Cold and aged springs must hold shell and wet cloth, also while a prop is being set.",
    "Take stronger springs, or give them more leverage near open.",
    DERIVED,
)
PULL_START: Final = Rule(
    "LIFT-208",
    "Too hard to start pulling down",
    "You can start pulling it down",
    "hand N",
    "at most",
    "On the warmest evening new springs push most; one can at most hang on the strap.",
    "Take weaker springs, or move them so that their leverage near open is less.",
    Source("judgement", "a setting of the project file; compare EN 1005-3, basic forces (from memory)", "judgement"),
)
PULL_AFTER_SUN: Final = Rule(
    "LIFT-209",
    "Too hard to pull down straight after a hot opening",
    "You can pull it down straight after a hot opening",
    "hand N",
    "at most",
    "Springs heated under the closed shell stay hot for a while after it is opened.",
    "Wait until the springs are as cool as the air; else as for pulling down.",
    JUDGEMENT,
)
PULL_ON: Final = Rule(
    "LIFT-210",
    "Too hard to pull down on the way",
    "You can pull it down on the way",
    "hand N",
    "at most",
    "Down to the first touch of the seal the pull turns from hanging on a strap into pulling with bent arms.",
    "Reduce the springs' leverage in mid-travel, or take weaker ones.",
    JUDGEMENT,
)
LATCH: Final = Rule(
    "LIFT-222",
    "Too hard to squeeze shut onto the latches",
    "You can squeeze it shut onto the latches",
    "hand N",
    "at most",
    "The seal, and springs that are new and hot, push against the hand until the latches hold.",
    "Take a softer seal, latches that draw the shell down, or less leverage of the springs near closed.",
    JUDGEMENT,
)
ROD_BENDS: Final = Rule(
    "LIFT-211",
    "The spring's rod may bend",
    "The spring's rod stays straight",
    "1",
    "at least",
    "A long thin rod under load buckles, the more so when its guide has play.",
    "Take a thicker rod or a shorter spring.",
    Source("derivation", "stepped strut on pinned ends, docs/theory.md; factor 3 by judgement", "derivation"),
)
END_FITTING: Final = Rule(
    "LIFT-212",
    "The spring's end fittings carry too much",
    "The spring's end fittings carry it",
    "N",
    "at most",
    "Ball studs and eyes have a rated load; in the sun a new spring pushes most.",
    "Use larger end fittings or more, weaker springs.",
    JUDGEMENT,
)
BRACKET: Final = Rule(
    "LIFT-213",
    "The spring brackets carry too much",
    "The spring brackets carry it",
    "N",
    "at most",
    "A bracket pulled out of a thin shell lets the roof fall on one side.",
    "Use larger backing plates or more, weaker springs.",
    JUDGEMENT,
)
ONE_LOST: Final = Rule(
    "LIFT-214",
    "The open roof falls when one spring fails",
    "The open roof stays up when one spring fails",
    "hand N",
    "at least",
    "Springs lose their gas without warning, and a falling shell hurts.",
    "Fit a positive prop or lock and use it whenever the roof is open, or fit enough springs that one can be lost.",
    DERIVED,
)
PANEL_OFF: Final = Rule(
    "LIFT-215",
    "The roof flies up when the panel is off",
    "The roof stays shut when the panel is off",
    "hand N",
    "at least",
    "Springs chosen for a shell with its panel are too strong without it.",
    "Take one spring a side off before taking off the panel, or hold the roof with its latches.",
    DERIVED,
)
TOP_SPEED: Final = Rule(
    "LIFT-216",
    "The roof slams into its top stop",
    "The roof meets its top stop gently",
    "m/s",
    "at most",
    "Hot springs throw a light shell upwards, as fast as the damping built into them allows.",
    "Use springs damped at the end of their travel (rod down), or weaker ones.",
    Source("derivation", "work and kinetic energy, docs/theory.md; limit by judgement", "derivation"),
)
TWIST: Final = Rule(
    "LIFT-217",
    "Unequal springs twist the shell",
    "Unequal springs leave the shell straight",
    "rad",
    "at most",
    "Springs of one list differ by several per cent, so left and right never push alike.",
    "Have springs delivered as a pair, stiffen the shell, or set the springs closer together.",
    Source("derivation", "rigid shell on its hinge pair, docs/theory.md", "derivation"),
)
TIGHT_CLOTH_RULE: Final = Rule(
    "LIFT-218",
    "The springs are too weak to pull the cloth tight",
    "The springs pull the cloth tight",
    "N/m",
    "at least",
    "Loose cloth flaps and lets water stand.",
    "Let the top stop act later, or take stronger springs.",
    DERIVED,
)
PRESSURE: Final = Rule(
    "LIFT-219",
    "The spring would hold more pressure than such rods are made for",
    "The rod is thick enough for the spring's force",
    "Pa",
    "at most",
    "Force over the rod's section is the gas pressure; beyond the recommended top a figure of the list may be wrong.",
    "Check force, ratio and rod diameter against the list, or take a thicker rod.",
    Source("gbt-39433", "Annex C, recommended top pressure; read in a public reproduction", "standard"),
)
FRICTION: Final = Rule(
    "LIFT-220",
    "The spring's friction is far above what is usual",
    "The spring's friction is within what is usual",
    "N",
    "at most",
    "Friction above twice the standard's greatest points to a slip: full loop for half, or kilograms for newtons.",
    "Read once more what the list means by friction, or push a spring in and out on scales.",
    Source("gbt-39433", "Annex B, Table B.1, taken twice; read in a public reproduction", "standard"),
)
