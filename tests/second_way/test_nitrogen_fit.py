"""The coefficients of the nitrogen fits are those that their derivation gives.

The derivation, docs/derivations/nitrogen_fit.py, fits the forms anew to CoolProp, a general-purpose property library.
"""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from loftwright.reference.nitrogen import HEATING, SPREADING, SQUEEZING


@pytest.fixture(scope="module")
def fit(root: Path) -> ModuleType:
    path = root / "docs" / "derivations" / "nitrogen_fit.py"
    spec = importlib.util.spec_from_file_location("nitrogen_fit", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def over_the_range(table: np.ndarray, first: int, fit: ModuleType) -> np.ndarray:
    v, t = fit.PRESSURES / fit.FIT_PRESSURE, fit.KELVINS / fit.FILLED_AT - 1
    powers = [
        x[:, None] ** np.arange(start, start + n) for x, start, n in zip((t, v), (first, 1), table.shape, strict=True)
    ]
    return powers[0] @ table @ powers[1].T


def test_heating(fit: ModuleType) -> None:
    # Among fits that are as good, another solver may pick another one: the values count, and rounding is 3e-6 of them.
    again = over_the_range(fit.heating(), 1, fit)
    np.testing.assert_allclose(over_the_range(HEATING, 1, fit), again, atol=1e-5)


@pytest.mark.parametrize(("table", "way"), [(SQUEEZING, "in"), (SPREADING, "out")])
def test_exponents(fit: ModuleType, table: np.ndarray, way: str) -> None:
    again = over_the_range(fit.exponents(1 / fit.SWELL if way == "in" else fit.SWELL), 0, fit)
    np.testing.assert_allclose(over_the_range(table, 0, fit), again, atol=5e-4)
