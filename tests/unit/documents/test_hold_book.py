"""Fit and strength on paper, in the terminal and on the board: sheets, numbers, papers, templates at full size."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from typing import Any

import pypdf
import pytest

from loftwright.answers.cut_grips import CutBoard
from loftwright.core.errors import ProjectFault
from loftwright.documents.hold_board import cut_picture, wind_scenes
from loftwright.documents.hold_book import HOLD_SHEETS, TITLES, hold_pdf
from loftwright.documents.hold_lists import CUTTING_CAUTIONS, NOT_ASSESSED, SURVEY
from loftwright.documents.hold_pictures import gap_svg
from loftwright.documents.hold_text import hold_text
from loftwright.documents.plain_text import Look
from loftwright.documents.typeset import Printed
from tests.unit.documents import paper_marks as marks
from tests.unit.documents import sample_hold as hold
from tests.unit.documents.printed_pages import PAPERS, outside, read

SAID = {
    "fit": ("Does it sit: gap and packers", "13.9 mm", "12.4 mm"),
    "packers": ("Packer, left hinge", "12.4 mm", "100 mm wide and high"),
    "wind-card": ("17 m/s", "17.2 m/s", "What goes first", "fresh breeze", "Nobody under the open shell"),
    "cut-plan": ("2332 mm", "2000 mm", "1200 mm", "bow 2: cut", "Measure both diagonals", "Isolate the battery"),
    "corners": ("Rear corners", "R 80 mm", "never saw into the sharp corner"),
    "ring": ("1840 mm", "square tube 30 x 30 x 2", "48 to 71 %", "15.4 kg"),
    "holes": ("8.6 mm", "22 N m", "primer, then sealant", "18 mm"),
    "inspector": ("EN 1993-1-1, 6.3.1", "61 kg", "Not assessed", "crash or roll-over", "1130 N at most"),
    "before-the-cut": ("Air bags along the roof", "Door diagonals measured", "no-go", "Isolate the battery"),
}


@pytest.fixture(scope="module")
def whole() -> Printed:
    return hold_pdf(hold.page())


def test_all_sheets_behind_a_cover_in_their_order(whole: Printed) -> None:
    assert [title for title, _ in whole.chapters] == ["", *(TITLES[sheet] for sheet in HOLD_SHEETS)]
    numbers = [at for _, at in whole.chapters]
    assert numbers == sorted(numbers)
    texts = read(whole)
    assert "Of 5 judgements 2 fail, 1 not known yet, 2 hold." in texts[0]
    for title, at in whole.chapters:
        assert title in texts[at - 1]
    everything = " ".join(texts)
    for caution in hold.CAUTIONS:
        assert everything.count(caution.rstrip(".")) >= 3, caution
    for row in hold.ROWS:
        assert row.title in everything
    assert outside(whole, "a4") == []


@pytest.mark.parametrize(
    ("sheet", "units", "paper"),
    [
        *((sheet, "metric", "a4") for sheet in HOLD_SHEETS),
        *((sheet, "imperial", "letter") for sheet in ("packers", "wind-card", "cut-plan", "before-the-cut")),
    ],
)
def test_each_sheet_alone(sheet: str, units: str, paper: str) -> None:
    printed = hold_pdf(hold.page(units), only=sheet)  # type: ignore[arg-type]
    text = " ".join(read(printed))
    for said in SAID[sheet]:
        if units == "metric" or said != "100 mm wide and high":
            assert said in text, said
    most = {"corners": 8, "inspector": 2}.get(sheet, 1)
    assert printed.pages <= most
    assert outside(printed, paper) == []
    for page in pypdf.PdfReader(io.BytesIO(printed.data)).pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(PAPERS[paper], abs=0.01)


def test_what_can_hurt_is_said_where_it_applies() -> None:
    inspector = " ".join(read(hold_pdf(hold.page(), only="inspector")))
    for said in NOT_ASSESSED:
        assert said in inspector
    before = " ".join(read(hold_pdf(hold.page(), only="before-the-cut")))
    for what, _ in SURVEY:
        assert what in before
    cut = " ".join(read(hold_pdf(hold.page(), only="cut-plan")))
    for said in CUTTING_CAUTIONS:
        assert said in before
        assert said in cut
    # Said once, though the page has it in fewer words too.
    assert cut.count("Isolate the battery before cutting") == 1


def test_templates_come_out_of_the_printer_at_full_size() -> None:
    """Read back from the PDF: outlines of the packers and the square, to 0.05 mm."""
    page = pypdf.PdfReader(io.BytesIO(hold_pdf(hold.page(), only="packers").data)).pages[0]
    found = marks.shapes(page)
    for template in hold.PACKERS:
        xs, ys = zip(*template.outline, strict=True)
        wanted = (1000 * (max(xs) - min(xs)), 1000 * (max(ys) - min(ys)))
        assert any(s.size == pytest.approx(wanted, abs=0.05) for s in found), template.name
        # Half a millimetre more would be another shape: the check above can fail.
        assert not any(s.size == pytest.approx((wanted[0] + 0.5, wanted[1]), abs=0.05) for s in found)
    assert len([s for s in found if s.size == pytest.approx((100.0, 100.0), abs=0.02)]) == 1
    assert len(marks.circles(found, 3.25)) == 1
    corner = pypdf.PdfReader(io.BytesIO(hold_pdf(hold.page(), only="corners").data)).pages[0]
    assert any(s.size == pytest.approx((110.0, 110.0), abs=0.05) for s in marks.shapes(corner))


def test_a_sheet_without_anything_to_say_is_refused_and_left_out() -> None:
    bare = replace(hold.page(), gap=None, packers=(), corners=(), wind=None, wind_card=())
    for sheet in ("packers", "corners", "wind-card"):
        with pytest.raises(ProjectFault):
            hold_pdf(bare, only=sheet)  # type: ignore[arg-type]
    titles = [title for title, _ in hold_pdf(bare).chapters]
    assert TITLES["packers"] not in titles
    assert TITLES["wind-card"] not in titles
    assert TITLES["fit"] in titles
    assert "measure roof and rim" in " ".join(read(hold_pdf(bare, only="fit")))


def test_a_card_without_numbers_still_says_what_is_known() -> None:
    page = replace(hold.page(), wind=None, wind_card=("Not known yet: measure the hinges.", "Keep it down in gusts."))
    text = " ".join(read(hold_pdf(page, only="wind-card")))
    assert "Not known yet: measure the hinges." in text
    assert "Keep it down in gusts." in text


@pytest.mark.parametrize(
    "name", ["A lifting roof with a name that does not want to end " * 5, "屋根 крыша #panic() [x]"]
)
def test_any_name_stays_on_its_pages(name: str) -> None:
    for sheet, pages in (("wind-card", 1), ("packers", 1), ("before-the-cut", 1)):
        printed = hold_pdf(hold.page(name=name), only=sheet)  # type: ignore[arg-type]
        assert printed.pages == pages
        assert outside(printed, "a4") == []


def test_the_same_page_gives_the_same_bytes_in_either_spelling() -> None:
    assert hold_pdf(hold.page(), only="ring").data == hold_pdf(hold.page(), only="ring").data
    curb = " ".join(read(hold_pdf(replace(hold.page(), words="curb"), only="cut-plan")))
    assert "its arc and its center" in curb
    assert "its arc and its centre" in " ".join(read(hold_pdf(hold.page(), only="cut-plan")))


# --- in the terminal -------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [48, 80, 100])
@pytest.mark.parametrize("brief", [False, True])
def test_text_keeps_its_width_and_says_the_worst_first(width: int, brief: bool) -> None:
    text = hold_text(hold.page(), Look(width), brief=brief)
    assert max(len(line) for line in text.splitlines()) <= width
    flat = " ".join(text.split())
    order = [flat.index(row.title) for row in hold.ROWS]
    assert order == sorted(order)
    assert "Lower it above a gust of 17 m/s." in flat
    assert "Of 5 judgements 2 fail, 1 not known yet, 2 hold." in flat
    for caution in hold.CAUTIONS:
        assert caution in flat
    for said in ("1840 mm", "EN 1993-1-1", "the skin is taken as 0.8 mm steel"):
        assert (said in flat) != brief
    assert ("left 17.2 m/s" in flat) != brief


def test_text_without_colour_has_no_marks_of_it() -> None:
    assert "\x1b" not in hold_text(hold.page(), Look(80))
    assert "\x1b[1;31m" in hold_text(hold.page(), Look(80, colour=True))


# --- on the board ----------------------------------------------------------------------------------


def plan_svg(plan: Any) -> str:
    board = CutBoard(plan, (), (0.001, 0.01), ())
    return str(cut_picture(board, width_px=900.0, units="metric", words="kerb", name="roof")["svg"])


def test_pictures_have_pens_as_classes_and_no_style_of_their_own() -> None:
    page = hold.page()
    made = {"gap": gap_svg(page), "plan": plan_svg(page.plan)}
    made |= dict(wind_scenes(page, width_px=900.0))
    assert set(made) == {"gap", "plan", *page.wind.directions}
    for name, picture in made.items():
        assert picture.startswith("<svg"), name
        assert "style=" not in picture, name
        assert "<style" not in picture, name
        assert "nan" not in picture, name
        assert 'class="pen-' in picture, name
        assert "<title" in picture, name
        assert not re.search(r'<svg[^>]* width="[\d.]+mm"', picture), name
    assert "from the front" in made["front"]


def test_there_is_no_picture_of_what_is_not_known() -> None:
    bare = replace(hold.page(), gap=None, wind=None)
    assert gap_svg(bare) == ""
    assert wind_scenes(bare, width_px=900.0) == ()


def test_words_of_the_builder_are_escaped() -> None:
    wicked = "</script><img src=x onerror=alert(1)>\x07"
    plan = replace(hold.PLAN, bows=tuple(replace(bow, name=wicked) for bow in hold.PLAN.bows))
    picture = plan_svg(plan)
    assert "<img" not in picture
    assert "\x07" not in picture
