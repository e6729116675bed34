"""Bodies put together: exact constructed cases and refusals."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.core.errors import ProjectFault
from loftwright.mechanics.masses import body, combine


def test_bodies_add_and_come_off_again() -> None:
    shell, panel = body(46.0, 1.2, 0.2, 20.0), body(np.array([6.0, 8.0]), 1.5, 0.4)
    both = combine([shell, panel])
    back = combine([both], [panel])
    for got, want in zip(
        (back.mass, back.x, back.z, back.inertia), (shell.mass, shell.x, shell.z, shell.inertia), strict=True
    ):
        assert got == pytest.approx(np.broadcast_to(want, (2,)), rel=1e-12)
    about = both.inertia_about(2.2, 0.0)
    assert about == pytest.approx(shell.inertia_about(2.2, 0.0) + panel.inertia_about(2.2, 0.0))


def test_no_more_comes_off_than_there_is() -> None:
    with pytest.raises(ProjectFault, match=r"is up to 12 kg: it must be less than the 10 kg there is"):
        combine([body(10.0, 1.0, 0.1)], [body(np.array([3.0, 12.0]), 1.0, 0.1)])
    with pytest.raises(ProjectFault, match=r"must have been part of the shell as weighed"):
        combine([body(10.0, 1.0, 0.1, 2.0)], [body(3.0, 4.0, 0.1)])
