"""Proof: the built roof against its plan. What the readings say is reckoned anew by itself after every change."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from loftwright.answers.board_home import BoardHome
from loftwright.answers.board_proof import BoardProof, board_proof, entries
from loftwright.answers.board_readings import LABELS, USUAL, ReadingPlan, reading_plan, tape_changes
from loftwright.board.desk import Desk
from loftwright.board.mistakes import mistake
from loftwright.board.page import Page, View, sentences
from loftwright.board.said import Action, Form, Said
from loftwright.core.errors import LoftwrightError
from loftwright.documents.ornaments import Ready
from loftwright.documents.reading_chart import reading_chart_svg
from loftwright.project.model import Project

PATH: Final = "/proof"
KEPT: Final = "proof"
"""The name by which the desk keeps what the readings say."""
PLAN: Final = "reading plan"
BROKEN: Final = "What the readings say could not be reckoned, by a mistake of the program; the readings are safe."


@dataclass(slots=True)
class KeptProof:
    """What the readings of one file said last: of which project, and `wrong` where nothing can be said of it."""

    file: Path
    project: Project | None = None
    made: BoardProof | None = None
    chart: Ready | None = None
    wrong: tuple[str, ...] = ()
    task: asyncio.Task[None] | None = None


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """What is to be read next, with what it was made of."""

    project: Project
    made: BoardProof | None
    plan: ReadingPlan


def kept(desk: Desk) -> KeptProof:
    """Return what the readings of the open file said last; where that is of before, it is being reckoned anew."""
    found: KeptProof | None = desk.kept.get(KEPT)
    if found is None or found.file != desk.open.path:
        found = KeptProof(desk.open.path)
        desk.kept[KEPT] = found
    if found.project is not desk.project and found.task is None:
        found.task = desk.start(_reckon(desk, found, desk.project))
    return found


async def _reckon(desk: Desk, found: KeptProof, project: Project) -> None:
    """Keep what the readings of a project say, and tell the page."""
    # A search may hold the process for long work for minutes.
    worker = desk.verdicts if desk.long.busy else desk.long
    made: BoardProof | None = None
    chart: Ready | None = None
    wrong: tuple[str, ...] = (BROKEN,)
    try:
        made = await worker.run(board_proof, project, found.file.parent)
        chart = None if made.page.chart is None else Ready(reading_chart_svg(made.page.chart))
        wrong = ()
    except LoftwrightError as error:
        wrong = sentences(error)
    except Exception as error:
        mistake(error)
    finally:
        found.project, found.made, found.chart, found.wrong, found.task = project, made, chart, wrong, None
        desk.changed(PATH)


def plan_of(desk: Desk) -> ReadingPlan:
    """Return what is to be read next on the open roof."""
    project = desk.project
    proof: KeptProof | None = desk.kept.get(KEPT)
    made = proof.made if proof is not None and proof.file == desk.open.path else None
    found: KeptPlan | None = desk.kept.get(PLAN)
    if found is None or found.project is not project or found.made is not made:
        found = KeptPlan(project, made, reading_plan(project, None if made is None else made.page.holes))
        desk.kept[PLAN] = found
    return found.plan


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return what the readings say, as far as it is known, and the forms that enter and change them."""
    found = kept(desk)
    return {
        "made": found.made,
        "chart": found.chart,
        "fresh": found.project is desk.project,
        "cannot": found.wrong if found.project is desk.project else (),
        "plan": plan_of(desk),
        "entries": entries(desk.project, desk.open.text),
        "labels": LABELS,
        "usual": USUAL,
    }


async def tape_add(desk: Desk, form: Form) -> Said:
    """Write a tape reading into the file."""
    changes, words = tape_changes(desk.project, form)
    desk.change(changes, f"tape reading: {words}")
    return Said(True, f"Saved: {words}.")


PAGE = Page(
    path=PATH,
    title="Proof",
    template="proof.html",
    parts=(
        "proof_care",
        "proof_says",
        "proof_first",
        "proof_chart",
        "proof_rows",
        "proof_add",
        "proof_learnt",
        "proof_tape",
        "proof_change",
    ),
    context=context,
    modules=("proof.js",),
    styles=("proof.css",),
)
ACTIONS: dict[str, Action] = {"tape_add": tape_add}
