"""The shell's outline, outside and inside."""

from __future__ import annotations

import numpy as np

from loftwright.core.outline import shell_outline


def test_inner_outline_lies_one_thickness_inside() -> None:
    x, z = shell_outline(-0.05, 2.06, 0.01, 0.20, 0.26, 0.22, thickness=0.02)
    np.testing.assert_allclose(x, [-0.03, -0.03, 1.005, 2.04, 2.04])
    np.testing.assert_allclose(z, [0.01, 0.19, 0.25, 0.21, 0.01])


def test_outline_of_draws() -> None:
    x, z = shell_outline(np.array([-0.05, -0.04]), 2.0, 0.01, 0.2, np.array([0.25, 0.3]), 0.2)
    assert x.shape == z.shape == (2, 5)
    np.testing.assert_allclose(z[:, 2], [0.26, 0.31])
