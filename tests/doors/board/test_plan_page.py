"""The page on the order of work through the application and in a browser: ticks, hours, go or no-go, cards, faults.

Exact constructed cases: a page made up in sample_fitout.py, on a copy of a demo in which nothing is done yet.
"""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest

from loftwright.board import desk as desks
from loftwright.board.app import build
from loftwright.board.desk import Desk
from loftwright.board.pages import plan
from loftwright.board.serve import running

PART = re.compile(r'data-part="([a-z_]+)"')


def test_everything_stands_on_the_page_once(fitted_out: Any) -> None:
    page = fitted_out.page("/plan")
    names = PART.findall(page)
    assert [names.count(name) for name in plan.PAGE.parts] == [1] * len(plan.PAGE.parts)
    assert "1 of 3 done" in page
    assert [page.count(f'id="tick-{name}"') for name in ("design", "order-seal", "order-springs")] == [1, 1, 1]
    # What is done, and what is left, is drawn by itself; so is the day of the end.
    assert [f'id="{name}' in page for name in ("days-0", "done-0", "finish")] == [True] * 3
    assert "without the timber frame" in page
    assert "Height closed: 2.25 m" in page


def test_the_list_before_the_cut_says_in_words_what_stops_it(fitted_out: Any) -> None:
    page = fitted_out.page("/plan")
    before = page.split('data-part="plango"')[1].split("</section>")[0]
    assert "<strong>No go</strong>" in before
    work, bought = before.split('data-key="go-parts"')
    assert "The ring holds" in work
    assert '<span class="unseen">not known yet: </span>' in work
    assert "<strong>Only ordered.</strong>" in bought


def test_a_task_is_ticked_off_on_a_day_and_the_tick_taken_away(fitted_out: Any) -> None:
    answer = fitted_out.do("plan-tick", task="order-seal", on="2026-05-02")
    assert answer["said"] == "Saved: Do order-seal: done. The rest is planned anew."
    assert fitted_out.values["todo"] == [{"task": "order-seal", "done": "2026-05-02"}]
    # Without a day it is today.
    before = date.today().isoformat()
    fitted_out.do("plan-tick", task="order-springs", on="")
    assert fitted_out.values["todo"][1]["done"] in (before, date.today().isoformat())
    fitted_out.do("plan-tick", task="order-seal", done="no")
    assert fitted_out.values["todo"][0] == {"task": "order-seal"}
    answer = fitted_out.do("plan-tick", task="order-seal", on="yesterday")
    assert (answer["ok"], answer["faults"][0]["where"]) == (False, "on")
    assert "--" not in answer["said"]
    assert fitted_out.do("plan-tick", task="no such task")["ok"] is False
    assert fitted_out.values["todo"][0] == {"task": "order-seal"}


def test_own_hours_are_written_beside_the_task(fitted_out: Any) -> None:
    assert fitted_out.do("plan-hours", task="order-seal", likely="3 h", least="")["ok"] is True
    assert fitted_out.values["todo"] == [{"task": "order-seal", "likely": "3 h"}]
    answer = fitted_out.do("plan-hours", task="order-seal", most="many")
    assert [fault["where"] for fault in answer["faults"]] == ["most"]
    assert fitted_out.values["todo"] == [{"task": "order-seal", "likely": "3 h"}]


@pytest.mark.browser
def test_a_tick_and_a_search_in_a_browser(fitted_out: Any, tab_of: Any) -> None:
    folder, sample = fitted_out.file.parent, fitted_out.sample

    class WithSample(Desk):
        async def other(self, path: str, *, wait: float | None = None, at_once: bool = False) -> Any:
            return {"/riding": sample.riding, "/parts": sample.parts, "/plan": sample.plan}[path]()

    assert desks.FIT_OUT_RESTS > 100.0
    with running(lambda entry: build(WithSample(folder, fitted_out.file))) as entry:
        tab = tab_of(viewport={"width": 360, "height": 740}).go(entry.address.replace("/?", "/plan?"))
        shown = tab.page.locator(".fault-entry:visible")
        assert shown.count() == 2
        tab.page.fill("#find-fault", "COLD stay")
        assert (shown.count(), "cold mornings" in shown.first.inner_text()) == (1, True)
        tab.says("[data-filter=planfaults] output", "1 of 2")
        tab.page.keyboard.press("Escape")
        assert shown.count() == 2
        # By keys alone, with a day.
        tab.page.locator("#on-order-seal").fill("2026-05-02")
        tab.page.locator("#tick-order-seal button").focus()
        tab.page.keyboard.press("Enter")
        tab.says("#said", "Saved: Do order-seal: done.")
        assert fitted_out.values["todo"] == [{"task": "order-seal", "done": "2026-05-02"}]
        # What is looked up on the other page follows the slider.
        tab.go(f"{entry.base}/riding")
        tab.says("[data-headings] output", "S")
        tab.page.locator("#heading").press("ArrowRight")
        assert "90 W h a day: less than is used" in tab.says("[data-bars]", "90 W h")
