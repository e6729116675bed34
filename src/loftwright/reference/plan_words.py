"""What forms call the keys on what rides on the roof, on parts and on the order of work."""

from __future__ import annotations

from typing import Final

PLAN_WORDS: Final[dict[str, str]] = {
    "panel.power": "power in full sun, W",
    "panel.length": "length fore and aft",
    "panel.width": "width across",
    "panel.gap": "gap under it",
    "panel.fixings": "feet or bolts",
    "panel.fixing_limit": "one foot bears",
    "panel.volts": "working voltage, V",
    "panel.short_circuit": "short-circuit current, A",
    "panel.latitude": "latitude",
    "panel.cloud": "clouds take away",
    "panel.losses": "lost in heat, dirt and wire",
    "panel.use": "used each day, Wh",
    "panel.first_month": "first month that counts",
    "panel.last_month": "last month that counts",
    "panel.wire_length": "cable, one way",
    "panel.wire_area": "each core, mm²",
    "panel.cable": "diameter of the cable",
    "panel.fuse": "fuse at the battery, A",
    "panel.drop_limit": "voltage that may be lost",
    "panel.loop_van": "last clip on the van",
    "panel.loop_shell": "first clip on the shell",
    "panel.loop_length": "cable between these clips",
    "lift.per_side": "how many on each side",
    "lift.foot_on": "foot is bolted to",
    "lift.foot": "foot",
    "lift.head_on": "head is bolted to",
    "lift.head": "head",
    "lift.force": "push of one",
    "lift.holds": "one holds without current",
    "lift.stroke": "stroke",
    "lift.shortest": "length drawn in",
    "lift.rod": "diameter of the rod",
    "lift.speed": "speed at full load",
    "lift.amps": "current at full load, A",
    "lift.idle": "current without load, A",
    "lift.volts": "supply, V",
    "lift.seconds": "opening may take",
    "lift.pinch": "must stop at the lip at",
    "lift.cut_off": "does a current limit stop it?",
    "lift.by_hand": "can it be undone by hand?",
    "lining.insulation": "insulation",
    "lining.board": "inner board",
    "lining.density": "weight of the insulation by volume",
    "lining.board_mass": "weight of the board per area",
    "lining.conductivity": "insulation lets heat through, W/(m K)",
    "lining.lights": "all lamps, W",
    "lining.there": "weighed with it already?",
    "seal.bend": "tightest corner",
    "seal.sample": "sample on scales, length",
    "seal.height": "sample, free height",
    "seal.squeezed": "sample, squeezed to",
    "seal.pressed": "scales read",
    "standing.height": "stand upright at a height of",
    "standing.area": "floor to stand on",
    "plan.start": "first day of work",
    "plan.finish": "done by",
    "plan.today": "plan anew from",
    "plan.hours": "working hours a day",
    "plan.days": "workdays a week",
    "plan.people": "helpers on the day of the cut",
    "plan.trial_frame": "tried on a timber frame first?",
    "plan.shell_is": "the shell is",
    "plan.open_days": "roof may be open for",
    "plan.budget": "money for all of it",
    "plan.bar": "metal bars are sold in",
    "plan.kerf": "width of a saw cut",
    "bought.part": "part",
    "bought.name": "what you call it",
    "bought.count": "needed",
    "bought.price": "price of one unit",
    "bought.ordered": "ordered or bought",
    "bought.have": "in the garage",
    "bought.note": "note",
    "todo.task": "task",
    "todo.name": "what is to be done",
    "todo.after": "comes after",
    "todo.least": "takes at least",
    "todo.likely": "likely takes",
    "todo.most": "takes at most",
    "todo.done": "done on",
    "todo.took": "took",
}
"""What forms call each key."""

PLAN_HELP: Final[dict[str, str]] = {
    "panel.gap": "Nothing where it is bonded on.",
    "standing.height": "Yours, or that of the tallest who sleeps there.",
    "plan.start": "As year-month-day.",
    "plan.finish": "As year-month-day.",
    "plan.today": "As year-month-day. What is not ticked off is planned from this day on.",
    "plan.days": "Saturday and Sunday first, then Friday and back.",
    "bought.part": "As the list of parts names it.",
    "todo.task": "As the order of work names it.",
    "todo.done": "As year-month-day.",
}
"""What is said of a key where its meaning speaks of other keys."""

PLAN_CHOICES: Final[dict[str, dict[str, str]]] = {
    "plan.shell_is": {"bought": "bought or salvaged", "built": "built by you"},
}
"""What people read for a word of the file."""

PLAN_SELDOM: Final[frozenset[str]] = frozenset(
    {
        "panel.losses",
        "panel.cable",
        "lift.rod",
        "lift.idle",
        "lift.pinch",
        "lining.conductivity",
        "plan.today",
        "plan.kerf",
        "bought.count",
        "todo.least",
        "todo.most",
    }
)
"""Keys that few people change."""

PLAN_SECTIONS: Final[dict[str, tuple[str, ...]]] = {
    "panel": (
        "Panel",
        "Solar panel and its cable",
        "What it yields, flat and raised, and the cable that moves with the roof. Its weight stands among what rides "
        "on the shell.",
        "Add a solar panel",
        "Take the panel out",
    ),
    "lift": (
        "Powered lift",
        "Lifting by current",
        "Actuators that lift the roof, alone or beside springs.",
        "Add a powered lift",
        "Take the powered lift out",
    ),
    "lining": (
        "Lining",
        "Lining and lamps",
        "What lines the shell inside.",
        "Add a lining",
        "Take the lining out",
    ),
    "seal": ("Seal", "The seal that is bought", "A sample of it on scales, and the corners it goes round."),
    "standing": ("Standing room", "Room to stand", "How high and on how much floor."),
    "plan": ("Plan", "When, and with whom", "Days, hours, helpers, money."),
    "bought": (
        "Part",
        "What is bought",
        "Prices, what is ordered and what is there, one entry for each part.",
        "Add a part",
        "Take this part out",
    ),
    "todo": (
        "Task",
        "What is done",
        "Tasks ticked off, or with hours of your own, one entry for each.",
        "Add a task",
        "Take this task out",
    ),
}
"""One of it, heading, note, and the words of the buttons."""

PLAN_MEASURES: Final[dict[str, tuple[str, int, str]]] = {
    "panel.fixing_limit": (
        "Pull a foot of the panel",
        15,
        "Fix one foot to an offcut of the same laminate and pull it with a luggage scale over a lever.",
    ),
    "panel.use": ("Add up what you run", 15, "Watts times hours of each thing in a day; the sum is the use."),
    "panel.short_circuit": ("Read the panel's label", 5, "The short-circuit current stands on its back."),
    "seal.bend": ("Lay the seal round cups", 10, "Smaller and smaller cups, until a crease shows."),
    "seal.pressed": (
        "Squeeze a piece of seal on scales",
        10,
        "A hand's length between two boards on kitchen scales: note height and reading.",
    ),
}
"""How a key is found out: what to do, minutes, how."""
