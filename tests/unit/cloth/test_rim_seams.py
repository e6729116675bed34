"""Seams on both rims: exact constructed cases, computed here from first principles; no printed source."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from loftwright.cloth.rim_places import points_at
from loftwright.cloth.rim_seams import PAST, seam_places
from loftwright.cloth.rims import Heights, Loop, moved, rounded


@pytest.fixture(scope="module")
def lower() -> Loop:
    return rounded([0.0, 0.005, -0.005], 2.0, 1.2, [0.15, 0.13, 0.16], Heights(0.0, 0.02, 0.01))


@pytest.fixture(scope="module")
def upper() -> Loop:
    return moved(rounded(-0.03, 2.06, 1.26, 0.18, Heights(0.06)), -0.1, 0.1, 0.4)


def test_mid_corner_seams_halve_each_corner(lower: Loop, upper: Loop) -> None:
    seams = seam_places(lower, upper)
    assert seams.names == ("rear right corner", "front right corner", "front left corner", "rear left corner")
    assert [panel.name for panel in seams.panels] == ["right wall", "front wall", "left wall", "rear wall"]
    assert (seams.panels[3].left, seams.panels[3].right) == (3, 0)
    assert seams.lower.shape == (3, 4)
    assert seams.upper.shape == (4,)
    begin, end = lower.corner_arcs()
    np.testing.assert_allclose(seams.lower - begin, end - seams.lower, atol=1e-14)
    # On a flat upper rim the middle of a corner is at 45 degrees: 0.45 + 0.18 pi / 4 from the rear middle.
    assert seams.upper[0] == pytest.approx(0.45 + 0.18 * np.pi / 4, abs=1e-12)


@pytest.mark.parametrize(("onto", "x", "y"), [("sides", 0.15 + PAST, -0.6), ("ends", 0.0, -0.45 + PAST)])
def test_past_the_corner_stands_on_a_straight(lower: Loop, upper: Loop, onto: Any, x: float, y: float) -> None:
    flat = rounded(0.0, 2.0, 1.2, 0.15)
    seams = seam_places(flat, upper, "past the corner", onto=onto)
    at = points_at(flat, seams.lower)
    np.testing.assert_allclose(at[0, :2], (x, y), atol=1e-12)
    # Mirror images left and right, rear and front.
    np.testing.assert_allclose(at[3, :2], (x, -y), atol=1e-12)
    np.testing.assert_allclose(at[1, :2], (2.0 - x, y), atol=1e-12)
    assert {panel.name for panel in seams.panels} == {"right wall", "front wall", "left wall", "rear wall"}
    with pytest.raises(ValueError, match="short of the middle"):
        seam_places(lower, upper, "past the corner", past=0.9)


def test_one_strip_has_one_seam_and_is_the_whole_wall(lower: Loop, upper: Loop) -> None:
    for at, x in (("rear", 0.0), ("front", 2.0)):
        seams = seam_places(lower, upper, "one strip", strip_at=at)
        assert seams.names == (f"{at} middle",)
        assert [(p.name, p.left, p.right) for p in seams.panels] == [("whole wall", 0, 0)]
        point = points_at(lower, seams.lower)[0, 0]
        assert (point[0], point[1]) == pytest.approx((x, 0.0), abs=1e-9)


def test_split_straights_have_plain_names(lower: Loop, upper: Loop) -> None:
    seams = seam_places(lower, upper, split=("right", "left", "front", "rear"))
    names = [panel.name for panel in seams.panels]
    assert names == [
        "rear wall, right half",
        "right wall, rear half",
        "right wall, front half",
        "front wall, right half",
        "front wall, left half",
        "left wall, front half",
        "left wall, rear half",
        "rear wall, left half",
    ]
    # The middles of both rims' straights lie one over the other.
    low, high = points_at(lower, seams.lower)[0], points_at(upper, seams.upper)
    number = seams.names.index("right middle")
    assert low[number, 0] == pytest.approx(1.0, abs=1e-9)
    # Middle of the upper right side: (1, -0.63, 0.06), turned by 0.4 and moved.
    assert high[number] == pytest.approx(
        (np.cos(0.4) - 0.06 * np.sin(0.4) - 0.1, -0.63, np.sin(0.4) + 0.06 * np.cos(0.4) + 0.1), abs=1e-9
    )


def test_given_seams_go_to_the_matching_share(lower: Loop, upper: Loop) -> None:
    middles = lower.row().corner_middles(), upper.corner_middles()
    given = [0.3, float(middles[0][1]), 2.9]
    seams = seam_places(lower, upper, "given", given=given)
    np.testing.assert_allclose(seams.lower[0], given, atol=1e-12)
    assert seams.upper[1] == pytest.approx(float(middles[1][1]), abs=1e-12)
    share = [(a - m[1]) / (m[2] - m[1]) for a, m in zip((2.9, seams.upper[2]), middles, strict=True)]
    assert share[0] == pytest.approx(share[1], abs=1e-12)


@pytest.mark.parametrize(
    ("how", "more", "words"),
    [
        ("given", {"given": [7.0]}, "between nought"),
        ("given", {"given": []}, "at least one"),
        ("given", {"given": [0.3, 0.3]}, "at one place"),
        ("one strip", {"strip_at": "top"}, "'top'"),
    ],
)
def test_impossible_seams_are_refused(lower: Loop, upper: Loop, how: Any, more: dict[str, Any], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        seam_places(lower, upper, how, **more)


def test_a_mirrored_rim_has_mirrored_seams(upper: Loop) -> None:
    one = rounded(0.0, 2.0, 1.2, (0.1, 0.12, 0.15, 0.2), Heights(0.0, 0.02, 0.01, 0.004))
    two = rounded(0.0, 2.0, 1.2, (0.2, 0.15, 0.12, 0.1), Heights(0.0, 0.02, 0.01, -0.004))
    a, b = (points_at(rim, seam_places(rim, upper).lower) for rim in (one, two))
    np.testing.assert_allclose(a, b[::-1] * [1.0, -1.0, 1.0], atol=1e-7)


def test_more_than_two_parts_are_numbered(upper: Loop) -> None:
    flat = rounded(0.0, 2.0, 1.2, 0.15)
    seams = seam_places(flat, upper, "given", given=[0.9, 1.2, 1.5, 1.8, 2.2])
    names = [panel.name for panel in seams.panels]
    assert names[:4] == [f"right wall, part {k}" for k in range(1, 5)]
    assert len(set(names)) == len(names)
