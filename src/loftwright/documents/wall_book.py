"""The sheets on the cloth walls: all together behind a cover, each alone, or as chapters of the build book."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final, get_args

from loftwright.core.book_views import Paper, WallSheet
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.spelling import own_words
from loftwright.core.views import Grid
from loftwright.core.wall_views import FoldPlace, RollNeed, WallPage, WallPart
from loftwright.core.wording import Wording
from loftwright.documents.chapters import Chapter, bound, paper_for
from loftwright.documents.hold_pieces import cautions, grid_of, rows_of, section_of
from loftwright.documents.roof_sheet import sentence
from loftwright.documents.typeset import Printed
from loftwright.documents.wall_lists import BATTEN, BEFORE_CLOTH, HAND_OVER, NO_LICENCE
from loftwright.documents.wall_pictures import fold_picture, roll_picture, space_picture, strip_picture, water_pictures
from loftwright.documents.wall_pieces import cut_size, edge_rows, ordinate_unit, panel_sheets
from loftwright.drawing.page import Drawing
from loftwright.drawing.svg import svg

WALL_SHEETS: Final[tuple[WallSheet, ...]] = get_args(WallSheet)
TITLES: Final[dict[WallSheet, str]] = {
    "panels": "Pieces of cloth, with ordinates",
    "water": "Rain at the lower edge",
    "layout": "Cutting layout",
    "sewing": "Order of sewing",
    "bill": "Bill of cloth",
    "fold": "Where the cloth goes when the roof closes",
    "tucking": "Tucking card",
    "trial": "First in paper",
}
WALLS: Final = "The cloth walls"
_WORST = 6
"""Judgements on the cover."""
_FOLD_WIDTH, _FOLD_HEIGHT = 86.0, 64.0


def _picture(drawing: Drawing | None) -> str | None:
    return None if drawing is None else svg(drawing)


def _parts(page: WallPage, *parts: WallPart) -> list[dict[str, Any]]:
    return [section_of(section) for section in page.sections if section.part in parts]


def _cover(page: WallPage, sheets: Sequence[WallSheet]) -> Chapter:
    return {
        "kind": "wall-cover",
        "title": "",
        "over": WALLS,
        "tally": f"Of {len(page.rows)} judgements {page.tally.text()}.",
        "worst": rows_of(page.rows[:_WORST]),
        "says": [{"title": s.title, "says": sentence(s.says)} for s in page.sections],
        "sheets": [WALLS, *(TITLES[sheet] for sheet in sheets)],
        "provenance": page.provenance,
        "cautions": cautions(page),
    }


def _walls(page: WallPage) -> Chapter:
    told = {text for section in page.sections for text in section.said}
    return {
        "kind": "walls",
        "title": WALLS,
        "picture": _picture(space_picture(page)),
        "lead": sentence(page.subtitle),
        "sections": _parts(page, "shape", "windows", "warmth"),
        "assumptions": [text for text in page.assumptions if text not in told],
        "hand_over": HAND_OVER,
        "cautions": cautions(page),
    }


def _panels(page: WallPage, paper: Paper) -> list[Chapter]:
    say = Wording(page.units)
    sheets = panel_sheets(page, paper)
    numbers = {one.piece.number: k for k, one in enumerate(sheets, 1)}
    rows = tuple(
        (
            piece.number,
            piece.name,
            f"{piece.count} of {piece.material}",
            piece.side,
            cut_size(piece, say),
            f"sheet {numbers[piece.number]}" if piece.number in numbers else "by this size",
        )
        for piece in page.pieces
    )
    note = "Sizes are those of the cut line. A plain rectangle is given by its size alone: it has no sheet of its own."
    listed = Grid("Every piece", ("Piece", "What", "Cut", "How it lies", "Size, cut", "Drawn"), rows, note)
    tables = [
        Grid(
            f"{one.piece.number} {one.piece.name}: all ordinates",
            tuple(f"{word}, {ordinate_unit(page.units)}" for word in ("along", "low", "high")),
            one.rest,
        )
        for one in sheets
        if one.rest
    ]
    return [
        {
            "kind": "wall-pieces",
            "title": TITLES["panels"],
            "pieces": grid_of(listed),
            "batten": list(BATTEN),
            "hand_over": HAND_OVER,
            "cautions": cautions(page),
        },
        *(
            [{"kind": "drilling", "title": "", "sheets": [{"picture": svg(one.drawing)} for one in sheets]}]
            if sheets
            else []
        ),
        *([{"kind": "wall-ordinates", "title": "", "tables": [grid_of(one) for one in tables]}] if tables else []),
    ]


def _water(page: WallPage) -> Chapter:
    return {
        "kind": "wall-water",
        "title": TITLES["water"],
        "pictures": [svg(one) for one in water_pictures(page)],
        "says": [{"place": edge.place, "says": sentence(edge.says)} for edge in page.water],
        "sections": _parts(page, "water"),
    }


def _stale(roll: RollNeed) -> str:
    if roll.freshness == "stale":
        return "Laid for an earlier version of the roof: lay it again before cloth is bought."
    if roll.freshness == "fresh" or roll.note:
        return ""
    return "A quick estimate: loftwright walls --lay may find a shorter one."


def _layout(page: WallPage) -> Chapter:
    rolls = [
        {
            "material": roll.layout.material,
            "picture": _picture(roll_picture(page, roll)),
            "buy": ", ".join(filter(None, (roll.buy and f"buy {roll.buy}", roll.waste, roll.price))),
            "says": [text for text in (_stale(roll), sentence(roll.note or roll.layout.how)) if text],
        }
        for roll in page.rolls
    ]
    return {"kind": "wall-layout", "title": TITLES["layout"], "rolls": rolls, "sections": _parts(page, "metres")}


def _sewing(page: WallPage) -> Chapter:
    # The answer has a table of its own, unless there is none at all.
    known = any("dges" in grid.title for grid in page.section("sewing").grids)
    rows = () if known else edge_rows(page.pieces)
    edges = Grid("Edges", ("Edge", "Finished as", "Allowance", "On pieces"), rows)
    return {
        "kind": "wall-sewing",
        "title": TITLES["sewing"],
        "picture": _picture(strip_picture(page, height=90.0)),
        "steps": [sentence(step) for step in page.sewing],
        "edges": grid_of(edges),
        "sections": _parts(page, "sewing"),
    }


def _bill(page: WallPage) -> Chapter:
    rows = tuple((roll.layout.material, roll.buy, roll.waste, roll.price) for roll in page.rolls)
    note = "Buy from one batch; wash or wet a square first and measure what it loses."
    return {
        "kind": "wall-bill",
        "title": TITLES["bill"],
        "bill": grid_of(page.bill),
        "rolls": grid_of(Grid("Rolls", ("Cloth", "Buy", "Left over", "Price"), rows, note)),
        "provenance": page.provenance,
    }


def _place(page: WallPage, place: FoldPlace) -> dict[str, Any]:
    counts = ", ".join(
        f"{count} {how}" for count, how in zip(place.counts, ("in", "out", "not decided"), strict=True) if count
    )
    told = (
        ("Tip inward", place.tip),
        ("hangs below the ring", place.hang),
        ("bundle above the ring", place.bundle),
        ("push on the closing shell", place.push),
    )
    figures = sentence("; ".join(f"{what}: {text}" for what, text in told if text))
    name = sentence(place.name).removesuffix(".")
    return {
        "name": name,
        "says": sentence(place.says.removeprefix(f"{name}: ")),
        "counts": f"Of {sum(place.counts)} starts: {counts}." if counts else "",
        "figures": figures,
        "picture": _picture(fold_picture(page, place, width=_FOLD_WIDTH, height=_FOLD_HEIGHT)),
    }


def _fold(page: WallPage) -> Chapter:
    return {
        "kind": "wall-fold",
        "title": TITLES["fold"],
        "note": sentence(page.fold_note),
        "places": [_place(page, place) for place in page.places],
        "sections": _parts(page, "fold"),
    }


def _tucking(page: WallPage) -> Chapter:
    return {
        "kind": "wall-tucking",
        "title": TITLES["tucking"],
        "lines": [sentence(line) for line in page.tucking],
        "cautions": cautions(page),
    }


def _trial(page: WallPage) -> Chapter:
    return {
        "kind": "wall-trial",
        "title": TITLES["trial"],
        "lines": [sentence(line) for line in page.trial],
        "checks": list(BEFORE_CLOTH),
        "unit": ordinate_unit(page.units),
        "cautions": cautions(page),
    }


def _missing(page: WallPage, sheet: WallSheet) -> str:
    """Return why a sheet has nothing to say, or nothing."""
    empty = {
        "panels": (page.pieces, "no piece of cloth could be worked out yet"),
        "water": (page.water, "the lower edge is not known yet"),
        "layout": (page.rolls, "no cloth is chosen yet"),
        "sewing": (page.sewing, "there is nothing to sew yet"),
        "bill": (page.bill.rows, "no cloth is chosen yet"),
        "fold": (page.places or page.fold_note, "the fold is not worked out yet"),
        "tucking": (page.tucking, "how the cloth folds is not known yet"),
        "trial": (page.trial, "there is no panel to try yet"),
    }
    there, why = empty[sheet]
    return "" if there else why


def _made(page: WallPage, paper: Paper, sheets: Sequence[WallSheet]) -> list[Chapter]:
    made: dict[WallSheet, Callable[[], list[Chapter]]] = {
        "panels": lambda: _panels(page, paper),
        "water": lambda: [_water(page)],
        "layout": lambda: [_layout(page)],
        "sewing": lambda: [_sewing(page)],
        "bill": lambda: [_bill(page)],
        "fold": lambda: [_fold(page)],
        "tucking": lambda: [_tucking(page)],
        "trial": lambda: [_trial(page)],
    }
    chapters = [chapter for sheet in sheets if not _missing(page, sheet) for chapter in made[sheet]()]
    return [{"number": "", "licence": NO_LICENCE, **chapter} for chapter in chapters]


def wall_chapters(
    page: WallPage, paper: Paper | None = None, sheets: Sequence[WallSheet] = WALL_SHEETS
) -> list[Chapter]:
    """Return the walls as chapters of the build book: what they are, then `sheets` that have something to say.

    `paper` left out is that of the page's units.
    """
    return [{"number": "", **_walls(page)}, *_made(page, paper or paper_for(page.units), sheets)]


def wall_pdf(page: WallPage, *, only: WallSheet | None = None, paper: Paper | None = None) -> Printed:
    """Return all sheets on the walls behind a cover, or one of them alone, with pages and chapters.

    `paper` left out is that of the page's units. The same page gives the same bytes. Errors: ProjectFault where the
    sheet that is asked for has nothing to say.
    """
    chosen = paper or paper_for(page.units)
    if only is None:
        there: list[WallSheet] = [sheet for sheet in WALL_SHEETS if not _missing(page, sheet)]
        chapters = [{**_cover(page, there), "number": ""}, *wall_chapters(page, chosen)]
    else:
        why = _missing(page, only)
        if why:
            raise ProjectFault(
                [Fault(f"--sheet {only}", "not there", why, "run loftwright walls to see what is missing")]
            )
        chapters = _made(page, chosen, (only,))
    own = own_words([page.name, *(piece.material for piece in page.pieces)])
    return bound(page, chapters, chosen, alone=only is not None, words=page.words, own=own)
