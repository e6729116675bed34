"""One page to take to the shell and the van: what to lay where, and boxes to fill."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from loftwright.core.views import Box, SheetPage
from loftwright.documents.roof_sheet import cut
from loftwright.documents.typeset import pdf
from loftwright.drawing.measuring import measuring_pictures
from loftwright.drawing.svg import svg

Kind = Literal["length", "mass", "force", "word"]


@dataclass(frozen=True, slots=True)
class Group:
    """Boxes filled in one go, with how to do it. `sections` are those of the project file that belong here."""

    title: str
    how: str
    sections: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ask:
    """One box of the sheet: its number in the pictures, what to write, how many figures."""

    key: str
    label: str
    group: int
    kind: Kind
    mark: str = ""
    figures: int = 1


GROUPS = (
    Group(
        "Weigh on two lines",
        "A batten on edge across the shell, on bathroom scales; the same at the other end, or a block as high. "
        "Shell level, nobody touching. Read three times, write the middle one.",
        ("weighing",),
    ),
    Group(
        "Balance over a pipe",
        "Roll the shell over a pipe until it just tips. Two people. Mark that line, measure to the rear rim.",
        ("balance",),
    ),
    Group(
        "The shell",
        "Upside up on level ground. Heights from the ground to the top, on the middle line.",
        ("shell", "item"),
    ),
    Group(
        "The roof's curve",
        "Straightedge across, level, touching the middle: the gap at the opening's side. "
        "String along, on equal blocks: the depth below it, less the block.",
        ("roof",),
    ),
    Group(
        "Opening and hinge",
        "Along from the opening's rear edge to the cab; up from the roof skin there (down is minus).",
        ("opening", "linkage", "handle", "stop"),
    ),
    Group(
        "Inside and people",
        "From the inside floor up. Reach: the highest bar you can hang on with a bent arm.",
        ("van", "bed", "person"),
    ),
    Group(
        "Springs at hand",
        "Read the label; measure between the centres of the end fittings, rod fully out.",
        ("spring",),
    ),
)

ASKS = (
    Ask("weighing.first_at", "rear rim to first line", 0, "length", "1"),
    Ask("weighing.first_reads", "first line reads", 0, "mass", "2"),
    Ask("weighing.second_at", "rear rim to second line", 0, "length", "3"),
    Ask("weighing.second_reads", "second line reads", 0, "mass", "4"),
    Ask("weighing.whole", "whole shell", 1, "mass", "5"),
    Ask("weighing.balance", "rear rim to the balance line", 1, "length", "6"),
    Ask("shell.length", "length", 2, "length", "7"),
    Ask("shell.width", "width", 2, "length", "8"),
    Ask("shell.height_rear", "height at the rear", 2, "length", "9"),
    Ask("shell.height_middle", "height in the middle", 2, "length", "10"),
    Ask("shell.height_front", "height at the front", 2, "length", "11"),
    Ask("shell.made_of", "made of", 2, "word"),
    Ask("roof.crown", "crown: gap at the side", 3, "length", "12"),
    Ask("roof.camber", "camber: depths at 1/4, 1/2, 3/4", 3, "length", "13", 3),
    Ask("roof.upstand", "upstand round the opening", 3, "length"),
    Ask("opening.length", "opening, length", 4, "length", "14"),
    Ask("opening.width", "opening, width", 4, "length"),
    Ask("linkage.hinge", "hinge: along, up", 4, "length", "15, 16", 2),
    Ask("linkage.spacing", "between left and right hinge", 4, "length"),
    Ask("van.floor_to_roof", "floor to roof skin", 5, "length", "17"),
    Ask("van.roof_build", "skin and lining, thick", 5, "length"),
    Ask("bed.from", "bed board: starts at, ends at", 5, "length", "18, 19", 2),
    Ask("bed.height", "its top below the roof", 5, "length", "20"),
    Ask("person.height", "your height", 5, "length", "21"),
    Ask("person.reach", "your reach", 5, "length"),
    Ask("spring.force", "force on the label, and which", 6, "force"),
    Ask("spring.extended_length", "length, rod out", 6, "length"),
    Ask("spring.stroke", "stroke", 6, "length"),
    Ask("spring.rod_diameter", "rod, tube: diameters", 6, "length", "", 2),
)

_UNITS: dict[str, dict[Kind, str]] = {
    "metric": {"length": "mm", "mass": "kg", "force": "N", "word": ""},
    "imperial": {"length": "in", "mass": "lb", "force": "lb or N", "word": ""},
}


def _group_of(key: str) -> int:
    section = key.split(".")[0].split("[")[0]
    return next((i for i, group in enumerate(GROUPS) if section in group.sections), len(GROUPS))


def _asked(page: SheetPage) -> list[Ask]:
    """Return what the sheet asks: the standing list, fitted to the linkage, and the project's further keys."""
    keys = [box.key for box in page.boxes]
    arms = any(key.startswith("linkage.arm") for key in keys)
    known = {ask.key for ask in ASKS}
    # Springs named one by one take the place of the general lines.
    named = any(key.startswith("spring.") and key.split(".")[1].isdecimal() for key in keys)
    asks = [a for a in ASKS if not (arms and a.key == "linkage.hinge") and not (named and a.group == 6)]
    return [*asks, *(_further(box) for box in page.boxes if box.key not in known)]


def _further(box: Box) -> Ask:
    """Return the box of a key that the sheet has no words for; pins and handle are measured as the hinge is."""
    if box.key.startswith("linkage.arm_") or box.key == "handle.at":
        return Ask(box.key, box.label or box.key, _group_of(box.key), "length", "15, 16", 2)
    return Ask(box.key, box.label or box.key, _group_of(box.key), "word")


def _entry(ask: Ask, box: Box | None, units: str) -> dict[str, Any]:
    value = box.value if box is not None else None
    return {
        "mark": ask.mark,
        "label": cut(ask.label, 60),
        "value": cut(value, 40) if value is not None else "",
        "note": cut(box.note, 40) if box is not None else "",
        "unit": _UNITS[units][ask.kind],
        "figures": ask.figures,
        "unknown": value is None,
    }


def _data(page: SheetPage) -> dict[str, Any]:
    boxes = {box.key: box for box in page.boxes}
    titles = [group.title for group in GROUPS]
    groups: list[dict[str, Any]] = []
    asks = _asked(page)
    for i in range(len(GROUPS) + 1):
        entries = [_entry(ask, boxes.get(ask.key), page.units) for ask in asks if ask.group == i]
        if entries:
            entries.sort(key=lambda e: not e["unknown"])
            how = GROUPS[i].how if i < len(GROUPS) else ""
            title = titles[i] if i < len(GROUPS) else "And also"
            groups.append({"letter": "ABCDEFGH"[i], "title": title, "how": how, "entries": entries})
    # What is still to be measured comes first, each part in the order of its letters.
    groups.sort(key=lambda g: not any(e["unknown"] for e in g["entries"]))
    pictures = measuring_pictures(tuple(f"{'ABCDEF'[i]}  {titles[i]}" for i in range(6)))  # type: ignore[arg-type]
    missing = sum(e["unknown"] for g in groups for e in g["entries"])
    return {
        "name": cut(page.name, 120),
        "subtitle": cut(page.subtitle, 160),
        "made_with": page.made_with,
        "pictures": svg(pictures),
        "groups": groups,
        "missing": missing,
        "cautions": [caution.text for caution in page.cautions],
    }


def measuring_sheet_pdf(page: SheetPage) -> bytes:
    """Return one A4 page: pictures, how to measure, boxes. Known values are written in, unknown ones come first."""
    return pdf("measure.typ", _data(page))
