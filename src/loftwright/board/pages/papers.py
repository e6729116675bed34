"""Papers: what can be printed or sent, what each is for, and with which springs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import urlencode

from loftwright.answers import board_choice
from loftwright.answers.board_home import BoardHome
from loftwright.answers.book import BookChoice
from loftwright.board.desk import Desk
from loftwright.board.page import Page, View
from loftwright.board.pages import lifts
from loftwright.board.papers import FOLDER, HEIGHTS, PAPERS, SPRINGS, Wanted, routes, wanted
from loftwright.board.said import Action, Form, Said
from loftwright.core.errors import ProjectFault
from loftwright.core.wording import Wording
from loftwright.documents.book import paper_for


@dataclass(frozen=True, slots=True)
class Offered:
    """One paper: the last part of its address, its title, what it is for and when to print it.

    `asks` names what of the choices on the page its address carries.
    """

    path: str
    title: str
    use: str
    when: str
    asks: tuple[str, ...] = ()


FIRST: Final = (
    Offered(
        "measuring-sheet.pdf",
        "Measuring sheet",
        "One page to take to the van and the shell: pictures of what to lay where, and boxes. What is known is written "
        "in, what is not comes first.",
        "Before you measure, and again when much has changed.",
    ),
    Offered(
        "roof.pdf",
        "The roof on one page",
        "Drawing, hand forces, verdicts worst first, what to do next, cautions.",
        "To hang up in the workshop, or to show somebody who helps.",
    ),
    Offered(
        "roof.html",
        "The roof as one file",
        "The same with a slider, for any browser; it needs no network and no program. It is saved, not opened.",
        "To send to somebody who is far away.",
    ),
)
BOOK: Final = Offered(
    "book.pdf",
    "The build book",
    "Everything on paper: weight and movement, forces, springs, holes at full size, tuning card, request to the "
    "supplier, steps, timber frame, sheets for readings. It takes a few seconds.",
    "Before you order, and again before you drill.",
    ("springs", "paper", "frame"),
)
SHEETS: Final = (
    Offered(
        "sheet/request.pdf",
        "Request for springs",
        "What to ask a supplier for, in a counter clerk's words.",
        "When the springs are settled, before you order.",
        ("springs", "paper"),
    ),
    Offered(
        "sheet/frame.pdf",
        "Timber frame",
        "A frame of battens with the opening's size and the hinge's place, to try everything on the ground.",
        "Before any metal is cut.",
        ("springs", "paper", "frame"),
    ),
    Offered(
        "sheet/drilling.pdf",
        "Drilling sheets",
        "Holes at full size, left and right, to be taped on. Check the printed ruler with a tape first.",
        "When the springs lie before you, before you drill.",
        ("springs", "paper"),
    ),
    Offered(
        "sheet/card.pdf",
        "Tuning card",
        "Which hole to go to for which reading. It needs the search for springs.",
        "For the first lift.",
        ("springs", "paper"),
    ),
    Offered(
        "sheet/steps.pdf",
        "Fitting and first lift",
        "What to do in which order, how many people, and boxes to tick. The prop comes first.",
        "On the day of fitting.",
        ("paper",),
    ),
    Offered(
        "sheet/home-test.pdf",
        "A spring's force, at home",
        "How to find a spring's force with bathroom scales, and what never to do with a gas spring.",
        "When springs are at hand whose label is gone.",
        ("paper",),
    ),
    Offered(
        "sheet/readings.pdf",
        "Readings on the built roof",
        "A sheet for hand forces, temperatures and tape readings at the van.",
        "After fitting, and once a year.",
        ("springs", "paper"),
    ),
)
HOLD: Final = (
    Offered(
        "hold.pdf",
        "Fit and strength",
        "All sheets below behind a cover: what fails, what is not known yet, and what to do.",
        "Before you order metal for hinges, brace and ring.",
        ("paper",),
    ),
    Offered(
        "hold/fit.pdf",
        "Does it sit",
        "Gap between rim and roof all round, and the packers that close it.",
        "Before hinges and seal are bought.",
        ("paper",),
    ),
    Offered(
        "hold/packers.pdf",
        "Packers",
        "Each piece at full size, with where it goes. Check the printed ruler with a tape first.",
        "When the packers are cut.",
        ("paper",),
    ),
    Offered(
        "hold/before-the-cut.pdf",
        "Before the cut",
        "What to look for behind the lining, and what must hold before a saw is switched on; boxes to tick.",
        "Before the first hole.",
        ("paper",),
    ),
    Offered(
        "hold/cut-plan.pdf",
        "Cut plan",
        "The roof from above with the cut line, its diagonals, bows and ring.",
        "When the line is marked on the roof.",
        ("paper",),
    ),
    Offered(
        "hold/corners.pdf",
        "Corners",
        "The round corners of the cut at full size, to be taped on.",
        "When the line is marked on the roof.",
        ("paper",),
    ),
    Offered(
        "hold/ring.pdf",
        "Ring",
        "Its pieces to be cut, and what sections that shops keep give back to the roof.",
        "Before you order metal.",
        ("paper",),
    ),
    Offered(
        "hold/holes.pdf",
        "Every hole",
        "Diameter, distance from edges, bolt, torque, what lies behind it and how it is sealed.",
        "When you drill.",
        ("paper",),
    ),
    Offered(
        "hold/wind-card.pdf",
        "Wind card",
        "Above which gust the roof is lowered, and what goes first.",
        "To hang up in the van.",
        ("paper",),
    ),
    Offered(
        "hold/inspector.pdf",
        "For the inspector",
        "What was changed, masses, heights, materials, and what none of this assesses.",
        "Before you ask a local inspector or engineer, who decides.",
        ("paper",),
    ),
)
WALLS: Final = (
    Offered(
        "walls.pdf",
        "Cloth walls",
        "All sheets below together: panels by ordinates, lower edge, cutting layout, sewing, bill, fold.",
        "Before cloth is bought.",
        ("paper",),
    ),
    Offered(
        "walls/sheet/trial.pdf",
        "Trial in paper",
        "The smallest trial in paper that tells before cloth is cut.",
        "First of all.",
        ("paper",),
    ),
    Offered(
        "walls/sheet/panels.pdf",
        "Panels",
        "One numbered sheet for each panel, with heights every 100 mm for those who draw with a batten.",
        "When the panels are drawn on cloth.",
        ("paper",),
    ),
    Offered(
        "walls/patterns.pdf",
        "Patterns at full size",
        "Sheets to be taped together, with a map, registration marks and a square to check by.",
        "When the panels are cut from paper. Check the square with a steel rule first.",
        ("paper",),
    ),
    Offered(
        "walls/patterns-long.pdf",
        "Patterns on one long page",
        "The same without joints, for a shop that prints from a roll.",
        "When the panels are cut from paper.",
    ),
    Offered(
        "walls/patterns.dxf",
        "Patterns as DXF",
        "Stitch lines, cut lines, marks and text in layers of their own; arcs as arcs.",
        "To send to somebody who cuts by machine.",
    ),
    Offered(
        "walls/patterns-svg.zip",
        "Patterns as SVG",
        "One drawing for each panel, all in one zip file.",
        "To send to somebody who cuts by machine.",
    ),
    Offered(
        "walls/sheet/layout.pdf",
        "Cutting layout",
        "How the pieces lie on every roll, and how much is bought.",
        "Before cloth is bought, and again when it is cut.",
        ("paper",),
    ),
    Offered(
        "walls/sheet/sewing.pdf",
        "Order of sewing",
        "Seams, edges and marks, one step after the other.",
        "At the sewing machine.",
        ("paper",),
    ),
    Offered(
        "walls/sheet/bill.pdf",
        "Bill of cloth",
        "Cloth, thread, tape, clear sheet, staples.",
        "Before cloth is bought.",
        ("paper",),
    ),
    Offered(
        "walls/sheet/water.pdf",
        "Lower edge",
        "Sections of the lower edge with upstand, lap, hem and staples.",
        "When the lower line is marked on the ring.",
        ("paper",),
    ),
    Offered(
        "walls/sheet/fold.pdf",
        "The fold",
        "Where the folded cloth goes at every place that was worked out.",
        "Before the bed board and the lining are fitted.",
        ("paper",),
    ),
    Offered(
        "walls/sheet/tucking.pdf",
        "Tucking card",
        "How the cloth is tucked in, and which window is opened first.",
        "To hang up in the van.",
        ("paper",),
    ),
)

REST: Final = (
    Offered(
        "sheet/fit-out.pdf",
        "Fit-out",
        "Seal, room to stand, panel and wire, powered lift, lining: what each asks for, drawn.",
        "Before seal, panel and cable are bought.",
        ("paper",),
    ),
    Offered(
        "sheet/shopping.pdf",
        "Parts",
        "Everything that is bought, with boxes to tick and room for the price.",
        "To take along to the shop.",
        ("paper",),
    ),
    Offered(
        "sheet/bars.pdf",
        "Bars",
        "How every bar of metal and timber is cut, with the least waste.",
        "Beside the saw.",
        ("paper",),
    ),
    Offered(
        "sheet/calendar.pdf",
        "Days",
        "When what is done, and the months as grids of days.",
        "To hang up in the garage.",
        ("paper",),
    ),
    Offered(
        "sheet/tasks.pdf",
        "Tasks",
        "Every task with tools, helpers, hours and a box.",
        "To tick off as you go.",
        ("paper",),
    ),
    Offered(
        "sheet/open-roof.pdf",
        "The open roof",
        "What holds the roof open, what shortens it, the day of the cut and the cover for the nights.",
        "When the day of the cut is set.",
        ("paper",),
    ),
    Offered(
        "sheet/go.pdf",
        "Go or no-go",
        "The list before the cut, what is not so first.",
        "The evening before the cut.",
        ("paper",),
    ),
    Offered(
        "sheet/way-back.pdf",
        "The way back",
        "How the hole is closed with the shell fixed.",
        "To have at hand; nobody plans it.",
        ("paper",),
    ),
    Offered(
        "sheet/first-lift.pdf",
        "First lift and first road",
        "Step by step, with what to expect and when to stop.",
        "When the roof is on.",
        ("paper",),
    ),
    Offered(
        "sheet/dash.pdf",
        "Driver's card",
        "The height, and what to do before driving and before the night.",
        "To hang up in the van.",
        ("paper",),
    ),
    Offered(
        "sheet/service.pdf",
        "Service card",
        "What is looked after in each season, and bolts to tighten again.",
        "In the van, for the years to come.",
        ("paper",),
    ),
    Offered(
        "sheet/faults.pdf",
        "Fault finding",
        "By symptom: causes, what to measure, this roof's own numbers.",
        "In the van, beside the service card.",
        ("paper",),
    ),
    Offered(
        "sheet/folder.pdf",
        "Inspector's folder",
        "What was changed, masses, judgements, and what none of this assesses.",
        "Before you ask a local inspector or engineer, who decides.",
        ("paper",),
    ),
)


def choice_of(desk: Desk) -> BookChoice | None:
    """Return the search for springs that was made of the open roof as it is now, None where there is none."""
    made = lifts.of_file(desk).made
    found = None if made is None else made.choice
    return found.book if found is not None and board_choice.of_this_roof(found, desk.project) else None


async def context(desk: Desk, view: View, home: BoardHome | None) -> dict[str, Any]:
    """Return every paper with its address, and how far a search for springs is."""
    if desk.history is None:
        return {"first": (FIRST[0],), "book": None}
    how = Wanted()
    wrong_words: list[str] = []
    try:
        how = wanted(view.query)
    except ProjectFault as error:
        wrong_words = [fault.sentence() for fault in error.faults]
    search = lifts.of_file(desk)
    searched = choice_of(desk) is not None
    springs = how.springs if view.query.get("springs") in SPRINGS else "searched" if searched else "planned"
    choices = {
        "paper": how.paper or paper_for(desk.project.settings.units),
        "frame": how.height,
        "springs": springs,
    }
    return {
        "first": FIRST,
        "book": BOOK,
        "sheets": SHEETS,
        "hold_sheets": HOLD,
        "wall_sheets": WALLS,
        "rest_sheets": REST,
        "choices": choices,
        "wrong_words": wrong_words,
        "papers_of": PAPERS,
        "heights": HEIGHTS,
        "address": lambda offer: _address(offer, choices),
        "search": search,
        "searched": searched,
        "stale": search.made is not None and not searched,
        "percent": Wording(desk.project.settings.units).percent(search.share),
    }


def _address(offer: Offered, choices: dict[str, str]) -> str:
    query = urlencode({name: choices[name] for name in offer.asks})
    return f"{FOLDER}/{offer.path}?{query}" if query else f"{FOLDER}/{offer.path}"


async def search(desk: Desk, form: Form) -> Said:
    """Search for springs in the usual list, as the page of springs does, and show here how far it is."""
    usual = next(one.which for one in board_choice.offers(desk.project) if one.usual)
    return await lifts.search(desk, Form({"list": usual, "draws": f"{board_choice.usual_draws()}"}))


async def stop(desk: Desk, form: Form) -> Said:
    """End the search with the best so far."""
    return await lifts.stop(desk, form)


PAGE = Page(
    path=FOLDER,
    title="Papers",
    template="papers.html",
    parts=("papers",),
    context=context,
    styles=("papers.css",),
    without_project=True,
)
ACTIONS: dict[str, Action] = {"papers-search": search, "papers-stop": stop}
ROUTES = routes(choice_of)
