"""A page on cloth walls made up for the board: four panels round a rim of 6 m, one window, the fold at two places."""

from __future__ import annotations

import math
from dataclasses import replace

from loftwright.answers.board_walls import BoardWalls, Taken
from loftwright.core.pattern import LaidPiece, Layout
from loftwright.core.views import Caution, Fact, Grid
from loftwright.core.wall_views import (
    WALL_PARTS,
    EdgeWater,
    FoldPlace,
    FoldPose,
    Point,
    RollNeed,
    Strip,
    StripPanel,
    StripSeam,
    StripWindow,
    WallPage,
    WallSection,
)

AROUND, HIGH = 6.0, 0.5
WIDE = tuple((wide, end, f"{end} wall") for wide, end in ((1.2, "rear"), (1.8, "right"), (1.2, "front"), (1.8, "left")))
START = -0.6
"""The first panel hangs round the start of the lower line."""


def box(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1)


def strip(*, moved: float = 0.0) -> Strip:
    """The strip; `moved` is how far the second seam lies from where it was."""
    edges, x = [0.0], 0.0
    for wide, _, _ in WIDE:
        x += wide
        edges.append(x)
    edges[2] += moved
    panels = tuple(
        StripPanel(f"W{k + 1}", name, wall, box(a, 0.0, b, HIGH), ((a, 0.0), (b, 0.0)), (START + a, START + b))
        for k, ((_, wall, name), a, b) in enumerate(zip(WIDE, edges[:-1], edges[1:], strict=True))
    )
    names = ("rear left corner", "rear right corner", "front right corner", "front left corner", "rear left corner")
    seams = tuple(StripSeam(name, (x, 0.0), (x, HIGH), START + x) for name, x in zip(names, edges, strict=True))
    middle = edges[1] + 0.9
    sight, largest = box(middle - 0.2, 0.12, middle + 0.2, 0.32), box(middle - 0.24, 0.08, middle + 0.24, 0.36)
    return Strip(panels, (StripWindow("window", 0, sight, largest, 0.0, 0.12, True),), seams, AROUND, AROUND, HIGH)


def place(name: str, wall: str, arc: float) -> FoldPlace:
    poses = []
    for share in (1.0, 0.5, 0.0):
        high = 0.06 + share * (HIGH - 0.06)
        deep = math.sqrt(max((HIGH / 2) ** 2 - (high / 2) ** 2, 0.0))
        cloth = ((0.0, 0.0), (deep, high / 2), (0.0, high))
        poses.append(FoldPose(share, cloth, ((-0.05, high), (0.3, high)), (0.06, 0.02, 0.012)))
    return FoldPlace(
        name, wall, arc, f"At the {name} the fold goes in.", (18, 1, 1), "242 mm", "38 mm", "12 N/m",
        tuple(poses), (poses[-1].cloth,), ((0.0, -0.04, 0.03, 0.0),), (0.3, 0.05),
    )  # fmt: skip


def ring(high: float, out: float) -> tuple[Point, ...]:
    turns = [2 * math.pi * k / 40 for k in range(40)]
    return tuple((1.0 + (1.0 + out) * math.cos(t), (0.6 + out) * math.sin(t), high) for t in turns)


def page() -> WallPage:
    sections = tuple(
        WallSection(part, f"About {part}", f"The answer on {part}.", (Fact("Figure", "12 mm"),), (), (), ("Taken so.",))
        for part in WALL_PARTS
    )
    piece = LaidPiece("W1", box(0.0, 0.0, 1.2, 0.5), 0.0)
    layout = Layout("outer cloth", 1.47, 2.4, (piece,), "quick")
    low, high = ring(0.0, 0.0), ring(0.5, 0.03)
    return WallPage(
        name="made up", subtitle="four panels", sections=sections, rows=(), strip=strip(), lower=low, upper=high,
        rulings=tuple(zip(low, high, strict=True)), pieces=(),
        rolls=(RollNeed(layout, "none", "2.5 m", "31 %", "60 EUR", ""),),
        water=(EdgeWater("Front", 0.04, 0.03, 0.01, 0.02, 0.04, 0.005, "Rain stays out.", ()),),
        sewing=("Sew the first seam.",), bill=Grid("Bill", ("What", "How much", "Price"), (("thread", "200 m", ""),)),
        places=(place("rear", "rear", 0.0), place("right wall, middle", "right", 1.5)), fold="stale",
        fold_note="", tucking=("Push the fold in.",), trial=("One panel in paper.",), cautions=(Caution("Prop it."),),
        assumptions=(), provenance="", units="metric", made_with="",
    )  # fmt: skip


def board_walls() -> BoardWalls:
    """The page as the board carries it, with one value to take over."""
    taken = (Taken("shell.mass", "58 kg", "the shell weighs 58 kg with its cloth"),)
    return BoardWalls(page(), (), (), (), taken)


def without_fold() -> BoardWalls:
    """The same before the fold was ever worked out."""
    made = board_walls()
    places = tuple(replace(one, poses=(), ends=(), counts=(0, 0, 0)) for one in made.page.places)
    return replace(made, page=replace(made.page, places=places, fold="none"))
