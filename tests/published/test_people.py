"""How tall people are.

Source: Gordon and others, 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007. The percentiles were
computed from the public data files. The second table: percentiles of American adults in a public anthropometry page
that follows Pheasant, Bodyspace (read there). Allowances: read in a public reproduction.
"""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest

from loftwright.fitout.headroom import height_to_stand, who_stands
from loftwright.reference.people import LEVELS, SHOULDERS, SITTING, STATURE, height_of, normal_share, share_below


@pytest.mark.parametrize(
    ("who", "level", "height"),
    [
        ("men", 0.05, 1.648),
        ("men", 0.5, 1.755),
        ("men", 0.95, 1.87),
        ("men", 0.99, 1.927),
        ("women", 0.05, 1.525),
        ("women", 0.5, 1.626),
        ("women", 0.95, 1.74),
        ("women", 0.01, 1.4826),
    ],
)
def test_the_survey_both_ways(who: str, level: float, height: float) -> None:
    assert height_of(STATURE[who], level) == pytest.approx(height, abs=0.001)
    assert share_below(STATURE[who], height) == pytest.approx(level, abs=1e-6)


@pytest.mark.parametrize(("who", "rows"), [("men", (1.640, 1.755, 1.870)), ("women", (1.520, 1.625, 1.730))])
def test_another_public_table_of_american_adults(who: str, rows: tuple[float, float, float]) -> None:
    """US, aged 19 to 65: printed to 5 mm; the survey of soldiers lies within 10 mm of it."""
    found = [height_of(STATURE[who], level) for level in (0.05, 0.50, 0.95)]
    assert found == pytest.approx(rows, abs=0.0101)


@pytest.mark.parametrize(
    ("who", "found", "survey"), [("men", 1.8690, 1.870), ("women", 1.7341, 1.740)], ids=["men", "women"]
)
def test_the_normal_rule_of_thumb(who: str, found: float, survey: float) -> None:
    """Mean + 1.645 standard deviations, computed here from first principles: 1 mm short for men, 6 mm for women."""
    measure = STATURE[who]
    assert measure.mean + 1.645 * measure.spread == pytest.approx(found, abs=1e-4)
    assert height_of(measure, 0.95) == pytest.approx(survey, abs=1e-9)


def test_the_tables_rise_and_their_spread_is_that_of_their_middle() -> None:
    """A second way: for a nearly normal measure (p84 - p16) / 2 is the standard deviation."""
    for group in (STATURE, SITTING, SHOULDERS):
        for measure in group.values():
            assert len(measure.table) == len(LEVELS)
            assert np.all(np.diff(measure.table) > 0)
            half = (height_of(measure, 0.8413) - height_of(measure, 0.1587)) / 2
            assert half == pytest.approx(measure.spread, rel=0.03)


def test_the_error_function_against_the_standard_library() -> None:
    scores = np.linspace(-5.0, 5.0, 101)
    exact = [NormalDist().cdf(float(z)) for z in scores]
    np.testing.assert_allclose(normal_share(scores), exact, atol=1.0e-7)


def test_shoes_and_hat() -> None:
    """Men at 95 in 100 with shoes: 1895 mm."""
    tall = height_of(STATURE["men"], 0.95)
    assert height_to_stand(tall, hat=0.0) == pytest.approx(1.895, abs=1e-6)
    assert height_to_stand(tall) == pytest.approx(1.920, abs=1e-6)
    assert who_stands(1.895).men == pytest.approx(0.95, abs=1e-6)
    assert who_stands(1.765).women == pytest.approx(0.95, abs=1e-6)


def test_beyond_the_table_the_share_goes_on_rising() -> None:
    far = share_below(STATURE["men"], [1.40, 1.55, 1.95, 2.10])
    assert np.all(np.diff(far) > 0)
    assert far[0] < 0.001
    assert far[-1] > 0.999
    assert height_of(STATURE["men"], 0.999) > 1.927
    with pytest.raises(ValueError, match="between 0 and 1"):
        height_of(STATURE["men"], 1.0)
