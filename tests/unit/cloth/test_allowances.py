"""Finishes: what they need and where their cloth lies once turned. Exact constructed cases."""

from __future__ import annotations

import math

import pytest

from loftwright.cloth import allowances as a
from loftwright.cloth.sew_rules import judge_allowances
from loftwright.core.checks import Verdict


def test_where_a_double_turn_lies() -> None:
    """A 25 mm hem with 12 mm under: the raw edge comes to lie 13 mm inside the line, under the hem."""
    hem = a.hem(0.025, 0.012)
    assert [round(hem.lies_at(out), 6) for out in (0.0, 0.01, 0.025, 0.030, 0.037)] == [0.0, 0.01, 0.025, 0.020, 0.013]


def test_where_stapled_and_flat_edges_lie() -> None:
    strip = a.staple_strip(0.015, 0.025)
    assert [round(strip.lies_at(out), 6) for out in (0.0, 0.015, 0.040)] == [0.0, -0.015, 0.010]
    lap = a.lapped_seam(0.04)
    assert (lap.allowance, lap.lies_at(0.02)) == (0.02, -0.02)


def test_felled_sides_fit_each_other() -> None:
    """The wide side's fold lies at the seam's width, the narrow side ends short of it, the raw edge at the line."""
    narrow, wide = a.felled_seam(0.010)
    assert (narrow.allowance, wide.allowance) == pytest.approx((0.008, 0.020))
    assert wide.lies_at(0.010) == pytest.approx(0.010)
    assert wide.lies_at(0.020) == pytest.approx(0.0)


def test_track_goes_round_its_cord() -> None:
    track = a.track(0.006, 0.015)
    assert track.allowance == pytest.approx(math.pi * 0.006 + 0.015)
    assert track.lies_at(track.allowance) == pytest.approx(0.015)


@pytest.mark.parametrize("width", [-0.001, math.nan, math.inf])
def test_no_such_allowance(width: float) -> None:
    with pytest.raises(ValueError, match="nought or more"):
        a.plain_seam(width)


def test_turns_in_order() -> None:
    with pytest.raises(ValueError, match="one beyond the other"):
        a.Finish("hem", 0.02, (0.02, 0.01))


def test_words() -> None:
    assert a.binding().text() == "binding, none"
    assert a.zip_edge().text() == "zip, 15.0 mm"


def test_allowance_against_need() -> None:
    """The manual's least plain seam is 1/4 in; 5 mm is less, 12.7 mm more."""
    assert [judge.rule.judge(float(judge.value[0]), float(judge.limit[0])).verdict for judge in _judged(0.005)] == [
        Verdict.FAILS
    ]
    assert [judge.rule.judge(float(judge.value[0]), float(judge.limit[0])).verdict for judge in _judged(0.0127)] == [
        Verdict.HOLDS
    ]
    assert _judged(0.005)[0].which == "upper edge, plain seam"


def _judged(width: float):  # type: ignore[no-untyped-def]
    finish = a.plain_seam(width)
    return judge_allowances({"upper edge, plain seam": ([finish.allowance], [finish.needs])})


def test_usual_finishes_need_no_more_than_they_have() -> None:
    usual = [a.plain_seam(), a.lapped_seam(), *a.felled_seam(), a.hem(), a.binding(), a.staple_strip(), a.track()]
    assert [finish.kind for finish in (*usual, a.zip_edge()) if finish.allowance < finish.needs] == []
