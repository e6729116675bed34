"""Pages on fit-out, parts and plan made up for the board: a panel, three parts, three tasks, two symptoms."""

from __future__ import annotations

from datetime import date
from typing import Literal

from loftwright.answers.board_parts import BoardParts
from loftwright.answers.board_plan import BoardPlan
from loftwright.answers.board_riding import BoardRiding
from loftwright.core.checks import Verdict
from loftwright.core.fitting_pages import (
    FITTING_PARTS,
    FittingPage,
    FittingSection,
    LoopDrawn,
    Offered,
    RoomMap,
    SealDrawn,
    SunChart,
    WireDrawn,
)
from loftwright.core.fitting_views import CutBar, CutPiece, CutPlan, StockBar
from loftwright.core.parts_pages import BarsText, BarText, PartsGroup, PartsPage, PartText
from loftwright.core.views import Caution, Fact, Grid
from loftwright.core.work import After, Hours, PartStatus, Planned, Schedule, Task
from loftwright.core.work_pages import (
    FaultCause,
    FaultEntry,
    FinishText,
    GoLine,
    GoPage,
    HandOverPage,
    HelpPage,
    ServiceRow,
    StepRow,
    TaskRow,
    WorkChapter,
    WorkPage,
)

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
HEADINGS = ("N", "E", "S", "W")
RAISED, FLAT, USE = (40.0, 80.0, 160.0, 90.0), (60.0, 60.0, 60.0, 60.0), 150.0
"""By heading [W h a day]: enough is had in one way alone, raised with the cab to the south."""
CAUTIONS = (Caution("Prop it first."),)
HELP = HelpPage("Fit", "/fit", "fit", "loftwright fit")


def riding() -> BoardRiding:
    """A fit-out whose panel gives 300 W h a day flat and 200 raised, by every month."""
    twelve = (300.0,) * 12, (200.0,) * 12
    sun = SunChart(
        MONTHS,
        twelve[0],
        twelve[1],
        USE,
        (True,) * 12,
        HEADINGS,
        RAISED,
        FLAT,
        2,
        60.0,
        "best: cab to S, 160 W h a day",
        "worst: cab to N, 40 W h a day",
        "roof closed, at best 60 W h a day",
        "used a day: 150 W h",
    )
    cells = (1.0, 2.0, 3.0)
    heights = ((1.9, 1.9, 1.9),) * 3
    page = FittingPage(
        name="Made up",
        subtitle="with panel",
        sections=tuple(
            FittingSection(part, f"On {part}", f"The answer on {part}.", (Fact("Figure", "1 m"),), (), (), ())
            for part in FITTING_PARTS
        ),
        rows=(),
        seal=SealDrawn(
            ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)), (False,) * 4, (0.0, 0.5), "6 m", "", ("Cut 100 mm.",)
        ),
        room=RoomMap(cells, (-0.5, 0.0, 0.5), heights, heights, 1.8, "1.8 m", None, ((1.5, "1.5 m"),)),
        sun=sun,
        loop=LoopDrawn((0.0, 0.0), ((0.1, 0.1), (0.1, 0.2), (0.1, 0.3)), 0.5, 0.05, "500 mm", "50 mm", True),
        wire=WireDrawn((("Panel", "100 W"), ("Cable", "4 mm²"), ("Battery", "12 V"))),
        lift=None,
        offered=(Offered("forces.seal_line", "20 .. 30 N/m, assumed", "What the sample pushes with"),),
        cautions=CAUTIONS,
        assumptions=(),
        provenance="",
        units="metric",
        made_with="",
    )
    return BoardRiding(page, (), (), ())


def part(id_: str, status: PartStatus, *, before: bool = True) -> PartText:
    return PartText(
        id_,
        f"{id_} of steel, small",
        "4",
        "4",
        "2 EUR each",
        "8 EUR",
        status,
        "",
        "",
        "",
        "",
        "ring",
        before,
        False,
        None,
        "each",
    )


