"""Reading back what was printed: its texts by page, and those that begin off the paper."""

from __future__ import annotations

import io

import pypdf

from loftwright.documents.typeset import Printed

# ISO 216: A4 is 210 x 297 mm; ANSI Y14.1: Letter is 8.5 x 11 in. In points, 72 to the inch, computed here.
PAPERS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}


def read(printed: Printed) -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(printed.data))
    assert len(reader.pages) == printed.pages
    found = [" ".join(page.extract_text().split()) for page in reader.pages]
    return [text.replace("\ufb01", "fi").replace("\u00a0", " ") for text in found]


def outside(printed: Printed, paper: str) -> list[str]:
    """Texts that begin off the paper, or below its footer."""
    wide, tall = PAPERS[paper]
    found: list[str] = []

    def look(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        x, y = tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
        if text.strip() and not (5 < x < wide - 5 and 15 < y < tall - 5):
            found.append(text)

    for page in pypdf.PdfReader(io.BytesIO(printed.data)).pages:
        page.extract_text(visitor_text=look)
    return found
