"""The page on the fit-out through the application, without a browser: what is shown, looked up and taken over.

Exact constructed cases: a page made up in sample_fitout.py, on a copy of a demo.
"""

from __future__ import annotations

import re
from typing import Any

from loftwright.answers.board_riding import headings_table
from loftwright.board.pages import riding

PART = re.compile(r'data-part="([a-z_]+)"')


def test_everything_stands_on_the_page_once(fitted_out: Any) -> None:
    page = fitted_out.page("/riding")
    names = PART.findall(page)
    assert [names.count(name) for name in riding.PAGE.parts] == [1] * len(riding.PAGE.parts)
    for part in ("seal", "standing", "panel", "lift", "lining"):
        assert page.count(f"The answer on {part}.") == 1
    # Seal, headroom open and closed, sun, rose, loop and wiring are drawn.
    drawn = page.split("<main")[1].split('data-part="ridesun"')[0]
    assert [
        drawn.count(f'id="{name}') > 0 for name in ("seal-0", "room-0", "room-1", *(f"panel-{k}" for k in range(4)))
    ] == [True] * 7
    assert "Cut 100 mm." in page


def test_the_heading_is_looked_up_in_a_table(fitted_out: Any) -> None:
    found = headings_table(fitted_out.sample.riding().page.sun)
    assert found is not None
    # 160 W h are the most of all: raised with the cab to the south; there alone 150 W h are covered.
    assert found["use_share"] == 150 / 160 or abs(float(str(found["use_share"])) - 150 / 160) < 1e-4
    shares: Any = found["headings"]
    assert [one["shares"][0] for one in shares] == [0.25, 0.5, 1.0, 0.5625]
    assert [one["enough"] for one in shares] == [[False, False]] * 2 + [[True, False], [False, False]]
    assert headings_table(None) is None


def test_what_is_offered_is_taken_over_once_it_is_seen(fitted_out: Any) -> None:
    offered = "forces.seal_line=20 .. 30 N/m, assumed"
    assert f'name="offered" value="{offered}"' in fitted_out.page("/riding")
    assert fitted_out.do("riding-take", offered="something else") == {
        "ok": False,
        "said": riding.CHANGED,
        "faults": [],
        "go": "",
    }
    assert fitted_out.do("riding-take", offered=offered)["ok"] is True
    assert fitted_out.values["forces"]["seal_line"] == "20 .. 30 N/m, assumed"
    fitted_out.do("undo")
    assert fitted_out.values["forces"]["seal_line"] != "20 .. 30 N/m, assumed"
