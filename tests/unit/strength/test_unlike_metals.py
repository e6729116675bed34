"""Unlike metals: which pairs are told to be kept apart. General words of common practice, no figures."""

from __future__ import annotations

from itertools import combinations

import pytest

from loftwright.core.checks import Verdict
from loftwright.strength.unlike_metals import NOBLEST_LAST, advice, judge_unlike, touching


@pytest.mark.parametrize(
    ("one", "other", "eaten"),
    [
        ("aluminium", "steel", "aluminium"),
        ("stainless steel", "aluminium", "aluminium"),
        ("steel", "stainless steel", "steel"),
        ("copper or brass", "zinc-plated steel", "zinc-plated steel"),
        ("stainless steel", "carbon fibre", "stainless steel"),
    ],
)
def test_pairs_to_keep_apart(one: str, other: str, eaten: str) -> None:
    for a, b in ((one, other), (other, one)):
        assert (advice(a, b).apart, advice(a, b).eaten) == (True, eaten)
        assert advice(a, b).words


@pytest.mark.parametrize(
    ("one", "other"), [("steel", "steel"), ("steel", "zinc-plated steel"), ("aluminium", "laminate"), ("foam", "steel")]
)
def test_pairs_that_may_touch(one: str, other: str) -> None:
    assert not advice(one, other).apart


def test_the_less_noble_is_eaten() -> None:
    for one, other in combinations(NOBLEST_LAST, 2):
        if advice(one, other).apart:
            assert NOBLEST_LAST.index(advice(one, other).eaten) == min(map(NOBLEST_LAST.index, (one, other)))


def test_bolt_touches_every_layer() -> None:
    pairs = touching(["aluminium", "laminate", "steel"], "stainless steel")
    assert ("aluminium", "steel") not in pairs
    assert ("stainless steel", "aluminium") in pairs
    judged = judge_unlike("hinge", pairs, isolated=False)
    assert judged.value is not None
    assert judged.value.tolist() == [2.0]
    assert judged.rule.judge(float(judged.value[0]), 0.0).verdict is Verdict.FAILS
