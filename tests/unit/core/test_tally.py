"""Counting verdicts, and what is said of the count."""

from __future__ import annotations

import pytest

from loftwright.core.checks import Verdict, tally_of


@pytest.mark.parametrize(
    ("counts", "said"),
    [
        ((1, 2, 26), "1 fails, 2 not known yet, 26 hold"),
        ((0, 1, 1), "0 fail, 1 not known yet, 1 holds"),
        ((2, 0, 0), "2 fail, 0 not known yet, 0 hold"),
    ],
)
def test_one_fails_and_two_fail(counts: tuple[int, int, int], said: str) -> None:
    order = (Verdict.FAILS, Verdict.NOT_KNOWN, Verdict.HOLDS)
    found = tally_of([verdict for verdict, count in zip(order, counts, strict=True) for _ in range(count)])
    assert (found.fails, found.not_known, found.holds) == counts
    assert found.text() == said
    assert [verdict for verdict, _ in found.parts()] == list(order)
