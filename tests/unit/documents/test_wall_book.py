"""Cloth walls on paper and on screens: every sheet alone and all together, and the chapters of the build book."""

from __future__ import annotations

import io
import math
import re
from dataclasses import replace
from typing import Any

import pypdf
import pytest

from loftwright.core.errors import ProjectFault
from loftwright.core.wall_views import FoldPlace
from loftwright.documents.book import book_pdf
from loftwright.documents.typeset import Printed
from loftwright.documents.wall_book import TITLES, WALL_SHEETS, WALLS, wall_chapters, wall_pdf
from loftwright.documents.wall_lists import BATTEN, BEFORE_CLOTH, NO_LICENCE
from loftwright.documents.wall_pictures import (
    fold_picture,
    roll_picture,
    screen_svg,
    space_picture,
    strip_picture,
    water_pictures,
)
from loftwright.documents.wall_pieces import bare, edge_rows, panel_sheets, plain_rectangle
from loftwright.drawing.page import texts
from tests.unit.documents import sample_book as book
from tests.unit.documents import sample_walls as walls
from tests.unit.documents.printed_pages import PAPERS, outside, read

# Computed here from how the sample's panels are made: a lower line that sags 12 mm, an upper one that rises 16 mm.
LOW_QUARTER = "\u2212" + f"{12 * 4 * 0.25 * 0.75:.0f}"
HIGH_MIDDLE = f"{300 + 310 + 16:.0f}"
DIAGONALS = (f"{1000 * math.hypot(2.0, 0.92):.0f} mm", f"{1000 * math.hypot(2.0, 0.30):.0f} mm")
SAID = {
    "panels": (
        "W2",
        "660 mm x 540 mm",
        "by this size",
        "Sheet 2 of 4",
        LOW_QUARTER,
        HIGH_MIDDLE,
        *DIAGONALS,
        BATTEN[0],
    ),
    "water": ("water reaches the staples", "staples 40 mm", "lap 30 mm", "water 22 mm", "outside is to the left"),
    "layout": ("cotton canvas", "Buy 5.70 m, 24 % left over, 130 EUR", "Laid for an earlier version of the roof"),
    "sewing": ("Flat-fell W1 to W2", "staple strip", "W1, W2, W3, W4", "seam 3", "Seen from outside"),
    "bill": ("bonded polyester", "210 m", "staples", "31 % left over", "Judged on 300 drawn roofs"),
    "fold": (
        "Mid front",
        "22 in, 12 out, 6 not decided",
        "Tip inward: 172 mm; hangs below the ring: 140 mm to 155 mm; bundle above the ring: 58 mm",
        "inward",
        "from top to bottom",
        "outside is to the left",
    ),
    "tucking": ("Open the front window first", "fall protection", "licence"),
    "trial": ("Cut W3, the front wall, in paper", BEFORE_CLOTH[0], "diagonal, one way"),
}


@pytest.fixture(scope="module")
def whole() -> Printed:
    return wall_pdf(walls.page())


def test_all_sheets_behind_a_cover_in_their_order(whole: Printed) -> None:
    titled = [title for title, _ in whole.chapters if title]
    assert titled == [WALLS, *(TITLES[sheet] for sheet in WALL_SHEETS)]
    numbers = [at for _, at in whole.chapters]
    assert numbers == sorted(numbers)
    pages = read(whole)
    assert "Of 3 judgements 1 fails, 1 not known yet, 1 holds." in pages[0]
    for title, at in whole.chapters:
        assert title in pages[at - 1]
    everything = " ".join(pages)
    for caution in walls.CAUTIONS:
        assert everything.count(caution.rstrip(".")) >= 4, caution
    for row in walls.ROWS:
        assert row.title in everything
    assert "Illustration, roof open" in everything
    assert outside(whole, "a4") == []


@pytest.mark.parametrize(
    ("sheet", "units", "paper"),
    [
        *((sheet, "metric", "a4") for sheet in WALL_SHEETS),
        *((sheet, "imperial", "letter") for sheet in ("panels", "water", "fold", "tucking")),
    ],
)
def test_each_sheet_alone(sheet: str, units: str, paper: str) -> None:
    printed = wall_pdf(walls.page(units), only=sheet)  # type: ignore[arg-type]
    text = " ".join(read(printed))
    for said in SAID[sheet]:
        if units == "metric" or not re.search(r"\d", said):
            assert said in text, said
    if units == "imperial":
        assert sheet != "panels" or "26 in x 21 1/4 in" in text
    assert NO_LICENCE in text
    assert printed.pages <= {"panels": 5, "layout": 2, "water": 2, "fold": 2}.get(sheet, 1)
    assert outside(printed, paper) == []
    for page in pypdf.PdfReader(io.BytesIO(printed.data)).pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(PAPERS[paper], abs=0.01)


