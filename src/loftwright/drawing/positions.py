"""Positions of pivots and spring ends, written under the closed roof with leaders up to the points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from loftwright.core.errors import Bug
from loftwright.core.scene import Scene, Spot
from loftwright.core.wording import Wording
from loftwright.drawing import parts
from loftwright.drawing.page import Line, Polyline, Primitive, Text, spread, text_width
from loftwright.drawing.parts import View

_SMALL = 2.2


@dataclass(frozen=True, slots=True)
class Mark:
    """One labelled position under the closed roof."""

    name: str
    at: Spot
    lines: tuple[str, ...]


def lettered(scene: Scene) -> tuple[str, ...]:
    """Return a letter for each spring, as used in the drawing."""
    return tuple(chr(ord("A") + i % 26) for i in range(len(scene.springs)))


def called(word: str, letters: Sequence[str], many: str = "") -> str:
    """Return what springs (or their ends) at one place are called together."""
    if len(letters) == 1:
        return f"{word} {letters[0]}"
    return f"{many or word} {letters[0]}{', ' if len(letters) == 2 else ' to '}{letters[-1]}"


def positions_of(scene: Scene, says: Wording) -> list[Mark]:
    """Return the positions worth writing, from the rear to the front; springs with ends in one place share one."""

    def mark(name: str, at: Spot, *, height: bool = True) -> Mark:
        lines = (
            (name, says.short_length(at[0]), says.short_length(at[1])) if height else (name, says.short_length(at[0]))
        )
        return Mark(name, at, lines)

    rear, front = scene.opening
    marks = [
        mark(f"{scene.edges[0]} edge", (rear, parts.height_of(scene.roof_profile, rear)), height=False),
        mark(f"{scene.edges[1]} edge", (front, parts.height_of(scene.roof_profile, front)), height=False),
    ]
    marks += [mark(p.name, p.at) for p in scene.pivots]
    ends: dict[tuple[str, float, float], tuple[Spot, list[str]]] = {}
    for letter, spring in zip(lettered(scene), scene.springs, strict=True):
        for word, at in (("foot", spring.foot), ("head", spring.head)):
            ends.setdefault((word, round(at[0], 4), round(at[1], 4)), (at, []))[1].append(letter)
    marks += [mark(called(word, letters), at) for (word, _, _), (at, letters) in ends.items()]
    return sorted(marks, key=lambda m: m.at[0])


def _mark_width(mark: Mark) -> float:
    return max(text_width(line, _SMALL, bold=i == 0) for i, line in enumerate(mark.lines)) + 0.6


def rows_needed(marks: Sequence[Mark], width: float) -> int:
    """Return in how many rows the positions fit into `width` [mm]."""
    for rows in range(1, len(marks) + 1):
        if all(sum(_mark_width(m) + 1.2 for m in marks[k::rows]) <= width for k in range(rows)):
            return rows
    raise Bug("a label under the drawing is wider than the drawing")


ROW = 3 * _SMALL * 1.14 + 1.6


def _in_turn(wishes: Sequence[float], gaps: Sequence[tuple[float, float]]) -> list[float]:
    """Return for each wish, in order, a place in its own gap: the nearest that leaves gaps for those still to come."""
    chosen: list[float] = []
    first = 0

    def place(j: int, wish: float) -> float:
        low, high = gaps[min(j, len(gaps) - 1)]
        return min(max(wish, low), high)

    for i, wish in enumerate(wishes):
        last = len(gaps) - (len(wishes) - i)
        k = min(range(first, max(first, last) + 1), key=lambda j, w=wish: abs(place(j, w) - w))  # type: ignore[misc]
        chosen.append(place(k, wish))
        first = k + 1
    return chosen


def positions_under(marks: Sequence[Mark], view: View, y: float, x0: float, x1: float) -> list[Primitive]:
    """Return the row (or rows) of positions under the closed roof, with leaders up to the points."""
    lines: list[Primitive] = []
    words: list[Primitive] = []
    rows = rows_needed(marks, x1 - x0)
    gaps: list[tuple[float, float]] = []
    for k in range(rows):
        chosen = marks[k::rows]
        widths = [_mark_width(m) for m in chosen]
        # Where a row lies below, its leaders pass at the right, too.
        end = x1 if rows == 1 else min(x1, max(x1 - 1.6, x0 + sum(widths) + 1.2 * (len(widths) - 1)))
        centres = spread([view.at(m.at)[0] for m in chosen], widths, x0, end, 1.2)
        top = y + 4.0 + k * ROW
        ways = spread([view.at(m.at)[0] for m in chosen], [0.0] * len(chosen), x0, x1, 0.8)
        if gaps:
            ways = _in_turn(ways, gaps)
        for mark, cx, way in zip(chosen, centres, ways, strict=True):
            px, py = view.at(mark.at)
            lines.append(Line((px, py), (px, y), "leader"))
            if k == 0:
                lines.append(Line((px, y), (cx, top - 0.4), "leader"))
            else:
                lines.append(Polyline(((px, y), (way, y + 4.0), (way, top - 2.0), (cx, top - 0.4)), "leader"))
            words += [
                Text(
                    (cx, top + _SMALL * (0.85 + 1.14 * i)),
                    line,
                    _SMALL,
                    "middle",
                    "note" if i else "ink",
                    i == 0,
                    0.0,
                    True,
                )
                for i, line in enumerate(mark.lines)
            ]
        sides = [(c - w / 2, c + w / 2) for c, w in zip(centres, widths, strict=True)]
        within = [(a[1] + 0.6, b[0] - 0.6) for a, b in pairwise(sides)]
        gaps = [(x0 - 1.0, sides[0][0] - 0.6), *within, (min(sides[-1][1] + 0.6, x1), x1)]
    return [*lines, *words]
