"""What the board shows beside its drawing: every step that can be measured leads to a key of the file."""

from __future__ import annotations

import pytest

from loftwright.answers.board_home import board_home, change_words, steps_of
from loftwright.answers.decisions import page_of
from loftwright.core.board_views import Decision
from loftwright.core.views import DoNext
from loftwright.project.demos import DEMOS, demo
from loftwright.reference.measuring import MEASUREMENTS


@pytest.mark.parametrize("name", DEMOS)
def test_every_judgement_is_counted_on_one_page_and_leads_somewhere(name: str) -> None:
    home = board_home(demo(name))
    assert len(home.links) == len(home.on_page) == len(home.page.rows) == len(home.pairs)
    counted: list[Decision] = list(home.decisions)
    assert sum(one.tally.fails for one in counted) == home.page.tally.fails
    assert sum(one.tally.holds for one in counted) == home.page.tally.holds


@pytest.mark.parametrize("name", DEMOS)
def test_every_measurement_leads_to_a_key_that_a_page_holds(name: str) -> None:
    project = demo(name)
    page = board_home(project).page
    from dataclasses import replace

    asked = tuple(DoNext(known.title, known.minutes, known.how, "") for known in MEASUREMENTS.values())
    for step, link in steps_of(project, replace(page, do_next=asked)):
        if link is not None and link.path:
            assert page_of(link.path) == link.page, step.title
    # Only what this roof has no entry for leads nowhere.
    led = {step.title for step, link in steps_of(project, replace(page, do_next=asked)) if link is not None}
    assert {MEASUREMENTS["shell.mass"].title, MEASUREMENTS["shell.twist_moment"].title} <= led


def test_a_change_is_named_by_its_first_value() -> None:
    assert change_words(["shell.mass", "shell.length", "shell.width"]) == "weight of the bare shell and 2 more"