def test_a_sheet_without_anything_to_say_is_refused_and_left_out() -> None:
    page = walls.page()
    bare_page = replace(
        page, pieces=(), water=(), rolls=(), sewing=(), bill=replace(page.bill, rows=()), places=(), fold_note="",
        tucking=(), trial=(), rulings=(),
    )  # fmt: skip
    for sheet in WALL_SHEETS:
        with pytest.raises(ProjectFault, match="loftwright walls"):
            wall_pdf(bare_page, only=sheet)
    printed = wall_pdf(bare_page)
    assert [title for title, _ in printed.chapters] == ["", WALLS]


def test_a_fold_that_is_not_worked_out_says_what_to_do() -> None:
    note = "Run loftwright walls --fold."
    page = replace(walls.page(), fold="none", fold_note=note, places=(replace(walls.PLACES[0], poses=()),))
    text = " ".join(read(wall_pdf(page, only="fold")))
    assert note in text
    assert "Mid rear" in text
    assert "from top to bottom" not in text


def test_a_rectangle_is_one_only_where_its_size_says_all() -> None:
    panel, window = walls.PANELS[0], walls.PIECES[4]
    assert plain_rectangle(window)
    assert not plain_rectangle(panel)
    leaning = replace(
        window, contours=(replace(window.contours[0], vertices=((0.0, 0.0, 0.0), (0.66, 0.0, 0.0), (0.67, 0.54, 0.0),
                                                               (0.01, 0.54, 0.0))),)
    )  # fmt: skip
    assert not plain_rectangle(leaning)
    rounded = replace(window, contours=(replace(window.contours[0], vertices=walls.drawn.rounded(0, 0, 1, 1, 0.05)),))
    assert not plain_rectangle(rounded)


@pytest.mark.parametrize(("units", "said"), [("metric", ("620 mm", "310 mm", "40 mm")), ("imperial", ("1 9/16 in",))])
def test_a_rounded_piece_has_its_size_and_the_radius_of_its_corners(units: Any, said: tuple[str, ...]) -> None:
    """Read from the sheet, as the outline was made."""
    line = replace(walls.PIECES[4].contours[0], vertices=walls.drawn.rounded(0.1, 0.2, 0.72, 0.51, 0.04))
    (sheet,) = panel_sheets(replace(walls.page(units), pieces=(replace(walls.PIECES[4], contours=(line,)),)), "a4")
    labels = " | ".join(text.text for text in texts(sheet.drawing.marks))
    for one in said:
        assert one in labels


def test_one_long_strip_has_all_its_ordinates_in_a_table_behind_it() -> None:
    long = walls.panel("S1", "one strip", 6.4, 0.3, 0.3)
    page = replace(walls.page(), pieces=(long,))
    (sheet,) = panel_sheets(page, "a4")
    assert len(sheet.rest) == len(long.ordinates) == 65
    assert any("All ordinates stand in the table" in text.text for text in texts(sheet.drawing.marks))
    printed = wall_pdf(page, only="panels")
    table = read(printed)[-1]
    assert "S1 one strip: all ordinates" in table
    # Every 100 mm of it, computed here.
    for k in range(65):
        assert re.search(rf"\b{100 * k}\b", table), k


@pytest.mark.parametrize(
    ("metres", "metric", "imperial"),
    [
        (0.1, "100", "3 15/16"),
        (-0.0123, "\u221212.3", "\u221215/32"),
        (-0.00001, "0", "0"),
        (0.7071, "707.1", "27 27/32"),
    ],
)
def test_an_ordinate_without_its_unit(metres: float, metric: str, imperial: str) -> None:
    """Millimetres to a tenth, inches to 1/32, computed by hand."""
    assert bare(metres, "metric") == metric
    assert bare(metres, "imperial") == imperial


def test_edges_that_are_finished_alike_stand_together() -> None:
    rows = edge_rows(walls.PANELS)
    assert rows[1] == ("right seam", "flat-felled", "20 mm", "W1, W2, W3, W4")
    other = replace(walls.PANELS[3], edges=(("right seam", "zip", "15 mm"),))
    assert edge_rows((*walls.PANELS[:3], other))[-1] == ("right seam", "zip", "15 mm", "W4")


