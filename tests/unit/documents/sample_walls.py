"""An invented page on cloth walls: four panels, two windows, two rolls, four places of the fold."""

from __future__ import annotations

import importlib.util
import math
import sys
from pathlib import Path
from typing import Any

from loftwright.core.checks import Verdict
from loftwright.core.choices import Units
from loftwright.core.pattern import Contour, LaidPiece, Layout, Notch, PatternPiece, Vertex
from loftwright.core.views import Caution, CheckRow, Fact, Grid
from loftwright.core.wall_views import (
    WALL_PARTS,
    EdgeWater,
    FoldPlace,
    FoldPose,
    RollNeed,
    Strip,
    StripPanel,
    StripSeam,
    WallPage,
    WallPart,
    WallSection,
)
from loftwright.core.wording import Wording


def loaded(name: str, folder: Path) -> Any:
    spec = importlib.util.spec_from_file_location(name, folder / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


drawn = loaded("sample_pattern", Path(__file__).parents[1] / "drawing")
NAME = "Heron"
CANVAS, CLEAR = "cotton canvas", "clear sheet"
LENGTHS = (1.2, 2.0, 1.2, 2.0)
HEIGHTS = ((0.30, 0.30), (0.30, 0.92), (0.92, 0.92), (0.92, 0.30))
NAMES = ("rear wall", "right wall", "front wall", "left wall")


def panel(number: str, name: str, length: float, left: float, right: float, window: bool = False) -> PatternPiece:
    """A panel with a lower line that sags 12 mm and an upper one that rises 16 mm, with all its words."""
    lower = drawn.bulge(0.012, length)
    upper = drawn.bulge(0.016, math.hypot(length, right - left))
    stitch: tuple[Vertex, ...] = ((0.0, 0.0, lower), (length, 0.0, 0.0), (length, right, upper), (0.0, left, 0.0))
    cut: tuple[Vertex, ...] = (
        (-0.01, -0.03, lower), (length + 0.02, -0.03, 0.0), (length + 0.02, right + 0.015, upper),
        (-0.01, left + 0.015, 0.0),
    )  # fmt: skip

    def low(share: float) -> float:
        return -0.012 * 4 * share * (1 - share)

    def high(share: float) -> float:
        return left + (right - left) * share + 0.016 * 4 * share * (1 - share)

    steps = [k / 10 for k in range(round(10 * length) + 1)]
    notches = tuple(
        Notch((x, low(x / length)), (0.0, -1.0), f"{number[1:]}{chr(97 + k)}", x)
        for k, x in enumerate(v / 4 for v in range(1, round(4 * length)))
    )
    marks = (Contour("mark", drawn.rounded(0.3, 0.12, 0.9, 0.6, 0.05), name="window"),) if window else ()
    return PatternPiece(
        number, name, CANVAS, 1, "right side out", (Contour("cut", cut), Contour("stitch", stitch), *marks),
        notches=notches, grain=((0.06 + 0.45 * length, 0.06), (0.45 * length + 0.06, 0.22)), nap=True,
        ordinates=tuple((x, low(x / length), high(x / length)) for x in steps), edges=drawn.EDGES,
    )  # fmt: skip


def rectangle(number: str, name: str, material: str, wide: float, tall: float) -> PatternPiece:
    outline: tuple[Vertex, ...] = ((0.0, 0.0, 0.0), (wide, 0.0, 0.0), (wide, tall, 0.0), (0.0, tall, 0.0))
    return PatternPiece(number, name, material, 2, "either", (Contour("cut", outline),))


PANELS = tuple(
    panel(f"W{k + 1}", NAMES[k], LENGTHS[k], *HEIGHTS[k], window=k == 2) for k in range(4)
)  # fmt: skip
PIECES = (
    *PANELS,
    rectangle("C1", "window, clear sheet", CLEAR, 0.66, 0.54),
    rectangle("C2", "window, insect screen", "insect screen", 0.66, 0.54),
)


def laid(piece: PatternPiece, dx: float, dy: float) -> LaidPiece:
    found: LaidPiece = drawn.turned(piece, 0.0, dx, dy)
    return found


CANVAS_LAID = Layout(
    CANVAS, 1.5, 5.6,
    (laid(PANELS[1], 0.02, 0.02), laid(PANELS[3], 2.1, 0.02), laid(PANELS[2], 4.3, 0.02), laid(PANELS[0], 0.1, 1.1)),
    "laid by a search of 20 s",
)  # fmt: skip
CLEAR_LAID = Layout(CLEAR, 1.37, 0.7, (laid(PIECES[4], 0.02, 0.02), laid(PIECES[4], 0.02, 0.6)), "laid in rows")


def row(part: str, number: int, verdict: Verdict, title: str) -> CheckRow:
    return CheckRow(
        f"{part}-{number}", title, verdict, "" if verdict is Verdict.NOT_KNOWN else "12 mm", "8 mm at most",
        "\u22124 mm" if verdict is Verdict.FAILS else "4 mm",
        "fails in 61 of 100 roofs like yours" if verdict is Verdict.FAILS else "holds in 97 of 100",
        "Water that stands reaches what is below it.", "Raise the line of staples.", "judgement",
    )  # fmt: skip


ROWS = (
    row("STOW", 1901, Verdict.FAILS, "The folded cloth does not fit under the latch bar"),
    row("WATER", 1401, Verdict.NOT_KNOWN, "Rain reaches the staples"),
    row("WALL", 1301, Verdict.HOLDS, "The upper line is longer than the cloth can follow"),
)
TITLES: dict[WallPart, str] = {
    "shape": "Shape of the cloth", "water": "Rain at the lower edge", "sewing": "Sewing", "windows": "Windows",
    "metres": "Metres and price", "warmth": "A cold night", "fold": "The fold",
}  # fmt: skip


def section(part: WallPart) -> WallSection:
    prefix = {"fold": "STOW", "water": "WATER", "shape": "WALL"}.get(part, "none")
    return WallSection(
        part, TITLES[part], f"{TITLES[part]}: what can be said in a sentence.",
        (Fact("Lower line", "6.40 m", "all round"), Fact("Drift", "3 mm"), Fact("Cloth", "7.1 m²")),
        (Grid(f"{TITLES[part]}, place by place", ("Place", "It is", "Sure to"),
              (("front", "412 mm", "2 mm"), ("rear", "300 mm", "3 mm"))),),
        tuple(one for one in ROWS if one.id.startswith(prefix)), (f"{TITLES[part]}: cloth does not stretch.",),
    )  # fmt: skip


def edge(
    place: str, up: float, line: float, water: float, splash: float, lap: float, hem: float, units: Units
) -> EdgeWater:
    say = Wording(units).short_length
    sizes = (
        ("upstand", 0.0, up),
        ("staples", 0.0, line),
        ("water", 0.0, water),
        ("splash", water, splash),
        ("lap", hem, line),
        ("hem", 0.0, hem),
    )
    return EdgeWater(
        place, up, line, water, splash, lap, hem, f"The staples lie {say(line - splash)} above what water can reach.",
        tuple((what, low, high, say(high - low)) for what, low, high in sizes),
    )  # fmt: skip


def fold(name: str, wall: str, arc: float, counts: tuple[int, int, int]) -> FoldPlace:
    def pose(share: float) -> FoldPose:
        top = 0.06 + 0.5 * share
        turns = [2 * math.pi * k / 40 for k in range(41)]
        cloth = tuple(
            (
                0.16 * (1 - 0.6 * share) * math.sin(t / 2) * (1 + 0.3 * math.sin(t)),
                top * k / 40 - 0.05 * math.sin(t / 2),
            )
            for k, t in enumerate(turns)
        )
        return FoldPose(share, cloth, ((-0.05, top), (0.3, top + 0.02)), (0.19, top - 0.02, 0.012))

    poses = tuple(pose(1 - k / 20) for k in range(21))
    return FoldPlace(
        name, wall, arc, "The cloth always goes in.", counts, "172 mm", "58 mm",  # type: ignore[arg-type]
        "14 N/m", poses, (poses[-1].cloth,),
        ((-0.6, -0.06, -0.001, -0.03), (0.0, -0.03, 0.03, 0.0), (0.03, -0.15, 0.6, -0.12), (0.25, -0.15, 0.28, 0.0)),
        (0.25, 0.18), "140 mm to 155 mm",
    )  # fmt: skip


PLACES = (
    fold("Mid rear", "rear", 0.0, (38, 2, 0)), fold("Mid right", "right", 1.6, (40, 0, 0)),
    fold("Mid front", "front", 3.2, (22, 12, 6)), fold("Rear right corner", "rear", 0.6, (40, 0, 0)),
)  # fmt: skip


def rim(high: bool) -> list[tuple[float, float, float]]:
    """Points round a rectangle of 2.0 m x 1.2 m with rounded corners, from the rear middle over the right side."""
    found = []
    for x, y in ((0.0, 0.0), (0.0, -0.5), (0.03, -0.57), (0.1, -0.6), (1.9, -0.6), (1.97, -0.57), (2.0, -0.5),
                 (2.0, 0.0), (2.0, 0.5), (1.97, 0.57), (1.9, 0.6), (0.1, 0.6), (0.03, 0.57), (0.0, 0.5)):  # fmt: skip
        found.append((x, y, 0.30 + 0.31 * x if high else 0.05))
    dense = []
    for (ax, ay, az), (bx, by, bz) in zip(found, (*found[1:], found[0]), strict=True):
        n = max(1, round(math.dist((ax, ay), (bx, by)) / 0.12))
        dense += [(ax + (bx - ax) * k / n, ay + (by - ay) * k / n, az + (bz - az) * k / n) for k in range(n)]
    return dense


def strip(units: Units) -> Strip:
    panels, seams, x = [], [], 0.0
    for k, piece in enumerate(PANELS):
        line = piece.of("stitch")[0].flattened(0.002)
        outline = tuple((px + x, py) for px, py in line)
        panels.append(
            StripPanel(
                piece.number,
                piece.name,
                ("rear", "right", "front", "left")[k],
                outline,
                outline[:2],
                (x, x + LENGTHS[k]),
            )
        )
        seams.append(StripSeam(f"seam {k + 1}", (x, 0.0), (x, HEIGHTS[k][0]), x))
        x += LENGTHS[k]
    return Strip(tuple(panels), (), tuple(seams), 6.4, x, 0.92)


CAUTIONS = (
    "Check the square on the paper with a steel rule before any cloth is cut, and make one panel in paper first.",
    "Prop the shell while the cloth is fitted: springs alone do not hold it.",
    "Cloth is no fall protection: nobody leans on a wall or a window of cloth.",
    "Keep flames and heaters away from cloth, and a window or vent open when you cook or sleep.",
    "Results aid judgement. They are no licence and no approval.",
)


def page(units: Units = "metric", name: str = NAME) -> WallPage:
    say = Wording(units)
    low, high = rim(False), rim(True)
    return WallPage(
        name=name,
        subtitle=f"hinged at the rear; lower line {say.length(6.4)} round; outer cloth: {CANVAS}",
        sections=tuple(section(part) for part in WALL_PARTS),
        rows=ROWS,
        strip=strip(units),
        lower=tuple(low),
        upper=tuple(high),
        rulings=tuple(zip(low, high, strict=True)),
        pieces=PIECES,
        rolls=(
            RollNeed(CANVAS_LAID, "fresh", say.length(5.7), "24 % left over", "130 EUR", ""),
            RollNeed(CLEAR_LAID, "stale", say.length(0.8), "31 % left over", "22 EUR", "sold by the half metre"),
        ),
        water=(
            edge("Front", 0.045, 0.040, 0.012, 0.022, 0.030, 0.010, units),
            edge("Rear", 0.045, 0.018, 0.012, 0.022, 0.014, 0.004, units),
            edge("Sides", 0.045, 0.038, 0.010, 0.020, 0.030, 0.008, units),
            edge("Corners", 0.050, 0.042, 0.014, 0.025, 0.030, 0.012, units),
        ),
        sewing=(
            "Press all hems before any seam",
            "Sew the clear sheet into the front wall, long stitches, no pins in the sheet",
            "Flat-fell W1 to W2 at seam 2, marks 1a to 1a",
            "Flat-fell W2 to W3 at seam 3, then W3 to W4 at seam 4",
            "Close the ring at seam 1",
            "Bind the upper edge, hem the lower one",
        ),
        bill=Grid(
            "Bill",
            ("What", "How much", "Note"),
            (
                (CANVAS, say.length(5.7), "one batch"),
                (CLEAR, say.length(0.8), "0.5 mm, wrapped in paper"),
                ("thread", "210 m", "bonded polyester"),
                ("hook tape", say.length(3.1), ""),
                ("staples", "190", "stainless, 8 mm"),
            ),
            "Lengths carry 5 % for mistakes.",
        ),
        places=PLACES,
        fold="fresh",
        fold_note="",
        tucking=(
            "Open the front window first: air has to leave.",
            "Let the roof down to a hand's breadth.",
            "Push the cloth in all round, front first, corners last.",
            "Close, and look round the rim from outside: no cloth in the gap.",
        ),
        trial=(
            "Cut W3, the front wall, in paper: it has the tightest corner.",
            "Tape it to the ring from mark 3a to 3d, roof open.",
            "Look for folds that run from a corner: the upper line is off there.",
        ),
        cautions=tuple(Caution(text) for text in CAUTIONS),
        assumptions=("Cloth does not stretch.", "The ring's upper edge lies in the roof."),
        provenance="Judged on 300 drawn roofs, seed 1.",
        units=units,
        made_with="Loftwright 0.1.0",
    )
