"""Panel, feet and wind: exact cases, and both sides of the rules on panel and feet."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.fitout.panel_frame import (
    G0,
    MASSES,
    PanelAir,
    canopy_suction,
    feet,
    latch_pull,
    mass_range,
    panel_air,
    pull_of_worst_foot,
)
from loftwright.fitout.sun_rules import feet_hold, use_covered


def checked(judged: Judged) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value), float(judged.limit))


def test_mass() -> None:
    # 3.2 mm of glass of 2520 kg/m3 is 8.06 kg/m2 (density read in public references): no framed glass panel is lighter.
    # 23.6 W/kg at 210 W/m2 (read in a public report) is 8.9 kg/m2: a usual one.
    assert MASSES["glass in a frame"][0] > 3.2e-3 * 2520.0
    assert MASSES["glass in a frame"][0] == pytest.approx(210.0 / 23.6, abs=0.005)
    low, high = mass_range("glass in a frame", 1.6)
    assert (float(low), float(high)) == pytest.approx((14.24, 19.2))


def test_feet() -> None:
    assert feet(np.array([1.6, 0.9, 1.0, 1.7]), 0.7).count == pytest.approx([6.0, 4.0, 6.0, 8.0])
    assert float(feet(1.6, 0.7).spacing) == pytest.approx(0.7)
    assert float(feet(0.8, 0.7).count) == 4.0
    assert float(feet(1.6, 0.7, holes_each=2.0).holes) == 12.0
    assert float(feet(1.6, 0.7, holes_each=0.0).holes) == 0.0


def test_suction_of_a_canopy() -> None:
    # EN 1991-1-4, Table 7.6, overall coefficients, 20 degrees: -1.3 free, -1.4 blocked. Read in a public reproduction.
    assert float(canopy_suction(np.deg2rad(20.0), 0.0)) == pytest.approx(1.3)
    assert float(canopy_suction(np.deg2rad(-20.0), 1.0)) == pytest.approx(1.4)
    assert float(canopy_suction(np.deg2rad(20.0), 0.5)) == pytest.approx(1.35)
    assert float(canopy_suction(0.0, 0.0)) == pytest.approx(0.5)


def test_wind_on_the_panel() -> None:
    air = panel_air(500.0, np.array([1.0, 2.0]), 1.2, 0.04, 1.0)
    assert air.lift == pytest.approx([600.0, 1200.0])
    assert air.drag == pytest.approx([20.0, 20.0])


def test_worst_foot() -> None:
    air = PanelAir(np.array(600.0), np.array(40.0))
    even = pull_of_worst_foot(air, 6.0, 0.0, uneven=1.0)
    assert float(even) == pytest.approx(100.0)
    assert float(pull_of_worst_foot(air, 6.0, 12.0, uneven=1.0)) == pytest.approx(100.0 - 2.0 * G0)
    # Drag tips: 40 N x 0.1 m over 1 m is 4 N up at the front, on three feet.
    assert float(pull_of_worst_foot(air, 6.0, 0.0, uneven=1.0, height=0.1)) == pytest.approx(100.0 + 4.0 / 3.0)
    assert float(pull_of_worst_foot(PanelAir(np.array(0.0), np.array(0.0)), 4.0, 10.0)) == 0.0
    tossed = pull_of_worst_foot(PanelAir(np.array(0.0), np.array(0.0)), 4.0, 10.0, tossed=2.0)
    assert float(tossed) == pytest.approx(10.0 * G0 / 4.0)


def test_latch_pull() -> None:
    assert float(latch_pull(600.0, 1.0, 0.0, 2.0)) == pytest.approx(300.0)
    assert float(latch_pull(600.0, 1.0, 2.0, 0.0)) == pytest.approx(300.0)


def test_feet_rule() -> None:
    pull = pull_of_worst_foot(panel_air(570.0, 1.6, 1.2), 6.0, 18.0)
    assert checked(feet_hold(pull, 2000.0)).verdict is Verdict.HOLDS
    assert checked(feet_hold(pull, 300.0)).verdict is Verdict.FAILS
    waiting = feet_hold(pull, None)
    assert waiting.limit is None
    assert waiting.missing == "foot_limit"


def test_use_rule() -> None:
    given = np.linspace(100.0, 1200.0, 12)[:, None] * np.array([1.0, 0.9])
    enough = use_covered(given, 300.0, (5, 6, 7))
    short = use_covered(given, 300.0, (0, 5))
    assert checked(enough).verdict is Verdict.HOLDS
    assert checked(short).verdict is Verdict.FAILS
    assert (enough.which, short.which) == ("Jun", "Jan")
    assert float(use_covered(given, 300.0, (5,), heading=0).value) == pytest.approx(2.0)  # type: ignore[arg-type]
    by_month = use_covered(given, np.linspace(50.0, 600.0, 12), tuple(range(12)), heading=0)
    assert float(by_month.value) == pytest.approx(2.0)  # type: ignore[arg-type]
