"""One A4 page about one roof."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from loftwright.core.views import DoNext, RoofPage
from loftwright.documents.pictures import TEXT_WIDTH, side_views_of
from loftwright.documents.respelled import own_of
from loftwright.documents.typeset import pdf
from loftwright.drawing.chart import force_chart
from loftwright.drawing.svg import svg

_LONGEST_NAME, _LONGEST_TEXT = 160, 260


def cut(text: str, most: int) -> str:
    """Return `text`, ended with "..." where it is longer than `most` characters."""
    return text if len(text) <= most else text[: most - 3].rstrip() + "..."


def sentence(text: str) -> str:
    """Return `text` with a capital at its start and a stop at its end; nothing stays nothing."""
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")


def minutes_text(step: DoNext) -> str:
    """Return how long a step takes, or nothing."""
    if step.minutes is None:
        return ""
    return f"{step.minutes} min" if step.minutes < 120 else f"{step.minutes / 60:.0f} h"


def _data(page: RoofPage) -> dict[str, Any]:
    chart = force_chart(page.chart, width=TEXT_WIDTH, height=56.0)
    return {
        "name": cut(page.name, _LONGEST_NAME),
        "subtitle": cut(page.subtitle, _LONGEST_NAME),
        "odds": sentence(cut(page.odds, _LONGEST_TEXT)),
        "next_best": sentence(cut(page.next_best, _LONGEST_NAME)),
        "odds_note": cut(page.odds_note, _LONGEST_TEXT),
        "made_with": page.made_with,
        "facts": [{k: cut(v, 90) for k, v in asdict(fact).items()} for fact in page.facts[:12]],
        "elevation": svg(side_views_of(page)),
        "chart": svg(chart.drawing),
        "band_note": page.chart.band_note,
        "rows": [
            {
                "verdict": row.verdict.value,
                "title": cut(row.title, 100),
                "value": cut(row.value, 40),
                "limit": cut(row.limit, 60),
                "margin": cut(row.margin, 40),
                "basis": cut(row.basis, 170),
                "remedy": cut(row.remedy, 160),
            }
            for row in page.rows
        ],
        "do_next": [
            {
                "title": cut(step.title.rstrip("."), 140),
                "minutes": minutes_text(step),
                "how": cut(step.how, _LONGEST_TEXT),
                "why": sentence(cut(step.why, 160)),
            }
            for step in page.do_next
        ],
        "cautions": [caution.text for caution in page.cautions],
        "provenance": cut(page.provenance, _LONGEST_TEXT),
        "closing": f"{len(page.assumptions)} assumptions are listed in the full answer." if page.assumptions else "",
    }


def roof_sheet_pdf(page: RoofPage) -> bytes:
    """Return one A4 page: drawing, force curves, key figures, verdicts worst first, what to do next, cautions.

    All cautions are always printed; as many verdicts as fit, with how many more there are. The same page gives the
    same bytes.
    """
    return pdf("roof.typ", _data(page), page.words, own_of(page))
