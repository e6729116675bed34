"""Before the roof comes down: which windows must be opened first, and the steps in plain words."""

from __future__ import annotations

from dataclasses import dataclass

from loftwright.cloth.fold import crease_radius
from loftwright.cloth.fold_ways import Ways
from loftwright.cloth.trapped_air import Opened


@dataclass(frozen=True, slots=True)
class Pane:
    """A window as the fold sees it.

    `low` and `high`: from the lower line to the edges of its largest layer, as shares of the wall's height [1];
    `least_radius` to which its sheet may be bent [m], 0 for mesh and curtain; `opens`: whether it can be rolled up.
    """

    name: str
    wall: str
    low: float
    high: float
    least_radius: float
    opens: bool


@dataclass(frozen=True, slots=True)
class First:
    """A window to see to before lowering, with the reason; `must` where the fold would harm it."""

    pane: Pane
    must: bool
    why: str


def creases(folds: int) -> tuple[float, ...]:
    """Return where a wall folded that often creases, as shares of its height: i / (2 folds) (1) inside the ends.

    >>> creases(1), creases(2)
    ((0.5,), (0.25, 0.5, 0.75))
    """
    return tuple(i / (2 * folds) for i in range(1, 2 * folds))


def windows_first(panes: tuple[Pane, ...], folds: int, gap: float) -> tuple[First, ...]:
    """Return the windows to open or roll up before lowering, the stiffest first.

    A pane whose largest layer lies across a crease bends there to R = gap / 2.396 (`fold.crease_radius`), `gap` [m]
    being the height that the fold has; it must come out of the way where its sheet may not be bent so far. A stiff one
    that crosses no crease still is the first to steer the fold. `folds` per wall.
    Source: plane elastica, derivation.
    """
    have = float(crease_radius(gap))
    found = []
    for pane in panes:
        crossed = [at for at in creases(folds) if pane.low < at < pane.high]
        if crossed and pane.least_radius > have:
            way = "roll it up" if pane.opens else "it cannot be rolled up: move it clear of the crease"
            why = f"its sheet would be creased to {have * 1000:.0f} mm, least {pane.least_radius * 1000:.0f} mm: {way}"
            found.append(First(pane, True, why))
        elif crossed:
            found.append(
                First(pane, False, "it lies across a crease but bears it: undo its zip so that the layers slip")
            )
        elif pane.least_radius > 0:
            found.append(First(pane, False, "it is stiffer than the wall: guide it in by hand"))
    return tuple(sorted(found, key=lambda one: (not one.must, -one.pane.least_radius)))


def tucking_card(
    windows: tuple[First, ...],
    ways: tuple[Ways, ...],
    opened: Opened | None,
    seconds: float,
    *,
    fan: bool = False,
    lining_comes_down: bool = False,
) -> tuple[str, ...]:
    """Return the steps of closing the roof, in order, one plain sentence each.

    `windows` by `windows_first`, `ways` the directions found, `opened` the door or window that lets the air out
    (none where none is enough or needed), `seconds` [s] that the lowering should take, `fan` whether a vent blows out.
    """
    steps = ["Nobody sleeps, cooks or reaches under the shell while it comes down."]
    if lining_comes_down:
        steps.append("Take the insulated lining down and stow it.")
    for one in windows:
        steps.append(f"{one.pane.wall}, {one.pane.name}: {one.why}.")
    if opened is not None:
        steps.append(f"Open {opened.name}, so that the air gets out.")
    if fan:
        steps.append("Let the roof vent blow out.")
    for way in ways:
        if way.said == "always in":
            continue
        steps.append(f"{way.name}: push the middle of the wall inward by hand, its way is not sure.")
    steps.append(f"Pull the roof down evenly over about {seconds:.0f} seconds, and stop at a hand's breadth.")
    steps.append("Walk round: tuck each corner inward and see that no cloth lies on the seal.")
    steps.append("Close the latches by hand without force; if they need force, open again and tuck anew.")
    return tuple(steps)
