"""The pages on fit and strength in a real browser: the gust by slider, the corners of the cut by hand and by keys."""

from __future__ import annotations

from typing import Any

import pytest

pytestmark = pytest.mark.browser


def shown(tab_of: Any, board: Any, path: str, **wanted: Any) -> Any:
    """Return a tab that shows a page once fit and strength are judged."""
    tab = tab_of(**wanted).go(board.entry.address.replace("/?", f"{path}?"))
    tab.until(lambda: "reckoned ..." not in tab.text("main"), "everything reckoned")
    tab.drawn()
    return tab


def test_the_slider_moves_the_labels(board: Any, tab_of: Any) -> None:
    tab = shown(tab_of, board, "/wind")
    words = lambda: tab.page.locator("[data-windplay] .word").all_inner_texts()  # noqa: E731
    tab.page.locator("#gust").focus()
    tab.page.keyboard.press("Home")
    still, low = words(), tab.text("[data-gust]")
    tab.page.keyboard.press("End")
    full = words()
    assert tab.text("[data-gust]") != low
    # Every part says in words how it stands, and more wind takes more.
    assert len(full) == len(still) > 3
    assert all("past its limit" in one or "holds" in one for one in (*still, *full))
    assert sum("past its limit" in one for one in full) > sum("past its limit" in one for one in still)
    assert tab.page.locator("#gust").get_attribute("aria-valuetext") == tab.text("[data-gust]")
    tab.says("[data-windplay] [data-said]", "past their limit")

    tab.page.locator("[data-windplay] [type=radio]").nth(2).check()
    tab.page.keyboard.press("Home")
    assert tab.page.locator("[data-side]:visible").count() == 1
    assert tab.page.locator('[data-side="2"]').is_visible()

    # Direction and gust stay while the parts of the page come anew.
    tab.page.locator("#gust").focus()
    tab.page.keyboard.press("End")
    tab.page.keyboard.press("ArrowLeft")
    gust = tab.text("[data-gust]")
    tab.kinds.clear()
    assert board.post("/do/change", **{"brace.play": "2.5 mm"})[1]["ok"]
    tab.until(lambda: tab.kinds.count("parts") >= 2, "the new parts")
    tab.until(lambda: "reckoned ..." not in tab.text("main"), "everything reckoned")
    assert tab.text("[data-gust]") == gust
    assert tab.page.locator('[data-side="2"]').is_visible()
    assert tab.page.evaluate("document.activeElement.id") == "gust"


def test_a_corner_is_dragged_and_moved_by_keys(board: Any, tab_of: Any, metres: Any) -> None:
    tab = shown(tab_of, board, "/opening")
    tab.page.evaluate("document.querySelector('[data-cut]').scrollIntoView()")
    one, other = tab.at("front left"), tab.at("rear left")
    per = (one[0] - other[0]) / metres(board.values["opening.length"])
    # Lengths to scale: across the van as along it.
    right = tab.at("front right")
    assert right[1] - one[1] == pytest.approx(per * metres(board.values["opening.width"]), abs=1.5)
    x, y = tab.take("front left")
    tab.page.mouse.move(x - 0.1 * per, y, steps=4)
    tab.says("[data-cut] [data-says]", "length 1900 mm, width 1380 mm")
    assert board.file.read_bytes() == board.first
    tab.page.mouse.up()
    tab.until(lambda: metres(board.values["opening.length"]) == pytest.approx(1.9, abs=1.5 / per), "the file")
    assert metres(board.values["opening.width"]) == pytest.approx(1.38, abs=2.5 / per)
    # Verdicts follow by themselves.
    tab.until(lambda: "reckoned ..." not in tab.text("main"), "everything reckoned")

    tab.page.locator('.grip[data-path="radius"]').focus()
    tab.page.keyboard.press("ArrowLeft")
    tab.page.keyboard.press("ArrowLeft")
    tab.until(lambda: board.values["cut.corner_radius"] == "62 mm", "the radius in the file")
    tab.says("[data-cut] [data-said]", "Saved: ")
    # Two steps of the keys are one change.
    tab.undo()
    tab.until(lambda: board.values["cut.corner_radius"] == "60 mm")


def test_what_is_refused_glides_back_with_its_reason(board: Any, tab_of: Any) -> None:
    tab = shown(tab_of, board, "/opening", viewport={"width": 360, "height": 800}, has_touch=True)
    assert tab.page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    tab.page.evaluate("document.querySelector('[data-cut]').scrollIntoView()")
    tab.page.locator('.grip[data-path="rear left"]').focus()
    before = tab.at("rear left")
    for _ in range(20):
        tab.page.keyboard.press("Shift+ArrowUp")
    tab.says("[data-cut] [data-said]", "does not cover")
    assert board.file.read_bytes() == board.first
    tab.until(lambda: tab.at("rear left") == pytest.approx(before, abs=0.6), "the corner where it was")
    box = tab.page.locator('.grip[data-path="rear left"]').bounding_box()
    assert min(box["width"], box["height"]) > 43.5
