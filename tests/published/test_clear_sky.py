"""Light of a clear day.

Sources
- P. Ineichen, R. Perez, Solar Energy 73 (2002); values of the public tests of the library pvlib.
- B. Haurwitz, Journal of Meteorology 2 (1945); values of the same tests.

Values read in a public test suite. The thickness of air is that of Kasten and Young (1989), from memory.
"""

from __future__ import annotations

import numpy as np
import pytest

from loftwright.fitout.clear_sky import clear_day


def thickness(zenith: float) -> float:
    """Return the air mass of Kasten and Young at a zenith angle [deg]."""
    return float(1.0 / (np.cos(np.deg2rad(zenith)) + 0.50572 * (96.07995 - zenith) ** -1.6364))


def haurwitz(zenith: float) -> float:
    """Return the light on level ground of Haurwitz at a zenith angle [deg]."""
    up = np.cos(np.deg2rad(zenith))
    return float(1098.0 * up * np.exp(-0.059 / up))


def at_noon(zenith: float) -> tuple[float, float, float]:
    """Return level, beam and scattered light with the sun at a zenith angle [deg]; turbidity 3, sea level."""
    day = clear_day(np.deg2rad(zenith), 0.0, 1364.0, turbidity=3.0, steps=1)
    assert np.rad2deg(float(day.place.zenith[0])) == pytest.approx(zenith, abs=1e-6)
    return float(day.level[0]), float(day.beam[0]), float(day.scattered[0])


def test_ineichen() -> None:
    # Zenith 10, absolute air mass 1, turbidity 3: 1038.159219, 942.208186, 110.265293. Ours has the mass that belongs
    # to the zenith angle, so carry the printed row there by the model's own exponents.
    more = thickness(10.0) - 1.0
    level, beam, scattered = at_noon(10.0)
    assert level == pytest.approx(1038.159219 * np.exp(-0.0387 * 3.0 * more), rel=1e-5)
    assert beam == pytest.approx(942.208186 * np.exp(-0.09 * 2.0 * more), rel=1e-5)
    assert scattered == pytest.approx(level - beam * np.cos(np.deg2rad(10.0)), rel=1e-9)


def test_ineichen_as_the_library_has_it() -> None:
    from pvlib import clearsky

    rows = (
        ((10.0, 1.0, 3.0), (1038.159219, 942.208186, 110.265293)),
        ((46.0467599, 1.32355476, 3.0), (704.69681, 888.90147, 87.73601)),
    )
    for given, printed in rows:
        light = clearsky.ineichen(*given)
        assert [float(light[name]) for name in ("ghi", "dni", "dhi")] == pytest.approx(printed, rel=1e-6)


@pytest.mark.parametrize(
    ("elevation", "printed"),
    [(5.0, 48.629869), (10.0, 135.741748), (30.0, 487.894133), (50.0, 778.766689), (90.0, 1035.092033)],
)
def test_against_haurwitz(elevation: float, printed: float) -> None:
    # The one-line formula gives the printed values; the year's light lies within an eighth of it where it matters.
    assert haurwitz(90.0 - elevation) == pytest.approx(printed, rel=1e-6)
    if elevation >= 30.0:
        assert at_noon(90.0 - elevation)[0] == pytest.approx(printed, rel=0.125)
