"""The windows in the walls, ready to show: where they lie, their layers, how far they keep clear."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loftwright.answers.hold_said import answer
from loftwright.answers.views import check_row
from loftwright.answers.walled_windows import WindowFound
from loftwright.cloth.windows import Box
from loftwright.core.checks import Check
from loftwright.core.views import Fact, Grid
from loftwright.core.wall_views import WallSection
from loftwright.core.wording import Wording

if TYPE_CHECKING:
    from loftwright.answers.walled_roof import WallNumbers


def windows_section(walls: WallNumbers, checks: tuple[Check, ...], say: Wording) -> WallSection:
    """Return what is said about the windows."""
    found = walls.found.pieces.windows
    mine = tuple(check for check in checks if check.rule.id.startswith("WINDOW-"))
    if not found.windows:
        says = "No [[window]] is written: the walls are whole."
        if mine:
            says = "No window lies in a wall: there is no cloth where they are written."
    else:
        nearest = min(found.windows, key=_least)
        known = f"the nearest thing to a seam, an edge or a crease is the {nearest.name}, {_near(nearest, say)}"
        says = answer(mine, "The windows fit", "The windows do not fit yet", known)
    return WallSection(
        "windows",
        "Windows",
        says,
        _facts(found.windows, say),
        (_places(walls, say), *(_layers(one, say) for one in found.windows)) if found.windows else (),
        tuple(check_row(check, say) for check in mine),
        found.said,
    )


def _least(one: WindowFound) -> float:
    return min(one.crease, *(far for _, far in one.clear))


def _near(one: WindowFound, say: Wording) -> str:
    least = _least(one)
    if least >= 0.0:
        return f"{say.short_length(least)} away"
    return f"{say.short_length(-least)} beyond it"


def _facts(windows: tuple[WindowFound, ...], say: Wording) -> tuple[Fact, ...]:
    if not windows:
        return ()
    clear = sum(_area(dict(one.layers)["clear sheet"]) for one in windows if "clear sheet" in dict(one.layers))
    found = [
        Fact("To see through", say.area(sum(_area(one.sight) for one in windows)), f"windows: {len(windows)}"),
        Fact("Zip or hook tape", say.length(sum(one.tape for one in windows)), "with laps"),
    ]
    if clear:
        found.append(Fact("Clear sheet", say.area(clear), "as cut"))
    return tuple(found)


def _area(box: Box) -> float:
    return (box.right - box.left) * (box.top - box.bottom)


def _signed(value: float, say: Wording) -> str:
    return say.short_length(value) if value >= 0.0 else f"{say.short_length(-value)} beyond"


def _places(walls: WallNumbers, say: Wording) -> Grid:
    rows = []
    for one in walls.found.pieces.windows.windows:
        clear = dict(one.clear)
        panel = walls.found.panels.panels[one.panel]
        rows.append(
            (
                one.name,
                f"{panel.number} {panel.name}",
                *(_signed(clear[edge], say) for edge in ("bottom", "top", "left seam", "right seam")),
                _signed(one.crease, say),
            )
        )
    keep = walls.rows.inputs["sewing.keep_out"].value.nominal
    return Grid(
        "How far the largest layer keeps clear",
        ("Window", "Panel", "Lower edge", "Upper edge", "Left edge", "Right edge", "Crease"),
        tuple(rows),
        f"Seen from outside; {say.short_length(keep)} are asked for.",
    )


def _layers(one: WindowFound, say: Wording) -> Grid:
    rows = []
    for name, box in one.layers:
        size = f"{say.short_length(box.right - box.left)} x {say.short_length(box.top - box.bottom)}"
        rows.append((name, size, say.short_length(box.radius), say.length(box.perimeter)))
    tape = f" Tape: {say.length(one.tape)}." if one.tape else " No tape: it does not open."
    return Grid(
        f"Layers of the {one.name}",
        ("Layer", "Size", "Corners", "Round it"),
        tuple(rows),
        f"One sight line, and each layer with its own outline.{tape}",
    )
