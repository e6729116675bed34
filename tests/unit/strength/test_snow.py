"""Snow on the closed roof. Computed here from first principles; weights by the standard in the published tests."""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.reference.wind import SNOW
from loftwright.strength.snow import snow_load, snow_range


def test_rows_of_depth() -> None:
    assert snow_load(np.array([0.0, 0.1]), 2.0, 1000.0).tolist() == [0.0, 200.0]


@pytest.mark.parametrize("kind", SNOW)
def test_least_is_not_more_than_greatest(kind: str) -> None:
    low, high = snow_range(0.3, 3.0, kind)
    assert low <= high


def test_only_known_kinds() -> None:
    with pytest.raises(KeyError):
        snow_range(0.3, 3.0, "powder")
