"""One page to take to the built roof: where to read the scale and the tape, and boxes to fill."""

from __future__ import annotations

from typing import Any, Final

from loftwright.answers.board_readings import SCALES, ReadingSheet
from loftwright.core.spelling import own_words
from loftwright.documents.roof_sheet import cut, sentence
from loftwright.documents.typeset import pdf

EMPTY: Final = 5
"""Lines without a place of their own, for other openings and for reading again."""


def _data(sheet: ReadingSheet) -> dict[str, Any]:
    plan = sheet.plan
    rows = [
        {"way": one.way, "open": one.how_open, "lip": one.lip, "scale": one.scale, "first": one.first}
        for one in plan.stations
    ]
    return {
        "paper": "a4" if sheet.units == "metric" else "us-letter",
        "name": cut(sheet.name, 120),
        "made_with": sheet.made_with,
        "rows": rows,
        "empty": EMPTY,
        "wrong": sentence(plan.wrong),
        "how": list(SCALES.values()),
        "unit": plan.force_unit,
        "degree": plan.degree,
        "length": plan.length_unit,
        "tape": list(sheet.tape),
        "cautions": [caution.text for caution in plan.cautions],
    }


def readings_pdf(sheet: ReadingSheet) -> bytes:
    """Return one page: the readings in the order of one way up and one way down, thick frames where to begin."""
    return pdf("readings.typ", _data(sheet), sheet.words, own_words([sheet.name]))
