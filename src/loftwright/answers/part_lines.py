"""What every list of parts starts from: one roof's answers, its planned numbers, and how a part and a bar are written.

A part's id stays the same while the part does: it is what [[bought]] calls it by.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Final

from loftwright.answers.draws import Nominal
from loftwright.answers.held_roof import HeldNumbers
from loftwright.answers.walled_roof import WallNumbers
from loftwright.core.choices import MetalName, RingShape
from loftwright.core.fitting_views import CutPiece, CutPlan, Part, PartGroup, PartUnit
from loftwright.core.wording import Wording
from loftwright.project.model import Project

KEY: Final = re.compile(r"[a-z0-9][a-z0-9 .&/-]*")
"""What [[bought]] may call a part by."""
SHAPES: Final[dict[RingShape, str]] = {
    "angle": "angle",
    "square tube": "tube",
    "channel": "channel",
    "flat": "flat bar",
}
METAL_WORDS: Final[dict[MetalName, str]] = {"steel": "steel", "aluminium": "aluminium", "stainless": "stainless steel"}


@dataclass(frozen=True, slots=True)
class Asked:
    """One project with the answers from which its parts follow; `at` hands out planned values by their key."""

    project: Project
    held: HeldNumbers
    walls: WallNumbers
    at: Nominal
    say: Wording

    def number(self, path: str) -> float:
        """Return the planned value of a key, in SI units."""
        return float(self.at(path)[0])


@dataclass(frozen=True, slots=True)
class BarSection:
    """A section of which bars are bought: its `name` and `id`, and the `pieces` cut from it."""

    id: str
    name: str
    group: PartGroup
    source: str
    pieces: tuple[CutPiece, ...]
    legend: tuple[str, ...] = ()
    """What the labels of its pieces stand for, where they are letters of a drawing."""


@dataclass(slots=True)
class Listed:
    """What one part of the list gives: parts, sections to cut bars from, and what was taken for granted."""

    parts: list[Part] = field(default_factory=list)
    bars: list[BarSection] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def add(
        self,
        id: str,
        name: str,
        group: PartGroup,
        quantity: float,
        source: str,
        *,
        unit: PartUnit = "pieces",
        waste: float = 0.0,
        sold_as: str = "",
        note: str = "",
        before_cut: bool = True,
    ) -> None:
        """Add one part; `quantity` net of waste. What is sold by length goes by whole tenths of a metre."""
        pack = 0.1 if unit in ("m", "m2") else 1.0
        self.parts.append(Part(id, name, group, quantity, unit, waste, pack, sold_as, source, note, before_cut))


Maker = Callable[[Asked], Listed]


def key_word(text: str, taken: Iterable[str] = ()) -> str:
    """Return a text as a part's id: small letters, digits and dashes, unlike those that are `taken`.

    >>> key_word("Köder, 5 mm"), key_word("  ", ("part",))
    ('koder-5-mm', 'part-2')
    """
    bare = unicodedata.normalize("NFKD", text.casefold()).encode("ascii", "ignore").decode()
    word = re.sub(r"[^a-z0-9]+", "-", bare).strip("-") or "part"
    known, number, found = set(taken), 1, word
    while found in known:
        number += 1
        found = f"{word}-{number}"
    return found


def section_of_bar(say: Wording, metal: MetalName, shape: RingShape, sizes: Sequence[float]) -> tuple[str, str]:
    """Return id and name of a section: `sizes` are its width, height and wall [m], of a flat width and thickness."""
    word = SHAPES[shape]
    millimetres = "-".join(f"{1000.0 * size:.4g}" for size in sizes)
    texts = " x ".join(say.short_length(size) for size in sizes)
    return key_word(f"{word} {metal} {millimetres}"), f"{METAL_WORDS[metal]} {word} {texts}"


def together(sections: Iterable[BarSection]) -> tuple[BarSection, ...]:
    """Return the sections with those of one id put together, in the order in which they come first."""
    found: dict[str, BarSection] = {}
    for one in sections:
        known = found.get(one.id)
        if known is None:
            found[one.id] = one
            continue
        source = known.source if one.source in known.source.split("; ") else f"{known.source}; {one.source}"
        pieces, legend = known.pieces + one.pieces, known.legend + one.legend
        found[one.id] = BarSection(one.id, known.name, known.group, source, pieces, legend)
    return tuple(found.values())


def pieces_of(label: str, length: float, count: int, mitre: float = 0.0) -> tuple[CutPiece, ...]:
    """Return like pieces `length` [m] long, both ends `mitre` [rad] off square."""
    return (CutPiece(label, length, (mitre, mitre)),) * count


def bars_bought(
    section: BarSection, plan: CutPlan, say: Wording, *, one_length: bool, before_cut: bool = True
) -> tuple[Part, ...]:
    """Return the bars that a plan takes of a section, by their lengths, and pieces to order that no bar holds.

    `one_length`: bars of one length only are sold; otherwise their length stands in the id.
    """
    found = []
    lengths = [bar.stock.length for bar in plan.bars]
    labels = dict.fromkeys(piece.label for bar in plan.bars for piece in bar.pieces)
    names = ", ".join(section.legend or labels)
    for length in sorted(set(lengths)):
        sold = f"bar of {say.length(length)}"
        id_ = section.id if one_length else f"{section.id}-{1000.0 * length:.0f}"
        found.append(
            Part(
                id_,
                section.name,
                section.group,
                float(lengths.count(length)),
                "pieces",
                sold_as=sold,
                source=section.source,
                note=f"for {names}",
                before_cut=before_cut,
            )
        )
    for label in dict.fromkeys(piece.label for piece in plan.too_long):
        mine = [piece for piece in plan.too_long if piece.label == label]
        longest = max(piece.length for piece in mine)
        found.append(
            Part(
                f"{section.id}-{key_word(label)}",
                f"{section.name}, {label}",
                section.group,
                float(len(mine)),
                "pieces",
                sold_as=f"ordered {say.length(longest)} long",
                source=section.source,
                note="longer than the bars that are sold",
                before_cut=before_cut,
            )
        )
    return tuple(found)
