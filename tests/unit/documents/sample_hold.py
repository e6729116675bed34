"""An invented page on fit and strength: everything that its sheets and screens can show."""

from __future__ import annotations

import math

from loftwright.core.checks import Verdict
from loftwright.core.choices import Units
from loftwright.core.hold_views import (
    CutPlan,
    GapChart,
    GoNoGo,
    HoldPage,
    HoldSection,
    PlanBow,
    Template,
    WindArrow,
    WindPart,
    WindPlay,
)
from loftwright.core.views import Caution, CheckRow, Fact, Grid

NAME = "Heron"
_ALONG = tuple(float(8 * k) for k in range(92))


def gap(unit: str = "mm") -> GapChart:
    size = 1.0 if unit == "mm" else 1 / 25.4
    middle = [10.0 + 3.2 * math.sin(v / 90.0) + 1.4 * math.cos(v / 33.0) for v in _ALONG]
    return GapChart(
        unit,
        "cm" if unit == "mm" else "in",
        _ALONG,
        tuple(size * v for v in middle),
        tuple(size * (v - 1.8) for v in middle),
        tuple(size * (v + 1.8) for v in middle),
        8.0 * size,
        14.0 * size,
        ((0.0, "left side"), (246.0, "front left corner"), (262.0, "front"), (364.0, "front right corner"),
         (380.0, "right side"), (612.0, "rear right corner"), (628.0, "rear"), (716.0, "rear left corner")),
    )  # fmt: skip


def packer(side: str, rear: float, front: float) -> Template:
    return Template(
        f"Packer, {side} hinge, outer side",
        "Lower edge on the roof, rear to the left. Two of these, one for each long side of the packer.",
        ((0.0, 0.0), (0.03, 0.0008), (0.06, 0.0011), (0.09, 0.0009), (0.12, 0.0), (0.12, front), (0.0, rear)),
        (((0.06, 0.0), (0.06, 0.02)),),
        (),
        (
            ((0.0, 0.0), (0.12, 0.0), "120 mm"),
            ((0.0, 0.0), (0.0, rear), f"{1000 * rear:.1f} mm"),
            ((0.12, 0.0), (0.12, front), f"{1000 * front:.1f} mm"),
        ),
    )


PACKERS = (
    packer("left", 0.0124, 0.0087),
    packer("right", 0.0131, 0.0092),
    Template(
        "Stop, lip", "Stands on the ring.", ((0.0, 0.0), (0.03, 0.0), (0.03, 0.018), (0.0, 0.018)),
        holes=((0.015, 0.009, 0.0065),), sizes=(((0.0, 0.0), (0.0, 0.018), "18.0 mm"),),
    ),
)  # fmt: skip


def corner(name: str, radius: float, leg: float) -> Template:
    arc = tuple(
        (radius - radius * math.cos(k * math.pi / 48), radius - radius * math.sin(k * math.pi / 48)) for k in range(25)
    )
    return Template(
        name,
        "Straight edges on the two pencil lines; the saw follows the arc.",
        ((0.0, leg), *arc, (leg, 0.0), (leg, leg)),
        (((radius, radius), (radius, 0.0)), ((radius, radius), (0.0, radius))),
        ((radius * 0.75, radius * 0.75, 0.012),),
        (
            (
                (radius, radius),
                (radius * (1 - math.sqrt(0.5)), radius * (1 - math.sqrt(0.5))),
                f"R {1000 * radius:.0f} mm",
            ),
            ((0.0, 0.0), (radius, 0.0), f"{1000 * radius:.0f} mm"),
            ((0.0, 0.0), (0.0, leg), f"{1000 * leg:.0f} mm"),
        ),
    )


CORNERS = (corner("Rear corners", 0.08, 0.11), corner("Front corners", 0.15, 0.25))

PLAN = CutPlan(
    roof=(-0.6, 0.82, 2.7, 0.82),
    opening=(0.0, 0.6, 2.0, 0.6),
    shell=(-0.08, 0.68, 2.08, 0.68),
    radius=0.08,
    ring=0.04,
    bows=(
        PlanBow(-0.25, 0.025, True, "bow 1"),
        PlanBow(0.62, 0.025, False, "bow 2"),
        PlanBow(1.34, 0.025, False, "bow 3"),
        PlanBow(2.3, 0.03, True, "bow 4"),
    ),
    plates=(
        ("hinge, left", 1.94, 0.5, 0.12, 0.05),
        ("hinge, right", 1.94, -0.5, 0.12, 0.05),
        ("spring foot, left", 1.45, 0.57, 0.1, 0.03),
        ("spring foot, right", 1.45, -0.57, 0.1, 0.03),
        ("latch, left", 0.03, 0.4, 0.05, 0.04),
        ("latch, right", 0.03, -0.4, 0.05, 0.04),
    ),
    starts=((0.07, -0.53), (1.93, 0.53)),
    sizes=(
        ((0.0, -0.6), (2.0, -0.6), "2000 mm"),
        ((2.0, -0.6), (2.0, 0.6), "1200 mm"),
        ((-0.6, -0.82), (0.0, -0.82), "600 mm"),
        ((-0.6, 0.82), (2.7, 0.82), "3300 mm"),
        ((2.7, -0.82), (2.7, -0.6), "220 mm"),
        ((0.0, 0.6), (0.62, 0.6), "620 mm"),
        ((0.0, 0.6), (1.34, 0.6), "1340 mm"),
    ),
    diagonal="2332 mm",
)