def parts() -> BoardParts:
    """Three parts, one of each state, and one bar of 6 m cut into two."""
    plan = CutPlan(
        (CutBar(StockBar(6.0), (CutPiece("A", 2.0), CutPiece("B", 1.5)), 2.5),),
        0.002,
        "metres",
        6.0,
        6.0,
        True,
        "Proved.",
    )
    page = PartsPage(
        name="Made up",
        subtitle="3 parts",
        says="2 parts must be there before the cut.",
        money=(Fact("Planned", "24 EUR"),),
        groups=(
            PartsGroup("frame", (part("seal", "in the garage"), part("angle", "only ordered")), "16 EUR"),
            PartsGroup("cloth", (part("thread", "not ordered", before=False),), ""),
        ),
        bars=(
            BarsText(
                "angle", "1 bar.", plan, (BarText("Bar 1 of 1, 6 m", ("2 m", "1.5 m"), "2.5 m left over"),), (), "ring"
            ),
        ),
        rows=(),
        cautions=CAUTIONS,
        assumptions=(),
        provenance="",
        units="metric",
        made_with="",
    )
    return BoardParts(page, (), (), (), {"seal": "4", "angle": "2.5", "thread": "1"})


def row(id_: str, state: Literal["done", "next", "waits"]) -> TaskRow:
    return TaskRow(
        id_,
        f"Do {id_}: with care",
        "Order",
        "Sat 2 May",
        "Sat 2 May",
        "",
        "2 h",
        "none",
        "",
        "",
        "",
        state,
        True,
        False,
        (),
        HELP,
    )


def planned(id_: str, day: int, *, done: bool = False) -> Planned:
    on = date(2026, 5, day)
    task = Task(id_, f"Do {id_}", Hours(1.0, 2.0, 3.0), (After("design"),), chapter="Order")
    return Planned(task, on, on, on, on, on, 2.0, 0.0, 0.0, True, done)


def plan() -> BoardPlan:
    """Three tasks of which one is done, two lines of the list before the cut, two symptoms."""
    tasks = (row("design", "done"), row("order-seal", "next"), row("order-springs", "waits"))
    go = GoPage(
        False,
        "No go: 2 of 3 hard stops are not met.",
        (
            GoLine("The seal", Verdict.FAILS, "", "only ordered", True, "wait for it", ()),
            GoLine("The ring holds", Verdict.NOT_KNOWN, "not known", "", True, "measure it", ("Wall",)),
        ),
        (),
        (GoLine("The bolts hold", Verdict.HOLDS, "measured", "", True, "", ()),),
        (),
    )
    page = WorkPage(
        name="Made up",
        subtitle="3 tasks",
        says="It will likely be done by Sat 2 May.",
        facts=(Fact("Roof open", "3 nights"),),
        rows=(),
        next_up=tasks[1:2],
        chapters=(WorkChapter("Order", tasks, HELP),),
        path=("Do it",),
        shorten=Grid(
            "Nights with the roof open", ("Way", "Expected"), (("as planned", "3"), ("without the timber frame", "9"))
        ),
        holds_open=Grid("What holds the roof open", ("Task", "Days"), ()),
        cut_day=("It falls on Sat 2 May.",),
        rain_cover=("A tarpaulin.",),
        go=go,
        way_back=tasks[1:2],
        way_back_says="About 2 h.",
        said=(),
        cautions=CAUTIONS,
        schedule=Schedule(
            (planned("design", 2, done=True), planned("order-seal", 3), planned("order-springs", 9)),
            date(2026, 5, 9),
            ("order-seal",),
            (),
        ),
        worked=(5, 6),
        today=date(2026, 5, 3),
        units="metric",
        made_with="",
        finish_days=FinishText(((date(2026, 5, 9), 1.0),), ((date(2026, 5, 9), "half: Sat 9 May"),), None, ""),
    )
    empty = Grid("None", (), ())
    causes = (FaultCause("Cold gas", "Hand force on a cold day", "it stays up: 7 kg", Verdict.HOLDS, "LIFT-221", HELP),)
    cards = HandOverPage(
        name="Made up",
        subtitle="",
        commissioning=(StepRow("First lift", "two people", ("Prop it",), ("It rises",), "it slams"),),
        readings=empty,
        service=(ServiceRow("each spring", "Springs", "look for oil", "2 of them"),),
        torques=Grid("Bolts to tighten again", ("Bolt", "Torque"), (("M8", "20 N m"),)),
        driver=("Height closed: 2.25 m", "Close the second catch."),
        dossier=(Fact("Van", "made up"),),
        sheets=empty,
        masses=empty,
        judged=(),
        not_assessed=("A crash.",),
        sources=(),
        faults=(
            FaultEntry("sinks-cold", "It does not stay up on cold mornings", "Lifting", causes, "Prop it"),
            FaultEntry("drips", "Water drips in at a corner", "Water", (), ""),
        ),
        cautions=CAUTIONS,
        said=(),
        provenance="",
        units="metric",
        made_with="",
    )
    return BoardPlan(page, cards, "", (), (), ())
