"""The build book: chapters for all answers, and each of its sheets alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final, cast

from loftwright.core.book_views import (
    PAPER_MM,
    REST_SHEETS,
    BookPage,
    BookSheet,
    HoldSheet,
    Paper,
    RestSheet,
    Sheet,
)
from loftwright.core.book_views import SHEETS as SHEETS
from loftwright.core.errors import Bug, Fault, ProjectFault
from loftwright.core.spelling import own_words
from loftwright.documents import cards, parts_sheets, roof_chapters, work_sheets
from loftwright.documents.chapters import WIDTH, Chapter, bound
from loftwright.documents.chapters import paper_for as paper_for
from loftwright.documents.fit_book import fit_chapters
from loftwright.documents.hold_book import hold_chapters
from loftwright.documents.respelled import own_of
from loftwright.documents.roof_sheet import sentence
from loftwright.documents.typeset import Printed
from loftwright.documents.wall_book import wall_chapters
from loftwright.drawing.svg import svg
from loftwright.drawing.three_views import CoverWords, three_views

FIRST: Final = (
    ("What is bought, and what does it cost?", parts_sheets.SHOPPING),
    ("What is done on the next free Saturday?", work_sheets.CALENDAR),
    ("What must nobody do yet?", work_sheets.GO),
    ("Something is wrong: what now?", cards.FAULTS),
)
"""What a reader with little time asks, and the chapter that says it."""
HOW_TO_USE: Final = (
    "Measure what the next chapter names first: a few minutes with scales often do more than a better spring.",
    "Build the timber frame, try hinges, springs and latches on it, and only then cut the roof.",
    "Take the request to a supplier. Buy when what is offered agrees with it line by line.",
    "Print the drilling sheets at 100 % and check the square on every page.",
    "Fit in the order of the steps, springs last. Keep the tuning card in the van.",
    "Write readings into the sheet at the end and into the project file; print again what has changed.",
)
_COVER_TEXT: Final = 160.0
"""Height of what stands beside the three views on the cover [mm]."""


def _cover(page: BookPage, paper: Paper) -> Chapter:
    roof = page.roof
    odds = roof.odds
    if page.choice is not None and page.choice.best is not None and "chosen" in page.subtitle:
        row = page.choice.holes
        odds = f"{page.choice.best.odds} of 100 roofs like yours meet everything with the chosen springs"
        if row is not None:
            # What is drawn and drilled is the place to start with.
            odds = (
                f"With the chosen springs {row.odds} of 100 roofs like yours meet everything in one of the "
                f"{len(row.places)} places that are drilled, {row.first} in the one to start with"
            )
    views = page.cover
    picture = roof_chapters.side(page, 100.0)
    if views is not None:
        words = CoverWords(rise=views.rise, length=views.length, width=views.width)
        picture = svg(three_views(views.solid, words, width=WIDTH, height=PAPER_MM[paper][1] - _COVER_TEXT))
    return {
        "kind": "cover",
        "title": "",
        "picture": picture,
        "short": views is not None,
        "facts": roof_chapters.facts(roof.facts[: 9 if views is None else 8]),
        "odds": sentence(odds),
        "provenance": roof.provenance,
        "cautions": [c.text for c in page.cautions],
    }


def _contents(page: BookPage) -> Chapter:
    return {
        "kind": "contents",
        "title": "Contents",
        "first": [{"asks": asks, "title": title} for asks, title in FIRST],
        "how": list(HOW_TO_USE),
    }


def _springs_and_holes(page: BookPage, paper: Paper) -> list[Chapter]:
    row = None if page.choice is None else page.choice.holes
    card = None if page.choice is None else page.choice.card
    return [
        roof_chapters.springs(page),
        *([] if row is None else [roof_chapters.holes(page, row)]),
        *([] if row is None or card is None else [roof_chapters.card(page, row, card)]),
        *([roof_chapters.drilling(page, paper)] if page.drilling else []),
        *([roof_chapters.requests(page)] if page.requests else []),
        roof_chapters.steps(page),
        roof_chapters.home(page),
        roof_chapters.frame(page, paper),
    ]


def _held(page: BookPage, paper: Paper, *sheets: HoldSheet) -> list[Chapter]:
    return [] if page.hold is None else hold_chapters(page.hold, paper, sheets)


def _before(page: BookPage, paper: Paper) -> list[Chapter]:
    """Return what is looked for before the cut; go or no-go stands on a page of its own where there is one."""
    found = _held(page, paper, "before-the-cut")
    said = f"Go or no-go for the whole roof: chapter “{work_sheets.GO}”."
    return found if page.rest is None else [{**chapter, "elsewhere": said} for chapter in found]


def _plan(page: BookPage, paper: Paper) -> list[Chapter]:
    if page.rest is None:
        return _before(page, paper)
    work = page.rest.work
    return [
        work_sheets.calendar(work, paper),
        work_sheets.months(work),
        work_sheets.tasks(work),
        work_sheets.open_roof(work),
        *_before(page, paper),
        work_sheets.go(work),
        work_sheets.way_back(work),
    ]


def _parts(page: BookPage, paper: Paper) -> list[Chapter]:
    if page.rest is None:
        return []
    made = [parts_sheets.shopping(page.rest.parts)]
    bars = parts_sheets.bars(page.rest.parts, paper)
    return [*made, bars] if bars["sections"] else made


def _hand_over(page: BookPage, paper: Paper) -> list[Chapter]:
    inspector = _held(page, paper, "inspector")
    if page.rest is None:
        return inspector
    over = page.rest.hand_over
    return [
        cards.commissioning(over),
        cards.service(over),
        cards.dash(over),
        cards.folder(over),
        *inspector,
        cards.faults(over),
    ]


def _grouped(page: BookPage, paper: Paper) -> list[tuple[str, list[Chapter]]]:
    """Return chapters in the order of the decisions, under the names of what they decide."""
    rest, walls = page.rest, page.walls
    return [
        ("What you have", [roof_chapters.measure(page)]),
        ("Does it sit", _held(page, paper, "fit", "packers")),
        ("How it moves", [roof_chapters.roof(page), roof_chapters.forces(page), roof_chapters.verdicts(page)]),
        ("What lifts it", _springs_and_holes(page, paper)),
        ("Cloth", [] if walls is None else wall_chapters(walls, paper)),
        ("Wind and road", _held(page, paper, "wind-card")),
        ("Opening and ring", _held(page, paper, "cut-plan", "corners", "ring")),
        ("Joints", _held(page, paper, "holes")),
        ("What rides on it", [] if rest is None else fit_chapters(rest.fitting, paper)),
        ("Parts", _parts(page, paper)),
        ("Plan", _plan(page, paper)),
        ("Hand-over", _hand_over(page, paper)),
        ("Proof and sources", [roof_chapters.readings(page), roof_chapters.closing(page)]),
    ]


def _chapters(page: BookPage, paper: Paper) -> list[Chapter]:
    whole = page.rest is not None
    return [
        _cover(page, paper),
        _contents(page),
        *(
            {**chapter, "group": group if whole else ""}
            for group, chapters in _grouped(page, paper)
            for chapter in chapters
        ),
    ]


def _rest_alone(page: BookPage, sheet: RestSheet, paper: Paper) -> list[Chapter]:
    rest = page.rest
    if rest is None:
        raise Bug(f"the sheet {sheet} is asked of a book without fit-out, parts, plan and hand-over")
    parts, work, over = rest.parts, rest.work, rest.hand_over
    made: dict[RestSheet, Callable[[], list[Chapter]]] = {
        "fit-out": lambda: fit_chapters(rest.fitting, paper),
        "shopping": lambda: [parts_sheets.shopping(parts)],
        "bars": lambda: [parts_sheets.bars(parts, paper)],
        "calendar": lambda: [work_sheets.calendar(work, paper), work_sheets.months(work)],
        "tasks": lambda: [work_sheets.tasks(work)],
        "open-roof": lambda: [work_sheets.open_roof(work)],
        "go": lambda: [work_sheets.go(work)],
        "way-back": lambda: [work_sheets.way_back(work)],
        "first-lift": lambda: [cards.commissioning(over)],
        "service": lambda: [cards.service(over)],
        "dash": lambda: [cards.dash(over)],
        "folder": lambda: [cards.folder(over)],
        "faults": lambda: [cards.faults(over)],
    }
    chapters = made[sheet]()
    if sheet == "bars" and not chapters[0]["sections"]:
        raise ProjectFault([Fault("--only bars", "not there", "no bar is cut for this roof", "see the list of parts")])
    return chapters


def _alone(page: BookPage, sheet: Sheet, paper: Paper) -> Chapter:
    row = None if page.choice is None else page.choice.holes
    card = None if page.choice is None else page.choice.card
    if sheet == "card":
        if row is None or card is None:
            why = page.choice_missing or "the choice of springs has no card that helps"
            raise ProjectFault([Fault("--only card", "not there", why, "run loftwright choose to see why")])
        return roof_chapters.card(page, row, card)
    if sheet in ("drilling", "request") and not page.requests and not page.drilling:
        raise ProjectFault(
            [Fault(f"--only {sheet}", "not there", "no springs are known", "write a [[spring]], or let them be chosen")]
        )
    made: dict[Sheet, Callable[[], Chapter]] = {
        "drilling": lambda: roof_chapters.drilling(page, paper),
        "request": lambda: roof_chapters.requests(page),
        "steps": lambda: roof_chapters.steps(page),
        "frame": lambda: roof_chapters.frame(page, paper),
        "home-test": lambda: roof_chapters.home(page),
        "readings": lambda: roof_chapters.readings(page),
    }
    return made[sheet]()


def _own_words(page: BookPage) -> tuple[str, ...]:
    """Return the builder's own names, which keep their spelling."""
    named = [] if page.rest is None else [line.name for line in page.rest.parts.lines if line.own]
    return (*own_of(page.roof), *own_words(named))


def _only(page: BookPage, sheet: BookSheet, paper: Paper) -> list[Chapter]:
    for rest in REST_SHEETS:
        if sheet == rest:
            return _rest_alone(page, rest, paper)
    return [_alone(page, cast("Sheet", sheet), paper)]


def book_pdf(page: BookPage, *, paper: Paper | None = None, only: BookSheet | None = None) -> Printed:
    """Return the build book, or one of its sheets alone, with its pages and chapters.

    `paper` left out is that of the page's units. The same page gives the same bytes. Errors: ProjectFault where the
    sheet that is asked for has nothing to say.
    """
    chosen = paper or paper_for(page.units)
    chapters = _chapters(page, chosen) if only is None else _only(page, only, chosen)
    number = 0
    for chapter in chapters:
        titled = only is None and chapter["title"] != "" and chapter["kind"] != "contents"
        number += titled
        chapter["number"] = f"{number}  " if titled else ""
    return bound(page, chapters, chosen, alone=only is not None, words=page.roof.words, own=_own_words(page))
