"""The build book: chapters for all answers, and each of its sheets alone."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict
from typing import Final

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
from loftwright.core.choice_views import Card, HoleRow, ProofPage, SpringAnswer
from loftwright.core.errors import Bug, Fault, ProjectFault
from loftwright.core.spelling import own_words
from loftwright.core.views import Fact
from loftwright.core.wording import Wording
from loftwright.documents import cards, parts_sheets, work_sheets
from loftwright.documents.chapters import WIDTH, Chapter, bound
from loftwright.documents.chapters import paper_for as paper_for
from loftwright.documents.fit_book import fit_chapters
from loftwright.documents.hold_book import hold_chapters
from loftwright.documents.respelled import own_of
from loftwright.documents.roof_sheet import minutes_text, sentence
from loftwright.documents.typeset import Printed
from loftwright.documents.wall_book import wall_chapters
from loftwright.drawing.chart import force_chart
from loftwright.drawing.drilling import drilling_sheets
from loftwright.drawing.elevation import side_views
from loftwright.drawing.frame_views import frame_views
from loftwright.drawing.home_test import home_test_picture
from loftwright.drawing.readings import reading_chart
from loftwright.drawing.svg import svg
from loftwright.drawing.three_views import CoverWords, three_views
from loftwright.drawing.tuning import hole_row

_METRE, _YARD = 1.0, 0.9144
Tell = Callable[[float, str], None]

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
_COVER_TALL: Final = 142.0
"""Height of the three views on the cover [mm]."""


def _facts(facts: Sequence[Fact]) -> list[dict[str, str]]:
    return [asdict(fact) for fact in facts]


def _side(page: BookPage, height: float) -> str:
    bar = _METRE if page.units == "metric" else _YARD
    return svg(side_views(page.roof.scene, page.roof.poses, Wording(page.units), width=WIDTH, height=height, bar=bar))


def _cover(page: BookPage) -> Chapter:
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
    picture = _side(page, 100.0)
    if views is not None:
        words = CoverWords(rise=views.rise, length=views.length, width=views.width)
        picture = svg(three_views(views.solid, words, width=WIDTH, height=_COVER_TALL))
    return {
        "kind": "cover",
        "title": "",
        "picture": picture,
        "short": views is not None,
        "facts": _facts(roof.facts[: 9 if views is None else 8]),
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


def _measure(page: BookPage) -> Chapter:
    choice = page.choice
    rows = []
    if choice is not None and choice.measure:
        rows = [
            {
                "title": w.title.rstrip("."),
                "minutes": "" if w.minutes is None else f"{w.minutes} min",
                "how": w.how,
                "gain": w.gain,
            }
            for w in choice.measure
        ]
    else:
        rows = [
            {"title": d.title.rstrip("."), "minutes": minutes_text(d), "how": d.how, "gain": sentence(d.why)}
            for d in page.roof.do_next
        ]
    return {"kind": "measure", "title": "What to measure next", "rows": rows, "note": sentence(page.roof.next_best)}


def _roof(page: BookPage) -> Chapter:
    return {
        "kind": "roof",
        "title": "The roof: weight, balance and how it moves",
        "picture": _side(page, 112.0),
        "facts": _facts(page.roof.facts),
        "subtitle": page.roof.subtitle,
    }


def _forces(page: BookPage) -> Chapter:
    chart = page.roof.chart
    return {
        "kind": "forces",
        "title": "Hand forces",
        "chart": svg(force_chart(chart, width=WIDTH, height=104.0).drawing),
        "band": chart.band_note,
        "unit": chart.unit,
    }


def _verdicts(page: BookPage) -> Chapter:
    keys = ("title", "value", "limit", "margin", "basis", "remedy")
    rows = [{"verdict": r.verdict.value, **{k: getattr(r, k) for k in keys}} for r in page.roof.rows]
    return {
        "kind": "verdicts",
        "title": "Verdicts",
        "rows": rows,
        "odds": sentence(page.roof.odds),
        "note": page.roof.odds_note,
        "tally": page.roof.tally.text(),
    }


def _answer(answer: SpringAnswer) -> Chapter:
    return {
        "name": answer.name,
        "odds": answer.odds,
        "why": sentence(answer.why),
        "facts": _facts(answer.facts),
        "rest": [{"title": s.title, "fails": s.fails} for s in answer.rest],
    }


def _springs(page: BookPage) -> Chapter:
    choice = page.choice
    if choice is None:
        return {"kind": "springs", "title": "Springs", "missing": page.choice_missing}
    return {
        "kind": "springs",
        "title": "Chosen springs, and why",
        "missing": "",
        "subtitle": sentence(choice.subtitle),
        "best": None if choice.best is None else _answer(choice.best),
        "planned": "" if choice.planned is None else f"The springs of the project file: {choice.planned} of 100.",
        "others": [_answer(a) for a in choice.others],
        "ratings": None if choice.ratings is None else asdict(choice.ratings),
        "in_the_way": [asdict(s) for s in choice.in_the_way],
        "advice": [asdict(a) for a in choice.advice],
        "searched": choice.searched,
        "assumptions": list(choice.assumptions),
    }


def _row_picture(row: HoleRow, page: BookPage, height: float) -> str:
    # Two rows stand one above the other.
    height = 1.6 * height if row.both else height
    return svg(hole_row(row, Wording(page.units), width=WIDTH, height=height))


def _holes(page: BookPage, row: HoleRow) -> Chapter:
    named = [
        (f"{end} {h.name}" if row.both else h.name, h)
        for holes, end in ((row.feet, "foot"), (row.heads, "head"))
        if holes in row.rows
        for h in holes
    ]
    return {
        "kind": "holes",
        "title": "Two rows of holes" if row.both else "The row of holes",
        "both": row.both,
        "take": sentence(row.take) if row.take else "",
        "places": [one.words.removeprefix("place ") for one in row.places] if row.both else [],
        "picture": _row_picture(row, page, 58.0),
        "rows": [{"number": name, "words": h.words, "start": h.start} for name, h in named],
        "fixed": "" if row.fixed is None else row.fixed.words,
        "odds": row.odds,
        "first": row.first,
        "with_card": row.with_card,
        "note": sentence(row.note),
    }


def _card(page: BookPage, row: HoleRow, card: Card) -> Chapter:
    start = row.start.number

    def joins(number: int) -> str:
        one = row.places[number - 1]
        return f"{row.feet[one.foot].name} {row.heads[one.head].name}" if row.both else ""

    def then(go: int) -> str:
        if go == 0:
            return "stay"
        return f"go to {row.word} {go}" + (f" ({joins(go)})" if row.both else "")

    # The start's lines come first; at one place the order is that of asking.
    groups = [
        {
            "at": at,
            "joins": joins(at),
            "lines": [{"reading": line.reading, "then": then(line.go)} for line in card.lines if line.at == at],
        }
        for at in sorted({line.at for line in card.lines}, key=lambda at: (at != start, at))
    ]
    return {
        "kind": "card",
        "title": "Tuning card",
        "picture": _row_picture(row, page, 58.0),
        "how": [sentence(text) for text in card.how],
        "groups": groups,
        "word": row.word,
        "holes": [f"{one.number}" + (f" = {joins(one.number)}" if row.both else "") for one in row.places],
        "start": start,
        "note": sentence(card.note),
        "hand": page.roof.chart.unit,
    }


def _drilling(page: BookPage, paper: Paper) -> Chapter:
    says = Wording(page.units)
    sheets = []
    for plan in page.drilling:
        for side in ("left", "right"):
            made = drilling_sheets(plan, side, says, paper=paper, name=page.name, made_with=page.made_with)
            sheets += [{"picture": svg(one)} for one in made]
    return {"kind": "drilling", "title": "Drilling sheets, full size", "sheets": sheets}


def _requests(page: BookPage) -> Chapter:
    return {
        "kind": "request",
        "title": "Supplier request",
        "requests": [{"title": r.title, "lines": _facts(r.lines), "fits": sentence(r.fits)} for r in page.requests],
    }


def _steps(page: BookPage) -> Chapter:
    return {"kind": "steps", "title": "Fitting and first lift", "works": [asdict(w) for w in page.works]}


def _home(page: BookPage) -> Chapter:
    return {
        "kind": "home-test",
        "title": "A spring's force, at home",
        "picture": svg(home_test_picture(width=WIDTH)),
        "steps": list(page.home_test),
        "cautions": list(page.home_cautions),
        "unit": "kg" if page.units == "metric" else "lb",
        "length": "mm" if page.units == "metric" else "in",
        "force": "9.81 N" if page.units == "metric" else "4.45 N",
    }


def _frame(page: BookPage, paper: Paper) -> Chapter:
    frame = page.frame
    # As high as leaves room for figures and cautions on the same page.
    tall = min(PAPER_MM[paper][1] - 136.0, 157.0)
    picture = frame_views(frame.frame, Wording(page.units), width=WIDTH, height=tall)
    return {
        "kind": "frame",
        "title": "A timber frame to try it on",
        "picture": svg(picture),
        "facts": _facts(frame.facts),
        "rows": [asdict(r) for r in frame.rows],
        "bars": _facts(frame.bars),
        "bars_note": frame.bars_note,
        "packers": _facts(frame.packers),
        "crown": _facts(frame.crown),
        "true": list(frame.true),
        "build": list(frame.build),
        "cautions": list(frame.cautions),
    }


def _proof(proof: ProofPage) -> Chapter:
    return {
        "rows": [asdict(r) for r in proof.rows],
        "verdict": sentence(proof.verdict),
        "next_hole": sentence(proof.next_hole),
        "moves": _facts(proof.moves),
        "moves_note": proof.moves_note,
        "odds": f"Everything holds: {proof.odds_before} of 100 before the readings"
        + (f", {proof.odds_after} of 100 after them." if proof.cleared else "."),
        "learnt": _facts(proof.learnt),
        "tape": _facts(proof.tape),
        "tape_verdict": sentence(proof.tape_verdict),
        "chart": None if proof.chart is None else svg(reading_chart(proof.chart, width=WIDTH)),
    }


def _readings(page: BookPage) -> Chapter:
    return {
        "kind": "readings",
        "title": "Readings on the built roof",
        "unit": "kg" if page.units == "metric" else "lb",
        "degree": "°C" if page.units == "metric" else "°F",
        "length": "mm" if page.units == "metric" else "in",
        "proof": None if page.proof is None or not (page.proof.rows or page.proof.tape) else _proof(page.proof),
    }


def _closing(page: BookPage) -> Chapter:
    said = list(page.roof.assumptions)
    return {
        "kind": "closing",
        "title": "What was assumed, sources, cautions",
        "assumptions": said,
        "sources": list(page.sources),
        "cautions": [c.text for c in page.cautions],
        "provenance": page.roof.provenance,
    }


def _springs_and_holes(page: BookPage, paper: Paper) -> list[Chapter]:
    row = None if page.choice is None else page.choice.holes
    card = None if page.choice is None else page.choice.card
    return [
        _springs(page),
        *([] if row is None else [_holes(page, row)]),
        *([] if row is None or card is None else [_card(page, row, card)]),
        *([_drilling(page, paper)] if page.drilling else []),
        *([_requests(page)] if page.requests else []),
        _steps(page),
        _home(page),
        _frame(page, paper),
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
        ("What you have", [_measure(page)]),
        ("Does it sit", _held(page, paper, "fit", "packers")),
        ("How it moves", [_roof(page), _forces(page), _verdicts(page)]),
        ("What lifts it", _springs_and_holes(page, paper)),
        ("Cloth", [] if walls is None else wall_chapters(walls, paper)),
        ("Wind and road", _held(page, paper, "wind-card")),
        ("Opening and ring", _held(page, paper, "cut-plan", "corners", "ring")),
        ("Joints", _held(page, paper, "holes")),
        ("What rides on it", [] if rest is None else fit_chapters(rest.fitting)),
        ("Parts", _parts(page, paper)),
        ("Plan", _plan(page, paper)),
        ("Hand-over", _hand_over(page, paper)),
        ("Proof and sources", [_readings(page), _closing(page)]),
    ]


def _chapters(page: BookPage, paper: Paper) -> list[Chapter]:
    whole = page.rest is not None
    return [
        _cover(page),
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
        "fit-out": lambda: fit_chapters(rest.fitting),
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
        return _card(page, row, card)
    if sheet in ("drilling", "request") and not page.requests and not page.drilling:
        raise ProjectFault(
            [Fault(f"--only {sheet}", "not there", "no springs are known", "write a [[spring]], or let them be chosen")]
        )
    made: dict[Sheet, Callable[[], Chapter]] = {
        "drilling": lambda: _drilling(page, paper),
        "request": lambda: _requests(page),
        "steps": lambda: _steps(page),
        "frame": lambda: _frame(page, paper),
        "home-test": lambda: _home(page),
        "readings": lambda: _readings(page),
    }
    return made[sheet]()


def _own_words(page: BookPage) -> tuple[str, ...]:
    """Return the builder's own names, which keep their spelling."""
    named = [] if page.rest is None else [line.name for line in page.rest.parts.lines if line.own]
    return (*own_of(page.roof), *own_words(named))


def _only(page: BookPage, sheet: BookSheet, paper: Paper) -> list[Chapter]:
    return _rest_alone(page, sheet, paper) if sheet in REST_SHEETS else [_alone(page, sheet, paper)]


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
