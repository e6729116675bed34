"""An invented roof, hinged at the front, moved by a plain rotation: something to draw and print."""

from __future__ import annotations

import math
from dataclasses import replace

from loftwright.core.checks import Verdict
from loftwright.core.choices import Units
from loftwright.core.scene import Arm, Board, Item, Measured, Person, Pivot, Pose, PoseTable, Scene, SpringShape
from loftwright.core.views import (
    Box,
    Caution,
    CheckRow,
    Curve,
    DoNext,
    Fact,
    ForceChart,
    LimitZone,
    RoofPage,
    SheetPage,
)

HINGE = (2.27, 0.055)
TURN = math.radians(28)


def poses(stations: int = 41, hinge: tuple[float, float] = HINGE, turn: float = -TURN) -> PoseTable:
    fractions = tuple(i / (stations - 1) for i in range(stations))
    shell = []
    for f in fractions:
        c, s = math.cos(turn * f), math.sin(turn * f)
        shell.append(Pose(hinge[0] - c * hinge[0] + s * hinge[1], hinge[1] - s * hinge[0] - c * hinge[1], turn * f))
    return PoseTable(fractions, tuple(abs(turn) * f for f in fractions), tuple(shell))


def scene() -> Scene:
    return Scene(
        roof_profile=((-1.2, -0.035), (-0.4, -0.012), (0.3, 0.004), (1.1, 0.012), (1.9, 0.004), (2.6, -0.016)),
        roof_build=0.025,
        opening=(0.0, 2.2),
        upstand=0.04,
        floor_z=-1.46,
        shell=(
            (-0.09, 0.02), (-0.10, 0.20), (-0.04, 0.30), (0.15, 0.345), (0.7, 0.37), (1.2, 0.365), (1.8, 0.31),
            (2.2, 0.21), (2.34, 0.10), (2.35, 0.02),
        ),
        rim=((-0.09, 0.02), (2.35, 0.02)),
        lip=(-0.09, 0.02),
        measured=Measured(rise=1.1120, headroom=2.6744, handle_height=2.5669),
        pivots=(Pivot("hinge", "van", HINGE),),
        springs=(SpringShape("lift 900", "van", (1.84, -0.045), "shell", (1.36, 0.085), 0.33),),
        handle=(0.02, 0.05),
        strap_length=0.45,
        items=(Item("panel", "panel", 0.35, 1.05, 0.375, 0.41),),
        bed=Board(0.9, 2.15, -0.16),
        person=Person(1.78, 0.62, -1.46),
        headroom_at=(0.28, 0.31),
    )  # fmt: skip


def arms_scene() -> tuple[Scene, PoseTable]:
    """Parallel arms: the shell moves along a circle without turning."""
    length, start, swing = 0.62, math.radians(170), math.radians(-95)
    fractions = tuple(i / 40 for i in range(41))
    shell, arm_a, arm_b = [], [], []
    pins = ((1.0, 0.06), (1.9, 0.06))
    for f in fractions:
        angle = start + swing * f
        dx, dz = length * (math.cos(angle) - math.cos(start)), length * (math.sin(angle) - math.sin(start))
        shell.append(Pose(dx, dz, 0.0))
        c, s = math.cos(swing * f), math.sin(swing * f)
        for pin, poses_ in zip(pins, (arm_a, arm_b), strict=True):
            poses_.append(Pose(pin[0] - c * pin[0] + s * pin[1], pin[1] - s * pin[0] - c * pin[1], swing * f))
    table = PoseTable(fractions, tuple(-swing * f for f in fractions), tuple(shell), tuple(arm_a), tuple(arm_b))
    ends = [(x + length * math.cos(start), z + length * math.sin(start)) for x, z in pins]
    base = scene()
    return (
        replace(
            base,
            pivots=(
                Pivot("arm a, van", "van", pins[0]),
                Pivot("arm a, shell", "shell", ends[0]),
                Pivot("arm b, van", "van", pins[1]),
                Pivot("arm b, shell", "shell", ends[1]),
            ),
            arms=(Arm("arm a", pins[0], ends[0], 0.03), Arm("arm b", pins[1], ends[1], 0.03)),
            springs=(
                SpringShape("short", "van", (0.15, 0.03), "arm a", (0.72, 0.11), 0.28),
                SpringShape("long", "van", (1.25, 0.02), "arm b", (1.60, 0.12), 0.22),
            ),
        ),
        table,
    )


