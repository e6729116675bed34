"""What forms call the keys on cloth walls, water, warmth and the fold."""

from __future__ import annotations

from typing import Final

_POINT: Final = {"x": "along the van", "y": "left of the middle", "z": "height"}

WALL_WORDS: Final[dict[str, str]] = {
    "walls.lower_outset": "lower line outside the opening's edge by",
    "walls.lower_height": "lower line above the roof's skin",
    "walls.lower_radius": "corner radius of the lower line",
    "walls.upper_inset": "upper line inside the shell's rim by",
    "walls.upper_height": "upper line above the rim",
    "walls.upper_radius": "corner radius of the upper line",
    "walls.rim_error": "points of both lines may be off by",
    "walls.error_limit": "outline of a panel may be off by",
    "walls.seams": "panels meet",
    "walls.seam_past": "seams past the corner's curve by",
    "walls.split_sides": "each side wall in two halves?",
    "walls.ease": "ease in height",
    **{f"lower_point.{key}": words for key, words in _POINT.items()},
    **{f"upper_point.{key}": words for key, words in _POINT.items()},
    "seam.at": "along the lower line",
    "layer.name": "what you call it",
    "layer.role": "layer of the wall",
    "layer.mass": "weight per area",
    "layer.thickness": "thickness",
    "layer.bends": "bending length",
    "layer.roll_width": "width of the roll",
    "layer.selvedge": "lost at each edge of the roll",
    "layer.shrink_along": "shrinks along the roll by",
    "layer.shrink_across": "shrinks across the roll by",
    "layer.price": "price of a metre",
    "layer.conductivity": "lets heat through, W/(m K)",
    "layer.grain": "roll runs",
    "layer.nap": "has it a way up?",
    "layer.stops_short": "ends before the corners by",
    "layer.removable": "taken down before closing?",
    "window.name": "what you call it",
    "window.wall": "wall",
    "window.along": "right of the wall's middle, from outside",
    "window.bottom": "lower edge above the lower line",
    "window.width": "width to see through",
    "window.height": "height to see through",
    "window.corner_radius": "corner radius",
    "window.clear": "a clear sheet?",
    "window.screen": "an insect screen?",
    "window.curtain": "a curtain or flap?",
    "window.film": "thickness of the clear sheet",
    "window.film_bends": "tightest bend of the clear sheet, radius",
    "window.opens": "its layers open by",
    "sewing.seam": "panels are joined by",
    "sewing.seam_allowance": "allowance at seams",
    "sewing.lower_edge": "lower edge ends in",
    "sewing.lower_allowance": "turned in at the lower edge",
    "sewing.upper_edge": "upper edge ends in",
    "sewing.upper_allowance": "beyond the upper line",
    "sewing.window_turn": "turned in round windows",
    "sewing.keep_out": "windows keep off seams and edges by",
    "sewing.marks": "between match marks",
    "sewing.stitch": "length of a stitch",
    "sewing.spare": "spare cloth of each roll",
    "water.parked": "parked van may lean by",
    "water.splash": "rain splashes up by",
    "water.lap": "cloth hangs below its lower line by",
    "water.end_lap": "ends lap by",
    "warmth.inside": "air inside",
    "warmth.outside": "air outside",
    "warmth.humidity": "humidity inside",
    "warmth.heater": "heater gives, W",
    "stow.cavity": "height for the folded cloth",
    "stow.depth": "clear inward of the lower line",
    "stow.drop": "clear below the lower line",
    "stow.ledge": "top of the ring, inward",
    "stow.bar_in": "latches' bar inward of the upper line by",
    "stow.bar_below": "that bar below the upper line by",
    "stow.pull": "what draws the cloth in",
    "stow.pull_force": "draws, per metre of wall",
    "stow.pull_at": "draws at a share of the height",
    "stow.hold_middle": "middle held near the ring?",
    "stow.quilted": "layers sewn together all over?",
    "stow.friction": "friction of cloth",
    "stow.seconds": "comes down within",
    "stow.vent": "open area for the air",
    "stow.fan": "vent blows out, m³ an hour",
    "stow.push_limit": "fold may push up, per metre of rim",
    "stow.starts": "ways of hanging tried",
}
"""What forms call each key."""

_PLACE = "Counts from the rear edge of the opening towards the cab."
WALL_HELP: Final[dict[str, str]] = {
    "lower_point.x": _PLACE,
    "upper_point.x": _PLACE,
    "seam.at": "Where any place is written, all seams are where these stand. Counts from the middle of the rear end "
    "over the right side.",
    "window.along": "Counts from the middle of the wall's lower line; seen from outside, to the right is positive.",
    "stow.bar_in": "Left out where no bar is in the fold's way.",
}
"""What is said of a key where its meaning speaks of other keys."""

