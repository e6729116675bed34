"""The build book as printed: chapters, sheets alone, papers, and cautions where someone can be hurt."""

from __future__ import annotations

import importlib.util
import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdf
import pytest

from loftwright.core.errors import ProjectFault
from loftwright.documents.book import SHEETS, book_pdf, paper_for
from loftwright.documents.typeset import Printed

_SPEC = importlib.util.spec_from_file_location("sample_book", Path(__file__).with_name("sample_book.py"))
assert _SPEC is not None
assert _SPEC.loader is not None
sample: Any = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(sample)

# ISO 216: A4 is 210 x 297 mm; ANSI Y14.1: Letter is 8.5 x 11 in. In points, 72 to the inch, computed here.
PAPERS = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (8.5 * 72, 11 * 72)}
NAMES = {
    "plain": "Heron",
    "long": "A lifting roof with a name that does not want to end " * 5,
    "far": "屋根 крыша #panic() [x]",
}


def read(printed: Printed) -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(printed.data))
    assert len(reader.pages) == printed.pages
    return [" ".join(page.extract_text().split()) for page in reader.pages]


@pytest.fixture(scope="module")
def whole() -> Printed:
    return book_pdf(sample.book())


def test_the_whole_book(whole: Printed) -> None:
    page = sample.book()
    texts = read(whole)
    titles = [title for title, _ in whole.chapters if title]
    assert titles == [
        "Contents", "What to measure next", "The roof: weight, balance and how it moves", "Hand forces", "Verdicts",
        "Chosen springs, and why", "The row of holes", "Tuning card", "Drilling sheets, full size", "Supplier request",
        "Fitting and first lift", "A spring's force, at home", "A timber frame to try it on",
        "Readings on the built roof", "What was assumed, sources, cautions",
    ]  # fmt: skip
    # Chapters begin where the list and the contents say.
    numbers = [at for _, at in whole.chapters]
    assert numbers == sorted(numbers)
    for title, at in whole.chapters:
        if title and title != "Supplier request" and "Drilling" not in title:
            assert title in texts[at - 1].replace("ﬁ", "fi"), title
            if title != "Contents":
                assert title in texts[1].replace("ﬁ", "fi")
    everything = " ".join(texts)
    for caution in page.cautions:
        assert everything.count(caution.text) >= 2, caution.text
    for row in page.roof.rows:
        assert row.value in everything
    row = page.choice.holes
    cover = " ".join(texts[0].split())
    assert f"{row.odds} of 100 roofs like yours meet everything in one of the {len(row.places)} places" in cover
    for said in ("58 to 78 of 100", "810 N", "Order 750 N and 800 N together", "Foot 20 mm lower", "Go to hole 3."):
        assert said in everything


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert book_pdf(sample.book(), only="steps").data == book_pdf(sample.book(), only="steps").data


def test_a_card_says_its_lines_in_order_start_hole_first() -> None:
    printed = book_pdf(sample.book(), only="card")
    assert printed.pages == 1
    (text,) = read(printed)
    text = text.replace("\u00a0", " ")
    first = text.index("start at 2")
    assert first < text.index("at hole 1")
    order = ["is at most 20 °C", "over 22.0 kg", "at most 9.0 kg"]
    places = [text.index(said) for said in order]
    assert first < places[0]
    assert places == sorted(places)
    assert "if the push to start is over 15.0 kg go to hole 2" in text
    assert "at most 9.0 kg stay" in text
    assert "Prop the shell before a spring is moved." in text


