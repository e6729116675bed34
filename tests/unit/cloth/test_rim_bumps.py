"""Bumps of a rim told from noise: constructed cases with a known bump, and a second way by many draws."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.cloth.rim_bumps import Bumps, bumps_of, with_bumps
from loftwright.cloth.rim_fit import fitted
from loftwright.cloth.rim_places import points_at, station
from loftwright.cloth.rims import Loop, rounded
from loftwright.core.motion import Array

SD = 0.001


@pytest.fixture(scope="module")
def rim() -> Loop:
    return rounded(0.0, 2.0, 1.2, 0.15)


def dented(rim: Loop, deep: float, count: int) -> Array:
    """Return points of a rim with a smooth dent of 0.25 m either way, 1.5 m along: in the right side."""
    arc = np.arange(count) / count * float(rim.perimeter)
    place = station(rim, arc)
    dent = -deep * np.exp(-((arc - 1.5) ** 2) / (2.0 * 0.2**2))
    return np.asarray(place.points + dent[:, None] * place.outward)


def test_a_real_dent_is_followed(rim: Loop) -> None:
    p = dented(rim, 0.015, 48) + np.random.default_rng(2).normal(0.0, SD, (48, 3))
    plain = fitted(p, sd=SD)
    fit = fitted(p, sd=SD, follow_bumps=True)
    truth = dented(rim, 0.015, 400)
    away = [np.linalg.norm(loop.points[:, None] - truth, axis=-1).min(axis=1) for loop in (plain.loop(), fit.loop())]
    near = np.linalg.norm(plain.loop().points - truth[97], axis=-1) < 0.15
    # In the dent the plain rim misses by most of it, the other by a quarter at most.
    assert away[0][near].max() > 0.008
    gap = np.abs(fit.loop().points[near, 1] - np.interp(fit.loop().points[near, 0], truth[60:140, 0], truth[60:140, 1]))
    assert gap.max() < 0.004
    assert fit.bumps is not None
    assert fit.bumps.terms[0] > 3.0


def test_mere_noise_is_not_followed(rim: Loop) -> None:
    def around(points: Array) -> float:
        return float(np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=-1).sum())

    lengths = []
    truth = dented(rim, 0.0, 48)
    for seed in range(8):
        p = truth + np.random.default_rng(seed).normal(0.0, 0.003, (48, 3))
        fit = fitted(p, follow_bumps=True)
        assert fit.bumps is not None
        plain = replace(fit, bumps=None).loop()
        followed = float(with_bumps(plain.row(), fit.bumps).perimeter) - float(plain.row().perimeter)
        lengths.append((around(p) - around(truth), followed))
    through_points, followed_points = np.array(lengths).T
    # The polyline through the points is longer by 2 sd^2 / h a chord: 7 mm. The fitted rim follows next to none of it.
    assert through_points.mean() == pytest.approx(48 * 2.0 * 0.003**2 / (6.14 / 48), rel=0.4)
    assert np.abs(followed_points).mean() < 0.0015


def test_what_noise_is_left_lengthens_as_said() -> None:
    # Second way: the same smoother on 80 sets of noise over one long known wave.
    rng = np.random.default_rng(5)
    around, count = 6.0, 60
    arc = np.arange(count) / count * around
    wave = 0.01 * np.cos(2.0 * np.pi * 3.0 * arc / around)
    rates = np.tile(2.0 * np.pi * np.arange(1, 17) / around, 2)
    said, waves = [], []
    for _ in range(80):
        sets = rng.normal(0.0, SD, (2, count))
        found = bumps_of(arc, wave + sets[0], wave + sets[1], around)
        said.append(found.noise)
        waves.append((found.out, found.up))
    # Half the mean squared slope, all round, of what differs from set to set.
    variance = np.array(waves).var(axis=0, ddof=1)
    assert np.mean(said) == pytest.approx(around / 4.0 * float(np.sum(rates**2 * variance)), rel=0.35)


def test_waves_move_the_rim_where_they_say(rim: Loop) -> None:
    zero = np.zeros(4)
    up = with_bumps(rim, Bumps(zero, np.array([0.0, 0.01, 0.0, 0.0]), (0.0, 1.0), 0.0))
    wanted = 0.01 * np.cos(4.0 * np.pi * rim.arc[:-1] / rim.perimeter)
    np.testing.assert_allclose(up.points[:, 2], wanted, atol=1e-15)
    np.testing.assert_allclose(up.points[:, :2], rim.points[:, :2], atol=1e-15)
    out = with_bumps(rim, Bumps(np.array([0.01, 0.0, 0.0, 0.0]), zero, (1.0, 0.0), 0.0))
    assert out.points[0] == pytest.approx((-0.01, 0.0, 0.0), abs=1e-12)
    np.testing.assert_allclose(points_at(out, [0.0])[0], out.points[0], atol=1e-12)


def test_few_points_follow_no_bumps(rim: Loop) -> None:
    assert fitted(dented(rim, 0.01, 20), follow_bumps=True).bumps is None
