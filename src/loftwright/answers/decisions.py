"""The pages of the drawing board: decisions in the order in which they bite, and what is judged on each.

Every key of the project file is edited on one page, and every judgement of the roof is counted on one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from loftwright.core.board_views import Decision
from loftwright.core.checks import Check, Verdict, tally_of
from loftwright.core.errors import Bug
from loftwright.core.field_views import Link as Link
from loftwright.project.model import Project
from loftwright.project.plane import CROSSWISE, plane_of
from loftwright.reference.field_words import label_of, section_words

HOME, HAVE, FIT, MOVES, LIFTS, WALLS, WIND, OPENING, JOINTS, RIDING, PARTS, PLAN, PROOF, PAPERS, SETTINGS = (
    "/",
    "/have",
    "/fit",
    "/moves",
    "/lifts",
    "/walls",
    "/wind",
    "/opening",
    "/joints",
    "/riding",
    "/parts",
    "/plan",
    "/proof",
    "/papers",
    "/settings",
)


@dataclass(frozen=True, slots=True)
class BoardPage:
    """One page of the board: its path, its title, the question it asks, and what of the file is edited on it.

    `holds` lists sections of the file, and single keys of a section that is spread over pages, in the order in
    which they are shown.
    """

    path: str
    title: str
    asks: str
    holds: tuple[str, ...] = ()
    decides: bool = True
    """Whether it is one of the decisions on the way to a roof."""
    asked_for: str = ""
    """Heading of those requirements that are written on it."""


DECISIONS: Final[tuple[BoardPage, ...]] = (
    BoardPage(HOME, "Drawing", "What does it do, and what is next?"),
    BoardPage(
        HAVE,
        "What you have",
        "Which van, which opening, which shell, and who lifts it?",
        ("van", "opening", "roof", "shell", "item", "weighing", "person", "bed"),
    ),
    BoardPage(
        FIT,
        "Fit",
        "Does the shell sit on this roof, and what goes under the hinges?",
        ("fit", "roof_point", "rim_point", "candidate"),
    ),
    BoardPage(
        MOVES,
        "How it moves",
        "On what does it swing, how far, and with what room?",
        (
            "linkage",
            "stop",
            "handle",
            "requirements.headroom_wanted",
            "requirements.clearance",
            "requirements.transmission_min",
            "links",
        ),
        asked_for="What you ask of its movement",
    ),
    BoardPage(
        LIFTS,
        "What lifts it",
        "Which springs, where, and how hard is it by hand?",
        (
            "spring",
            "coil",
            "torsion",
            "cord",
            "requirements.push_to_start",
            "requirements.push_on_the_way",
            "requirements.rises_from",
            "requirements.stays_up_margin",
            "requirements.pull_to_start_down",
            "requirements.pull_after_hot",
            "requirements.pull_to_latch",
            "requirements.stays_shut_margin",
            "requirements.prop_fitted",
            "requirements.spring_margin",
            "requirements.stop_speed",
            "requirements.twist_limit",
            "temperatures",
            "forces",
            "zone",
            "choice",
            "at_hand",
        ),
        asked_for="What you ask of the lifting",
    ),
    BoardPage(
        WALLS,
        "Walls",
        "How is the cloth cut, and where does it go?",
        (
            "walls",
            "lower_point",
            "upper_point",
            "seam",
            "layer",
            "window",
            "sewing",
            "water",
            "warmth",
            "stow",
        ),
    ),
    BoardPage(
        WIND,
        "Wind and road",
        "Which part goes first, at which wind, and on the road?",
        ("wind", "hinges", "brace", "latches", "road"),
    ),
    BoardPage(
        OPENING,
        "The opening",
        "What does the hole take from the roof, and what does the ring give back?",
        ("body", "bow", "cut", "ring"),
    ),
    BoardPage(JOINTS, "Joints", "Do bolts, sheet and laminate hold?", ("joint", "safety")),
    BoardPage(
        RIDING,
        "What rides on it",
        "Seal, room to stand, panel and wire, powered lift, lining: what do they ask for?",
        ("seal", "standing", "panel", "lift", "lining"),
    ),
    BoardPage(PARTS, "Parts", "What is bought, what does it cost, how are the bars cut?", ("bought",)),
    BoardPage(PLAN, "Plan", "In which order, until when, and how long is the roof open?", ("plan", "todo")),
    BoardPage(PROOF, "Proof", "Does the built roof do what was reckoned?", ("reading", "tape")),
    BoardPage(PAPERS, "Papers", "What goes to the workshop?"),
    BoardPage(SETTINGS, "Settings", "In which units, words and money?", ("name", "settings"), decides=False),
)

_JUDGED: Final[dict[str, tuple[str, ...]]] = {
    # Weighing, and what the closed shell does to the bed and to those who carry it.
    HAVE: ("MASS-101", "MASS-102", "MOVE-112", "PLAN-103", "PLAN-104"),
    # Reach, grip, room and binding of what carries the shell; where one stands under it.
    MOVES: (
        *(f"MOVE-{number}" for number in (101, 102, 103, 107, 108, 109, 110, 111, 113, 114, 115, 116, 117)),
        "PLAN-101",
        "PLAN-102",
    ),
    # Forces of hand and springs, and whether the springs touch anything.
    LIFTS: (*(f"MOVE-{number}" for number in (104, 105, 106)), *(f"LIFT-{number}" for number in range(201, 224))),
}
PAGE_OF_RULE: Final[dict[str, str]] = {rule: page for page, rules in _JUDGED.items() for rule in rules}
"""The page on which what a rule asks is decided, by the rule's id; others by the beginning of their id."""
_PAGE_OF_KIND: Final[dict[str, str]] = {
    "FIT": FIT,
    **dict.fromkeys(("SEAL", "ROOM", "LIFTER", "SUN", "WIRE", "LINING"), RIDING),
    "PARTS": PARTS,
    "PLAN": PLAN,
    **dict.fromkeys(("WALL", "WATER", "SEW", "WINDOW", "ROLL", "WARM", "STOW"), WALLS),
    **dict.fromkeys(("WIND", "HOLD", "BRACE", "SHELL", "ROAD"), WIND),
    **dict.fromkeys(("CUT", "RING", "VAN"), OPENING),
    "JOINT": JOINTS,
}
HOLD_PAGES: Final = (FIT, WIND, OPENING, JOINTS)
"""The pages whose judgements are those on fit and strength."""

