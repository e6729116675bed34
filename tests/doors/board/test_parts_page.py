"""The page on the parts through the application: the list, what is filled in and ticked, the list as a file.

Exact constructed cases: a page made up in sample_fitout.py, on a copy of a demo in which nothing is bought yet.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from loftwright.answers.board_parts import ListRead
from loftwright.board.pages import parts
from loftwright.core.errors import Fault, ProjectFault

PART = re.compile(r'data-part="([a-z_]+)"')


def test_every_part_stands_in_its_group_with_its_state_in_words(fitted_out: Any) -> None:
    page = fitted_out.page("/parts")
    assert set(parts.PAGE.parts) <= set(PART.findall(page))
    assert "2 parts, 1 in the garage; 16 EUR" in page
    states = re.findall(r'id="part-(\w+)".*?</span> ([a-z ]+)</span>', page, re.S)
    assert states == [("seal", "in the garage"), ("angle", "only ordered"), ("thread", "not ordered")]
    # All of it is ordered where it is there or on its way; it is here only in the garage.
    pressed = re.findall(r'value="((?:no-)?(?:ordered|have))" aria-pressed="(\w+)"', page)
    assert pressed == [
        ("no-ordered", "true"),
        ("no-have", "true"),
        ("no-ordered", "true"),
        ("have", "false"),
        ("ordered", "false"),
        ("have", "false"),
    ]
    assert 'id="bars-0-0' in page


def test_cells_and_ticks_are_written_at_once_and_undone(fitted_out: Any) -> None:
    assert fitted_out.do("part", part="angle", price="12.50")["said"] == "Saved: angle of steel: price."
    assert fitted_out.values["bought"] == [{"part": "angle", "price": "12.50"}]
    # All of it, as the list counts it.
    assert fitted_out.do("part", part="angle", all="have")["ok"] is True
    assert fitted_out.do("part", part="seal", all="ordered", price="")["ok"] is True
    assert fitted_out.values["bought"] == [
        {"part": "angle", "price": "12.50", "have": "2.5"},
        {"part": "seal", "ordered": "4"},
    ]
    assert 'name="price" value="12.50"' in fitted_out.page("/parts")
    fitted_out.do("undo")
    fitted_out.do("part", part="angle", all="no-have")
    assert fitted_out.values["bought"] == [{"part": "angle", "price": "12.50"}]


def test_a_cell_that_cannot_be_read_is_named_and_nothing_is_lost(fitted_out: Any) -> None:
    fitted_out.do("part", part="angle", price="12.50")
    answer = fitted_out.do("part", part="angle", price="=1+1", **{"price@was": "12.50"})
    assert [fault["where"] for fault in answer["faults"]] == ["price"]
    # Meanwhile somebody else wrote another price than the one that was shown.
    assert fitted_out.do("part", part="angle", price="9", **{"price@was": "8"})["ok"] is False
    assert fitted_out.values["bought"] == [{"part": "angle", "price": "12.50"}]
    assert fitted_out.do("part", part="no-such-part", all="have")["ok"] is False


def test_a_list_is_taken_as_a_whole_or_not_at_all(fitted_out: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    given: list[str] = []

    def good(project: object, path: object, name: str, text: str) -> ListRead:
        given.append(text)
        return ListRead({"bought.0.part": "seal", "bought.0.price": "3"}, 1, 0, ("The seal: 4 are needed now.",))

    def bad(*_: object) -> ListRead:
        lines = (2, 7)
        raise ProjectFault([Fault(f"parts list, line {n}", '"x"', "it must be a number", "write 3") for n in lines])

    monkeypatch.setattr(parts, "list_read", bad)
    answer = fitted_out.do("parts-read", list="id,price\nseal,x\n", name="l.csv")
    assert (answer["ok"], "there are 2 mistakes" in answer["said"]) == (False, True)
    page = fitted_out.page("/parts")
    assert ("line 2" in page, "line 7" in page) == (True, True)
    assert "bought" not in fitted_out.values

    monkeypatch.setattr(parts, "list_read", good)
    assert fitted_out.do("parts-read", list="id,price\nseal,3\n", name="l.csv")["ok"] is True
    assert given == ["id,price\nseal,3\n"]
    assert fitted_out.values["bought"] == [{"part": "seal", "price": "3"}]
    page = fitted_out.page("/parts")
    assert ("line 2" in page, "The seal: 4 are needed now." in page) == (False, True)
    # One step takes the whole list back.
    fitted_out.do("undo")
    assert "bought" not in fitted_out.values
    assert fitted_out.do("parts-read", list=" ", name="")["ok"] is False


def test_the_list_is_sent_as_a_file(fitted_out: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(parts, "parts_file", lambda project, path, decimal: f"id;{decimal}".encode())
    answer = fitted_out.client.get(f"{parts.LIST}?decimal=comma")
    assert answer.text == "id;comma"
    assert answer.headers["content-disposition"].startswith('attachment; filename="roof-parts.csv"')