def chart() -> ForceChart:
    x = tuple(100 * i / 40 for i in range(41))
    curves = []
    for state, lift in (("cold", 3.1), ("mild", 0.0), ("hot", -2.8)):
        for age, weak in (("new", 0.0), ("aged", 2.2)):
            push = tuple(15.5 - 0.36 * v + 0.0016 * v * v + lift + weak for v in x)
            pull = tuple(-10.0 + 0.33 * v - 0.0012 * v * v - lift - weak for v in x)
            wide = state == "mild" and age == "new"
            for kind, y in (("push", push), ("pull", pull)):
                low = tuple(v - 2.5 for v in y) if wide else None
                high = tuple(v + 2.5 for v in y) if wide else None
                curves.append(Curve(f"{state}, {age}", kind, state, age, y, low, high))  # type: ignore[arg-type]
    return ForceChart(
        x,
        tuple(28 * v / 100 for v in x),
        "how far open",
        "hand force at the handle",
        "kg",
        1,
        tuple(curves),
        (
            LimitZone("start: 15 kg at most", "push", 0, 15, 15.0, "at most"),
            LimitZone("on the way: 10 kg at most", "push", 15, 100, 10.0, "at most"),
            LimitZone("pull: 14 kg at most", "pull", 80, 100, 14.0, "at most"),
            LimitZone("stays up: 2 kg at least", "pull", 90, 100, 2.0, "at least"),
        ),
        "shaded: 95 of 100 roofs like yours",
    )


def row(i: int, verdict: Verdict) -> CheckRow:
    titles = (
        "Too heavy to start",
        "Falls when one spring is lost",
        "Opens by itself in the sun",
        "Rod touches its stop",
    )
    return CheckRow(
        id=f"BAL-{i:02d}",
        title=titles[i % 4],
        verdict=verdict,
        value=f"{16.2 + i} kg",
        limit="15 kg at most",
        margin=f"{-1.2 - i:.1f} kg".replace("-", "−"),
        basis="62 of 200 roofs like yours hold",
        reason="Beyond this most people cannot lift the lip from a low stand.",
        remedy="Move the foot 40 mm to the rear, or take the next stronger spring.",
        source="judgement: a limit that you can change in the file",
        inputs=("shell.mass", "spring.force"),
    )


def rows(n: int = 9) -> tuple[CheckRow, ...]:
    fails, open_ = n // 3, n // 3
    order = [Verdict.FAILS] * fails + [Verdict.NOT_KNOWN] * open_ + [Verdict.HOLDS] * (n - fails - open_)
    return tuple(row(i, verdict) for i, verdict in enumerate(order))


CAUTIONS = (
    Caution("Never stand or reach under a shell held by gas springs alone: prop it first."),
    Caution("Never open, heat or drill a gas spring."),
    Caution(
        "Cutting the roof can affect crash strength, belt mounts, type approval and insurance: ask a local inspector."
    ),
    Caution("Nobody under the open shell while driving; lower it in a gust above 12 m/s."),
    Caution("Arms and springs pinch: keep hands on the handle."),
    Caution("Results aid judgement. They are no licence."),
)


def roof_page(*, name: str = "Heron", n_rows: int = 9, units: Units = "metric") -> RoofPage:
    return RoofPage(
        name=name,
        odds="61 of 100 roofs like yours meet everything",
        odds_note="Most of the rest: too hard to start pulling down (22 of 100).",
        next_best="Next: weigh the shell, 20 min: 61 to 78 of 100",
        subtitle="hinged at the front, foam and plywood",
        facts=(
            Fact("Shell", "62 kg", "± 4 kg, centre 1.12 m from the rear edge"),
            Fact("Rise at the lip", "1.14 m"),
            Fact("Headroom open", "2.35 m", "where you stand"),
            Fact("Push to start", "15.5 kg", "mild, new"),
            Fact("Pull to start down", "11.0 kg", "mild, new"),
            Fact("Prop", "needed", "falls if one spring is lost"),
        ),
        rows=rows(n_rows),
        chart=chart(),
        scene=scene(),
        poses=poses(),
        do_next=(
            DoNext(
                "Weigh the shell at two lines", 30, "Bathroom scales under a batten at each end.", "Settles 4 verdicts."
            ),
            DoNext("Try the push with a luggage scale", 10, "Hook it to the handle.", "Tells you what feels right."),
            DoNext("Read the label of the spring", None, "Look for four forces or one.", "Narrows the force."),
        ),
        cautions=CAUTIONS,
        assumptions=("Upstand 40 mm, assumed.", "Friction at the hinge 0 to 8 N m, unknown."),
        units=units,
        provenance="9 of 31 figures measured, 5 from a label, 8 assumed, 9 unknown.",
        made_with="Loftwright 0.1.0",
    )


def sheet_page() -> SheetPage:
    return SheetPage(
        name="Heron",
        subtitle="take this to the shell and the van",
        boxes=(
            Box("shell.length", "2.44 m", "measured"),
            Box("shell.width", None, "guess 1.2 .. 1.8 m"),
            Box("shell.height_middle", "350 mm", "assumed"),
            Box("roof.crown", None, "guess 10 .. 60 mm"),
            Box("opening.length", "2.20 m", "decided"),
            Box("person.height", "1.78 m", "measured"),
        ),
        cautions=CAUTIONS,
        units="metric",
        made_with="Loftwright 0.1.0",
    )
