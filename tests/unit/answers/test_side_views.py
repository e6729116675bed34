"""What is shown of a roof hinged at a side: as one sees it from behind."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from loftwright.answers.hole_words import place
from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.scout import scout
from loftwright.answers.scout_view import scout_page
from loftwright.answers.views import roof_page
from loftwright.core.views import RoofPage
from loftwright.core.wording import Wording
from loftwright.drawing.elevation import side_views
from loftwright.drawing.moving import moving_view
from loftwright.drawing.page import texts
from loftwright.project.catalogues import read_prices
from loftwright.project.file import loads
from loftwright.project.plane import SIDE_NOTES

RIGHT = (Path(__file__).parents[2] / "roofs" / "side_hinge.toml").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def page() -> RoofPage:
    return roof_page(judged_roof(loads(RIGHT)))


def test_the_page_says_where_the_hinge_is_and_from_where_it_is_seen(page: RoofPage) -> None:
    assert page.subtitle.startswith("hinged at the right; ")
    assert page.scene.edges == ("left", "right")
    assert set(SIDE_NOTES) <= set(page.assumptions)
    picture = side_views(page.scene, page.poses, Wording("metric"))
    said = [text.text for text in texts(picture.marks)]
    assert picture.title == "Seen from behind: open, half open and closed"
    assert "by 38.0°, seen from behind" in said
    assert any(text.startswith("to the right from the opening's left edge") for text in said)
    assert {"left edge", "right edge"} <= set(said)
    assert not any("rear" in text or "front" in text for text in said)
    assert "from the opening's left edge" in picture.description
    assert moving_view(page.scene, page.poses).drawing.title == "Seen from behind"


def test_the_right_side_is_drawn_at_the_right_and_the_left_one_rises(page: RoofPage) -> None:
    placed = {text.text: text.at[0] for text in texts(side_views(page.scene, page.poses, Wording("metric")).marks)}
    assert placed["left edge"] < placed["right edge"]
    (hinge,) = page.scene.pivots
    assert hinge.at[0] == pytest.approx(1.25)
    # The free side is the left one, 60 mm left of the opening; handle and lip are there.
    assert page.scene.lip[0] == pytest.approx(-0.06)
    assert page.scene.handle is not None
    assert page.scene.handle[0] == pytest.approx(-0.06)
    opened = page.poses.shell[-1]
    assert opened.phi < 0
    assert page.scene.measured.rise > 0.5


def test_a_roof_hinged_at_an_end_is_not_said_to_be_seen_from_behind(page: RoofPage) -> None:
    scene = replace(page.scene, edges=("rear", "front"))
    picture = side_views(scene, page.poses, Wording("metric"))
    assert picture.title.startswith("Side view")
    assert not any("behind" in text.text for text in texts(picture.marks))


def test_scouting_measures_the_floor_across_the_van() -> None:
    found = scout_page(scout(loads(RIGHT), read_prices()))
    assert "Floor to stand on, across the van" in [fact.label for fact in found.facts]


def test_places_of_holes_count_from_the_left_edge() -> None:
    say = Wording("metric")
    assert place(0.4, -0.05, say, "left") == "400 mm from the left edge, 50 mm below the roof"
    assert place(-0.04, 0.0, say, "left") == "40 mm outside the left edge, at roof height"
    assert place(-0.04, 0.0, say) == "40 mm behind the rear edge, at roof height"