DIRECTIONS = ("left", "right", "front", "rear")
_GUSTS = tuple(0.5 * k for k in range(81))


def _part(name: str, limit: str, at: tuple[float, float, float, float]) -> WindPart:
    return WindPart(
        name,
        limit,
        tuple(tuple((g / full) ** 2 for g in _GUSTS) for full in at),
        tuple(f"{full:.1f} m/s" if full < 40 else "above 40 m/s" for full in at),
    )


WIND = WindPlay(
    directions=DIRECTIONS,
    gusts=_GUSTS,
    gust_texts=tuple(f"{g:.1f} m/s" for g in _GUSTS),
    wanted=18.0,
    parts=(
        _part("hinge, left", "what the pin bears", (24.0, 26.0, 31.0, 38.0)),
        _part("hinge, right", "what the pin bears", (26.0, 24.0, 31.0, 38.0)),
        _part("brace", "what it bears before it buckles", (17.2, 17.2, 60.0, 60.0)),
        _part("bolts of the brace", "shear", (28.0, 28.0, 60.0, 60.0)),
        _part("cloth", "what its seams bear", (21.0, 21.0, 23.0, 20.0)),
        _part("holding force of the springs", "what keeps it up", (60.0, 60.0, 19.3, 60.0)),
    ),
    sway=tuple(tuple(0.00006 * g * g for g in _GUSTS) for _ in DIRECTIONS),
    sway_texts=tuple(tuple(f"{0.06 * g * g:.0f} mm" for g in _GUSTS) for _ in DIRECTIONS),
    sway_without=tuple(tuple(f"{0.31 * g * g:.0f} mm" for g in _GUSTS) for _ in DIRECTIONS),
    arrows=(
        (
            WindArrow("cloth, left side", (1.0, 0.62, 0.35), (0.0, -0.55, 0.0)),
            WindArrow("cloth, right side", (1.0, -0.62, 0.35), (0.0, -0.25, 0.0)),
            WindArrow("shell", (0.9, 0.0, 0.85), (0.0, -0.2, 0.7)),
        ),
        (
            WindArrow("cloth, right side", (1.0, -0.62, 0.35), (0.0, 0.55, 0.0)),
            WindArrow("cloth, left side", (1.0, 0.62, 0.35), (0.0, 0.25, 0.0)),
            WindArrow("shell", (0.9, 0.0, 0.85), (0.0, 0.2, 0.7)),
        ),
        (
            WindArrow("cloth, front", (2.05, 0.0, 0.15), (-0.2, 0.0, 0.0)),
            WindArrow("shell", (0.9, 0.0, 0.85), (-0.4, 0.0, 0.8)),
        ),
        (
            WindArrow("cloth, rear", (0.0, 0.0, 0.5), (0.8, 0.0, 0.0)),
            WindArrow("shell", (0.9, 0.0, 0.85), (0.2, 0.0, 0.5)),
        ),
    ),
    held=((True,) * len(_GUSTS),) * 4,
    box=(
        (-0.05, 0.65, 1.05), (-0.05, -0.65, 1.05), (2.05, -0.65, 0.12), (2.05, 0.65, 0.12),
        (0.0, 0.6, 0.0), (0.0, -0.6, 0.0), (2.0, -0.6, 0.0), (2.0, 0.6, 0.0),
    ),
    weakest="the brace, in wind from the side",
    lower_above="17 m/s",
    beaufort="gusts of a fresh breeze: small trees in leaf begin to sway",
)  # fmt: skip


def row(number: int, verdict: Verdict, title: str = "The brace buckles in the gust") -> CheckRow:
    return CheckRow(
        f"WND-5{number:02d}", title, verdict,
        "1240 N" if verdict is not Verdict.NOT_KNOWN else "",
        "1130 N at most", "−110 N" if verdict is Verdict.FAILS else "210 N",
        "fails in 74 of 100 roofs like yours" if verdict is Verdict.FAILS else "measure how the hinge gives way",
        "A bar that bows out gives way at once.",
        "Take a tube instead of a flat bar, or lower the roof earlier.",
        "EN 1993-1-1, 6.3.1, read in a public reproduction",
    )  # fmt: skip


