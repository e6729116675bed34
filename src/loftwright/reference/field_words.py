"""What forms call each key and section of the project file, in the words of people.

Keys are paths of the file with list numbers left out ("spring.force"). What the measuring sheet calls a thing is
taken from there, unless its box holds more than this one key.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from loftwright.reference.hold_words import HOLD_CHOICES, HOLD_HELP, HOLD_SECTIONS, HOLD_SELDOM, HOLD_WORDS
from loftwright.reference.measuring import OWN_PLACES, plain_path
from loftwright.reference.plan_words import PLAN_CHOICES, PLAN_HELP, PLAN_SECTIONS, PLAN_SELDOM, PLAN_WORDS
from loftwright.reference.sheet_labels import LABELS
from loftwright.reference.wall_words import WALL_CHOICES, WALL_HELP, WALL_SECTIONS, WALL_SELDOM, WALL_WORDS


@dataclass(frozen=True, slots=True)
class SectionWords:
    """What a section is called: one of it, the heading, and a sentence on it.

    `add` and `remove` are what the buttons say, `clear` the one that takes a whole list out where its entries cannot
    go one by one.
    """

    one: str
    heading: str
    note: str
    add: str = ""
    remove: str = ""
    clear: str = ""


_HOLE = "A row of holes lets you move the spring later and change how hard it lifts."

SECTION_WORDS: Final[dict[str, SectionWords]] = {
    "": SectionWords("Project", "This project", "What you call it; it stands on every paper."),
    "settings": SectionWords("Settings", "Settings", "How answers are written and how many chances are drawn."),
    "person": SectionWords("Person", "Who lifts it", "Who opens and closes the roof."),
    "van": SectionWords("Van", "Van", "The vehicle under the roof."),
    "roof": SectionWords("Van's roof", "The van's own roof", "The roof skin round the opening."),
    "roof.profile": SectionWords(
        "Roof point",
        "Line of the van's roof",
        "Points of the roof skin along the middle, from one end to the other. Without any the roof is taken as flat.",
        "Add points of the roof",
        "Take this point out",
        "Take all points out",
    ),
    "opening": SectionWords("Opening", "Opening", "The hole in the roof."),
    "bed": SectionWords(
        "Bed board", "Bed board", "A board that the closed shell must clear.", "Add a bed board", "Take the bed out"
    ),
    "shell": SectionWords("Shell", "Shell", "The rigid lid."),
    "item": SectionWords(
        "Item", "What rides on the shell", "A panel, a vent, a lining, a handle.", "Add an item", "Take this item out"
    ),
    "weighing": SectionWords("Weighing", "Weighing", "What the scales said.", "", "Take the whole weighing out"),
    "weighing.reading": SectionWords(
        "Weighing",
        "Weighings",
        "The shell on a line of scales, as a whole, or balanced over a pipe. Places count from the edge of its rim.",
        "Add a weighing",
        "Take this weighing out",
    ),
    "weighing.tilt": SectionWords(
        "Steep weighing",
        "Weighing with the shell tilted",
        "One reading with the shell standing steeply tells how high its weight sits.",
        "Add a steep weighing",
        "Take the steep weighing out",
    ),
    "linkage": SectionWords("What carries it", "What carries the shell", "What takes the shell from closed to open."),
    "stop": SectionWords("Stop", "Stop", "What ends the opening."),
    "handle": SectionWords("Handle", "Handle", "Where the hand acts on the shell."),
    "links": SectionWords(
        "Arms at hand",
        "Arms at hand",
        "Lifting arms that are there already, and what is wanted of them: the search says where to bolt them.",
        "Add arms at hand",
        "Take the arms at hand out",
    ),
    "spring": SectionWords(
        "Gas spring",
        "Gas springs",
        "One entry for each kind, as many a side as fitted at the same holes.",
        "Add a gas spring",
        "Take this spring out",
    ),
    "spring.feet": SectionWords(
        "Foot hole", "holes for the foot", _HOLE, "Add a hole for the foot", "Take this hole out"
    ),
    "spring.heads": SectionWords(
        "Head hole", "holes for the head", _HOLE, "Add a hole for the head", "Take this hole out"
    ),
    "coil": SectionWords(
        "Coil spring",
        "Coil springs",
        "Springs of wire that pull or push between two points.",
        "Add a coil spring",
        "Take this coil spring out",
    ),
    "torsion": SectionWords(
        "Torsion spring",
        "Torsion springs",
        "Springs that turn the shell about its hinge, or an arm about its pivot on the van.",
        "Add a torsion spring",
        "Take this torsion spring out",
    ),
    "cord": SectionWords(
        "Elastic cord",
        "Elastic cords",
        "Cords that pull between two points.",
        "Add an elastic cord",
        "Take this cord out",
    ),
    "cord.point": SectionWords(
        "Pull",
        "how hard it pulls",
        "The cord drawn out slowly on a luggage scale, from the shortest length to the longest.",
        "Add a pull",
        "Take this pull out",
    ),
    "requirements": SectionWords("Asked for", "What you ask of it", "What you ask of the roof."),
    "temperatures": SectionWords("Temperature", "Temperatures", "How cold and how hot the springs get."),
    "forces": SectionWords("Other forces", "Seal, cloth, snow and wind", "What else pushes and pulls on the shell."),
    "choice": SectionWords(
        "Choice", "How springs are chosen", "From which list, how many, and with how many forces and holes."
    ),
    "zone": SectionWords(
        "Place for brackets",
        "Places for brackets",
        "Rectangles in the side view, roof closed, in which a bracket may be bolted on. Left and right are alike.",
        "Add a place for brackets",
        "Take this place out",
        "Take all places out",
    ),
    "at_hand": SectionWords(
        "Springs at hand",
        "Springs at hand",
        "Springs that are there already, one entry for each kind.",
        "Add springs at hand",
        "Take these springs out",
    ),
    "at_hand.home_test": SectionWords(
        "Home test",
        "test at home",
        "One spring pressed in with a plank on bathroom scales, by a thumb's breadth only. "
        "The plank lies with one end on an edge, with the other on the scales; the spring stands in between.",
        "Add a test at home",
        "Take the test out",
    ),
    "reading": SectionWords(
        "Reading",
        "Readings of the built roof",
        "What a scale read at the handle while the roof moved slowly.",
        "Add a reading",
        "Take this reading out",
    ),
    "tape": SectionWords(
        "Tape reading",
        "Tape readings while building",
        "What the tape read after a step of building.",
        "Add a tape reading",
        "Take this tape reading out",
    ),
    **{section: SectionWords(*words) for section, words in (HOLD_SECTIONS | WALL_SECTIONS | PLAN_SECTIONS).items()},
}

_OF_SPRINGS: Final[dict[str, str]] = {
    "name": "what you call it",
    "per_side": "how many on each side",
    "foot": "first end",
    "foot_on": "first end is bolted to",
    "head": "other end",
    "head_on": "other end is bolted to",
    "sideways": "other end sits sideways by",
}

FIELD_WORDS: Final[dict[str, str]] = {
    "name": "name of the project",
    "settings.units": "units of the answers",
    "settings.words": "spelling",
    "settings.currency": "currency of prices",
    "settings.draws": "how many roofs like yours are drawn",
    "settings.seed": "starting number of the draws",
    "settings.mounting_tolerance": "how exactly brackets are mounted",
    "person.stands_on_height": "stands above the van's floor by",
    "person.push_limit": "most that you will push up",
    "roof.profile": "roof point",
    "bed.from": "board starts at",
    "bed.to": "board ends at",
    "bed.height": "top of the board above the roof",
    "shell.height_left": "height at the left",
    "shell.height_right": "height at the right",
    "shell.overhang_left": "rim beyond the opening, left",
    "shell.mass": "weight of the bare shell",
    "shell.centre": "where it balances, along the roof",
    "shell.centre_height": "how high its weight sits above the roof",
    "weighing.reading.at": "line on the scales, from the rim's edge",
    "weighing.reading.other": "the other line, from the rim's edge",
    "weighing.reading.reads": "scales read",
    "weighing.reading.whole": "whole shell weighs",
    "weighing.reading.balance": "balances at, from the rim's edge",
    "weighing.tilt.angle": "how steeply it stood",
    "weighing.tilt.at": "low line on the scales, from the rim's edge",
    "weighing.tilt.other": "raised line, from the rim's edge",
    "weighing.tilt.reads": "scales read",
    "item.name": "what it is",
    "item.mass": "weight",
    "item.x": "its middle, along",
    "item.z": "its middle, up",
    "item.state": "on the shell when weighed?",
    "item.removable": "may it be taken off?",
    "item.kind": "sort of thing",
    "linkage.kind": "kind",
    "linkage.end": "end that stays low",
    "linkage.opens": "how far it opens",
    "linkage.arm_width": "width of an arm",
    "linkage.guide_length": "shoe, from end to end",
    "stop.kind": "what stops the open shell",
    "handle.strap_length": "length of the pull strap",
    "links.arm_a_length": "arm a, pivot to pivot",
    "links.arm_b_length": "arm b, pivot to pivot",
    "links.van_plate": "between both pivots on the van's plate",
    "links.shell_plate": "between both pivots on the shell's plate",
    "links.rise": "lip stands higher by",
    "links.low_end_rise": "other end stands higher by",
    "links.tilt": "open shell slopes by",
    "links.shift": "lip may go towards the cab by",
    "links.keep": "pivots that stay where they are",
    "links.van_from": "place on the van, one corner",
    "links.van_to": "place on the van, opposite corner",
    "links.shell_from": "place on the shell, one corner",
    "links.shell_to": "place on the shell, opposite corner",
    **{f"coil.{key}": words for key, words in _OF_SPRINGS.items()},
    **{f"cord.{key}": words for key, words in _OF_SPRINGS.items()},
    "spring.name": "what you call it",
    "spring.per_side": "how many on each side",
    "spring.foot": "foot",
    "spring.foot_on": "foot is bolted to",
    "spring.head": "head",
    "spring.head_on": "head is bolted to",
    "spring.sideways": "head sits sideways by",
    "spring.force": "force of one spring",
    "spring.force_is": "which force that is",
    "spring.friction": "friction of one spring",
    "spring.friction_is": "how that friction is meant",
    "spring.tolerance": "delivered force may be off by",
    "spring.end_margin": "stroke left at both ends",
    "spring.own_speed": "how fast it extends by itself",
    "spring.yearly_loss": "gas lost in a year",
    "spring.feet": "hole for the foot",
    "spring.heads": "hole for the head",
    "coil.kind": "pulls or pushes",
    "coil.rate": "how much stiffer with every length",
    "coil.free_length": "length with no force on it",
    "coil.initial": "force at which it begins to open",
    "coil.limit_length": "longest or shortest it may get",
    "torsion.name": "what you call it",
    "torsion.per_side": "how many on each side",
    "torsion.at": "what it turns",
    "torsion.moment": "lifting moment of one, roof closed",
    "torsion.per_degree": "moment lost with every degree",
    "cord.slack_length": "length at which it begins to pull",
    "cord.lost": "pull missing on the way back",
    "cord.point.length": "length",
    "cord.point.force": "pull at that length",
    "temperatures.cold": "coldest day of opening",
    "temperatures.mild": "a usual day",
    "temperatures.hot": "warmest day of closing",
    "temperatures.sun": "springs in the sun, roof closed",
    "forces.load_on_top": "snow or water on top",
    "forces.gust": "gust in which it stays open",
    "requirements.push_to_start": "most push to start the closed roof",
    "requirements.push_on_the_way": "most push further on",
    "requirements.pull_to_start_down": "most pull to start it down",
    "requirements.pull_after_hot": "most pull after a hot opening",
    "requirements.pull_to_latch": "most pull to shut the latches",
    "requirements.stays_shut_margin": "push that a shut, unlatched roof needs at least",
    "requirements.stays_up_margin": "pull that the open roof needs at least",
    "requirements.rises_from": "rises by itself from",
    "requirements.headroom_wanted": "standing height wanted",
    "requirements.spring_margin": "stroke left at both ends of every spring",
    "requirements.clearance": "gap kept by moving parts",
    "requirements.transmission_min": "least angle of grip of the arms",
    "requirements.prop_fitted": "is a prop or lock fitted?",
    "requirements.stop_speed": "fastest knock at the stop",
    "requirements.twist_limit": "most twist of the shell",
    "choice.catalogue": "list of springs",
    "choice.per_side_most": "most springs on each side",
    "choice.ratings": "how many forces to order together",
    "choice.holes": "most holes in rows",
    "choice.hole_spacing": "least distance between two holes",
    "zone.name": "what you call it",
    "zone.on": "bolted to",
    "zone.from": "one corner",
    "zone.to": "opposite corner",
    "zone.place": "middle of the roof to the brackets",
    "at_hand.name": "what you call them",
    "at_hand.pieces": "how many there are",
    "at_hand.home_test.reads_in": "scales read, pressing in",
    "at_hand.home_test.reads_out": "scales read, letting out",
    "at_hand.home_test.plank": "edge to the scales",
    "at_hand.home_test.spring_at": "edge to the spring",
    "reading.after": "set of readings",
    "reading.how_open": "how far open",
    "reading.way": "which way it was moved",
    "reading.force": "scale read",
    "reading.scale": "read with",
    "reading.temperature": "how warm the springs were",
    "reading.spring": "spring that was moved or swapped",
    "reading.foot": "its foot then",
    "reading.head": "its head then",
    "tape.step": "after which step",
    "tape.what": "what was measured",
    "tape.how_open": "how far open",
    "tape.reads": "tape reads",
    **HOLD_WORDS,
    **WALL_WORDS,
    **PLAN_WORDS,
}

_SIDE = "Only for a hinge along a side of the van."
_AGAIN = "Written only when the spring sat elsewhere than now."
FIELD_HELP: Final[dict[str, str]] = {
    "item.state": "Whether it was on the shell when the shell was weighed, and whether it stays.",
    "linkage.kind": "What carries the shell from closed to open.",
    "linkage.end": "The end that stays low. Left and right are for a hinge along a side of the van; "
    "where the shell rises level, it is the end at which arms or posts stand.",
    "linkage.opens": "How far the shell turns about its hinge, or how far arm a swings.",
    "reading.way": "Whether the hand raised the roof or drew it down, slowly.",
    "tape.what": "Height of the lip: from the roof at the edge of the opening straight up to the lip. Length of the "
    "spring: between the middles of its end fittings. A diagonal: from a hinge, or the front arm's pin on the van, to "
    "the lip's corner on the other side, once from each side.",
    "bed.from": "Where the board begins, from the edge where the opening begins.",
    "bed.to": "Where the board ends, from the edge where the opening begins.",
    "shell.height_left": f"Outer height of the shell above its rim near its left side. {_SIDE}",
    "shell.height_right": f"Outer height of the shell above its rim near its right side. {_SIDE}",
    "shell.overhang_left": f"How far the rim reaches beyond the left edge of the opening. {_SIDE}",
    "shell.centre": "Where the bare shell balances, from the edge where the opening begins.",
    "shell.centre_height": "How high above the roof the middle of the bare shell's weight lies, roof closed.",
    "links.low_end_rise": "How much higher the end that stays low stands then. Write this or the slope, not both.",
    "links.tilt": "How far the open shell may slope, lip higher; of a range any will do. "
    "Write this or the rise of the other end, not both.",
    "links.keep": "Pivots as written above that must not be moved; the others are looked for.",
    "at_hand.home_test.plank": "From the edge that the plank lies on to its line on the scales. "
    "Without it and the next, the spring stood on the scales itself.",
    "at_hand.home_test.spring_at": "From the edge that the plank lies on to the spring. "
    "Without it and the plank's length, the spring stood on the scales itself.",
    "reading.spring": f"Name of the spring that was moved or swapped for this reading. {_AGAIN}",
    "reading.foot": f"Hole of that spring's foot when it was read. {_AGAIN}",
    "reading.head": f"Hole of that spring's head when it was read. {_AGAIN}",
    "choice.catalogue": "A list of springs for sale that lies beside the project file, as a table with commas.",
    "settings.words": "How words are spelled on the board and on paper. Names that you give stay as you write them.",
    "roof.upstand": "The kerb is the edge that stands up round the opening, over which the seal sits; also called an "
    "upstand. It is measured from the roof skin to its top.",
    "settings.seed": "It picks one of many equal sets of draws; the same number gives the same odds.",
    **HOLD_HELP,
    **WALL_HELP,
    **PLAN_HELP,
}
"""What is said of a key where its meaning in the file speaks of other keys or explains its words one by one."""

CHOICE_WORDS: Final[dict[str, dict[str, str]]] = {
    "settings.units": {"metric": "metres and kilograms", "imperial": "feet, inches and pounds"},
    "settings.words": {
        "kerb": "British: kerb, aluminium, metre",
        "curb": "American: curb, aluminum, meter",
    },
    "shell.made_of": {
        "foam-plywood": "foam and plywood",
        "glass-fibre": "glass fibre",
        "aluminium-skin": "aluminium skin",
    },
    "item.state": {
        "add": "no: fixed on after weighing",
        "remove": "yes, but it comes off",
        "weighed": "yes, and it stays",
    },
    "item.kind": {"other": "something else"},
    "linkage.kind": {
        "hinge": "hinge: turns about one axis",
        "four-bar": "two unlike arms a side",
        "parallel arms": "two equal arms a side: rises level",
        "scissor": "two crossing arms a side: rises level",
        "guides": "posts that slide straight up",
    },
    "linkage.end": {"front": "front, towards the cab", "left": "left side", "right": "right side"},
    "stop.kind": {"strap": "a strap", "link": "a link", "spring end": "the end of the spring", "cloth": "the cloth"},
    "links.keep": {"nothing": "none: all are looked for", "van pivots": "those on the van"}
    | {"shell pivots": "those on the shell"},
    "spring.force_is": {
        "F1": "F1: moving out, nearly all out",
        "F3": "F3: moving in, nearly all out",
        "middle": "the middle of the two",
    },
    "spring.friction_is": {
        "full loop": "in less out, the whole difference",
        "half loop": "half of the difference",
    },
    "coil.kind": {"pulls": "pulls its ends together", "pushes": "pushes its ends apart"},
    "torsion.at": {"hinge": "the shell about its hinge", "arm a": "arm a", "arm b": "arm b"},
    "reading.way": {"push up": "pushed up slowly", "pull down": "pulled down slowly"},
    "tape.step": {"hinges": "hinges or arms are on", "springs": "springs are on", "latches": "latches are on"},
    "tape.what": {
        "lip height": "height of the lip",
        "spring length": "length of the spring",
        "diagonal": "a diagonal across the roof",
    },
    **HOLD_CHOICES,
    **WALL_CHOICES,
    **PLAN_CHOICES,
}
"""What people read for a word of the file, where it is not the word itself."""

SELDOM: Final[frozenset[str]] = frozenset(
    {
        "settings.draws",
        "settings.seed",
        "settings.mounting_tolerance",
        "person.stands_on_height",
        "roof.crown",
        "roof.camber",
        "shell.centre_height",
        "shell.twist_moment",
        "item.removable",
        "linkage.play",
        "linkage.plate_stiffness",
        "linkage.friction",
        "linkage.arm_width",
        "requirements.transmission_min",
        "requirements.clearance",
        "requirements.spring_margin",
        "requirements.stop_speed",
        "requirements.twist_limit",
        "requirements.stays_shut_margin",
        "spring.sideways",
        "spring.friction_is",
        "spring.tolerance",
        "spring.end_margin",
        "spring.end_limit",
        "spring.own_speed",
        "spring.yearly_loss",
        "coil.sideways",
        "cord.sideways",
        "cord.lost",
        "forces.load_on_top",
        "forces.trapped_air",
        "links.van_from",
        "links.van_to",
        "links.shell_from",
        "links.shell_to",
        "choice.hole_spacing",
        "choice.holes",
        "at_hand.friction_is",
        "at_hand.tolerance",
        "at_hand.end_limit",
        "reading.after",
        "reading.scale",
        "reading.spring",
        "reading.foot",
        "reading.head",
        *HOLD_SELDOM,
        *WALL_SELDOM,
        *PLAN_SELDOM,
    }
)
"""Keys that few people change: a form may fold them away. Kind: judgement."""

BY_SCALES: Final[frozenset[str]] = frozenset(
    {
        "person.push_limit",
        "requirements.push_to_start",
        "requirements.push_on_the_way",
        "requirements.pull_to_start_down",
        "requirements.pull_after_hot",
        "requirements.pull_to_latch",
        "requirements.stays_shut_margin",
        "requirements.stays_up_margin",
        "at_hand.home_test.reads_in",
        "at_hand.home_test.reads_out",
        "cord.point.force",
        "reading.force",
    }
)
"""Forces that people read in kilograms or pounds."""

_PAIR = ": along, up"


def alike(path: str) -> str:
    """Return the key that says of `path`, list numbers left out, what is said of it: springs at hand are springs."""
    key = plain_path(path) if path.split(".")[0] != "item" else _without_numbers(path)
    of_spring = key.replace("at_hand.", "spring.", 1)
    return of_spring if of_spring in FIELD_WORDS or of_spring in LABELS else key


def _without_numbers(path: str) -> str:
    return ".".join(step for step in path.split(".") if not step.isdecimal())


def axis_of(path: str) -> str:
    """Return "x" or "z" where a path ends in one of the values of a point or place, else an empty text."""
    last = path.rpartition(".")[2]
    return last if last in ("x", "z") and path.split(".")[0] not in OWN_PLACES else ""


def label_of(path: str, *, across: bool = False) -> str:
    """Return what a form calls the value at a path; `across` for a roof whose x runs across the van."""
    own = plain_path(path) if path.split(".")[0] != "item" else _without_numbers(path)
    key = own if own in FIELD_WORDS else alike(path)
    words = FIELD_WORDS.get(key) or LABELS[key].removesuffix(_PAIR)
    if path.split(".")[0] != "item" and (axis := axis_of(path)):
        number = path.split(".")[-2]
        words = f"{SECTION_WORDS[own].one} {int(number) + 1}" if number.isdecimal() else words
        words = f"{words}, {'up' if axis == 'z' else 'along'}"
    words = words.replace(", along", ", across") if across else words
    return words[0].upper() + words[1:]


def section_words(path: str) -> SectionWords:
    """Return what the section at a path is called."""
    return SECTION_WORDS[_without_numbers(path)]
