"""Loads that are neither weight nor spring, on lids for which each can be told by hand.

Numbers: computed here from first principles; shapes of the curves are the program's own judgement.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from loftwright.core.motion import Travel
from loftwright.mechanics.balance import G0, Load
from loftwright.mechanics.four_bar import FourBar, four_bar_travel
from loftwright.mechanics.hinge import hinge_travel
from loftwright.mechanics.other_forces import (
    AIR_DENSITY,
    AIR_HEIGHT,
    CLOTH_TIGHT_OVER,
    FOLD_HEIGHT,
    TIGHT_CLOTH,
    Rim,
    Sizes,
    gust_on_top,
    loads,
    seal,
)


def ones(value: float) -> np.ndarray:
    return np.array([value])


RIM = Rim(ones(0.0), ones(2.0), ones(1.0), ones(0.0))


def lid(opens_deg: float = 30.0, stations: int = 121) -> Travel:
    """Return a lid hinged at the rear on the rim line."""
    return hinge_travel(ones(0.0), ones(0.0), ones(math.radians(opens_deg)), end="rear", stations=stations)


def level(rise: float, stations: int = 61) -> Travel:
    """Return a shell on long level arms, rising all but straight by `rise` [m]."""
    bar = FourBar(*(ones(v) for v in (-9.0, 0.0, 1.0, 0.0, -9.2, -1.0, 0.8, -1.0)))
    return four_bar_travel(bar, ones(math.asin(rise / 10.0)), stations=stations, sense=ones(1.0)).travel


def sizes(**given: float) -> Sizes:
    names = (
        "seal_line",
        "seal_squeeze",
        "cloth_mass",
        "wet_extra",
        "load_on_top",
        "cloth_tension",
        "fold_push",
        "trapped_air",
        "gust",
    )
    return Sizes(**{name: ones(given.get(name, 0.01 if name == "seal_squeeze" else 0.0)) for name in names})


def named(travel: Travel, name: str, **given: float) -> Load:
    lip = travel.shell.point(ones(2.0), ones(0.0))
    return next(load for load in loads(travel, RIM, sizes(**given), lip=lip) if load.name == name)


def test_closed_seal_pushes_with_its_line_force_all_round() -> None:
    # 6 m of rim at 100 N/m; the middle of the push lies at mid-length.
    push = seal(lid(), RIM, ones(100.0), ones(0.01))
    assert push.fz[0, 0] == pytest.approx(600.0)
    assert push.m[0, 0] == pytest.approx(600.0 * 1.0)
    assert np.all(push.fx == 0)


def test_seal_lets_go_as_the_shell_rises() -> None:
    travel = level(0.02, 201)
    push = seal(travel, RIM, ones(100.0), ones(0.01))
    z = travel.shell.z[0]
    np.testing.assert_allclose(push.fz[0], 600.0 * np.clip(1 - z / 0.01, 0.0, 1.0), atol=1e-6)
    assert push.fz[0, -1] == 0.0


@pytest.mark.parametrize("at", [10, 40, 120])
def test_seal_of_a_lid_lets_go_from_the_lip_on(at: int) -> None:
    # Turned by q, a place x along stands x sin q high: both sides push over s = squeeze / sin q, falling to nothing
    # there, and the hinge end wholly. Sum: line (2 s/2 + width); about the hinge: line 2 s^2/6 cos q.
    travel = lid(30.0)
    push = seal(travel, RIM, ones(100.0), ones(0.01))
    q = float(travel.q[0, at])
    reach = 0.01 / math.sin(q)
    assert reach < 2.0
    assert push.fz[0, at] == pytest.approx(100.0 * (reach + 1.0))
    assert push.m[0, at] == pytest.approx(100.0 * reach**2 / 3 * math.cos(q))
    assert push.work_rate(travel.shell)[0, at] == pytest.approx(float(push.m[0, at]))


def test_seal_pressed_beyond_its_stops_pushes_twice_at_most() -> None:
    # Turned down about its rear end by 0.1 rad, the rim is pressed in; from s = squeeze / sin q on, twice the line.
    sunk = hinge_travel(ones(0.0), ones(0.0), ones(0.1), end="front", stations=3)
    push = seal(sunk, RIM, ones(100.0), ones(0.001))
    assert push.fz[0, 0] == pytest.approx(600.0)
    short = 0.001 / math.sin(0.1) / 2
    assert push.fz[0, -1] == pytest.approx(100.0 * (2 * (2 * 2.0 - short) + 1.0 + 2.0))


def test_fold_and_air_push_near_closed_only() -> None:
    travel = lid()
    z = 1.0 * np.sin(travel.q[0])  # mid-length is 1 m from the hinge
    fold = named(travel, "folded cloth", fold_push=5.0)
    np.testing.assert_allclose(fold.raising.fz[0], 5.0 * 6.0 * np.clip(1 - z / FOLD_HEIGHT, 0, 1))
    np.testing.assert_allclose(fold.lowering.fz, fold.raising.fz)
    air = named(travel, "trapped air", trapped_air=40.0)
    assert np.all(air.raising.fz == 0.0)
    np.testing.assert_allclose(air.lowering.fz[0], 40.0 * np.clip(1 - z / AIR_HEIGHT, 0, 1))
    # It acts at mid-length: its moment about the hinge is force times distance along.
    np.testing.assert_allclose(air.lowering.m[0], air.lowering.fz[0] * np.cos(travel.q[0]))


@pytest.mark.parametrize("name", ["cloth", "wet cloth"])
def test_cloth_hangs_half_on_the_closed_shell_and_wholly_on_the_open_one(name: str) -> None:
    key = {"cloth": "cloth_mass", "wet cloth": "wet_extra"}[name]
    load = named(lid(), name, **{key: 4.0})
    for wrench in (load.raising, load.lowering):
        np.testing.assert_allclose(wrench.fz[0, [0, 60, -1]], [-2.0 * G0, -3.0 * G0, -4.0 * G0])


def test_load_on_top_presses_all_the_way() -> None:
    load = named(lid(), "load on top", load_on_top=10.0)
    np.testing.assert_allclose(load.raising.fz, -10.0 * G0)


def test_cloth_goes_tight_over_the_last_of_the_lip_s_rise() -> None:
    travel = lid()
    lip = 2.0 * np.sin(travel.q[0])
    load = named(travel, TIGHT_CLOTH, cloth_tension=20.0)
    expected = -20.0 * 6.0 * np.clip(1 - (lip[-1] - lip) / CLOTH_TIGHT_OVER, 0, 1)
    np.testing.assert_allclose(load.raising.fz[0], expected, atol=1e-9)
    assert load.raising.fz[0, 0] == 0.0
    assert load.raising.fz[0, -1] == pytest.approx(-120.0)


def test_nothing_given_pushes_nothing() -> None:
    travel = lid()
    lip = travel.shell.point(ones(2.0), ones(0.0))
    for load in loads(travel, RIM, sizes(), lip=lip):
        for wrench in (load.raising, load.lowering):
            assert not np.any(wrench.fz)
            assert not np.any(wrench.m)


def test_gust_grows_with_the_square_of_speed_and_with_area() -> None:
    travel = lid(45.0)
    one, two = (gust_on_top(travel, RIM, ones(v)) for v in (6.0, 12.0))
    np.testing.assert_allclose(two.fz, 4 * one.fz)
    np.testing.assert_allclose(two.fx, 4 * one.fx)
    assert np.all(one.fz < 0)
    assert np.all(gust_on_top(travel, RIM, ones(0.0)).fz == 0)
    bigger = gust_on_top(travel, Rim(ones(0.0), ones(4.0), ones(2.0), ones(0.0)), ones(6.0))
    np.testing.assert_allclose(bigger.fz, 4 * one.fz)


def test_gust_presses_harder_on_a_steeper_roof_at_the_middle_of_the_shell() -> None:
    travel = lid(45.0)
    push = gust_on_top(travel, RIM, ones(10.0))
    share = np.hypot(push.fx[0], push.fz[0]) / (0.5 * AIR_DENSITY * 100.0 * 2.0)
    assert np.all(np.diff(share) >= -1e-12)
    assert share[-1] > share[0]
    assert share[-1] < 1.5
    # Square to the rim, 1 m from the hinge: the moment is the force times 1 m.
    np.testing.assert_allclose(push.m[0], -np.hypot(push.fx[0], push.fz[0]))


@pytest.mark.parametrize(("pitch", "edge", "field"), [(10.0, 0.2, 0.2), (30.0, 0.7, 0.4), (45.0, 0.7, 0.6)])
def test_gust_square_to_the_rim_by_hand(pitch: float, edge: float, field: float) -> None:
    # EN 1991-1-4:2005, Table 7.3a (from memory), 0.3 of suction inside; the edge's strip is a tenth of 1 m on 2 m.
    travel = lid(pitch)
    push = gust_on_top(travel, RIM, ones(8.0))
    force = 0.5 * 1.25 * 8.0**2 * 2.0 * (0.05 * edge + 0.95 * field + 0.3)
    # The rim rises at the front; its upper side looks back and up, so the wind presses forwards and down.
    lean = math.radians(pitch)
    assert push.fx[0, -1] == pytest.approx(force * math.sin(lean))
    assert push.fz[0, -1] == pytest.approx(-force * math.cos(lean))
    assert push.work_rate(travel.shell)[0, -1] == pytest.approx(-force * 1.0)


def test_gust_on_a_level_shell_presses_straight_down() -> None:
    travel = level(0.2)
    push = gust_on_top(travel, RIM, ones(10.0))
    assert not np.any(push.fx)
    np.testing.assert_allclose(push.fz[0], -0.5 * AIR_DENSITY * 100.0 * 2.0 * 0.5)


def test_gust_does_not_ask_which_end_is_hinged() -> None:
    rear = lid()
    front = hinge_travel(ones(2.0), ones(0.0), ones(math.radians(30)), end="front", stations=121)
    one, other = (gust_on_top(t, RIM, ones(10.0)) for t in (rear, front))
    np.testing.assert_allclose(one.work_rate(rear.shell), other.work_rate(front.shell))
    np.testing.assert_allclose(one.fx, -other.fx)
    np.testing.assert_allclose(one.fz, other.fz)
