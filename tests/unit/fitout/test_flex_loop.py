"""The free loop over the hinge: exact arcs and both sides of its rules."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.checks import Check, Verdict
from loftwright.core.judged import Judged
from loftwright.core.motion import turning
from loftwright.fitout.flex_loop import arc_half_angle, clip_distance, least_bend, loop
from loftwright.fitout.wire_rules import loop_holds


def checked(judged: Judged, row: int) -> Check:
    assert judged.value is not None
    assert judged.limit is not None
    return judged.rule.judge(float(judged.value[row]), float(judged.limit[row]))


def test_arcs() -> None:
    # Exact: quarter, half and whole circle of radius one.
    chords = np.array([np.sqrt(2.0), 2.0, 0.0])
    lengths = np.pi * np.array([0.5, 1.0, 2.0])
    assert arc_half_angle(chords, lengths) == pytest.approx(np.pi * np.array([0.25, 0.5, 1.0]), abs=1e-9)
    assert float(arc_half_angle(1.0, 1.0)) == pytest.approx(0.0, abs=1e-6)


def test_distance_over_a_hinge() -> None:
    # Exact: clips 0.3 m before and 0.4 m behind the hinge, on one level: law of cosines.
    phi = np.linspace(0.0, 0.6, 13)
    body = turning(0.0, 0.0, phi, np.ones(13), np.zeros(13))
    found = clip_distance(-0.3, 0.0, body.point(0.4, 0.0))
    assert found == pytest.approx(np.sqrt(0.09 + 0.16 - 0.24 * np.cos(np.pi - phi)))
    aside = clip_distance(-0.3, 0.0, body.point(0.4, 0.0), 0.2)
    assert aside == pytest.approx(np.sqrt(found**2 + 0.04))


def test_loop() -> None:
    found = loop(np.array([[2.0, 2.2, 2.6], [2.0, 3.0, 2.5]]), factor=1.1, even=1.0)
    assert found.longest == pytest.approx([2.6, 3.0])
    assert found.shortest == pytest.approx([2.0, 2.0])
    assert found.free == pytest.approx([2.86, 3.3])
    half = loop(np.array([2.0, 3.0]), free=np.pi, even=1.0)
    assert float(half.bend) == pytest.approx(1.0)
    assert float(half.hang) == pytest.approx(1.0)
    assert float(half.needed) == pytest.approx(3.45)
    assert float(loop(np.array([2.0, 3.0]), free=np.pi).bend) == pytest.approx(0.6)


def test_straight_cable_does_not_bend() -> None:
    assert float(loop(np.array([1.0, 1.0]), free=1.0).bend) > 10.0


def test_least_bend() -> None:
    # HD 516: 5 diameters up to 12 mm, 6 above; read in a public reproduction.
    assert least_bend(np.array([0.006, 0.012, 0.020])) == pytest.approx([0.03, 0.06, 0.12])
    assert float(least_bend(0.006, 8.0)) == pytest.approx(0.048)


def test_loop_rules() -> None:
    distance = np.array([[0.25, 0.40], [0.03, 0.20]])
    short, tight = loop_holds(loop(distance, free=np.array([0.50, 0.20])), 0.0065, 8.0)
    assert checked(short, 0).verdict is Verdict.HOLDS
    assert checked(short, 1).verdict is Verdict.FAILS
    assert checked(tight, 0).verdict is Verdict.HOLDS
    assert checked(tight, 1).verdict is Verdict.FAILS
