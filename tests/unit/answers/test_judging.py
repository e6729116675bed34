"""What many rows of one judgement amount to: holds, fails, or not known yet, with the input to measure first."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from loftwright.answers.draws import Input, Rows, rows
from loftwright.answers.judging import STRONGEST, decide
from loftwright.core.checks import Check, Rule, Verdict
from loftwright.core.judged import Judged
from loftwright.core.uncertain import Provenance, Uncertain, even, exact, normal
from loftwright.mechanics.rules import POSSIBLE, START, STAYS_SHUT

# Two rules that no page lists, one of either sense.
AT_MOST = replace(START, id="X-1")
AT_LEAST = replace(STAYS_SHUT, id="X-2")


def given(**values: Uncertain) -> Rows:
    inputs = {name: Input(value, -1e9, 1e9, f"measure {name}") for name, value in values.items()}
    return rows(inputs, dict.fromkeys(inputs), 200, 1)


def total(drawn: Rows) -> np.ndarray:
    """Return the sum of all inputs, the value that is judged."""
    return np.sum([drawn(path) for path in drawn.columns], axis=0)


def judge(drawn: Rows, limit: float, rule: Rule = AT_MOST) -> Check:
    return decide(Judged(rule, total(drawn), np.array([limit])), drawn, every(drawn))


def every(drawn: Rows) -> np.ndarray:
    """Return that every row can be put together."""
    return np.ones(drawn.count, dtype=bool)


def unknown(low: float, high: float) -> Uncertain:
    return even(low, high, Provenance.UNKNOWN)


def measured(value: float, two_sd: float) -> Uncertain:
    return normal(value, two_sd, Provenance.MEASURED)


def test_within_every_range_it_holds() -> None:
    check = judge(given(a=measured(10.0, 1.0), b=unknown(0.0, 4.0)), 20.0)
    assert check.verdict is Verdict.HOLDS
    assert check.value == 12.0
    assert check.limit == 20.0
    assert check.margin == 8.0
    assert check.basis == "200 of 200 roofs like yours hold"


def test_outside_every_range_it_fails() -> None:
    check = judge(given(a=measured(10.0, 1.0), b=unknown(0.0, 4.0)), 5.0)
    assert check.verdict is Verdict.FAILS
    assert check.margin == -7.0
    assert check.basis == "0 of 200 roofs like yours hold"


@pytest.mark.parametrize("value", [unknown(0.0, 4.0), even(0.0, 4.0, Provenance.ASSUMED)])
@pytest.mark.parametrize("limit", [11.0, 13.0])
def test_an_open_input_that_flips_it_alone_leaves_it_not_known(value: Uncertain, limit: float) -> None:
    # Nominal 12: fails at 11 but holds at b's low end; holds at 13 but fails at its high end.
    check = judge(given(a=measured(10.0, 0.2), b=value), limit)
    assert check.verdict is Verdict.NOT_KNOWN
    assert check.unknown == "measure b"
    assert check.inputs[0] == "b"
    assert check.value == 12.0
    held = int(check.basis.split()[0])
    assert 10 < held < 190


@pytest.mark.parametrize(
    "value", [measured(10.0, 3.0), even(7.0, 13.0, Provenance.GIVEN), normal(10.0, 3.0, Provenance.LABEL)]
)
def test_what_is_known_may_flip_it_and_the_nominal_verdict_stands_beside_the_odds(value: Uncertain) -> None:
    drawn = given(a=value)
    for limit, verdict in ((11.0, Verdict.HOLDS), (9.0, Verdict.FAILS)):
        check = judge(drawn, limit)
        assert check.verdict is verdict
        held = int((drawn("a")[drawn.draws] <= limit).sum())
        assert 20 < held < 180
        assert check.basis == f"{held} of 200 roofs like yours hold"


def test_of_two_that_flip_it_the_bigger_swing_is_named() -> None:
    drawn = given(small=unknown(0.0, 4.0), big=unknown(0.0, 6.0), firm=measured(10.0, 8.0))
    check = judge(drawn, 15.5)
    assert check.verdict is Verdict.NOT_KNOWN
    assert check.unknown == "measure big"
    # The measured one swings most of all, yet it is not what keeps the answer open.
    assert check.inputs[0] == "big"
    assert check.inputs[1] == "firm"


def test_a_big_swing_that_does_not_flip_it_is_not_named() -> None:
    # b swings the value between 6 and 12 under a limit of 12.4; only the small c reaches over it, from a high middle.
    drawn = given(a=exact(3.0), b=even(0.0, 6.0, Provenance.UNKNOWN, nominal=5.9), c=unknown(0.0, 7.0))
    check = judge(drawn, 12.45)
    assert check.unknown == "measure c"


def test_two_inputs_that_flip_it_only_together_leave_the_nominal_verdict() -> None:
    check = judge(given(a=unknown(0.0, 4.0), b=unknown(0.0, 4.0)), 6.5)
    assert check.verdict is Verdict.HOLDS
    assert int(check.basis.split()[0]) < 200


def test_on_the_limit_it_holds() -> None:
    for rule in (AT_MOST, AT_LEAST):
        assert judge(given(a=exact(10.0)), 10.0, rule).verdict is Verdict.HOLDS


@pytest.mark.parametrize(("limit", "verdict"), [(9.0, Verdict.HOLDS), (11.0, Verdict.FAILS)])
def test_at_least_counts_the_other_way(limit: float, verdict: Verdict) -> None:
    drawn = given(a=measured(10.0, 3.0))
    check = judge(drawn, limit, AT_LEAST)
    assert check.verdict is verdict
    assert check.basis.startswith(f"{int((drawn('a')[drawn.draws] >= limit).sum())} of 200")


def test_a_limit_may_be_as_uncertain_as_the_value() -> None:
    drawn = given(asked=unknown(5.0, 15.0))
    check = decide(Judged(AT_MOST, np.array([9.0]), drawn("asked")), drawn, every(drawn))
    assert check.verdict is Verdict.NOT_KNOWN
    assert check.unknown == "measure asked"
    assert check.limit == 10.0


def test_inputs_are_named_strongest_first_and_no_more_than_a_few() -> None:
    drawn = given(a=measured(1.0, 0.1), b=measured(1.0, 0.4), c=measured(1.0, 0.2), d=measured(1.0, 0.3), e=exact(1.0))
    assert judge(drawn, 100.0).inputs == ("b", "d", "c")[:STRONGEST]


def test_what_has_no_influence_is_not_named() -> None:
    drawn = given(a=measured(1.0, 0.1), b=measured(1.0, 0.4))
    check = decide(Judged(AT_MOST, drawn("a"), np.array([2.0])), drawn, every(drawn))
    assert check.inputs == ("a",)


@pytest.mark.parametrize("value", [None, np.array([7.0])])
@pytest.mark.parametrize(
    ("missing", "path"), [("bracket_limit", "spring.2.bracket_limit"), ("twist_moment", "shell.twist_moment")]
)
def test_without_a_limit_it_waits_for_a_measurement(value: np.ndarray | None, missing: str, path: str) -> None:
    judged = Judged(AT_MOST, value, None, "left bracket", unknown="what the bracket carries", missing=missing, index=2)
    drawn = given(a=exact(1.0))
    check = decide(judged, drawn, every(drawn))
    assert check.verdict is Verdict.NOT_KNOWN
    assert check.unknown == "what the bracket carries"
    assert check.value == (None if value is None else 7.0)
    assert check.part == "left bracket"
    assert check.inputs == (path,)
    assert check.margin is None


def test_the_part_is_kept() -> None:
    drawn = given(a=exact(1.0))
    judged = Judged(AT_MOST, np.array([1.0]), np.array([2.0]), "front springs")
    assert decide(judged, drawn, every(drawn)).part == "front springs"


# --- rows that cannot be put together -----------------------------------------------------------------


@pytest.mark.parametrize("rule", [AT_MOST, AT_LEAST])
def test_a_roof_that_cannot_be_put_together_holds_nothing(rule: Rule) -> None:
    drawn = given(a=measured(10.0, 1.0))
    possible = every(drawn)
    possible[drawn.draws.start : drawn.draws.start + 60] = False
    limit = 100.0 if rule is AT_MOST else -100.0
    check = decide(Judged(rule, total(drawn), np.array([limit])), drawn, possible)
    assert check.verdict is Verdict.HOLDS
    assert check.basis == "140 of 200 roofs like yours hold"
    assert check.holding == 0.7


@pytest.mark.parametrize("junk", [np.inf, -np.inf, np.nan, 1e9, -1e9])
def test_numbers_of_a_roof_that_cannot_be_are_not_looked_at(junk: float) -> None:
    drawn = given(a=measured(10.0, 1.0))
    value = total(drawn)
    value[-50:] = junk
    possible = every(drawn)
    possible[-50:] = False
    for rule, limit in ((AT_MOST, 20.0), (AT_LEAST, 0.0)):
        check = decide(Judged(rule, value, np.array([limit])), drawn, possible)
        assert check.basis == "150 of 200 roofs like yours hold"
        assert check.margin == 10.0


@pytest.mark.parametrize("junk", [0.0, np.nan, np.inf])
def test_an_open_input_whose_end_cannot_be_put_together_leaves_it_not_known(junk: float) -> None:
    drawn = given(a=measured(10.0, 1.0), arm=unknown(0.0, 4.0), b=unknown(0.0, 9.0))
    possible = every(drawn)
    possible[drawn.alone["arm"][1]] = False
    value = total(drawn)
    value[drawn.alone["arm"][1]] = junk
    check = decide(Judged(AT_MOST, value, np.array([100.0])), drawn, possible)
    assert check.verdict is Verdict.NOT_KNOWN
    assert check.unknown == "measure arm"
    # A roof that cannot be counts as worse than the worst that can.
    assert check.inputs[0] == "arm"


def test_whether_the_arms_reach_is_judged_of_every_row() -> None:
    drawn = given(a=measured(10.0, 1.0))
    possible = every(drawn)
    possible[-30:] = False
    reaches = Judged(POSSIBLE, possible.astype(float), np.ones(drawn.count))
    assert decide(reaches, drawn, possible).basis == "170 of 200 roofs like yours hold"


def test_no_verdict_waits_for_what_nobody_can_measure() -> None:
    value = even(0.0, 10.0, Provenance.ASSUMED)
    for by_nature, verdict in ((True, Verdict.HOLDS), (False, Verdict.NOT_KNOWN)):
        inputs = {"weather": Input(value, -1e9, 1e9, "measure weather", by_nature=by_nature)}
        drawn = rows(inputs, {"weather": None}, 100, 1)
        judged = Judged(AT_MOST, drawn("weather"), np.full(drawn.count, 6.0))
        check = decide(judged, drawn, np.ones(drawn.count, dtype=bool))
        assert check.verdict is verdict
        assert check.holding is not None
        assert 0.5 < check.holding < 0.7
