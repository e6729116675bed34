"""The lower edge of the cloth: geometry against a second way by sampling, running water against its own formula."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.cloth.water import (
    DRIP,
    EdgeSection,
    LowerEdge,
    RoofSkin,
    driven_head,
    fitting_lap,
    judge_edge,
    running_water,
    sections,
    standing_water,
)
from loftwright.cloth.water_rules import STAPLES, UPSTAND
from loftwright.core.checks import Check, Verdict


def one(value: float) -> np.ndarray:
    return np.array([value])


SKIN = RoofSkin(
    length=one(2.0),
    width=one(1.2),
    crown=one(0.020),
    camber=one(0.010),
    beyond_front=one(0.4),
    beyond_rear=one(0.8),
    beyond_side=one(0.2),
    lid_front=one(0.0),
    lid_rear=one(0.0),
    lid_side=one(0.0),
    pitch=np.radians(one(3.0)),
    roll=np.radians(one(3.0)),
    dam=one(0.0),
)
EDGE = LowerEdge(one(0.100), one(0.012), one(0.050), one(0.060), one(383.0), one(0.030))


def checks(section: EdgeSection) -> dict[str, Check]:
    found = {}
    for judged in judge_edge(section):
        assert judged.value is not None
        assert judged.limit is not None
        found[judged.rule.id] = judged.rule.judge(float(judged.value[0]), float(judged.limit[0]))
    return found


def at(place: str, skin: RoofSkin = SKIN, edge: LowerEdge = EDGE) -> EdgeSection:
    return next(section for section in sections(skin, edge) if section.place == place)


@pytest.mark.parametrize("fall", [-0.02, -0.004, 0.0, 0.02])
@pytest.mark.parametrize("tilt", [0.0, 0.01, -0.03, 0.08])
def test_standing_water_by_filling_a_sampled_edge(fall: float, tilt: float) -> None:
    """A second way: the edge in 200 001 points, filled to its lower end."""
    s = np.linspace(-0.6, 0.6, 200_001)
    z = -fall * (2.0 * s / 1.2) ** 2 + s * np.tan(tilt)
    depth = max(min(z[0], z[-1]) - z.min(), 0.0)
    assert standing_water(fall, 1.2, tilt) == pytest.approx(depth, abs=1e-9)
    assert standing_water(fall, 1.2, tilt, 0.005) == pytest.approx(depth + 0.005, abs=1e-9)


def test_running_water_by_summing_the_channel() -> None:
    """A second way: Manning's formula for each strip of a triangular channel, summed over its width."""
    depth = float(running_water(1.5, 0.03, 0.02, 3.0e-5))
    edges = np.linspace(0.0, depth / 0.03, 20_001)
    middle = 0.03 * (edges[:-1] + edges[1:]) / 2.0
    flow = float(np.sum(middle ** (5.0 / 3.0)) * (edges[1] - edges[0]) * np.sqrt(0.02) / 0.011)
    # The handbook's 0.376 stands for 3/8.
    assert flow == pytest.approx(1.5 * 3.0e-5, rel=0.005)


def test_no_channel_where_water_runs_away() -> None:
    assert running_water(1.0, -0.01, 0.02) == 0.0


def test_driven_rain() -> None:
    """Hydrostatics: 383 Pa, the stagnation pressure of 25 m/s, hold up 39 mm."""
    assert driven_head(383.0) == pytest.approx(0.039, abs=1e-4)


def test_the_heights_add_up() -> None:
    for section in sections(SKIN, EDGE):
        assert section.staples == pytest.approx(section.upstand - 0.012)
        assert section.hem + section.lap == pytest.approx(section.staples)
        assert section.splash == pytest.approx(section.water + 0.030)
    assert [section.place for section in sections(SKIN, EDGE)] == ["front", "rear", "side", "corner"]


def test_slope_of_the_skin_is_that_of_its_parabola() -> None:
    """Across 1.2 m a crown of 20 mm falls at 4 x 20 / 1200 at the edge; parked level, water runs away everywhere."""
    flat = replace(SKIN, pitch=one(0.0), roll=one(0.0))
    assert at("side", flat).toward == pytest.approx(-4.0 * 0.020 / 1.2)
    assert all(section.water == 0.0 for section in sections(flat, EDGE))


def test_parked_aslope_water_comes_to_the_upper_end() -> None:
    rear, front, corner = at("rear"), at("front"), at("corner")
    assert rear.toward == pytest.approx(np.tan(np.radians(3.0)) - 4.0 * 0.010 / 2.0)
    assert rear.running > front.running > 0.0
    assert corner.running == rear.running


