"""Smooth random errors of rims: what theory says of them, and a second way by many draws; no printed source."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.cloth.rim_noise import lengthening, normals, perturbed, spectrum
from loftwright.cloth.rims import Loop, rounded

SD = 0.003


@pytest.fixture(scope="module")
def rim() -> Loop:
    return rounded(0.0, 2.0, 1.2, 0.15, per=200)


@pytest.fixture(scope="module")
def drawn(rim: Loop) -> Loop:
    return perturbed(rim, SD, 7, 2001)


def test_chances_are_normal_and_belong_to_the_seed() -> None:
    found = normals(3, 20000, 2)
    assert found.mean() == pytest.approx(0.0, abs=4.0 / 200.0)
    assert found.std() == pytest.approx(1.0, rel=0.02)
    # Share within one deviation: 0.6827 (any table of the normal distribution, from memory).
    assert np.mean(np.abs(found) < 1.0) == pytest.approx(0.6827, abs=0.01)
    np.testing.assert_array_equal(normals(3, 10, 2), found[:10])
    assert np.abs(normals(4, 10, 2) - found[:10]).min() > 0.0


def test_errors_have_their_size_everywhere_and_close(rim: Loop, drawn: Loop) -> None:
    error = drawn.points - rim.points
    assert np.all(error[0] == 0.0)
    np.testing.assert_allclose(error[1:].std(axis=0), SD, rtol=0.08)
    # Closed: from the last point to the first no further than from any other to its neighbour.
    steps = np.linalg.norm(np.diff(error, axis=1, append=error[:, :1]), axis=-1).std(axis=0)
    assert steps[-1] < 1.5 * steps.max()


def test_neighbours_agree_as_the_correlation_says(rim: Loop, drawn: Loop) -> None:
    error = (drawn.points - rim.points)[1:, :, 2]
    for apart in (0.15, 0.3, 0.6):
        other = int(np.argmin(np.abs(rim.arc[:-1] - apart)))
        found = np.corrcoef(error[:, 0], error[:, other])[0, 1]
        assert found == pytest.approx(np.exp(-(float(rim.arc[other]) ** 2) / (2.0 * 0.3**2)), abs=0.07)


def test_noise_lengthens_a_rim_as_theory_says(rim: Loop) -> None:
    # Each draw with its opposite: what the length changes by in the first order drops out.
    for sd, rows in ((SD, 301), (0.005, 301)):
        pair = perturbed(rim, sd, 9, rows).perimeter + perturbed(rim, -sd, 9, rows).perimeter
        mean = float(np.mean(pair[1:]) / 2.0 - rim.perimeter)
        assert mean == pytest.approx(lengthening(sd, float(rim.perimeter)), rel=0.06)
    # A long rim: perimeter (sd / length)^2.
    assert lengthening(SD, 50.0) == pytest.approx(50.0 * (SD / 0.3) ** 2, rel=1e-6)


def test_the_spectrum_is_that_of_the_correlation() -> None:
    power = spectrum(6.0, 0.3)
    assert power.sum() == pytest.approx(1.0)
    waves = np.arange(power.size)
    for apart in (0.1, 0.5, 1.0):
        # Periodic sum of the Gaussian function over neighbouring laps is the same to rounding.
        back = float(np.sum(power * np.cos(2.0 * np.pi * waves * apart / 6.0)))
        assert back == pytest.approx(np.exp(-(apart**2) / 0.18), abs=1e-6)


def test_rows_and_lengths_that_do_not_fit_are_refused(rim: Loop) -> None:
    two = rounded([0.0, 0.1], 2.0, 1.2, 0.15, per=60)
    assert perturbed(two, SD, 1, 2).points.shape[0] == 2
    with pytest.raises(ValueError, match="as many rows"):
        perturbed(two, SD, 1, 3)
    with pytest.raises(ValueError, match="above nought"):
        perturbed(rim, SD, 1, 2, length=0.0)
