"""Key figures: the same on the page, in JSON and in the drawing, and measured off the poses once more."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.answers.judged_roof import judged_roof
from loftwright.answers.key_figures import band, curve_band, key_figures
from loftwright.answers.numbers import judged
from loftwright.answers.side_view import pose_table, scene
from loftwright.answers.views import roof_page
from loftwright.core.uncertain import exact
from loftwright.core.wording import Wording
from loftwright.drawing.scene import placed
from loftwright.project.demos import DEMOS, demo


@pytest.mark.parametrize("name", DEMOS)
def test_the_drawing_says_what_its_own_shapes_measure(name: str) -> None:
    found = judged_roof(demo(name)).numbers
    drawn, opened = scene(found), pose_table(found).shell[-1]
    assert drawn.handle is not None
    assert drawn.person is not None
    assert drawn.headroom_at is not None
    assert drawn.measured.rise == pytest.approx(placed(opened, drawn.lip)[1] - drawn.lip[1], abs=1e-9)
    handle = placed(opened, drawn.handle)[1]
    assert drawn.measured.handle_height == pytest.approx(handle - drawn.person.stands_z, abs=1e-9)
    top = placed(opened, drawn.headroom_at)[1]
    assert drawn.measured.headroom == pytest.approx(top - drawn.floor_z, abs=1e-9)


@pytest.mark.parametrize("name", DEMOS)
def test_page_json_and_drawing_agree(name: str) -> None:
    outcome = judged_roof(demo(name))
    page, said, key = roof_page(outcome), judged(outcome)["figures"], key_figures(outcome.numbers)
    assert (said["lip_rise_m"], said["standing_height_m"]) == (key.lip_rise, key.standing_height)
    assert page.scene.measured.rise == key.lip_rise
    facts, say = {fact.label: fact.value for fact in page.facts}, Wording(page.units)
    assert facts["Rise at the lip"] == say.length(key.lip_rise)
    assert facts["Handle above your feet, open"] == say.length(page.scene.measured.handle_height)
    assert facts["Positive prop or lock"] == ("required" if said["prop_required"] else "not required")


def test_a_longer_reach_shortens_the_strap_by_as_much() -> None:
    plain = demo("quellmere")
    found = []
    for reach in (2.0, 2.1):
        person = plain.person.model_copy(update={"reach": exact(reach)})
        found.append(key_figures(judged_roof(plain.model_copy(update={"person": person})).numbers))
    assert found[0].strap_needed - found[1].strap_needed == pytest.approx(0.1)
    assert found[0].strap_needed == pytest.approx(found[0].handle_height - 2.0)


def test_bands_hold_nine_and_eight_of_ten() -> None:
    found = judged_roof(demo("quellmere")).numbers
    rows = np.zeros(found.rows.count)
    rows[found.likely] = np.linspace(0.0, 1.0, found.likely.size)
    got = band(rows, found)
    assert (got.nominal, got.low, got.high) == pytest.approx((0.0, 0.0, 0.95))
    low, high = curve_band(np.stack([rows, 2 * rows], axis=-1), found)
    assert low.tolist() == pytest.approx([0.1, 0.2])
    assert high.tolist() == pytest.approx([0.9, 1.8])


def test_a_roof_without_springs_needs_a_prop() -> None:
    found = judged_roof(demo("quellmere").model_copy(update={"spring": ()})).numbers
    key = key_figures(found)
    assert key.prop_required
    assert key.prop_load is None