_STANDS_IN: Final[dict[str, str]] = {
    "spring.delivered": "force",
    "shell.mass_by_area": "mass",
    "shell.inertia": "mass",
    "shell.centre_from_rear_rim": "centre",
    "shell.centre_above_rim": "centre_height",
    "shell.thickness_by_material": "thickness",
    "shell.stiffness_by_material": "thickness",
}
"""Key of the file that settles an input which is none itself."""

_PAGE_OF: Final[dict[str, str]] = {part: page.path for page in DECISIONS for part in page.holds}


def page_of(path: str) -> str:
    """Return the path of the page on which a key of the file is edited: "spring.0.foot.x" is on "/lifts".

    Errors: Bug for what is no key of the file.
    """
    steps = path.split(".")
    found = _PAGE_OF.get(".".join(steps[:2])) or _PAGE_OF.get(steps[0])
    if found is None:
        raise Bug(f"no page of the board holds {path}")
    return found


def key_behind(path: str) -> str:
    """Return the key of the file that settles an input: the input itself, or what it follows from.

    >>> key_behind("spring.1.delivered"), key_behind("van.floor_to_roof")
    ('spring.1.force', 'van.floor_to_roof')
    """
    section, _, name = path.rpartition(".")
    instead = _STANDS_IN.get(f"{section.split('.')[0]}.{name}")
    return path if instead is None else f"{section}.{instead}"


def page_of_rule(rule: str) -> str:
    """Return the path of the page on which what a rule asks is decided, by the rule's id. Errors: KeyError."""
    return PAGE_OF_RULE.get(rule) or _PAGE_OF_KIND[rule.partition("-")[0]]


def decisions(checks: Iterable[Check]) -> tuple[Decision, ...]:
    """Return the decisions in their order, each with how those of the judgements stand that are counted on its page.

    Every judgement is counted once. The home page, the papers and the proof count none: what readings say takes
    too long to be asked for beside every other page.
    """
    verdicts: dict[str, list[Verdict]] = {page.path: [] for page in DECISIONS}
    for check in checks:
        verdicts[page_of_rule(check.rule.id)].append(check.verdict)
    return tuple(
        Decision(page.path, page.title, page.asks, tally_of(verdicts[page.path])) for page in DECISIONS if page.decides
    )


def link_of(project: Project, check: Check) -> Link:
    """Return where a click on a judgement leads: its strongest input, or without one the page of its rule."""
    if not check.inputs:
        page = next(page for page in DECISIONS if page.path == page_of_rule(check.rule.id))
        return Link(page.path, "", page.title)
    return link_at(project, key_behind(check.inputs[0]))


def link_at(project: Project, path: str) -> Link:
    """Return where a value of the file is edited and what it is called there; of a section or list its page alone."""
    try:
        label = label_of(path, across=plane_of(project) is CROSSWISE)
    except KeyError:
        return Link(page_of(path), "", section_words(path).heading)
    section, number = [*path.split("."), ""][:2]
    if number.isdecimal():
        entry = getattr(project, section)[int(number)]
        name = getattr(entry, "name", "") or f"{section_words(section).one} {int(number) + 1}"
        label = f"{name}: {label[0].lower()}{label[1:]}"
    elif section == "shell":
        label = f"Shell: {label[0].lower()}{label[1:]}"
    return Link(page_of(path), path, label)
