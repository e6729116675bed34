"""The sheets on fit and strength: all together behind a cover, or each alone."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, get_args

from loftwright.core.book_views import HoldSheet, Paper
from loftwright.core.errors import Fault, ProjectFault
from loftwright.core.hold_views import HoldPage, Template, WindPlay
from loftwright.core.spelling import own_words
from loftwright.core.views import Grid
from loftwright.core.wording import Wording
from loftwright.documents.chapters import WIDTH, Chapter, bound, paper_for
from loftwright.documents.hold_lists import (
    CUTTING_CAUTIONS,
    DRIVER,
    FITTING,
    MARKING,
    NIGHT,
    NOT_ASSESSED,
    SURVEY,
)
from loftwright.documents.hold_pieces import cautions, closest, facts_of, grid_of, rows_of, section_of
from loftwright.documents.roof_sheet import sentence
from loftwright.documents.typeset import Printed
from loftwright.drawing.gap import gap_chart
from loftwright.drawing.plan_view import cut_plan
from loftwright.drawing.stock_signs import stock_sign
from loftwright.drawing.svg import svg
from loftwright.drawing.template import template_sheets
from loftwright.drawing.wind_view import from_where, wanted_gust, wind_view

HOLD_SHEETS: Final[tuple[HoldSheet, ...]] = get_args(HoldSheet)
TITLES: Final[dict[HoldSheet, str]] = {
    "fit": "Does it sit: gap and packers",
    "packers": "Packers, full size",
    "wind-card": "Wind card",
    "cut-plan": "Cut plan",
    "corners": "Corners, full size",
    "ring": "Ring: cutting list and sections",
    "holes": "Every hole",
    "inspector": "For the inspector",
    "before-the-cut": "Before the cut",
}
_WORST = 6
"""Judgements on the cover."""


def _cover(page: HoldPage, sheets: Sequence[HoldSheet]) -> Chapter:
    return {
        "kind": "hold-cover",
        "title": "",
        "tally": f"Of {len(page.rows)} judgements {page.tally.text()}.",
        "worst": rows_of(page.rows[:_WORST]),
        "says": [{"title": s.title, "says": sentence(s.says)} for s in page.sections],
        "sheets": [TITLES[sheet] for sheet in sheets],
        "provenance": page.provenance,
        "cautions": cautions(page),
    }


def _fit(page: HoldPage) -> Chapter:
    rows = tuple((one.name, *[*(text for _, _, text in one.sizes), "", "", ""][:3]) for one in page.packers)
    lies = " ".join(dict.fromkeys(one.note for one in page.packers))
    return {
        "kind": "fit",
        "chart": None if page.gap is None else svg(gap_chart(page.gap, width=WIDTH, height=76.0)),
        "missing": "The gap round the rim is not known yet: measure roof and rim as crown and camber offsets.",
        "section": section_of(page.section("fit")),
        "packers": grid_of(Grid("Packers", ("Piece", "Long", "High, left end", "High, right end"), rows, lies)),
    }


def _packers(page: HoldPage, paper: Paper) -> Chapter:
    use = (
        "1. Cut out the paper, lay it on a side of the block, draw round it.",
        "2. Saw and plane to the line; the lower edge follows the roof.",
        "3. Try it dry with a straight rod through both hinges before anything is bedded.",
        "Hardwood, plastic or metal: nothing that crushes or drinks water. Paint end grain.",
    )
    return _full_size(page, paper, page.packers, "packers", use)


def _corners(page: HoldPage, paper: Paper) -> Chapter:
    use = (
        "1. Cut the template out along the thick line, or prick through it.",
        "2. Lay its straight edges on the two pencilled lines of the opening.",
        "3. Draw the arc. Turn it over for the opposite hand.",
        "4. The saw starts in the hole, inside the line; file up to the line.",
        "A corner without radius tears: never saw into the sharp corner.",
    )
    return _full_size(page, paper, page.corners, "corners", use)


def _full_size(
    page: HoldPage, paper: Paper, shapes: Sequence[Template], sheet: HoldSheet, use: Sequence[str]
) -> Chapter:
    made = template_sheets(
        shapes, units=page.units, paper=paper, title=TITLES[sheet], use=use, name=page.name, made_with=page.made_with
    )
    return {"kind": "drilling", "sheets": [{"picture": svg(one)} for one in made]}


def _wind_rows(wind: WindPlay) -> list[dict[str, str]]:
    """Return for each direction the part that is first at its limit, and the gust."""
    rows = []
    for d, direction in enumerate(wind.directions):
        part = max(wind.parts, key=lambda one: one.used[d][-1], default=None)
        if part is not None:
            rows.append({"from": from_where(direction), "part": part.name, "gust": part.first[d]})
    return rows


def _turned(wind: WindPlay | None) -> list[str]:
    """Return how to stand in the wind: so that it comes from where the parts use least of their limits."""
    if wind is None or not wind.parts or len(wind.directions) < 2:
        return []
    worst = [max(part.used[d][-1] for part in wind.parts) for d in range(len(wind.directions))]
    if not min(worst) < 0.9 * max(worst):
        return []
    best = wind.directions[worst.index(min(worst))]
    return [f"The roof bears most when the wind comes {from_where(best)}: turn the van if you can."]


def _wind_picture(wind: WindPlay | None) -> str | None:
    """Return the direction in which a part is first at its limit, in the gust that is wanted."""
    if wind is None or not wind.parts or not wind.directions:
        return None
    direction = max(range(len(wind.directions)), key=lambda d: max(part.used[d][-1] for part in wind.parts))
    return svg(wind_view(wind, direction, wanted_gust(wind), width=WIDTH))


def _wind(page: HoldPage) -> Chapter:
    wind = page.wind
    said = list(page.wind_card)
    if wind is not None:
        # The gust stands above, and so does what goes first.
        said = [line for line in said if wind.lower_above not in line and wind.weakest not in line]
    else:
        said = said[1:]
    return {
        "kind": "wind-card",
        "gust": wind.lower_above if wind is not None else (page.wind_card[0] if page.wind_card else "not known yet"),
        "beaufort": sentence(wind.beaufort) if wind is not None else "",
        "weakest": sentence(wind.weakest) if wind is not None else "",
        "lines": [sentence(line) for line in said],
        "rows": [] if wind is None else _wind_rows(wind),
        "picture": _wind_picture(wind),
        "driver": list(DRIVER),
        "night": [*_turned(wind), *NIGHT],
        "cautions": cautions(page),
    }


def _cut(page: HoldPage) -> Chapter:
    plan = page.plan
    diagonal = plan.diagonal if "diagonal" in plan.diagonal else f"Both diagonals read {plan.diagonal}"
    opening = page.section("opening")
    within = "2 mm" if page.units == "metric" else "1/16 in"
    return {
        "kind": "cut-plan",
        "picture": svg(cut_plan(plan, Wording(page.units), width=WIDTH, height=118.0)),
        "order": list(MARKING),
        "checks": [
            f"{diagonal.rstrip('.')}, and agree within {within}.",
            "Lengths at both ends agree with the drawing.",
            "Every corner has its arc and its centre.",
            "Bows and ring lie where the drawing has them, felt or seen from inside.",
            "The sheet before the cut is ticked to the end.",
        ],
        "unit": "mm" if page.units == "metric" else "in",
        "rows": closest(opening.rows),
        "cautions": cautions(page, *CUTTING_CAUTIONS),
    }


def _ring(page: HoldPage) -> Chapter:
    opening = page.section("opening")
    signs = []
    for row in page.stock.rows:
        sign = stock_sign(row[0]) if row else None
        signs.append("" if sign is None else svg(sign))
    return {
        "kind": "ring",
        "says": sentence(opening.says),
        "pieces": grid_of(page.ring_pieces),
        "stock": grid_of(page.stock),
        "signs": signs,
        "fitting": list(FITTING),
        "said": list(opening.said),
    }


def _holes(page: HoldPage) -> Chapter:
    return {
        "kind": "hole-schedule",
        "holes": grid_of(page.holes),
        "section": section_of(page.section("joints")),
        "cautions": cautions(page, CUTTING_CAUTIONS[0]),
    }


def _inspector(page: HoldPage) -> Chapter:
    opening, van, joints = (page.section(part) for part in ("opening", "van", "joints"))
    parts = [
        {"title": title, "says": sentence(s.says), "facts": facts_of(s), "grids": [grid_of(grid) for grid in s.grids]}
        for title, s in (("What is changed in the body", opening), ("Masses and heights", van), ("Joints", joints))
    ]
    parts[0]["grids"] = [*parts[0]["grids"], grid_of(page.ring_pieces)]
    return {
        "kind": "inspector",
        "parts": parts,
        "rows": rows_of(page.rows),
        "missing": list(NOT_ASSESSED),
        "assumptions": list(page.assumptions),
        "provenance": page.provenance,
        "cautions": cautions(page),
    }


def _before(page: HoldPage) -> Chapter:
    return {
        "kind": "before-the-cut",
        "survey": [{"what": what, "how": how} for what, how in SURVEY],
        "go": [
            {"what": g.what, "verdict": g.verdict.value, "state": sentence(g.state), "do": sentence(g.do)}
            for g in page.before_the_cut
        ],
        "unit": "mm" if page.units == "metric" else "in",
        "cautions": cautions(page, *CUTTING_CAUTIONS),
    }


def _missing(page: HoldPage, sheet: HoldSheet) -> str:
    """Return why a sheet has nothing to say, or nothing."""
    if sheet == "packers" and not page.packers:
        return "no packer is needed or its sizes are not known yet"
    if sheet == "corners" and not page.corners:
        return "the corners of the cut have no radius yet"
    if sheet == "wind-card" and page.wind is None and not page.wind_card:
        return "the roof in wind is not judged yet"
    return ""


def hold_chapters(page: HoldPage, paper: Paper, sheets: Sequence[HoldSheet] = HOLD_SHEETS) -> list[Chapter]:
    """Return the chapters of `sheets` that have something to say, for the template of the build book."""
    made: dict[HoldSheet, Callable[[], Chapter]] = {
        "fit": lambda: _fit(page),
        "packers": lambda: _packers(page, paper),
        "wind-card": lambda: _wind(page),
        "cut-plan": lambda: _cut(page),
        "corners": lambda: _corners(page, paper),
        "ring": lambda: _ring(page),
        "holes": lambda: _holes(page),
        "inspector": lambda: _inspector(page),
        "before-the-cut": lambda: _before(page),
    }
    return [{"title": TITLES[sheet], "number": "", **made[sheet]()} for sheet in sheets if not _missing(page, sheet)]


def hold_pdf(page: HoldPage, *, paper: Paper | None = None, only: HoldSheet | None = None) -> Printed:
    """Return all sheets on fit and strength behind a cover, or one of them alone, with pages and chapters.

    `paper` left out is that of the page's units. The same page gives the same bytes. Errors: ProjectFault where the
    sheet that is asked for has nothing to say.
    """
    chosen = paper or paper_for(page.units)
    if only is None:
        chapters = hold_chapters(page, chosen)
        there: list[HoldSheet] = [sheet for sheet in HOLD_SHEETS if not _missing(page, sheet)]
        chapters.insert(0, {**_cover(page, there), "number": ""})
    else:
        why = _missing(page, only)
        if why:
            raise ProjectFault(
                [Fault(f"--sheet {only}", "not there", why, "run loftwright hold to see what is missing")]
            )
        chapters = hold_chapters(page, chosen, (only,))
    own = own_words([page.name, *(bow.name for bow in page.plan.bows)])
    return bound(page, chapters, chosen, alone=only is not None, words=page.words, own=own)