@pytest.mark.parametrize("place", ["front", "rear", "side"])
def test_the_raised_lid_sheds_its_rain_too(place: str) -> None:
    """Three square metres of lid are as good as so much more skin beyond the edge: the same catch by two ways."""
    tilted = replace(SKIN, roll=np.radians(one(6.0)))
    along = 2.0 if place == "side" else 1.2
    lid = replace(tilted, **{f"lid_{place}": one(3.0)})
    skin = replace(tilted, **{f"beyond_{place}": getattr(tilted, f"beyond_{place}") + 3.0 / along})
    assert at(place, lid).running == pytest.approx(at(place, skin).running)
    assert at(place, lid).running > 1.2 * at(place, tilted).running
    # Staples between the two depths are dry without the lid's rain, and not with it.
    between = (at(place, lid).splash + at(place, tilted).splash) / 2.0
    low = replace(EDGE, below_top=EDGE.upstand - between)
    assert checks(at(place, tilted, low))["WATER-1401"].verdict is Verdict.HOLDS
    assert checks(at(place, lid, low))["WATER-1401"].verdict is Verdict.FAILS


def test_the_splash_that_is_judged_is_the_one_given() -> None:
    dry, wet = (at("rear", SKIN, replace(EDGE, splash=one(splash))) for splash in (0.060, 0.090))
    assert wet.splash - dry.splash == pytest.approx(0.030)
    assert checks(dry)["WATER-1401"].verdict is Verdict.HOLDS
    assert checks(wet)["WATER-1401"].verdict is Verdict.FAILS
    # No second number beside it.
    assert " mm" not in STAPLES.source.text() + UPSTAND.source.text()


def test_cloth_without_ends_has_no_ends_to_lap() -> None:
    loop = at("corner", SKIN, replace(EDGE, end_lap=None))
    assert loop.end_lap is None
    assert "WATER-1405" not in checks(loop)
    assert "WATER-1405" in checks(at("corner"))


def test_a_hollow_roof_holds_water_against_the_end() -> None:
    sunk = replace(SKIN, crown=one(-0.010))
    assert at("rear", sunk).standing == pytest.approx(0.010)
    assert at("rear").standing == 0.0


def test_a_level_top_stands_higher_where_the_skin_falls() -> None:
    level = replace(EDGE, level=True)
    heights = [float(section.upstand[0]) for section in sections(SKIN, level)]
    assert heights == pytest.approx([0.110, 0.110, 0.120, 0.130])


def test_a_good_edge_holds_everywhere() -> None:
    edge = replace(EDGE, upstand=one(0.110))
    judged = [check for section in sections(SKIN, edge) for check in checks(section).values()]
    assert len(judged) == 17
    for check in judged:
        assert check.verdict is Verdict.HOLDS, check.rule.id


@pytest.mark.parametrize(
    ("edge", "skin", "rule"),
    [
        pytest.param(replace(EDGE, below_top=one(0.080)), SKIN, "WATER-1401", id="staples too low"),
        pytest.param(EDGE, replace(SKIN, dam=one(0.070)), "WATER-1401", id="dammed up to the staples"),
        pytest.param(replace(EDGE, lap=one(0.030)), SKIN, "WATER-1402", id="lap too short"),
        pytest.param(replace(EDGE, lap=one(0.085)), SKIN, "WATER-1403", id="hem in the water"),
        pytest.param(replace(EDGE, upstand=one(0.025)), SKIN, "WATER-1404", id="upstand too low"),
        pytest.param(replace(EDGE, end_lap=one(0.020)), SKIN, "WATER-1405", id="ends barely meet"),
    ],
)
def test_a_bad_edge_is_refused(edge: LowerEdge, skin: RoofSkin, rule: str) -> None:
    assert checks(at("corner", skin, edge))[rule].verdict is Verdict.FAILS


def test_the_longest_lap_that_hangs_clear() -> None:
    rear = at("rear")
    lap = fitting_lap(rear)
    assert lap == pytest.approx(rear.staples - rear.water - DRIP)
    assert checks(at("rear", SKIN, replace(EDGE, lap=lap)))["WATER-1403"].margin == pytest.approx(0.0, abs=1e-9)


def test_rows() -> None:
    skin = replace(SKIN, crown=np.linspace(0.0, 0.03, 7))
    every = sections(skin, EDGE)
    assert len(every) == 4
    for section in every:
        assert section.splash.shape == section.staples.shape == (7,)