WALL_CHOICES: Final[dict[str, dict[str, str]]] = {
    "walls.seams": {
        "mid corner": "in the middle of each corner",
        "past the corner": "on the sides, past the corners",
        "one strip": "at one place only",
    },
    "layer.role": {"outer": "outer cloth", "lining": "lining", "insulation": "insulation"},
    "sewing.seam": {
        "plain": "a plain seam",
        "lapped": "a lapped seam",
        "felled": "a flat-felled seam",
    },
    "stow.pull": {
        "none": "nothing",
        "cords": "several short cords",
        "elastic": "one elastic all round",
    },
}
"""What people read for a word of the file."""

WALL_SELDOM: Final[frozenset[str]] = frozenset(
    {
        "walls.error_limit",
        "walls.lower_radius",
        "walls.upper_radius",
        "layer.selvedge",
        "layer.conductivity",
        "sewing.stitch",
        "sewing.marks",
        "sewing.window_turn",
        "water.end_lap",
        "stow.friction",
        "stow.push_limit",
        "stow.starts",
        "stow.fan",
    }
)
"""Keys that few people change."""

WALL_SECTIONS: Final[dict[str, tuple[str, ...]]] = {
    "walls": ("Walls", "The two lines of the cloth", "Where the cloth is fastened below and above, and its seams."),
    "lower_point": (
        "Point below",
        "Measured points of the lower line",
        "Eight or more all round: the line is then fitted to them.",
        "Add a point of the lower line",
        "Take this point out",
    ),
    "upper_point": (
        "Point above",
        "Measured points of the upper line",
        "Eight or more all round, shell closed: the line is then fitted to them.",
        "Add a point of the upper line",
        "Take this point out",
    ),
    "seam": (
        "Seam",
        "Seams at places of their own",
        "Where any is written, all seams are where these stand.",
        "Add a seam",
        "Take this seam out",
    ),
    "layer": (
        "Cloth",
        "Cloth from the roll",
        "Outer cloth, lining and insulation, one entry for each.",
        "Add a cloth",
        "Take this cloth out",
    ),
    "window": (
        "Window",
        "Windows",
        "Given by the line to which one sees through; each layer's own outline follows.",
        "Add a window",
        "Take this window out",
    ),
    "sewing": ("Sewing", "Seams, edges and marks", "What is added to the stitch lines."),
    "water": ("Water", "Water at the lower edge", "Rain, and how the van may stand."),
    "warmth": ("Warmth", "A cold night", "Air inside and outside."),
    "stow": ("Fold", "Room for the folded cloth", "Where the cloth goes when the roof is closed, and what draws it."),
}
"""One of it, heading, note, and the words of the buttons."""

_LINE: Final = (
    "Measure the cloth's lines",
    30,
    "Stick tape where the cloth will be fastened. From the middle line and the opening's rear edge, measure to the "
    "middle of each side and to both ends of each corner's curve.",
)
_SAMPLE: Final = ("Test a sample of the cloth", 20, "Cut 500 mm by 500 mm: weigh it, wet it, dry it, measure it again.")
_FOLD_ROOM: Final = (
    "Measure the room for the fold",
    20,
    "Lay lumps of clay on the ring, close the shell, open it and measure them; tape inward and down from the ring.",
)

WALL_MEASURES: Final[dict[str, tuple[str, int, str]]] = {
    **dict.fromkeys(
        (
            *(f"walls.{key}" for key in ("lower_outset", "lower_height", "lower_radius", "rim_error")),
            *(f"walls.{key}" for key in ("upper_inset", "upper_height", "upper_radius")),
            *(f"{line}.{axis}" for line in ("lower_point", "upper_point") for axis in "xyz"),
        ),
        _LINE,
    ),
    **dict.fromkeys((f"layer.{key}" for key in ("mass", "thickness", "shrink_along", "shrink_across")), _SAMPLE),
    "layer.bends": (
        "Let a strip of the cloth bend",
        10,
        "Push a strip 50 mm wide over a table's edge under a ruler until the line from the edge to its end dips by "
        "41.5 degrees: half of what hangs over is the bending length.",
    ),
    "window.film_bends": (
        "Bend the clear sheet",
        10,
        "On a cold morning bend a sample round pipes of smaller and smaller size until it whitens.",
    ),
    **dict.fromkeys((f"stow.{key}" for key in ("cavity", "depth", "drop", "ledge")), _FOLD_ROOM),
}
"""How a key is found out: what to do, minutes, how."""