ROWS = (
    row(1, Verdict.FAILS),
    row(2, Verdict.FAILS, "The gap is wider than the seal fills"),
    row(3, Verdict.NOT_KNOWN, "The body loses more than a ring gives back"),
    row(4, Verdict.HOLDS, "The hinges give way in the gust"),
    row(5, Verdict.HOLDS, "Bolts pull through the sheet"),
)
STOCK = Grid(
    "What each section gives back",
    ("Section", "Stays in bending", "Stays in racking", "Weighs", "Costs"),
    (
        ("angle 40 x 40 x 4", "61 %", "48 to 71 %", "15.4 kg", "70 EUR"),
        ("channel 40 x 20 x 3", "74 %", "52 to 80 %", "13.1 kg", "85 EUR"),
        ("square tube 30 x 30 x 2", "82 %", "55 to 86 %", "11.2 kg", "62 EUR"),
        ("flat 50 x 5", "21 %", "33 to 40 %", "12.5 kg", "41 EUR"),
    ),
    "Bending is out of the roof's plane; racking lies between the two edge conditions.",
)
RING = Grid(
    "Ring, cutting list",
    ("Piece", "Count", "Section", "Length", "Ends"),
    (("side", "2", "square tube 30 x 30 x 2", "1840 mm", "square"),
     ("end", "2", "square tube 30 x 30 x 2", "1040 mm", "square"),
     ("corner", "4", "sheet 2 mm", "R 80 mm", "lapped 40 mm")),
    "Holes for rivets every 60 mm.",
)  # fmt: skip
HOLES = Grid(
    "Every hole",
    ("Where", "Count", "Drill", "From the edge", "Bolt", "Torque", "Behind it", "Sealing"),
    tuple(
        (name, "4", f"{d + 0.6:.1f} mm", "18 mm", f"M{d}", f"{t} N m", "plate 60 x 60 x 3", "primer, then sealant")
        for name, d, t in (
            ("hinge, left", 8, 22),
            ("hinge, right", 8, 22),
            ("spring foot, left", 8, 22),
            ("latch", 6, 9),
        )
    ),
    "Torque by T = K F d with K = 0.2.",
)


def section(part: str, title: str, *rows: CheckRow) -> HoldSection:
    return HoldSection(
        part,  # type: ignore[arg-type]
        title,
        f"{title}: what can be said in a sentence.",
        (
            Fact("Largest gap", "13.9 mm", "at the rear right corner"),
            Fact("Stops", "10.2 mm"),
            Fact("Mass added", "61 kg"),
        ),
        (
            Grid(
                f"{title}, part by part",
                ("Part", "It is", "Limit"),
                (("pin", "410 N", "900 N"), ("plate", "1.1 mm", "3 mm")),
            ),
        ),
        rows,
        (f"{title}: the skin is taken as 0.8 mm steel.",),
    )


SECTIONS = (
    section("fit", "Does it sit", ROWS[1]),
    section("wind", "Raised, in wind", ROWS[0], ROWS[3]),
    section("road", "Latched, on the road"),
    section("opening", "The hole in the roof", ROWS[2]),
    section("joints", "Joints", ROWS[4]),
    section("van", "Weights on the van"),
)
BEFORE = (
    GoNoGo("The gap is inside the seal's range", Verdict.FAILS, "13.9 mm, the seal fills 12 mm", "Scribe the rear."),
    GoNoGo("The ring is chosen and at hand", Verdict.HOLDS, "square tube 30 x 30 x 2", ""),
    GoNoGo("Door diagonals measured", Verdict.NOT_KNOWN, "not measured", "Tape both doors corner to corner."),
)  # fmt: skip
CAUTIONS = (
    "None of this is a crash or roll-over assessment: a local inspector or engineer decides.",
    "Isolate the battery before cutting.",
    "Nobody under the open shell while driving.",
)


def page(units: Units = "metric", name: str = NAME) -> HoldPage:
    return HoldPage(
        name=name,
        subtitle="hinged at the front, square tube round a hole of 2000 mm x 1200 mm",
        sections=SECTIONS,
        rows=ROWS,
        gap=gap("mm" if units == "metric" else "in"),
        packers=PACKERS,
        wind=WIND,
        plan=PLAN,
        corners=CORNERS,
        ring_pieces=RING,
        stock=STOCK,
        holes=HOLES,
        before_the_cut=BEFORE,
        wind_card=(
            "Lower it above a gust of 17 m/s.",
            "First to go: the brace, in wind from the side.",
            "Without the brace: lower it above 9 m/s.",
        ),
        cautions=tuple(Caution(text) for text in CAUTIONS),
        assumptions=("The skin is taken as 0.8 mm steel.", "Gusts are those at roof height."),
        provenance="Judged on 300 drawn roofs, seed 1.",
        units=units,
        made_with="Loftwright 0.1.0",
    )
