"""One page to take to the shell and the van: what to lay where, and boxes to fill."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from loftwright.core.spelling import own_words
from loftwright.core.views import Box, SheetPage
from loftwright.documents.roof_sheet import cut
from loftwright.documents.typeset import pdf
from loftwright.drawing.measuring import measuring_pictures
from loftwright.drawing.svg import svg
from loftwright.reference.sheet_labels import IN_THE_FILE, LABELS

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
    group: int
    kind: Kind
    mark: str = ""
    figures: int = 1
    label: str = ""
    """What it is called, where that is not as in `LABELS`."""


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
        "String along, on equal blocks: the deepest gap below it, less the block.",
        ("roof",),
    ),
    Group(
        "Opening and hinge",
        "Along from the opening's rear edge to the cab; up from the roof skin there (down is minus).",
        ("opening", "linkage", "handle", "stop"),
    ),
    Group(
        "Inside and people",
        "From the inside floor up. Stretch your fist up a wall and mark it; stand in shoes.",
        ("van", "bed", "person"),
    ),
    Group(
        "Springs at hand",
        "Read the label; measure between the centres of the end fittings, rod fully out.",
        ("spring",),
    ),
)

ASKS = (
    Ask("weighing.first_at", 0, "length", "1"),
    Ask("weighing.first_reads", 0, "mass", "2"),
    Ask("weighing.second_at", 0, "length", "3"),
    Ask("weighing.second_reads", 0, "mass", "4"),
    Ask("weighing.whole", 1, "mass", "5"),
    Ask("weighing.balance", 1, "length", "6"),
    Ask("shell.length", 2, "length", "7"),
    Ask("shell.width", 2, "length", "8"),
    Ask("shell.height_rear", 2, "length", "9"),
    Ask("shell.height_middle", 2, "length", "10"),
    Ask("shell.height_front", 2, "length", "11"),
    Ask("shell.made_of", 2, "word"),
    Ask("roof.crown", 3, "length", "12"),
    Ask("roof.camber", 3, "length", "13"),
    Ask("roof.upstand", 3, "length"),
    Ask("opening.length", 4, "length", "14"),
    Ask("opening.width", 4, "length"),
    Ask("linkage.hinge", 4, "length", "15, 16", 2),
    Ask("linkage.spacing", 4, "length"),
    Ask("van.floor_to_roof", 5, "length", "17"),
    Ask("van.roof_build", 5, "length"),
    Ask("bed.from", 5, "length", "18, 19", 2),
    Ask("bed.height", 5, "length", "20"),
    Ask("person.height", 5, "length", "21"),
    Ask("person.reach", 5, "length"),
    Ask("spring.force", 6, "force"),
    Ask("spring.extended_length", 6, "length"),
    Ask("spring.stroke", 6, "length"),
    Ask("spring.rod_diameter", 6, "length"),
    Ask("spring.tube_diameter", 6, "length"),
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
    arms = any(key.startswith(("linkage.arm", "linkage.guide")) for key in keys)
    known = {ask.key for ask in ASKS}
    # Springs named one by one take the place of the general lines.
    named = any(key.startswith("spring.") and key.split(".")[1].isdecimal() for key in keys)
    asks = [a for a in ASKS if not (arms and a.key == "linkage.hinge") and not (named and a.group == 6)]
    return [*asks, *(_further(box) for box in page.boxes if box.key not in known)]


def _further(box: Box) -> Ask:
    """Return the box of a key that is not on the standing list; pins are measured as the hinge is."""
    if box.key.startswith("linkage.arm_") or box.key in ("linkage.guide", "linkage.guide_far"):
        return Ask(box.key, _group_of(box.key), "length", "15, 16", 2, box.label)
    if box.key == "handle.at":
        return Ask(box.key, _group_of(box.key), "length", figures=2, label=box.label)
    return Ask(box.key, _group_of(box.key), "word", label=box.label)


def _entry(ask: Ask, box: Box | None, units: str) -> dict[str, Any]:
    value = box.value if box is not None else None
    return {
        "mark": ask.mark,
        "label": cut(ask.label or LABELS.get(ask.key, ask.key), 60),
        "key": cut(_in_the_file(ask.key), 40),
        "value": cut(value, 40) if value is not None else "",
        "note": cut(box.note, 40) if box is not None else "",
        "unit": _UNITS[units][ask.kind],
        "figures": ask.figures,
        "unknown": value is None,
        "light": box is not None and box.light,
    }


def _in_the_file(key: str) -> str:
    """Return where the number of a box stands in the project file; the only kind of spring is its number 0."""
    section, _, rest = key.partition(".")
    if section == "spring" and not rest.split(".")[0].isdecimal():
        return f"spring.0.{rest}"
    return IN_THE_FILE.get(key, key)


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
    return pdf("measure.typ", _data(page), page.words, own_words([page.name]))
