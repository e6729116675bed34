"""Cable and fuse: exact cases and both sides of each rule."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.fitout.fuse import least_rating, next_fuse
from loftwright.fitout.wire import NONE_FITS, bears, drop, thinnest
from loftwright.fitout.wire_rules import drop_small, fuse_lasts, fuse_saves
from loftwright.reference.wire import CONDUCTORS


def checked(judged: Judged) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value), float(judged.limit))


def test_thinnest_cable() -> None:
    # 5 m, 10 A at 12 V: 6 mm2 drops 2.75 %, 4 mm2 4.13 % (computed here from first principles, 20 C).
    found = thinnest(5.0, np.array([10.0, 5.0, 200.0]), 12.0)
    # At 5 A, 4 mm2 drops 2.06 %, 2.5 mm2 3.33 %.
    assert [CONDUCTORS[int(i)].name for i in found[:2]] == ["6 mm2", "4 mm2"]
    assert found[2] == NONE_FITS
    # Exactly on the limit counts.
    assert float(thinnest(5.0, 10.0, 12.0, 0.33 / 12.0)) == 3.0
    # Warm copper asks for the next size: 2.75 % x 1.16 at 60 C is 3.19 %.
    assert float(thinnest(5.0, 10.0, 12.0, temperature=333.15)) == 4.0
    # Tinned strands resist a little more.
    assert float(thinnest(5.0, 10.0, 12.0, 0.0276, tinned=True)) == 4.0


def test_drop_grows_with_length_and_current() -> None:
    assert float(drop(10.0, 20.0, 1e-3)) == pytest.approx(0.4)
    assert drop(np.array([1.0, 2.0]), 10.0, 1e-3) == pytest.approx([0.02, 0.04])


def test_drop_rule() -> None:
    assert checked(drop_small(drop(5.0, 10.0, CONDUCTORS[3].plain), 12.0, 0.03)).verdict is Verdict.HOLDS
    assert checked(drop_small(drop(5.0, 10.0, CONDUCTORS[2].plain), 12.0, 0.03)).verdict is Verdict.FAILS


def test_warm_air_takes_from_what_a_cable_bears() -> None:
    # From memory: 0.87 at 40, 0.71 at 50, 0.50 at 60 C for PVC in IEC 60364-5-52 and VDE 0298-4.
    assert bears(1.0, 273.15 + np.array([30.0, 40.0, 50.0, 60.0])) == pytest.approx([1.0, 0.87, 0.71, 0.5], abs=0.005)
    assert float(bears(42.0, 360.0)) == 0.0
    assert float(bears(42.0, 303.15, 0.7)) == pytest.approx(29.4)
    assert float(bears(42.0, 333.15, insulation=363.15)) == pytest.approx(42.0 * np.sqrt(30.0 / 40.0))


def test_fuse() -> None:
    assert float(least_rating(8.0)) == 10.0
    assert next_fuse(np.array([8.0, 8.1, 20.0, 24.1])) == pytest.approx([10.0, 15.0, 25.0, 35.0])
    with pytest.raises(ValueError, match="no fuse"):
        next_fuse(90.0)


def test_fuse_rules() -> None:
    rating = next_fuse(9.7)
    cool, hot = bears(CONDUCTORS[2].bears, 313.15), bears(CONDUCTORS[0].bears, 333.15)
    assert checked(fuse_saves(rating, cool, "battery")).verdict is Verdict.HOLDS
    assert checked(fuse_saves(rating, hot, "battery")).verdict is Verdict.FAILS
    assert checked(fuse_lasts(rating, 9.7)).verdict is Verdict.HOLDS
    assert checked(fuse_lasts(10.0, 9.7)).verdict is Verdict.FAILS
