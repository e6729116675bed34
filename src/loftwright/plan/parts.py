"""Parts as one list: like parts put together, with waste, in whole packs, in a fixed order."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from loftwright.core.errors import Bug
from loftwright.core.fitting_views import GROUPS, Part, PartLine
from loftwright.reference.consumables import PROTECTION

LARGE_PACK: Final = 0.2
"""A larger pack is bought when it leaves no more than this share over [1]; judgement."""


def packs_for(amount: float, pack: float) -> int:
    """Return how many whole packs hold an `amount`, both in one unit [1, m, m2, kg]; nought for nought.

        n = ceil(amount / pack)                                                                  (1)

    Errors: Bug for an amount below nought or a pack of nothing.

    >>> packs_for(14.0, 5.0), packs_for(0.3, 0.1)
    (3, 3)
    """
    if not (math.isfinite(amount) and amount >= 0 and math.isfinite(pack) and pack > 0):
        raise Bug(f"{amount} in packs of {pack} is no amount")
    return math.ceil(amount / pack * (1 - 1e-12) - 1e-9)


def best_pack(amount: float, sizes: Sequence[float]) -> float:
    """Return the largest of the `sizes` that leaves at most `LARGE_PACK` of the `amount` over, else the smallest.

    Both in one unit [1, m, kg].

    >>> best_pack(14.0, (1.0, 5.0, 25.0)), best_pack(23.0, (1.0, 5.0, 25.0)), best_pack(0.4, (1.0, 5.0))
    (5.0, 25.0, 1.0)
    """
    small = [size for size in sizes if packs_for(amount, size) * size <= (1 + LARGE_PACK) * amount]
    return max(small, default=min(sizes))


def line_of(part: Part) -> PartLine:
    """Return a part as it is bought.

        needed = quantity (1 + waste),   amount = pack ceil(needed / pack)                       (2)

    What is counted in pieces is needed in whole pieces.
    """
    if not (math.isfinite(part.waste) and part.waste >= 0):
        raise Bug(f"{part.id}: {part.waste} is no share of waste")
    needed = part.quantity * (1.0 + part.waste)
    if part.unit == "pieces":
        needed = float(packs_for(needed, 1.0))
    packs = packs_for(needed, part.pack)
    return PartLine(part, needed, packs, packs * part.pack)


def merged(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Return the parts with those of one id put together: quantities are added before they are rounded to packs.

    Notes and sources that differ are both kept; needed before the cut is what any of them is needed for.
    Errors: Bug where parts of one id differ in anything else.
    """
    found: dict[str, Part] = {}
    for part in parts:
        known = found.get(part.id)
        if known is None:
            found[part.id] = part
            continue
        joined = replace(
            known,
            quantity=known.quantity + part.quantity,
            source=_both(known.source, part.source),
            note=_both(known.note, part.note),
            before_cut=known.before_cut or part.before_cut,
        )
        same = replace(
            part, quantity=joined.quantity, source=joined.source, note=joined.note, before_cut=joined.before_cut
        )
        if joined != same:
            raise Bug(f"two parts are called {part.id}")
        found[part.id] = joined
    return tuple(found.values())


def _both(one: str, other: str) -> str:
    return "; ".join(dict.fromkeys(said for text in (one, other) for said in text.split("; ") if said))


def protection() -> tuple[Part, ...]:
    """Return what is worn at work: always in the list, whatever the design is."""
    return tuple(
        Part(
            worn.id,
            worn.name,
            "tools & protection",
            float(worn.pieces),
            "pieces",
            note=f"against {worn.against}",
            source="common practice",
        )
        for worn in PROTECTION
    )


def listed(parts: Iterable[Part]) -> tuple[PartLine, ...]:
    """Return all parts as lines, group by group and by name, with what protects those who work; nothing of nothing."""
    given = tuple(parts)
    named = {part.id for part in given}
    every = merged([*given, *(worn for worn in protection() if worn.id not in named)])
    lines = [line_of(part) for part in every if part.quantity > 0]
    return tuple(sorted(lines, key=lambda line: (GROUPS.index(line.part.group), line.part.name, line.part.id)))
