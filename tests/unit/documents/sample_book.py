"""An invented build book: everything that its chapters can hold."""

from __future__ import annotations

import importlib.util
from dataclasses import replace
from pathlib import Path
from typing import Any

from loftwright.core.book_views import BookPage, DrillMark, DrillPlan, FramePage, FrameRow, RefLine, Request, Work
from loftwright.core.choice_views import (
    Advice,
    Card,
    CardLine,
    ChoicePage,
    Hole,
    HoleRow,
    Place,
    ProofPage,
    Ratings,
    ReadingChart,
    ReadingRow,
    Shortfall,
    SpringAnswer,
    Worth,
)
from loftwright.core.choices import Units
from loftwright.core.trial_frame import Held
from loftwright.core.views import Fact
from loftwright.plan.trial_frame import Ask, trial_frame

_SPEC = importlib.util.spec_from_file_location("sample_page", Path(__file__).with_name("sample_page.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

HOLES = (
    Hole("1", "the van", 1496.0, -36.0, False, "1496 mm from the rear edge, 36 mm below the roof"),
    Hole("2", "the van", 1521.0, -36.0, True, "1521 mm from the rear edge, 36 mm below the roof"),
    Hole("3", "the van", 1556.0, -36.0, False, "1556 mm from the rear edge, 36 mm below the roof"),
)
ROW = HoleRow(
    HOLES,
    (Hole("", "the shell", 1086.0, 67.0, False, "1086 mm, 67 mm above the roof"),),
    tuple(Place(k + 1, k, 0, hole.start, f"hole {k + 1}") for k, hole in enumerate(HOLES)),
    83,
    58,
    69,
    "one works in 83",
)
HEADS = (
    Hole("A", "the shell", 1086.0, 67.0, True, "1086 mm from the rear edge, 67 mm above the roof"),
    Hole("B", "the shell", 1091.0, 102.0, False, "1091 mm from the rear edge, 102 mm above the roof"),
)
PLACES = tuple(
    Place(2 * i + j + 1, i, j, (i, j) == (1, 0), f"place {2 * i + j + 1}: foot hole {i + 1}, head hole {'AB'[j]}")
    for i in range(3)
    for j in range(2)
)
BOTH = HoleRow(
    HOLES, HEADS, PLACES, 93, 59, 68, "one works in 93", "With holes, take these springs instead: 12/26-240-950."
)
CARD = Card(
    ("Springs new, at the day's temperature.", "Push: with a luggage scale at the handle."),
    (
        CardLine(1, "push to start is over 15.0 kg", 2, ""),
        CardLine(2, "push to start is over 15.0 kg and day is at most 20 °C", 3, ""),
        CardLine(2, "pull to start down is over 22.0 kg", 1, ""),
        CardLine(2, "pull to start down is at most 9.0 kg", 0, ""),
    ),
    "where no line fits, the springs stay where they are",
)
VAN = DrillPlan(
    "Spring holes on the van",
    tuple(DrillMark(f"hole {h.name}", h.x_mm, h.z_mm, h.start) for h in HOLES),
    (
        RefLine("upright", 1450.0, "550 mm from the front edge of the opening"),
        RefLine("level", 0.0, "roof height"),
    ),
    (Fact("hinge to hole 1", "563 mm"),),
    "Along from the opening's rear edge, closed.",
)
WIDE = DrillPlan(
    "Holes far apart",
    (
        DrillMark("hole 1", 100.0, -20.0),
        DrillMark("hole 2", 263.0, -20.0),
        DrillMark("hole 3", 437.0, 190.0),
        DrillMark("hinge", 610.0, 35.0, False, True),
    ),
    (RefLine("upright", 0.0, "rear edge of the opening"), RefLine("level", 0.0, "roof height")),
    (),
    "Along from the opening's rear edge, closed.",
)


def choice(units: Units = "metric") -> ChoicePage:
    facts = (Fact("Force F1", "810 N", "moving out"), Fact("Stroke", "280 mm"), Fact("Foot", "1521 mm", "on the van"))
    rest = (Shortfall("LIFT-201", "too hard to pull down", 16), Shortfall("LIFT-202", "takes over too late", 14))
    best = SpringAnswer("12/26-280-810", 61, facts, rest, "meets everything in 61 of 100 roofs like yours")
    return ChoicePage(
        name="Heron",
        subtitle="the best springs found meet everything in 61 of 100",
        measure=(Worth("Weigh the shell", 20, "On two battens.", 58, 78, "58 to 78 of 100"),),
        planned=45,
        planned_rest=rest,
        best=best,
        others=(replace(best, name="12/26-240-950", odds=45),),
        holes=ROW,
        card=CARD,
        ratings=Ratings(("750 N", "800 N"), 70, "Order 750 N and 800 N together: 70 of 100."),
        in_the_way=rest,
        advice=(Advice("foot 20 mm lower", 80, "Foot 20 mm lower: 80 of 100"),),
        searched="Tried: 1000 springs in 16000 places.",
        cautions=sample.CAUTIONS,
        assumptions=("The list is invented.",),
        units=units,
        made_with="Loftwright 0.1.0",
    )


def proof() -> ProofPage:
    return ProofPage(
        name="Heron",
        subtitle="the built roof",
        rows=(ReadingRow("1: push up at 10 %", "11.8 kg", "11.3 kg", "+0.5 kg", False),
              ReadingRow("2: pull down at 90 %", "19.0 kg", "16.0 kg", "+3.0 kg", True)),
        learnt=(Fact("Weight of the shell", "62 ± 1 kg", "before: ± 4 kg"),),
        chart=ReadingChart("kg", (10.0, 90.0), (11.8, 19.0), (9.0, 13.0), (13.0, 18.0), (11.5, 18.0),
                           ("1 push", "2 pull")),
        verdict="Something drags.",
        odds_before=48,
        odds_after=70,
        next_hole="Go to hole 3.",
        holes=None,
        tape=(Fact("lip height, open", "1006 mm"),),
        tape_verdict="The tape agrees.",
        cautions=sample.CAUTIONS,
        units="metric",
        made_with="Loftwright 0.1.0",
    )  # fmt: skip


def frame_page(units: Units = "metric") -> FramePage:
    held = (Held("hinge", 2.055, 0.035, 0.65, 1200.0), Held("row of holes", 1.52, -0.036, 0.64, 1300.0, 0.03))
    frame = trial_frame(
        Ask(units, 2.0, 1.38, ((-0.3, -0.008), (0.0, 0.0), (1.0, 0.006), (2.6, -0.015)), 0.018, held, None, 670.0,
            ((0.97, 0.1), (1.15, 0.6)), ((-0.06, 0.01), (0.2, 1.0)), (0.0, 200.0))
    )  # fmt: skip
    return FramePage(
        frame=frame,
        facts=tuple(Fact(f"Figure {i}", "12.3 kg", "a note of some words") for i in range(8)),
        rows=tuple(
            FrameRow(m.mark, m.name, str(m.count), "45 mm x 95 mm", f"{m.length:.2f} m", "square", m.joint)
            for m in frame.members
        ),
        bars=tuple(Fact("45 mm x 95 mm, 3.60 m long", "A 2.20 m, B 1.38 m", "left 12 mm") for _ in range(9)),
        bars_note="Quick, not the least possible timber.",
        packers=tuple(Fact(f"{i} mm", "3 mm") for i in range(5)),
        crown=tuple(Fact(f"{i} mm", "9 mm") for i in range(9)),
        true=("Both diagonals within 3 mm.", "Holes within 3 mm."),
        build=("Screw it together.", "Turn it over."),
        cautions=("Prop the open shell.", "Tie the frame down."),
    )


def book(units: Units = "metric", *, name: str = "Heron") -> BookPage:
    return BookPage(
        name=name,
        subtitle="hinged at the front, with the chosen springs",
        roof=sample.roof_page(name=name, units=units),
        choice=choice(units),
        choice_missing="",
        proof=proof(),
        drilling=(VAN,),
        requests=(
            Request(
                "Request for gas springs: A", (Fact("Force", "810 N", "F1"), Fact("Stroke", "280 mm")), "as chosen"
            ),
        ),
        works=tuple(Work(f"Step {i}", 2, ("Do this.", "Then that."), ("done", "looked at")) for i in range(7)),
        home_test=("Lay a plank.", "Press slowly."),
        home_cautions=("Nobody in line with the rod.", "The first 20 mm only."),
        frame=frame_page(units),
        sources=("judgement: a limit (3 verdicts)",),
        cautions=sample.CAUTIONS,
        units=units,
        made_with="Loftwright 0.1.0",
    )
