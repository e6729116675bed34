"""What faces show of a shell that rises level: on crossing arms and in straight guides."""

from __future__ import annotations

import importlib.util
import sys
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from loftwright.answers.chart_view import force_chart
from loftwright.answers.forces import force_view
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.numbers import results
from loftwright.answers.side_view import pose_table, scene
from loftwright.answers.views import roof_page
from loftwright.core.scene import Pose
from loftwright.core.wording import Wording
from loftwright.documents.pictures import side_views_of
from loftwright.documents.roof_html import roof_html
from loftwright.drawing.page import Text
from loftwright.drawing.scene import at_fraction, far, placed
from loftwright.project.file import loads

_PLACE = Path(__file__).parents[1] / "mechanics" / "test_level_lifts.py"
_SPEC = importlib.util.spec_from_file_location("level_lifts", _PLACE)
assert _SPEC is not None
assert _SPEC.loader is not None
level_lifts = importlib.util.module_from_spec(_SPEC)
sys.modules["level_lifts"] = level_lifts
_SPEC.loader.exec_module(level_lifts)


@cache
def answered(kind: str, units: str = "metric") -> Any:
    text = level_lifts.level({"scissor": level_lifts.SCISSOR, "guides": level_lifts.GUIDES}[kind])
    return judged_roof(loads(text.replace("[settings]", f'[settings]\nunits = "{units}"\ndraws = 50')))


def test_crossing_arms_are_drawn_where_they_cross_and_slide() -> None:
    found = answered("scissor").numbers
    seen, poses = scene(found), pose_table(found)
    pins = {pivot.name: pivot for pivot in seen.pivots}
    assert list(pins) == ["arm a, van", "arm a, slide", "arm b, slide", "arm b, shell", "crossing"]
    # Half a degree of travel after half a degree, the ends stay on their slides and the crossing on both arms.
    arm = np.hypot(1.0, 0.2)
    for share in (0.0, 0.5, 1.0):
        state = at_fraction(poses, share)
        spots = {name: placed(state.body(pivot.body), pivot.at) for name, pivot in pins.items()}
        (ax, az), (cx, cz), (bx, bz), (dx, dz), (mx, mz) = spots.values()
        assert (ax, dx) == pytest.approx((1.8, 1.8))
        assert (bx, bz, cz) == pytest.approx((cx, az, dz), abs=1e-4)
        assert np.hypot(cx - ax, cz - az) == pytest.approx(arm)
        assert (mx, mz) == pytest.approx(((bx + dx) / 2, (bz + dz) / 2), abs=1e-4)
        for rail, z in zip(seen.rails, (bz, dz), strict=True):
            ends = [placed(state.body(rail.body), end) for end in rail.ends]
            assert {round(end[1], 3) for end in ends} == {round(z, 3)}
            assert min(e[0] for e in ends) <= cx <= max(e[0] for e in ends)
    assert far(at_fraction(poses, 1.0), Wording("metric")) == "30.0\u00b0"


def test_posts_stay_in_their_shoes() -> None:
    found = answered("guides").numbers
    seen, poses = scene(found), pose_table(found)
    assert [pivot.name for pivot in seen.pivots] == ["guide", "far guide"]
    state = at_fraction(poses, 1.0)
    assert state.shell == Pose(0.0, pytest.approx(0.4), 0.0)
    post, shoe = seen.rails[:2]
    low, high = (placed(state.body(post.body), end)[1] for end in post.ends)
    # Open, the post still fills the shoe; closed it reaches from the rim down.
    assert low == pytest.approx(shoe.ends[0][1]) == pytest.approx(-0.4)
    assert high == pytest.approx(0.4)


@pytest.mark.parametrize(("units", "said", "beside"), [("metric", "400 mm", " mm"), ("imperial", "15 3/4 in", " in")])
def test_what_slides_is_said_in_lengths(units: Any, said: str, beside: str) -> None:
    outcome = answered("guides", units)
    page = roof_page(outcome)
    assert page.subtitle.startswith("in straight guides at the front; ")
    rise = next(fact for fact in page.facts if fact.label == "Rise at the lip")
    assert rise.note == f"opens {said}"
    assert force_view(outcome.numbers).grids[0].rows[-1][1] == said
    chart = force_chart(outcome.numbers, Wording(units))
    assert chart.beside == beside
    assert chart.degrees[-1] == pytest.approx(400 if units == "metric" else 0.4 / 0.0254)
    assert f"by {said}" in {mark.text for mark in side_views_of(page).marks if isinstance(mark, Text)}
    assert f'"unit_of_opening":["{beside}"' in roof_html(page)


def test_numbers_tell_angles_from_lengths() -> None:
    guides, crossing = results(answered("guides")), results(answered("scissor"))
    assert guides["figures"]["opens_rad"] is None
    assert guides["figures"]["slides_m"] == pytest.approx(0.4)
    assert guides["travel"]["opening_rad"] is None
    assert guides["travel"]["slid_m"][-1] == pytest.approx(0.4)
    assert [pin["at"] for pin in guides["pins"]] == ["upper end of the shoes", "lower end of the shoes"]
    assert crossing["figures"]["slides_m"] is None
    assert [pin["at"] for pin in crossing["pins"]] == ["arm a", "arm b"]