@pytest.mark.parametrize("sheet", [s for s in SHEETS if s != "card"])
def test_each_sheet_alone(sheet: str) -> None:
    printed = book_pdf(sample.book("imperial"), only=sheet)  # type: ignore[arg-type]
    texts = read(printed)
    said = {
        "drilling": "RIGHT SIDE",
        "request": "Your answer",
        "steps": "Fitting and first lift",
        "frame": "Cutting list",
        "home-test": "Nobody in line with the rod.",
        "readings": "Readings on the built roof",
    }
    assert said[sheet] in " ".join(texts).replace("ﬁ", "fi")
    most = {"drilling": 2, "request": 1, "steps": 1, "frame": 2, "home-test": 1, "readings": 2}
    assert printed.pages == most[sheet]
    reader = pypdf.PdfReader(io.BytesIO(printed.data))
    for page in reader.pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(PAPERS["letter"], abs=0.01)


def test_paper_goes_with_the_units() -> None:
    assert paper_for("metric") == "a4"
    assert paper_for("imperial") == "letter"
    page = pypdf.PdfReader(io.BytesIO(book_pdf(sample.book(), paper="letter", only="steps").data)).pages[0]
    assert float(page.mediabox.width) == pytest.approx(PAPERS["letter"][0], abs=0.01)
    page = pypdf.PdfReader(io.BytesIO(book_pdf(sample.book("imperial"), paper="a4", only="steps").data)).pages[0]
    assert float(page.mediabox.height) == pytest.approx(PAPERS["a4"][1], abs=0.01)


@pytest.mark.parametrize("name", NAMES)
def test_any_name_stays_on_its_pages(name: str) -> None:
    lines = sample.CARD.lines * 3
    choice = replace(sample.choice(), card=replace(sample.CARD, lines=lines))
    printed = book_pdf(replace(sample.book(name=NAMES[name]), choice=choice), only="card")
    assert printed.pages == 1
    reader = pypdf.PdfReader(io.BytesIO(printed.data))
    outside: list[str] = []

    def look(text: str, cm: list[float], tm: list[float], font: object, size: float) -> None:
        x, y = tm[4] * cm[0] + tm[5] * cm[2] + cm[4], tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
        if text.strip() and not (0 < x < PAPERS["a4"][0] and 20 < y < PAPERS["a4"][1]):
            outside.append(text)

    reader.pages[0].extract_text(visitor_text=look)
    assert outside == []


def test_a_book_without_a_choice_says_why() -> None:
    page = replace(
        sample.book(),
        choice=None,
        choice_missing="No zone is written.",
        proof=None,
        drilling=(),
        requests=(),
        subtitle="hinged at the front, without springs",
    )
    printed = book_pdf(page)
    titles = [title for title, _ in printed.chapters]
    assert "Tuning card" not in titles
    assert "Drilling sheets, full size" not in titles
    reader, at = pypdf.PdfReader(io.BytesIO(printed.data)), dict(printed.chapters)
    assert "No zone is written." in reader.pages[at["Springs"] - 1].extract_text()
    assert page.roof.do_next[0].title in reader.pages[at["What to measure next"] - 1].extract_text()
    with pytest.raises(ProjectFault, match="No zone is written"):
        book_pdf(page, only="card")
    with pytest.raises(ProjectFault, match="no springs are known"):
        book_pdf(page, only="drilling")


def test_a_long_card_of_two_rows_stays_on_its_page() -> None:
    """Ten lines over six places, the most that a card has: all of it is printed, the caution last."""
    page = sample.book()
    reading = "the pull to start down is at most 14.0 kg and the roof rises by itself from more than 45 % open"
    at = (3, 3, 3, 1, 1, 2, 4, 5, 5, 6)
    lines = tuple(replace(sample.CARD.lines[0], at=k, reading=reading, go=1 + k % 6) for k in at)
    choice = replace(page.choice, holes=sample.BOTH, card=replace(sample.CARD, lines=lines))
    printed = book_pdf(replace(page, choice=choice), only="card")
    assert printed.pages == 1
    (text,) = read(printed)
    text = text.replace("\u00a0", " ")
    assert text.count("go to place") == len(lines)
    assert "go to place 4 (2 B)" in text
    for said in ("3 = 2 A", "Prop the shell before a spring is moved.", "eye protection"):
        assert said in text