@pytest.mark.parametrize(
    "name", ["A lifting roof with a name that does not want to end " * 5, "屋根 крыша #panic() [x]"]
)
def test_any_name_stays_on_its_pages(name: str) -> None:
    for sheet, pages in (("tucking", 1), ("trial", 1)):
        printed = wall_pdf(walls.page(name=name), only=sheet)  # type: ignore[arg-type]
        assert printed.pages == pages
        assert outside(printed, "a4") == []


def test_the_same_page_gives_the_same_bytes() -> None:
    assert wall_pdf(walls.page(), only="fold").data == wall_pdf(walls.page(), only="fold").data


def test_the_build_book_has_the_walls_before_the_readings() -> None:
    page = replace(book.book(), walls=walls.page())
    printed = book_pdf(page)
    titles = [title for title, _ in printed.chapters if title]
    mine = [WALLS, *(TITLES[sheet] for sheet in WALL_SHEETS)]
    at = titles.index(WALLS)
    assert titles[at : at + len(mine)] == mine
    assert titles[at - 1] == "A timber frame to try it on"
    assert titles[at + len(mine)] == "Readings on the built roof"
    # Numbers in the headings and in the contents agree: parts without a title of their own have none.
    reader, found = pypdf.PdfReader(io.BytesIO(printed.data)), dict(printed.chapters)
    number = titles.index(TITLES["trial"])
    for title in (TITLES["trial"], "Contents"):
        said = " ".join(reader.pages[found[title] - 1].extract_text().split())
        assert f"{number} {TITLES['trial']}" in said
    assert len(wall_chapters(walls.page())) == len(mine) + 1


def test_dimensions_of_the_fold_are_those_of_what_is_drawn() -> None:
    """Of two endings with one text for all starts, each has its own figures; computed here from the points."""
    page = walls.page()
    inward = replace(walls.PLACES[0].poses[-1], cloth=((0.0, 0.0), (0.1, -0.03), (0.05, 0.05)))
    outward = replace(inward, cloth=((0.0, 0.0), (-0.08, -0.01), (-0.02, 0.05)))
    for pose, said in ((inward, ("100 mm inward", "80 mm")), (outward, ("80 mm outward", "60 mm"))):
        drawing = fold_picture(page, replace(walls.PLACES[0], poses=(pose,)), width=90.0, height=70.0)
        assert drawing is not None
        labels = [text.text for text in texts(drawing.marks)]
        assert said[0] in labels
        assert f"{said[1]} from top to bottom" in labels


# --- on screens ------------------------------------------------------------------------------------


def test_pictures_for_screens_have_pens_as_classes_and_no_style_of_their_own() -> None:
    page = walls.page()
    made = {
        "strip": strip_picture(page),
        "space": space_picture(page),
        "fold": fold_picture(page, page.places[0], width=90.0, height=70.0),
        "roll": roll_picture(page, page.rolls[0]),
        "water": water_pictures(page)[0],
    }
    for name, drawing in made.items():
        picture = screen_svg(page, drawing, ids=name)
        assert picture.startswith("<svg"), name
        assert "style=" not in picture, name
        assert "nan" not in picture, name
        assert 'class="pen-' in picture, name
        assert f'id="{name}' in picture, name
        assert not re.search(r'<svg[^>]* width="[\d.]+mm"', picture), name


def test_there_is_no_picture_of_what_is_not_known() -> None:
    page = walls.page()
    empty = replace(page.rolls[0], layout=replace(page.rolls[0].layout, pieces=()))
    silent: FoldPlace = replace(page.places[0], poses=())
    made = (
        strip_picture(replace(page, pieces=())),
        space_picture(replace(page, rulings=())),
        roll_picture(page, empty),
        fold_picture(page, silent, width=90.0, height=70.0),
    )
    assert made == (None, None, None, None)
    assert water_pictures(replace(page, water=())) == []
    assert screen_svg(page, None, ids="x") == ""


def test_a_short_wide_roll_is_no_taller_than_its_page() -> None:
    page = walls.page()
    short = roll_picture(page, page.rolls[1])
    assert short is not None
    assert short.height < 130.0


def test_the_strip_names_its_seams_where_it_closes() -> None:
    page = walls.page()
    drawing = strip_picture(page)
    assert drawing is not None
    said = [text.text for text in texts(drawing.marks)]
    assert said.count("seam 1") == 2
    assert said.count("seam 3") == 1
