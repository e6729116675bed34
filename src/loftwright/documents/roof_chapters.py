"""Chapters of the build book on the roof, its springs and its readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict

from loftwright.core.book_views import PAPER_MM, BookPage, Paper
from loftwright.core.choice_views import Card, HoleRow, ProofPage, SpringAnswer
from loftwright.core.views import Fact
from loftwright.core.wording import Wording
from loftwright.documents.chapters import WIDTH, Chapter
from loftwright.documents.roof_sheet import minutes_text, sentence
from loftwright.drawing.chart import force_chart
from loftwright.drawing.drilling import drilling_sheets
from loftwright.drawing.elevation import side_views
from loftwright.drawing.frame_views import frame_views
from loftwright.drawing.home_test import home_test_picture
from loftwright.drawing.readings import reading_chart
from loftwright.drawing.svg import svg
from loftwright.drawing.tuning import hole_row

_METRE, _YARD = 1.0, 0.9144


def facts(facts: Sequence[Fact]) -> list[dict[str, str]]:
    """Return facts for the template."""
    return [asdict(fact) for fact in facts]


def side(page: BookPage, height: float) -> str:
    """Return the roof from the side, open and closed, as high as `height` [mm] allows."""
    bar = _METRE if page.units == "metric" else _YARD
    return svg(side_views(page.roof.scene, page.roof.poses, Wording(page.units), width=WIDTH, height=height, bar=bar))


def measure(page: BookPage) -> Chapter:
    """Return what is worth measuring next."""
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


def roof(page: BookPage) -> Chapter:
    """Return what the roof weighs and how it moves."""
    return {
        "kind": "roof",
        "title": "The roof: weight, balance and how it moves",
        "picture": side(page, 112.0),
        "facts": facts(page.roof.facts),
        "subtitle": page.roof.subtitle,
    }


def forces(page: BookPage) -> Chapter:
    """Return the hand forces over the travel."""
    chart = page.roof.chart
    return {
        "kind": "forces",
        "title": "Hand forces",
        "chart": svg(force_chart(chart, width=WIDTH, height=104.0).drawing),
        "band": chart.band_note,
        "unit": chart.unit,
    }


def verdicts(page: BookPage) -> Chapter:
    """Return every judgement on the roof."""
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
        "facts": facts(answer.facts),
        "rest": [{"title": s.title, "fails": s.fails} for s in answer.rest],
    }


def springs(page: BookPage) -> Chapter:
    """Return the springs that were chosen and why, or why there are none."""
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


def holes(page: BookPage, row: HoleRow) -> Chapter:
    """Return the row of holes."""
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


def card(page: BookPage, row: HoleRow, card: Card) -> Chapter:
    """Return the card by which the holes are tried."""
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


def drilling(page: BookPage, paper: Paper) -> Chapter:
    """Return the drilling sheets at full size."""
    says = Wording(page.units)
    sheets = []
    for plan in page.drilling:
        for side in ("left", "right"):
            made = drilling_sheets(plan, side, says, paper=paper, name=page.name, made_with=page.made_with)
            sheets += [{"picture": svg(one)} for one in made]
    return {"kind": "drilling", "title": "Drilling sheets, full size", "sheets": sheets}


def requests(page: BookPage) -> Chapter:
    """Return what to ask suppliers for."""
    return {
        "kind": "request",
        "title": "Supplier request",
        "requests": [{"title": r.title, "lines": facts(r.lines), "fits": sentence(r.fits)} for r in page.requests],
    }


def steps(page: BookPage) -> Chapter:
    """Return the steps of fitting."""
    return {"kind": "steps", "title": "Fitting and first lift", "works": [asdict(w) for w in page.works]}


def home(page: BookPage) -> Chapter:
    """Return how a spring's force is read at home."""
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


def frame(page: BookPage, paper: Paper) -> Chapter:
    """Return the timber frame."""
    frame = page.frame
    # As high as leaves room for figures and cautions on the same page.
    tall = min(PAPER_MM[paper][1] - 136.0, 157.0)
    picture = frame_views(frame.frame, Wording(page.units), width=WIDTH, height=tall)
    return {
        "kind": "frame",
        "title": "A timber frame to try it on",
        "picture": svg(picture),
        "facts": facts(frame.facts),
        "rows": [asdict(r) for r in frame.rows],
        "bars": facts(frame.bars),
        "bars_note": frame.bars_note,
        "packers": facts(frame.packers),
        "crown": facts(frame.crown),
        "true": list(frame.true),
        "build": list(frame.build),
        "cautions": list(frame.cautions),
    }


def _proof(proof: ProofPage) -> Chapter:
    return {
        "rows": [asdict(r) for r in proof.rows],
        "verdict": sentence(proof.verdict),
        "next_hole": sentence(proof.next_hole),
        "moves": facts(proof.moves),
        "moves_note": proof.moves_note,
        "odds": f"Everything holds: {proof.odds_before} of 100 before the readings"
        + (f", {proof.odds_after} of 100 after them." if proof.cleared else "."),
        "learnt": facts(proof.learnt),
        "tape": facts(proof.tape),
        "tape_verdict": sentence(proof.tape_verdict),
        "chart": None if proof.chart is None else svg(reading_chart(proof.chart, width=WIDTH)),
    }


def readings(page: BookPage) -> Chapter:
    """Return the sheet for readings, and what those in the file say."""
    return {
        "kind": "readings",
        "title": "Readings on the built roof",
        "unit": "kg" if page.units == "metric" else "lb",
        "degree": "°C" if page.units == "metric" else "°F",
        "length": "mm" if page.units == "metric" else "in",
        "proof": None if page.proof is None or not (page.proof.rows or page.proof.tape) else _proof(page.proof),
    }


def closing(page: BookPage) -> Chapter:
    """Return what was assumed, sources and cautions."""
    said = list(page.roof.assumptions)
    return {
        "kind": "closing",
        "title": "What was assumed, sources, cautions",
        "assumptions": said,
        "sources": list(page.sources),
        "cautions": [c.text for c in page.cautions],
        "provenance": page.roof.provenance,
    }
