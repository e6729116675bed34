"""Fit-out, parts, order of work and hand-over as printed: chapters, sheets alone, pictures."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pytest

from loftwright.core.book_views import BookPage, RestPage, RestSheet
from loftwright.core.checks import Verdict
from loftwright.core.errors import Bug, ProjectFault
from loftwright.core.fitting_pages import FittingPage
from loftwright.documents import cards, parts_sheets, work_sheets
from loftwright.documents.book import book_pdf
from loftwright.documents.fit_book import NOT_PLANNED, fit_chapters
from loftwright.documents.fitting_pictures import (
    lift_table,
    loop_picture,
    room_picture,
    rose_picture,
    seal_picture,
    sun_picture,
    wiring_picture,
)
from loftwright.documents.typeset import Printed
from loftwright.documents.work_pictures import bars_pictures, calendar_pictures, finish_picture, months_pictures
from loftwright.drawing.page import Drawing, texts
from tests.unit.documents import sample_book, sample_rest


@pytest.fixture(scope="module")
def rest() -> RestPage:
    return sample_rest.rest()


@pytest.fixture(scope="module")
def bare(rest: RestPage) -> FittingPage:
    """The fit-out of a roof on which nothing rides yet."""
    sections = tuple(
        replace(one, rows=(), grids=()) if one.part in ("panel", "lift", "lining") else one
        for one in rest.fitting.sections
    )
    return replace(rest.fitting, sections=sections, sun=None, loop=None, wire=None, lift=None)


@pytest.fixture(scope="module")
def page(rest: RestPage) -> BookPage:
    return replace(sample_book.book(), rest=rest, cover=sample_rest.cover())


def leaves(printed: Printed, *numbers: int) -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(printed.data))
    return [reader.pages[number - 1].extract_text() for number in numbers]


def words(drawing: Drawing | None) -> str:
    assert drawing is not None
    return " ".join(text.text for text in texts(drawing.marks))


def test_the_book_follows_the_decisions(page: BookPage) -> None:
    printed = book_pdf(page)
    titles = [title for title, _ in printed.chapters if title]
    rest = [
        "The seal", "Room to stand", "Panel and wire", "Powered lift", "Lining and lamps",
        parts_sheets.SHOPPING, parts_sheets.BARS, work_sheets.CALENDAR, work_sheets.MONTHS, work_sheets.TASKS,
        work_sheets.OPEN, work_sheets.GO, work_sheets.BACK,
        cards.FIRST_LIFT, cards.SERVICE, cards.DASH, cards.FOLDER, cards.FAULTS,
    ]  # fmt: skip
    assert [title for title in titles if title in rest] == rest
    assert titles.index("A timber frame to try it on") < titles.index("The seal")
    assert titles[-2:] == ["Readings on the built roof", "What was assumed, sources, cautions"]
    at = dict(printed.chapters)
    cover, contents, shopping, go = leaves(printed, 1, 2, at[parts_sheets.SHOPPING], at[work_sheets.GO])
    assert "Side view" in cover
    for asked, title in (("What is bought", parts_sheets.SHOPPING), ("What must nobody do yet", work_sheets.GO)):
        assert asked in contents
        assert f"page {at[title]}" in contents
    assert parts_sheets.SHOPPING in shopping
    assert "NO GO" in go


@pytest.mark.parametrize("sheet", ["fit-out", "open-roof"])
def test_a_sheet_alone_on_the_other_paper(page: BookPage, sheet: RestSheet) -> None:
    printed = book_pdf(page, only=sheet, paper="letter")
    assert printed.pages >= 1
    assert "page 1 of" not in leaves(printed, 1)[0]


def test_a_book_without_the_rest_has_no_such_sheet() -> None:
    with pytest.raises(Bug):
        book_pdf(sample_book.book(), only="go")


def test_no_bars_no_sheet(page: BookPage, rest: RestPage) -> None:
    none = replace(page, rest=replace(rest, parts=replace(rest.parts, bars=())))
    with pytest.raises(ProjectFault, match="no bar is cut"):
        book_pdf(none, only="bars")


# --- what stands on the sheets ----------------------------------------------------------------------


def test_the_shopping_list_has_every_part_once(rest: RestPage) -> None:
    listed = parts_sheets.shopping(rest.parts)
    names = [line["name"] for group in listed["groups"] for line in group["lines"]]
    assert names == [line.name for line in rest.parts.lines]
    here = replace(rest.parts.groups[0].lines[0], status="in the garage")
    ordered = replace(here, status="only ordered")
    group = replace(rest.parts.groups[0], lines=(here, ordered))
    first, second = parts_sheets.shopping(replace(rest.parts, groups=(group,)))["groups"][0]["lines"]
    assert (first["ordered"], first["here"]) == (True, True)
    assert (second["ordered"], second["here"]) == (True, False)


def test_what_is_bought_in_packs_says_what_is_needed(rest: RestPage) -> None:
    line = replace(rest.parts.lines[0], needed="96", buy="2 x box of 50")
    group = replace(rest.parts.groups[0], lines=(line, replace(line, buy="96"), replace(line, buy="96 x one")))
    lines = parts_sheets.shopping(replace(rest.parts, groups=(group,)))["groups"][0]["lines"]
    assert [one["needed"] for one in lines] == ["needed 96", "", ""]


def test_go_keeps_parts_apart_and_loses_no_line(rest: RestPage) -> None:
    go = rest.work.go
    sheet = work_sheets.go(rest.work)
    assert len(sheet["unmet"]) + len(sheet["parts"]) == len(go.unmet)
    assert len(sheet["wishes"]) + len(sheet["later"]) == len(go.wishes)
    assert len(sheet["met"]) == len(go.met)
    assert all(one["state"] in ("not ordered", "only ordered") for one in sheet["parts"])
    assert not sheet["go"]


def test_tasks_say_who_with_what_and_whether_they_are_done(rest: RestPage) -> None:
    chapter = rest.work.chapters[0]
    done = replace(chapter.tasks[0], state="done", helpers="", tools="saw", begins="Mon", ends="Tue")
    page = replace(rest.work, chapters=(replace(chapter, tasks=(done,)),))
    (task,) = work_sheets.tasks(page)["chapters"][0]["tasks"]
    assert (task["done"], task["helpers"], task["tools"], task["when"]) == (True, "alone", "saw", "Mon to Tue")


def test_the_drivers_card_has_the_height_in_large(rest: RestPage) -> None:
    card = cards.dash(replace(rest.hand_over, driver=("Height closed: 2.25 m", "Lower it in wind.", "close the catch")))
    assert (card["label"], card["figure"], card["gust"]) == ("Height closed", "2.25 m", "Lower it in wind.")
    assert card["lines"] == ["Close the catch."]


def test_faults_keep_their_order_and_their_own_figures(rest: RestPage) -> None:
    chapter = cards.faults(rest.hand_over)
    listed = [fault["symptom"] for place in chapter["places"] for fault in place["faults"]]
    assert listed == [fault.symptom.rstrip(".") for fault in rest.hand_over.faults]
    fault = rest.hand_over.faults[0]
    failing = replace(fault.causes[0], verdict=Verdict.FAILS, own="it sags by 9 mm")
    shown = cards.faults(replace(rest.hand_over, faults=(replace(fault, causes=(failing,)),)))
    (cause,) = shown["places"][0]["faults"][0]["causes"]
    assert (cause["own"], cause["bold"]) == ("It sags by 9 mm.", True)


def test_what_is_not_planned_stands_together(bare: FittingPage) -> None:
    chapters = fit_chapters(bare, "a4")
    assert [chapter["title"] for chapter in chapters] == ["The seal", "Room to stand", NOT_PLANNED]
    assert [one["title"] for one in chapters[-1]["sections"]] == ["Panel and wire", "Powered lift", "Lining and lamps"]


# --- pictures ---------------------------------------------------------------------------------------


def test_pictures_say_what_the_answer_says(rest: RestPage) -> None:
    fitting = rest.fitting
    assert fitting.seal.length in words(seal_picture(fitting))
    assert fitting.room.need_text in words(room_picture(fitting))
    assert "roof closed" in words(room_picture(fitting, closed=True))
    assert fitting.sun is not None
    assert f"{fitting.sun.use:.0f} W h" in words(sun_picture(fitting))
    assert f"cab to {fitting.sun.headings[fitting.sun.best]}" in words(rose_picture(fitting))
    assert fitting.loop is not None
    assert fitting.loop.free_text in words(loop_picture(fitting))
    assert fitting.wire is not None
    assert fitting.wire.parts[0][1] in words(wiring_picture(fitting))
    assert fitting.lift is not None
    table = lift_table(fitting)
    assert (table[0][0], table[-1][0]) == ("0 %", "100 %")


def test_without_a_panel_or_a_lift_there_is_nothing_to_draw(bare: FittingPage) -> None:
    assert [draw(bare) for draw in (sun_picture, rose_picture, loop_picture, wiring_picture)] == [None] * 4
    assert lift_table(bare) == ()


def test_water_over_the_first_point_is_one_place(rest: RestPage) -> None:
    seal = rest.fitting.seal
    n = len(seal.path)
    around = tuple(k < 4 or k > n - 5 for k in range(n))
    drawn = words(seal_picture(replace(rest.fitting, seal=replace(seal, wet=around))))
    middle = tuple(4 < k < n // 2 for k in range(n))
    once = words(seal_picture(replace(rest.fitting, seal=replace(seal, wet=middle))))
    assert drawn.count("water stands here") == once.count("water stands here") > 0
    dry = words(seal_picture(replace(rest.fitting, seal=replace(seal, wet=(False,) * n))))
    assert "No water stands" in dry
    assert seal_picture(replace(rest.fitting, seal=replace(seal, wet=(True,) * n))) is not None
    assert seal_picture(replace(rest.fitting, seal=replace(seal, path=()))) is None


def test_days_and_bars(rest: RestPage) -> None:
    work = rest.work
    assert len(calendar_pictures(work, height=240.0)) > 1
    assert months_pictures(work)
    days = work.finish_days
    assert days is not None
    assert sum(share for _, share in days.shares) == pytest.approx(1.0)
    first, last = days.shares[0][0], days.shares[-1][0]
    assert all(first <= day <= last for day, _ in days.named)
    assert "half of the plans" in words(finish_picture(work))
    assert finish_picture(replace(work, finish_days=None)) is None
    empty = replace(work, schedule=replace(work.schedule, tasks=()))
    assert calendar_pictures(empty) == months_pictures(empty) == ()
    bars = rest.parts.bars[0]
    assert "Bar 1" in words(bars_pictures(bars)[0])
    assert bars_pictures(replace(bars, plan=replace(bars.plan, bars=()))) == ()


def test_the_cover_measures_the_shell_across_and_along() -> None:
    """Second way: the demo's shell is as long and wide as its file says."""
    cover = sample_rest.cover()
    assert (cover.length, cover.width) == ("2.12 m", "1.50 m")
