"""Thin sheet: exact cases and limits that no table gives."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.strength import thin_sheet


def test_nothing_is_left_at_the_edge() -> None:
    assert thin_sheet.tear_out(0.003, 0.009, 0.001, 100e6) == 0.0
    assert thin_sheet.tear_out(0.0145, 0.009, 0.001, 100e6) == pytest.approx(2 * 0.010 * 0.001 * 100e6)


def test_rim_of_a_head() -> None:
    assert thin_sheet.pull_through(0.020, 0.003, 17.25e6) == pytest.approx(np.pi * 0.020 * 0.003 * 17.25e6)


def test_backing_plate_bends_at_its_overhang() -> None:
    """A strip c long under a line load at its end is at yield in bending: n c = f t^2 / 6."""
    line, thick, yields = 100e3, 0.003, 235e6
    wide = float(thin_sheet.spread_diameter(0.016, 1.0, thick, yields, line))
    overhang = 0.5 * (wide - 0.016)
    assert line * overhang == pytest.approx(yields * thick**2 / 6)
    assert thin_sheet.spread_diameter(0.016, 0.018, thick, yields, line) == pytest.approx(0.018)
    assert thin_sheet.spread_diameter(0.016, 0.010, thick, yields, line) == pytest.approx(0.016)


def test_foam_under_a_washer() -> None:
    assert thin_sheet.crush_limit(0.024, 0.009, 0.15e6) == pytest.approx(np.pi / 4 * (0.024**2 - 0.009**2) * 0.15e6)
    assert thin_sheet.crush_limit(0.008, 0.009, 0.15e6) == 0.0


def test_a_wider_patch_never_bends_more() -> None:
    patch = np.linspace(0.005, 0.15, 80)
    assert np.all(np.diff(thin_sheet.skin_bending(100.0, patch, 0.15, 0.003)) < 0.0)


def test_several_bolts_bend_the_skin_less_than_one_that_pulls_as_hard() -> None:
    one = float(thin_sheet.skin_bending(400.0, 0.012, 0.12, 0.004))
    assert thin_sheet.group_bending([(0.0, 0.0)], [400.0], 0.012, 0.12, 0.004) == pytest.approx(one)
    square = [(0.0, 0.0), (0.06, 0.0), (0.0, 0.04), (0.06, 0.04)]
    four = float(thin_sheet.group_bending(square, [100.0] * 4, 0.012, 0.12, 0.004))
    assert 0.25 * one < four < one
    rows = thin_sheet.group_bending(square, np.full((3, 4), 100.0), 0.012, 0.12, np.array([0.003, 0.004, 0.005]))
    assert rows[1] == pytest.approx(four)
    assert rows.shape == (3,)
